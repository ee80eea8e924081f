"""The shape of a piece from its outline: what its ends, its notches and its rip are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

import shapely

from evencourse.layout.model.job import Point
from evencourse.layout.pieces.piece import EndShape, Notch, Rip
from evencourse.layout.trade.rules import out_of_level

if TYPE_CHECKING:
    from shapely import Geometry

Box = tuple[float, float, float, float]


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

    Rule: what a piece's outline leaves of the rectangle round it is its rakes at the ends and its notches
    (geometry).
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
    notches = []
    level = True
    for part in shapely.get_parts(rest):
        if shapely.is_empty(part):
            continue
        cut = _Cut(part, (left, bottom, right, top))
        if min(cut.width, cut.height) <= tolerance:
            continue
        if cut.side is None:
            notches.append(cut.notch())
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
        self.box = box
        self.left, self.bottom, self.right, self.top = (float(value) for value in shapely.bounds(part))
        points = shapely.get_coordinates(part).tolist()
        near = 1e-6
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

    def notch(self) -> Notch:
        """The notch, from the ends of what shows."""
        edge: Literal["top", "bottom", "inside"] = (
            "top" if self.at_top else "bottom" if self.at_bottom else "inside"
        )
        rest = self.box[3] - self.top if edge == "bottom" else self.bottom - self.box[1]
        return Notch(
            edge, self.left - self.box[0], self.width, self.height, self.box[2] - self.right, rest,
            bool(self.slopes),
        )  # fmt: skip
