"""The wall of a face to scale: siding, seams, openings, roofs, the letters of its details, its pieces' marks."""

from __future__ import annotations

from dataclasses import dataclass

from evencourse.render.details.edge_letters import edge_letters
from evencourse.render.drawing.drawing import Drawing, Line, Mark
from evencourse.render.drawing.pens import BAND
from evencourse.render.drawing.placement import Occupied
from evencourse.render.elevation.face_part import FacePart
from evencourse.render.elevation.openings import opening_blocks
from evencourse.render.elevation.piece_lines import seam_marks
from evencourse.render.elevation.piece_marks import PieceMarks, piece_marks
from evencourse.render.elevation.roof_marks import roof_blocks, roof_boxes
from evencourse.render.elevation.siding_lines import ground_marks, inner_lines, siding_marks, wall_marks


@dataclass(frozen=True)
class WallDrawing:
    """A wall drawn to scale.

    Attributes:
        drawing: what is drawn.
        missing: marks of the pieces that found no place.
    """

    drawing: Drawing
    missing: tuple[str, ...]


def wall_drawing(part: FacePart) -> WallDrawing:
    """Draw a part of a face to scale.

    Args:
        part: what is shown, at which scale.
    """
    plan, face, mm = part.face.plan, part.face.face, part.mm
    outline = face.elevation.outline
    taken = Occupied(lines=list(zip(outline, (*outline[1:], outline[0]), strict=True)))
    hung, window = part.face.hung, part.window if part.cut else None
    siding = tuple(siding_marks(part.face.courses, mm))
    taken.bars += [(mark.start, mark.end) for mark in siding if isinstance(mark, Line) and mark.pen is BAND]
    found: list[Mark] = [*siding]
    found += seam_marks(hung, mm) if hung is not None else ()
    found += wall_marks(face)
    found += ground_marks(face, mm)
    inner = tuple(inner_lines(plan, face, mm))
    for mark in inner:
        if isinstance(mark, Line):
            taken.bars.append((mark.start, mark.end))
    taken.take(*roof_boxes(face))
    found += opening_blocks(plan, face, mm, part.face.slivers, taken, window)
    found += edge_letters(face, part.face.details, mm, taken, window)
    found += roof_blocks(plan.job, face, mm, taken, window)
    found += inner
    pieces = piece_marks(hung, mm, taken, window) if hung is not None else PieceMarks((), ())
    name, units = face.elevation.name, plan.job.units
    return WallDrawing(Drawing(name, units, (*found, *pieces.marks)), pieces.missing)
