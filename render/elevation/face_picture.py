"""A face in small: the wall with its courses, openings and what became of their edges, for a cover."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.model.course_plan import ElevationPlan, Plan, Result
from evencourse.layout.model.job import Opening
from evencourse.render.building.siding_lines import base_span, lowest_line, wall_marks
from evencourse.render.building.wall_face import courses
from evencourse.render.drawing.drawing import Drawing, Line, Mark, Path, Point, Text
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
from evencourse.render.drawing.placement import Box, box_of
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
    """A face without words but the marks of its openings.

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
    for item in face.elevation.fixtures:
        yield Path(FIXTURE, item.outline(), closed=True, fill=PAPER)
    yield from _told(face, mm)
    left, right = base_span(plan, face)
    number, level = lowest_line(plan, face)
    if number == 1:
        yield Line(STARTER, (left - _PAST * mm, level), (right + _PAST * mm, level))


def _told(face: ElevationPlan, mm: float) -> Iterator[Mark]:
    """The mark of every opening and the signs of its edges: inside it, where it is too small beside it."""
    holes = face.elevation.openings
    taken = [box_of(hole.trimmed) for hole in holes]
    taken += [box_of(item.outline()) for item in face.elevation.fixtures]
    signs: list[Box] = []
    wall = box_of(face.elevation.outline)
    free: list[tuple[Opening, float, float]] = []
    for hole in holes:
        edges = [edge for edge in face.edges if edge.opening == hole.mark and edge.importance != "ignore"]
        low, high = hole.bottom + _CLEAR * mm, hole.top - _CLEAR * mm
        share = min(1.0, (hole.width / mm - 2 * _CLEAR) / SIGN_WIDTH)
        needed = sum(_SIGN_HEIGHTS[edge.result] + _CLEAR for edge in edges) * mm
        marked = _LETTERING * mm if _middle(hole, mm, hole.height) else 0.0
        inside = hole.shape == "rectangle" and share >= _SMALLEST and needed + marked <= high - low
        for edge in edges:
            size, head = _SIGN_HEIGHTS[edge.result] * mm, edge.edge == "head"
            if inside and head:
                middle, high = high - size / 2, high - size - _CLEAR * mm
            elif inside:
                middle, low = low + size / 2, low + size + _CLEAR * mm
            else:
                rim = box_of(hole.trimmed)
                off = size / 2 + _CLEAR * mm
                middle = rim.top + off if head else rim.bottom - off
                half = SIGN_WIDTH / 2 * mm
                signs.append(Box(hole.middle - half, middle - off, hole.middle + half, middle + off))
            yield from sign(edge.result, (hole.middle, middle), mm, share if inside else 1.0)
        free.append((hole, low, high))
    taken += signs
    for hole, low, high in free:  # after all signs, which stand where they must
        at = _middle(hole, mm, high - low, (low + high) / 2)
        if at is not None and not any(_covered(hole.mark, at, mm).meets(other) for other in signs):
            yield Text(TEXT, at, hole.mark, _LETTERING, "middle", "middle", weight="bold")
        else:
            yield from _beside(hole, taken, wall, mm)


def _middle(hole: Opening, mm: float, high: float, level: float | None = None) -> Point | None:
    """Where the mark of an opening stands in it; None where it has no room.

    Args:
        hole: the opening.
        mm: drawing units in one millimetre of paper.
        high: the height that is free for it in a rectangular one.
        level: the middle of that height.
    """
    width, height = hole.width - 2 * _CLEAR * mm, high
    at = hole.bottom + hole.height / 2 if level is None else level
    if hole.shape == "triangle":
        at, width, height = hole.bottom + hole.height / 3, hole.width * 0.35, hole.height * 0.35
    elif hole.shape != "rectangle":
        at, width, height = hole.bottom + hole.height / 2, hole.width / 2, hole.height / 2
    fits = height >= _LETTERING * mm and text_width(hole.mark, _LETTERING, "bold") * mm <= width
    return (hole.middle, at) if fits else None


def _covered(mark: str, at: Point, mm: float) -> Box:
    """What a mark covers, its middle at a point."""
    half = text_width(mark, _LETTERING, "bold") / 2 * mm
    return Box(at[0] - half, at[1] - _LETTERING * mm / 2, at[0] + half, at[1] + _LETTERING * mm / 2)


def _beside(hole: Opening, taken: list[Box], wall: Box, mm: float) -> Iterator[Mark]:
    """The mark right or left of its opening, over or under it, over the eave at last: where nothing is."""
    rim = box_of(hole.trimmed)
    half, level = text_width(hole.mark, _LETTERING, "bold") / 2 * mm, (rim.bottom + rim.top) / 2
    out, up = half + _CLEAR * mm, (_LETTERING / 2 + _CLEAR) * mm
    past = (max(_SIGN_HEIGHTS.values()) + _CLEAR) * mm
    over = [(hole.middle, max(wall.top, rim.top + past) + up)] if wall.top - rim.top < up + past else []
    centres = (
        (rim.right + out, level),
        (rim.left - out, level),
        (hole.middle, rim.top + up),
        (hole.middle, rim.bottom - up),
        (hole.middle, rim.bottom - up - past),
        (hole.middle, rim.top + up + past),
        *over,
    )
    for x, y in centres:
        box = _covered(hole.mark, (x, y), mm).grown(_CLEAR / 2 * mm)
        if (box.inside(wall) or (x, y) in over) and not any(box.meets(other) for other in taken):
            taken.append(box)
            yield Text(TEXT, (x, y), hole.mark, _LETTERING, "middle", "middle", weight="bold", ground=True)
            return
