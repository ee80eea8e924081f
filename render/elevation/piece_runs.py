"""Marks of pieces in courses too low or too short for them: by runs that begin in line, and on leaders."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain, compress, pairwise, product, takewhile
from math import hypot
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt

from evencourse.layout.language.speech import gettext
from evencourse.render.drawing.crowd import Crowd, Over
from evencourse.render.drawing.drawing import Leader, Line, Mark, Point, Text
from evencourse.render.drawing.pens import LEADER, PIECE_MARK, PIECE_RUN
from evencourse.render.drawing.placement import Box, Pane, entry, grid, segment_meets, segments_cross
from evencourse.render.elevation.shown_piece import (
    AIR,
    HEIGHT,
    IN,
    NEAR,
    STEP,
    ShownPiece,
    common,
    dots,
    mark_size,
    set_mark,
)

#: Fewest pieces told by their first and their last.
_FEWEST = 3
#: A shorter line from one to the other would be taken for a stray tick [mm].
_SHORTEST = 2.4
#: How many parts of a run are tried: a bound on work for walls of hundreds of courses.
_TRIES = 2000
#: Where marks on leaders are tried: how far from the dot, from one try to the next near it and beyond [mm].
_FARTHEST, _MESHES = 27.0, ((9.0, 1.25), (27.0, 2.6))
#: How far from a piece an opening may be that its mark is led into, from one place tried there to the next,
#: how much longer a leader to a level mark may be than to a plumb one [mm]; how many marks are led so.
_TO_PANE, _MESH, _PLUMB, _MOST_IN_PANES = 8.0, 0.9, 6.0, 8
#: How many places in openings are looked at together.
_AT_ONCE = 128
#: A place in an opening: how good, its angle, where the leader begins and ends, the place, number of opening.
_InPane = tuple[float, float, Point, Point, Box, int]
#: Half of a leader's dot, with air, and as others keep off it [mm].
DOT, _DOT_SIZE = 0.7, 0.5
#: How high in its piece a dot may stand where the eave's shadow is in the way [share of what shows of it].
_SHARES = (0.35, 0.2, 0.65, 0.8)


def _around() -> tuple[Point, ...]:
    """Places round a dot, the nearest first."""
    places: set[Point] = set()
    for reach, mesh in _MESHES:
        count = int(reach / mesh)
        places |= {(mesh * x, mesh * y) for x, y in product(range(-count, count + 1), repeat=2)}
    near = [place for place in places if 1.9 <= hypot(*place) <= _FARTHEST]
    return tuple(sorted(near, key=lambda place: (hypot(*place), place[0] < 0, place[1] < 0, place)))


_ACROSS, _UP = np.array(_around()).T


def run_marks(
    group: tuple[ShownPiece, ...], mm: float, crowd: Crowd
) -> tuple[list[Mark], tuple[ShownPiece, ...]]:
    """A run told by its first and its last mark, and the pieces that it leaves over at its ends.

    The longest part of the run that can be told so, the lowest of these.
    """
    sizes = [mark_size(one.text, mm) for one in group]
    halves = _halves(group)
    feet: dict[int, list[Box]] = {}
    heads: dict[int, list[Box]] = {}
    tries = 0
    for count in range(len(group), _FEWEST - 1, -1):
        for begin in range(len(group) - count + 1):
            end = begin + count - 1
            low, high, tall = group[begin], group[end], sizes[begin][1]
            if high.top - low.bottom < 2 * tall + 0.8 * mm:
                continue
            # Each mark stands level with its own course, or as near as the run's ends allow.
            if begin not in feet:
                foot = max(low.bottom, low.middle - tall / 2)
                feet[begin] = _place(group[begin:], foot, sizes[begin], mm, crowd)
            if end not in heads:
                head = min(high.top, high.middle + tall / 2) - tall
                heads[end] = _place(group[end::-1], head, sizes[end], mm, crowd)
            if feet[begin] and heads[end] and tries < _TRIES:
                tries += 1
                marks = _first_and_last((low, high), (feet[begin], heads[end]), halves, mm, crowd)
                if marks:
                    return marks, (*group[:begin], *group[end + 1 :])
    return [], group


def _first_and_last(
    ends: tuple[ShownPiece, ShownPiece],
    places: tuple[list[Box], list[Box]],
    halves: _Halves,
    mm: float,
    crowd: Crowd,
) -> list[Mark]:
    """A run's first and last mark in the best of their places, with a line from one to the other."""
    low, high = ends
    lean = high.left - low.left
    pairs = sorted(product(*places), key=lambda pair: abs(pair[1].left - pair[0].left - lean))
    to = [(other.left + min(other.width / 2, 2.0 * mm), other.bottom) for other in places[1]]
    passing: dict[Point, list[bool]] = {}
    for one, other in pairs:
        start = (one.left + min(one.width / 2, 2.0 * mm), one.top)
        at = places[1].index(other)
        end = to[at]
        if one.meets(other) or end[1] - start[1] < _SHORTEST * mm or not _within(halves, start, end):
            continue
        if start not in passing:
            passing[start] = crowd.reaches(start, to, Over.BARS)
        if not passing[start][at]:
            continue
        crowd.draw((start, end))
        line = Line(PIECE_RUN, start, end)
        return [line, *set_mark(low.text, one, mm, crowd), *set_mark(high.text, other, mm, crowd)]
    return []


def _place(
    part: Sequence[ShownPiece], foot: float, size: tuple[float, float], mm: float, crowd: Crowd
) -> list[Box]:
    """Free places at a level, in what the pieces of a run there have in common; the first few.

    Args:
        part: the run, from the end that the mark stands at.
        foot: the mark's lower edge [job units].
        size: its width and height [job units].
        mm: job units in one millimetre of paper.
        crowd: what is taken.
    """
    near = list(takewhile(lambda one: one.bottom < foot + size[1] and one.top > foot, part))
    levels = [one.spans(y)[:1] for one in near for y in (foot, foot + size[1])]
    if not levels or not all(levels):
        return []
    found: list[Box] = []
    for left, right in common(levels):
        x = left + IN * mm
        while x + size[0] <= min(right - AIR * mm, left + size[0] + 3 * NEAR * mm) and len(found) < 4:
            box = Box(x, foot, x + size[0], foot + size[1])
            if crowd.free(box):
                found.append(box)
            x += STEP * mm
    return found


class _Halves(NamedTuple):
    """Where the pieces of a run show half-way up: numbers of the pieces, how high, x from and to."""

    pieces: npt.NDArray[np.int64]
    middles: npt.NDArray[np.float64]
    lefts: npt.NDArray[np.float64]
    rights: npt.NDArray[np.float64]


def _halves(part: Sequence[ShownPiece]) -> _Halves:
    rows = [
        (at, one.middle, left, right)
        for at, one in enumerate(part)
        for left, right in one.half_way or [(1.0, 0.0)]
    ]
    pieces, *sides = zip(*rows, strict=True)
    return _Halves(np.array(pieces, np.int64), *(np.array(side, np.float64) for side in sides))


def _within(halves: _Halves, start: Point, end: Point) -> bool:
    """Whether a line that climbs from the first to the last of a run stays in its pieces."""
    between = (start[1] < halves.middles) & (halves.middles < end[1])
    x = start[0] + (end[0] - start[0]) * (halves.middles - start[1]) / ((end[1] - start[1]) or 1.0)
    inside = between & (halves.lefts <= x) & (x <= halves.rights)
    return set(halves.pieces[between].tolist()) == set(halves.pieces[inside].tolist())


def led(one: ShownPiece, mm: float, crowd: Crowd, window: Box | None, air: Box | None) -> list[Mark]:
    """A mark on a leader from a dot in its piece; led out of the wall where there is no room on it.

    At last the leader crosses the heavier butt line of a change of exposure: the dot tells which piece it is.
    """
    ends, out = _ends(one, mm, crowd)
    size, over = mark_size(one.text, mm), Over.NOTHING
    for at in () if out else ends:
        spot = _spot(at, one.text, mm, crowd, window)
        if spot is not None:
            break
    else:
        known = [
            (last, at)
            for at in ends
            if (last := crowd.last_place(at, *_places(at, size, mm, air or window), size, window))
        ]
        if not known:
            return []
        (_, over, spot), at = min(known, key=lambda one: one[0][0])
    start, end = _off_shades(one, at, spot, mm, crowd, over)
    crowd.draw((start, end))
    crowd.take(_round_dot(start, mm))
    return [Leader(LEADER, (start, end), "dot"), *set_mark(one.text, spot, mm, crowd)]


def _ends(one: ShownPiece, mm: float, crowd: Crowd) -> tuple[list[Point], bool]:
    """Where a leader may end in a piece; one smaller than its dot, as a gable's tip, is led out."""
    if one.right - one.left < 2 * DOT * mm:
        return [(x, one.middle) for x in dots(one, mm)], True
    return [(x, one.middle) for x in dots(one, mm) if crowd.free(_dot(one, x, mm))], False


def _dot(one: ShownPiece, x: float, mm: float) -> Box:
    """What a leader's dot takes across its piece; no more than the piece has."""
    half = max(0.0, min(DOT * mm, 0.9 * (x - one.left), 0.9 * (one.right - x)))
    return Box(x - half, one.middle, x + half, one.middle)


def _round_dot(at: Point, mm: float) -> Box:
    """What no other leader crosses round the dot of one."""
    return Box(*at, *at).grown(_DOT_SIZE * mm)


def _off_shades(
    one: ShownPiece, at: Point, spot: Box, mm: float, crowd: Crowd, over: Over
) -> tuple[Point, Point]:
    """A leader from a dot to a place; from a dot elsewhere in the piece where it crosses a shadow."""
    across = dict.fromkeys((at[0], *dots(one, mm)))
    for share, x in product((0.5, *_SHARES), across):
        start = (x, one.bottom + share * (one.top - one.bottom))
        end = spot.nearest(start)
        if (
            not _shaded(start, end, crowd)
            and any(a <= x <= b for a, b in one.spans(start[1]))
            and crowd.passes(start, end, over)
        ):
            return start, end
    return at, spot.nearest(at)


def led_run(part: Sequence[ShownPiece], mm: float, crowd: Crowd, window: Box | None) -> list[Mark]:
    """A run too narrow for marks: a line through it, and on a leader which pieces they are.

    The line runs near their left ends; through their middles where the eave's shadow is in the way.
    """
    text = gettext("{first} to {last}", first=part[0].text, last=part[-1].text)
    found: list[tuple[bool, tuple[Point, Point, Point], Box]] = []
    for off in (1.2 * mm, float("inf")):
        across = [(one.left + min(off, (one.right - one.left) / 2), one.middle) for one in part]
        start, end = across[0], across[-1]
        if found and not found[0][0]:
            break
        if not _within(_halves(part), start, end) or not crowd.passes(start, end, Over.BARS):
            continue
        for one, other in pairwise(across):
            at = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
            spot = _spot(at, text, mm, crowd, window)
            if spot is not None:
                shaded = _shaded(start, end, crowd) or _shaded(at, spot.nearest(at), crowd)
                found.append((shaded, (start, end, at), spot))
                break
    if not found:
        return []
    _, (start, end, at), spot = min(found, key=lambda one: one[0])
    to = spot.nearest(at)
    crowd.draw((start, end), (at, to))
    return [Line(PIECE_RUN, start, end), Leader(LEADER, (at, to)), *set_mark(text, spot, mm, crowd)]


def plumb_run(part: Sequence[ShownPiece], mm: float, crowd: Crowd) -> list[Mark]:
    """A run in a stretch too narrow for level marks: which pieces they are, plumb over all of them."""
    text = gettext("{first} to {last}", first=part[0].text, last=part[-1].text)
    tall, wide = mark_size(text, mm)
    low, high = part[0].bottom, part[-1].top
    if high - low < tall:
        return []
    foot = (low + high - tall) / 2
    levels = [one.half_way[:1] for one in part if one.top > foot and one.bottom < foot + tall]
    for left, right in common(levels) if levels and all(levels) else ():
        x = left + min(IN * mm, (right - left - wide) / 2)
        box = Box(x, foot, x + wide, foot + tall)
        if x >= left and crowd.free(box):
            crowd.take(box)
            at = (x + wide / 2, foot + tall / 2)
            return [Text(PIECE_MARK, at, text, HEIGHT, "middle", "middle", 90.0, ground=True)]
    return []


class Panes:
    """Openings, into which marks are led that have no room on the wall.

    Args:
        panes: what shows of the openings.
        mm: drawing units in one millimetre of paper.
    """

    def __init__(self, panes: Sequence[Pane], mm: float) -> None:
        self._mm, self._left = mm, _MOST_IN_PANES
        self._panes = [(pane, list(pane.held), list[tuple[Point, Point]]()) for pane in panes]

    def run(self, part: Sequence[ShownPiece], crowd: Crowd) -> list[Mark]:
        """A line through a run, and on a leader into an opening which pieces they are."""
        text = gettext("{first} to {last}", first=part[0].text, last=part[-1].text)
        across = [(one.left + min(1.2 * self._mm, (one.right - one.left) / 2), one.middle) for one in part]
        start, end = across[0], across[-1]
        if not _within(_halves(part), start, end) or not crowd.passes(start, end, Over.BARS):
            return []
        ends = [((one[0] + other[0]) / 2, (one[1] + other[1]) / 2) for one, other in pairwise(across)]
        marks = self._led(ends, text, crowd)
        if marks:
            crowd.draw((start, end))
            marks = [Line(PIECE_RUN, start, end), *marks]
        return marks

    def single(self, one: ShownPiece, crowd: Crowd) -> list[Mark]:
        """A piece's mark on a leader into an opening."""
        mm = self._mm
        return self._led(_ends(one, mm, crowd)[0], one.text, crowd, "dot")

    def _led(
        self, ends: Sequence[Point], text: str, crowd: Crowd, head: Literal["none", "dot"] = "none"
    ) -> list[Mark]:
        mm, (wide, tall) = self._mm, mark_size(text, self._mm)
        found: list[_InPane] = []
        for number, (pane, held, _) in enumerate(self._panes if self._left else ()):
            near = [at for at in ends if pane.rim.distance(at) <= _TO_PANE * mm]
            for width, height, angle in ((wide, tall, 0.0), (tall, wide, 90.0)) if near else ():
                for box in grid(pane.inside, width, height, _MESH * mm):
                    if not any(box.meets(other) for other in held):
                        at = min(near, key=box.distance)
                        worse = _PLUMB * mm if angle else 0.0
                        found.append((box.distance(at) + worse, angle, at, box.nearest(at), box, number))
        found.sort(key=lambda one: one[:4])
        parts = (found[begin : begin + _AT_ONCE] for begin in range(0, len(found), _AT_ONCE))
        for _, angle, at, end, box, number in chain.from_iterable(
            self._reached(part, crowd) for part in parts
        ):
            pane, held, leaders = self._panes[number]
            rim = entry(at, end, pane.rim)
            held.append(box)
            leaders.append((at, end))
            crowd.draw((at, rim))
            if head == "dot":
                crowd.take(_round_dot(at, mm))
            self._left -= 1
            leader = Leader(LEADER, (at, end), head)
            middle = (box.left + box.width / 2, box.bottom + box.height / 2)
            if not angle:
                return [leader, *set_mark(text, box, mm, crowd)]
            return [leader, Text(PIECE_MARK, middle, text, HEIGHT, "middle", "middle", angle, ground=True)]
        return []

    def _reached(self, places: Sequence[_InPane], crowd: Crowd) -> list[_InPane]:
        """Those places that a leader reaches."""
        by_start: dict[Point, list[int]] = {}
        for index, (_, _, at, end, _, number) in enumerate(places):
            _, held, leaders = self._panes[number]
            hit = any(segment_meets(at, end, other) for other in held)
            if not hit and not any(segments_cross(at, end, *other) for other in leaders):
                by_start.setdefault(at, []).append(index)
        reached: list[int] = []
        for at, indices in by_start.items():
            rims = [entry(at, places[one][3], self._panes[places[one][5]][0].rim) for one in indices]
            reached += compress(indices, crowd.reaches(at, rims))
        return [places[one] for one in sorted(reached)]


def _shaded(start: Point, end: Point, crowd: Crowd) -> bool:
    """Whether a line crosses the shadow under the eave."""
    return any(segments_cross(start, end, *line) for line in crowd.shades)


def _places(
    at: Point, size: tuple[float, float], mm: float, window: Box | None
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """Places for a text round a dot, the nearest first: their left and lower sides."""
    width, height = size
    # The place is that of the mark's near corner, or of its near side's middle.
    x = at[0] + _ACROSS * mm - np.where(_ACROSS < 0, width, np.where(_ACROSS == 0, width / 2, 0.0))
    y = at[1] + _UP * mm - np.where(_UP < 0, height, np.where(_UP == 0, height / 2, 0.0))
    if window is None:
        return x, y
    there = (x >= window.left) & (x + width <= window.right)
    there &= (y >= window.bottom) & (y + height <= window.top)
    return x[there], y[there]


def _spot(at: Point, text: str, mm: float, crowd: Crowd, window: Box | None) -> Box | None:
    """The nearest free place for a text on a leader."""
    size = mark_size(text, mm)
    return crowd.first_place(at, *_places(at, size, mm, window), size)
