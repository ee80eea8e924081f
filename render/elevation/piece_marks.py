"""The mark of every piece on the wall: in the piece, over a run of pieces that begin in line, or on a leader."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product
from math import hypot

from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.piece import FacePieces, Piece
from evencourse.render.building.wall_face import Run, runs
from evencourse.render.drawing.drawing import Leader, Line, Mark, Point, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import LEADER, PIECE_MARK, PIECE_RUN
from evencourse.render.drawing.placement import Box, Crowd, Occupied

#: Height of a piece's mark, air round it, from the piece's end to it, and from one try to the next [mm].
HEIGHT, _AIR, _IN, _STEP = 2.5, 0.2, 0.7, 1.5
#: A course lower than this cannot carry a mark that stands over its butt lines: which course is meant would
#: not be seen [mm].
_LOWEST = 1.15
#: How far from its end a mark in a course lower than itself may stand [mm].
_NEAR = 9.0
#: Pieces begin in line when their ends lie so near to a straight line [mm].
_IN_LINE = 0.35
#: Fewest pieces told by their first and their last.
_FEWEST = 3
#: What seams and the lines of runs keep clear [mm].
_CLEAR = 0.15
#: Where marks on leaders are tried: how far from the dot, and from one try to the next near it and beyond [mm].
_FARTHEST, _MESHES = 27.0, ((9.0, 1.25), (27.0, 2.6))
#: A wall with more leaders than this is drawn too small: they are not even tried.
_MOST_LED = 28
#: A piece with less room than this beside its mark is narrow [mm].
_NARROW = 9.0
#: A piece of which a match line leaves less than this share is marked on the other sheet.
_ELSEWHERE = 0.25
#: Half of a leader's dot, with air [mm].
_DOT = 0.7


def _around() -> tuple[Point, ...]:
    """Places round a dot, the nearest first."""
    places: set[Point] = set()
    for reach, mesh in _MESHES:
        count = int(reach / mesh)
        places |= {(mesh * x, mesh * y) for x, y in product(range(-count, count + 1), repeat=2)}
    near = [place for place in places if 1.9 <= hypot(*place) <= _FARTHEST]
    return tuple(sorted(near, key=lambda place: (hypot(*place), place[0] < 0, place[1] < 0, place)))


_AROUND = _around()


@dataclass(frozen=True)
class PieceMarks:
    """The marks of a face's pieces.

    Attributes:
        marks: what is drawn.
        missing: marks of the pieces that found no place.
        told: marks of the others.
    """

    marks: tuple[Mark, ...]
    missing: tuple[str, ...]
    told: frozenset[str] = frozenset()


@dataclass(frozen=True)
class _Shown:
    """A piece as far as it shows, and its left end half-way up [job units]."""

    piece: Piece
    text: str
    bottom: float
    top: float
    left: float
    right: float

    @property
    def middle(self) -> float:
        return (self.bottom + self.top) / 2


class PieceMarking:
    """The marks of a face's pieces, without the face's letters, at their left ends.

    A mark stands in its piece where the course is high enough. Where it is not, pieces of courses that follow
    each other and begin in line are told by the first and the last, with a line between the two; a single one
    stands over its butt lines beside its seam; one that is narrow stands on a leader.

    Narrow pieces are marked first, before whatever else can stand aside (:meth:`narrow`), the others after it
    (:meth:`others`).

    Args:
        hung: the pieces of a face.
        mm: drawing units in one millimetre of paper.
        taken: what is occupied, the wall's outline among its lines; what narrow pieces take is added.
        window: what is shown of the wall; None for all of it.
        air: what is free round the wall, where marks are led that have no room on it; None for nothing.
    """

    def __init__(
        self, hung: FacePieces, mm: float, taken: Occupied, window: Box | None = None, air: Box | None = None
    ) -> None:
        self._mm, self._taken, self._window, self._air = mm, taken, window, air
        self._crowd = Crowd(6.0 * mm)
        self._crowd.shell(*taken.lines)
        clear = _CLEAR * mm
        self._crowd.letters_off(*(Box(s.x - clear, s.bottom, s.x + clear, s.top) for s in hung.seams))
        self._left = [one for piece in hung.pieces if (one := _seen(piece, window)) is not None]
        self._seen = frozenset(one.piece.id for one in self._left)
        self._marks: list[Mark] = []
        self._known = 0

    def _learn(self) -> None:
        """Keep clear of what was placed since."""
        self._crowd.take(*self._taken.boxes[self._known :])
        self._known = len(self._taken.boxes)

    def narrow(self) -> None:
        """Mark the pieces that have room for little else, and keep the ends of those too narrow for that."""
        self._learn()
        mm, left, ends = self._mm, [], []
        for one in self._left:
            if one.right - one.left > _size(one.text, mm)[0] + _NARROW * mm:
                left.append(one)
                continue
            spot = _inside(one, mm, self._crowd, self._window)
            if spot is not None:
                self._marks += _set(one.text, spot, mm, self._crowd)
                self._taken.take(spot)
                self._known += 1
                continue
            left.append(one)
            x, half = _dots(one, mm)[0], _DOT * mm
            ends.append(Box(x - half, one.middle - half, x + half, one.middle + half))
        self._left = left
        self._taken.take(*ends)
        self._known += len(ends)

    def others(self, first: Collection[str] = ()) -> PieceMarks:
        """Mark all the others.

        Args:
            first: marks of pieces that choose their places before the others do.
        """
        self._learn()
        self._crowd.bar(*self._taken.bars)
        mm, crowd, window = self._mm, self._crowd, self._window
        left: list[_Shown] = []
        lost = self._lead([one for one in self._left if one.piece.id in first])
        for one in self._left:
            if one.piece.id in first:
                continue
            spot = _inside(one, mm, crowd, window)
            if spot is None:
                left.append(one)
            else:
                self._marks += _set(one.text, spot, mm, crowd)
        single: list[_Shown] = []
        for group in _in_line(left, mm):
            marks, rest = _run(group, mm, crowd)
            self._marks += marks
            single += rest
        led: list[_Shown] = []
        for one in single:
            spot = _over(one, mm, crowd, window)
            if spot is None:
                led.append(one)
            else:
                self._marks += _set(one.text, spot, mm, crowd)
        lost += self._lead(led) if len(led) <= _MOST_LED else [one.piece.id for one in led]
        return PieceMarks(tuple(self._marks), tuple(lost), self._seen.difference(lost))

    def _lead(self, pieces: Sequence[_Shown]) -> list[str]:
        """Mark pieces on leaders; which of them found no place."""
        lost: list[str] = []
        for group in _in_line(pieces, self._mm):
            marks = _led_run(group, self._mm, self._crowd, self._window) if len(group) > 1 else []
            self._marks += marks
            for one in () if marks else group:
                spot = _inside(one, self._mm, self._crowd, self._window)
                single = list(_set(one.text, spot, self._mm, self._crowd)) if spot is not None else []
                single = single or _led(one, self._mm, self._crowd, self._window, self._air)
                self._marks += single
                lost += [] if single else [one.piece.id]
        return lost


def short_mark(piece: Piece) -> str:
    """A piece's mark without the letters of its face: B3.2."""
    return piece.id.rpartition("-")[2]


def _seen(piece: Piece, window: Box | None) -> _Shown | None:
    """A piece as far as it shows; None when hardly any of it does."""
    bottom, top = piece.bottom, piece.top
    if window is not None:
        bottom, top = max(bottom, window.bottom), min(top, window.top)
    if top - bottom <= SAME:
        return None
    found = runs(piece.polygon, piece.holes, (bottom + top) / 2)
    if window is not None:
        found = tuple(_common((found, ((window.left, window.right),))))
    if not found or found[-1][1] - found[0][0] <= SAME:
        return None
    if found[-1][1] - found[0][0] < _ELSEWHERE * (piece.right - piece.left):
        return None  # the sheet with the rest of it has its mark
    return _Shown(piece, short_mark(piece), bottom, top, found[0][0], found[-1][1])


def _size(text: str, mm: float) -> tuple[float, float]:
    return (text_width(text, HEIGHT) + 2 * _AIR) * mm, (HEIGHT + 2 * _AIR) * mm


def _set(text: str, spot: Box, mm: float, crowd: Crowd) -> Iterator[Mark]:
    crowd.take(spot)
    at = (spot.left + _AIR * mm, (spot.bottom + spot.top) / 2 - HEIGHT * mm / 2)
    yield Text(PIECE_MARK, at, text, HEIGHT, ground=True)


def _inside(one: _Shown, mm: float, crowd: Crowd, window: Box | None) -> Box | None:
    """The first place from the left of the piece where its mark stands inside it and on nothing else."""
    width, height = _size(one.text, mm)
    if one.top - one.bottom < height or one.right - one.left < width:
        return None
    middle = one.middle - height / 2
    for foot in dict.fromkeys((middle, one.bottom, one.top - height)):
        levels = [
            runs(one.piece.polygon, one.piece.holes, y) for y in _levels(one.piece, foot, foot + height)
        ]
        if window is not None:
            levels.append(((window.left, window.right),))
        for left, right in _common(levels):
            spot = _along(left, right, foot, (width, height), mm, crowd)
            if spot is not None:
                return spot
    return None


def _along(
    left: float, right: float, foot: float, size: tuple[float, float], mm: float, crowd: Crowd
) -> Box | None:
    """The first free place between two ends, from the left."""
    x = left + _IN * mm
    while x + size[0] <= right - _AIR * mm:
        box = Box(x, foot, x + size[0], foot + size[1])
        if crowd.free(box):
            return box
        x += _STEP * mm
    return None


def _over(one: _Shown, mm: float, crowd: Crowd, window: Box | None) -> Box | None:
    """A place near the piece's left end, over its butt lines, where its course is a little too low."""
    if one.top - one.bottom < _LOWEST * mm:
        return None
    width, height = _size(one.text, mm)
    foot = one.middle - height / 2
    if window is not None and (foot < window.bottom or foot + height > window.top):
        return None
    found = runs(one.piece.polygon, one.piece.holes, one.middle)
    if window is not None:
        found = tuple(_common((found, ((window.left, window.right),))))
    for left, right in found[:1]:
        near = min(right, left + width + _NEAR * mm)
        return _along(left, near, foot, (width, height), mm, crowd)
    return None


def _in_line(pieces: Sequence[_Shown], mm: float) -> Iterator[tuple[_Shown, ...]]:
    """Pieces of courses that follow each other, in the same place, whose left ends lie on a straight line."""
    places: dict[tuple[str, str], list[_Shown]] = {}
    for one in pieces:
        place = one.text.rpartition(".")[2]
        places.setdefault((one.piece.course_set, place), []).append(one)
    for column in places.values():
        column.sort(key=lambda one: one.piece.course)
        group: list[_Shown] = []
        for one in column:
            if group and not _continues(group, one, mm):
                yield tuple(group)
                group = []
            group.append(one)
        yield tuple(group)


def _continues(group: Sequence[_Shown], one: _Shown, mm: float) -> bool:
    first, last = group[0], group[-1]
    if one.piece.course != last.piece.course + 1:
        return False
    if len(group) == 1:
        return True
    slope = (last.left - first.left) / max(last.middle - first.middle, SAME)
    return abs(first.left + slope * (one.middle - first.middle) - one.left) <= _IN_LINE * mm


def _run(group: tuple[_Shown, ...], mm: float, crowd: Crowd) -> tuple[list[Mark], tuple[_Shown, ...]]:
    """A run told by its first and its last mark, and the pieces that it leaves over at its ends."""
    for count in range(len(group), _FEWEST - 1, -1):
        for begin in range(len(group) - count + 1):
            part = group[begin : begin + count]
            marks = _first_and_last(part, mm, crowd)
            if marks:
                return marks, (*group[:begin], *group[begin + count :])
    return [], group


def _first_and_last(part: Sequence[_Shown], mm: float, crowd: Crowd) -> list[Mark]:
    low, high = part[0], part[-1]
    (wide, tall), (wide_high, _) = _size(low.text, mm), _size(high.text, mm)
    if high.top - low.bottom < 2 * tall + 0.8 * mm:
        return []
    # Each mark stands level with its own course, or as near as the run's ends allow.
    foot = max(low.bottom, low.middle - tall / 2)
    head = min(high.top, high.middle + tall / 2) - tall
    feet = _place(part, foot, (wide, tall), mm, crowd)
    heads = _place(part, head, (wide_high, tall), mm, crowd)
    for one in feet:
        for other in heads:
            start = (one.left + min(wide / 2, 2.0 * mm), one.top)
            end = (other.left + min(wide_high / 2, 2.0 * mm), other.bottom)
            if (
                one.meets(other)
                or not crowd.passes(start, end, over_bars=True)
                or not _within(part, start, end)
            ):
                continue
            crowd.draw((start, end))
            line = Line(PIECE_RUN, start, end)
            return [line, *_set(low.text, one, mm, crowd), *_set(high.text, other, mm, crowd)]
    return []


def _place(
    part: Sequence[_Shown], foot: float, size: tuple[float, float], mm: float, crowd: Crowd
) -> list[Box]:
    """Free places at a level, in what the pieces of a run there have in common; the first few."""
    near = [one for one in part if one.bottom < foot + size[1] and one.top > foot]
    levels = [
        runs(one.piece.polygon, one.piece.holes, min(max(y, one.bottom + SAME), one.top - SAME))[:1]
        for one in near
        for y in (foot, foot + size[1])
    ]
    if not levels or not all(levels):
        return []
    found: list[Box] = []
    for left, right in _common(levels):
        x = left + _IN * mm
        while x + size[0] <= min(right - _AIR * mm, left + size[0] + 3 * _NEAR * mm) and len(found) < 4:
            box = Box(x, foot, x + size[0], foot + size[1])
            if crowd.free(box):
                found.append(box)
            x += _STEP * mm
    return found


def _within(part: Sequence[_Shown], start: Point, end: Point) -> bool:
    """Whether a line from the first to the last of a run stays in its pieces."""
    for one in part:
        if start[1] < one.middle < end[1]:
            x = start[0] + (end[0] - start[0]) * (one.middle - start[1]) / (end[1] - start[1])
            if not any(
                left <= x <= right for left, right in runs(one.piece.polygon, one.piece.holes, one.middle)
            ):
                return False
    return True


def _led(one: _Shown, mm: float, crowd: Crowd, window: Box | None, air: Box | None) -> list[Mark]:
    """A mark on a leader from a dot in its piece; led out of the wall where there is no room on it."""
    dots = [(x, one.middle) for x in _dots(one, mm)]
    dots = [dot for dot in dots if crowd.free(Box(dot[0] - _DOT * mm, dot[1], dot[0] + _DOT * mm, dot[1]))]
    for out in (False, True) if air is not None else (False,):
        for at in dots:
            spot = _spot(at, one.text, mm, crowd, air if out else window, out)
            if spot is not None:
                end = _nearest(spot, at)
                crowd.draw((at, end))
                return [Leader(LEADER, (at, end), "dot"), *_set(one.text, spot, mm, crowd)]
    return []


def _dots(one: _Shown, mm: float) -> tuple[float, ...]:
    """Where a leader may end in a piece, its left end first."""
    wide = one.right - one.left
    offs = (min(1.2 * mm, wide / 2), min(6.0 * mm, wide / 2), max(wide / 2, wide - 1.2 * mm))
    return tuple(one.left + off for off in dict.fromkeys(offs))


def _led_run(part: Sequence[_Shown], mm: float, crowd: Crowd, window: Box | None) -> list[Mark]:
    """A run too narrow for marks: a line through it, and on a leader which pieces they are."""
    across = [(one.left + min(1.2 * mm, (one.right - one.left) / 2), one.middle) for one in part]
    start, end = across[0], across[-1]
    text = f"{part[0].text} to {part[-1].text}"
    if not crowd.passes(start, end, over_bars=True) or not _within(part, start, end):
        return []
    for one, other in pairwise(across):
        at = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        spot = _spot(at, text, mm, crowd, window)
        if spot is not None:
            to = _nearest(spot, at)
            crowd.draw((start, end), (at, to))
            return [Line(PIECE_RUN, start, end), Leader(LEADER, (at, to)), *_set(text, spot, mm, crowd)]
    return []


def _spot(at: Point, text: str, mm: float, crowd: Crowd, window: Box | None, out: bool = False) -> Box | None:
    """The nearest free place for a text on a leader."""
    width, height = _size(text, mm)
    for across, up in _AROUND:
        # The place is that of the mark's near corner, or of its near side's middle.
        x = at[0] + across * mm - (width if across < 0 else width / 2 if across == 0 else 0.0)
        y = at[1] + up * mm - (height if up < 0 else height / 2 if up == 0 else 0.0)
        box = Box(x, y, x + width, y + height)
        if window is not None and not box.inside(window):
            continue
        if crowd.free(box) and crowd.passes(at, _nearest(box, at), out=out):
            return box
    return None


def _nearest(box: Box, at: Point) -> Point:
    return min(max(at[0], box.left), box.right), min(max(at[1], box.bottom), box.top)


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
