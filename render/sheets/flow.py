"""Rows that run down a column, on into the next column, and on to the next sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from evencourse.layout.model.tolerance import SAME
from evencourse.render.drawing.drawing import Mark


@dataclass(frozen=True)
class ColumnItem:
    """Something that stands in a column and is not divided.

    Attributes:
        height: what it takes [mm].
        draw: draws it, given its left and its top [mm].
        heading: it is never the last of its column.
        again: what is repeated over it where it begins a column.
        reopened: what is repeated over that where the column is the first one of a sheet.
        span: of a row of a list: whose it is, its first and its last mark; empty marks for a sentence.
    """

    height: float
    draw: Callable[[float, float], Iterable[Mark]]
    heading: bool = False
    again: tuple[ColumnItem, ...] = ()
    reopened: tuple[ColumnItem, ...] = ()
    span: tuple[str, str, str] | None = None


def pour(
    items: Sequence[ColumnItem], heights: Iterable[float], whole: bool = True, abreast: int = 0
) -> tuple[list[list[ColumnItem]], list[ColumnItem]]:
    """Items in columns, in their order.

    Args:
        items: from the top.
        heights: of the columns, from the left [mm]; may go on for ever.
        whole: what is higher than a column stands in one all the same; else it is left over.
        abreast: how many columns a sheet has; 0 where they stand under a drawing.

    Returns:
        The columns that were used, and the items that no column had room for.
    """
    groups = list(_groups(items))
    columns: list[list[ColumnItem]] = []
    at = 0
    for height in heights:
        if at == len(groups):
            break
        column: list[ColumnItem] = []
        left = height
        while at < len(groups):
            group = groups[at]
            if not column:
                opens = abreast and len(columns) % abreast == 0
                group = (*(group[0].reopened if opens else ()), *group[0].again, *group)
            size = sum(item.height for item in group)
            if size > left + SAME and (column or not whole):
                break
            column += group
            left -= size
            at += 1
        columns.append(column)
    return columns, [item for group in groups[at:] for item in group]


def lowest(items: Sequence[ColumnItem], count: int, most: float, abreast: int = 0) -> float | None:
    """The least height at which so many columns hold all items; None when they hold them at no height.

    Args:
        items: from the top.
        count: of columns.
        most: greatest height [mm].
        abreast: as for :func:`pour`.
    """
    if pour(items, [most] * count, False, abreast)[1]:
        return None
    low, high = 0.0, most
    while high - low > SAME * 10:
        middle = (low + high) / 2
        if pour(items, [middle] * count, False, abreast)[1]:
            low = middle
        else:
            high = middle
    return high


def column_marks(column: Sequence[ColumnItem], left: float, top: float) -> Iterator[Mark]:
    """Everything in a column, from its top [mm]."""
    for item in column:
        yield from item.draw(left, top)
        top -= item.height


def _groups(items: Sequence[ColumnItem]) -> Iterator[tuple[ColumnItem, ...]]:
    """Items that stay together: headings with what they are over."""
    group: list[ColumnItem] = []
    for item in items:
        group.append(item)
        if not item.heading:
            yield tuple(group)
            group = []
    if group:
        yield tuple(group)
