"""Sheets of rows in columns: as few as they take, and then in columns as wide as they may be.

A list in columns wider than it needs takes more of them, as long as no row breaks into more lines.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import cycle, repeat

from evencourse.layout.language.speech import alone, beside, gettext, spoken
from evencourse.layout.model.course_plan import Plan
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.border.title_block import HEIGHT, Titled, title_block
from evencourse.render.drawing.drawing import Mark, Sheet, Text
from evencourse.render.drawing.fonts import ASCENT_RATIO, text_width, wrap
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.papers import Paper, paper
from evencourse.render.drawing.pens import NOTE, SECOND, TEXT
from evencourse.render.drawing.placement import Box, fitted
from evencourse.render.drawing.text_lines import both, clear_leading, lines_down
from evencourse.render.sheets.flow import ColumnItem, column_marks, lowest, pour

_TITLE, _SMALL = 5.0, 2.5
#: What it takes to say that rows go on on another sheet [mm].
GOES_ON = 3.2
#: From line to line of the words under the title, for lettering of height 1.
_LEADING = 1.5
#: Under the title, under the words, and over the strip [mm].
_UNDER, _WORDS, _AIR = 2.6, 0.6, 1.6
#: Most columns beside each other.
_MOST_COLUMNS = 12


#: What the rows of a sheet are about: names of faces; none for all of the job.
About = Callable[[Sequence[ColumnItem]], Sequence[str]]


@dataclass(frozen=True)
class ColumnSheets:
    """Columns set on sheets.

    Attributes:
        plan: the job that they belong to.
        title: of the sheets, in English.
        about: what rows of a sheet are about.
        words: how they are read, under the title, in lines.
        second: the same in the second language, under them.
        columns: by sheet.
        rest: the rows of the last sheet.
        count: of columns that have room beside each other.
        pitch: from column to column [mm].
        top: where columns begin [mm].
        paper: what they are drawn on.
        stamp: which issue the sheets belong to.
    """

    plan: Plan
    title: str
    about: About
    words: tuple[str, ...]
    second: tuple[str, ...]
    columns: Sequence[Sequence[Sequence[ColumnItem]]]
    rest: Sequence[ColumnItem]
    count: int
    pitch: float
    top: float
    paper: Paper
    stamp: Stamp

    @property
    def pages(self) -> list[list[ColumnItem]]:
        """The items of every sheet."""
        return [[item for column in columns for item in column] for columns in self.columns]

    @property
    def drafts(self) -> tuple[Draft, ...]:
        """The sheets, not yet numbered."""
        return tuple(partial(self.sheet, index) for index in range(len(self.columns)))

    def sheet(self, index: int, number: int, count: int) -> Sheet:
        """One of the sheets, as one of so many."""
        frame, pages = Box(*self.paper.frame), len(self.columns)
        names = tuple(self.about(self.pages[index]))
        part = ""
        if pages > 1 and not names:  # names say from where to where
            part = gettext("{number} of {count}", number=index + 1, count=pages)
        titled = Titled(gettext(self.title), (number, count), part=part, names=names)
        top = frame.top - (ASCENT_RATIO - 1.0) * _TITLE
        shown = both(lambda: gettext(self.title), frame.width, _TITLE, "bold")
        shown = replace(titled, title=shown).words()
        if text_width(shown, _TITLE, "bold") > frame.width:
            shown = titled.fitted(frame.width, _TITLE)
        marks: list[Mark] = [Text(TEXT, (frame.left, top), shown, _TITLE, vertical="cap", weight="bold")]
        leading, y = clear_leading((*self.words, *self.second), _LEADING), top - _TITLE - _UNDER
        for lines, pen in ((self.words, NOTE), (self.second, SECOND)):
            marks += lines_down(lines, frame.left, y, _SMALL, pen=pen, leading=leading)
            y -= len(lines) * _SMALL * leading
        for place, column in enumerate(self._columns(index)):
            marks += column_marks(column, frame.left + place * self.pitch, self.top)
        marks += self._goes_on(index, number, Box(*self.paper.frame))
        marks += (title_block(self.plan, titled, self.stamp, self.paper),)
        return Sheet(titled.words(), self.paper.size, marks=tuple(marks))

    def _goes_on(self, index: int, number: int, frame: Box) -> Iterator[Mark]:
        """What goes on on the next sheet, under the last column."""
        ends = [page[at].span for page, at in zip(self.pages[index : index + 2], (-1, 0), strict=False)]
        if len(ends) == 2 and ends[0] is not None:
            after = next((item.span for item in self.pages[index + 1] if item.span is not None), None)
            if after is not None and after[0] == ends[0][0]:
                foot = frame.bottom + HEIGHT + _AIR
                yield goes_on(after[0], number + 1, frame.right, foot, frame.width)

    def _columns(self, index: int) -> Sequence[Sequence[ColumnItem]]:
        """The columns of a sheet; those of the last one are level."""
        if index < len(self.columns) - 1:
            return self.columns[index]
        high = self.top - Box(*self.paper.frame).bottom - HEIGHT - _AIR
        low = lowest(self.rest, self.count, high, self.count)
        return pour(self.rest, repeat(low), abreast=self.count)[0] if low is not None else self.columns[index]


def goes_on(what: str, number: int, right: float, bottom: float, width: float) -> Text:
    """Under a column: on which sheet something goes on."""
    where = gettext("continued on sheet {number}", number=number)
    if what:
        words = fitted(what, width - text_width(f" {where}", _SMALL, "bold"), _SMALL, "bold")
        where = gettext("{what} continued on sheet {number}", what=words, number=number) if words else where
    return Text(NOTE, (right, bottom), where, _SMALL, "end", weight="bold")


def column_widths(width: float, gutter: float) -> Iterator[tuple[int, float]]:
    """How many columns may stand beside each other, and how wide each is then [mm]."""
    for count in range(1, _MOST_COLUMNS + 1):
        yield count, (width - (count - 1) * gutter) / count


def as_few(make: Callable[[], ColumnSheets]) -> ColumnSheets:
    """Sheets with their heads in both languages where that takes no more of them than the first one alone."""
    found = make()
    if beside(spoken) is None:
        return found
    with alone():
        single = make()
    return found if len(found.columns) <= len(single.columns) else single


def column_drafts(
    plan: Plan,
    title: str,
    words: str,
    items: Callable[[float], Sequence[ColumnItem] | None],
    gutter: float,
    paper_name: str,
    stamp: Stamp = NO_STAMP,
    about: About = lambda _: (),
    second: Sequence[str] = (),
) -> ColumnSheets:
    """Rows in columns on as few sheets as they take.

    Args:
        plan: the job that they belong to.
        title: of the sheets, in English.
        words: how they are read.
        items: the rows for columns of a width [mm]; None where that is too narrow.
        gutter: between columns [mm].
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
        about: what rows of a sheet are about; for rows that say whose they are it is told where they go on.
        second: how they are read in the second language, in lines.

    Returns:
        The sheets; none when there are no rows.
    """
    sheet = paper(paper_name)
    frame = Box(*sheet.frame)
    lines = tuple(wrap(words, frame.width, _SMALL)) if words else ()
    every = (*lines, *second)
    tall = len(every) * _SMALL * clear_leading(every, _LEADING)
    top = frame.top - _TITLE * ASCENT_RATIO - _UNDER - tall - _WORDS
    high = top - frame.bottom - HEIGHT - _AIR
    best: tuple[list[list[list[ColumnItem]]], Sequence[ColumnItem], int, float] = [], (), 1, 0.0
    least = (0, 0.0, False)
    for count, width in column_widths(frame.width, gutter):
        rows = items(width)
        if rows is None:
            break
        heights, listed = [high] * count, any(row.span is not None for row in rows)
        pages = _pages(rows, heights)
        if len(pages) > 1 and listed:
            heights[-1] -= GOES_ON
            pages = _pages(rows, heights)
        taken = -round(sum(row.height for row in rows), 3) if listed else 0.0
        if count == 1 or (-len(pages), taken, listed) > least:
            least = (-len(pages), taken, False)
            _, rest = pour(rows, heights * (len(pages) - 1), abreast=count)
            best = pages, rest, count, width + gutter
    return ColumnSheets(plan, title, about, lines, tuple(second), *best, top, sheet, stamp)


def _pages(rows: Sequence[ColumnItem], heights: Sequence[float]) -> list[list[list[ColumnItem]]]:
    count = len(heights)
    columns, _ = pour(rows, cycle(heights), abreast=count)
    return [columns[at : at + count] for at in range(0, len(columns), count)]
