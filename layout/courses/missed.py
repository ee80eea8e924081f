"""Limits and musts that could not be met: which, by how much, and what stands against them."""

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
from evencourse.layout.model.course_plan import Lines, MissedLimit, Unmet
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import show_length
from evencourse.layout.solver.score import NEAR, Rulebook
from evencourse.layout.solver.targets import Target
from evencourse.layout.trade.rules import rules


def missed_limits(
    job: Job,
    book: Rulebook,
    allowed: StarterRange,
    targets: Sequence[Target],
    lines: Lines,
    outside: float,
    unmet: Sequence[Unmet] = (),
) -> tuple[MissedLimit, ...]:
    """Everything that the lines had to keep to and do not.

    Args:
        job: for its units.
        book: the objective's numbers.
        allowed: where the starter may lie.
        targets: the edges of the course set.
        lines: the answer.
        outside: how far its starter lies outside its limits [job units].
        unmet: why edges are not flush.
    """
    missed = []
    if outside > NEAR:
        low, high = _show(job, allowed.low), _show(job, allowed.high)
        why = f"it was asked for at {_show(job, lines.starter)}; the limits are {low} to {high}"
        missed.append(MissedLimit("the starter line is outside its limits", outside, why))
    missed += _too_near_ground(job, book, allowed, lines)
    for before, after in pairwise(lines.bands):
        change = abs(after.exposure - before.exposure)
        if change > job.limits.jump + NEAR:
            why = (
                f"from course {after.first_course - 1} to course {after.first_course} it changes by "
                f"{_show(job, change)}; {_show(job, job.limits.jump)} is allowed, "
                f"but a must-meet edge comes first"
            )
            missed.append(MissedLimit("the exposure change is too great", change - job.limits.jump, why))
    for target in targets:
        if target.importance != "must":
            continue
        found = edge(target, lines, book, "")
        if found is not None and found.result != "flush":
            missed.append(
                MissedLimit(
                    f"{name(target)}, a must-meet edge, is off",
                    abs(found.miss),
                    _why(job, book, allowed, target, _reason(unmet, target)),
                )
            )
    return tuple(missed)


def _too_near_ground(job: Job, book: Rulebook, allowed: StarterRange, lines: Lines) -> Iterator[MissedLimit]:
    if allowed.ground is None or lines.starter >= allowed.ground - NEAR:
        return
    short = allowed.ground - lines.starter
    clear = _show(job, book.cladding.ground_clearance)
    room = allowed.high + rules().limits["cover_min"] * book.inch - allowed.ground
    why = f"the siding must be {clear} clear of the ground; lower the ground or raise the base"
    if job.limits.starter is None and room >= 0:
        at = f"{allowed.ground:g}"
        why = (
            f"the siding must be {clear} clear of the ground; lower the ground, or write starter = "
            f"[{at}, {at}] under [limits]; the first course then covers the base by {_show(job, room)}"
        )
    yield MissedLimit("the first course is too near the ground", short, why)


def carried_limits(
    job: Job, asked: Question, lines: Lines, own: Mapping[str, OnFace], unmet: Sequence[Unmet] = ()
) -> tuple[MissedLimit, ...]:
    """What the lines above courses that hang had to keep to and do not.

    Args:
        job: for its units.
        asked: what hangs, the edges, and the objective's numbers.
        lines: the answer.
        own: by face, its own lines and how its ends are brought back.
        unmet: why edges are not flush.
    """
    book, hung, last = asked.book, len(asked.hung), asked.hung[-1]
    missed = list(_too_near_ground(job, book, asked.allowed, lines))
    for before, after in pairwise(lines.bands):
        change = abs(after.exposure - before.exposure)
        if after.first_course >= hung and change > job.limits.jump + NEAR:
            why = (
                f"from course {after.first_course - 1} to course {after.first_course} it changes by "
                f"{_show(job, change)}; {_show(job, job.limits.jump)} is allowed, "
                f"but course {hung} is installed"
            )
            missed.append(MissedLimit("the exposure change is too great", change - job.limits.jump, why))
    met = met_lines(job, lines, {face: found.lines for face, found in own.items()}, book)
    for target in asked.targets:
        found = edge(target, met(target), book, "") if target.importance == "must" else None
        if found is None or found.result == "flush":
            continue
        if target.height <= last + book.tolerance:
            why = f"course {found.course} is installed there"
        elif book.cladding.fixed:
            why = f"panels interlock; every line follows course {hung}, which is installed"
        else:
            below = f"course {hung}, which is installed,"
            why = _span(job, book, target.height, last, below, at_line=True) or (
                _musts_lost(job, book, target, _reason(unmet, target))
                or f"no courses above course {hung}, which is installed, meet it"
            )
        missed.append(MissedLimit(f"{name(target)}, a must-meet edge, is off", abs(found.miss), why))
    for face, found_there in own.items():
        for end in found_there.levelled:
            fixed = book.cladding.fixed
            if abs(end.left_over) <= (book.tolerance if fixed else 0.0):
                continue
            why = (
                f"panels interlock; the courses above follow course {end.course}"
                if fixed
                else f"exposures of {_show(job, book.cladding.exposure_min)} to "
                f"{_show(job, book.cladding.exposure_max)} leave no room for it above course {end.course}"
            )
            what = f"the {end.side} end of {face} stays {'high' if end.left_over > 0 else 'low'}"
            missed.append(MissedLimit(what, abs(end.left_over), why))
    return tuple(missed)


def name(target: Target) -> str:
    """A target in words: face, opening and edge."""
    thing = target.opening or target.roof
    mark = f" {thing.mark}" if thing else ""
    return f"{target.face}{mark} {target.kind}"


def _show(job: Job, height: float) -> str:
    return show_length(height, job.units, job.round) + (" mm" if job.units == "mm" else "")


def _reason(unmet: Sequence[Unmet], target: Target) -> Unmet | None:
    wanted = (target.height, target.kind == "base")
    return next((one for one in unmet if (one.height, one.base) == wanted), None)


def _why(job: Job, book: Rulebook, allowed: StarterRange, target: Target, reason: Unmet | None) -> str:
    cladding = book.cladding
    if cladding.fixed:
        exposure = cladding.exposure
        nearest = target.height - floor((target.height - allowed.low) / exposure) * exposure
        options = sorted({nearest, nearest - exposure, nearest + exposure}, key=lambda at: _off(at, allowed))[
            :2
        ]
        meets = options[0] if _off(options[0], allowed) <= book.tolerance + NEAR else None
        if reason is not None and reason.instead is not None:
            meets = reason.instead.starter
        if meets is not None:
            return f"the starter that meets it, {_show(job, meets)}, misses edges that matter as much or more"
        shown = " or ".join(_show(job, at) for at in sorted(options))
        limits = f"{_show(job, allowed.low)} to {_show(job, allowed.high)}"
        return f"the starter would have to be at {shown}; its limits are {limits}"
    low, high = _show(job, cladding.exposure_min), _show(job, cladding.exposure_max)
    return _musts_lost(job, book, target, reason) or (
        f"no courses of {low} to {high} from a starter between {_show(job, allowed.low)} and "
        f"{_show(job, allowed.high)} meet it"
    )


def _musts_lost(job: Job, book: Rulebook, target: Target, reason: Unmet | None) -> str:
    """Which other musts the best lines that meet an edge miss; empty when no lines meet it."""
    if reason is None or reason.instead is None:
        return ""
    musts = [lost for lost in reason.lost if lost.importance == "must"]
    named = {
        lost: " ".join(filter(None, (lost.face, lost.opening, lost.edge))) for lost in musts
    }  # fmt: skip
    for lost in musts:
        if lost.apart:
            return _span(job, book, target.height, lost.height, named[lost])
    if not musts:
        return "no courses meet it together with the other must-meet edges"
    return f"courses that meet it miss {' and '.join(dict.fromkeys(named.values()))}"


def _off(at: float, allowed: StarterRange) -> float:
    return max(0.0, allowed.low - at, at - allowed.high)


def _span(job: Job, book: Rulebook, height: float, other: float, what: str, at_line: bool = False) -> str:
    """Why no number of equal courses fits between two heights; empty when one does.

    Args:
        job: for its units.
        book: exposures and tolerance.
        height: of an edge [job units].
        other: of another edge, or of a butt line that hangs [job units].
        what: the other one, in words.
        at_line: the other one is a butt line: it has no tolerance of its own.
    """
    cladding = book.cladding
    span = abs(height - other)
    if fits(replace(book, tolerance=book.tolerance / 2) if at_line else book, height, other):
        return ""
    most = floor(span / cladding.exposure_min + NEAR)
    low, high = _show(job, cladding.exposure_min), _show(job, cladding.exposure_max)
    tries = [f"{count} at {_show(job, span / count)}" for count in (most, most + 1) if count > 0]
    return f"{_show(job, span)} from {what} takes courses of {' or '.join(tries)}; {low} to {high} is allowed"
