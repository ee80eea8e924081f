"""Tables on sheets: as many columns of rows beside each other, and as many sheets, as they take.

A table flows down a block, on into the next block, and on to the next sheet; every block has its head.
Nothing is ever wider than its cell: lettering wraps where its column may, else it is shortened and says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import repeat
from typing import Literal

from evencourse.layout.model.course_plan import Plan, Result
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.render.drawing.drawing import Line, Mark, Sheet, Text, Weight
from evencourse.render.drawing.fonts import ASCENT_RATIO, LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.papers import Paper, paper
from evencourse.render.drawing.pens import FACE, TEXT, TITLE, TITLE_THIN, Pen
from evencourse.render.drawing.placement import ELLIPSIS, Box, fitted
from evencourse.render.elevation.edge_signs import SIGN_WIDTH, sign
from evencourse.render.sheets.flow import Item, column_marks, pour
from evencourse.render.sheets.foot_strip import SLIM, slim_strip

#: Heights of lettering: title of the sheet, headings, columns read at arm's length, the rest [mm].
TITLE_HEIGHT, HEADING, LARGE, SMALL = 5.0, 3.5, 3.5, 2.5
#: Between columns, between blocks, above and below a row's lettering [mm].
_GAP, _GUTTER, _AIR = 4.0, 9.0, 1.3
#: Above a heading inside a block, and the least width of a column that wraps [mm].
_OVER_HEADING, _NARROWEST = 3.2, 34.0
#: A dense table: air, above a heading, leading for lettering of height 1, between columns [mm].
_DENSE_AIR, _DENSE_OVER, _DENSE_LEADING, _DENSE_GAP = 0.8, 1.4, 1.45, 2.2
#: How far the title's highest letters rise over its capitals [mm].
_RISE = TITLE_HEIGHT * (ASCENT_RATIO - 1.0)
#: Most lines of one cell: what is longer is shortened and says so.
_MOST_LINES = 24
#: More blocks are worth it when they take no more than this share of the sheets: wide rows read better.
_SPARING = 0.75
#: Most blocks beside each other.
_MOST_BLOCKS = 4


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


@dataclass(frozen=True)
class Section:
    """Rows under one heading.

    Attributes:
        heading: repeated where the rows go on in another block; empty for none.
        rows: a cell for every column of the table.
        note: behind the heading, in small lettering.
    """

    heading: str
    rows: tuple[tuple[SheetCell, ...], ...]
    note: str = ""


@dataclass(frozen=True)
class Table:
    """A table for as many sheets as it takes.

    Attributes:
        title: of its sheets.
        columns: from the left.
        sections: from the top.
        note: how it is read, beside the title.
        dense: rows and lines stand as close as can be read in the hand.
    """

    title: str
    columns: tuple[SheetColumn, ...]
    sections: tuple[Section, ...]
    note: str = ""
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
    """

    cells: tuple[tuple[str, ...], ...]
    height: float
    drop: float
    source: tuple[SheetCell, ...]
    section: int


@dataclass(frozen=True)
class _Setting:
    """A table set for a width: blocks beside each other, each with the same columns.

    Attributes:
        table: what is set.
        lefts: left of each column, from the left of a block [mm].
        widths: of each column [mm].
        pitch: from block to block [mm].
        blocks: how many stand beside each other.
    """

    table: Table
    lefts: tuple[float, ...]
    widths: tuple[float, ...]
    pitch: float
    blocks: int

    @property
    def width(self) -> float:
        """Of one block [mm]."""
        return self.pitch - _GUTTER

    @cached_property
    def head(self) -> _Row:
        """The table's head."""
        cells = tuple(
            tuple(wrap(column.title, width, SMALL))
            for column, width in zip(self.table.columns, self.widths, strict=True)
        )
        lines = max(len(cell) for cell in cells)
        leading = SMALL * self.table.leading
        air = self.table.air
        return _Row(cells, SMALL + (lines - 1) * leading + 2 * air, air + SMALL, (), -1)

    def row(self, cells: Sequence[SheetCell], section: int) -> _Row:
        """A row set in lines."""
        set_cells, tallest, below = [], 0.0, 0.0
        for cell, column, width in zip(cells, self.table.columns, self.widths, strict=True):
            lines = _lines(cell, column, width)
            set_cells.append(lines)
            tallest = max(tallest, column.height if lines else 0.0)
            below = max(below, (len(lines) - 1) * column.height * self.table.leading)
        air = self.table.air
        return _Row(tuple(set_cells), tallest + below + 2 * air, air + tallest, tuple(cells), section)

    def heading(self, section: int, goes_on: bool) -> _Row:
        """A section's heading."""
        found = self.table.sections[section]
        words = f"{found.heading}, continued" if goes_on else found.heading
        if text_width(words, HEADING, "bold") > self.width:
            words = found.heading
        text, air = fitted(words, self.width, HEADING, "bold"), self.table.air
        over = self.table.over if not goes_on else self.table.over / 2
        return _Row(((text,),), over + HEADING + 2 * air, over + air + HEADING, (), section)


def table_drafts(plan: Plan, table: Table, paper_name: str, date: str | None = None) -> tuple[Draft, ...]:
    """A table on as many sheets as it takes.

    Args:
        plan: the job that it belongs to.
        table: what it says.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        date: ISO date to print; None for none.

    Returns:
        Its sheets; none when the table has no rows.
    """
    if not any(section.rows for section in table.sections):
        return ()
    sheet = paper(paper_name)
    frame = Box(*sheet.frame)
    note = _note_lines(table, frame)
    top = frame.top - _title_height(note) - _AIR
    room = Box(frame.left, frame.bottom + SLIM + _AIR, frame.right, top)
    setting, pages = _flow(table, room)
    return tuple(
        partial(_sheet, plan, setting, blocks, (index, len(pages)), sheet, room, note, date)
        for index, blocks in enumerate(pages)
    )


def _note_lines(table: Table, frame: Box) -> tuple[str, ...]:
    room = frame.width - text_width(table.title, TITLE_HEIGHT, "bold") - 40.0
    return tuple(wrap(table.note, room, SMALL)) if table.note else ()


def _title_height(note: Sequence[str]) -> float:
    return max(TITLE_HEIGHT, SMALL + (len(note) - 1) * SMALL * LEADING_RATIO) + _RISE + 2.0


def _flow(table: Table, room: Box) -> tuple[_Setting, list[list[list[Item]]]]:
    """The fewest blocks, more of them only where that spares many sheets; and rows by sheet and block."""
    best: tuple[_Setting, list[list[list[Item]]]] | None = None
    for blocks in range(1, _MOST_BLOCKS + 1):
        setting = _setting(table, room.width, blocks, blocks == 1)
        if setting is None:
            break
        columns, _ = pour(_items(setting), repeat(room.height))
        pages = [columns[at : at + blocks] for at in range(0, len(columns), blocks)]
        if best is None or len(pages) <= _SPARING * len(best[1]):
            best = setting, pages
    assert best is not None
    return best


def _setting(table: Table, width: float, blocks: int, squeezed: bool) -> _Setting | None:
    """A table set in so many blocks; None when they would be too narrow and it may not be squeezed."""
    one = (width - (blocks - 1) * _GUTTER) / blocks
    natural = [_natural(table, index) for index in range(len(table.columns))]
    room = one - table.gap * (len(table.columns) - 1)
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
    return _Setting(table, tuple(lefts), tuple(natural), one + _GUTTER, blocks)


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
    widest = max((text_width(word, SMALL) for word in column.title.split()), default=0.0)
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


def table_items(table: Table, width: float, squeezed: bool) -> list[Item] | None:
    """A table's rows for columns of a width, its head over each column that they begin.

    Args:
        table: what it says.
        width: of a column [mm].
        squeezed: its words are shortened where the column is too narrow.

    Returns:
        Nothing to draw for a table without rows; None where the column is too narrow.
    """
    setting = _setting(table, width, 1, squeezed)
    return _items(setting) if setting is not None else None


def _items(setting: _Setting) -> list[Item]:
    """Rows and headings of a set table; a heading is repeated where its rows go on."""
    head = Item(setting.head.height, partial(_drawn_head, setting), heading=True)
    found = [head]
    for number, section in enumerate(setting.table.sections):
        rows = [setting.row(cells, number) for cells in section.rows]
        if not rows:
            continue
        again = [head]
        if section.heading:
            first, later = (setting.heading(number, goes_on) for goes_on in (False, True))
            found.append(
                Item(first.height, partial(_heading, setting, first), heading=True, again=(head,))
            )
            again.append(Item(later.height, partial(_heading, setting, later)))
        for index, row in enumerate(rows):
            pen = TITLE_THIN if index == len(rows) - 1 else FACE
            found.append(Item(row.height, partial(_drawn_row, setting, row, pen), again=tuple(again)))
    return found if len(found) > 1 else []


def _drawn_head(setting: _Setting, left: float, top: float) -> Iterator[Mark]:
    yield from _cells(setting, setting.head, left, top)
    y = top - setting.head.height
    yield Line(TITLE, (left, y), (left + setting.width, y))


def _drawn_row(setting: _Setting, row: _Row, pen: Pen, left: float, top: float) -> Iterator[Mark]:
    yield from _cells(setting, row, left, top)
    y = top - row.height
    yield Line(pen, (left, y), (left + setting.width, y))


def _sheet(
    plan: Plan,
    setting: _Setting,
    blocks: Sequence[Sequence[Item]],
    place: tuple[int, int],
    sheet: Paper,
    room: Box,
    note: Sequence[str],
    date: str | None,
    number: int,
    count: int,
) -> Sheet:
    frame, table = Box(*sheet.frame), setting.table
    title = table.title if place[1] == 1 else f"{table.title}, {place[0] + 1} of {place[1]}"
    marks: list[Mark] = [
        Text(TEXT, (frame.left, frame.top - _RISE), title, TITLE_HEIGHT, vertical="cap", weight="bold")
    ]
    for index, line in enumerate(note):
        y = frame.top - _RISE - index * SMALL * LEADING_RATIO
        marks.append(Text(TEXT, (frame.right, y), line, SMALL, "end", "cap"))
    for index, column in enumerate(blocks):
        marks += column_marks(column, room.left + index * setting.pitch, room.top)
    marks += slim_strip(plan, title, (number, count), frame, date)
    return Sheet(title, sheet.size, marks=tuple(marks))


def _heading(setting: _Setting, row: _Row, left: float, top: float) -> Iterator[Mark]:
    ((text,),) = row.cells
    y = top - row.drop
    yield Text(TEXT, (left, y), text, HEADING, weight="bold")
    note = setting.table.sections[row.section].note
    used = text_width(text, HEADING, "bold") + 4.0
    if note and setting.width - used > 20.0:
        yield Text(TEXT, (left + used, y), fitted(note, setting.width - used, SMALL), SMALL)


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
        for index, line in enumerate(lines):
            y = top - row.drop - index * height * setting.table.leading
            yield Text(cell.pen, (x, y), line, height, column.side, weight=cell.weight)
