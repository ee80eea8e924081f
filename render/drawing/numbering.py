"""Sheets that wait for their number: a set is laid out before anyone knows how many sheets it has."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from evencourse.render.drawing.drawing import Sheet

#: Draws a sheet, given its number from 1 and how many there are in the set.
Draft = Callable[[int, int], Sheet]


def numbered(drafts: Iterable[Draft]) -> tuple[Sheet, ...]:
    """The sheets of a set, numbered through."""
    waiting = tuple(drafts)
    return tuple(draft(number, len(waiting)) for number, draft in enumerate(waiting, start=1))
