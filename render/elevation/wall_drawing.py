"""The wall of a face to scale: siding, openings, roofs, signs of details, marks of pieces."""

from __future__ import annotations

from dataclasses import dataclass, replace

from evencourse.layout.model.tolerance import SAME
from evencourse.render.building.piece_lines import seam_marks
from evencourse.render.building.roof_edge import corner_posts, roof_edge
from evencourse.render.building.siding_lines import (
    ground_marks,
    inner_lines,
    shape,
    siding_marks,
    wall_marks,
)
from evencourse.render.building.wall_face import band_boards
from evencourse.render.details.detail_signs import detail_signs
from evencourse.render.drawing.drawing import Drawing, Line, Mark, Path, Text
from evencourse.render.drawing.pens import BAND
from evencourse.render.drawing.placement import Box, Occupied, contains, text_box
from evencourse.render.elevation.face_part import FacePart
from evencourse.render.elevation.level_marks import board_names, inner_figures, level_boxes
from evencourse.render.elevation.match_line import match_boxes, reserved
from evencourse.render.elevation.openings import opening_blocks
from evencourse.render.elevation.piece_marks import HOPELESS, PieceMarking, PieceMarks
from evencourse.render.elevation.roof_marks import roof_blocks, roof_boxes

#: How far marks are led out of a wall, beside it and over it [mm].
_SIDE, _OVER = 10.5, 9.0
#: From a part of a wall to the words of its match lines: one mark stands between [mm].
_UNDER_WORDS = 3.3
#: How often marks are set where some found no place: the last time those come before all else.
_TRIES = 4
_PATIENT = 8


@dataclass(frozen=True)
class WallDrawing:
    """A wall drawn to scale.

    Attributes:
        drawing: what is drawn.
        missing: marks of the pieces that found no place.
        told: marks of the other pieces that show.
        outside: where marks stand that are led out of the wall.
    """

    drawing: Drawing
    missing: tuple[str, ...]
    told: frozenset[str] = frozenset()
    outside: tuple[Box, ...] = ()


def wall_drawing(part: FacePart, patient: bool = False) -> WallDrawing:
    """Draw a part of a face to scale.

    Args:
        part: what is shown, at which scale.
        patient: every mark is tried, however many have found no place: nothing larger can be had.
    """
    plan, face, mm = part.face.plan, part.face.face, part.mm
    outline = shape(plan, face)
    taken = Occupied(lines=list(zip(outline, (*outline[1:], outline[0]), strict=True)))
    hung, window = part.face.hung, part.window if part.cut else None
    siding = tuple(siding_marks(part.face.courses, mm))
    taken.bars += [(mark.start, mark.end) for mark in siding if isinstance(mark, Line) and mark.pen is BAND]
    found: list[Mark] = [*siding]
    found += seam_marks(hung, mm) if hung is not None else ()
    edges = (*corner_posts(plan, face), *roof_edge(plan, face, mm))
    taken.lines += [
        side
        for mark in edges
        if isinstance(mark, Path)
        for side in zip(mark.points, (*mark.points[1:], mark.points[0]), strict=True)
    ]
    found += edges
    found += wall_marks(face)
    found += ground_marks(face, mm)
    inner = tuple(inner_lines(plan, face, mm))
    for _, boards in band_boards(face):
        for board in boards:
            taken.bars += zip(board, (*board[1:], board[0]), strict=True)
    for mark in inner:
        if isinstance(mark, Line):
            taken.bars.append((mark.start, mark.end))
    taken.take(*roof_boxes(face, mm))
    found += opening_blocks(plan, face, mm, part.face.slivers, taken, window)
    whole = part.face.extent
    taken.take(*level_boxes(plan, face, part.window, part.beside, mm))
    if window is not None:
        low = window.top + _UNDER_WORDS * mm
        boxes = reserved(plan.job, part.under_words, whole, mm)
        taken.take(*(replace(box, bottom=max(box.bottom, low)) for box in boxes))
    air = _air(part.window, whole, mm)
    cuts = tuple(match_boxes(part.window, whole, mm))
    shades = [(mark.start, mark.end) for mark in edges if isinstance(mark, Line)]
    found += inner
    found += inner_figures(plan, face, mm, taken, window)
    found += board_names(plan, face, mm, taken, window)
    first: set[str] = set()
    best: tuple[PieceMarks, list[Mark]] | None = None
    for number in range(1, (_PATIENT if patient else _TRIES) + 1):
        around = taken.copy()
        pieces, marking = PieceMarks((), ()), None
        if hung is not None:
            marking = PieceMarking(hung, mm, around, window, air, cuts, shades, patient)
            marking.narrow(first if number >= _TRIES else ())
        signs = [*detail_signs(face, part.face.details, mm, around, window)]
        signs += roof_blocks(plan.job, face, mm, around, window)
        if marking is not None:
            pieces = marking.others(first)
        if best is None or len(pieces.missing) < len(best[0].missing):
            best = pieces, signs
        if not pieces.missing or (len(pieces.missing) > HOPELESS and not patient):
            break
        first.update(pieces.missing)  # they choose first the next time, at last before the signs of details
    assert best is not None
    pieces, signs = best
    found += signs
    words = [mark for mark in pieces.marks if isinstance(mark, Text) and not contains(outline, mark.at)]
    outside = tuple(text_box(mark.at, mark.text, mark.height, mm) for mark in words)
    name, units = face.elevation.name, plan.job.units
    return WallDrawing(Drawing(name, units, (*found, *pieces.marks)), pieces.missing, pieces.told, outside)


def _air(shown: Box, whole: Box, mm: float) -> Box:
    """Where marks may be led: what is shown of a wall, and out past the sides that are no match lines."""
    return Box(
        shown.left - (_SIDE * mm if shown.left <= whole.left + SAME else 0.0),
        shown.bottom,
        shown.right + (_SIDE * mm if shown.right >= whole.right - SAME else 0.0),
        shown.top + (_OVER * mm if shown.top >= whole.top - SAME else 0.0),
    )
