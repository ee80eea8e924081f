"""Lists of pieces in columns: under or beside the drawing of their face, the rest over whole sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter

from evencourse.layout.language.speech import beside, closed, gettext, noop
from evencourse.layout.model.course_plan import Plan
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.drawing.drawing import Line, Mark
from evencourse.render.drawing.fonts import wrap
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import NOTE, SECOND, TITLE_THIN
from evencourse.render.drawing.placement import Box
from evencourse.render.drawing.text_lines import clear_leading, lines_down
from evencourse.render.sheets.column_sheets import (
    GOES_ON,
    ColumnSheets,
    as_few,
    column_drafts,
    column_widths,
    goes_on,
)
from evencourse.render.sheets.face_list import (
    GUTTER,
    PITCH,
    READING,
    SMALL,
    list_items,
    longest_span,
    span_words,
    words_height,
)
from evencourse.render.sheets.flow import ColumnItem, column_marks, lowest, pour
from evencourse.render.words.piece_list import FaceList, ListRow, list_words

_TITLE = noop("Pieces")
#: Fewest rows in a column for which a list begins under a drawing.
_FEWEST = 4
#: Air between what has a rule and the rule [mm].
_AIR = 1.6

#: A number of a sheet that takes as much room as any, while its own is not known.
_ANY = 888


@dataclass(frozen=True)
class ListPart:
    """What of the list of a face stands on sheets of lists.

    Attributes:
        given: the list.
        rows: those that are left.
        drawn: numbers of the sheets that show the face.
        before: from which piece to which stand there; empty for none.
    """

    given: FaceList
    rows: Sequence[ListRow]
    drawn: Sequence[int] = (_ANY,)
    before: str = ""

    @property
    def where(self) -> str:
        """Which sheet shows the face, and what of its list."""
        sheets = sheet_words(self.drawn)
        if self.before:
            return gettext("drawn on {sheets}, with {pieces}", sheets=sheets, pieces=self.before)
        return gettext("drawn on {sheets}", sheets=sheets)


@dataclass(frozen=True)
class ListSheets:
    """Sheets of lists.

    Attributes:
        drafts: not yet numbered.
        parts: on which of them, from 0, each part stands.
    """

    drafts: tuple[Draft, ...]
    parts: tuple[tuple[int, ...], ...]


@dataclass(frozen=True)
class ListBlock:
    """A list in columns under a drawing or in a panel at its right, over how it is read.

    Attributes:
        given: the list.
        columns: left and top of each, from the left and the bottom of the room [mm], and its rows.
        column: width of each [mm].
        width: of the room [mm].
        height: what is taken under the drawing [mm].
        rest: how many rows are left over.
    """

    given: FaceList
    columns: tuple[tuple[float, float, tuple[ColumnItem, ...]], ...]
    column: float
    width: float
    height: float
    rest: int

    @property
    def items(self) -> list[ColumnItem]:
        """Its rows."""
        return [item for _, _, items in self.columns for item in items]

    def marks(self, room: Box, before: int, after: int) -> Iterator[Mark]:
        """Everything, in the room of drawing and list.

        Args:
            room: what is left for both [mm].
            before: number of the sheet that it is continued from; 0 for none.
            after: number of the sheet that it is continued on; 0 for none.
        """
        y = room.bottom + self.height
        yield Line(TITLE_THIN, (room.left, y), (room.left + self.width, y))
        words = wrap(_read(self.given, span_words(self.items), before, after), self.width, SMALL)
        more = _second_read([self.given], self.width)
        leading = clear_leading([*words, *more], READING)
        for lines, pen in ((words, NOTE), (more, SECOND)):
            y = yield from lines_down(lines, room.left, y - _AIR, SMALL, pen=pen, leading=leading)
            y += _AIR
        for left, top, items in self.columns:
            yield from column_marks(items, room.left + left, room.bottom + top)
        if after:
            right = room.left + self.columns[-1][0] + self.column
            yield goes_on("", after, right, room.bottom + _AIR / 2, self.column)


def list_under(given: FaceList, rows: Sequence[ListRow], width: float, most: float) -> ListBlock | None:
    """As much of a list as has room under a drawing, in as low columns as break no cut without need.

    Args:
        given: the list.
        rows: the rows of it that are left.
        width: of the room [mm].
        most: what may be taken of its height [mm].

    Returns:
        None where there is room for too few rows.
    """
    longest = wrap(_read(given, longest_span(rows), _ANY, _ANY), width, SMALL) + _second_read([given], width)
    over = _AIR + words_height(longest)
    room = most - over - _AIR
    best: tuple[int, float, float, ListBlock] | None = None
    for count, column in column_widths(width, GUTTER):
        items = list_items(given, rows, column)
        if items is None:
            break
        high = lowest(items, count, room) if room > 0 else None
        if high is None and room < _FEWEST * PITCH:
            continue
        heights = [high] * count if high is not None else [room] * (count - 1) + [room - GOES_ON]
        columns, rest = pour(items, heights, whole=False)
        tall = over + (room if high is None else high) + _AIR
        placed = tuple(
            (place * (column + GUTTER), tall - over, tuple(one)) for place, one in enumerate(columns)
        )
        block = ListBlock(given, placed, column, width, tall, len(rest))
        lines = (
            0.0 if rest else round(sum(item.height for item in items), 3)
        )  # where all has room, no cut is broken
        if best is None or (len(rest), lines, tall) < best[:3]:
            best = len(rest), lines, tall, block
    return best[3] if best is not None else None


def list_drafts(
    plan: Plan, parts: Sequence[ListPart], paper_name: str, stamp: Stamp = NO_STAMP
) -> ListSheets:
    """Rows of one face or of several on sheets of their own, on as few as they take.

    Args:
        plan: the plan.
        parts: what is left of the list of every face; those without rows are passed over.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
    """
    left = [part for part in parts if part.rows]

    def items(width: float) -> list[ColumnItem] | None:
        found: list[ColumnItem] = []
        for part in left:
            more = list_items(part.given, part.rows, width, part.where)
            if more is None:
                return None
            found += more
        return found

    faces = [part.given.part(part.rows) for part in left]
    words = " ".join((gettext("In order of installation."), list_words(faces))) if faces else ""

    def made() -> ColumnSheets:
        width = Box(*paper(paper_name).frame).width
        more = _second_read(faces, width)
        return column_drafts(plan, _TITLE, words, items, GUTTER, paper_name, stamp, _named, more)

    drafts = as_few(made)
    shown = [{item.span[0] for item in page if item.span is not None} for page in drafts.pages]
    found = (
        tuple(at for at, names in enumerate(shown) if part.rows and part.given.face in names)
        for part in parts
    )
    return ListSheets(drafts.drafts, tuple(found))


def sheet_words(numbers: Sequence[int]) -> str:
    """Sheets by their numbers: ``sheet 4``; ``sheets 4, 5 and 7``."""
    *more, last = (str(number) for number in numbers)
    if more:
        return gettext("sheets {others} and {last}", others=", ".join(more), last=last)
    return gettext("sheet {number}", number=last)


def _named(items: Sequence[ColumnItem]) -> Sequence[str]:
    """Which faces rows of a sheet are of, from which piece to which: ``Street 1.1 to 11.2``."""
    spans = ((item.span[0], item) for item in items if item.span is not None)
    return [
        " ".join(word for word in (closed(face), span_words(item for _, item in found)) if word)
        for face, found in groupby(spans, key=itemgetter(0))
    ]


def _second_read(lists: Sequence[FaceList], width: float) -> list[str]:
    """How lists that are in both languages are read, in the second one, in lines of a width [mm]."""
    found = [one.second for one in lists if one.second is not None]
    return wrap(beside(lambda: list_words(found)) or "", width, SMALL) if found else []


def _read(given: FaceList, span: str, before: int, after: int) -> str:
    """How a list on the sheet of its face is read, behind which part of it stands there."""
    what = (
        gettext("Pieces {span} in order of installation", span=span) if span else gettext("Notes on pieces")
    )
    if before and after:
        how = gettext(
            "{what}, continued from sheet {before} and on sheet {after}.",
            what=what,
            before=before,
            after=after,
        )
    elif before:
        how = gettext("{what}, continued from sheet {before}.", what=what, before=before)
    elif after:
        how = gettext("{what}, continued on sheet {after}.", what=what, after=after)
    else:
        how = gettext("{what}.", what=what)
    return f"{how} {list_words([given])}"
