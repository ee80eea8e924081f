"""Course sets in boards and shingles of the random houses, as walls in inches for the oracles."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evencourse.layout.courses.course_sets import Question, groups, question
from tests.houses import random_house
from tests.oracles.lapwalls import Butts, LapWall


def lapped_sets(least: int = 6) -> Iterator[tuple[int, str, Question]]:
    """Lapped course sets with a free starter and so many edges: seed of the house, name, question."""
    seed = 0
    while True:
        job = random_house(seed)
        for name, group in groups(job).items():
            if job.claddings[group.zone.cladding].fixed:
                continue
            asked = question(job, group)
            if len(asked.targets) >= least and len(asked.marks()) > 1:
                yield seed, name, asked
        seed += 1


def wall_of(asked: Question) -> LapWall:
    """A course set as the oracles see it, in inches whatever the job's units."""
    inch, siding = asked.book.inch, asked.cladding
    lengths = {
        name: getattr(siding, name) / inch
        for name in (
            "exposure", "exposure_min", "exposure_max", "projection", "projection_top", "starter_drop",
            "cover", "width",
        )
    }  # fmt: skip
    targets = tuple(replace(target, height=target.height / inch) for target in asked.targets)
    starters = tuple(mark / inch for mark in asked.marks())
    return LapWall(
        replace(siding, **lengths), targets, starters, asked.top / inch, asked.book.tolerance / inch,
        asked.mark / inch,
    )  # fmt: skip


def chosen_lines(asked: Question) -> Butts:
    """The planner's own lines, in inches."""
    return tuple(butt / asked.book.inch for butt in next(asked.answers())[2])
