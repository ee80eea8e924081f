"""Pieces on the wall: seams with the shadow of the front piece, marks that can be read, outlines for CAD."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.piece import FacePieces, Piece
from evencourse.render.drawing.drawing import Facts, Line, Mark, Path, Text
from evencourse.render.drawing.pens import PIECE, PIECE_MARK, SEAM, SHADOW
from evencourse.render.drawing.placement import Box, Occupied, text_box
from evencourse.render.elevation.wall_face import Run, runs

#: Height of a piece's mark, air round it, from the piece's end to it, and from one try to the next [mm].
_HEIGHT, _AIR, _IN, _STEP = 2.5, 0.3, 1.0, 3.0
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


def piece_marks(hung: FacePieces, mm: float, taken: Occupied, window: Box | None) -> Iterator[Mark]:
    """Marks of the pieces, without the face's letters, at their left ends.

    Args:
        hung: the pieces of a face.
        mm: drawing units in one millimetre of paper.
        taken: occupied boxes; the marks are added.
        window: what is shown of the wall; None for all of it.

    A mark that has no room within its piece, off everything else, is left out: pieces are counted from the
    left, so that the course's number tells it.
    """
    for piece in hung.pieces:
        text = short_mark(piece)
        spot = _spot(piece, text, mm, taken, window)
        if spot is not None:
            taken.take(spot)
            at = (spot.left + _AIR * mm, (spot.bottom + spot.top) / 2 - _HEIGHT * mm / 2)
            yield Text(PIECE_MARK, at, text, _HEIGHT, ground=True)


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


def short_mark(piece: Piece) -> str:
    """A piece's mark without the letters of its face: B3.2."""
    return piece.id.rpartition("-")[2]


def _spot(piece: Piece, text: str, mm: float, taken: Occupied, window: Box | None) -> Box | None:
    """The first place from the left of the piece where its mark stands inside it and on nothing else; over
    the datum or the starter's lines rather than nowhere."""
    size = text_box((0.0, 0.0), text, _HEIGHT, mm)
    width, height = size.width + 2 * _AIR * mm, (_HEIGHT + 2 * _AIR) * mm
    bottom, top = piece.bottom, piece.top
    if window is not None:
        bottom, top = max(bottom, window.bottom), min(top, window.top)
    if top - bottom < height or piece.right - piece.left < width:
        return None
    feet = tuple(dict.fromkeys(((bottom + top - height) / 2, bottom, top - height)))
    for foot, over in (*((foot, False) for foot in feet), *((foot, True) for foot in feet)):
        levels = [runs(piece.polygon, piece.holes, y) for y in _levels(piece, foot, foot + height)]
        if window is not None:
            levels.append(((window.left, window.right),))
        for left, right in _common(levels):
            x = left + _IN * mm
            while x + width <= right - _IN * mm:
                box = Box(x, foot, x + width, foot + height)
                if taken.free(box, over_levels=over):
                    return box
                x += _STEP * mm
    return None


def _levels(piece: Piece, foot: float, head: float) -> Iterator[float]:
    """Heights at which a piece's sides bound what lies between two levels: both ends, its corners there."""
    near = SAME * (piece.top - piece.bottom)
    yield foot + near
    for ring in (piece.polygon, *piece.holes):
        for _, y in ring:
            if foot + near < y < head - near:
                yield from (y - near, y + near)
    yield head - near


def _common(levels: Sequence[Sequence[Run]]) -> Sequence[Run]:
    """What runs at several heights share."""
    found = list(levels[0])
    for level in levels[1:]:
        found = [(max(a, c), min(b, d)) for a, b in found for c, d in level if min(b, d) > max(a, c)]
    return found
