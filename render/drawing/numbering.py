"""Sheets that wait for their number: a set is laid out before anyone knows how many sheets it has."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from evencourse.render.drawing.drawing import Sheet

#: Draws a sheet, given its number from 1 and how many there are in the set.
Draft = Callable[[int, int], Sheet]


def numbered(drafts: Iterable[Draft], first: int = 1, count: int | None = None) -> tuple[Sheet, ...]:
    """The sheets of a set or of a part of it, numbered through; their number is their code.

    Args:
        drafts: the sheets in their order.
        first: number of the first of them.
        count: how many there are in the set; None: these.
    """
    waiting = tuple(drafts)
    of = len(waiting) if count is None else count
    return tuple(
        replace(draft(number, of), label=str(number)) for number, draft in enumerate(waiting, start=first)
    )
