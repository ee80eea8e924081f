"""The dimension from datum to starter line, at both ends of the base."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.tolerance import SAME
from evencourse.render.drawing.drawing import Dimension, Mark
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import DIMENSION
from evencourse.render.drawing.placement import Box, Occupied, polygon_meets
from evencourse.render.elevation.siding_lines import first_lines
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
    """Datum to the line of the first course at both ends of the base, where both show.

    Args:
        plan: the plan.
        face: one of its faces.
        part: what is shown of the wall [job units].
        taken: what is occupied, the wall among its shapes; lettering is added.
        mm: drawing units in one millimetre of paper.
    """
    job = plan.job
    first = [(line, parts) for line, _, parts in first_lines(plan, face)]
    if not first:
        return
    left = min(first, key=lambda one: one[1][0][0])
    right = max(first, key=lambda one: one[1][-1][1])
    ends = ((left[0], left[1][0][0], part.left, -1.0), (right[0], right[1][-1][1], part.right, 1.0))
    for starter, base, wall, away in ends:
        low, high = min(starter, 0.0), max(starter, 0.0)
        if on_tape(job, starter) == 0 or low < part.bottom - SAME or high > part.top + SAME:
            continue
        text = show(job, abs(on_tape(job, starter)))
        length = text_width(text, HEIGHT) * mm
        middle = (low + high) / 2
        x = wall + away * BESIDE * mm
        if length + 2 * _ENDS * mm <= high - low + 1.2 * mm:
            at = (x - away * _INSIDE * mm, middle)
        else:
            at = (x - away * _OVER * mm, high + length / 2 + _ENDS * mm)
        if part.left + SAME < base < part.right - SAME:
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
