"""Course lines of interlocking panels: one unknown, the starter line; every mark of the tape is scored."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

import numpy as np

from evencourse.layout.model.course_plan import Band
from evencourse.layout.solver.score import NEAR, Columns, Rulebook, edge_terms, order, standing

Answer = tuple[float, tuple[Band, ...], tuple[float, ...]]


def panel_lines(book: Rulebook, cols: Columns, starters: Sequence[float], top: float) -> Iterator[Answer]:
    """Course lines from best to worst, one for each mark.

    Args:
        book: the objective's numbers.
        cols: the edges that count.
        starters: every mark where butt line 1 may lie, ascending [job units].
        top: the highest point that must be covered [job units].

    Yields:
        Starter, bands and butt lines; of equal ones the lower starter first.
    """
    marks = np.array(starters, dtype=np.float64)
    exposure = np.full(len(marks), book.cladding.exposure)
    terms = edge_terms(book, cols, marks, exposure, standing(book, cols, marks))
    for index in order(terms):
        yield panel_courses(book, starters[int(index)], top)


def panel_courses(book: Rulebook, starter: float, top: float) -> Answer:
    """Courses of one moulded exposure from a starter line up past the highest point."""
    exposure = book.cladding.exposure
    count = max(1, ceil((top - book.tolerance - starter) / exposure - NEAR))
    butts = tuple(starter + exposure * k for k in range(count + 1))
    return starter, (Band(1, count, exposure),), butts
