"""What of a face lies in a part of it: rakes, spans, edges."""

from __future__ import annotations

from dataclasses import replace

from evencourse.layout.model.course_plan import Edge, Rake
from evencourse.layout.model.tolerance import SAME
from evencourse.render.drawing.placement import Box


def clipped(rake: Rake, part: Box) -> Rake | None:
    """What of a rake lies in a part of the wall; None where the part with its middle speaks of it."""
    (x0, y0), (x1, y1) = rake.start, rake.end
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    if not (part.left <= middle[0] < part.right + SAME and part.bottom <= middle[1] < part.top + SAME):
        return None
    near, far = 0.0, 1.0
    for begin, step, low, high in (
        (x0, x1 - x0, part.left, part.right),
        (y0, y1 - y0, part.bottom, part.top),
    ):
        first, second = sorted(((low - begin) / step, (high - begin) / step))
        near, far = max(near, first), min(far, second)
    ends = [(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for share in (near, far)]
    return replace(rake, start=ends[0], end=ends[1])


def meets(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Whether two spans have more than a point in common."""
    return one[0] < other[1] and one[1] > other[0]


def edge_in(edge: Edge, part: Box) -> bool:
    """Whether an edge, or some of it, lies in a part of the wall."""
    return part.bottom - SAME <= edge.height <= part.top + SAME and (
        (edge.left < part.right and edge.right > part.left) or part.left <= edge.left <= part.right
    )
