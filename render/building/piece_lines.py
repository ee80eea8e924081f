"""Pieces on the wall as lines: seams with the shadow of the front piece, outlines for CAD."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.pieces.piece import FacePieces
from evencourse.render.drawing.drawing import Facts, Line, Mark, Path
from evencourse.render.drawing.pens import PIECE, SEAM, SHADOW

#: The shadow of the front piece: its width, and the least height of a seam that it is drawn for [mm].
_SHADOW, _LEAST = 0.45, 0.7


def seam_marks(hung: FacePieces, mm: float) -> Iterator[Mark]:
    """Seams; a hair of shadow falls on the piece that lies behind.

    Args:
        hung: the pieces and seams of a face.
        mm: drawing units in one millimetre of paper.
    """
    for seam in hung.seams:
        if seam.front != "butt" and seam.top - seam.bottom >= _LEAST * mm:
            side = 1 if seam.front == "left" else -1
            far = seam.x + side * _SHADOW * mm
            corners = ((seam.x, seam.bottom), (far, seam.bottom), (far, seam.top), (seam.x, seam.top))
            yield Path(None, corners, closed=True, fill=SHADOW)
        facts: Facts = (("line", "seam"), ("left", seam.left), ("right", seam.right), ("lap", seam.lap))
        yield Line(SEAM, (seam.x, seam.bottom), (seam.x, seam.top), facts)


def piece_outlines(hung: FacePieces) -> Iterator[Mark]:
    """Closed outlines of all pieces and of the holes in them, with their marks."""
    for piece in hung.pieces:
        facts: Facts = (
            ("piece", piece.id),
            ("set", piece.course_set),
            ("number", piece.course),
            ("length", piece.length),
            ("stock", piece.stock or 0),
        )
        yield Path(PIECE, piece.polygon, closed=True, facts=facts)
        for ring in piece.holes:
            yield Path(PIECE, ring, closed=True, facts=(("hole in", piece.id),))
