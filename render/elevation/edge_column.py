"""The edge column: what the crew does at each edge, right of the wall, level with what it speaks of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from evencourse.layout.language.speech import gettext, ngettext, pgettext
from evencourse.layout.model.course_plan import Edge, ElevationPlan, Plan, Result
from evencourse.layout.model.job import Fixture, Job
from evencourse.layout.model.tolerance import SAME
from evencourse.render.drawing.drawing import Dimension, Leader, Line, Mark, Path, Point, Text
from evencourse.render.drawing.fonts import LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.pens import LADDER, LEADER, NOTE, SLIVER, STARTER, Pen
from evencourse.render.drawing.placement import Box, box_of, fitted, spread, text_box
from evencourse.render.elevation.edge_signs import SIGN_WIDTH, numbered, sign
from evencourse.render.words.plan_words import edge_subject, kind_words, level_words, on_tape, show

HEIGHT = 2.5
#: From the rail to the signs, and from the signs to the words [mm].
LEAD, INDENT = 4.5, SIGN_WIDTH + 1.2
_LINE = HEIGHT * LEADING_RATIO
_BETWEEN = 1.6
#: Of a leader: from the wall to its beginning; how far it slants to pass lettering, and what it keeps off
#: that; farther aside none begins at the wall [mm].
_FROM, _SLANT, _PAST, _ASIDE = 0.4, 1.8, 0.5, 5.0
#: Fewer letters than this are not left alone on a subject's line.
_SHORTEST = 6
#: Least width of a column under a drawing, and from one to the next [mm].
_COLUMN, _GUTTER = 76.0, 6.0


@dataclass(frozen=True)
class Entry:
    """One entry of the column.

    Attributes:
        height: the level it speaks of [job units].
        subject: its first words, heavy.
        words: the rest.
        result: its sign; None for none.
        number: number of a sliver; 0 for none.
        pen: its lettering.
        told: it tells what to do: an edge that is not met, a base of several.
    """

    height: float
    subject: str
    words: str
    result: Result | None = None
    number: int = 0
    pen: Pen = NOTE
    told: bool = True


@dataclass(frozen=True)
class Setting:
    """An entry set in lines.

    Attributes:
        subject: its first words, or the last line of them.
        first: what follows them on that line; empty when nothing does.
        rest: the lines below.
        over: the lines above, of first words that are longer than a line.
    """

    subject: str
    first: str
    rest: tuple[str, ...]
    over: tuple[str, ...] = ()

    @property
    def count(self) -> int:
        """How many lines there are."""
        return len(self.over) + 1 + len(self.rest)


@dataclass(frozen=True)
class EdgeColumn:
    """Entries set in lines.

    Attributes:
        width: of the words [mm].
        entries: from the bottom up.
        lines: how each is set.
        levels: middle of the first line of each [mm from the datum].
        low: lowest level that is covered [mm from the datum].
        high: highest.
    """

    width: float
    entries: tuple[Entry, ...]
    lines: tuple[Setting, ...]
    levels: tuple[float, ...]
    low: float
    high: float


def sliver_numbers(acts: Mapping[Edge, str], plan: Plan) -> dict[Edge, int]:
    """Slivers numbered from the top down; those that share an entry share a number.

    Args:
        acts: edges, and what to do at each.
        plan: the plan.
    """
    numbers: dict[Edge, int] = {}
    seen: dict[tuple[object, ...], int] = {}
    for edge in sorted(acts, key=lambda edge: (-edge.height, edge.left)):
        if edge.result == "sliver":
            numbers[edge] = seen.setdefault(_same(edge, acts[edge], plan), len(seen) + 1)
    return numbers


def _same(edge: Edge, act: str, plan: Plan) -> tuple[object, ...]:
    chord = edge.chord and round(edge.chord[1] - edge.chord[0], 6)
    plain = edge.opening is None
    return (
        edge.edge, plain, round(edge.height, 6), edge.result, edge.course_set, edge.course, chord,
        act, edge.importance == "must" and edge.result != "flush",
    )  # fmt: skip


def entries(acts: Mapping[Edge, str], plan: Plan, numbers: dict[Edge, int]) -> tuple[Entry, ...]:
    """Edges, with what to do at each, as entries; those of one height and one fate share an entry."""
    groups: dict[tuple[object, ...], list[Edge]] = {}
    for edge, act in acts.items():
        groups.setdefault(_same(edge, act, plan), []).append(edge)
    found = []
    stepped = len({edge.height for edge in acts if edge.edge == "base"}) > 1
    for group in groups.values():
        first = group[0]
        height = show(plan.job, first.height)
        words = height
        if first.result != "flush" or first.edge == "base":
            words = gettext("{height}: {action}", height=height, action=acts[first])
        if first.importance == "must" and first.result != "flush":
            words = gettext("{words} (must, missed)", words=words)
        told = first.result != "flush" or (stepped and first.edge == "base")
        said = (first.height, _subject(group), words, first.result, numbers.get(first, 0))
        found.append(Entry(*said, told=told))
    return tuple(found)


def _subject(edges: Sequence[Edge]) -> str:
    first = edges[0]
    if first.opening is None and first.roof is None:
        count, edge = len(edges), edge_subject(first)
        if count == 1:
            return edge
        return ngettext("{edge}, {count} place", "{edge}, {count} places", count, edge=edge)
    if first.roof is not None:
        return kind_words(first.edge, None, _marks(e.roof or "" for e in edges))
    return kind_words(first.edge, _marks(e.opening or "" for e in edges))


def _marks(marks: Iterable[str]) -> str:
    return ", ".join(fitted(mark, 24.0, HEIGHT, "bold") for mark in dict.fromkeys(marks))


def column(
    found: Sequence[Entry], factor: float, width: float, low: float | None, high: float | None
) -> EdgeColumn:
    """Set entries in lines and spread them only as far as they must.

    Args:
        found: entries in any order.
        factor: millimetres of paper for one drawing unit.
        width: of the words [mm].
        low: nothing reaches below this level [mm from the datum].
        high: nothing reaches above this level [mm from the datum].

    Returns:
        The column; its ``low`` lies under the bound when there was no room.
    """
    ordered = sorted(found, key=lambda entry: entry.height)
    lines = tuple(setting(entry, width) for entry in ordered)
    # An entry hangs from its first line: its middle for spreading lies lower.
    sizes = [rows.count * _LINE + _BETWEEN for rows in lines]
    drops = [(rows.count - 1) * _LINE / 2 for rows in lines]
    wanted = [entry.height * factor - drop for entry, drop in zip(ordered, drops, strict=True)]
    if low is not None and high is not None:
        low = min(low, high - sum(sizes))
    middles = spread(wanted, sizes, low, high)
    levels = tuple(middle + drop for middle, drop in zip(middles, drops, strict=True))
    if not levels:
        return EdgeColumn(width, (), (), (), float("inf"), float("-inf"))
    bottom = middles[0] - sizes[0] / 2
    top = middles[-1] + sizes[-1] / 2
    return EdgeColumn(width, tuple(ordered), lines, levels, bottom, top)


def setting(entry: Entry, width: float) -> Setting:
    """An entry in lines no wider than ``width`` [mm]; the subject leads the first one."""
    *over, subject = wrap(entry.subject, width, HEIGHT, "bold")
    if not entry.words:
        return Setting(subject, "", (), tuple(over))
    room = width - _lead(subject)
    first = wrap(entry.words, room, HEIGHT)[0] if room > 0 else ""
    broken = entry.words[len(first) : len(first) + 1] not in ("", " ")  # inside a word or a tape reading
    if (
        broken
        or room <= 0
        or text_width(first, HEIGHT) > room
        or len(first) < min(_SHORTEST, len(entry.words))
    ):
        return Setting(subject, "", tuple(wrap(entry.words, width, HEIGHT)), tuple(over))
    rest = entry.words[len(first) :].strip()
    return Setting(subject, first, tuple(wrap(rest, width, HEIGHT)) if rest else (), tuple(over))


def _lead(subject: str) -> float:
    return text_width(subject + "  ", HEIGHT, "bold")


def column_marks(
    col: EdgeColumn,
    rail: float,
    factor: float,
    sides: Sequence[float | None] = (),
    boxes: Sequence[Box] = (),
) -> Iterator[Mark]:
    """Leaders that never cross, from the wall's side at each level where that is free, signs and words.

    Args:
        col: the column.
        rail: x of the rail, where leaders leave their levels.
        factor: millimetres of paper for one drawing unit.
        sides: x of the wall's side at the level of each entry; None where nothing leads there straight.
        boxes: what leaders pass over or under.
    """
    mm = 1 / factor
    at, words = rail + LEAD * mm, rail + (LEAD + INDENT) * mm
    heights = [entry.height for entry in col.entries]
    ways = _ways(heights, sides or [None] * len(heights), rail + 1.2 * mm, boxes, mm)
    for entry, lines, level, way in zip(col.entries, col.lines, col.levels, ways, strict=True):
        y = level * mm
        if not way:
            yield Line(LADDER, (rail - 1.2 * mm, entry.height), (rail + 1.2 * mm, entry.height))
        yield Leader(LEADER, (*(way or [(rail + 1.2 * mm, entry.height)]), (at - 1.0 * mm, y)))
        yield from _entry(entry, lines, at, (words, y), mm)


def _ways(
    heights: Sequence[float], sides: Sequence[float | None], rail: float, boxes: Sequence[Box], mm: float
) -> list[list[Point]]:
    """From the wall's side at each height to the rail, past what stands there; empty where no way is."""
    passes: list[float] = []
    for height, side in zip(heights, sides, strict=True):
        low = high = height
        spans = [
            (box.bottom - _PAST * mm, box.top + _PAST * mm)
            for box in boxes
            if side is not None and box.right > side + SAME and box.left < rail
        ]
        for _ in spans:  # what stands over and under each other is passed as one
            met = [span for span in spans if span[0] < high + SAME and span[1] > low - SAME]
            low, high = min([low, *(span[0] for span in met)]), max([high, *(span[1] for span in met)])
        passes.append(high if high - height < height - low else low)
    for index in range(1, len(passes)):  # those that pass on one side keep their order
        if passes[index] > heights[index] and heights[index] > heights[index - 1] + SAME:
            passes[index] = max(passes[index], passes[index - 1] + _PAST * mm)
    for index in range(len(passes) - 2, -1, -1):
        if passes[index] < heights[index] < heights[index + 1] - SAME:
            passes[index] = min(passes[index], passes[index + 1] - _PAST * mm)
    ways: list[list[Point]] = []
    for height, side, level in zip(heights, sides, passes, strict=True):
        if side is None or abs(level - height) > _ASIDE * mm or side > rail - _SLANT * mm:
            ways.append([])
            continue
        start = side + _FROM * mm
        bend = (start + _SLANT * mm, level)
        slanting = box_of(((start, height), bend))
        if level == height:
            ways.append([(start, height)])
        elif any(box.height > SAME and box.meets(slanting) for box in boxes):  # no room to slant before it
            ways.append([])
        else:
            ways.append([(start, height), bend])
    return [[*way, (rail, level)] if way else way for way, level in zip(ways, passes, strict=True)]


def passed(marks: Iterable[Mark], mm: float) -> tuple[Box, ...]:
    """What leaders pass over or under: lettering, signs and level lines; ``mm`` units to the millimetre."""
    found: list[Box] = []
    for mark in marks:
        if isinstance(mark, Text) and mark.angle == 0.0:
            x, y = mark.at
            y -= {"baseline": 0.0, "middle": mark.height / 2, "cap": mark.height}[mark.vertical] * mm
            found.append(text_box((x, y), mark.text, mark.height, mm, mark.weight, mark.horizontal))
        elif isinstance(mark, Dimension) and mark.text_at is not None:
            (x, y), wide, tall = (
                mark.text_at,
                text_width(mark.text, mark.height) / 2 * mm,
                mark.height / 2 * mm,
            )
            if mark.text_angle:
                wide, tall = tall, wide
            found.append(Box(x - wide, y - tall, x + wide, y + tall))
        elif isinstance(mark, Path):
            found.append(box_of(mark.points))
        elif isinstance(mark, Line) and mark.start[1] == mark.end[1]:
            found.append(box_of((mark.start, mark.end)))
    return tuple(found)


def _entry(entry: Entry, lines: Setting, at: float, words: Point, mm: float) -> Iterator[Mark]:
    """A sign with the words beside it."""
    x, y = words
    centre = (at + SIGN_WIDTH / 2 * mm, y)
    if entry.number:
        yield from numbered(centre, entry.number, mm)
    elif entry.result is not None:
        yield from sign(entry.result, centre, mm)
    pen = SLIVER if entry.result == "sliver" else entry.pen
    for line in lines.over:
        yield Text(pen, (x, y), line, HEIGHT, "start", "middle", weight="bold")
        y -= _LINE * mm
    yield Text(pen, (x, y), lines.subject, HEIGHT, "start", "middle", weight="bold")
    if lines.first:
        at = x + _lead(lines.subject) * mm
        yield Text(entry.pen, (at, y), lines.first, HEIGHT, "start", "middle")
    for index, line in enumerate(lines.rest, start=1):
        yield Text(entry.pen, (x, y - index * _LINE * mm), line, HEIGHT, "start", "middle")


def starter_entries(plan: Plan, face: ElevationPlan) -> tuple[Entry, ...]:
    """The starter line of each cladding over another one: the lowest is dimensioned beside the wall."""
    job = plan.job
    found = []
    for name in list(dict.fromkeys(zone.course_set for zone in face.zones))[1:]:
        course_set = plan.course_sets[name]
        starter = course_set.lines.starter
        words = level_words(job, starter)
        drop, chalk = course_set.cladding.starter_drop, course_set.chalk_line
        if on_tape(job, drop) > 0 and chalk is not None:
            words = gettext("{starter}; chalk line {level}", starter=words, level=level_words(job, chalk))
        subject = pgettext("line of the lowest course", "Starter")
        if course_set.prefix:
            subject = gettext("Starter {course_set}", course_set=course_set.prefix)
        found.append(Entry(starter, subject, words, pen=STARTER))
    return tuple(found)


def fixture_entry(job: Job, item: Fixture) -> Entry:
    """How high the middle of a fixture lies."""
    level = (item.bottom + item.top) / 2
    subject = gettext("{fixture} ctr", fixture=fitted(item.mark, 24.0, HEIGHT, "bold"))
    return Entry(level, subject, show(job, level))


@dataclass(frozen=True)
class EdgeBlock:
    """Entries set in columns under a drawing that has no room for them at its right.

    Attributes:
        columns: left of each [mm], and its entries from the top.
        height: what they take [mm].
    """

    columns: tuple[tuple[float, tuple[tuple[Entry, Setting], ...]], ...]
    height: float

    def marks(self, left: float, top: float) -> Iterator[Mark]:
        """The entries, from the upper left corner of the block [mm]."""
        for x, column in self.columns:
            y = top - _LINE / 2 - 0.4
            for entry, lines in column:
                yield from _entry(entry, lines, left + x, (left + x + INDENT, y), 1.0)
                y -= lines.count * _LINE + _BETWEEN


def edge_block(found: Sequence[Entry], width: float) -> EdgeBlock:
    """Entries that tell what to do, the highest first, in as many columns as a width has [mm]."""
    told = sorted((entry for entry in found if entry.told), key=lambda entry: -entry.height)
    count = max(1, min(len(told), int(width / _COLUMN)))
    wide = (width - (count - 1) * _GUTTER) / count
    set_in = [(entry, setting(entry, wide - INDENT)) for entry in told]
    total = sum(lines.count * _LINE + _BETWEEN for _, lines in set_in)
    columns: list[list[tuple[Entry, Setting]]] = [[]]
    filled = [0.0]
    for entry, lines in set_in:
        tall = lines.count * _LINE + _BETWEEN
        if columns[-1] and filled[-1] + tall / 2 > total / count and len(columns) < count:
            columns.append([])
            filled.append(0.0)
        columns[-1].append((entry, lines))
        filled[-1] += tall
    placed = tuple(
        (place * (wide + _GUTTER), tuple(column)) for place, column in enumerate(columns) if column
    )
    return EdgeBlock(placed, max(filled) + 0.8 if placed else 0.0)
