"""The dimension from datum to starter line, at both ends of the base."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.render.drawing.drawing import Dimension, Mark
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import DIMENSION
from evencourse.render.drawing.placement import Box, Occupied, polygon_meets
from evencourse.render.elevation.siding_lines import base_span
from evencourse.render.elevation.wall_face import lowest_set
from evencourse.render.words.plan_words import on_tape, show

HEIGHT = 2.5
#: From the wall to the dimension line [mm].
BESIDE = 4.6
#: From the line to the middle of its lettering inside and outside, and the ends of both [mm].
_INSIDE, _OUTSIDE, _ENDS = 2.2, 2.7, 1.6
#: How much nearer to the wall than the line lettering over it stands [mm].
_OVER = 1.2


def starter_dimensions(
    plan: Plan, face: ElevationPlan, part: Box, taken: Occupied, mm: float
) -> Iterator[Mark]:
    """Datum to starter at both ends of the base, where both show.

    Args:
        plan: the plan.
        face: one of its faces.
        part: what is shown of the wall [job units].
        taken: what is occupied, the wall among its shapes; lettering is added.
        mm: drawing units in one millimetre of paper.
    """
    job = plan.job
    starter = lowest_set(plan, face).lines.starter
    low, high = min(starter, 0.0), max(starter, 0.0)
    if on_tape(job, starter) == 0 or low < part.bottom - 1e-6 or high > part.top + 1e-6:
        return
    text = show(job, abs(on_tape(job, starter)))
    length = text_width(text, HEIGHT) * mm
    middle = (low + high) / 2
    for base, wall, away in zip(base_span(plan, face), (part.left, part.right), (-1.0, 1.0), strict=True):
        x = wall + away * BESIDE * mm
        if length + 2 * _ENDS * mm <= high - low + 1.2 * mm:
            at = (x - away * _INSIDE * mm, middle)
        else:
            at = (x - away * _OVER * mm, high + length / 2 + _ENDS * mm)
        if part.left + 1e-6 < base < part.right - 1e-6:
            near = base + away * BESIDE * mm
            half = max(length, high - low) / 2
            edges = sorted((base + away * 0.8 * mm, near + away * (_OUTSIDE + 2.0) * mm))
            strip = Box(edges[0], middle - half, edges[1], middle + half)
            roomy = length <= high - low + 2.0 * mm
            if roomy and not any(polygon_meets(shape, strip) for shape in taken.shapes):
                x, at = near, (near + away * _OUTSIDE * mm, middle)
        top = max(high, at[1] + length / 2)
        taken.take(Box(min(x, at[0]) - 2 * mm, low, max(x, at[0]) + 2 * mm, top))
        yield Dimension(DIMENSION, (x, low), (x, high), (x, low), 90.0, text, HEIGHT, at, 0.0)
