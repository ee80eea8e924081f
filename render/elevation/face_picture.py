"""A face in small: the wall with its courses, openings and what became of their edges, for a cover."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.model.course_plan import Edge, ElevationPlan, Plan, Result
from evencourse.layout.model.job import Opening
from evencourse.render.building.siding_lines import base_span, lowest_line, wall_marks
from evencourse.render.building.wall_face import courses
from evencourse.render.drawing.drawing import Drawing, Line, Mark, Path, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import (
    BUTT,
    DOOR,
    FACE,
    FIXTURE,
    GLASS,
    OPENING,
    PAPER,
    STARTER,
    TEXT,
    TRIM,
)
from evencourse.render.elevation.edge_signs import SIGN_WIDTH, sign
from evencourse.render.elevation.roof_marks import roof_bands

#: Butt lines nearer than this are too many: every fifth one shows [mm].
_LEAST = 0.8
_LETTERING = 2.5
#: From the rim of an opening to a sign or a letter inside it [mm].
_CLEAR = 0.7
#: Height of each sign [mm], and the least share of its width that can still be told.
_SIGN_HEIGHTS: dict[Result, float] = {"flush": 1.1, "notch": 1.8, "sliver": 2.8}
_SMALLEST = 0.4
#: How far the starter line runs past the wall [mm].
_PAST = 2.0


def face_picture(plan: Plan, face: ElevationPlan, factor: float) -> Drawing:
    """A face without words but the marks of its openings, where these have room for them.

    Args:
        plan: the plan.
        face: one of its faces.
        factor: millimetres of paper for one job unit.
    """
    return Drawing(face.elevation.name, plan.job.units, tuple(_marks(plan, face, 1 / factor)))


def _marks(plan: Plan, face: ElevationPlan, mm: float) -> Iterator[Mark]:
    for course in courses(plan, face):
        if course.exposure >= _LEAST * mm or course.number % 5 == 0:
            pen = BUTT if course.number % 5 == 0 else FACE
            for left, right in course.runs:
                yield Line(pen, (left, course.foot), (right, course.foot))
    yield from wall_marks(face)
    yield from roof_bands(face)
    for hole in face.elevation.openings:
        yield Path(TRIM, hole.trimmed, closed=True, fill=PAPER)
        pen = DOOR if hole.kind in ("door", "garage door") else OPENING
        yield Path(pen, hole.outline(), closed=True, fill=GLASS)
        edges = [edge for edge in face.edges if edge.opening == hole.mark and edge.importance != "ignore"]
        yield from _inside(hole, edges, mm)
    for item in face.elevation.fixtures:
        yield Path(FIXTURE, item.outline(), closed=True, fill=PAPER)
    left, right = base_span(plan, face)
    number, level = lowest_line(plan, face)
    if number == 1:
        yield Line(STARTER, (left - _PAST * mm, level), (right + _PAST * mm, level))


def _inside(hole: Opening, edges: list[Edge], mm: float) -> Iterator[Mark]:
    """Signs at head and sill, and between them the mark, as far as the opening has room for them."""
    wide, tall = hole.width / mm, hole.height / mm
    share = min(1.0, (wide - 2 * _CLEAR) / SIGN_WIDTH)
    low, high = _CLEAR, tall - _CLEAR
    needed = sum(_SIGN_HEIGHTS[edge.result] + _CLEAR for edge in edges)
    if hole.shape == "rectangle" and share >= _SMALLEST and needed <= high - low:
        for edge in edges:
            size = _SIGN_HEIGHTS[edge.result]
            if edge.edge == "head":
                middle, high = high - size / 2, high - size - _CLEAR
            else:
                middle, low = low + size / 2, low + size + _CLEAR
            yield from sign(edge.result, (hole.middle, hole.bottom + middle * mm), mm, share)
    level, width, height = (low + high) / 2, wide - 2 * _CLEAR, high - low
    if hole.shape == "triangle":
        level, width, height = tall / 3, wide * 0.35, tall * 0.35
    elif hole.shape != "rectangle":
        level, width, height = tall / 2, wide / 2, tall / 2
    if height >= _LETTERING and text_width(hole.mark, _LETTERING, "bold") <= width:
        at = (hole.middle, hole.bottom + level * mm)
        yield Text(TEXT, at, hole.mark, _LETTERING, "middle", "middle", weight="bold")
