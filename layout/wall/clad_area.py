"""What siding covers on a face: the wall less its openings, band boards, blocks and roofs against it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

import shapely

from evencourse.layout.model.course_plan import CourseSet, ElevationPlan
from evencourse.layout.model.job import Elevation, Job, Opening, Point
from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.layout.wall.roofs import roof_holes
from evencourse.layout.wall.sides import Side, crossings, held_off, hung_over, sides

if TYPE_CHECKING:
    from shapely import Geometry

#: Deeper than any siding hangs below its wall [job units].
_DEEP = 1e6
#: Level x from and to, and heights from and to.
Box = tuple[float, float, float, float]


def clad_area(job: Job, face: ElevationPlan, course_sets: Mapping[str, CourseSet]) -> float:
    """Area that siding covers on a face [square job units].

    Args:
        job: for its units and its tolerance.
        face: its zones, edges and elevation; its own area is not looked at.
        course_sets: by name.
    """
    return float(clad_region(job, face, course_sets).area)


def clad_region(job: Job, face: ElevationPlan, course_sets: Mapping[str, CourseSet]) -> Geometry:
    """What siding covers on a face, as one shapely polygon or several [job units].

    Args:
        job: for its units and its tolerance.
        face: its zones, edges and elevation.
        course_sets: by name.

    Rules: the first course hangs over a base down to the starter line
    (``evencourse.layout.wall.sides.hung_over``); any other base is a cut line, as far below it as its rips
    hang (:func:`base_line`, :func:`overhang`), and off a lower roof the siding is held ``roof_clearance``,
    measured plumb (``evencourse.layout.wall.sides.held_off``). Openings are left out with their trim,
    fixtures with their block; the band boards are what the zones leave between them. Below a door that stands
    on a base hung over nothing hangs: the starter strip ends at the door's trim. At a flush edge the siding
    ends on its butt line: no strip thinner than the tolerance is cut. Roofs, decks and ledgers against the
    wall leave out their band and what is kept clear above it. At a corner whose trim has a width in the job
    it ends that far inside the wall.
    """
    elevation = face.elevation
    lowest = course_sets[face.zones[0].course_set]
    starter, cladding = lowest.lines.starter, lowest.cladding
    wall = shapely.Polygon(elevation.outline)
    hung, out = [], []
    for side in sides(elevation.outline):
        if not side.base:
            continue
        line = base_line(face, side)
        if line is not None or (not side.level and hung_over(side, starter, cladding, job.inch)):
            line = starter if line is None else line
            if side.high > line:
                hung.append(shapely.Polygon(_below(side, line)))
        elif held_off(side, cladding) > 0:
            out.append(shapely.Polygon(_along(side, held_off(side, cladding))))
        elif overhang(face, side) > 0:
            hung.append(shapely.Polygon(_along(side, -overhang(face, side))))
    if hung:
        wall = shapely.union_all([wall, *hung])
    out += [shapely.Polygon(hole) for hole in openings_left_out(face, starter)]
    out += [shapely.Polygon(hole) for hole in roof_holes(job, elevation)]
    boxes = [(item.left, item.bottom, item.right, item.top) for item in elevation.fixtures if item.block]
    boxes += _left_open(job, face)
    boxes += _behind_corners(job, elevation)
    out += [shapely.box(*box) for box in boxes]
    if out:
        wall = shapely.difference(wall, shapely.union_all(out))
    left, _, right, _ = shapely.bounds(wall)
    zones = [shapely.box(left, zone.bottom, right, zone.top) for zone in face.zones if zone.top > zone.bottom]
    return shapely.intersection(wall, shapely.union_all(zones))


def base_line(face: ElevationPlan, side: Side) -> float | None:
    """Where the first course over a level base ends below it; None when it is cut along the base.

    Args:
        face: with its bases.
        side: one of its base sides.
    """
    for base in face.bases:
        whole = base.result != "rip" or base.cover > 0
        if whole and side.level and (base.left, base.height) == (side.left[0], side.low):
            return base.line
    return None


def overhang(face: ElevationPlan, side: Side) -> float:
    """How far the courses that are ripped along a base out of level hang below it [job units].

    Args:
        face: with its low slopes.
        side: one of its base sides, or a part of one.
    """
    return next((one.overhang for one in face.low_slopes if one.beside(side.left, side.right)), 0.0)


def openings_left_out(face: ElevationPlan, starter: float) -> Iterator[tuple[Point, ...]]:
    """Outlines that siding stops at: openings with their trim, counter-clockwise [job units].

    Args:
        face: with its bases.
        starter: butt line 1 of its lowest zone. A door that stands on the base stops the siding down to the
            line at which the first course ends on the highest base under it: where its trim reaches over a
            step, siding goes on below.
    """
    for opening in face.elevation.openings:
        lines = [base.line for base in face.bases if base.left < opening.right and base.right > opening.left]
        yield _down_to(opening, max(lines, default=starter))


def _down_to(opening: Opening, starter: float) -> tuple[Point, ...]:
    outline = opening.trimmed
    if not opening.on_base or opening.sill <= starter:
        return outline
    low = opening.sill
    near = ROUNDING * max(1.0, abs(low))
    return tuple((x, starter if y <= low + near else y) for x, y in outline)


def _below(side: Side, starter: float) -> tuple[Point, ...]:
    """Between a base and the starter line under it; where a sloping base runs below the line, nothing."""
    left, right = side.left, side.right
    if side.low < starter:
        share = (starter - left[1]) / (right[1] - left[1])
        meets = (left[0] + share * (right[0] - left[0]), starter)
        left, right = (meets, right) if left[1] < starter else (left, meets)
    return ((left[0], starter), (right[0], starter), right, left)


def _along(side: Side, clearance: float) -> tuple[Point, ...]:
    (x0, y0), (x1, y1) = side.left, side.right
    return ((x0, y0), (x1, y1), (x1, y1 + clearance), (x0, y0 + clearance))


def _behind_corners(job: Job, elevation: Elevation) -> Iterator[Box]:
    """What corner trim covers of a wall whose width was measured over the bare wall."""
    xs, ys = zip(*elevation.outline, strict=True)
    left, right = job.ends(elevation)
    if left > min(xs):
        yield (min(xs), min(ys) - _DEEP, left, max(ys))
    if right < max(xs):
        yield (right, min(ys) - _DEEP, max(xs), max(ys))


def _left_open(job: Job, face: ElevationPlan) -> Iterator[Box]:
    """Strips between a flush edge and its butt line, on the siding's side of the edge."""
    openings = {opening.mark: opening for opening in face.elevation.openings}
    near = SAME * job.inch
    for edge in face.edges:
        if edge.result != "flush" or abs(edge.miss) <= near:
            continue
        line = edge.height + edge.miss
        thin = job.limits.tolerance + near
        if edge.edge == "head" and edge.miss > 0:
            left, right = _chord(openings[edge.opening or ""], line - thin)
            yield (left, line - thin, right, line)
        elif edge.edge == "sill" and edge.miss < 0:
            left, right = _chord(openings[edge.opening or ""], line + thin)
            yield (left, line, right, line + thin)
        elif edge.edge in ("eave", "band", "under roof") and edge.miss < 0:
            yield (edge.left, line, edge.right, edge.height)
        elif edge.edge == "over roof" and edge.miss > 0:
            yield (edge.left, edge.height, edge.right, line)


def _chord(opening: Opening, level: float) -> tuple[float, float]:
    """Where a level line runs over an opening with its trim: a curved one is thin there alone."""
    found = crossings(opening.trimmed, level)
    return (found[0], found[-1]) if found else (opening.middle, opening.middle)
