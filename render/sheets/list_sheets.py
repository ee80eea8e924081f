"""Lists of pieces in columns: under or beside the drawing of their face, the rest over whole sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from evencourse.layout.model.course_plan import Plan
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.drawing.drawing import Line, Mark
from evencourse.render.drawing.fonts import wrap
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.pens import NOTE, TITLE_THIN
from evencourse.render.drawing.placement import Box
from evencourse.render.drawing.text_lines import lines_down
from evencourse.render.sheets.column_sheets import column_drafts, column_widths
from evencourse.render.sheets.face_list import (
    GUTTER,
    PITCH,
    SMALL,
    FaceList,
    ListRow,
    list_items,
    list_words,
    words_height,
)
from evencourse.render.sheets.flow import ColumnItem, column_marks, lowest, pour

#: Fewest rows in a column for which a list begins under a drawing.
_FEWEST = 4
#: Air between what has a rule and the rule [mm].
_AIR = 1.6

#: Rows of a face's list.
Part = tuple[FaceList, Sequence[ListRow]]


@dataclass(frozen=True)
class ListBlock:
    """A list in columns under a drawing or in a panel at its right, over how it is read.

    Attributes:
        words: how it is read, in lines.
        top: where these begin, from the bottom of the room [mm].
        columns: left and top of each, from the left and the bottom of the room [mm], and its rows.
        width: of the room [mm].
        height: what is taken under the drawing [mm].
        rest: how many rows are left over.
    """

    words: tuple[str, ...]
    top: float
    columns: tuple[tuple[float, float, tuple[ColumnItem, ...]], ...]
    width: float
    height: float
    rest: int

    def marks(self, room: Box) -> Iterator[Mark]:
        """Everything, in the room of drawing and list."""
        y = room.bottom + self.top
        yield Line(TITLE_THIN, (room.left, y), (room.left + self.width, y))
        yield from lines_down(self.words, room.left, y - _AIR, SMALL, pen=NOTE)
        for left, top, items in self.columns:
            yield from column_marks(items, room.left + left, room.bottom + top)


def list_under(given: FaceList, rows: Sequence[ListRow], width: float, most: float) -> ListBlock | None:
    """As much of a list as has room under a drawing, in the number of columns that is lowest.

    Args:
        given: the list.
        rows: the rows of it that are left.
        width: of the room [mm].
        most: what may be taken of its height [mm].

    Returns:
        None where there is room for too few rows.
    """
    words = tuple(wrap(list_words([given]), width, SMALL))
    over = _AIR + words_height(len(words))
    room = most - over - _AIR
    best: tuple[int, float, ListBlock] | None = None
    for count, column in column_widths(width, GUTTER):
        items = list_items(given, rows, column)
        if items is None:
            break
        high = lowest(items, count, room) if room > 0 else None
        if high is None and room < _FEWEST * PITCH:
            continue
        columns, rest = pour(items, [room if high is None else high] * count, whole=False)
        tall = over + (room if high is None else high) + _AIR
        placed = tuple(
            (place * (column + GUTTER), tall - over, tuple(one)) for place, one in enumerate(columns)
        )
        block = ListBlock(words, tall, placed, width, tall, len(rest))
        if best is None or (len(rest), tall) < best[:2]:
            best = len(rest), tall, block
    return best[2] if best is not None else None


def list_drafts(
    plan: Plan, parts: Sequence[Part], paper_name: str, stamp: Stamp = NO_STAMP
) -> tuple[Draft, ...]:
    """Rows of one face or of several on sheets of their own, on as few as they take.

    Args:
        plan: the plan.
        parts: faces and the rows of them that are left; those without are passed over.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
    """
    left = [part for part in parts if part[1]]

    def items(width: float) -> list[ColumnItem] | None:
        found: list[ColumnItem] = []
        for one, rows in left:
            more = list_items(one, rows, width, named=True)
            if more is None:
                return None
            found += more
        return found

    faces = [one for one, _ in left]
    names = [one.face for one in faces]
    return column_drafts(plan, "Pieces", list_words(faces), items, GUTTER, paper_name, stamp, names)
