"""What comes off the tops of pieces where nobody sees it: laps and nail hems behind sills, eaves and bands.

The top of a piece, above its exposure, stands behind the course over it. Where there is none, under a sill,
an eave, a band board or a roof, or where something stands on the wall, that top is cut off.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import shapely

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.pieces.piece import Notch, Rip
from evencourse.layout.pieces.piece_shape import PieceShape
from evencourse.layout.trade.materials import materials
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.sides import highest, sides

if TYPE_CHECKING:
    from shapely import Geometry


@dataclass(frozen=True)
class Top:
    """The hidden top of one piece.

    Attributes:
        face: index of its elevation in the plan.
        left: x of what shows of the piece [job units].
        right: the same at its right.
        bottom: lowest height of what shows.
        foot: its butt line [job units].
        head: the next one: its top begins there.
        whole: its height from the butt to the uncut top.
    """

    face: int
    left: float
    right: float
    bottom: float
    foot: float
    head: float
    whole: float


def whole_height(plan: Plan, cladding: Cladding, exposure: float) -> float:
    """How high a piece is before it is cut, from its butt to its top [job units]; its exposure for shingles.

    Rule: a board is as wide as it is; a panel has its lock and its nail hem over its exposure
    (``hold.hem_height`` in ``materials.toml``). Shingles are cut one by one.
    """
    if cladding.family == "panel":
        return exposure + float(materials()["hold"]["hem_height"]) * plan.job.inch
    return max(exposure, cladding.width) if cladding.family == "lap" else exposure


def cut_tops(plan: Plan, shapes: Sequence[PieceShape], tops: Sequence[Top]) -> list[PieceShape]:
    """The shapes of pieces with what comes off their hidden tops.

    Args:
        plan: whose walls they stand on.
        shapes: of what shows of each.
        tops: the hidden top of each.

    Rules: nothing stands behind an opening with its trim, a block, a level roof, deck or ledger, a band
    board, or above an eave (geometry). Rakes cut the whole height of a piece: its end is told. A piece that
    is ripped below its next butt line has no hidden top.
    """
    found = list(shapes)
    near = plan.job.limits.tolerance
    open_tops = [
        index
        for index, (shape, top) in enumerate(zip(shapes, tops, strict=True))
        if top.foot + top.whole > top.head + near and all(rip.edge == "bottom" for rip in shape.rips)
    ]
    boxes = shapely.box(
        [tops[i].left for i in open_tops], [tops[i].head for i in open_tops],
        [tops[i].right for i in open_tops], [tops[i].foot + tops[i].whole for i in open_tops],
    )  # fmt: skip
    things, owner = _things(plan)
    if not things or not open_tops:
        return found
    met: dict[int, list[Geometry]] = {}
    for at, thing in shapely.STRtree(things).query(boxes, predicate="intersects").T.tolist():
        if owner[thing] == tops[open_tops[at]].face:
            met.setdefault(at, []).append(things[thing])
    for at in sorted(met):
        index = open_tops[at]
        found[index] = _cut(found[index], tops[index], boxes[at], met[at], near)
    return found


def _things(plan: Plan) -> tuple[list[Geometry], list[int]]:
    """Outlines of what no hidden top stands behind, and the face of each."""
    things, owner = [], []
    for index, face in enumerate(plan.elevations):
        for thing in _in_the_way(face):
            things.append(shapely.Polygon(thing))
            owner.append(index)
    return things, owner


def _in_the_way(face: ElevationPlan) -> Iterator[Sequence[tuple[float, float]]]:
    wall = face.elevation
    above = 2 * highest(wall) - min(y for _, y in wall.outline)
    yield from (opening.trimmed for opening in wall.openings)
    yield from (item.outline() for item in wall.fixtures if item.block)
    for roof in wall.roofs:
        yield from (part for part in roof.parts() if part[0][1] == part[1][1])
    for side in sides(wall.outline):
        if not side.base and side.pitch <= rules().limits["eave_pitch_max"]:
            yield (side.left, side.right, (side.right[0], above), (side.left[0], above))
    across = [x for x, _ in wall.outline]
    for zone in face.zones:
        if zone.zone.top is not None and zone.zone.trim > 0:
            low, high = zone.zone.top, zone.zone.top + zone.zone.trim
            yield ((min(across), low), (max(across), low), (max(across), high), (min(across), high))


def _cut(shape: PieceShape, top: Top, box: Geometry, things: Sequence[Geometry], near: float) -> PieceShape:
    notches = list(shape.notches)
    blocked = shapely.intersection(box, shapely.union_all(things))
    for part in shapely.get_parts(blocked):
        if shapely.area(part) <= 0:
            continue
        left, low, right, _ = (float(value) for value in shapely.bounds(part))
        if min(right - left, top.foot + top.whole - low) <= near:
            continue
        at_left, at_right, curved = _lower_edge(part, near)
        if right - left >= top.right - top.left - near and not curved:
            rip = Rip("top", at_left - top.foot, at_right - top.foot)
            return replace(shape, notches=tuple(notches), rips=(*shape.rips, rip))
        notches = _with(notches, top, left, low, right, curved or abs(at_left - at_right) > near)
    return replace(shape, notches=tuple(sorted(notches, key=lambda notch: (notch.left, notch.edge))))


def _lower_edge(part: Geometry, near: float) -> tuple[float, float, bool]:
    """Heights of the lower edge of a part at its ends, and whether it is more than one straight line."""
    left, _, right, high = (float(value) for value in shapely.bounds(part))
    points = shapely.get_coordinates(part).tolist()
    ends = [
        min(y for x, y in points if abs(x - end) <= ROUNDING * max(1.0, abs(end))) for end in (left, right)
    ]
    under = (
        abs(ends[0] + (x - left) / (right - left) * (ends[1] - ends[0]) - y) > near
        for x, y in points
        if y < high - near
    )
    return ends[0], ends[1], any(under)


def _with(
    notches: Sequence[Notch], top: Top, left: float, low: float, right: float, curved: bool
) -> list[Notch]:
    """Notches with one more in the hidden top; one that shows, and goes on up there, is the same notch."""
    start, rest = left - top.left, top.right - right
    width = top.right - top.left
    kept, deep, shown = [], low - top.bottom, top.foot + top.whole - top.bottom
    for notch in notches:
        if notch.edge == "top" and notch.left < width - rest and width - notch.right > start:
            curved |= notch.curved or abs(notch.left - start) > 1e-6 or abs(notch.right - rest) > 1e-6
            shown = notch.rest + notch.depth
            start, rest, deep = min(start, notch.left), min(rest, notch.right), min(deep, notch.rest)
        else:
            kept.append(notch)
    return [*kept, Notch("top", start, width - start - rest, shown - deep, rest, deep, curved)]
