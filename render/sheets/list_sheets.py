"""Lists of pieces in columns: under the drawing of their face, and over whole sheets what had no room there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from evencourse.layout.model.course_plan import Plan
from evencourse.render.drawing.drawing import Line, Mark
from evencourse.render.drawing.fonts import wrap
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.pens import NOTE, TITLE_THIN
from evencourse.render.drawing.text_lines import lines_down
from evencourse.render.sheets.column_sheets import column_drafts, column_widths
from evencourse.render.sheets.face_list import (
    GUTTER,
    PITCH,
    SMALL,
    FaceList,
    Row,
    list_items,
    list_words,
    words_height,
)
from evencourse.render.sheets.flow import Item, column_marks, lowest, pour

#: Fewest rows in a column for which a list begins under a drawing.
_FEWEST = 4
#: Air between what has a rule and the rule [mm].
_AIR = 1.6

#: Rows of a face's list.
Part = tuple[FaceList, Sequence[Row]]


@dataclass(frozen=True)
class ListBlock:
    """A list in columns beside each other, under how it is read.

    Attributes:
        words: how it is read, in lines.
        columns: from the left.
        pitch: from column to column [mm].
        width: of everything [mm].
        height: likewise.
    """

    words: tuple[str, ...]
    columns: tuple[tuple[Item, ...], ...]
    pitch: float
    width: float
    height: float

    def marks(self, left: float, top: float) -> Iterator[Mark]:
        """Everything, from its upper left corner [mm]."""
        yield Line(TITLE_THIN, (left, top), (left + self.width, top))
        yield from lines_down(self.words, left, top - _AIR, SMALL, pen=NOTE)
        y = top - _AIR - words_height(len(self.words))
        for index, column in enumerate(self.columns):
            yield from column_marks(column, left + index * self.pitch, y)


def list_block(
    given: FaceList, rows: Sequence[Row], width: float, most: float
) -> tuple[ListBlock | None, Sequence[Row]]:
    """As much of a list as has room, in the number of columns that is lowest.

    Args:
        given: the list.
        rows: the rows of it that are left.
        width: of the room [mm].
        most: its height [mm].

    Returns:
        The block, None where there is room for too few rows; and the rows that are left.
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
        block = ListBlock(words, tuple(map(tuple, columns)), column + GUTTER, width, tall)
        if best is None or (len(rest), tall) < best[:2]:
            best = len(rest), tall, block
    if best is None:
        return None, rows
    return best[2], rows[len(rows) - best[0] :]


def list_drafts(
    plan: Plan, parts: Sequence[Part], paper_name: str, date: str | None = None
) -> tuple[Draft, ...]:
    """Rows of one face or of several on sheets of their own, on as few as they take.

    Args:
        plan: the plan.
        parts: faces and the rows of them that are left; those without are passed over.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        date: ISO date to print; None for none.
    """
    left = [part for part in parts if part[1]]

    def items(width: float) -> list[Item] | None:
        found: list[Item] = []
        for one, rows in left:
            more = list_items(one, rows, width, named=True)
            if more is None:
                return None
            found += more
        return found

    faces = [one for one, _ in left]
    title = f"Pieces: {', '.join(one.face for one in faces)}"
    return column_drafts(plan, title, list_words(faces), items, GUTTER, paper_name, date)
