"""Match lines: where a face that takes several sheets goes on."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.language.speech import gettext, pgettext
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import SAME
from evencourse.render.drawing.drawing import Horizontal, Line, Mark, Point, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import GREY_RULE, NOTE
from evencourse.render.drawing.placement import Box
from evencourse.render.words.plan_words import on_tape, show

HEIGHT = 2.5
#: Levels of the words over a match line: on the left side, on the right side, over a level line [mm].
_LEFT, _RIGHT, _OVER, _UNDER = 10.6, 6.0, 1.8, 4.0
#: What the words under a level match line take [mm].
WORDS_BELOW = 3.6
#: From line to line where a narrow wall breaks the words in two.
_LEADING = 4.2
#: How far a line runs out past what is shown [mm].
_OUT, _UP = 2.0, 5.0
#: What lettering keeps off the middle of a line [mm].
_CLEAR = 0.35
#: Stand for the words before sheets have their numbers.
_GREATEST = 88
_LONGEST = "100' 11-15/16\""


def reserved(job: Job, part: Box, whole: Box, mm: float) -> Iterator[Box]:
    """Where the words of match lines will stand, for a part of a wall [job units]."""
    wide = min(text_width(_said(_LONGEST, _GREATEST), HEIGHT) * mm, part.width)
    tall = (HEIGHT + 1.6) * mm
    cuts = (part.left > whole.left + SAME, part.right < whole.right - SAME)
    narrow = _narrow(job, part, cuts, mm)
    left, right = (level + _LEADING if narrow else level for level in _levels(cuts, narrow))
    if part.left > whole.left + SAME:
        yield Box(part.left - _OUT * mm, part.top, part.left + wide, part.top + (left + HEIGHT + 0.8) * mm)
    if part.right < whole.right - SAME:
        yield Box(part.right - wide, part.top, part.right + _OUT * mm, part.top + (right + HEIGHT + 0.8) * mm)
    if part.top < whole.top - SAME:
        middle = (part.left + part.right) / 2
        yield Box(middle - wide / 2, part.top, middle + wide / 2, part.top + tall + _OVER * mm)


def match_sides(part: Box, whole: Box, mm: float) -> list[tuple[Point, Point]]:
    """The plumb match lines of a part of a wall [job units]."""
    low, high = part.bottom - _OUT * mm, part.top + _UP * mm
    cuts = [part.left] if part.left > whole.left + SAME else []
    cuts += [part.right] if part.right < whole.right - SAME else []
    return [((x, low), (x, high)) for x in cuts]


def match_boxes(part: Box, whole: Box, mm: float) -> Iterator[Box]:
    """What no lettering covers along the match lines of a part of a wall [job units]."""
    clear = _CLEAR * mm
    for x, cut in ((part.left, part.left > whole.left + SAME), (part.right, part.right < whole.right - SAME)):
        if cut:
            yield Box(x - clear, part.bottom - _OUT * mm, x + clear, part.top + _UP * mm)
    levels = ((part.bottom, part.bottom > whole.bottom + SAME), (part.top, part.top < whole.top - SAME))
    for y, cut in levels:
        if cut:
            yield Box(part.left - _OUT * mm, y - clear, part.right + _OUT * mm, y + clear)


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
    whole = [_across(job, x, sheet) for x, sheet in zip((part.left, part.right), beside, strict=True)]
    cuts = (beside[0] > 0, beside[1] > 0)
    narrow = _narrow(job, part, cuts, mm)
    levels = _levels(cuts, narrow)
    sides: tuple[tuple[float, int, float, Horizontal], ...] = (
        (part.left, beside[0], levels[0], "start"),
        (part.right, beside[1], levels[1], "end"),
    )
    for (x, sheet, level, side), words in zip(sides, whole, strict=True):
        if not sheet:
            continue
        yield Line(GREY_RULE, (x, low), (x, high))
        short = _shorter(job, x, sheet)
        lines: tuple[str, ...] = (words if _wide_enough(part, words, mm) else short,)
        if narrow:
            lines = _broken(job, part, x, sheet, mm)
        for index, line in enumerate(reversed(lines)):
            yield Text(NOTE, (x, part.top + (level + index * _LEADING) * mm), line, HEIGHT, side)
    left, right, middle = part.left - _OUT * mm, part.right + _OUT * mm, (part.left + part.right) / 2
    if over[0]:
        yield Line(GREY_RULE, (left, part.bottom), (right, part.bottom))
        at = (middle, part.bottom - _UNDER * mm)
        yield Text(NOTE, at, _up(job, part, part.bottom, over[0], mm), HEIGHT, "middle")
    if over[1]:
        yield Line(GREY_RULE, (left, part.top), (right, part.top))
        at = (middle, part.top + _OVER * mm)
        yield Text(NOTE, at, _up(job, part, part.top, over[1], mm), HEIGHT, "middle")


def _levels(cuts: tuple[bool, bool], narrow: bool) -> tuple[float, float]:
    """Levels of the lowest words at the left and at the right line: over each other where there are both."""
    over = _LEFT + (_LEADING if narrow else 0.0)
    return (over if all(cuts) else _RIGHT, _RIGHT)


def _across(job: Job, x: float, sheet: int) -> str:
    """Words at a plumb match line."""
    return _said(show(job, on_tape(job, x)), sheet)


def _said(x: str, sheet: int) -> str:
    return gettext("on to sheet {sheet}, {distance} from the left", sheet=sheet, distance=x)


def _shorter(job: Job, x: float, sheet: int) -> str:
    """The same in fewer words."""
    return gettext("on to sheet {sheet} at {distance}", sheet=sheet, distance=show(job, on_tape(job, x)))


def _narrow(job: Job, part: Box, cuts: tuple[bool, bool], mm: float) -> bool:
    """Whether even the fewer words are wider than the wall; told before sheets have numbers."""
    return any(
        cut and not _wide_enough(part, _shorter(job, x, _GREATEST), mm)
        for x, cut in zip((part.left, part.right), cuts, strict=True)
    )


def _broken(job: Job, part: Box, x: float, sheet: int, mm: float) -> tuple[str, str]:
    """The same in two lines, for a narrow wall."""
    at = show(job, on_tape(job, x))
    first = pgettext("over the line with the distance", "on to sheet {sheet},", sheet=sheet)
    words = pgettext("of a match line", "{distance} from the left", distance=at)
    if _wide_enough(part, words, mm):
        return first, words
    return first, pgettext("of a match line", "at {distance}", distance=at)


def _up(job: Job, part: Box, height: float, sheet: int, mm: float) -> str:
    """Words at a level match line, fewer where the wall is narrow."""
    level = show(job, on_tape(job, height))
    words = gettext("on to sheet {sheet}, height {height}", sheet=sheet, height=level)
    return words if _wide_enough(part, words, mm) else gettext("on to sheet {sheet}", sheet=sheet)


def _wide_enough(part: Box, words: str, mm: float) -> bool:
    return text_width(words, HEIGHT) * mm <= part.width - 2.0 * mm
