"""Tables in columns of a sheet: their rows and headings, set for a width, their head over every column.

Nothing is ever wider than its cell: lettering wraps where its column may, else it is shortened and says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import Literal

from evencourse.layout.language.speech import beside, gettext, pgettext
from evencourse.layout.model.course_plan import Result
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.render.drawing.drawing import Line, Mark, Text, Weight
from evencourse.render.drawing.fonts import LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.pens import ROW_RULE, SECOND, TEXT, TITLE, TITLE_THIN, Pen
from evencourse.render.drawing.placement import ELLIPSIS, fitted
from evencourse.render.drawing.text_lines import clear_leading
from evencourse.render.elevation.edge_signs import SIGN_WIDTH, sign
from evencourse.render.sheets.flow import ColumnItem

#: Heights of lettering: headings, columns read at arm's length, the rest [mm].
HEADING, LARGE, SMALL = 3.5, 3.5, 2.5
#: Between columns, above and below a row's lettering [mm].
_GAP, _AIR = 4.0, 1.3
#: Above a heading inside a block, and the least width of a column that wraps [mm].
_OVER_HEADING, _NARROWEST = 3.2, 34.0
#: A dense table: air, above a heading, leading for lettering of height 1, between columns [mm].
_DENSE_AIR, _DENSE_OVER, _DENSE_LEADING, _DENSE_GAP = 0.9, 1.6, 1.6, 2.2
#: From a heading to the note behind it [mm].
_TO_NOTE = 4.0
#: Most lines of one cell: what is longer is shortened and says so.
_MOST_LINES = 24


@dataclass(frozen=True)
class SheetCell:
    """What stands in one column of a row.

    Attributes:
        text: what it says.
        pen: its lettering.
        weight: regular or bold.
        sign: a sign of an edge's result, before the text.
    """

    text: str = ""
    pen: Pen = TEXT
    weight: Weight = "regular"
    sign: Result | None = None


@dataclass(frozen=True)
class SheetColumn:
    """One column of a table.

    Attributes:
        title: its head.
        second: the same in the second language, under it; empty for none.
        side: where its lettering starts or ends.
        height: of its lettering [mm].
        wraps: its lettering takes several lines where it must; it gets what room is left.
        most: greatest width of a column that does not wrap [mm].
    """

    title: str
    side: Literal["start", "end"] = "start"
    height: float = SMALL
    wraps: bool = False
    most: float = 60.0
    second: str = ""


def in_both(columns: Callable[[], Sequence[SheetColumn]]) -> tuple[SheetColumn, ...]:
    """Columns with their heads in both languages, where two are spoken."""
    first, second = columns(), beside(columns)
    seconds = [one.title for one in second] if second is not None else [""] * len(first)
    return tuple(replace(one, second=title) for one, title in zip(first, seconds, strict=True))


@dataclass(frozen=True)
class Section:
    """Rows under one heading.

    Attributes:
        heading: repeated where the rows go on in another block; empty for none.
        rows: a cell for every column of the table.
        note: behind the heading, in small lettering.
        second: the heading in the second language, behind it where that has room; empty for none.
    """

    heading: str
    rows: tuple[tuple[SheetCell, ...], ...]
    note: str = ""
    second: str = ""


@dataclass(frozen=True)
class Table:
    """What a table says.

    Attributes:
        columns: from the left.
        sections: from the top.
        dense: rows and lines stand as close as can be read in the hand.
    """

    columns: tuple[SheetColumn, ...]
    sections: tuple[Section, ...]
    dense: bool = False

    @property
    def air(self) -> float:
        """Above and below a row's lettering [mm]."""
        return _DENSE_AIR if self.dense else _AIR

    @property
    def leading(self) -> float:
        """From line to line in a row, for lettering of height 1."""
        return _DENSE_LEADING if self.dense else LEADING_RATIO

    @property
    def over(self) -> float:
        """Above a heading inside a block [mm]."""
        return _DENSE_OVER if self.dense else _OVER_HEADING

    @property
    def gap(self) -> float:
        """Between columns [mm]."""
        return _DENSE_GAP if self.dense else _GAP


@dataclass(frozen=True)
class _Row:
    """A row, or a heading, set in lines.

    Attributes:
        cells: lines of each cell; a heading has one cell.
        height: what it takes [mm].
        drop: from its top to the first baseline [mm].
        source: the cells as they were given; empty for a heading.
        section: which section it belongs to.
        first: how many of the table's head's lines are in the first language.
    """

    cells: tuple[tuple[str, ...], ...]
    height: float
    drop: float
    source: tuple[SheetCell, ...]
    section: int
    first: int = 0


@dataclass(frozen=True)
class _Setting:
    """A table set for a width.

    Attributes:
        table: what is set.
        lefts: left of each column, from the left [mm].
        widths: of each column [mm].
        width: of everything [mm].
    """

    table: Table
    lefts: tuple[float, ...]
    widths: tuple[float, ...]
    width: float

    @cached_property
    def heading_height(self) -> float:
        """Of the lettering of all headings [mm]: smaller where one of them has no room."""
        headings = (section.heading for section in self.table.sections if section.rows)
        widest = max((text_width(words, HEADING, "bold") for words in headings), default=0.0)
        return HEADING if widest <= self.width else SMALL

    @cached_property
    def head(self) -> _Row:
        """The table's head."""
        columns = list(zip(self.table.columns, self.widths, strict=True))
        cells = [wrap(column.title, width, SMALL) for column, width in columns]
        first = max(len(cell) for cell in cells)
        if any(column.second for column, _ in columns):
            seconds = [wrap(column.second, width, SMALL) for column, width in columns]
            cells = [
                [*cell, *[""] * (first - len(cell)), *second]
                for cell, second in zip(cells, seconds, strict=True)
            ]
        lines = max(len(cell) for cell in cells)
        leading = SMALL * max(clear_leading(cell, self.table.leading) for cell in cells)
        height = SMALL + (lines - 1) * leading + 2 * _AIR
        return _Row(tuple(map(tuple, cells)), height, _AIR + SMALL, (), -1, first)

    def row(self, cells: Sequence[SheetCell], section: int) -> _Row:
        """A row set in lines."""
        set_cells, tallest, below = [], 0.0, 0.0
        for cell, column, width in zip(cells, self.table.columns, self.widths, strict=True):
            lines = _lines(cell, column, width)
            set_cells.append(lines)
            tallest = max(tallest, column.height if lines else 0.0)
            below = max(below, (len(lines) - 1) * column.height * clear_leading(lines, self.table.leading))
        air = self.table.air
        return _Row(tuple(set_cells), tallest + below + 2 * air, air + tallest, tuple(cells), section)

    def heading(self, section: int, goes_on: bool) -> _Row:
        """A section's heading."""
        found = self.table.sections[section]
        words = gettext("{heading}, continued", heading=found.heading) if goes_on else found.heading
        size = self.heading_height
        under: list[str] = []
        if text_width(words, size, "bold") > self.width:
            words = found.heading
            under += [pgettext("under a heading", "continued")] if goes_on else []
        text, air = fitted(words, self.width, size, "bold"), self.table.air
        over = self.table.over if not goes_on else self.table.over / 2
        if found.note and not self.note_beside(found, text):
            under += wrap(found.note, self.width, SMALL)
        elif found.second:
            whole = f"{text} / {found.second}"
            room = self.width if not found.note else self.width - _TO_NOTE - text_width(found.note, SMALL)
            text = whole if text_width(whole, size, "bold") <= room else text
        below = len(under) * SMALL * clear_leading(under, self.table.leading)
        return _Row(((text,), tuple(under)), over + size + below + 2 * air, over + air + size, (), section)

    def note_beside(self, section: Section, heading: str) -> bool:
        """Whether a section's note has room behind its heading; else it stands under it."""
        used = text_width(heading, self.heading_height, "bold") + _TO_NOTE
        return used + text_width(section.note, SMALL) <= self.width


def _setting(table: Table, width: float, squeezed: bool) -> _Setting | None:
    """A table set for a width; None when that is too narrow and it may not be squeezed."""
    natural = [_natural(table, index) for index in range(len(table.columns))]
    room = width - table.gap * (len(table.columns) - 1)
    wrapping = [index for index, column in enumerate(table.columns) if column.wraps]
    fixed = sum(size for index, size in enumerate(natural) if index not in wrapping)
    least = [min(natural[index], _NARROWEST) for index in wrapping]
    if fixed + sum(least) > room:
        if not squeezed:
            return None
        squeeze = max(0.0, room - sum(least)) / max(ROUNDING, fixed)
        natural = [size * squeeze for size in natural]
        shared = least
    else:
        shared = _shared([natural[index] for index in wrapping], least, room - fixed)
    for index, size in zip(wrapping, shared, strict=True):
        natural[index] = size
    lefts, x = [], 0.0
    for size in natural:
        lefts.append(x)
        x += size + table.gap
    return _Setting(table, tuple(lefts), tuple(natural), width)


def _shared(wanted: Sequence[float], least: Sequence[float], room: float) -> list[float]:
    """Widths of columns that wrap: the modest ones get what they want, the others share what is left."""
    found = [0.0] * len(wanted)
    left = room
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    for place, index in enumerate(order):
        even = left / (len(order) - place)
        later = sum(least[other] for other in order[place + 1 :])
        found[index] = min(wanted[index], max(even, least[index]), left - later)
        left -= found[index]
    return found


def _natural(table: Table, index: int) -> float:
    """The width that a column would like to have [mm]."""
    column = table.columns[index]
    words = f"{column.title} {column.second}".split()
    widest = max((text_width(word, SMALL) for word in words), default=0.0)
    for section in table.sections:
        for row in section.rows:
            cell = row[index]
            lead = SIGN_WIDTH + 1.0 if cell.sign else 0.0
            widest = max(widest, lead + max(_widths(cell, column), default=0.0))
    return widest + 0.01 if column.wraps else min(widest + 0.01, column.most)


def _widths(cell: SheetCell, column: SheetColumn) -> Iterator[float]:
    for line in cell.text.split("\n"):
        yield text_width(line, column.height, cell.weight)


def _lines(cell: SheetCell, column: SheetColumn, width: float) -> tuple[str, ...]:
    room = width - (SIGN_WIDTH + 1.0 if cell.sign else 0.0)
    if not cell.text and not cell.sign:
        return ()
    if not column.wraps:
        return (fitted(cell.text, room, column.height, cell.weight),)
    lines = wrap(cell.text, room, column.height, cell.weight)
    if len(lines) > _MOST_LINES:
        last = fitted(lines[_MOST_LINES - 1] + ELLIPSIS * 2, room, column.height, cell.weight)
        lines = [*lines[: _MOST_LINES - 1], last]
    return tuple(lines)


def table_items(table: Table, width: float, squeezed: bool) -> list[ColumnItem] | None:
    """A table's rows for columns of a width, its head over each column that they begin.

    Args:
        table: what it says.
        width: of a column [mm].
        squeezed: its words are shortened where the column is too narrow.

    Returns:
        Nothing to draw for a table without rows; None where the column is too narrow.
    """
    setting = _setting(table, width, squeezed)
    return _items(setting) if setting is not None else None


def _items(setting: _Setting) -> list[ColumnItem]:
    """Rows and headings of a set table; a heading is repeated where its rows go on."""
    head = ColumnItem(setting.head.height, partial(_drawn_head, setting), heading=True)
    found = [head]
    for number, section in enumerate(setting.table.sections):
        rows = [setting.row(cells, number) for cells in section.rows]
        if not rows:
            continue
        again = [head]
        if section.heading:
            first, later = (setting.heading(number, goes_on) for goes_on in (False, True))
            found.append(
                ColumnItem(first.height, partial(_heading, setting, first), heading=True, again=(head,))
            )
            again.append(ColumnItem(later.height, partial(_heading, setting, later)))
        for index, row in enumerate(rows):
            pen = TITLE_THIN if index == len(rows) - 1 else ROW_RULE
            draw, alone = partial(_drawn_row, setting, row, pen), index == 0 and len(rows) > 1
            found.append(ColumnItem(row.height, draw, alone, tuple(again)))  # no first row ends a column
    return found if len(found) > 1 else []


def _drawn_head(setting: _Setting, left: float, top: float) -> Iterator[Mark]:
    yield from _cells(setting, setting.head, left, top)
    y = top - setting.head.height
    yield Line(TITLE, (left, y), (left + setting.width, y))


def _drawn_row(setting: _Setting, row: _Row, pen: Pen, left: float, top: float) -> Iterator[Mark]:
    yield from _cells(setting, row, left, top)
    y = top - row.height
    yield Line(pen, (left, y), (left + setting.width, y))


def _heading(setting: _Setting, row: _Row, left: float, top: float) -> Iterator[Mark]:
    (text,), under = row.cells
    y = top - row.drop
    size = setting.heading_height
    yield Text(TEXT, (left, y), text, size, weight="bold")
    section = setting.table.sections[row.section]
    if section.note and setting.note_beside(section, text):
        yield Text(TEXT, (left + text_width(text, size, "bold") + _TO_NOTE, y), section.note, SMALL)
    leading = SMALL * clear_leading(under, setting.table.leading)
    for index, line in enumerate(under, start=1):
        yield Text(TEXT, (left, y - index * leading), line, SMALL)


def _cells(setting: _Setting, row: _Row, left: float, top: float) -> Iterator[Mark]:
    sources = row.source or tuple(SheetCell(weight="regular") for _ in row.cells)
    for lines, cell, column, at, width in zip(
        row.cells, sources, setting.table.columns, setting.lefts, setting.widths, strict=True
    ):
        start = left + at
        height = column.height if row.source else SMALL
        if cell.sign is not None:
            centre = (start + SIGN_WIDTH / 2, top - row.drop + height / 2)
            yield from sign(cell.sign, centre, 1.0)
            start += SIGN_WIDTH + 1.0
        x = left + at + width if column.side == "end" else start
        leading = height * clear_leading(lines, setting.table.leading)
        for index, line in enumerate(lines):
            y = top - row.drop - index * leading
            pen = SECOND if 0 < row.first <= index else cell.pen
            if line:
                yield Text(pen, (x, y), line, height, column.side, weight=cell.weight)
