"""Reads a printed story pole as a crew uses it: strips out of the PDF, joined at their match lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tests.render.sheetcheck import Page, Stroke, read_pdf

#: What the drawing says of itself: width of a strip, length of the ticks at its left edge [mm].
STRIP, TICK = 88.0, 18.0
#: Line widths: match lines, light and heavy butt lines and ends [mm].
MATCH, LIGHT, HEAVY = 0.5, 0.35, 0.7
MATCH_GREY = (90, 90, 90)


@dataclass(frozen=True)
class Tick:
    """A butt line's tick: its height over the pole's foot as joined [mm], the words beside it."""

    height: float
    heavy: bool
    words: tuple[str, ...]
    tied: bool


@dataclass(frozen=True)
class Printed:
    """A pole read off a PDF.

    Attributes:
        ticks: every tick on every strip, those in the overlaps too.
        foot: what the foot's words say.
        length: from foot to top [mm].
        strips: how many.
    """

    ticks: tuple[Tick, ...]
    foot: str
    length: float
    strips: int


def near(one: float, other: float, slack: float = 0.02) -> bool:
    return abs(one - other) <= slack


def level(stroke: Stroke) -> bool:
    return near(stroke.start[1], stroke.end[1], 1e-3)


def across(stroke: Stroke, left: float, length: float) -> bool:
    ends = sorted((stroke.start[0], stroke.end[0]))
    return level(stroke) and near(ends[0], left) and near(ends[1] - ends[0], length)


def lefts(page: Page) -> list[float]:
    """Left edges of the strips on a page: plumb lines that have a second one a strip's width to the right."""
    plumb = {
        round(stroke.start[0], 2)
        for stroke in page.strokes
        if near(stroke.start[0], stroke.end[0], 1e-3) and near(stroke.width, LIGHT)
    }
    return sorted(x for x in plumb if any(near(x + STRIP, other) for other in plumb))


def read_pole(data: bytes) -> Printed:
    """One pole: its cover first, then its strips from the foot up.

    Each strip's lower match line is laid on the upper match line of the strip before it.
    """
    ticks: list[Tick] = []
    base, foot, count = 0.0, "", 0
    for page in read_pdf(data):
        for left in lefts(page):
            low, high = ends(page, left)
            count += 1
            if count == 1:
                words = [item.text for item in page.letterings]
                foot = next(text for text in words if text.startswith("strip 1: foot of the pole, "))
            ticks += _ticks(page, left, low, base)
            base += high - low
    return Printed(tuple(ticks), foot.rpartition(", ")[2], base, count)


def ends(page: Page, left: float) -> tuple[float, float]:
    """Levels of foot or lower match line, and of upper match line or top [mm]."""
    found = sorted(
        stroke.start[1]
        for stroke in page.strokes
        if across(stroke, left, STRIP)
        and (near(stroke.width, HEAVY) or (near(stroke.width, MATCH) and stroke.colour == MATCH_GREY))
    )
    assert len(found) == 2, found
    return found[0], found[1]


def _ticks(page: Page, left: float, low: float, base: float) -> Iterator[Tick]:
    for stroke in page.strokes:
        if not across(stroke, left, TICK) or not (near(stroke.width, LIGHT) or near(stroke.width, HEAVY)):
            continue
        y = stroke.start[1]
        leader = next(
            (
                tie.end
                for tie in page.strokes
                if near(tie.width, 0.25) and near(tie.start[0], left + TICK) and near(tie.start[1], y, 1e-3)
            ),
            None,
        )
        words = ()
        if leader is not None:
            row = [
                item
                for item in page.letterings
                if min(y for _, y in item.quad) <= leader[1] <= max(y for _, y in item.quad)
                and leader[0] <= min(x for x, _ in item.quad) <= left + STRIP
            ]
            words = tuple(item.text for item in sorted(row, key=lambda item: min(x for x, _ in item.quad)))
        yield Tick(y - low + base, near(stroke.width, HEAVY), words, leader is not None)
