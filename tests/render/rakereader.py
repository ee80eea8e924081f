"""Reads a printed rake template as a crew uses it: parts out of the PDF, joined at their match marks."""

from __future__ import annotations

import re
from dataclasses import dataclass

from tests.render.polereader import MATCH, MATCH_GREY, near
from tests.render.sheetcheck import Page, Point, Stroke, read_pdf

#: The drawing's own widths: the cut and the straight edges [mm]; the colour of the cut.
CUT, EDGE = 0.7, 0.35
CUT_COLOUR = (0, 84, 147)


@dataclass(frozen=True)
class Joined:
    """A template whose parts are joined; its square corner lies anywhere [mm].

    Attributes:
        cut: pieces of the cut line.
        edges: pieces of the straight edges.
        parts: how many sheets.
    """

    cut: tuple[tuple[Point, Point], ...]
    edges: tuple[tuple[Point, Point], ...]
    parts: int

    @property
    def up(self) -> float:
        return _span(self.cut, 1)

    @property
    def over(self) -> float:
        return _span(self.cut, 0)

    @property
    def off_line(self) -> float:
        """How far any end of a piece lies off the straight line from the long point to the short one."""
        points = [point for piece in self.cut for point in piece]
        (x0, y0), (x1, y1) = min(points), max(points)
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        return max(abs((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / length for x, y in points)


def _span(pieces: tuple[tuple[Point, Point], ...], axis: int) -> float:
    values = [point[axis] for piece in pieces for point in piece]
    return max(values) - min(values)


def read_template(data: bytes) -> Joined:
    """A template from the sheets of one cut: parts are found by the words at their match lines."""
    pages = [page for page in read_pdf(data) if _has_bars(page)]
    shifts: dict[int, Point] = {1: (0.0, 0.0)}
    waiting = [1]
    while waiting:
        number = waiting.pop()
        page = pages[number - 1]
        for other, plumb, mine in _joints(page, "lay part "):
            back = [joint for joint in _joints(pages[other - 1], "lay it on part ") if joint[0] == number]
            theirs = next(marks for _, plumb_, marks in back if plumb_ == plumb)
            moves = [(a[0] - b[0], a[1] - b[1]) for a, b in zip(mine, theirs, strict=True)]
            assert near(moves[0][0], moves[1][0]) and near(moves[0][1], moves[1][1])
            at = (shifts[number][0] + moves[0][0], shifts[number][1] + moves[0][1])
            if other in shifts:  # two ways lead to one part: they must agree
                assert near(at[0], shifts[other][0], 0.05) and near(at[1], shifts[other][1], 0.05)
            else:
                shifts[other] = at
                waiting.append(other)
    assert sorted(shifts) == list(range(1, len(pages) + 1))
    cut, edges = [], []
    for number, page in enumerate(pages, start=1):
        dx, dy = shifts[number]
        for stroke in page.strokes:
            piece = tuple((x + dx, y + dy) for x, y in (stroke.start, stroke.end))
            if _is_cut(stroke):
                cut.append(piece)
            elif near(stroke.width, EDGE):
                edges.append(piece)
    return Joined(tuple(cut), tuple(edges), len(pages))


def _has_bars(page: Page) -> bool:
    """Whether it is a part of the template: each has its check bars."""
    return any(re.fullmatch(r"[0-9]+(\"| mm) across", item.text) for item in page.letterings)


def _is_cut(stroke: Stroke) -> bool:
    return near(stroke.width, CUT) and stroke.colour == CUT_COLOUR


def _joints(page: Page, words: str) -> list[tuple[int, bool, list[Point]]]:
    """Match lines with such words beside them: the part they name, whether plumb, their two marks."""
    found = []
    for item in page.letterings:
        match = re.search(rf"{words}(\d+)", item.text)
        if match is None:
            continue
        xs, ys = [x for x, _ in item.quad], [y for _, y in item.quad]
        plumb = max(ys) - min(ys) > max(xs) - min(xs)
        middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        axis = 0 if plumb else 1
        lines = [
            stroke
            for stroke in page.strokes
            if near(stroke.width, MATCH)
            and stroke.colour == MATCH_GREY
            and near(stroke.start[axis], stroke.end[axis], 1e-3)
        ]
        line = min(lines, key=lambda stroke: abs(stroke.start[axis] - middle[axis]))
        assert abs(line.start[axis] - middle[axis]) < 8
        tips = {
            tuple(round(value, 2) for value in point)
            for fill in page.fills
            if len(set(fill.points)) == 3
            for point in fill.points
            if near(point[axis], line.start[axis], 1e-2)
        }
        marks = sorted(tips)
        assert len(marks) == 2, marks
        found.append((int(match[1]), plumb, marks))
    return found
