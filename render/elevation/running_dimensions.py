"""Running dimensions below the wall: how far each opening lies from the left corner, one string a storey.

Every value is read from the same corner, so that one tape hooked there finds all of them. Nothing is measured
to a match line: on a part of a wall the values go on as the whole wall has them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from evencourse.layout.language.speech import gettext, pgettext
from evencourse.layout.model.job import Fixture, Job, Opening
from evencourse.layout.model.roof import Roof
from evencourse.layout.model.tolerance import SAME
from evencourse.render.drawing.drawing import Dimension, Leader, Line, Mark, Text
from evencourse.render.drawing.flatten import GROUND, OVERSHOOT, TICK
from evencourse.render.drawing.fonts import descent, text_width
from evencourse.render.drawing.pens import DIMENSION, LEADER, TEXT
from evencourse.render.drawing.placement import Box, fitted, spread
from evencourse.render.words.plan_words import on_tape, show

#: Lettering of the values, the larger one where it has room, and of the marks over the line [mm].
_VALUES, _NAME = (3.5, 2.5), 2.5
#: From lettering to lettering in a row; the width of a mark at most, with what is said of it [mm].
_AIR, _NAMES, _LONGEST = 1.6, 16.0, 26.0
#: Letters that reach below their line, and how far [mm].
_TAILED, _TAIL = frozenset("gjpqyQ,;"), 0.6
#: From what stands above to the marks, from these to the line, from its ends to a value, and under that [mm].
_OVER, _TO_LINE, _TO_VALUE, _UNDER = 0.2, 1.2, 0.8, 0.2
#: Where extension lines begin under the wall, and what they keep off lettering that they pass [mm].
_FROM_WALL, _OFF = 1.0, 0.5
#: A value so near to its tick needs no line from one to the other; one farther off is lettered
#: smaller, and plumb at last [mm].
_NEAR, _FAR, _FARTHEST = 0.8, 2.5, 9.0
#: Marks stand between their values where all of these take no more than this share of a string.
_ROOMY = 0.6

Bounds = tuple[float, float]


@dataclass(frozen=True)
class RunningString:
    """The dimensions of a storey on one line.

    Attributes:
        values: where each is measured, and what the tape reads there, from the left [job units].
        names: the middle of each thing that is measured, and its mark.
        start: where the line begins [job units].
        origin: it begins at the corner that everything is measured from.
    """

    values: tuple[tuple[float, str], ...]
    names: tuple[tuple[float, str], ...]
    start: float
    origin: bool


@dataclass(frozen=True)
class _Style:
    """How the values of a string are lettered.

    Attributes:
        height: of the capitals [mm].
        plumb: they stand plumb.
        inline: each mark stands between its values, not over the line.
    """

    height: float
    plumb: bool
    inline: bool = False

    def along(self, text: str) -> float:
        """What a value takes of the string [mm]."""
        return self.height + 0.9 if self.plumb else text_width(text, self.height) + _AIR

    def deep(self, texts: Sequence[str]) -> float:
        """What values take below the line [mm]."""
        return (
            max((text_width(text, self.height) for text in texts), default=0.0) if self.plumb else self.height
        )


def running_strings(
    job: Job,
    openings: Sequence[Opening],
    fixtures: Sequence[Fixture],
    window: Box,
    wall: Box,
    steps: Sequence[float] = (),
    roofs: Sequence[Roof] = (),
) -> tuple[RunningString, ...]:
    """One string for every storey, from the bottom up; the lowest goes on to the right corner.

    Args:
        job: for units.
        openings: those that show; sides that a match line hides are left out.
        fixtures: likewise; they are measured to their middle.
        window: what is shown of the wall [job units].
        wall: the whole wall.
        steps: where its base steps; told on the lowest string [job units].
        roofs: that show, on a string of their own where it cannot be shared.
    """
    origin = window.left <= wall.left + SAME
    corner = window.right >= wall.right - SAME
    start = wall.left if origin else window.left
    rows = _storeys(openings, fixtures, steps, roofs)
    found = []
    for number, row in enumerate(rows or [[]]):
        values, names = [], []
        for low, high, mark in row:
            values += [
                x for x in dict.fromkeys((low, high)) if window.left - SAME <= x <= window.right + SAME
            ]
            middle = (max(low, window.left) + min(high, window.right)) / 2
            names.append((middle, fitted(mark, _LONGEST, _NAME, "bold")))
        if number == 0 and corner:
            values.append(wall.right)
        places = sorted({round(x, 6): x for x in values if x > wall.left + SAME}.values())
        if places:
            told = tuple((x, show(job, on_tape(job, x) - on_tape(job, wall.left))) for x in places)
            found.append(RunningString(told, tuple(names), start, origin))
    return tuple(found)


def _storeys(
    openings: Sequence[Opening], fixtures: Sequence[Fixture], steps: Sequence[float], roofs: Sequence[Roof]
) -> list[list[tuple[float, float, str]]]:
    """Things of one storey: each reaches lower than the lowest head of the others.

    A storey whose things lie between those of the one below shares its string.
    """
    rows: list[tuple[float, list[tuple[float, float, str]]]] = []
    for hole in sorted(openings, key=lambda hole: (hole.bottom, hole.left)):
        span = (hole.left, hole.right, hole.mark)
        if rows and hole.bottom < rows[-1][0] - SAME:
            rows[-1] = (min(rows[-1][0], hole.top), [*rows[-1][1], span])
        else:
            rows.append((hole.top, [span]))
    for item in fixtures:
        middle = (item.left + item.right) / 2
        level = (item.bottom + item.top) / 2
        place = next((at for at, (head, _) in enumerate(rows) if level < head), len(rows) - 1)
        if not rows:
            rows.append((item.top, []))
        name = gettext("{fixture} ctr", fixture=fitted(item.mark, _NAMES, _NAME, "bold"))
        rows[place][1].append((middle, middle, name))
    if steps:
        rows = rows or [(float("-inf"), [])]
        step = pgettext("in the base of a wall", "step")
        rows[0][1].extend((x, x, step) for x in steps)
    rows += [(float("inf"), [(roof.left, roof.right, roof.mark)]) for roof in roofs]
    shared: list[list[tuple[float, float, str]]] = []
    for _, row in rows:
        fewest = shared and min(len(shared[-1]), len(row)) <= 2
        if fewest and not any(low < b and high > a for low, high, _ in row for a, b, _ in shared[-1]):
            shared[-1] = [*shared[-1], *row]
        else:
            shared.append(row)
    return [sorted(row) for row in shared]


def strings_depth(strings: Sequence[RunningString], mm: float, bounds: Bounds) -> float:
    """What strings take below the wall [mm]."""
    return sum(_depth(string, _style(string, mm, bounds)) for string in strings)


def _depth(string: RunningString, style: _Style) -> float:
    return (
        _above(string, style)
        + OVERSHOOT
        + _TO_VALUE
        + style.deep([text for _, text in string.values])
        + _UNDER
    )


def _above(string: RunningString, style: _Style) -> float:
    return _OVER + _NAME + _TO_LINE if string.names and not style.inline else _OVER + TICK


def _style(string: RunningString, mm: float, bounds: Bounds) -> _Style:
    """The largest lettering with values near their ticks; else the smallest not too far off; else plumb."""
    room = (bounds[1] - bounds[0]) / mm
    names = sum(text_width(text, _NAME, "bold") + _AIR for _, text in string.names)
    level: _Style | None = None
    for height in _VALUES:
        style = _Style(height, False)
        values = sum(style.along(text) for _, text in string.values)
        if values > room:
            continue
        level = _Style(height, False, string.names != () and values + names <= _ROOMY * room)
        row = _row(string, level, 0.0, mm, bounds)
        off = max((0.0, *(abs(x - _held(x, box)) for x, _, name, box in row if not name)))
        if off <= _FAR * mm:
            return level
        level = level if off <= _FARTHEST * mm else None
    return level or _Style(_VALUES[-1], True)


def _held(x: float, box: Box) -> float:
    """The place of a box that is nearest to a tick."""
    return min(max(x, box.left), box.right)


def running_marks(
    strings: Sequence[RunningString], wall_left: float, base: float, mm: float, bounds: Bounds
) -> Iterator[Mark]:
    """Strings with their extension lines, the lowest storey nearest to the wall.

    Args:
        strings: from the wall outward.
        wall_left: x of the corner that everything is measured from [job units].
        base: the level below which they stand [job units].
        mm: drawing units in one millimetre of paper.
        bounds: lettering keeps between these two [job units].
    """
    passed: list[Box] = []
    top = base
    for string in strings:
        style = _style(string, mm, bounds)
        at = top - _above(string, style) * mm
        deep = style.deep([text for _, text in string.values]) * mm
        level = at - (OVERSHOOT + _TO_VALUE) * mm - deep / 2
        if not style.inline:
            yield from _names(string, at, mm, bounds, passed)
        if string.origin:
            stretches = _clear(wall_left, base - _FROM_WALL * mm, at, passed, mm)
            yield from (Line(DIMENSION, (wall_left, high), (wall_left, low)) for high, low in stretches)
        else:
            yield Line(DIMENSION, (string.start, at), (string.values[-1][0], at))
        boxes = []
        for x, text, name, box in _row(string, style, level, mm, bounds):
            place = ((box.left + box.right) / 2, level)
            # Extension lines keep off the tails of its letters, too.
            tail = descent(text) * _NAME * mm if name else 0.0
            boxes.append(replace(box, bottom=box.bottom - tail))
            if name:
                yield Text(TEXT, place, text, _NAME, "middle", "middle", weight="bold", ground=True)
                continue
            tails = list(_clear(x, base - _FROM_WALL * mm, at, passed, mm))
            yield from (Line(DIMENSION, (x, high), (x, low)) for high, low in tails[:-1])
            yield from _value(string, style, (x, tails[-1][0]), text, place, at, wall_left, mm)
            yield from _tie(x, box, at, mm)
        passed += boxes
        top = at - (OVERSHOOT + _TO_VALUE + _UNDER) * mm - deep


def _row(
    string: RunningString, style: _Style, level: float, mm: float, bounds: Bounds
) -> Iterator[tuple[float, str, bool, Box]]:
    """Values, and marks that stand between them, spread along a level: where, what it says, its box."""
    items = [(x, text, False, style.along(text)) for x, text in string.values]
    if style.inline:
        items += [(x, text, True, text_width(text, _NAME, "bold") + _AIR) for x, text in string.names]
    items.sort(key=lambda item: (item[0], not item[2]))  # "L1 center 4' 2": what is measured, then where
    middles = spread([item[0] for item in items], [item[3] * mm for item in items], *bounds)
    for (x, text, name, _), middle in zip(items, middles, strict=True):
        size = text_width(text, _NAME, "bold") if name else text_width(text, style.height)
        half, tall = size / 2 * mm, (_NAME if name else style.height) / 2 * mm
        half, tall = (tall, half) if style.plumb and not name else (half, tall)
        yield x, text, name, Box(middle - half, level - tall, middle + half, level + tall)


def _names(string: RunningString, at: float, mm: float, bounds: Bounds, passed: list[Box]) -> Iterator[Mark]:
    """Marks over the line; extension lines of the strings below keep off them."""
    names = sorted(string.names)
    sizes = [(text_width(text, _NAME, "bold") + _AIR) * mm for _, text in names]
    for (_, text), middle in zip(names, spread([x for x, _ in names], sizes, *bounds), strict=True):
        # What reaches below the line of letters stands clear of the ticks, too.
        tail = _TAIL if any(letter in _TAILED for letter in text) else 0.0
        foot = at + (_TO_LINE + tail) * mm
        half = text_width(text, _NAME, "bold") / 2 * mm
        passed.append(Box(middle - half, foot - tail * mm, middle + half, foot + _NAME * mm))
        yield Text(TEXT, (middle, foot), text, _NAME, "middle", weight="bold", ground=True)


def _value(
    string: RunningString,
    style: _Style,
    tail: tuple[float, float],
    text: str,
    place: tuple[float, float],
    at: float,
    wall_left: float,
    mm: float,
) -> Iterator[Mark]:
    x, high = tail
    if string.origin:
        # A true dimension from the corner, for whoever takes the drawing further.
        first = at + TICK * mm
        dimension = Dimension(
            DIMENSION, (wall_left, first), (x, high), (wall_left, at), 0.0, text, style.height, place, 0.0,
            turned=style.plumb,
        )  # fmt: skip
        yield dimension
        return
    yield Line(DIMENSION, (x, high), (x, at - OVERSHOOT * mm))
    tick = TICK * 0.5**0.5 * mm
    yield Line(DIMENSION, (x - tick, at - tick), (x + tick, at + tick))
    angle = 90.0 if style.plumb else 0.0
    yield Text(DIMENSION, place, text, style.height, "middle", "middle", angle, ground=True)


def _tie(x: float, box: Box, at: float, mm: float) -> Iterator[Mark]:
    """A short line from a tick to a value that no longer stands under it."""
    if abs(x - _held(x, box)) <= _NEAR * mm:
        return
    end = (min(max(x, box.left + 0.5 * mm), box.right - 0.5 * mm), box.top + GROUND * mm)
    yield Leader(LEADER, ((x, at - OVERSHOOT * 0.8 * mm), end))


def _clear(
    x: float, high: float, low: float, passed: Sequence[Box], mm: float
) -> Iterator[tuple[float, float]]:
    """What is left of an extension line from one level down to another, off the lettering that it passes."""
    top, off = high, _OFF * mm
    for box in sorted(passed, key=lambda box: -box.top):
        if box.left - off < x < box.right + off and low < box.top and box.bottom < top:
            if top > box.top + off:
                yield top, box.top + off
            top = min(top, box.bottom - off)
    yield max(top, low), low
