"""Pieces as far as they show on a drawing, the places for their marks in them, and runs of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product

from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.piece import Piece
from evencourse.render.building.wall_face import Run, runs
from evencourse.render.drawing.crowd import Crowd
from evencourse.render.drawing.drawing import Mark, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import PIECE_MARK
from evencourse.render.drawing.placement import Box

#: Height of a mark, air beside it, over and under it, from the piece's end to it, from try to try [mm].
HEIGHT, AIR, OVER, IN, STEP = 2.5, 0.3, 0.12, 0.7, 1.5
#: From one mark to another over it: nearer they run together [mm].
_APART = 0.25
#: A course lower than this cannot carry a mark that stands over its butt lines: which course is meant would
#: not be seen [mm].
_LOWEST = 1.15
#: How far a mark may stand off the middle of such a course [mm].
OFF = 0.4
#: How far from its end a mark in a course lower than itself may stand [mm].
NEAR = 9.0
#: A piece of which a match line leaves less than this share is marked on the other sheet.
_ELSEWHERE = 0.25
#: A piece longer than this may be marked elsewhere than near its ends [mm], and there [share of it].
_LONG, _SHARES = 20.0, (0.25, 0.5, 0.75)
#: Pieces begin in line when their ends lie so near to a straight line [mm].
_IN_LINE = 0.35


@dataclass(frozen=True)
class ShownPiece:
    """A piece as far as it shows.

    Attributes:
        piece: which.
        text: its mark, without the letters of its face.
        bottom: its lowest height that shows [job units].
        top: its highest.
        left: its left end half-way up.
        right: its right end half-way up.
        window: what is shown of the wall; None for all of it.
    """

    piece: Piece
    text: str
    bottom: float
    top: float
    left: float
    right: float
    window: Box | None

    def spans(self, height: float) -> tuple[Run, ...]:
        """Where it shows at a height: x from and to."""
        height = min(max(height, self.bottom + SAME), self.top - SAME)
        found = runs(self.piece.polygon, self.piece.holes, height)
        return (
            found if self.window is None else tuple(common((found, ((self.window.left, self.window.right),))))
        )

    @property
    def middle(self) -> float:
        """Half-way between bottom and top."""
        return (self.bottom + self.top) / 2

    @cached_property
    def half_way(self) -> tuple[Run, ...]:
        """Where it shows half-way up."""
        return self.spans(self.middle)


def short_mark(piece: Piece) -> str:
    """A piece's mark without the letters of its face: B3.2."""
    return piece.id.rpartition("-")[2]


def seen_piece(piece: Piece, window: Box | None) -> ShownPiece | None:
    """A piece as far as it shows; None when hardly any of it does."""
    bottom, top = piece.bottom, piece.top
    if window is not None:
        bottom, top = max(bottom, window.bottom), min(top, window.top)
    if top - bottom <= SAME:
        return None
    found = whole = runs(piece.polygon, piece.holes, (bottom + top) / 2)
    if window is not None:
        found = tuple(common((whole, ((window.left, window.right),))))
    if not found or found[-1][1] - found[0][0] <= SAME:
        return None
    if _length(found) < _ELSEWHERE * _length(whole):
        return None  # the sheet with the rest of it has its mark
    return ShownPiece(piece, short_mark(piece), bottom, top, found[0][0], found[-1][1], window)


def _length(parts: Sequence[Run]) -> float:
    return sum(right - left for left, right in parts)


def mark_size(text: str, mm: float) -> tuple[float, float]:
    """Width and height of a mark with its air [job units]."""
    return (text_width(text, HEIGHT) + 2 * AIR) * mm, (HEIGHT + OVER) * mm


def set_mark(text: str, spot: Box, mm: float, crowd: Crowd) -> Iterator[Mark]:
    """A mark in its place, which is taken."""
    crowd.take(spot)
    at = (spot.left + AIR * mm, (spot.bottom + spot.top) / 2 - HEIGHT * mm / 2)
    yield Text(PIECE_MARK, at, text, HEIGHT, ground=True)


def inside(one: ShownPiece, mm: float, crowd: Crowd) -> Box | None:
    """The first place from the left of the piece where its mark stands inside it and on nothing else.

    Where courses are low it stands beside the mark below, right over it only where nothing else is free.
    """
    width, height = mark_size(one.text, mm)
    if one.top - one.bottom < height or one.right - one.left < width:
        return None
    middle = one.middle - height / 2
    feet = dict.fromkeys((middle, one.bottom, one.top - height))
    for apart, foot in product((_APART * mm, 0.0), feet):
        levels = [one.spans(y) for y in _levels(one.piece, foot, foot + height)]
        for left, right in common(levels):
            near = min(right, left + width + NEAR * mm) if apart else right
            spot = along(left, near, foot, (width, height), mm, crowd, apart)
            if spot is not None:
                return spot
    return None


def along(
    left: float,
    right: float,
    foot: float,
    size: tuple[float, float],
    mm: float,
    crowd: Crowd,
    apart: float = 0.0,
) -> Box | None:
    """The first free place between two ends, from the left; in the middle where it has hardly more room.

    What is free over and under it, too, is ``apart`` [job units].
    """
    x = left + min(IN * mm, (right - left - size[0]) / 2)
    if x < left:
        return None
    while x + size[0] <= right - min(AIR * mm, x - left) + SAME:
        box = Box(x, foot, x + size[0], foot + size[1])
        if crowd.free(replace(box, bottom=foot - apart, top=box.top + apart)):
            return box
        x += STEP * mm
    return None


def over_butts(one: ShownPiece, mm: float, crowd: Crowd) -> Box | None:
    """A place near the piece's left end, over its butt lines, where its course is a little too low."""
    if one.top - one.bottom < _LOWEST * mm:
        return None
    width, height = mark_size(one.text, mm)
    middle, window = one.middle - height / 2, one.window
    runs_there = one.half_way[:1]
    feet = (middle, middle - OFF * mm, middle + OFF * mm)
    for apart, foot, (left, right) in product((_APART * mm, 0.0), feet, runs_there):
        if window is not None and (foot < window.bottom or foot + height > window.top):
            continue
        near = min(right, left + width + NEAR * mm)
        spot = along(left, near, foot, (width, height), mm, crowd, apart)
        if spot is not None:
            return spot
    return None


def dots(one: ShownPiece, mm: float) -> tuple[float, ...]:
    """Where a leader may end in a piece, its left end first; of a long one in its middle at last."""
    wide = one.right - one.left
    offs = [min(1.2 * mm, wide / 2), min(6.0 * mm, wide / 2), max(wide / 2, wide - 1.2 * mm)]
    offs += [share * wide for share in _SHARES] if wide > _LONG * mm else []
    return tuple(one.left + off for off in dict.fromkeys(offs))


def _levels(piece: Piece, foot: float, head: float) -> Iterator[float]:
    """Heights at which a piece's sides bound what lies between two levels: both ends, its corners there."""
    near = SAME * (piece.top - piece.bottom)
    yield foot + near
    for ring in (piece.polygon, *piece.holes):
        for _, y in ring:
            if foot + near < y < head - near:
                yield from (y - near, y + near)
    yield head - near


def common(levels: Sequence[Sequence[Run]]) -> Sequence[Run]:
    """What runs at several heights share."""
    found = list(levels[0])
    for level in levels[1:]:
        found = [(max(a, c), min(b, d)) for a, b in found for c, d in level if min(b, d) > max(a, c)]
    return found


def _columns(pieces: Sequence[ShownPiece]) -> Iterator[list[ShownPiece]]:
    """Pieces in the same place of their courses, from the bottom up."""
    places: dict[tuple[str, str], list[ShownPiece]] = {}
    for one in pieces:
        place = one.text.rpartition(".")[2]
        places.setdefault((one.piece.course_set, place), []).append(one)
    for column in places.values():
        yield sorted(column, key=lambda one: one.piece.course)


def in_line(pieces: Sequence[ShownPiece], mm: float) -> Iterator[tuple[ShownPiece, ...]]:
    """Pieces of courses that follow each other, in the same place, whose left ends lie on a straight line."""
    for column in _columns(pieces):
        group: list[ShownPiece] = []
        for one in column:
            if group and not _continues(group, one, mm):
                yield tuple(group)
                group = []
            group.append(one)
        yield tuple(group)


def in_turn(pieces: Sequence[ShownPiece]) -> Iterator[tuple[ShownPiece, ...]]:
    """Pieces of courses that follow each other, in the same place, whatever their ends."""
    for column in _columns(pieces):
        group: list[ShownPiece] = []
        for one in column:
            if group and one.piece.course != group[-1].piece.course + 1:
                yield tuple(group)
                group = []
            group.append(one)
        yield tuple(group)


def _continues(group: Sequence[ShownPiece], one: ShownPiece, mm: float) -> bool:
    first, last = group[0], group[-1]
    if one.piece.course != last.piece.course + 1:
        return False
    if len(group) == 1:
        return True
    slope = (last.left - first.left) / max(last.middle - first.middle, SAME)
    return abs(first.left + slope * (one.middle - first.middle) - one.left) <= _IN_LINE * mm
