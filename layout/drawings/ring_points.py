"""The corners of closed outlines: without those that are none, in a fixed order."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from evencourse.layout.dxf.dxf_geometry import near
from evencourse.layout.model.job import Point


def clean(points: Sequence[Point], least: float) -> list[Point]:
    """A ring without points that lie on the one before them."""
    kept: list[Point] = []
    for point in points:
        if not kept or not near(kept[-1], point, least):
            kept.append(point)
    while len(kept) > 1 and near(kept[0], kept[-1], least):
        kept.pop()
    return kept


def without_level_points(
    points: Sequence[Point], deviation: float, placed: frozenset[Point] = frozenset(), off_line: float = 0.0
) -> list[Point]:
    """A ring without points that lie on the line between their neighbours, within a deviation.

    Args:
        points: the ring.
        deviation: how far a point may lie off that line.
        placed: points that are no corners of their own.
        off_line: how far those may lie off it.
    """
    kept = list(points)
    place = 0
    misses = 0
    while len(kept) > 3 and misses < len(kept):
        before, here, after = kept[place - 1], kept[place], kept[(place + 1) % len(kept)]
        run, rise = after[0] - before[0], after[1] - before[1]
        size = hypot(run, rise)
        off = abs(run * (here[1] - before[1]) - rise * (here[0] - before[0]))
        along = run * (here[0] - before[0]) + rise * (here[1] - before[1])
        allowed = max(deviation, off_line) if here in placed else deviation
        if size > 0 and off <= allowed * size and 0 <= along <= size * size:
            del kept[place]
            place, misses = place % len(kept), 0
        else:
            place, misses = (place + 1) % len(kept), misses + 1
    return kept


def from_lower_left(points: Sequence[Point]) -> list[Point]:
    """A ring that begins at the leftmost of its lowest points, those a hundredth of its height higher too."""
    low, high = min(y for _, y in points), max(y for _, y in points)
    lowest = [index for index, (_, y) in enumerate(points) if y <= low + (high - low) / 100]
    first = min(lowest, key=lambda index: points[index])
    return [*points[first:], *points[:first]]
