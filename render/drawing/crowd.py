"""What lies on a drawing where a great many small things look for their places."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from evencourse.render.drawing.drawing import Point
from evencourse.render.drawing.placement import Box

_Rows = npt.NDArray[np.float64]
_Found = npt.NDArray[np.bool_]
_Line = tuple[Point, Point]

#: How many places are judged at once: a few first, as one of the nearest is free nearly always.
_FEW = 40


class _Held:
    """Rows of four numbers: boxes (left, bottom, right, top) or lines (x and y of both ends)."""

    def __init__(self) -> None:
        self._rows, self._count = np.empty((64, 4)), 0

    def add(self, *row: float) -> None:
        if self._count == len(self._rows):
            self._rows = np.concatenate((self._rows, np.empty_like(self._rows)))
        self._rows[self._count] = row
        self._count += 1

    @property
    def rows(self) -> _Rows:
        return self._rows[: self._count]

    def lines_near(self, left: float, bottom: float, right: float, top: float) -> _Rows:
        """Lines whose own boxes reach into a box."""
        x0, y0, x1, y1 = (rows := self.rows).T
        off = ((x0 < left) & (x1 < left)) | ((x0 > right) & (x1 > right))
        off |= ((y0 < bottom) & (y1 < bottom)) | ((y0 > top) & (y1 > top))
        found: _Rows = rows[~off]
        return found

    def boxes_near(self, left: float, bottom: float, right: float, top: float) -> _Rows:
        """Boxes that share some area with a box."""
        rows = self.rows
        there = (rows[:, 0] < right) & (rows[:, 2] > left) & (rows[:, 1] < top) & (rows[:, 3] > bottom)
        return rows[there]


class Crowd:
    """What lies on a drawing: for a great many small things.

    Attributes:
        shades: lines that hinder nothing, but that a leader had better not cross.
    """

    def __init__(self) -> None:
        self.shades: list[_Line] = []
        self._boxes, self._bare = _Held(), _Held()
        self._lines, self._shell, self._bars = _Held(), _Held(), _Held()

    def take(self, *boxes: Box) -> None:
        """Occupy boxes."""
        for box in boxes:
            self._boxes.add(box.left, box.bottom, box.right, box.top)

    def letters_off(self, *boxes: Box) -> None:
        """Lay what no lettering covers, but what leaders may cross."""
        for box in boxes:
            self._bare.add(box.left, box.bottom, box.right, box.top)

    def draw(self, *lines: _Line) -> None:
        """Lay straight lines, which no box covers."""
        for start, end in lines:
            self._lines.add(*start, *end)

    def bar(self, *lines: _Line) -> None:
        """Lay lines that lettering on a ground may cover but no leader may cross."""
        for start, end in lines:
            self._bars.add(*start, *end)

    def shell(self, *lines: _Line) -> None:
        """Lay lines that no lettering covers, and that only a leader which is led out crosses."""
        for start, end in lines:
            self._shell.add(*start, *end)

    def free(self, box: Box) -> bool:
        """Whether a box meets no other box and no line."""
        bounds = box.left, box.bottom, box.right, box.top
        if len(self._boxes.boxes_near(*bounds)) or len(self._bare.boxes_near(*bounds)):
            return False
        return not any(
            len(near := held.lines_near(*bounds)) and _line_meets(near, np.array([bounds])).any()
            for held in (self._lines, self._shell)
        )

    def passes(self, start: Point, end: Point, over_bars: bool = False, out: bool = False) -> bool:
        """Whether a straight line meets no box and crosses no line; bars aside, or the shell aside."""
        return bool(self._pass(start, np.array([end]), over_bars, out)[0])

    def first_place(
        self, at: Point, lefts: _Rows, feet: _Rows, size: tuple[float, float], out: bool = False
    ) -> Box | None:
        """The first of many places for a box that is free and that a leader reaches.

        Args:
            at: where the leader begins.
            lefts: left sides of the places.
            feet: their lower sides.
            size: width and height of the box.
            out: the leader may cross the shell.
        """
        places = np.stack((lefts, feet, lefts + size[0], feet + size[1]), axis=1)
        for begin, end in ((0, _FEW), (_FEW, len(places))):
            free = self._free(places[begin:end])
            ends = np.clip(np.array(at), free[:, :2], free[:, 2:])
            for number in np.flatnonzero(self._pass(at, ends, False, out))[:1]:
                return Box(*(float(side) for side in free[number]))
        return None

    def _free(self, places: _Rows) -> _Rows:
        """Those of many boxes that are free."""
        for held in (self._boxes, self._bare):
            if len(places) and len(near := held.boxes_near(*_bounds(places))):
                left, bottom, right, top = (side[:, None] for side in places.T)
                covers = (left < near[:, 2]) & (near[:, 0] < right) & (bottom < near[:, 3])
                places = places[~(covers & (near[:, 1] < top)).any(axis=1)]
        for held in (self._lines, self._shell):
            if len(places) and len(near := held.lines_near(*_bounds(places))):
                places = places[~_line_meets(near, places[:, None]).any(axis=1)]
        return places

    def _pass(self, start: Point, ends: _Rows, over_bars: bool, out: bool) -> _Found:
        """Which of many straight lines from one point meet no box and cross no line."""
        found = np.ones(len(ends), dtype=bool)
        if not len(ends):
            return found
        low, high = np.minimum(ends.min(axis=0), start), np.maximum(ends.max(axis=0), start)
        bounds = float(low[0]), float(low[1]), float(high[0]), float(high[1])
        lines = np.column_stack((np.broadcast_to(start, ends.shape), ends))[:, None]
        crossed = (self._lines, *(() if out else (self._shell,)), *(() if over_bars else (self._bars,)))
        for held in crossed:
            if len(near := held.lines_near(*bounds)):
                found &= ~_cross(lines, near).any(axis=1)
        near = self._boxes.rows
        off = (near[:, 0] > high[0]) | (near[:, 2] < low[0]) | (near[:, 1] > high[1]) | (near[:, 3] < low[1])
        if len(near := near[~off]):
            found[found] &= ~_line_meets(lines[found], near).any(axis=1)
        return found


def _bounds(places: _Rows) -> tuple[float, float, float, float]:
    low, high = places[:, :2].min(axis=0), places[:, 2:].max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def _line_meets(lines: _Rows, boxes: _Rows) -> _Found:
    """Whether straight lines pass through the inside of boxes, as ``segment_meets`` has it, of all pairs."""
    x0, y0, x1, y1 = np.moveaxis(lines, -1, 0)
    left, bottom, right, top = np.moveaxis(boxes, -1, 0)
    off = ((x0 <= left) & (x1 <= left)) | ((x0 >= right) & (x1 >= right))
    off |= ((y0 <= bottom) & (y1 <= bottom)) | ((y0 >= top) & (y1 >= top))
    near, far = np.zeros(off.shape), np.ones(off.shape)
    with np.errstate(divide="ignore", invalid="ignore"):
        for begin, step, low, high in ((x0, x1 - x0, left, right), (y0, y1 - y0, bottom, top)):
            first, second = (low - begin) / step, (high - begin) / step
            moves = step != 0
            near = np.where(moves, np.maximum(near, np.minimum(first, second)), near)
            far = np.where(moves, np.minimum(far, np.maximum(first, second)), far)
    found: _Found = ~off & (near < far)
    return found


def _cross(lines: _Rows, others: _Rows) -> _Found:
    """Whether straight lines cross, their ends aside, as ``segments_cross`` has it, of all pairs."""
    ax, ay, bx, by = np.moveaxis(lines, -1, 0)
    cx, cy, dx, dy = np.moveaxis(others, -1, 0)
    x, y = bx - ax, by - ay
    apart = (x * (cy - ay) - y * (cx - ax)) * (x * (dy - ay) - y * (dx - ax)) < 0
    x, y = dx - cx, dy - cy
    found: _Found = apart & ((x * (ay - cy) - y * (ax - cx)) * (x * (by - cy) - y * (bx - cx)) < 0)
    return found
