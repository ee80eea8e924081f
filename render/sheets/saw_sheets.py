"""Trim, rakes and order on shared sheets: what is sawn and bought for the whole job, in columns."""

from __future__ import annotations

from collections.abc import Collection

from evencourse.layout.language.speech import gettext, noop
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.drawing.numbering import Draft
from evencourse.render.sheets.column_sheets import ColumnSheets, as_few, column_drafts
from evencourse.render.sheets.flow import ColumnItem
from evencourse.render.sheets.order_table import order_note, order_table
from evencourse.render.sheets.rake_block import rake_items
from evencourse.render.sheets.table_sheet import Table, table_items
from evencourse.render.sheets.trim_table import letters_words, trim_table
from evencourse.render.words.result import Result

#: Between columns, and over a table that follows another one [mm].
_GUTTER, _BETWEEN = 5.0, 2.5
#: In a column as wide as this a table is squeezed in; in a narrower one it is not tried [mm].
_NARROWEST = 180.0
#: The parts in their order.
PARTS = ("trims", "rakes", "order")
_TITLES = {
    ("trims", "rakes", "order"): noop("Trims, rakes and order"),
    ("trims", "rakes"): noop("Trims and rakes"),
    ("trims", "order"): noop("Trims and order"),
    ("rakes", "order"): noop("Rakes and order"),
    ("trims",): noop("Trims"),
    ("rakes",): noop("Rakes"),
    ("order",): noop("Order"),
}


def saw_title(result: Result, wanted: Collection[str]) -> str:
    """What the shared sheets are called, in English: ``Trims, rakes and order``, or as many as are there."""
    rakes = any(face.rakes for face in result.plan.elevations)
    return _TITLES.get(tuple(part for part in PARTS if part in wanted and (part != "rakes" or rakes)), "")


def saw_sheets(
    result: Result, wanted: Collection[str], paper_name: str, stamp: Stamp = NO_STAMP
) -> tuple[Draft, ...]:
    """The shared sheets of trim list, rakes and take-off, as few as they take.

    Args:
        result: the finished result of a job.
        wanted: some of ``PARTS``.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
    """
    title = saw_title(result, wanted)
    if not title:
        return ()
    said = []
    if "trims" in wanted:
        said.append(
            gettext(
                "Every length of trim, and where its pieces go: {letters}; runs are counted from the left.",
                letters=letters_words(result),
            )
        )
    if "rakes" in wanted and any(face.rakes for face in result.plan.elevations):
        said.append(
            gettext(
                "Rakes: mark the cut on the exposed side from the butt up; carry the line on across the lap "
                "or the nail hem with a straightedge. Cut one piece and hold it to the wall before the rest "
                "are cut."
            )
        )
    if "order" in wanted:
        said.append(order_note(result))
    words = " ".join(said)

    def made() -> ColumnSheets:
        tables: list[Table] = []
        if "trims" in wanted:
            tables.append(trim_table(result))
        if "order" in wanted:
            tables.append(order_table(result))

        def items(width: float) -> list[ColumnItem] | None:
            found = rake_items(result.plan, width) if "rakes" in wanted else []
            if found is None:
                return None
            air = ColumnItem(_BETWEEN, lambda left, top: (), heading=True)
            for table in tables:
                rows = table_items(table, width, width >= _NARROWEST)
                if rows is None:
                    return None
                found += [air, *rows] if found and rows else rows
            return found

        return column_drafts(result.plan, title, words, items, _GUTTER, paper_name, stamp)

    return as_few(made).drafts
