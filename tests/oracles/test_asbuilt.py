"""The courses above what hangs, against brute force over every subset of ties and every number of courses."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import pytest

from evencourse.layout.courses.course_sets import Question
from evencourse.layout.courses.starter_line import StarterRange
from tests.oracles.coursewalls import Wall, book, close, objective, random_wall, stacks


def hung_wall(seed: int) -> tuple[Wall, float, float]:
    """A wall on which two lines hang, off by something, and edges above them alone; the two lines."""
    chance = random.Random(f"hung {seed}")
    wall = random_wall(seed, "lap")
    last = chance.randrange(8 * 16, 40 * 16) / 16
    below = wall.siding.exposure + chance.choice([-0.5, -0.25, -0.125, 0, 0.0625, 0.25, 0.75])
    targets = tuple(
        target for target in wall.targets if target.height > last + 0.01 and target.kind != "step"
    )
    return replace(wall, targets=targets, starters=(last,)), last - below, last


@pytest.mark.parametrize("seed", range(200))
def test_the_rest_is_the_best_that_can_still_be_hung(seed: int) -> None:
    wall, foot, last = hung_wall(seed)
    best = min(objective(wall, foot, [(1, last - foot, last), *stack]) for _, stack in stacks(wall))
    allowed = StarterRange(0, 0, None)
    asked = Question(
        "main", wall.siding, book(wall.siding), wall.targets, wall.top, allowed, 1 / 16, (foot, last)
    )
    starter, bands, butts = next(asked.answers(asked.marks()))
    assert butts[:2] == (foot, last)
    assert starter == foot
    assert sum(band.courses for band in bands) == len(butts) - 1
    found = objective(wall, foot, [(1, b - a, b) for a, b in pairwise(butts)])
    assert close(found, best)


def test_the_jump_from_what_hangs_decides_between_equal_answers() -> None:
    """By hand: 42 in to a head, 5-1/4 to 7 in may show: 6 courses of 7 or 7 of 6. Over a course of 6-1/8
    seven of 6 jump by less than one sees; over one of 7 six of 7 do not jump at all.
    """
    wall = random_wall(1, "lap")
    siding = replace(wall.siding, exposure_min=5.25, exposure=6.5, exposure_max=7.0)
    target = replace(wall.targets[0], kind="head", height=52.0, importance="want", weight=4.0)
    allowed = StarterRange(0, 0, None)
    for below, exposure in ((6.125, 6.0), (7.0, 7.0)):
        asked = Question("main", siding, book(siding), (target,), 52.0, allowed, 1 / 16, (10 - below, 10.0))
        _, bands, _ = next(asked.answers(asked.marks()))
        assert bands[-1].exposure == exposure
