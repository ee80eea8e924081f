"""What lies on a drawing where a great many small things look for their places."""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntFlag

import numpy as np
import numpy.typing as npt

from evencourse.render.drawing.drawing import Point
from evencourse.render.drawing.placement import Box

_Rows = npt.NDArray[np.float64]
_Found = npt.NDArray[np.bool_]
_Line = tuple[Point, Point]

#: How many places are judged at once: a few first, as one of the nearest is free nearly always.
_FEW = 40


class Over(IntFlag):
    """What a line may cross: nothing, the shell when it is led out, level bars, upright ones."""

    NOTHING = 0
    SHELL = 1
    LEVEL_BARS = 2
    BARS = 6


#: What a leader crosses that finds no place otherwise, from the least bad.
_LAST = (Over.SHELL, Over.LEVEL_BARS, Over.SHELL | Over.LEVEL_BARS)
#: Lines that nothing crosses; of boxes those that only lettering keeps off.
_LINE, _BARE = 8, 1


class _Held:
    """Rows of four numbers and a kind: boxes (left, bottom, right, top) or lines (x and y of both ends)."""

    def __init__(self) -> None:
        self._rows, self._kinds, self._count = np.empty((64, 4)), np.zeros(64, dtype=np.int8), 0

    def add(self, kind: int, *row: float) -> None:
        if self._count == len(self._rows):
            self._rows = np.concatenate((self._rows, np.empty_like(self._rows)))
            self._kinds = np.concatenate((self._kinds, np.zeros_like(self._kinds)))
        self._rows[self._count], self._kinds[self._count] = row, kind
        self._count += 1

    def lines_near(self, bounds: Sequence[float], kinds: int) -> _Rows:
        """Lines of some kinds whose own boxes reach into a box."""
        rows, (left, bottom, right, top) = self._rows[: self._count], bounds
        x0, y0, x1, y1 = rows.T
        off = (np.maximum(x0, x1) < left) | (np.minimum(x0, x1) > right)
        off |= (np.maximum(y0, y1) < bottom) | (np.minimum(y0, y1) > top)
        off |= (self._kinds[: self._count] & kinds) == 0
        found: _Rows = rows[~off]
        return found

    def boxes_near(self, bounds: Sequence[float], most: int = _BARE) -> _Rows:
        """Boxes up to a kind that share a rim or more with a box."""
        rows, (left, bottom, right, top) = self._rows[: self._count], bounds
        there = (rows[:, 0] <= right) & (rows[:, 2] >= left) & (rows[:, 1] <= top) & (rows[:, 3] >= bottom)
        if most < _BARE:
            there &= self._kinds[: self._count] <= most
        return rows[there]


class Crowd:
    """What lies on a drawing: for a great many small things.

    Attributes:
        shades: lines that hinder nothing, but that a leader had better not cross.
    """

    def __init__(self) -> None:
        self.shades: list[_Line] = []
        self._boxes, self._lines = _Held(), _Held()

    def take(self, *boxes: Box) -> None:
        """Occupy boxes."""
        for box in boxes:
            self._boxes.add(0, box.left, box.bottom, box.right, box.top)

    def letters_off(self, *boxes: Box) -> None:
        """Lay what no lettering covers, but what leaders may cross."""
        for box in boxes:
            self._boxes.add(_BARE, box.left, box.bottom, box.right, box.top)

    def draw(self, *lines: _Line) -> None:
        """Lay straight lines, which no box covers."""
        for start, end in lines:
            self._lines.add(_LINE, *start, *end)

    def bar(self, *lines: _Line) -> None:
        """Lay lines that lettering on a ground may cover but no leader crosses, a level one if it must."""
        for start, end in lines:
            self._lines.add(Over.LEVEL_BARS if start[1] == end[1] else Over.BARS - 2, *start, *end)

    def shell(self, *lines: _Line) -> None:
        """Lay lines that no lettering covers, and that only a leader which is led out crosses."""
        for start, end in lines:
            self._lines.add(Over.SHELL, *start, *end)

    def free(self, box: Box) -> bool:
        """Whether a box meets no other box and no line."""
        return len(self._free(np.array([[box.left, box.bottom, box.right, box.top]]))) == 1

    def passes(self, start: Point, end: Point, over: Over = Over.NOTHING) -> bool:
        """Whether a straight line meets no box and crosses no line but what it may cross."""
        return bool(self._pass(start, np.array([end]), over)[0])

    def reaches(self, start: Point, ends: Sequence[Point], over: Over = Over.NOTHING) -> list[bool]:
        """Which of many straight lines from one point pass."""
        found: list[bool] = self._pass(start, np.array(ends), over).tolist()
        return found

    def first_place(
        self, at: Point, lefts: _Rows, feet: _Rows, size: tuple[float, float], over: Over = Over.NOTHING
    ) -> Box | None:
        """The first of many places for a box that is free and that a leader reaches.

        Args:
            at: where the leader begins.
            lefts: left sides of the places.
            feet: their lower sides.
            size: width and height of the box.
            over: what the leader may cross.
        """
        places = np.column_stack((lefts, feet, lefts + size[0], feet + size[1]))
        for begin, end in ((0, _FEW), (_FEW, len(places))):
            free = self._free(places[begin:end])
            for number in np.flatnonzero(self._pass(at, _ends(at, free), over))[:1]:
                return _box(free[number])
        return None

    def last_place(
        self, at: Point, lefts: _Rows, feet: _Rows, size: tuple[float, float], window: Box | None
    ) -> tuple[int, Over, Box] | None:
        """The first place that a leader reaches which crosses what it may, the least bad crossing first.

        Args:
            at: where the leader begins.
            lefts: left sides of the places.
            feet: their lower sides.
            size: width and height of the box.
            window: places outside it are only for leaders that are led out; None for no bound.

        Returns:
            How bad the crossing is, what is crossed, and the place; None when none is reached.
        """
        free = self._free(np.column_stack((lefts, feet, lefts + size[0], feet + size[1])))
        ends = _ends(at, free)
        reached = self._pass(at, ends, _LAST[-1])
        free, ends = free[reached], ends[reached]
        there = np.ones(len(free), dtype=bool)
        if window is not None:
            there = (free[:, 0] >= window.left) & (free[:, 2] <= window.right)
            there &= (free[:, 1] >= window.bottom) & (free[:, 3] <= window.top)
        for worse, over in enumerate(_LAST if len(free) else ()):
            passed = self._pass(at, ends, over)
            for number in np.flatnonzero(passed if over & Over.SHELL else passed & there)[:1]:
                return worse, over, _box(free[number])
        return None

    def _free(self, places: _Rows) -> _Rows:
        """Those of many boxes that are free."""
        if len(places) and len(near := self._boxes.boxes_near(_bounds(places))):
            left, bottom, right, top = (side[:, None] for side in places.T)
            covers = (left < near[:, 2]) & (near[:, 0] < right) & (bottom < near[:, 3])
            places = places[~(covers & (near[:, 1] < top)).any(axis=1)]
        if len(places) and len(near := self._lines.lines_near(_bounds(places), _LINE | Over.SHELL)):
            places = places[~_line_meets(near, places).any(axis=0)]
        return places

    def _pass(self, start: Point, ends: _Rows, over: Over) -> _Found:
        """Which of many straight lines from one point meet no box and cross no line."""
        found: _Found = np.ones(len(ends), dtype=bool)
        if not len(ends):
            return found
        lines = np.column_stack((np.broadcast_to(start, ends.shape), ends))
        low, high = np.minimum(ends.min(axis=0), start), np.maximum(ends.max(axis=0), start)
        bounds = (low[0], low[1], high[0], high[1])
        if len(near := self._lines.lines_near(bounds, _LINE | (Over.BARS | Over.SHELL) & ~over)):
            found &= ~_cross(lines, near).any(axis=1)
        if len(near := self._boxes.boxes_near(bounds, most=0)):
            found[found] = ~_line_meets(lines[found], near).any(axis=1)
        return found


def _ends(at: Point, places: _Rows) -> _Rows:
    """The points of boxes that are nearest to a point."""
    found: _Rows = np.clip(np.array(at), places[:, :2], places[:, 2:])
    return found


def _box(row: _Rows) -> Box:
    return Box(*(float(side) for side in row))


def _bounds(places: _Rows) -> Sequence[float]:
    low, high = (places[0], places[0]) if len(places) == 1 else (places.min(axis=0), places.max(axis=0))
    return (low[0], low[1], high[2], high[3])


def _line_meets(lines: _Rows, boxes: _Rows) -> _Found:
    """Which straight lines pass through the inside of which boxes, as ``segment_meets`` has it."""
    x0, y0, x1, y1 = (ends[:, None] for ends in lines.T)
    left, bottom, right, top = boxes.T
    found: _Found = (np.minimum(x0, x1) < right) & (np.maximum(x0, x1) > left)
    found &= (np.minimum(y0, y1) < top) & (np.maximum(y0, y1) > bottom)
    # What remains is few: the rest of the work is done for those pairs alone.
    line, box = np.nonzero(found)
    if len(line):
        x0, y0, x1, y1 = lines[line].T
        left, bottom, right, top = boxes[box].T
        near, far = np.zeros(len(line)), np.ones(len(line))
        for begin, end, low, high in ((x0, x1, left, right), (y0, y1, bottom, top)):
            moves = end - begin != 0
            step = np.where(moves, end - begin, 1.0)
            first, second = (low - begin) / step, (high - begin) / step
            near = np.where(moves, np.maximum(near, np.minimum(first, second)), near)
            far = np.where(moves, np.minimum(far, np.maximum(first, second)), far)
        found[line, box] = near < far
    return found


def _cross(lines: _Rows, others: _Rows) -> _Found:
    """Which straight lines cross which others, their ends aside, as ``segments_cross`` has it."""
    ax, ay, bx, by = (ends[:, None] for ends in lines.T)
    cx, cy, dx, dy = others.T
    x, y = bx - ax, by - ay
    apart = (x * (cy - ay) - y * (cx - ax)) * (x * (dy - ay) - y * (dx - ax)) < 0
    x, y = dx - cx, dy - cy
    found: _Found = apart & ((x * (ay - cy) - y * (ax - cx)) * (x * (by - cy) - y * (bx - cx)) < 0)
    return found
