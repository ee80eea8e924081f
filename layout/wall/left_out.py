"""Corner points that were left out of an outline: a slope that no roof has, where a right angle was."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.model.job import Point
from evencourse.layout.trade.plausible import usual_pitch


def left_out_corners(outline: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Sides of an outline between which and their neighbours a corner was probably left out.

    Rule: the side slopes, it runs between a level and a plumb one, and its pitch is no roof's: past the
    usual, or off a whole or half number of inches in twelve (common practice, no source).
    """
    points = list(outline)
    steps = list(zip(points, [*points[1:], points[0]], strict=True))
    for before, (start, end), after in zip(
        [steps[-1], *steps[:-1]], steps, [*steps[1:], steps[0]], strict=True
    ):
        ways = {_way(*before), _way(*after)}
        if ways != {"level", "plumb"} or _way(start, end) != "sloped":
            continue
        if not usual_pitch(12 * abs((end[1] - start[1]) / (end[0] - start[0]))):
            yield start, end


def _way(start: Point, end: Point) -> str:
    if start[0] == end[0]:
        return "plumb"
    return "level" if start[1] == end[1] else "sloped"
