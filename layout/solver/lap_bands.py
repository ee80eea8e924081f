"""Where lapped courses may be tied, and every band of equal courses between two such heights.

A tie may lie at an edge's exact height, on any mark of the tape within the tolerance of it, and, where two
edges lie so close that one line is flush with both, at the ends of the range of such lines; of a base, on any
mark that gives its first course the cover that is allowed, or where there is none as low as is allowed.
Nothing else can bring an edge to a line that it is meant to meet: no crew strikes a butt line between two
marks.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING

import numpy as np

from evencourse.layout.solver.score import NEAR, Columns, Rulebook
from evencourse.layout.trade.rules import rules

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from evencourse.layout.solver.score import Floats

#: End of a band that runs past the highest point.
OPEN = -1


@dataclass(frozen=True)
class Bands:
    """Bands of equal courses, ascending by where they start; those from marks come last.

    Attributes:
        start: int (b,), index of the tie it starts from, or of the mark, counted on from the ties.
        end: int (b,), index of the tie where it ends, or ``OPEN``.
        courses: int (b,).
        exposure: float (b,) [job units].
    """

    start: NDArray[np.int64]
    end: NDArray[np.int64]
    courses: NDArray[np.int64]
    exposure: Floats

    def take(self, chosen: NDArray[np.intp]) -> Bands:
        """Some of the bands, in the order given."""
        return Bands(self.start[chosen], self.end[chosen], self.courses[chosen], self.exposure[chosen])


def ties(book: Rulebook, cols: Columns, low: float, high: float, top: float) -> Floats:
    """Heights that courses may be tied to, ascending [job units].

    Args:
        book: tolerance, tape and exposures.
        cols: the edges that count.
        low: the lowest mark where courses may start [job units].
        high: the highest one [job units].
        top: the highest point that must be covered [job units].

    Edges that count least go without when there are more than ``limits.ties_max`` of ``rules.toml``; so do
    heights that no equal courses from any mark arrive at: no chain of bands does either, since the mean of
    allowed exposures is allowed.
    """
    near = 100 * NEAR * book.inch
    heights, bases = (_heaviest(cols, low, top + near, based) for based in (False, True))
    tolerance = book.tolerance
    exact = heights[_arrived(book, heights, low, high)]
    found: list[float] = []
    for at, height in enumerate(heights):
        found += _marks(book, height - tolerance, height + tolerance)
        for upper in heights[at + 1 : np.searchsorted(heights, height + 2 * tolerance + near)]:
            found += [upper - tolerance, height + tolerance]
    for base in bases:
        lowest = base - book.cover_max
        found += _marks(book, lowest, base - book.cover_min) or [lowest]
    marks = np.unique(np.array(found, dtype=np.float64))
    marks = marks[(marks > low) & (marks <= top + tolerance + near)]
    marks = marks[_arrived(book, marks, low, high)]
    if len(exact):  # an edge's own height stands for a mark that is the same but for rounding
        place = np.clip(np.searchsorted(exact, marks), 1, len(exact)) - 1
        closest = np.minimum(np.abs(exact[place] - marks), np.abs(exact[(place + 1) % len(exact)] - marks))
        marks = marks[closest > near]
    marks = marks[np.diff(marks, prepend=-np.inf) > near]
    return np.sort(np.concatenate([exact, marks]))


def _marks(book: Rulebook, low: float, high: float) -> list[float]:
    """Marks of the tape from one height to another."""
    first, last = ceil(low / book.mark - NEAR), floor(high / book.mark + NEAR)
    return [k * book.mark for k in range(first, last + 1)]


def _heaviest(cols: Columns, low: float, top: float, based: bool) -> Floats:
    """Heights of bases, or of all other edges; of too many those that count most."""
    heights = np.unique(cols.height[(cols.height > low) & (cols.height <= top) & (cols.base == based)])
    most = int(rules().limits["ties_max"])
    if len(heights) > most:
        weights = np.array([int(cols.weight[cols.height == height].sum()) for height in heights])
        heights = np.sort(heights[np.argsort(-weights, kind="stable")[:most]])
    return heights


def _arrived(book: Rulebook, heights: Floats, low: float, high: float) -> NDArray[np.bool_]:
    """Whether some number of equal courses goes from a height between low and high to each of the heights."""
    fewest = np.maximum(1, np.ceil((heights - high) / book.cladding.exposure_max - NEAR))
    return np.asarray(fewest * book.cladding.exposure_min <= heights - low + NEAR * book.inch)


def all_bands(book: Rulebook, points: Floats, marks: Floats, top: float) -> Bands:
    """Every band between two ties and from a mark to a tie, and nominal ones from each past the top.

    Args:
        book: the exposures.
        points: the ties, ascending (p,) [job units].
        marks: where courses may start (m,) [job units].
        top: the highest point that must be covered [job units].
    """
    near = NEAR * book.inch
    cladding = book.cladding
    feet = np.concatenate([points, marks])
    spans = points[None, :] - feet[:, None]
    fewest = np.maximum(1, np.ceil(spans / cladding.exposure_max - NEAR)).astype(np.int64)
    most = np.floor(spans / cladding.exposure_min + NEAR).astype(np.int64)
    options = np.where(spans > near * 100, np.maximum(0, most - fewest + 1), 0)
    start, end = np.nonzero(options)
    times = options[start, end]
    start, end = np.repeat(start, times), np.repeat(end, times)
    within = np.arange(len(start)) - np.repeat(np.cumsum(times) - times, times)
    courses = fewest[start, end] + within
    exposure = spans[start, end] / courses
    loose = np.nonzero(feet < top - book.tolerance - near)[0]
    left = (top - book.tolerance - feet[loose]) / cladding.exposure
    left = np.maximum(1, np.ceil(left - NEAR)).astype(np.int64)
    start = np.concatenate([start, loose])
    by_start = np.argsort(start, kind="stable")
    return Bands(
        start[by_start],
        np.concatenate([end, np.full(len(loose), OPEN)])[by_start],
        np.concatenate([courses, left])[by_start],
        np.concatenate([exposure, np.full(len(loose), cladding.exposure)])[by_start],
    )
