"""Limits and must-meet edges that a plan does not keep to: by how much, and what stands against them."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from math import floor

from evencourse.layout.language.speech import gettext, ngettext, noop, pgettext
from evencourse.layout.model.course_plan import CourseSet, LostEdge
from evencourse.layout.model.job import Job
from evencourse.layout.model.missed_limit import EdgeKind, MissedEdge, MissedLimit, OtherStarter
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.trade.rules import rules
from evencourse.render.words.plan_words import course_name, measured

#: By side, and whether it stays high, that an end of a face does not come back to level.
_STAYS = {
    ("left", True): noop("the left end of {face} stays high by {off}: {why}"),
    ("left", False): noop("the left end of {face} stays low by {off}: {why}"),
    ("right", True): noop("the right end of {face} stays high by {off}: {why}"),
    ("right", False): noop("the right end of {face} stays low by {off}: {why}"),
}
_EDGES: dict[EdgeKind, str] = {
    "head": noop("{face} {opening} head"),
    "sill": noop("{face} {opening} sill"),
    "eave": noop("{face} eave"),
    "eave left": noop("{face} eave left"),
    "eave right": noop("{face} eave right"),
    "base": noop("{face} base"),
    "band": noop("{face} band"),
    "over roof": noop("{face} over {roof}"),
    "under roof": noop("{face} under {roof}"),
}


def missed_words(missed: MissedLimit, course_set: CourseSet, job: Job) -> str:
    """A limit that could not be met, by how much, and what stands against it.

    Args:
        missed: one of the course set.
        course_set: its lines, limits and siding.
        job: for its tape.

    Returns:
        ``Front A head, a must-meet edge, is off by 3/8": panels interlock; …``.
    """
    off = measured(job, missed.amount)
    if missed.edge is not None:
        return gettext(
            "{edge}, a must-meet edge, is off by {off}: {why}",
            edge=_name(missed.edge),
            off=off,
            why=_why(missed.edge, course_set, job),
        )
    if missed.end is not None:
        face, side, high_end = missed.end
        return gettext(_STAYS[side, high_end], face=face, off=off, why=_stays(missed, course_set, job))
    if missed.limit == "starter":
        low, high = (measured(job, end) for end in course_set.limits)
        return gettext(
            "the starter line is outside its limits by {off}: it was asked for at {asked}; the limits are "
            "{low} to {high}",
            off=off,
            asked=measured(job, course_set.lines.starter),
            low=low,
            high=high,
        )
    if missed.limit == "ground":
        return _too_near(missed, course_set, job)
    if missed.instead is not None:
        return gettext(
            "every starter within its limits misses a must-meet edge by {off}: {why}",
            off=off,
            why=_costs(missed.instead, course_set, job),
        )
    return gettext(
        "the exposure change is too great by {off}: {why}", off=off, why=_change(missed, course_set, job)
    )


def _too_near(missed: MissedLimit, course_set: CourseSet, job: Job) -> str:
    """That the ground is too near, and what to write for a starter outside its limits that clears it."""
    off, clear = measured(job, missed.amount), measured(job, course_set.cladding.ground_clearance)
    if missed.instead is None:
        return gettext(
            "the first course is too near the ground by {off}: the siding must be {clear} clear of the "
            "ground; lower the ground",
            off=off,
            clear=clear,
        )
    return gettext(
        "the first course is too near the ground by {off}: the siding must be {clear} clear of the ground; "
        "lower the ground, or write starter = [{starter}, {starter}] under [limits]; the first course then "
        "covers the base by {cover}",
        off=off,
        clear=clear,
        starter=f"{missed.instead.starter:g}",
        cover=measured(job, missed.instead.cover),
    )


def _costs(instead: OtherStarter, course_set: CourseSet, job: Job) -> str:
    starter = f"{instead.starter:g}"
    if instead.gained == instead.missed == 1:
        costs = [
            gettext(
                "write starter = [{starter}, {starter}] under [limits], and the edge is met", starter=starter
            )
        ]
    else:
        costs = [
            ngettext(
                "write starter = [{starter}, {starter}] under [limits], and {count} of the {missed} missed "
                "must-meet edges are met",
                "write starter = [{starter}, {starter}] under [limits], and {count} of the {missed} missed "
                "must-meet edges are met",
                instead.gained,
                starter=starter,
                missed=instead.missed,
            )
        ]
    if instead.over_ground is not None:
        costs.append(
            gettext(
                "the siding then hangs {height} above the ground, where {clear} is wanted: only if the "
                "maker's instructions and the local code allow it",
                height=measured(job, instead.over_ground),
                clear=measured(job, course_set.cladding.ground_clearance),
            )
        )
    if instead.thin:
        costs.append(
            gettext(
                "the first course then covers the base by {cover}, where {least} is wanted",
                cover=measured(job, instead.cover),
                least=measured(job, rules().limits["cover_min"] * job.inch),
            )
        )
    return "; ".join(costs if len(costs) > 1 else [*costs, gettext("it costs nothing else")])


def _change(missed: MissedLimit, course_set: CourseSet, job: Job) -> str:
    upper = missed.course or 1
    lower, first = (course_name(course_set, course) for course in (upper - 1, upper))
    change, most = measured(job, missed.amount + job.limits.jump), measured(job, job.limits.jump)
    if course_set.carried is None:
        return gettext(
            "from course {lower} to course {upper} it changes by {change}; {most} is allowed, but a "
            "must-meet edge comes first",
            lower=lower,
            upper=first,
            change=change,
            most=most,
        )
    return gettext(
        "from course {lower} to course {upper} it changes by {change}; {most} is allowed, but course {hung} "
        "is installed",
        lower=lower,
        upper=first,
        change=change,
        most=most,
        hung=_hung(course_set),
    )


def _stays(missed: MissedLimit, course_set: CourseSet, job: Job) -> str:
    course = course_name(course_set, missed.course or 0)
    if course_set.cladding.fixed:
        return gettext("panels interlock; the courses above follow course {course}", course=course)
    least, most = _exposures(course_set, job)
    return gettext(
        "exposures of {least} to {most} leave no room for it above course {course}",
        least=least,
        most=most,
        course=course,
    )


def _why(edge: MissedEdge, course_set: CourseSet, job: Job) -> str:
    if edge.against == "hung":
        return gettext("course {course} is installed there", course=course_name(course_set, edge.course))
    if edge.against == "panels":
        return gettext(
            "panels interlock; every line follows course {course}, which is installed",
            course=_hung(course_set),
        )
    least, most = _exposures(course_set, job)
    if edge.against == "apart":
        carried = course_set.carried
        span = edge.height - course_set.lines.butt_lines[carried.hung - 1 if carried else 0]
        return gettext(
            "{span} from course {course}, which is installed, takes courses of {tries}; {least} to {most} is "
            "allowed",
            span=measured(job, span),
            course=_hung(course_set),
            tries=_tries(course_set, job, span),
            least=least,
            most=most,
        )
    low, high = (measured(job, end) for end in course_set.limits)
    if edge.against == "starter":
        return gettext(
            "the starter that meets it, {starters}, misses edges that matter as much or more",
            starters=either(measured(job, at) for at in edge.starters),
        )
    if edge.against == "limits":
        return gettext(
            "the starter would have to be at {starters}; its limits are {low} to {high}",
            starters=either(measured(job, at) for at in edge.starters),
            low=low,
            high=high,
        )
    if lost := _musts_lost(edge, course_set, job):
        return lost
    if course_set.carried is not None:
        return gettext(
            "no courses above course {course}, which is installed, meet it", course=_hung(course_set)
        )
    return gettext(
        "no courses of {least} to {most} from a starter between {low} and {high} meet it",
        least=least,
        most=most,
        low=low,
        high=high,
    )


def _musts_lost(edge: MissedEdge, course_set: CourseSet, job: Job) -> str:
    """Which other musts the best lines that meet an edge miss; empty when no lines meet it."""
    reason = course_set.why(edge.height, edge.edge == "base")
    if reason is None or reason.instead is None:
        return ""
    musts = [lost for lost in reason.lost if lost.importance == "must"]
    for lost in musts:
        if lost.apart:
            span = abs(edge.height - lost.height)
            least, most = _exposures(course_set, job)
            return gettext(
                "{span} from {edge} takes courses of {tries}; {least} to {most} is allowed",
                span=measured(job, span),
                edge=_name(lost),
                tries=_tries(course_set, job, span),
                least=least,
                most=most,
            )
    if not musts:
        return gettext("no courses meet it together with the other must-meet edges")
    return gettext("courses that meet it miss {edges}", edges=both(dict.fromkeys(map(_name, musts))))


def _name(edge: MissedEdge | LostEdge) -> str:
    return gettext(_EDGES[edge.edge], face=edge.face, opening=edge.opening, roof=edge.roof)


def _hung(course_set: CourseSet) -> str:
    carried = course_set.carried
    return course_name(course_set, carried.hung if carried else 0)


def _exposures(course_set: CourseSet, job: Job) -> tuple[str, str]:
    cladding = course_set.cladding
    return measured(job, cladding.exposure_min), measured(job, cladding.exposure_max)


def _tries(course_set: CourseSet, job: Job, span: float) -> str:
    """Between which counts of courses a distance lies that no whole number of them fills."""
    most = floor(span / course_set.cladding.exposure_min + ROUNDING)
    return either(
        [
            pgettext(
                "number of courses",
                "{count} at {exposure}",
                count=count,
                exposure=measured(job, span / count),
            )
            for count in (most, most + 1)
            if count > 0
        ]
    )


def either(words: Iterable[str]) -> str:
    """Words of which one holds: ``A or B or C``."""
    return reduce(lambda one, other: gettext("{one} or {other}", one=one, other=other), words)


def both(words: Iterable[str]) -> str:
    """Words that hold together: ``A and B and C``."""
    return reduce(lambda one, other: gettext("{one} and {other}", one=one, other=other), words)
