"""The crew's words for carrying on: what hangs, what the courses above it take up, what changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from evencourse.layout.courses.crept import Crept, crept_there
from evencourse.layout.model.as_built import Levelling
from evencourse.layout.model.course_plan import Band, Change, CourseSet, ElevationPlan, Plan
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import show_length
from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.render.words.edge_words import edge_action
from evencourse.render.words.plan_words import (
    BELOW,
    course_name,
    edge_subject,
    measured,
    on_tape,
)


def hangs_words(course_set: CourseSet, plan: Plan) -> str:
    """Up to where a course set hangs: ``up to course 7, whose bottom is 3/4" above plan``."""
    carried, job = course_set.carried, plan.job
    if carried is None:
        return "nothing"
    last = f"up to course {course_name(course_set, carried.hung)}"
    if carried.hung > len(carried.planned):
        return last
    off = on_tape(job, course_set.lines.butt_lines[carried.hung - 1]) - on_tape(
        job, carried.planned[carried.hung - 1]
    )
    if abs(off) < job.round / 2:
        return f"{last}, as planned"
    return f"{last}, whose bottom is {measured(job, abs(off))} {'above' if off > 0 else 'below'} plan"


def carried_words(course_set: CourseSet, plan: Plan) -> Iterator[str]:
    """What the courses above show: one sentence a band, then from where the lines are the planned ones.

    Yields:
        ``courses 7 to 12 show 6-7/8", 1/8" less than planned and 1/4" less than the course below``.
    """
    carried, job, lines = course_set.carried, plan.job, course_set.lines
    if carried is None:
        return
    below: Band | None = None
    for band in lines.bands:
        last = band.first_course + band.courses - 1
        if last >= carried.hung:
            first = max(band.first_course, carried.hung)
            yield _band_words(course_set, plan, first, last, band.exposure, below)
        below = band
    met = _as_planned_from(course_set, job.round)
    if met is not None:
        yield f"from butt line {course_name(course_set, met)} up the lines are as first planned"


def _band_words(
    course_set: CourseSet, plan: Plan, first: int, last: int, exposure: float, below: Band | None
) -> str:
    job, carried = plan.job, course_set.carried
    assert carried is not None
    names = course_name(course_set, first), course_name(course_set, last)
    courses, shows = (
        ("course " + names[0], "shows") if first == last else (f"courses {names[0]} to {names[1]}", "show")
    )
    words = [f"{courses} {shows} {_near(job.round, exposure)}{measured(job, exposure)}"]
    planned = carried.planned
    if last < len(planned):
        was = {round(planned[k] - planned[k - 1], 6) for k in range(first, last + 1)}
        if len(was) == 1:
            words.append(_than(exposure - was.pop(), plan, "planned"))
    if below is not None and first > 1:
        words.append(_than(exposure - below.exposure, plan, "the course below"))
    said = [word for word in words[1:] if word]
    return words[0] + (", " + " and ".join(said) if said else "")


def _near(mark: float, exposure: float) -> str:
    return "" if abs(exposure / mark - round(exposure / mark)) < SAME else "about "


def _than(change: float, plan: Plan, what: str) -> str:
    """A change of exposure in words, to the tape's mark; empty when none shows on sixty-fourths or tenths."""
    job = plan.job
    finest = 1 / 64 if job.units == "in" else 0.1
    if abs(change) < min(finest, job.round) / 2:
        return ""
    amount = "a hair"
    if abs(change) >= job.round / 2:
        amount = f"{_near(job.round, change)}{measured(job, abs(change))}"
    return f"{amount} {'more' if change > 0 else 'less'} than {what}"


def _as_planned_from(course_set: CourseSet, mark: float) -> int | None:
    """Number of the first butt line above what hangs from which every line is the planned one."""
    carried, butts = course_set.carried, course_set.lines.butt_lines
    if carried is None:
        return None
    found = None
    for number in range(min(len(butts), len(carried.planned)), carried.hung, -1):
        if abs(butts[number - 1] - carried.planned[number - 1]) > mark / 2:
            break
        found = number
    return found


def levelled_words(face: ElevationPlan, plan: Plan) -> Iterator[str]:
    """How the ends of a face are brought back to the lines of its course set; one sentence for both if alike.

    Yields:
        ``left end is 1/8" high at course 7: course 7 shows 1/8" less there``.
    """
    ends = list(face.levelled)
    while ends:
        end = ends.pop(0)
        same = [other for other in ends if replace(other, side=end.side) == end]
        ends = [other for other in ends if other not in same]
        yield _end_words(end, bool(same), plan)


def _end_words(end: Levelling, whole: bool, plan: Plan) -> str:
    job, course_set = plan.job, plan.course_sets[end.course_set]
    finest = min(1 / 64 if job.units == "in" else 0.1, job.round)

    def length(amount: float) -> str:
        return show_length(abs(amount), job.units, finest)

    what, there = ("the whole face", "") if whole else (f"{end.side} end", " there")
    course = course_name(course_set, end.course)
    where = f"{what} is {length(end.off)} {'high' if end.off > 0 else 'low'} at course {course}"
    if not any(end.shares):
        return f"{where}, and stays so" + (": panels interlock" if course_set.cladding.fixed else "")
    parts = []
    at = 0
    while at < len(end.shares):
        stop = at
        while stop + 1 < len(end.shares) and abs(end.shares[stop + 1] - end.shares[at]) < ROUNDING:
            stop += 1
        if end.shares[at]:
            first, last = (course_name(course_set, end.course + one) for one in (at, stop))
            courses = f"course {first} shows" if at == stop else f"courses {first} to {last} show"
            less = "less" if end.shares[at] > 0 else "more"
            parts.append(f"{courses} {length(end.shares[at])} {less}{there}")
        at = stop + 1
    words = f"{where}: {', '.join(parts)}"
    return f"{words}; {length(end.left_over)} remains" if end.left_over else words


def hung_words(face: ElevationPlan, plan: Plan) -> Iterator[str]:
    """The butt lines measured on a face, then what hangs beyond the siding's exposures.

    Yields:
        ``course 7 is installed at 3' 6-7/8" left, 3' 6-5/8" right``; then as ``crept_words``.
    """
    for line in face.built:
        if line.measured:
            name = course_name(plan.course_sets[line.course_set], line.course)
            left, right = measured(plan.job, line.left), measured(plan.job, line.right)
            at = left if left == right else f"{left} left, {right} right"
            yield f"course {name} is installed at {at}"
    for found in crept_there(plan.job, face, plan.course_sets):
        yield crept_words(found, plan.job)


def crept_words(found: Crept, job: Job) -> str:
    """What hangs beyond its siding's exposures, and by how much.

    Returns:
        ``courses 1 to 7 show about 7-1/64", at most 7" allowed: each lap is 1/64" short (see the maker's
        instructions)``; or ``… show 5-3/8", 1/8" less than the least, 5-1/2"``.
    """
    finest = min(1 / 64 if job.units == "in" else 0.1, job.round)
    one = found.first == found.last
    names = f"{found.prefix}{found.first}", f"{found.prefix}{found.last}"
    courses = f"course {names[0]} shows" if one else f"courses {names[0]} to {names[1]} show"

    def length(amount: float) -> str:
        unit = " mm" if job.units == "mm" else ""
        return f"{_near(finest, amount)}{show_length(amount, job.units, finest)}{unit}"

    shown = f"{courses} {length(found.exposure)}"
    amount = length(abs(found.beyond)) if abs(found.beyond) >= finest / 2 else "a hair"
    if found.beyond > 0:
        lap, most = "its lap is" if one else "each lap is", length(found.cladding.exposure_max)
        return f"{shown}, at most {most} allowed: {lap} {amount} short (see the maker's instructions)"
    return f"{shown}, {amount} less than the least, {length(found.cladding.exposure_min)}"


def change_words(change: Change, plan: Plan) -> str:
    """What became of an edge: ``A sill: planned flush, course 4 ends there; now cut course 4 …``."""
    after = "below the first course" if change.after is None else edge_action(change.after, plan)
    return f"{_edge_of(change)}: {_planned_words(change, plan)}; now {after}"


def change_heading(change: Change) -> str:
    """What kind of change it is: another result, or the same one with other figures."""
    return "Cut differently" if change.same_result else "Changed"


def _edge_of(change: Change) -> str:
    known = change.after or change.before
    assert known is not None
    return edge_subject(known)


def _planned_words(change: Change, plan: Plan) -> str:
    old = change.before
    if old is None:
        return "planned below the first course"
    name = course_name(plan.course_sets[old.course_set], old.course)
    ends = " ends there" if old.result == "flush" and old.edge in BELOW else ""
    return f"planned {old.result}, course {name}{ends}"


def sheet_words(face: ElevationPlan, plan: Plan) -> Iterator[str]:
    """What a sheet says of carrying on: what hangs on the face, how its ends come back, what changed."""
    for words in hung_words(face, plan):
        yield f"{words[:1].upper()}{words[1:]}"
    for zone in face.zones:
        course_set = plan.course_sets[zone.course_set]
        if course_set.carried is not None:
            words = "; ".join(carried_words(course_set, plan))
            yield f"{words[:1].upper()}{words[1:]}"
    for words in levelled_words(face, plan):
        yield f"{words[:1].upper()}{words[1:]}"
    here = [change for change in plan.changes if change.face == face.elevation.name]
    for heading, changed in groupby(here, change_heading):
        words = "; ".join(f"{_edge_of(change)} {_planned_words(change, plan)}" for change in changed)
        yield f"{heading}, see the notes at the drawing: {words}"
