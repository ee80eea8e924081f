"""Where a course starts afresh with none below it: what lies behind its lower edge there keeps its lean."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.wall.border import BorderStretch, stretches
from evencourse.layout.wall.on_wall import is_packed, is_up


@dataclass(frozen=True)
class FreshStart:
    """A stretch of a head, or over a roof, on which a whole course begins.

    Attributes:
        stretch: of the border; what lies behind the course is as long.
        course_set: of the course.
        course: its number.
    """

    stretch: BorderStretch
    course_set: str
    course: int


def fresh_starts(plan: Plan, border: Iterable[BorderStretch]) -> Iterator[FreshStart]:
    """Every stretch of a flush head, or flush over a roof or a deck, whose course is still to be hung.

    Args:
        plan: course lines and faces.
        border: its border, what is on the wall already too.

    Rule: a board leans on the board below, shingles lie on those below. Over an opening or a roof there are
    none, so a strip, or a second layer of shingles, takes their place between the ends of the courses below:
    as long as the head with its casing (common practice, no source). Where the course is cut it is packed out
    instead, and panels need neither. A curve or a peak is met at a point: the courses beside it run
    on over it.
    """
    near, level = SAME * plan.job.inch, plan.job.limits.tolerance + 1e-5 * plan.job.inch
    for one in border:
        if one.place not in ("head", "over roof") or abs(one.start[1] - one.end[1]) > near:
            continue
        face = plan.elevations[one.face]
        left, right = sorted((one.start[0], one.end[0]))
        for edge in face.edges:
            if (
                edge.edge == one.place
                and edge.result == "flush"
                and (edge.opening, edge.roof) == (one.opening, one.roof)
                and edge.course_set == face.zones[one.zone].course_set
                and abs(edge.height - one.start[1]) <= level
                and min(edge.right, right) - max(edge.left, left) > near
                and not is_packed(plan, face, edge)
            ):
                yield FreshStart(one, edge.course_set, edge.course)
                break


def laid_double(plan: Plan) -> Mapping[tuple[str, int], float]:
    """By course set and course, over what width it begins with no shingles below it [job units].

    Args:
        plan: course lines and faces.

    Rule: there a second layer lies under it: over every base, band board and flush head (common practice, no
    source).
    """
    border = stretches(plan)
    found: dict[tuple[str, int], float] = {}
    for one in border:
        if one.place == "starter" and not is_up(plan, one):
            name = plan.elevations[one.face].zones[one.zone].course_set
            course = course_at(plan, name, one.start[1])
            found[name, course] = found.get((name, course), 0.0) + one.length
    for start in fresh_starts(plan, border):
        key = (start.course_set, start.course)
        found[key] = found.get(key, 0.0) + start.stretch.length
    return found


def course_at(plan: Plan, course_set: str, height: float) -> int:
    """Number of the course whose butt line is the last one up to a height.

    Args:
        plan: for its course lines.
        course_set: name of the course set.
        height: [job units].
    """
    near = plan.job.limits.tolerance + 1e-5 * plan.job.inch
    return bisect_right(plan.course_sets[course_set].lines.butt_lines, height + near)
