"""What comes off the tops of pieces where nobody sees it: laps and nail hems behind sills, eaves and bands.

The top of a piece, above its own exposure, stands behind the course over it. Where there is none, under a sill,
an eave, a band board or a roof, or where something stands on the wall, that top is cut off.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.tolerance import ROUNDING
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
        foot: its butt line [job units].
        head: the next one: its top begins there.
        whole: its height from the butt to the uncut top.
    """

    face: int
    left: float
    right: float
    foot: float
    head: float
    whole: float


@dataclass(frozen=True)
class TopCut:
    """A part that comes off a hidden top.

    Attributes:
        left: x where it begins [job units].
        right: x where it ends.
        low_left: height down to which it comes off, at its left end.
        low_right: the same at its right end.
        depth: from the uncut top down to there.
        curved: it follows a curve.
        whole: it takes all of the top, from end to end.
    """

    left: float
    right: float
    low_left: float
    low_right: float
    depth: float
    curved: bool
    whole: bool


def whole_height(plan: Plan, cladding: Cladding, exposure: float) -> float:
    """How high a piece is before it is cut, from its butt to its top [job units]; its exposure for shingles.

    Rule: a board is as wide as it is; a panel has its lock and its nail hem over its exposure
    (``hold.hem_height`` in ``materials.toml``). Shingles are cut one by one.
    """
    if cladding.family == "panel":
        return exposure + float(materials()["hold"]["hem_height"]) * plan.job.inch
    return max(exposure, cladding.width) if cladding.family == "lap" else exposure


def top_cuts(plan: Plan, tops: Sequence[Top]) -> dict[int, list[TopCut]]:
    """What comes off hidden tops, by index, from left to right.

    Args:
        plan: whose walls they stand on.
        tops: the hidden tops.

    Rules: nothing stands behind an opening with its trim, a block, a level roof, deck or ledger, a band board,
    or above an eave (geometry). Rakes cut the whole height of a piece: its end is told.
    """
    things, owner = [], []
    for index, face in enumerate(plan.elevations):
        for thing in _in_the_way(face):
            things.append(shapely.Polygon(thing))
            owner.append(index)
    boxes = shapely.box(
        [top.left for top in tops], [top.head for top in tops],
        [top.right for top in tops], [top.foot + top.whole for top in tops],
    )  # fmt: skip
    met: dict[int, list[Geometry]] = {}
    pairs = shapely.STRtree(things).query(boxes, predicate="intersects") if things and tops else ((), ())
    for piece, thing in zip(*(list(map(int, one)) for one in pairs), strict=True):
        if owner[thing] == tops[piece].face:
            met.setdefault(piece, []).append(things[thing])
    near = plan.job.limits.tolerance
    return {piece: list(_cuts(tops[piece], boxes[piece], met[piece], near)) for piece in sorted(met)}


def _in_the_way(face: ElevationPlan) -> Iterator[Sequence[tuple[float, float]]]:
    """Outlines of what no hidden top stands behind."""
    wall = face.elevation
    above = 2 * highest(wall) - min(y for _, y in wall.outline)
    yield from (opening.trimmed() for opening in wall.openings)
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


def _cuts(top: Top, box: Geometry, things: Sequence[Geometry], near: float) -> Iterator[TopCut]:
    blocked = shapely.intersection(box, shapely.union_all(things))
    parts = [part for part in shapely.get_parts(blocked) if shapely.area(part) > 0]
    for part in sorted(parts, key=lambda part: float(shapely.bounds(part)[0])):
        left, low, right, _ = (float(value) for value in shapely.bounds(part))
        depth = top.foot + top.whole - low
        if min(right - left, depth) <= near:
            continue
        points = shapely.get_coordinates(part).tolist()
        ends = [
            min(y for x, y in points if abs(x - end) <= ROUNDING * max(1.0, abs(end))) for end in (left, right)
        ]
        under = {round(y, 6) for x, y in points if left < x < right and y < top.foot + top.whole - near}
        yield TopCut(
            left, right, *ends, depth, bool(under - {round(end, 6) for end in ends}),
            right - left >= top.right - top.left - near,
        )  # fmt: skip
