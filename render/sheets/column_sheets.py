"""Sheets of rows in columns: as few as they take, and then in columns as wide as they may be."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import repeat

from evencourse.layout.model.course_plan import Plan
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.border.title_block import HEIGHT, Titled, title_block
from evencourse.render.drawing.drawing import Mark, Sheet, Text
from evencourse.render.drawing.fonts import ASCENT_RATIO, LEADING_RATIO, wrap
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.papers import Paper, paper
from evencourse.render.drawing.pens import NOTE, TEXT
from evencourse.render.drawing.placement import Box
from evencourse.render.drawing.text_lines import lines_down
from evencourse.render.sheets.flow import ColumnItem, column_marks, lowest, pour

_TITLE, _SMALL = 5.0, 2.5
#: Under the title, and over the strip [mm].
_UNDER, _AIR = 2.6, 1.6
#: Most columns beside each other.
_MOST_COLUMNS = 12


@dataclass(frozen=True)
class _Set:
    """Columns set on sheets.

    Attributes:
        plan: the job that they belong to.
        title: of the sheets.
        names: of the faces that they are about; empty for all of the job.
        words: how they are read, under the title, in lines.
        pages: columns by sheet.
        rest: the rows of the last sheet.
        count: of columns that have room beside each other.
        pitch: from column to column [mm].
        top: where columns begin [mm].
        paper: what they are drawn on.
        stamp: which issue the sheets belong to.
    """

    plan: Plan
    title: str
    names: tuple[str, ...]
    words: tuple[str, ...]
    pages: Sequence[Sequence[Sequence[ColumnItem]]]
    rest: Sequence[ColumnItem]
    count: int
    pitch: float
    top: float
    paper: Paper
    stamp: Stamp

    def sheet(self, index: int, number: int, count: int) -> Sheet:
        """One of the sheets, as one of so many."""
        frame, pages = Box(*self.paper.frame), len(self.pages)
        part = "" if pages == 1 else f"{index + 1} of {pages}"
        titled = Titled(self.title, (number, count), part=part, names=self.names)
        top = frame.top - (ASCENT_RATIO - 1.0) * _TITLE
        shown = titled.fitted(frame.width, _TITLE)
        marks: list[Mark] = [Text(TEXT, (frame.left, top), shown, _TITLE, vertical="cap", weight="bold")]
        marks += lines_down(self.words, frame.left, top - _TITLE - _UNDER, _SMALL, pen=NOTE)
        for place, column in enumerate(self._columns(index)):
            marks += column_marks(column, frame.left + place * self.pitch, self.top)
        marks += (title_block(self.plan, titled, self.stamp, self.paper),)
        return Sheet(titled.words(), self.paper.size, marks=tuple(marks))

    def _columns(self, index: int) -> Sequence[Sequence[ColumnItem]]:
        """The columns of a sheet; those of the last one are level."""
        if index < len(self.pages) - 1:
            return self.pages[index]
        high = self.top - Box(*self.paper.frame).bottom - HEIGHT - _AIR
        low = lowest(self.rest, self.count, high)
        return pour(self.rest, repeat(low))[0] if low is not None else self.pages[index]


def column_widths(width: float, gutter: float) -> Iterator[tuple[int, float]]:
    """How many columns may stand beside each other, and how wide each is then [mm]."""
    for count in range(1, _MOST_COLUMNS + 1):
        yield count, (width - (count - 1) * gutter) / count


def column_drafts(
    plan: Plan,
    title: str,
    words: str,
    items: Callable[[float], Sequence[ColumnItem] | None],
    gutter: float,
    paper_name: str,
    stamp: Stamp = NO_STAMP,
    names: Sequence[str] = (),
) -> tuple[Draft, ...]:
    """Rows in columns on as few sheets as they take.

    Args:
        plan: the job that they belong to.
        title: of the sheets.
        words: how they are read.
        items: the rows for columns of a width [mm]; None where that is too narrow.
        gutter: between columns [mm].
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
        names: of the faces that they are about; empty for all of the job.

    Returns:
        The sheets; none when there are no rows.
    """
    sheet = paper(paper_name)
    frame = Box(*sheet.frame)
    lines = tuple(wrap(words, frame.width, _SMALL)) if words else ()
    top = frame.top - _TITLE * ASCENT_RATIO - _UNDER - len(lines) * _SMALL * LEADING_RATIO
    high = top - frame.bottom - HEIGHT - _AIR
    best: tuple[list[list[list[ColumnItem]]], Sequence[ColumnItem], int, float] = [], (), 1, 0.0
    for count, width in column_widths(frame.width, gutter):
        rows = items(width)
        if rows is None:
            break
        columns, _ = pour(rows, repeat(high))
        pages = [columns[at : at + count] for at in range(0, len(columns), count)]
        if count == 1 or len(pages) < len(best[0]):
            _, rest = pour(rows, [high] * (count * (len(pages) - 1)))
            best = pages, rest, count, width + gutter
    laid_out = _Set(plan, title, tuple(names), lines, *best, top, sheet, stamp)
    return tuple(partial(laid_out.sheet, index) for index in range(len(best[0])))
