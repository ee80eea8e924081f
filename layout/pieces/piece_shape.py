"""The shape of a piece from its outline: what its ends, its notches and its rip are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

import shapely

from evencourse.layout.model.job import Point
from evencourse.layout.model.lengths import round_length
from evencourse.layout.pieces.piece import EndShape, Notch, NotchEdge, Rip
from evencourse.layout.trade.rules import out_of_level

if TYPE_CHECKING:
    from shapely import Geometry

Box = tuple[float, float, float, float]
#: Nearer than this, two places of an outline are one [job units].
_NEAR = 1e-6


@dataclass(frozen=True)
class Slope:
    """An end that is not square [job units]: shape, height and run of its slope, where its long point is."""

    shape: EndShape
    up: float
    over: float
    long: Literal["bottom", "top"]


@dataclass(frozen=True)
class PieceShape:
    """What is cut from the blank of one piece.

    Attributes:
        left: its left end; None when square.
        right: its right end.
        notches: from left to right, measured from the ends of what shows.
        rips: cut along it, at its bottom, its top or both.
    """

    left: Slope | None
    right: Slope | None
    notches: tuple[Notch, ...]
    rips: tuple[Rip, ...]


def shapes(
    polygons: Sequence[Geometry], courses: Sequence[tuple[float, float]], tolerance: float
) -> list[PieceShape]:
    """The shapes of pieces.

    Args:
        polygons: what shows of each.
        courses: butt line and next butt line of each [job units].
        tolerance: a cut thinner than this is none [job units].

    Rule: what an outline leaves of the rectangle round it is its rakes at the ends and its notches, one
    for each step of a cut-out whose sides are level and plumb (geometry).
    """
    bounds = shapely.bounds(polygons)
    full = shapely.area(polygons)
    hull = (bounds[:, 2] - bounds[:, 0]) * (bounds[:, 3] - bounds[:, 1])
    odd = (hull - full > 1e-9 * hull).nonzero()[0].tolist()
    boxes = shapely.box(*bounds[odd].T) if odd else []
    rest = dict(zip(odd, shapely.difference(boxes, [polygons[i] for i in odd]) if odd else [], strict=True))
    listed = bounds.tolist()
    found = []
    for index, box in enumerate(listed):
        cut = rest.get(index)
        found.append(_shape(box, cut, courses[index], tolerance))
    return found


def _shape(
    box: Sequence[float], rest: Geometry | None, course: tuple[float, float], tolerance: float
) -> PieceShape:
    left, bottom, right, top = box
    rips = {}
    if bottom > course[0] + tolerance:
        rips["bottom"] = Rip("bottom", bottom - course[0], bottom - course[0])
    if top < course[1] - tolerance:
        rips["top"] = Rip("top", top - course[0], top - course[0])
    if rest is None:
        return PieceShape(None, None, (), tuple(rips.values()))
    ends: dict[str, Slope] = {}
    notches: list[Notch] = []
    level = True
    for part in shapely.get_parts(rest):
        if shapely.is_empty(part):
            continue
        cut = _Cut(part, (left, bottom, right, top))
        if min(cut.width, cut.height) <= tolerance:
            continue
        if cut.side is None:
            notches += (notch for notch in cut.notches() if notch.depth > tolerance)
        elif cut.taper:
            tapered = cut.tapered(course)
            rips[tapered.edge], level = tapered, level and tapered.edge == "bottom"
        else:
            ends[cut.side] = cut.slope() if cut.side not in ends else _joined(ends[cut.side], cut)
    if level and not _topped(ends, notches, right - left, tolerance):
        rips.pop("top", None)
    notches.sort(key=lambda notch: (notch.left, notch.edge))
    along = tuple(rips[edge] for edge in ("bottom", "top") if edge in rips)
    return PieceShape(ends.get("left"), ends.get("right"), tuple(notches), along)


def _topped(ends: dict[str, Slope], notches: Sequence[Notch], width: float, tolerance: float) -> bool:
    """Whether a piece lower than its course ends in a level cut, and not in a peak."""
    cut = sum(end.over for end in ends.values() if end.long == "bottom")
    cut += sum(notch.width for notch in notches if notch.edge == "top")
    return width - cut > tolerance


def _joined(end: Slope, cut: _Cut) -> Slope:
    """An end that is cut above and below: to a curve."""
    return Slope("curve", max(end.up, cut.height), max(end.over, cut.width), end.long)


def _height(point: Point) -> float:
    return point[1]


class _Cut:
    """One part that is cut from the rectangle round a piece.

    Args:
        part: its outline.
        box: the rectangle.
    """

    def __init__(self, part: Geometry, box: Box) -> None:
        self.part, self.box = part, box
        self.left, self.bottom, self.right, self.top = (float(value) for value in shapely.bounds(part))
        points = shapely.get_coordinates(part).tolist()
        near = _NEAR
        self.slopes: list[tuple[Point, Point]] = []
        contact = {"left": 0.0, "right": 0.0}
        along = {"top": 0.0, "bottom": 0.0}
        for (x0, y0), (x1, y1) in pairwise(points):
            if abs(x1 - x0) > near and abs(y1 - y0) > near:
                self.slopes.append(((x0, y0), (x1, y1)) if x0 < x1 else ((x1, y1), (x0, y0)))
            elif abs(x1 - x0) <= near and abs(x0 - box[0]) <= near:
                contact["left"] += abs(y1 - y0)
            elif abs(x1 - x0) <= near and abs(x0 - box[2]) <= near:
                contact["right"] += abs(y1 - y0)
            elif abs(y1 - y0) <= near and abs(y0 - box[3]) <= near:
                along["top"] += abs(x1 - x0)
            elif abs(y1 - y0) <= near and abs(y0 - box[1]) <= near:
                along["bottom"] += abs(x1 - x0)
        self.at_top, self.at_bottom = self.top > box[3] - near, self.bottom < box[1] + near
        #: Whether it lies along the top: a wedge touches the other edge, too, with its point.
        self.along_top = along["top"] >= along["bottom"]
        #: The end that it is cut from; None for a notch.
        self.side: Literal["left", "right"] | None = None
        if self.slopes and max(contact.values()) > near:
            self.side = "left" if contact["left"] >= contact["right"] else "right"
        #: Whether it is a straight cut along the whole piece.
        self.taper = self.side is not None and box[2] - box[0] - self.width <= near and self._gentle()

    def _gentle(self) -> bool:
        """Whether it is cut in one line, no steeper than an eave or a base out of level."""
        pitches = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in self.slopes]
        straight = max(pitches) - min(pitches) <= 1e-6
        return straight and out_of_level(max(map(abs, pitches)), 1)

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    def slope(self) -> Slope:
        """The end of the piece: a rake when all its slopes are one, else a curve."""
        pitches = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in self.slopes]
        least, most = min(pitches), max(pitches)
        straight = most - least <= 1e-6 * max(abs(least), abs(most))
        ends = [point for side in self.slopes for point in side]
        xs, ys = [x for x, _ in ends], [y for _, y in ends]
        # Where the piece reaches farther: a cut as high as the piece touches its top and its bottom.
        low, high = min(ends, key=_height)[0], max(ends, key=_height)[0]
        long: Literal["bottom", "top"] = "bottom" if self.at_top else "top"
        if abs(low - high) > 1e-6:
            long = "bottom" if (low > high) == (self.side == "right") else "top"
        return Slope("rake" if straight else "curve", max(ys) - min(ys), max(xs) - min(xs), long)

    def tapered(self, course: tuple[float, float]) -> Rip:
        """A rip along an edge out of level."""
        ends = sorted(point for side in self.slopes for point in side)
        left, right = ends[0][1], ends[-1][1]
        if self.along_top:
            return Rip("top", left - course[0], right - course[0])
        return Rip("bottom", left - course[0], right - course[0])

    def notches(self) -> Iterator[Notch]:
        """The notch in its steps, from the ends of what shows; a curved or a sloping one in one."""
        if self.slopes:
            yield self._notch((self.left, self.bottom, self.right, self.top), curved=True)
            return
        yield from (self._notch(step) for step in steps(self.part))

    def _notch(self, step: Box, curved: bool = False) -> Notch:
        left, bottom, right, top = step
        edge: NotchEdge = "inside"
        if top > self.box[3] - _NEAR:
            edge = "top"
        elif bottom < self.box[1] + _NEAR:
            edge = "bottom"
        rest = self.box[3] - top if edge == "bottom" else bottom - self.box[1]
        return Notch(
            edge, left - self.box[0], right - left, top - bottom, self.box[2] - right, rest, curved
        )  # fmt: skip


def is_stepped(part: Geometry) -> bool:
    """Whether all sides of an outline are level or plumb."""
    points = shapely.get_coordinates(part).tolist()
    return all(min(abs(x1 - x0), abs(y1 - y0)) <= _NEAR for (x0, y0), (x1, y1) in pairwise(points))


def steps(part: Geometry) -> list[Box]:
    """A polygon whose sides are level and plumb as rectangles side by side, from the left."""
    points = shapely.get_coordinates(part).tolist()
    level = [
        (min(x0, x1), max(x0, x1), (y0 + y1) / 2)
        for (x0, y0), (x1, y1) in pairwise(points)
        if abs(y1 - y0) <= _NEAR
    ]
    found: list[Box] = []
    for left, right in pairwise(sorted({x for x, _ in points})):
        if right - left <= _NEAR:
            continue
        heights = sorted(y for start, end, y in level if start < (left + right) / 2 < end)
        for bottom, top in zip(heights[::2], heights[1::2], strict=True):
            step = (left, bottom, right, top)
            if before := next((one for one in found if _goes_on(one, step)), None):
                found.remove(before)
                step = (before[0], bottom, right, top)
            found.append(step)
    return sorted(found)


def _goes_on(step: Box, following: Box) -> bool:
    """Whether a rectangle goes on in the next one to the right."""
    places = (step[2] - following[0], step[1] - following[1], step[3] - following[3])
    return max(map(abs, places)) <= _NEAR


def placed(
    notches: Sequence[Notch], left: float, right: float, clear: float, bottom: float, mark: float
) -> tuple[Notch, ...]:
    """Notches measured from the ends of the piece, with their clearance on the sides that lie inside it.

    Args:
        notches: measured from the ends of what shows.
        left: how far the piece reaches past what shows at its left end; less than 0 for a gap [job units].
        right: the same at its right end.
        clear: clearance on each side.
        bottom: lowest height of what shows.
        mark: finest mark of the tape.

    Rule: clearance is for siding beside a casing; of two steps side by side the deeper one alone has it, and
    the other ends there. Steps that the tape does not tell apart are one.
    """
    found = []
    for notch in notches:
        start = 0.0 if notch.left <= _NEAR else max(0.0, notch.left + left - clear)
        rest = 0.0 if notch.right <= _NEAR else max(0.0, notch.right + right - clear)
        whole = notch.left + notch.width + notch.right + left + right
        found.append(replace(notch, left=start, right=rest, width=whole - start - rest))
    return tuple(_told_apart(side_by_side(found), bottom, mark))


def side_by_side(notches: Sequence[Notch]) -> list[Notch]:
    """Notches, no two of which lie on one another: over each place the deepest; curved ones as they are."""
    found = [notch for notch in notches if notch.curved]
    level = [notch for notch in notches if not notch.curved]
    ends = sorted({x for notch in level for x in (notch.left, notch.left + notch.width)})
    open_ones: list[Notch] = []
    for left, right in pairwise(ends):
        if right - left <= _NEAR:
            continue
        middle = (left + right) / 2
        here = list(_deepest([notch for notch in level if notch.left < middle < notch.left + notch.width]))
        going: list[Notch] = []
        for notch in here:
            start = left
            if before := next((one for one in open_ones if _alike(one, notch)), None):
                open_ones.remove(before)
                start = before.left
            past = notch.left + notch.width + notch.right - right
            going.append(replace(notch, left=start, width=right - start, right=max(0.0, past)))
        found += open_ones
        open_ones = going
    return sorted([*found, *open_ones], key=lambda notch: (notch.left, notch.edge))


def _alike(one: Notch, other: Notch) -> bool:
    return one.edge == other.edge and max(abs(one.rest - other.rest), abs(one.depth - other.depth)) <= _NEAR


def _low(notch: Notch) -> float:
    """Its lower height over the lowest of what shows."""
    return 0.0 if notch.edge == "bottom" else notch.rest


def _high(notch: Notch) -> float:
    return _low(notch) + notch.depth


def _deepest(notches: Sequence[Notch]) -> Iterator[Notch]:
    """Notches over one place of a piece, from the bottom up, those that overlap in one.

    One from the bottom and one from the top that meet, and would part the piece, stay two.
    """
    last: Notch | None = None
    for notch in sorted(notches, key=_low):
        if last is None:
            last = notch
        elif last.edge != "top" and (
            _low(notch) > _high(last) + _NEAR or (last.edge, notch.edge) == ("bottom", "top")
        ):
            yield last
            last = notch
        elif last.edge != "top" and notch.edge == "top":  # a hole that opens into it
            last = replace(notch, rest=last.rest, depth=_high(notch) - last.rest)
        elif last.edge != "top" and _high(notch) > _high(last):
            more = _high(notch) - _high(last)
            last = replace(last, depth=last.depth + more, rest=last.rest - more * (last.edge == "bottom"))
    if last is not None:
        yield last


def _told_apart(notches: Sequence[Notch], bottom: float, mark: float) -> Iterator[Notch]:
    """Notches from the left, neighbours in one that the tape does not tell apart, in height or in width."""

    def told(notch: Notch) -> tuple[float, float]:
        low, high = (round_length(bottom + height, mark) for height in (_low(notch), _high(notch)))
        return 0.0 if notch.edge == "bottom" else low, 0.0 if notch.edge == "top" else high

    found: list[Notch] = []
    for notch in notches:
        at = next((at for at, one in enumerate(found) if _beside(one, notch)), None)
        before = notch if at is None else found[at]
        if at is not None and min(before.width, notch.width) < mark / 2:
            kept = max(before, notch, key=lambda one: one.width)
        elif at is not None and told(before) == told(notch):
            kept = min(before, notch, key=lambda one: one.rest)
        else:
            found.append(notch)
            continue
        found[at] = replace(kept, left=before.left, width=before.width + notch.width, right=notch.right)
    yield from found


def _beside(one: Notch, following: Notch) -> bool:
    ends = abs(one.left + one.width - following.left) <= _NEAR
    return ends and one.edge == following.edge and not (one.curved or following.curved)
