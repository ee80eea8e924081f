"""Judges the sheets of faces: reads a PDF with PDFium and asks what a crew asks of a drawing.

Of our model only the marks of the pieces are known, and where each wall lies on its sheet: the rest is read
back. A run of pieces is read as a person reads it: two marks of the same place with a thin line from one to
the other, or one text "4.1 to 9.1".
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot

from evencourse.render.drawing.drawing import Document
from evencourse.render.words.result import Result
from tests.render.sheetcheck import Fault, Lettering, Page, Stroke, meet

#: A piece's mark: the letter of an upper cladding, the course, the place.
MARK = re.compile(r"([A-Z]*)(\d+)\.(\d+)")
RUN = re.compile(rf"{MARK.pattern} to {MARK.pattern}")
#: Width of the line from the first to the last mark of a run [mm], and how near its ends lie to them.
RUN_LINE, NEAR = 0.18, 1.6
#: Least heights of capitals: the ladder is read from two metres, marks and dimensions in the hand [mm].
LADDER, OTHERS = 3.5, 2.5
#: A level of the ladder's lettering, as its rungs have it: a course's number alone.
COURSE = re.compile(r"[A-Z]?\d+")


@dataclass(frozen=True)
class Wall:
    """Where a wall, or a part of one, lies on its sheet [mm].

    Attributes:
        page: number of the sheet, from 1.
        face: whose wall it is.
        marks: of all pieces of that face, without its letters.
        match_left: a match line is its left side.
        match_right: a match line is its right side.
        scale: real size over paper size.
        share: of the sheet that it takes.
    """

    page: int
    face: str
    left: float
    bottom: float
    right: float
    top: float
    marks: frozenset[str]
    match_left: bool = False
    match_right: bool = False
    scale: int = 0
    share: float = 0.0

    def holds(self, x: float, y: float, air: float = 0.0) -> bool:
        """Whether a point lies on the wall, or so near to it."""
        return self.left - air <= x <= self.right + air and self.bottom - air <= y <= self.top + air


def walls_of(result: Result, document: Document) -> list[Wall]:
    """Where the walls of a set lie."""
    faces = {face.elevation.name: face for face in result.plan.elevations}
    hung = {face.face: face for face in result.material.pieces.faces}
    found = []
    for number, sheet in enumerate(document.sheets, start=1):
        view = sheet.views[0] if sheet.views else None
        if sheet.chapter != "Faces" or view is None or view.drawing.name not in faces:
            continue
        outline = [view.to_paper(point) for point in faces[view.drawing.name].elevation.outline]
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        left, bottom, right, top = view.window
        box = (max(min(xs), left), max(min(ys), bottom), min(max(xs), right), min(max(ys), top))
        marks = frozenset(piece.id.rpartition("-")[2] for piece in hung[view.drawing.name].pieces)
        share = (box[2] - box[0]) * (box[3] - box[1]) / (sheet.paper[0] * sheet.paper[1])
        cut = (left > min(xs) + 0.1, right < max(xs) - 0.1)
        found.append(Wall(number, view.drawing.name, *box, marks, *cut, round(1 / view.scale), share))
    return found


def check_faces(pages: Sequence[Page], walls: Sequence[Wall]) -> Iterator[Fault]:
    """Everything about the drawings of faces that sends a reader searching.

    Args:
        pages: the whole set.
        walls: where the walls lie.
    """
    told: dict[str, set[str]] = {}
    for wall in walls:
        page = pages[wall.page - 1]
        told.setdefault(wall.face, set()).update(marks_told(page, wall))
        yield from _heights(page, wall)
        yield from _struck(page, wall)
        yield from _to_match_line(page, wall)
    for wall in {wall.face: wall for wall in walls}.values():
        for mark in sorted(wall.marks - told[wall.face]):
            yield Fault("piece without its mark", wall.page, f"{wall.face} {mark}", (wall.left, wall.bottom))


def marks_told(page: Page, wall: Wall) -> Iterator[str]:
    """Marks of pieces that a reader finds on a wall or led out of it, those inside runs too."""
    found: list[tuple[Lettering, re.Match[str]]] = []
    for item in page.letterings:
        x, y = _middle(item)
        if not wall.holds(x, y, 14.0):
            continue
        run = RUN.fullmatch(item.text)
        if run and (run[1], run[3]) == (run[4], run[6]):
            yield from (f"{run[1]}{course}.{run[3]}" for course in range(int(run[2]), int(run[5]) + 1))
        mark = MARK.fullmatch(item.text)
        if mark:
            found.append((item, mark))
            yield item.text
    lines = [s for s in page.strokes if abs(s.width - RUN_LINE) < 0.02 and s.colour == (32, 32, 32)]
    for low, one in found:
        for high, other in found:
            alike = (one[1], one[3]) == (other[1], other[3]) and int(other[2]) > int(one[2]) + 1
            if alike and any(_joins(line, low, high) for line in lines):
                yield from (f"{one[1]}{course}.{one[3]}" for course in range(int(one[2]), int(other[2])))


def _joins(line: Stroke, low: Lettering, high: Lettering) -> bool:
    """Whether a line runs from the upper side of one text to the lower side of another."""
    first, last = sorted((line.start, line.end), key=lambda point: point[1])
    return _near(first, low, max(y for _, y in low.quad)) and _near(last, high, min(y for _, y in high.quad))


def _near(point: tuple[float, float], item: Lettering, level: float) -> bool:
    xs = [x for x, _ in item.quad]
    return min(xs) - NEAR <= point[0] <= max(xs) + NEAR and abs(point[1] - level) <= NEAR


def _middle(item: Lettering) -> tuple[float, float]:
    return sum(x for x, _ in item.quad) / 4, sum(y for _, y in item.quad) / 4


def _heights(page: Page, wall: Wall) -> Iterator[Fault]:
    """Lettering under the size of its place."""
    for item in page.letterings:
        x, y = _middle(item)
        ladder = wall.left - 120 < x < wall.left - 12 and wall.bottom - 2 < y < wall.top + 2
        least = LADDER if ladder and COURSE.fullmatch(item.text) else OTHERS
        if item.cap < least - 0.05:
            yield Fault("lettering too small for its place", wall.page, f"{item.text} {item.cap:.2f}", (x, y))


def _struck(page: Page, wall: Wall) -> Iterator[Fault]:
    """Texts on the wall and round it that a line runs through, whatever its weight; lists aside."""
    paper = [fill for fill in page.fills if min(fill.colour) >= 230]
    for item in page.letterings:
        x, y = _middle(item)
        if not wall.holds(x, y, 45.0) or y < wall.bottom - 26 or x > wall.right + 15:
            continue
        left, right = min(a for a, _ in item.quad), max(a for a, _ in item.quad)
        low, high = min(b for _, b in item.quad), max(b for _, b in item.quad)
        for line in page.strokes:
            (x0, y0), (x1, y1) = line.start, line.end
            if max(x0, x1) < left or min(x0, x1) > right or max(y0, y1) < low or min(y0, y1) > high:
                continue
            if not meet(item.quad, _thin(line)):
                continue
            ground = (
                line.order < fill.order < item.order
                and min(a for a, _ in fill.points) <= left + 0.2
                and max(a for a, _ in fill.points) >= right - 0.2
                and min(b for _, b in fill.points) <= low + 0.4
                and max(b for _, b in fill.points) >= high - 0.4
                for fill in paper
            )
            if not any(ground):
                yield Fault("line through a text", wall.page, f"{item.text} ({line.width:.2f})", (x, y))
                break


def _thin(line: Stroke) -> tuple[tuple[float, float], ...]:
    (x0, y0), (x1, y1) = line.start, line.end
    long = max(hypot(x1 - x0, y1 - y0), 1e-9)
    dx, dy = -(y1 - y0) / long * line.width / 2, (x1 - x0) / long * line.width / 2
    return ((x0 - dx, y0 - dy), (x1 - dx, y1 - dy), (x1 + dx, y1 + dy), (x0 + dx, y0 + dy))


def _to_match_line(page: Page, wall: Wall) -> Iterator[Fault]:
    """Ticks of dimensions, short strokes at 45 degrees below the wall, that stand on a match line."""
    for line in page.strokes:
        (x0, y0), (x1, y1) = line.start, line.end
        slant = 1.0 < abs(x1 - x0) < 3.0 and abs(abs(x1 - x0) - abs(y1 - y0)) < 0.05
        if not slant or (y0 + y1) / 2 > wall.bottom or abs(line.width - RUN_LINE) > 0.02:
            continue
        middle = (x0 + x1) / 2
        for cut, x in ((wall.match_left, wall.left), (wall.match_right, wall.right)):
            if cut and abs(middle - x) < 0.3:
                yield Fault("dimension to a match line", wall.page, "", (middle, (y0 + y1) / 2))
