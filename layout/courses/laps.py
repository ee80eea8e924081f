"""Course lines of lapped courses, exactly: a dynamic programme over tie points and bands.

Between two neighbouring tie points the courses are equal. A band is named by where it starts (a mark of the
starter line, or a tie), where it ends (a tie) and its number of courses. What the edges inside it add to the
objective depends on the band alone; only the jump of exposure and the count of bands depend on two
neighbours. So the best way to arrive at every band can be built from the bottom up, and the best way to go on
from it from the top down; the two together give the best answer that uses any given band, which is how the
alternatives are found.

Bands are compared in the strict order of the objective. Most terms do not depend on the neighbour: what lies
before, between and after the jumps is ranked once for a tie, and a link is chosen by jumps and ranks alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from evencourse.layout.courses.panels import Answer
from evencourse.layout.courses.score import (
    BANDS,
    JUMP,
    NEAR,
    OFF_NOMINAL,
    QUANTUM,
    TERMS,
    WIDE_JUMP,
    Columns,
    Rulebook,
    edge_terms,
    order,
    standing,
)
from evencourse.layout.model.course_plan import Band
from evencourse.layout.trade.rules import rules

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from evencourse.layout.courses.score import Floats, Ints

#: Rows of the objective before any that a neighbour changes.
FIRST = slice(0, WIDE_JUMP)
#: Rows between the wide jumps and the jumps.
MIDDLE = slice(WIDE_JUMP + 1, JUMP)
#: Rows after the jump and the number of bands.
REST = slice(BANDS + 1, len(TERMS))
#: Room for the number of bands beside the jump in one whole number.
ROOM = 1 << 20
#: Rows that a link between two bands adds to, in the order of ``_links``.
LINKED = (WIDE_JUMP, JUMP, BANDS)
#: Greater than any rank or key.
_LAST = np.iinfo(np.int64).max
#: End of a band that runs past the highest point.
OPEN = -1


@dataclass(frozen=True)
class _Bands:
    """Every band that is allowed.

    Attributes:
        start: int (b,), index of the tie it starts from, or of the mark, counted on from the ties.
        end: int (b,), index of the tie where it ends, or ``OPEN``.
        courses: int (b,).
        exposure: float (b,) [job units].
        terms: int64 (terms, b): what it adds by itself.
    """

    start: NDArray[np.int64]
    end: NDArray[np.int64]
    courses: NDArray[np.int64]
    exposure: Floats
    terms: Ints


def ties(cols: Columns, low: float, top: float) -> Floats:
    """Heights that courses may be tied to: those of the edges, above the lowest starter.

    When there are more than ``limits.ties_max`` of ``rules.toml``, the heaviest of them.
    """
    heights = cols.height[(cols.height > low) & (cols.height <= top + NEAR)]
    distinct = np.unique(heights)
    most = int(rules().limits["ties_max"])
    if len(distinct) > most:
        weights = np.array([int(cols.weight[cols.height == height].sum()) for height in distinct])
        distinct = np.sort(distinct[np.argsort(-weights, kind="stable")[:most]])
    return distinct


def lap_lines(
    book: Rulebook, cols: Columns, starters: Sequence[float], top: float, below: float | None = None
) -> Iterator[Answer]:
    """Course lines of laps or shingles from best to worst.

    Args:
        book: the objective's numbers.
        cols: the edges that count.
        starters: every mark where butt line 1 may lie, ascending [job units].
        top: the highest point that must be covered [job units].
        below: exposure of a course that hangs under the starter already, from which the first band jumps;
            None when nothing does [job units].

    Yields:
        Starter, bands and butt lines. The first is the optimum over all starters, all subsets of ties, all
        numbers of courses, and above the last tie either the exposure that arrives there or the nominal
        one; the others are the best answers through each other band, so the second is the second best.
    """
    marks = np.array(starters, dtype=np.float64)
    points = ties(cols, starters[0], top)
    bands = _all_bands(book, cols, points, marks, top)
    programme = _Programme(book, cols, points, bands, top, below)
    for path in programme.paths():
        yield _answer(path, bands, points, starters, top, book)


def _all_bands(book: Rulebook, cols: Columns, points: Floats, marks: Floats, top: float) -> _Bands:
    """Every band between two ties, from a mark to a tie, and the nominal ones that run past the top."""
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
    loose = np.nonzero(feet < top - near)[0]
    left = np.maximum(1, np.ceil((top - feet[loose]) / cladding.exposure - NEAR)).astype(np.int64)
    start = np.concatenate([start, loose])
    end = np.concatenate([end, np.full(len(loose), OPEN)])
    courses = np.concatenate([courses, left])
    exposure = np.concatenate([exposure, np.full(len(loose), cladding.exposure)])
    ceilings = np.where(end == OPEN, np.inf, points[end] if len(points) else np.inf)
    seen = cols.height[None, :] > feet[:, None] + near * 100
    if len(marks):
        seen[len(points) :] = standing(book, cols, marks)
    terms = np.empty((len(TERMS), len(start)), dtype=np.int64)
    block = max(1, 2_000_000 // max(1, len(cols.height)))
    for at in range(0, len(start), block):
        part = slice(at, at + block)
        counts = seen[start[part]] & (cols.height[None, :] <= ceilings[part, None] + near * 100)
        terms[:, part] = edge_terms(book, cols, feet[start[part]], exposure[part], counts)
    terms[OFF_NOMINAL] = courses * _off_nominal(book, exposure)
    return _Bands(start, end, courses, exposure, terms)


class _Programme:
    """Best ways up to, and on from, every band."""

    def __init__(
        self,
        book: Rulebook,
        cols: Columns,
        points: Floats,
        bands: _Bands,
        top: float,
        below: float | None = None,
    ) -> None:
        self.book, self.bands = book, bands
        count = len(points)
        self.leaving = [np.nonzero(bands.start == tie)[0] for tie in range(count)]
        self.arriving = [np.nonzero(bands.end == tie)[0] for tie in range(count)]
        self.arrive = bands.terms.copy()
        self.arrive[BANDS] += bands.start >= count
        if below is not None:
            self._jump_from(below, np.nonzero(bands.start >= count)[0])
        self.before = np.full(len(bands.start), -1)
        self.reachable = bands.start >= count
        for tie in range(count):
            self._step_up(tie)
        self.finish = np.zeros_like(bands.terms)
        self.after = np.full(len(bands.start), -1)
        self._carry_on(cols, points, top)
        self.stop = self.finish.copy()
        for tie in range(count - 1, -1, -1):
            self._step_down(tie)

    def _jump_from(self, below: float, first: NDArray[np.intp]) -> None:
        """Add the jump from a course that hangs already to every first band."""
        change = np.abs(self.bands.exposure[first] - below)
        self.arrive[np.array(LINKED)[:, None], first] += self._jumps(change)

    def _links(self, here: NDArray[np.int64], there: NDArray[np.int64]) -> Ints:
        """What a link between every band ``here`` and every band ``there`` adds: int64 (3, h, t)."""
        exposure = self.bands.exposure
        return self._jumps(np.abs(exposure[here][:, None] - exposure[there][None, :]))

    def _jumps(self, change: Floats) -> Ints:
        """What changes of exposure add, in the rows of ``LINKED``: wide jump, jump, new band."""
        scale = QUANTUM / self.book.inch
        wide = np.rint(np.maximum(0.0, change - self.book.jump_max) * scale)
        jump = np.rint(np.maximum(0.0, change - self.book.jump_unseen) * scale)
        return np.stack([wide, jump, change > NEAR * self.book.inch]).astype(np.int64)

    def _best_links(
        self, choice: Ints, here: NDArray[np.int64], there: NDArray[np.int64]
    ) -> tuple[NDArray[np.intp], Ints]:
        """For every band ``there`` the best band ``here``, by the terms in ``choice`` (terms, h).

        Returns:
            Index into ``here`` (t,), and what that link adds: int64 (3, t) as in ``_links``.
        """
        links = self._links(here, there)
        middle, rest = _ranks(choice[MIDDLE])[:, None], _ranks(choice[REST])[:, None]
        key = choice[WIDE_JUMP][:, None] + links[0]
        left = key == key.min(axis=0)
        for row in (
            middle,
            (choice[JUMP][:, None] + links[1]) * ROOM + choice[BANDS][:, None] + links[2],
            rest,
        ):
            key = np.where(left, row, _LAST)
            left = key == key.min(axis=0)
        best = left.argmax(axis=0)
        return best, links[:, best, np.arange(len(there))]

    def _step_up(self, tie: int) -> None:
        arriving, leaving = self.arriving[tie], self.leaving[tie]
        arriving = arriving[self.reachable[arriving]]
        if not len(arriving) or not len(leaving):
            return
        here = arriving[_leaders(self.arrive[FIRST][:, arriving])]
        best, link = self._best_links(self.arrive[:, here], here, leaving)
        self.arrive[:, leaving] += self.arrive[:, here[best]]
        self.arrive[np.array(LINKED)[:, None], leaving] += link
        self.before[leaving] = here[best]
        self.reachable[leaving] = True

    def _carry_on(self, cols: Columns, points: Floats, top: float) -> None:
        """Courses above a band that ends at a tie, when its own exposure runs on past the highest point."""
        bands, book = self.bands, self.book
        near = NEAR * book.inch
        closed = np.nonzero(bands.end != OPEN)[0]
        if not len(closed):
            return
        foot, exposure = points[bands.end[closed]], bands.exposure[closed]
        block = max(1, 2_000_000 // max(1, len(cols.height)))
        for at in range(0, len(closed), block):
            part = slice(at, at + block)
            counts = cols.height[None, :] > foot[part, None] + near * 100
            self.finish[:, closed[part]] = edge_terms(book, cols, foot[part], exposure[part], counts)
        courses = np.maximum(0, np.ceil((top - foot) / exposure - NEAR))
        self.finish[OFF_NOMINAL, closed] = courses.astype(np.int64) * _off_nominal(book, exposure)

    def _step_down(self, tie: int) -> None:
        arriving, leaving = self.arriving[tie], self.leaving[tie]
        if not len(arriving) or not len(leaving):
            return
        ahead = self.bands.terms[:, leaving] + self.finish[:, leaving]
        kept = _leaders(ahead[FIRST])
        there = leaving[kept]
        best, link = self._best_links(ahead[:, kept], there, arriving)
        onward = ahead[:, kept][:, best]
        onward[np.array(LINKED)] += link
        better = _less(onward, self.finish[:, arriving])
        self.finish[:, arriving[better]] = onward[:, better]
        self.after[arriving[better]] = there[best][better]

    def paths(self) -> Iterator[list[int]]:
        """The best answers through every band, and those in which it is the last one, best first.

        Yields:
            Bands from the bottom up.
        """
        bands = np.nonzero(self.reachable)[0]
        last = bands[self.bands.end[bands] != OPEN]
        through = self.arrive[:, bands] + self.finish[:, bands]
        stopping = self.arrive[:, last] + self.stop[:, last]
        both = np.concatenate([bands, last])
        for index in order(np.concatenate([through, stopping], axis=1)):
            yield self._path(int(both[index]), onward=bool(index < len(bands)))

    def _path(self, band: int, onward: bool) -> list[int]:
        path = [band]
        while self.before[path[0]] >= 0:
            path.insert(0, int(self.before[path[0]]))
        while onward and self.after[path[-1]] >= 0:
            path.append(int(self.after[path[-1]]))
        return path


def _off_nominal(book: Rulebook, exposure: Floats) -> Ints:
    """Distance of each exposure from the nominal one, in whole quanta for one course."""
    return np.rint(np.abs(exposure - book.cladding.exposure) * (QUANTUM / book.inch)).astype(np.int64)


def _ranks(rows: Ints) -> Ints:
    """Rank of every column in strict order of the rows; equal columns have one rank."""
    ranked = np.lexsort(rows[::-1])
    new = np.any(rows[:, ranked[1:]] != rows[:, ranked[:-1]], axis=0)
    ranks = np.empty(rows.shape[1], dtype=np.int64)
    ranks[ranked] = np.concatenate([[0], np.cumsum(new)])
    return ranks


def _leaders(rows: Ints) -> NDArray[np.intp]:
    """Columns that are least in strict order of the rows; all of those that are equal."""
    kept = np.arange(rows.shape[1])
    for row in rows:
        kept = kept[row[kept] == row[kept].min()]
    return kept


def _less(left: Ints, right: Ints) -> NDArray[np.bool_]:
    """Whether each column of the left is before the same column of the right in strict order."""
    less = np.zeros(left.shape[1], dtype=np.bool_)
    open_ = np.ones(left.shape[1], dtype=np.bool_)
    for mine, other in zip(left, right, strict=True):
        less |= open_ & (mine < other)
        open_ &= mine == other
    return less


def _answer(
    path: list[int], bands: _Bands, points: Floats, starters: Sequence[float], top: float, book: Rulebook
) -> Answer:
    near = NEAR * book.inch
    starter = starters[int(bands.start[path[0]]) - len(points)]
    stretches: list[tuple[int, float]] = []
    butts = [starter]

    def stack(courses: int, exposure: float, end: float | None) -> None:
        foot = butts[-1]
        butts.extend(foot + exposure * k for k in range(1, courses + 1))
        if end is not None:
            butts[-1] = end
        if stretches and abs(stretches[-1][1] - exposure) <= near:
            stretches[-1] = (stretches[-1][0] + courses, stretches[-1][1])
        else:
            stretches.append((courses, exposure))

    for band in path:
        end = int(bands.end[band])
        stack(
            int(bands.courses[band]), float(bands.exposure[band]), None if end == OPEN else float(points[end])
        )
    if butts[-1] < top - near:
        exposure = stretches[-1][1]
        stack(max(1, ceil((top - butts[-1]) / exposure - NEAR)), exposure, None)
    first, finished = 1, []
    for courses, exposure in stretches:
        finished.append(Band(first, courses, exposure))
        first += courses
    return starter, tuple(finished), tuple(butts)
