"""Bases out of level and roofs as flat: how far rips hang below them, and the slivers that they leave."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Literal

from evencourse.layout.model.course_plan import CourseSet, ZonePlan
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.model.low_slope import LowSlope, ThinEnd
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.solver.score import rulebook
from evencourse.layout.trade.rules import out_of_level, rules
from evencourse.layout.wall.roofs import behind_roof, roof_sides
from evencourse.layout.wall.sides import Side, cover_max, hung_over, sides


def low_slopes(
    job: Job, elevation: Elevation, zones: tuple[ZonePlan, ...], course_sets: Mapping[str, CourseSet]
) -> Iterator[LowSlope]:
    """Every base out of level that courses are cut along, then the sides of roofs that slope as little.

    Args:
        job: for its units, its limits, and what siding keeps clear of roofs.
        elevation: the face.
        zones: its zones.
        course_sets: by name.

    Rules: boards and shingles are ripped along a line as far below such a base as the least of the cover that
    is wanted, the cladding's own, and how far the butt line of the first course lies below the base's lowest
    point: no course reaches lower. Panels end on the base, in a channel. What shows at an end of the base is
    a sliver when it is thinner than ``strip_min`` (common practice, no source).
    """
    lowest = course_sets[zones[0].course_set]
    starter, cladding = lowest.lines.starter, lowest.cladding
    bases = [
        side
        for side in sides(elevation.outline)
        if side.base and not side.level and out_of_level(side.pitch, 12)
        and not hung_over(side, starter, cladding, job.inch)
        and not behind_roof(job, elevation, side.left, side.right)
    ]  # fmt: skip
    over = 0.0
    if bases and cladding.family != "panel":
        wanted = min(rules().limits["cover_wanted"] * job.inch, cover_max(cladding, job.inch))
        over = max(0.0, min(wanted, *(side.low - starter for side in bases)))
    for side in bases:
        thin = tuple(_thin(job, elevation, side, over, lowest, zones[0].top))
        yield LowSlope(side.left, side.right, "base", None, lowest.name, over, thin)
    for side in roof_sides(job, elevation):
        if not side.level and out_of_level(side.pitch, 12) and side.roof is not None:
            zone = next((zone for zone in zones if zone.top > side.low + SAME), zones[-1])
            place: Literal["base", "top"] = "base" if side.base else "top"
            yield LowSlope(side.left, side.right, place, side.roof.mark, zone.course_set)


def _thin(
    job: Job, elevation: Elevation, side: Side, over: float, course_set: CourseSet, top: float
) -> Iterator[ThinEnd]:
    """Slivers at the ends of a base, of courses that do not hang yet."""
    near, book = SAME * job.inch, rulebook(job, course_set.cladding)
    measured = job.as_built.of(course_set.name)
    hung = max((line.course for line in measured if line.face == elevation.name), default=0)
    for x, height in (side.left, side.right):
        cut = height - over
        for course, (foot, head) in enumerate(pairwise(course_set.lines.butt_lines), start=1):
            ripped = foot + near < cut < head - near and cut < top and course > hung
            if ripped and min(head, top) - cut < book.strip_min - near:
                yield ThinEnd(course, x, min(head, top) - cut)
