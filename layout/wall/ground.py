"""The ground along a wall: in points, straight between them."""

from __future__ import annotations

from evencourse.layout.model.geometry import height_of
from evencourse.layout.model.job import Elevation, Point


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
