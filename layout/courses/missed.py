"""Limits and must-meet edges that lines do not keep to: which, by how much, and what stands against them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from math import floor

from evencourse.layout.courses.carrying_on import OnFace, met_lines
from evencourse.layout.courses.course_sets import Question
from evencourse.layout.courses.edge_reasons import fits
from evencourse.layout.courses.edges import edge
from evencourse.layout.courses.starter_line import StarterRange
from evencourse.layout.model.course_plan import Edge, Lines, Unmet
from evencourse.layout.model.job import Job
from evencourse.layout.model.missed_limit import Against, MissedEdge, MissedLimit, OtherStarter
from evencourse.layout.solver.score import NEAR, Rulebook
from evencourse.layout.solver.targets import Target
from evencourse.layout.trade.rules import rules


def missed_limits(
    job: Job, asked: Question, lines: Lines, outside: float, unmet: Sequence[Unmet] = ()
) -> tuple[MissedLimit, ...]:
    """Everything that the lines had to keep to and do not.

    Args:
        job: for the greatest change of exposure.
        asked: where the starter may lie, the edges, and the objective's numbers.
        lines: the answer.
        outside: how far its starter lies outside its limits [job units].
        unmet: why edges are not flush.
    """
    missed = [MissedLimit("starter", outside)] if outside > NEAR else []
    missed += _too_near_ground(job, asked, lines)
    missed += _changes(job, lines, 1)
    for target in asked.targets:
        found = edge(target, lines, asked.book, "") if target.importance == "must" else None
        if found is not None and found.result != "flush":
            missed.append(_must(target, found, *_against(asked.book, asked.allowed, target, unmet)))
    return tuple(missed)


def carried_limits(
    job: Job, asked: Question, lines: Lines, own: Mapping[str, OnFace], unmet: Sequence[Unmet] = ()
) -> tuple[MissedLimit, ...]:
    """What the lines above courses that hang had to keep to and do not.

    Args:
        job: for the greatest change of exposure.
        asked: what hangs, the edges, and the objective's numbers.
        lines: the answer.
        own: by face, its own lines and how its ends are brought back.
        unmet: why edges are not flush.
    """
    book, last = asked.book, asked.hung[-1]
    missed = [*_too_near_ground(job, asked, lines), *_changes(job, lines, len(asked.hung))]
    met = met_lines(job, lines, {face: found.lines for face, found in own.items()}, book)
    for target in asked.targets:
        found = edge(target, met(target), book, "") if target.importance == "must" else None
        if found is None or found.result == "flush":
            continue
        if target.height <= last + book.tolerance:
            missed.append(_must(target, found, "hung"))
        elif book.cladding.fixed:
            missed.append(_must(target, found, "panels"))
        elif fits(replace(book, tolerance=book.tolerance / 2), target.height, last):
            missed.append(_must(target, found, "courses"))
        else:
            missed.append(_must(target, found, "apart"))
    for face, there in own.items():
        for end in there.levelled:
            if abs(end.left_over) > (book.tolerance if book.cladding.fixed else 0.0):
                where = face, end.side, end.left_over > 0
                missed.append(MissedLimit("level", abs(end.left_over), end.course, end=where))
    return tuple(missed)


def _too_near_ground(job: Job, asked: Question, lines: Lines) -> Iterator[MissedLimit]:
    allowed = asked.allowed
    if allowed.ground is None or lines.starter >= allowed.ground - NEAR:
        return
    room = allowed.high + rules().limits["cover_min"] * asked.book.inch - allowed.ground
    clears = OtherStarter(allowed.ground, room) if job.limits.starter is None and room >= 0 else None
    yield MissedLimit("ground", allowed.ground - lines.starter, instead=clears)


def _changes(job: Job, lines: Lines, first: int) -> Iterator[MissedLimit]:
    """Changes of exposure that are too great, from a course up."""
    for before, after in pairwise(lines.bands):
        change = abs(after.exposure - before.exposure)
        if after.first_course >= first and change > job.limits.jump + NEAR:
            yield MissedLimit("change", change - job.limits.jump, after.first_course)


def _must(target: Target, found: Edge, against: Against, starters: tuple[float, ...] = ()) -> MissedLimit:
    mark = target.opening.mark if target.opening else None
    roof = target.roof.mark if target.roof else None
    place = target.face, mark, target.kind, target.height, found.course
    missed = MissedEdge(*place, against, starters, roof)
    return MissedLimit("must", abs(found.miss), edge=missed)


def _against(
    book: Rulebook, allowed: StarterRange, target: Target, unmet: Sequence[Unmet]
) -> tuple[Against, tuple[float, ...]]:
    """What stands against an edge where nothing hangs; for panels the starters that it would take."""
    if not book.cladding.fixed:
        return "courses", ()
    exposure = book.cladding.exposure
    nearest = target.height - floor((target.height - allowed.low) / exposure) * exposure
    near = sorted((nearest - exposure, nearest, nearest + exposure), key=lambda at: _off(at, allowed))[:2]
    wanted = (target.height, target.kind == "base")
    reason = next((one for one in unmet if (one.height, one.base) == wanted), None)
    if reason is not None and reason.instead is not None:
        return "starter", (reason.instead.starter,)
    if _off(near[0], allowed) <= book.tolerance + NEAR:
        return "starter", (near[0],)
    return "limits", tuple(sorted(near))


def _off(at: float, allowed: StarterRange) -> float:
    return max(0.0, allowed.low - at, at - allowed.high)
