"""Limits and must-meet edges that a plan does not keep to: by how much, and what stands against them."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

from evencourse.layout.model.course_plan import CourseSet, LostEdge
from evencourse.layout.model.job import Job
from evencourse.layout.model.missed_limit import MissedEdge, MissedLimit, OtherStarter
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.trade.rules import rules
from evencourse.render.words.plan_words import course_name, measured


def missed_words(missed: MissedLimit, course_set: CourseSet, job: Job) -> str:
    """A limit that could not be met, by how much, and what stands against it.

    Args:
        missed: one of the course set.
        course_set: its lines, limits and siding.
        job: for its tape.

    Returns:
        ``Front A head, a must-meet edge, is off by 3/8": panels interlock; …``.
    """
    what, why = _told(missed, course_set, job)
    return f"{what} by {measured(job, missed.amount)}: {why}"


def _told(missed: MissedLimit, course_set: CourseSet, job: Job) -> tuple[str, str]:
    if missed.edge is not None:
        return f"{_name(missed.edge)}, a must-meet edge, is off", _why(missed.edge, course_set, job)
    if missed.end is not None:
        face, side, high = missed.end
        return f"the {side} end of {face} stays {'high' if high else 'low'}", _stays(missed, course_set, job)
    if missed.limit == "starter":
        asked = measured(job, course_set.lines.starter)
        low, high_end = (measured(job, end) for end in course_set.limits)
        why = f"it was asked for at {asked}; the limits are {low} to {high_end}"
        return "the starter line is outside its limits", why
    if missed.limit == "ground":
        clear = measured(job, course_set.cladding.ground_clearance)
        why = f"the siding must be {clear} clear of the ground; lower the ground"
        why += f", or {_asked(missed.instead, job)}" if missed.instead else ""
        return "the first course is too near the ground", why
    if missed.instead is not None:
        what = "every starter within its limits misses a must-meet edge"
        return what, _costs(missed.instead, course_set, job)
    return "the exposure change is too great", _change(missed, course_set, job)


def _asked(instead: OtherStarter, job: Job) -> str:
    """What to write for a starter outside its limits, and what the first course covers then."""
    write = f"write starter = [{instead.starter:g}, {instead.starter:g}] under [limits]"
    return f"{write}; the first course then covers the base by {measured(job, instead.cover)}"


def _costs(instead: OtherStarter, course_set: CourseSet, job: Job) -> str:
    edges = f"{instead.gained} of the {instead.missed} missed must-meet edges are"
    if instead.gained == instead.missed == 1:
        edges = "the edge is"
    costs = [f"write starter = [{instead.starter:g}, {instead.starter:g}] under [limits], and {edges} met"]
    if instead.over_ground is not None:
        clear = measured(job, course_set.cladding.ground_clearance)
        costs.append(
            f"the siding then hangs {measured(job, instead.over_ground)} above the ground, where {clear} is "
            "wanted: only if the maker's instructions and the local code allow it"
        )
    if instead.thin:
        least = measured(job, rules().limits["cover_min"] * job.inch)
        cover = measured(job, instead.cover)
        costs.append(f"the first course then covers the base by {cover}, where {least} is wanted")
    return "; ".join(costs if len(costs) > 1 else [*costs, "it costs nothing else"])


def _change(missed: MissedLimit, course_set: CourseSet, job: Job) -> str:
    upper = missed.course or 1
    lower, first = (course_name(course_set, course) for course in (upper - 1, upper))
    change, most = measured(job, missed.amount + job.limits.jump), measured(job, job.limits.jump)
    carried = course_set.carried
    but = "a must-meet edge comes first" if carried is None else f"{_hung(course_set)} is installed"
    return f"from course {lower} to course {first} it changes by {change}; {most} is allowed, but {but}"


def _stays(missed: MissedLimit, course_set: CourseSet, job: Job) -> str:
    course = course_name(course_set, missed.course or 0)
    if course_set.cladding.fixed:
        return f"panels interlock; the courses above follow course {course}"
    return f"exposures of {_exposures(course_set, job)} leave no room for it above course {course}"


def _why(edge: MissedEdge, course_set: CourseSet, job: Job) -> str:
    if edge.against == "hung":
        return f"course {course_name(course_set, edge.course)} is installed there"
    if edge.against == "panels":
        return f"panels interlock; every line follows {_hung(course_set)}, which is installed"
    if edge.against == "apart":
        carried = course_set.carried
        last = course_set.lines.butt_lines[carried.hung - 1 if carried else 0]
        return _span(course_set, job, edge.height - last, f"{_hung(course_set)}, which is installed,")
    starters = " or ".join(measured(job, at) for at in edge.starters)
    low, high = (measured(job, end) for end in course_set.limits)
    if edge.against == "starter":
        return f"the starter that meets it, {starters}, misses edges that matter as much or more"
    if edge.against == "limits":
        return f"the starter would have to be at {starters}; its limits are {low} to {high}"
    if lost := _musts_lost(edge, course_set, job):
        return lost
    if course_set.carried is not None:
        return f"no courses above {_hung(course_set)}, which is installed, meet it"
    return f"no courses of {_exposures(course_set, job)} from a starter between {low} and {high} meet it"


def _musts_lost(edge: MissedEdge, course_set: CourseSet, job: Job) -> str:
    """Which other musts the best lines that meet an edge miss; empty when no lines meet it."""
    reason = course_set.why(edge.height, edge.edge == "base")
    if reason is None or reason.instead is None:
        return ""
    musts = [lost for lost in reason.lost if lost.importance == "must"]
    for lost in musts:
        if lost.apart:
            return _span(course_set, job, abs(edge.height - lost.height), _name(lost))
    if not musts:
        return "no courses meet it together with the other must-meet edges"
    return f"courses that meet it miss {' and '.join(_names(musts))}"


def _names(edges: Sequence[LostEdge]) -> list[str]:
    return list(dict.fromkeys(map(_name, edges)))


def _name(edge: MissedEdge | LostEdge) -> str:
    if edge.roof is not None:
        return f"{edge.face} {edge.edge.removesuffix(' roof')} {edge.roof}"
    return " ".join(filter(None, (edge.face, edge.opening, edge.edge)))


def _hung(course_set: CourseSet) -> str:
    carried = course_set.carried
    return f"course {course_name(course_set, carried.hung if carried else 0)}"


def _exposures(course_set: CourseSet, job: Job) -> str:
    cladding = course_set.cladding
    return f"{measured(job, cladding.exposure_min)} to {measured(job, cladding.exposure_max)}"


def _span(course_set: CourseSet, job: Job, span: float, what: str) -> str:
    """Between which counts of courses a distance lies that no whole number of them fills."""
    most = floor(span / course_set.cladding.exposure_min + ROUNDING)
    tries = [f"{count} at {measured(job, span / count)}" for count in (most, most + 1) if count > 0]
    courses = " or ".join(tries)
    allowed = _exposures(course_set, job)
    return f"{measured(job, span)} from {what} takes courses of {courses}; {allowed} is allowed"
