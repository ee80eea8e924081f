"""What comes off the tops of pieces where nobody sees it: laps and nail hems behind sills, eaves and bands.

The top of a piece, above its exposure, stands behind the course over it. Where there is none, under a sill,
an eave, a band board or a roof, or where something stands on the wall, that top is cut off.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import shapely

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.pieces.piece import Notch, Rip
from evencourse.layout.pieces.piece_shape import PieceShape, Slope, is_stepped, side_by_side, steps
from evencourse.layout.trade.materials import materials
from evencourse.layout.trade.rules import out_of_level
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

    Rules: nothing stands behind an opening with its trim, a block, a roof, a deck or a ledger, a band
    board, or above an eave (geometry). Rakes cut the whole height of a piece, and so does a slope of a roof
    that it ends on: its end is told. A piece that is ripped below its next butt line has no hidden top.
    """
    found = list(shapes)
    near = plan.job.limits.tolerance
    open_tops = [
        index
        for index, (shape, top) in enumerate(zip(shapes, tops, strict=True))
        if top.foot + top.whole > top.head + near and all(rip.edge == "bottom" for rip in shape.rips)
    ]
    by_face: dict[int, list[int]] = {}
    for index in open_tops:
        by_face.setdefault(tops[index].face, []).append(index)
    for face, mine in by_face.items():
        things = list(_in_the_way(plan.elevations[face]))
        if not things:
            continue
        boxes = shapely.box(
            [tops[i].left for i in mine], [tops[i].head for i in mine],
            [tops[i].right for i in mine], [tops[i].foot + tops[i].whole for i in mine],
        )  # fmt: skip
        met: dict[int, list[_Thing]] = {}
        tree = shapely.STRtree([thing.outline for thing in things])
        for at, thing in tree.query(boxes, predicate="intersects").T.tolist():
            met.setdefault(at, []).append(things[thing])
        for at in sorted(met):
            index = mine[at]
            things_met = [one for one in met[at] if not one.ends(found[index], tops[index], near)]
            if things_met:
                found[index] = _cut(found[index], tops[index], boxes[at], things_met, near)
    return found


class _Thing:
    """What no hidden top stands behind.

    Args:
        points: its outline, the first not repeated.
        steep: the underside of a roof that pieces are cut to as to a rake.
    """

    def __init__(self, points: Sequence[tuple[float, float]], steep: bool = False) -> None:
        self._steep = steep
        self.outline = shapely.Polygon(points)
        xs, ys = {x for x, _ in points}, {y for _, y in points}
        self.left, self.right, self.low, self.high = min(xs), max(xs), min(ys), max(ys)
        #: Whether it is a rectangle, level and plumb.
        self.square = len(points) == 4 and len(xs) == len(ys) == 2

    def ends(self, shape: PieceShape, top: Top, near: float) -> bool:
        """Whether a piece ends on its slope, which is told as an end that is carried on across the lap."""
        return self._steep and any(
            slope is not None and slope.long == "bottom" and self.left - near <= x <= self.right + near
            for slope, x in ((shape.left, top.left), (shape.right, top.right))
        )


def _in_the_way(face: ElevationPlan) -> Iterator[_Thing]:
    wall = face.elevation
    for roof in wall.roofs:
        for part in roof.parts():
            (x0, y0), (x1, y1) = part[:2]
            yield _Thing(part, steep=not out_of_level(y1 - y0, x1 - x0) and y0 != y1)
    yield from (_Thing(outline) for outline in _no_siding(face))


def _no_siding(face: ElevationPlan) -> Iterator[Sequence[tuple[float, float]]]:
    wall = face.elevation
    above = 2 * highest(wall) - min(y for _, y in wall.outline)
    yield from (opening.trimmed for opening in wall.openings)
    yield from (item.outline() for item in wall.fixtures if item.block)
    for side in sides(wall.outline):
        if not side.base and out_of_level(side.pitch, 12):
            yield (side.left, side.right, (side.right[0], above), (side.left[0], above))
    across = [x for x, _ in wall.outline]
    for zone in face.zones:
        if zone.zone.top is not None and zone.zone.trim > 0:
            low, high = zone.zone.top, zone.zone.top + zone.zone.trim
            yield ((min(across), low), (max(across), low), (max(across), high), (min(across), high))


class _Blocked(NamedTuple):
    """A part of a hidden top that something stands in [job units].

    Attributes:
        left: of it.
        low: its lowest height.
        right: of it.
        at_left: height of its lower edge at its left end.
        at_right: the same at its right end.
        curved: whether the lower edge is more than one straight line.
    """

    left: float
    low: float
    right: float
    at_left: float
    at_right: float
    curved: bool


def _blocked(top: Top, box: Geometry, things: Sequence[_Thing], near: float) -> Iterator[list[_Blocked]]:
    """The parts of a hidden top that something stands in, step by step; things apart need no union."""
    row = sorted(things, key=lambda thing: thing.left)
    if all(thing.square for thing in row) and all(a.right + ROUNDING < b.left for a, b in pairwise(row)):
        for thing in row:
            left, right = max(top.left, thing.left), min(top.right, thing.right)
            low = max(top.head, thing.low)
            if right > left and min(top.foot + top.whole, thing.high) > low:
                yield [_Blocked(left, low, right, low, low, False)]
        return
    union = shapely.union_all([thing.outline for thing in things])
    for part in shapely.get_parts(shapely.intersection(box, union)):
        if shapely.area(part) <= 0:
            continue
        if is_stepped(part):
            yield [_Blocked(left, low, right, low, low, False) for left, low, right, _ in steps(part)]
        else:
            left, low, right, _ = (float(value) for value in shapely.bounds(part))
            yield [_Blocked(left, low, right, *_lower_edge(part, near))]


def _cut(shape: PieceShape, top: Top, box: Geometry, things: Sequence[_Thing], near: float) -> PieceShape:
    notches = list(shape.notches)
    for blocked in _blocked(top, box, things, near):
        parts = [
            part for part in blocked if min(part.right - part.left, top.foot + top.whole - part.low) > near
        ]
        hidden = side_by_side([_notch(top, part, near) for part in parts])
        if not hidden:
            continue
        part = parts[0]
        across = sum(notch.width for notch in hidden)
        if across >= top.right - top.left - near and not any(part.curved for part in parts):
            high = max(notch.rest for notch in hidden) - near
            level = min(notch.rest for notch in hidden if notch.rest >= high) + top.bottom - top.foot
            ends = (level, level) if len(parts) > 1 else (part.at_left - top.foot, part.at_right - top.foot)
            deeper = (notch for notch in hidden if notch.rest < high)
            notches = side_by_side([*notches, *deeper])
            return replace(shape, notches=tuple(notches), rips=(*shape.rips, Rip("top", *ends)))
        left = (
            _through(shape.left, top, part.right - top.left, near) if part.left <= top.left + near else None
        )
        right = (
            _through(shape.right, top, top.right - part.left, near)
            if part.right >= top.right - near
            else None
        )
        if len(parts) == 1 and (left or right):
            shape = replace(shape, left=left or shape.left, right=right or shape.right)
            continue
        for notch in hidden:
            notches = _with(notches, notch)
    return replace(shape, notches=tuple(side_by_side(notches)))


def _notch(top: Top, part: _Blocked, near: float) -> Notch:
    """What is cut from a hidden top for what stands in it."""
    curved = part.curved or abs(part.at_left - part.at_right) > near
    depth, rest = top.foot + top.whole - part.low, part.low - top.bottom
    return Notch(
        "top", part.left - top.left, part.right - part.left, depth, top.right - part.right, rest, curved
    )


def _through(slope: Slope | None, top: Top, reach: float, near: float) -> Slope | None:
    """A rake under an eave out of level that goes on through the hidden top, in one cut.

    Args:
        slope: an end of what shows.
        top: its hidden top.
        reach: how far from that end the hidden top is cut [job units].
        near: tolerance, up the wall [job units].

    Returns:
        The longer rake; None where the hidden top is cut otherwise.
    """
    if slope is None or slope.shape != "rake" or slope.long != "bottom":
        return None
    share = 1 + (top.foot + top.whole - top.head) / slope.up
    if abs(slope.over * share - reach) > near * slope.over / slope.up:
        return None
    return replace(slope, up=slope.up * share, over=slope.over * share)


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


def _with(notches: Sequence[Notch], hidden: Notch) -> list[Notch]:
    """Notches with one more in the hidden top; curved, it is the same notch as one that goes on up there."""
    start, rest, deep, high = hidden.left, hidden.right, hidden.rest, hidden.rest + hidden.depth
    whole = hidden.left + hidden.width + hidden.right
    over = [
        notch
        for notch in notches
        if notch.edge == "top" and notch.left < whole - rest and whole - notch.right > start
    ]
    if not hidden.curved and not any(notch.curved for notch in over):
        return [*notches, hidden]
    for notch in over:
        high = notch.rest + notch.depth
        start, rest, deep = min(start, notch.left), min(rest, notch.right), min(deep, notch.rest)
    kept = [notch for notch in notches if notch not in over]
    return [*kept, Notch("top", start, whole - start - rest, high - deep, rest, deep, True)]
