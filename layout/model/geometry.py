"""Plane geometry of rings and upright boxes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import atan2, cos, pi, sin

Point = tuple[float, float]
#: Segments in which a full circle is cut for areas and pieces.
CIRCLE_SEGMENTS = 128
#: Left, bottom, right, top.
Box = tuple[float, float, float, float]
#: Lower and upper end along a line.
Span = tuple[float, float]


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


def arc_points(left: Point, apex: Point, right: Point) -> tuple[Point, ...]:
    """Points of the arc from ``right`` over ``apex`` to ``left``, counter-clockwise, ends and apex included.

    Args:
        left: left springing point.
        apex: highest point, halfway between the two.
        right: right springing point, level with the left one.

    Returns:
        An odd number of points, no chord longer than a full circle's ``CIRCLE_SEGMENTS``-th part.
    """
    half, rise = (right[0] - left[0]) / 2, apex[1] - left[1]
    radius = (half * half + rise * rise) / (2 * rise)
    centre = (apex[0], apex[1] - radius)
    start = atan2(right[1] - centre[1], right[0] - centre[0])
    sweep = pi / 2 - start
    steps = max(2, round(CIRCLE_SEGMENTS * sweep / (2 * pi)))
    first = [
        (
            centre[0] + radius * cos(start + sweep * i / steps),
            centre[1] + radius * sin(start + sweep * i / steps),
        )
        for i in range(1, steps)
    ]
    second = [(2 * apex[0] - x, y) for x, y in reversed(first)]
    return (right, *first, apex, *second, left)


def height_of(line: Sequence[Point], x: float, *, right: bool = False) -> float:
    """Height of a line from left to right, as the ground is, at an x; level past its first and last point.

    Args:
        line: points from left to right, one or more; two at one x where it steps.
        x: in the points' units.
        right: at a step, its right side and not its left one.
    """
    for (x0, y0), (x1, y1) in pairwise(line):
        if x0 <= x < x1 if right else x0 < x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return line[-1][1] if x > line[0][0] or (right and x == line[-1][0]) else line[0][1]


def spans_outside(spans: Iterable[Span], cuts: Iterable[Span]) -> list[Span]:
    """What is left of spans outside others, in their order.

    Args:
        spans: lower and upper end of each.
        cuts: likewise.

    >>> spans_outside([(0, 10)], [(2, 3), (9, 12)])
    [(0, 2), (3, 9)]
    """
    left = list(spans)
    for a, b in cuts:
        left = [
            part
            for low, high in left
            for part in ((low, min(high, a)), (max(low, b), high))
            if part[1] > part[0]
        ]
    return left
