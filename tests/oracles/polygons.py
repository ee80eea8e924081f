"""What siding covers, built anew with shapely from a job's numbers and a plan's lines.

Written from the rules in words, not from the layout's own shapes: nothing of
``evencourse.layout.wall.clad_area``, ``evencourse.layout.wall.sides`` or ``Opening.trimmed`` is called.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

import shapely
from shapely import LineString, Point, Polygon, box

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.job import Elevation, Opening

#: A base no higher than this above the starter line is hung over [in]: common practice, no source.
COVER = 3.0
FAR = 1e5


def hole(opening: Opening) -> Polygon:
    """An opening with its trim, arcs as true as 4000 chords make them."""
    trim = opening.trim
    left, right = opening.left - trim.side, opening.left + opening.width + trim.side
    low = opening.bottom - (0 if opening.on_base else trim.sill)
    top = opening.bottom + opening.height
    middle = opening.left + opening.width / 2
    if opening.shape == "rectangle":
        return box(left, low, right, top + trim.head)
    if opening.shape == "round":
        radius = opening.width / 2 + trim.head
        return Point(middle, opening.bottom + opening.height / 2).buffer(radius, quad_segs=1000)
    if opening.shape == "triangle":
        # both slopes moved out square to themselves by the head trim
        slope = opening.height / (opening.width / 2)
        apex = top + trim.head * hypot(1, slope)
        half = (apex - low) / slope
        return Polygon([(middle - half, low), (middle + half, low), (middle, apex)])
    spring, apex = top - opening.rise, top + trim.head
    half, rise = (right - left) / 2, apex - spring
    radius = (half * half + rise * rise) / (2 * rise)
    disc = Point(middle, apex - radius).buffer(radius, quad_segs=1000)
    arc = shapely.intersection(disc, box(left - radius, spring, right + radius, FAR))
    return shapely.union(arc, box(left, low, right, spring)) if spring > low else arc


def bases(wall: Elevation) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Stretches of the lower border, left to right (the outline runs counter-clockwise)."""
    for a, b in zip(wall.outline, (*wall.outline[1:], wall.outline[0]), strict=True):
        if b[0] - a[0] > 1e-9:
            yield a, b


def tops(wall: Elevation) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    for a, b in zip(wall.outline, (*wall.outline[1:], wall.outline[0]), strict=True):
        if a[0] - b[0] > 1e-9:
            yield a, b


def starter(plan: Plan, face: ElevationPlan) -> float:
    return plan.course_sets[face.zones[0].course_set].lines.starter


def hung(plan: Plan, face: ElevationPlan) -> list[tuple[tuple[float, float], tuple[float, float], float]]:
    """Bases that a first course hangs over, each with the butt line on which that course ends.

    A level base is hung over from any butt line that lies below it by no more than a first course may cover
    (the strip keeps half an inch of wall behind its nails), or from the starter line within ``COVER``.
    """
    course_set = plan.course_sets[face.zones[0].course_set]
    siding, lines, inch = course_set.cladding, course_set.lines.butt_lines, plan.job.inch
    reach = starter(plan, face) + min(COVER * inch, siding.exposure_min)
    most = siding.cover if not siding.starter_drop else min(siding.cover, siding.starter_drop - inch / 2)
    most = max(most, inch / 2)
    found = []
    for a, b in bases(face.elevation):
        near = (
            [line for line in lines if 1e-9 < a[1] - line <= most + 1e-6] if abs(a[1] - b[1]) < 1e-9 else []
        )
        if near:
            found.append((a, b, max(near)))
        elif max(a[1], b[1]) <= reach + 1e-9:
            found.append((a, b, starter(plan, face)))
    return found


def ripped(plan: Plan, face: ElevationPlan) -> list[tuple[tuple[float, float], tuple[float, float], float]]:
    """Level bases that boards and shingles are ripped along, each with where the rips end.

    They hang 1 in below the base, as a whole course should at most, or as far as their course reaches; what
    the tape does not show is not ripped off (common practice, no source). Panels end on the base.
    """
    course_set = plan.course_sets[face.zones[0].course_set]
    siding, lines, inch = course_set.cladding, course_set.lines.butt_lines, plan.job.inch
    over = [one[:2] for one in hung(plan, face)]
    found = []
    for a, b in bases(face.elevation):
        below = [line for line in lines if line <= a[1]]
        if siding.family == "panel" or abs(a[1] - b[1]) >= 1e-9 or (a, b) in over or not below:
            continue
        cut = a[1] - max(below)
        hang = min(inch, max(siding.cover, inch / 2), cut)
        found.append((a, b, a[1] - (cut if cut - hang < plan.job.round else hang)))
    return found


def door(plan: Plan, face: ElevationPlan, opening: Opening) -> Polygon:
    """An opening; a door on the base stops the siding below it too, to the line of the highest base there."""
    found = hole(opening)
    under = [
        line for a, b, line in hung(plan, face) if a[0] < opening.left + opening.width and b[0] > opening.left
    ]
    foot = max(under, default=starter(plan, face))
    if opening.on_base and opening.bottom > foot:
        left, low, right, _ = found.bounds
        found = shapely.union(found, box(left, foot, right, low))
    return found


def zoned(face: ElevationPlan, foot: float) -> shapely.Geometry:
    """All heights where siding hangs: band boards left out."""
    lows = [foot, *(zone.zone.top + zone.zone.trim for zone in face.zones[:-1] if zone.zone.top is not None)]
    highs = [*(zone.zone.top for zone in face.zones[:-1]), FAR]
    return shapely.union_all([box(-FAR, a, FAR, b) for a, b in zip(lows, highs, strict=True)])  # type: ignore[arg-type]


def covered(plan: Plan, face: ElevationPlan) -> shapely.Geometry:
    """What siding covers on a face, strips within the tolerance at flush edges included."""
    wall, foot = face.elevation, starter(plan, face)
    lowest = plan.course_sets[face.zones[0].course_set].cladding
    over = [*hung(plan, face), *ripped(plan, face)]
    parts = [
        Polygon(wall.outline),
        *(
            Polygon([(a[0], line), (b[0], line), b, a]).buffer(0)
            for a, b, line in over
            if line < max(a[1], b[1])
        ),
    ]
    out = [door(plan, face, opening) for opening in wall.openings]
    for a, b in bases(wall):
        if all((a, b) != one[:2] for one in over) and abs(a[1] - b[1]) > 1e-9:
            clear = lowest.roof_clearance
            out.append(Polygon([a, b, (b[0], b[1] + clear), (a[0], a[1] + clear)]))
    out += [
        box(item.left, item.bottom, item.left + item.width, item.bottom + item.height)
        for item in wall.fixtures
        if item.block
    ]
    rest = shapely.difference(shapely.union_all(parts), shapely.union_all(out))
    return shapely.intersection(rest, zoned(face, foot))


def within_tolerance(plan: Plan, face: ElevationPlan) -> float:
    """Area that flush edges off their butt lines may leave open or cover: their miss along their width."""
    wide = {opening.mark: hole(opening).bounds for opening in face.elevation.openings}
    slack = 0.0
    for edge in face.edges:
        if edge.result == "flush":
            left, _, right, _ = wide[edge.opening] if edge.opening else (edge.left, 0, edge.right, 0)
            slack += abs(edge.miss) * (right - left)
    return slack


def rake_lines(face: ElevationPlan) -> list[LineString]:
    """Sloping upper borders steeper than 1 in 12 (flatter is an eave: common practice, no source)."""
    return [LineString([a, b]) for a, b in tops(face.elevation) if 12 * abs(a[1] - b[1]) > abs(a[0] - b[0])]
