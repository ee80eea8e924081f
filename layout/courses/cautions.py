"""What can go wrong on a face: clearances, roofs, heights, dust and heat of its material."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from evencourse.layout.model.caution import Caution
from evencourse.layout.model.course_plan import CourseSet, ElevationPlan
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.clad_area import base_line, overhang
from evencourse.layout.wall.ground import ground_along
from evencourse.layout.wall.roofs import behind_roof, clearance
from evencourse.layout.wall.sides import (
    Side,
    cover_max,
    held_off_roof,
    highest,
    hung_over,
    lowest,
    sides,
)

#: Materials that harm or are harmed, in the order in which they are told.
_MATERIALS = ("fiber cement", "vinyl")


def cautions(job: Job, face: ElevationPlan, course_sets: dict[str, CourseSet]) -> tuple[Caution, ...]:
    """Cautions for one face, the particular ones first.

    Args:
        job: for its units.
        face: the planned face; its own cautions are not looked at.
        course_sets: by name.
    """
    elevation = face.elevation
    found = [*_base(job, face, course_sets), *_at_roofs(job, elevation), *_in_bands(elevation)]
    found += _nothing_meets(face, {(told.mark, told.edge) for told in found})
    height = highest(elevation) - min([lowest(elevation), *(y for _, y in elevation.grade or ())])
    if height > rules().limits["fall_height"] * job.inch:
        found.append(Caution("height" if elevation.grade else "wall height", height))
    materials = {course_sets[zone.course_set].cladding.material for zone in face.zones}
    found += [Caution("material", material=material) for material in _MATERIALS if material in materials]
    return tuple(dict.fromkeys(found))


def _base(job: Job, face: ElevationPlan, course_sets: dict[str, CourseSet]) -> Iterator[Caution]:
    """Ground too near under the siding, wherever it ends, and sloping bases that it ends on."""
    elevation, first = face.elevation, course_sets[face.zones[0].course_set]
    cladding, starter = first.cladding, first.lines.starter
    bases = [side for side in sides(elevation.outline) if side.base]
    over = [side for side in bases if hung_over(side, starter, cladding, job.inch)]
    bare = [side for side in bases if not behind_roof(job, elevation, side.left, side.right)]
    gaps = []
    for side in bare:
        if held_off_roof(side):
            continue
        line = starter if side in over else base_line(face, side)
        for x, height in ground_along(elevation, side.left[0], side.right[0]):
            foot = max(starter, side.height_at(x) - overhang(face, side)) if line is None else line
            gaps.append((foot - height, x))
    if gaps and min(gaps)[0] < cladding.ground_clearance - ROUNDING:
        yield Caution("ground", *min(gaps))
    yield from _strips_off_wall(job, face, [side for side in over if side in bare], first)
    for side in bare:
        if not side.level and side not in over and held_off_roof(side):
            yield Caution("lower roof")
    for slope in face.low_slopes:
        if slope.roof is None:
            yield Caution("base out of level", slope.overhang)
        for end in slope.thin:
            yield Caution("thin end", end.strip, end.x, course=end.course)


def _strips_off_wall(
    job: Job, face: ElevationPlan, over: Sequence[Side], first: CourseSet
) -> Iterator[Caution]:
    """Where the first course hangs so far below a base that its starter strip has no wall behind its nails.

    Rule: the strip's top, the chalk line of panels, the lap of boards, has ``limits.strip_wood`` of wall
    behind it (common practice, no source).
    """
    cladding, butts = first.cladding, first.lines.butt_lines
    drop = cladding.starter_drop or cladding.width - (butts[1] - butts[0])
    if cladding.family == "shingle" or face.built:
        return
    near = ROUNDING + 1e-6 * job.inch
    nailed = max(
        first.lines.starter + drop - rules().limits["strip_wood"] * job.inch,
        first.lines.starter + cover_max(cladding, job.inch),
    )
    for side in over:
        if side.high <= nailed + near:
            continue
        ends = [side.left[0], side.right[0]]
        if side.low < nailed:  # only where the base has climbed so far
            at = ends[0] + (nailed - side.left[1]) / (side.right[1] - side.left[1]) * (ends[1] - ends[0])
            ends[0 if side.left[1] < nailed else 1] = at
        yield Caution("strip", side.high - first.lines.starter, ends[0], ends[1])


def _at_roofs(job: Job, elevation: Elevation) -> Iterator[Caution]:
    """Roofs, decks and ledgers against the wall: their flashing, and what the siding keeps off them."""
    for roof in elevation.roofs:
        yield Caution("roof", clearance(job, elevation, roof), roof=roof.kind, mark=roof.mark)
        if any(y0 != y1 for (_, y0), (_, y1) in pairwise(roof.line)):
            yield Caution("sloped roof", roof=roof.kind, mark=roof.mark)


def _in_bands(elevation: Elevation) -> Iterator[Caution]:
    """Heads and sills that a band board covers."""
    for zone in elevation.zones:
        if zone.top is None or zone.trim <= 0:
            continue
        board = zone.top, zone.top + zone.trim
        for opening in elevation.openings:
            if board[0] < opening.sill < board[1] and not opening.on_base:
                yield Caution("band board", mark=opening.mark, edge="sill", level=opening.sill, board=board)
            if board[0] < opening.head < board[1]:
                yield Caution("band board", mark=opening.mark, edge="head", level=opening.head, board=board)


def _nothing_meets(face: ElevationPlan, told: set[tuple[str | None, str | None]]) -> Iterator[Caution]:
    """Must-meet heads and sills that are no edge: other casings, a roof or the eave leave no siding there."""
    there = {(edge.opening, edge.edge) for edge in face.edges}
    for opening in face.elevation.openings:
        if opening.sill_edge == "must" and (opening.mark, "sill") not in there | told:
            yield Caution("no siding", mark=opening.mark, edge="sill", level=opening.sill)
        if opening.head_edge == "must" and (opening.mark, "head") not in there | told:
            yield Caution("no siding", mark=opening.mark, edge="head", level=opening.head)
