"""Plane geometry of rings and upright boxes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

Point = tuple[float, float]
#: Left, bottom, right, top.
Box = tuple[float, float, float, float]


def area(points: Sequence[Point]) -> float:
    """Area of a ring, positive when counter-clockwise; its first point may stand again at its end.

    Surveyor's formula, measured from the first point, so that a ring far from the origin loses no digits.
    A triangle of 4 by 3: ``area([(0, 0), (4, 0), (4, 3)])`` is 6.
    """
    x0, y0 = points[0]
    total = 0.0
    for (xa, ya), (xb, yb) in pairwise(points[1:]):
        total += (xa - x0) * (yb - y0) - (xb - x0) * (ya - y0)
    return total / 2


def box_of(points: Iterable[Point]) -> Box:
    """The upright box round some points, at least one."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def corners(box: Box) -> tuple[Point, Point, Point, Point]:
    """Corners of an upright box, counter-clockwise from the lower left one."""
    left, bottom, right, top = box
    return (left, bottom), (right, bottom), (right, top), (left, top)
