"""What of a face lies in a part of it: rakes, spans, edges."""

from __future__ import annotations

from dataclasses import replace

from evencourse.layout.model.course_plan import Edge, Rake
from evencourse.layout.model.job import Point
from evencourse.layout.model.tolerance import SAME
from evencourse.render.drawing.placement import Box


def clipped(rake: Rake, part: Box) -> Rake | None:
    """What of a rake lies in a part of the wall; None where the part with its middle speaks of it."""
    (x0, y0), (x1, y1) = rake.start, rake.end
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    if not (part.left <= middle[0] < part.right + SAME and part.bottom <= middle[1] < part.top + SAME):
        return None
    start, end = segment_in(rake.start, rake.end, part) or (rake.start, rake.end)
    return replace(rake, start=start, end=end)


def segment_in(start: Point, end: Point, part: Box) -> tuple[Point, Point] | None:
    """What of a segment lies in a part of the wall; None where it passes by."""
    near, far = 0.0, 1.0
    for begin, stop, low, high in (
        (start[0], end[0], part.left, part.right),
        (start[1], end[1], part.bottom, part.top),
    ):
        if abs(stop - begin) > SAME:
            first, second = sorted(((low - begin) / (stop - begin), (high - begin) / (stop - begin)))
            near, far = max(near, first), min(far, second)
        elif not low <= begin <= high:
            return None
    if near > far:
        return None
    ends = [
        (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
        for share in (near, far)
    ]
    return ends[0], ends[1]


def meets(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Whether two spans have more than a point in common."""
    return one[0] < other[1] and one[1] > other[0]


def edge_in(edge: Edge, part: Box) -> bool:
    """Whether an edge, or some of it, lies in a part of the wall."""
    return part.bottom - SAME <= edge.height <= part.top + SAME and (
        (edge.left < part.right and edge.right > part.left) or part.left <= edge.left <= part.right
    )
