"""The ground along a wall: in points, straight between them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from evencourse.layout.model.job import Elevation, Point


def height_of(ground: Sequence[Point], x: float, *, right: bool = False) -> float:
    """Height of the ground at an x; level past its first and its last point [job units].

    Args:
        ground: points from left to right, one or more; two at one x where it steps.
        x: [job units].
        right: at a step, its right side and not its left one.
    """
    for (x0, y0), (x1, y1) in pairwise(ground):
        if x0 <= x < x1 if right else x0 < x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return ground[-1][1] if x > ground[0][0] or (right and x == ground[-1][0]) else ground[0][1]


def ground_along(elevation: Elevation, left: float, right: float) -> tuple[Point, ...]:
    """The ground between two x: both ends, and every point of it between them; () when not measured.

    Of a step at an end only what lies between them counts.
    """
    ground = elevation.grade
    if ground is None:
        return ()
    between = [point for point in ground if left < point[0] < right]
    return ((left, height_of(ground, left, right=True)), *between, (right, height_of(ground, right)))


def highest_ground(elevation: Elevation, left: float, right: float) -> float | None:
    """Highest ground under a stretch of base; None when it was not measured [job units].

    Args:
        elevation: the face.
        left: x where the stretch begins [job units].
        right: x where it ends.

    Rule: straight from point to point, so the highest lies at an end or at a point between (geometry).
    """
    return max((height for _, height in ground_along(elevation, left, right)), default=None)
