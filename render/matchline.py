"""Match lines: where a face that takes several sheets goes on."""

from __future__ import annotations

from collections.abc import Iterator

from layout.job import Job
from render.drawing import Line, Mark, Point, Text
from render.fonts import text_width
from render.pens import GREY_RULE, NOTE
from render.placement import Box
from render.words import on_tape, show

HEIGHT = 2.5
#: Levels of the words over a match line: on the left side, on the right side, over a level line [mm].
_LEFT, _RIGHT, _OVER, _UNDER = 10.6, 6.0, 1.8, 4.0
#: How far a line runs out past what is shown [mm].
_OUT, _UP = 2.0, 5.0
#: Stands for the words before sheets have their numbers.
_LONGEST = "on to sheet 88, 100' 11-15/16\" from the left"


def reserved(part: Box, whole: Box, mm: float) -> Iterator[Box]:
    """Where the words of match lines will stand, for a part of a wall [job units]."""
    wide = min(text_width(_LONGEST, HEIGHT) * mm, part.width)
    tall = (HEIGHT + 1.6) * mm
    if part.left > whole.left + 1e-6:
        yield Box(part.left - _OUT * mm, part.top, part.left + wide, part.top + (_LEFT + HEIGHT + 0.8) * mm)
    if part.right < whole.right - 1e-6:
        yield Box(
            part.right - wide, part.top, part.right + _OUT * mm, part.top + (_RIGHT + HEIGHT + 0.8) * mm
        )
    if part.top < whole.top - 1e-6:
        middle = (part.left + part.right) / 2
        yield Box(middle - wide / 2, part.top, middle + wide / 2, part.top + tall + _OVER * mm)


def match_sides(part: Box, whole: Box, mm: float) -> list[tuple[Point, Point]]:
    """The plumb match lines of a part of a wall [job units]."""
    low, high = part.bottom - _OUT * mm, part.top + _UP * mm
    cuts = [part.left] if part.left > whole.left + 1e-6 else []
    cuts += [part.right] if part.right < whole.right - 1e-6 else []
    return [((x, low), (x, high)) for x in cuts]


def match_lines(
    job: Job, part: Box, factor: float, beside: tuple[int, int], over: tuple[int, int]
) -> Iterator[Mark]:
    """Match lines of a part, in the drawing's coordinates.

    Args:
        job: for units.
        part: what is shown of the wall [job units].
        factor: millimetres of paper for one job unit.
        beside: numbers of the sheets to the left and to the right; 0 for none.
        over: numbers of the sheets below and above; 0 for none.
    """
    mm = 1 / factor
    low, high = part.bottom - _OUT * mm, part.top + _UP * mm
    if beside[0]:
        yield Line(GREY_RULE, (part.left, low), (part.left, high))
        at = (part.left, part.top + _LEFT * mm)
        yield Text(NOTE, at, _across(job, part, part.left, beside[0], mm), HEIGHT)
    if beside[1]:
        yield Line(GREY_RULE, (part.right, low), (part.right, high))
        at = (part.right, part.top + _RIGHT * mm)
        yield Text(NOTE, at, _across(job, part, part.right, beside[1], mm), HEIGHT, "end")
    left, right, middle = part.left - _OUT * mm, part.right + _OUT * mm, (part.left + part.right) / 2
    if over[0]:
        yield Line(GREY_RULE, (left, part.bottom), (right, part.bottom))
        at = (middle, part.bottom - _UNDER * mm)
        yield Text(NOTE, at, _up(job, part, part.bottom, over[0], mm), HEIGHT, "middle")
    if over[1]:
        yield Line(GREY_RULE, (left, part.top), (right, part.top))
        at = (middle, part.top + _OVER * mm)
        yield Text(NOTE, at, _up(job, part, part.top, over[1], mm), HEIGHT, "middle")


def _across(job: Job, part: Box, x: float, sheet: int, mm: float) -> str:
    """Words at a plumb match line, fewer where the wall is narrow."""
    words = f"on to sheet {sheet}, {show(job, on_tape(job, x))} from the left"
    return words if _wide_enough(part, words, mm) else f"on to sheet {sheet}"


def _up(job: Job, part: Box, height: float, sheet: int, mm: float) -> str:
    """Words at a level match line, fewer where the wall is narrow."""
    words = f"on to sheet {sheet}, height {show(job, on_tape(job, height))}"
    return words if _wide_enough(part, words, mm) else f"on to sheet {sheet}"


def _wide_enough(part: Box, words: str, mm: float) -> bool:
    return text_width(words, HEIGHT) * mm <= part.width - 2.0 * mm
