"""Dimension strings of the openings: widths below the wall, heights beside it.

A string runs outside what it measures. Below the wall each string has two rows of lettering: over the line
the distances between openings, under it the openings themselves, named by their marks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from evencourse.layout.model.job import Job, Opening
from evencourse.render.drawing.drawing import Dimension, Leader, Mark
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import DIMENSION, LEADER
from evencourse.render.drawing.placement import fitted, spread
from evencourse.render.words.plan_words import on_tape, show

Along = Literal["x", "y"]
HEIGHT = 2.5
#: From the wall or the string before to the line, and what lettering beyond the line takes [mm].
NEAR, FAR = 5.2, 5.0
#: The same from string to string where lettering stands plumb [mm].
NEAR_PLUMB = 5.0
#: Tails of the dimension lines toward the wall [mm].
_TAIL = 0.6
_MARKS = 22.0
_AIR = 1.6
#: What the ticks at both ends of a dimension take of it [mm].
_TICKS = 2.8
_LEVEL, _FAR_LEVEL = 2.2, 3.2


@dataclass(frozen=True)
class StringPart:
    """One dimension of a string.

    Attributes:
        low: where it begins [job units].
        high: where it ends [job units].
        text: what it says.
        own: it measures an opening, not the wall between two.
        short: what it says where that is too long; empty when it has no shorter text.
    """

    low: float
    high: float
    text: str
    own: bool
    short: str = ""

    @property
    def middle(self) -> float:
        """Half-way between its ends."""
        return (self.low + self.high) / 2


@dataclass(frozen=True)
class String:
    """Dimensions on one line.

    Attributes:
        parts: in order.
        far: some carry their lettering on the side away from the wall.
    """

    parts: tuple[StringPart, ...]
    far: bool


def width_strings(job: Job, openings: Sequence[Opening], left: float, right: float) -> tuple[String, ...]:
    """Widths: from the left corner to the right one through the openings; the last string is the whole wall.

    Args:
        job: for units.
        openings: what is measured.
        left: x of the left end.
        right: x of the right end.
    """
    strings = []
    for row in _rows(openings, "x"):
        parts, at = [], left
        for (low, high), marks in row:
            if low - at > job.round / 2:
                parts.append(StringPart(at, low, _between(job, at, low), False))
            parts.append(StringPart(low, high, f"{marks}  {_between(job, low, high)}", True))
            at = high
        if right - at > job.round / 2:
            parts.append(StringPart(at, right, _between(job, at, right), False))
        strings.append(String(tuple(parts), True))
    return (*strings, String((StringPart(left, right, _between(job, left, right), False),), False))


def height_strings(job: Job, openings: Sequence[Opening]) -> tuple[String, ...]:
    """Heights of the holes, each named by its marks; how high they sit is in the edge column."""
    return tuple(
        String(
            tuple(
                StringPart(low, high, f"{marks}  {_between(job, low, high)}", False)
                for (low, high), marks in row
            ),
            False,
        )
        for row in _rows(openings, "y")
    )


def _between(job: Job, low: float, high: float) -> str:
    """A distance as the difference of two marks on the tape: strings add up to what they say."""
    return show(job, on_tape(job, high) - on_tape(job, low))


def _rows(openings: Sequence[Opening], along: Along) -> list[list[tuple[tuple[float, float], str]]]:
    """Openings sorted into strings: those of one string follow each other, or are measured alike."""
    spans: dict[tuple[float, float], list[str]] = {}
    for opening in sorted(openings, key=lambda hole: (hole.bottom, hole.left)):
        low, size = (opening.left, opening.width) if along == "x" else (opening.bottom, opening.height)
        spans.setdefault((round(low, 6), round(low + size, 6)), []).append(opening.mark)
    rows: list[list[tuple[float, float]]] = []
    for span in spans:
        for row in rows:
            if all(span[1] <= other[0] or span[0] >= other[1] for other in row):
                row.append(span)
                break
        else:
            rows.append([span])
    return [
        [(span, fitted(", ".join(dict.fromkeys(spans[span])), _MARKS, HEIGHT)) for span in sorted(row)]
        for row in rows
    ]


def depth(strings: Sequence[String], along: Along) -> float:
    """What strings take, one outside the other [mm]."""
    near = NEAR if along == "x" else NEAR_PLUMB
    return sum(near + (FAR if string.far else 0.0) for string in strings)


def crowded(strings: Sequence[String], mm: float, length: float) -> bool:
    """Whether a row of lettering is longer than the string that carries it.

    Args:
        strings: the strings.
        mm: drawing units in one millimetre of paper.
        length: of what is shown [job units].
    """
    for string in strings:
        for far in (False, True):
            row = [_shortened(part, mm) for part in string.parts if part.own == far]
            if sum(text_width(part.text, HEIGHT) + _AIR for part in row) * mm > length:
                return True
    return False


def string_marks(
    strings: Sequence[String], along: Along, base: float, mm: float, bounds: tuple[float, float]
) -> Iterator[Mark]:
    """Dimensions of strings, the first one nearest to what is measured.

    Args:
        strings: from the wall outward.
        along: ``x`` for strings below the wall, ``y`` for strings right of it.
        base: where the strings begin: a level below the wall, or an x right of it.
        mm: drawing units in one millimetre of paper.
        bounds: lettering keeps between these two [job units].
    """
    away = -1.0 if along == "x" else 1.0
    at = base
    for string in strings:
        at += away * (NEAR if along == "x" else NEAR_PLUMB) * mm
        for far in (False, True):
            row = [part for part in string.parts if part.own == far]
            row = [_shortened(part, mm) for part in row]
            sizes = [(text_width(part.text, HEIGHT) + _AIR) * mm for part in row]
            middles = spread([part.middle for part in row], sizes, *bounds)
            level = at + away * (_FAR_LEVEL if far else -_LEVEL) * mm
            for part, middle in zip(row, middles, strict=True):
                yield _dimension(part, along, at, (middle, level), away * mm)
                yield from _tie(part, middle, at, level, along, mm)
        if string.far:
            at += away * FAR * mm


def _shortened(part: StringPart, mm: float) -> StringPart:
    if part.short and (text_width(part.text, HEIGHT) + _TICKS) * mm > part.high - part.low:
        return StringPart(part.low, part.high, part.short, part.own)
    return part


def _dimension(part: StringPart, along: Along, at: float, place: tuple[float, float], mm: float) -> Dimension:
    """A part's dimension; its tails are short, so that no string strikes through another's lettering."""
    tail = at - _TAIL * mm
    middle, level = place
    if along == "x":
        ends, line, text_at, angle = (
            ((part.low, tail), (part.high, tail)),
            (part.low, at),
            (middle, level),
            0.0,
        )
    else:
        ends, line, text_at, angle = (
            ((tail, part.low), (tail, part.high)),
            (at, part.low),
            (level, middle),
            90.0,
        )
    return Dimension(DIMENSION, *ends, line, angle, part.text, HEIGHT, text_at, 0.0)


def _tie(part: StringPart, middle: float, at: float, level: float, along: Along, mm: float) -> Iterator[Mark]:
    """A leader to lettering that no longer stands over its own dimension."""
    reach = max(1.0 * mm, (part.high - part.low) / 2)
    if abs(part.middle - middle) < reach:
        return
    near = at + (level - at) * 0.3
    toward = middle + (part.middle - middle) * 0.3
    if along == "x":
        yield Leader(LEADER, ((part.middle, at), (toward, near)))
    else:
        yield Leader(LEADER, ((at, part.middle), (near, toward)))
