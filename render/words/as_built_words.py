"""The crew's words for carrying on: what hangs, what the courses above it take up, what changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from evencourse.layout.courses.crept import Crept, crept_there
from evencourse.layout.language.speech import decimals, gettext, noop, pgettext
from evencourse.layout.model.as_built import Levelling
from evencourse.layout.model.course_plan import Band, Change, CourseSet, ElevationPlan, Plan, Result
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import show_length
from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.render.words.edge_words import edge_action
from evencourse.render.words.missed_words import both
from evencourse.render.words.plan_words import (
    BELOW,
    course_name,
    edge_subject,
    measured,
    on_tape,
)

#: By side, and whether it lies high: an end of a face, or both, off the lines of its course set.
_ENDS = {
    ("left", True): noop("left end is {off} high at course {course}"),
    ("left", False): noop("left end is {off} low at course {course}"),
    ("right", True): noop("right end is {off} high at course {course}"),
    ("right", False): noop("right end is {off} low at course {course}"),
    ("both", True): noop("the whole face is {off} high at course {course}"),
    ("both", False): noop("the whole face is {off} low at course {course}"),
}
_PLANNED: dict[Result, str] = {
    "flush": noop("planned flush, course {course}"),
    "notch": noop("planned notch, course {course}"),
    "sliver": noop("planned sliver, course {course}"),
}


def hangs_words(course_set: CourseSet, plan: Plan) -> str:
    """Up to where a course set hangs: ``up to course 7, whose bottom is 3/4" above plan``."""
    carried, job = course_set.carried, plan.job
    if carried is None:
        return pgettext("courses that are installed", "nothing")
    course = course_name(course_set, carried.hung)
    if carried.hung > len(carried.planned):
        return gettext("up to course {course}", course=course)
    off = on_tape(job, course_set.lines.butt_lines[carried.hung - 1]) - on_tape(
        job, carried.planned[carried.hung - 1]
    )
    if abs(off) < job.round / 2:
        return gettext("up to course {course}, as planned", course=course)
    length = measured(job, abs(off))
    if off > 0:
        return gettext("up to course {course}, whose bottom is {off} above plan", course=course, off=length)
    return gettext("up to course {course}, whose bottom is {off} below plan", course=course, off=length)


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
        yield gettext(
            "from butt line {line} up the lines are as first planned", line=course_name(course_set, met)
        )


def _band_words(
    course_set: CourseSet, plan: Plan, first: int, last: int, exposure: float, below: Band | None
) -> str:
    job, carried = plan.job, course_set.carried
    assert carried is not None
    names = course_name(course_set, first), course_name(course_set, last)
    words = _shows_words(names, _near(job.round, exposure, measured(job, exposure)))
    said: list[str] = []
    planned = carried.planned
    if last < len(planned):
        was = {round(planned[k] - planned[k - 1], 6) for k in range(first, last + 1)}
        if len(was) == 1:
            change = exposure - was.pop()
            if amount := _change_amount(change, plan):
                said.append(
                    gettext("{amount} more than planned", amount=amount)
                    if change > 0
                    else gettext("{amount} less than planned", amount=amount)
                )
    if below is not None and first > 1:
        change = exposure - below.exposure
        if amount := _change_amount(change, plan):
            said.append(
                gettext("{amount} more than the course below", amount=amount)
                if change > 0
                else gettext("{amount} less than the course below", amount=amount)
            )
    return ", ".join([words, both(said)] if said else [words])


def _shows_words(names: tuple[str, str], exposure: str) -> str:
    """What courses show: from the first to the last of them."""
    first, last = names
    if first == last:
        return gettext("course {course} shows {exposure}", course=first, exposure=exposure)
    return gettext("courses {first} to {last} show {exposure}", first=first, last=last, exposure=exposure)


def _near(mark: float, length: float, shown: str) -> str:
    """A length as it is shown, and that it is only near that where it lies on no mark."""
    on_mark = abs(length / mark - round(length / mark)) < SAME
    return shown if on_mark else gettext("about {length}", length=shown)


def _change_amount(change: float, plan: Plan) -> str:
    """A change of exposure, to the tape's mark; empty when none shows on sixty-fourths or tenths."""
    job = plan.job
    finest = 1 / 64 if job.units == "in" else 0.1
    if abs(change) < min(finest, job.round) / 2:
        return ""
    if abs(change) < job.round / 2:
        return gettext("a hair")
    return _near(job.round, change, measured(job, abs(change)))


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
        return decimals(show_length(abs(amount), job.units, finest))

    where = gettext(
        _ENDS["both" if whole else end.side, end.off > 0],
        off=length(end.off),
        course=course_name(course_set, end.course),
    )
    if not any(end.shares):
        if course_set.cladding.fixed:
            return gettext("{end}, and stays so: panels interlock", end=where)
        return gettext("{end}, and stays so", end=where)
    parts = []
    at = 0
    while at < len(end.shares):
        stop = at
        while stop + 1 < len(end.shares) and abs(end.shares[stop + 1] - end.shares[at]) < ROUNDING:
            stop += 1
        if end.shares[at]:
            names = course_name(course_set, end.course + at), course_name(course_set, end.course + stop)
            amount = length(end.shares[at])
            if end.shares[at] > 0:
                change = (
                    pgettext("exposure", "{amount} less", amount=amount)
                    if whole
                    else pgettext("exposure", "{amount} less there", amount=amount)
                )
            else:
                change = (
                    pgettext("exposure", "{amount} more", amount=amount)
                    if whole
                    else pgettext("exposure", "{amount} more there", amount=amount)
                )
            parts.append(_shows_words(names, change))
        at = stop + 1
    words = gettext("{end}: {courses}", end=where, courses=", ".join(parts))
    if not end.left_over:
        return words
    return gettext("{end}; {length} remains", end=words, length=length(end.left_over))


def hung_words(face: ElevationPlan, plan: Plan) -> Iterator[str]:
    """The butt lines measured on a face, then what hangs beyond the siding's exposures.

    Yields:
        ``course 7 is installed at 3' 6-7/8" left, 3' 6-5/8" right``; then as ``crept_words``.
    """
    for line in face.built:
        if line.measured:
            name = course_name(plan.course_sets[line.course_set], line.course)
            left, right = measured(plan.job, line.left), measured(plan.job, line.right)
            yield (
                gettext("course {course} is installed at {height}", course=name, height=left)
                if left == right
                else gettext(
                    "course {course} is installed at {left} left, {right} right",
                    course=name,
                    left=left,
                    right=right,
                )
            )
    for found in crept_there(plan.job, face, plan.course_sets):
        yield crept_words(found, plan.job)


def crept_words(found: Crept, job: Job) -> str:
    """What hangs beyond its siding's exposures, and by how much.

    Returns:
        ``courses 1 to 7 show about 7-1/64", at most 7" allowed: each lap is 1/64" short (see the maker's
        instructions)``; or ``… show 5-3/8", 1/8" less than the least, 5-1/2"``.
    """
    finest = min(1 / 64 if job.units == "in" else 0.1, job.round)

    def length(amount: float) -> str:
        unit = " mm" if job.units == "mm" else ""
        return _near(finest, amount, decimals(show_length(amount, job.units, finest)) + unit)

    names = f"{found.prefix}{found.first}", f"{found.prefix}{found.last}"
    shown = _shows_words(names, length(found.exposure))
    amount = length(abs(found.beyond)) if abs(found.beyond) >= finest / 2 else gettext("a hair")
    if found.beyond <= 0:
        least = length(found.cladding.exposure_min)
        return gettext(
            "{courses}, {amount} less than the least, {least}", courses=shown, amount=amount, least=least
        )
    most = length(found.cladding.exposure_max)
    if found.first == found.last:
        return gettext(
            "{courses}, at most {most} allowed: its lap is {amount} short (see the maker's instructions)",
            courses=shown,
            most=most,
            amount=amount,
        )
    return gettext(
        "{courses}, at most {most} allowed: each lap is {amount} short (see the maker's instructions)",
        courses=shown,
        most=most,
        amount=amount,
    )


def change_words(change: Change, plan: Plan) -> str:
    """What became of an edge: ``A sill: planned flush, course 4 ends there; now cut course 4 …``."""
    edge, planned = _edge_of(change), _planned_words(change, plan)
    if change.after is None:
        return gettext("{edge}: {planned}; now below the first course", edge=edge, planned=planned)
    now = edge_action(change.after, plan)
    return gettext("{edge}: {planned}; now {action}", edge=edge, planned=planned, action=now)


def change_heading(change: Change) -> str:
    """What kind of change it is: another result, or the same one with other figures."""
    return gettext("Cut differently") if change.same_result else pgettext("edges", "Changed")


def _edge_of(change: Change) -> str:
    known = change.after or change.before
    assert known is not None
    return edge_subject(known)


def _planned_words(change: Change, plan: Plan) -> str:
    old = change.before
    if old is None:
        return gettext("planned below the first course")
    name = course_name(plan.course_sets[old.course_set], old.course)
    if old.result == "flush" and old.edge in BELOW:
        return gettext("planned flush, course {course} ends there", course=name)
    return gettext(_PLANNED[old.result], course=name)


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
        words = "; ".join(
            gettext("{edge} {planned}", edge=_edge_of(change), planned=_planned_words(change, plan))
            for change in changed
        )
        yield gettext("{heading}, see the notes at the drawing: {changes}", heading=heading, changes=words)
