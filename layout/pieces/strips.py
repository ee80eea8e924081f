"""Course strips: each course cut by what the siding covers, and where no seam should fall on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.trade.rules import out_of_level
from evencourse.layout.wall.clad_area import clad_region
from evencourse.layout.wall.on_wall import last_hung

if TYPE_CHECKING:
    from shapely import Geometry

Span = tuple[float, float]

#: A region of more corners than this is halved before it is cut, down to so many courses.
_CORNERS, _AT_ONCE = 600, 4


@dataclass(frozen=True)
class Run:
    """One unbroken part of a course: what a window splits is two runs, what it notches is one.

    Attributes:
        face: index of its elevation in the plan.
        zone: index of its zone on that elevation.
        course_set: name of its course set.
        number: number of its course.
        foot: the course's butt line [job units].
        head: the next one [job units].
        left: x of its long point on the left [job units].
        right: the same on the right.
        bottom: its lowest height [job units].
        top: its highest height.
        polygon: its outline on the wall (shapely).
        sloped: x from and to of every part of its outline that is neither level nor plumb.
    """

    face: int
    zone: int
    course_set: str
    number: int
    foot: float
    head: float
    left: float
    right: float
    bottom: float
    top: float
    polygon: Geometry
    sloped: tuple[Span, ...]

    @property
    def width(self) -> float:
        """From long point to long point [job units]."""
        return self.right - self.left


def runs(plan: Plan) -> tuple[Run, ...]:
    """Every run that is still to be hung: by face, zone, course from the bottom up, left to right.

    Args:
        plan: with its course lines.

    Rule: the runs of a face tile what siding covers on it, courses that hang already left out (geometry).
    """
    return tuple(run for index in range(len(plan.elevations)) for run in _face(plan, index))


def _face(plan: Plan, index: int) -> Iterator[Run]:
    face = plan.elevations[index]
    region = clad_region(plan.job, face, plan.course_sets)
    left, low, right, high = (float(value) for value in shapely.bounds(region))
    courses = list(_courses(plan, face, low, high))
    if not courses:
        return
    foot, head = [c[3] for c in courses], [c[4] for c in courses]
    parts, which = shapely.get_parts(_cut(region, (left - 1, right + 1), foot, head), return_index=True)
    areas, bounds = shapely.area(parts).tolist(), shapely.bounds(parts).tolist()
    order = sorted(range(len(parts)), key=lambda i: (int(which[i]), bounds[i][0], bounds[i][1]))
    sloped = _sloped(parts)
    least = (1e-6 * plan.job.inch) ** 2
    last = [last_hung(plan, face, zone.course_set) for zone in face.zones]
    for part in order:
        if areas[part] <= least:
            continue
        zone, number, line, *_ = courses[int(which[part])]
        if number <= last[zone]:
            continue
        butts = plan.course_sets[face.zones[zone].course_set].lines.butt_lines
        yield Run(
            index, zone, face.zones[zone].course_set, number, line, butts[number],
            bounds[part][0], bounds[part][2], bounds[part][1], bounds[part][3],
            parts[part], tuple(sloped.get(part, ())),
        )  # fmt: skip


def _cut(region: Geometry, across: Span, foot: Sequence[float], head: Sequence[float]) -> list[Geometry]:
    """The region cut by every course, bottom up; one of many corners is halved first, again and again."""
    if len(foot) <= _AT_ONCE or shapely.get_num_coordinates(region) <= _CORNERS:
        return list(shapely.intersection(region, shapely.box(across[0], foot, across[1], head)))
    middle = len(foot) // 2
    found: list[Geometry] = []
    for part in (slice(None, middle), slice(middle, None)):
        half = shapely.box(across[0], min(foot[part]), across[1], max(head[part]))
        found += _cut(shapely.intersection(region, half), across, foot[part], head[part])
    return found


def _courses(
    plan: Plan, face: ElevationPlan, low: float, high: float
) -> Iterator[tuple[int, int, float, float, float]]:
    """Zone, course number, butt line, and the heights between which the course shows."""
    near = 1e-9 * plan.job.inch
    for index, zone in enumerate(face.zones):
        butts = plan.course_sets[zone.course_set].lines.butt_lines
        for number, (line, following) in enumerate(pairwise(butts), start=1):
            bottom, top = max(line, zone.bottom, low), min(following, zone.top, high)
            if top - bottom > near:
                yield index, number, line, bottom, top


def _sloped(parts: Any) -> dict[int, list[Span]]:
    """By polygon, the x spans of the sides of its outline that slope more than an eave out of level."""
    points, owner = shapely.get_coordinates(parts, return_index=True)
    step = points[1:] - points[:-1]
    run, rise = np.abs(step[:, 0]), np.abs(step[:, 1])
    near = 1e-6
    slopes = (owner[1:] == owner[:-1]) & (run > near) & (rise > near)
    found: dict[int, list[Span]] = {}
    for at in np.flatnonzero(slopes).tolist():
        if out_of_level(float(rise[at]), float(run[at])):
            continue
        ends = sorted((float(points[at, 0]), float(points[at + 1, 0])))
        found.setdefault(int(owner[at]), []).append((ends[0], ends[1]))
    return found
