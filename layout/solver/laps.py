"""Course lines of lapped courses, exactly: a dynamic programme over ties and bands.

Between two neighbouring ties the courses are equal. A band is named by where it starts (a mark of the
starter line, or a tie), where it ends (a tie) and its number of courses. What the edges inside it add to the
objective depends on the band alone; only the change of exposure and the count of bands depend on two
neighbours. So the best way to arrive at every band can be built from the bottom up, and the best way to go on
from it from the top down; the two together give the best answer that uses any given band, which is how the
alternatives are found.

Ties may lie on every mark within the tolerance of an edge (``evencourse.layout.solver.lap_bands``), so there
are a great many bands, and nearly all of them miss edges that a good answer meets.
``evencourse.layout.solver.lap_bounds`` tells how good an answer through a band can be at best. The programme
runs over the most promising bands; an answer is given out only when no band that was left out can lead to a
better one, else more bands are taken in.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from evencourse.layout.model.course_plan import Band
from evencourse.layout.solver.lap_bands import OPEN, all_bands, ties
from evencourse.layout.solver.lap_bounds import NEVER, Bounds, SearchKey
from evencourse.layout.solver.score import (
    BANDS,
    NEAR,
    OFF_NOMINAL,
    SEEN,
    TERMS,
    WIDE_JUMP,
    Columns,
    Rulebook,
    edge_terms,
    order,
    standing,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from evencourse.layout.solver.panels import Answer
    from evencourse.layout.solver.score import Floats, Ints
    from evencourse.layout.solver.targets import Target

    Places = NDArray[np.intp]

#: Rows of the objective before any that a neighbour changes.
FIRST = slice(0, WIDE_JUMP)
#: Rows between the wide jumps and what is seen.
MIDDLE = slice(WIDE_JUMP + 1, SEEN)
#: Rows after what is seen and the number of bands.
REST = slice(BANDS + 1, len(TERMS))
#: Room for the number of bands beside what is seen in one whole number.
ROOM = 1 << 20
#: Rows that a link between two bands adds to.
LINKED = np.array([WIDE_JUMP, SEEN, BANDS])[:, None]
#: Greater than any rank or key.
_LAST = np.iinfo(np.int64).max
#: Bands that are searched at first, and how many times more whenever they do not suffice.
_FIRST_LOOK, _MORE = 700, 4


class LapSearch:
    """Course lines of laps or shingles: built once, asked for all starters together or for some of them.

    Args:
        book: the objective's numbers.
        cols: the edges that count.
        starters: every mark where butt line 1 may lie, ascending [job units].
        top: the highest point that must be covered [job units].
        below: exposures of the bands that hang under the starter already, with their numbers of courses, the
            highest last; the first band jumps from it. Empty when nothing hangs.
    """

    def __init__(
        self,
        book: Rulebook,
        cols: Columns,
        starters: Sequence[float],
        top: float,
        below: Sequence[tuple[int, float]] = (),
    ) -> None:
        # Where nothing is left to cover, as in a zone that a roof hides, one course is counted all the same.
        top = max(top, starters[-1] + book.tolerance + book.inch / 64)
        self.book, self.cols, self.top, self.below = book, cols, top, below
        self.starters = starters
        self.marks = np.array(starters, dtype=np.float64)
        self.points = ties(book, cols, starters[0], starters[-1], top)
        self.bands = all_bands(book, self.points, self.marks, top)
        self.key = SearchKey(book, cols, len(self.points) + 2)
        self.bounds = Bounds(book, cols, self.points, self.marks, self.bands, self.key)

    def answers(self, starter: float | None = None, meeting: Target | None = None) -> Iterator[Answer]:
        """Answers from best to worst.

        Args:
            starter: one of the marks, to begin there; None for all of them [job units].
            meeting: an edge that has to be flush, whatever it costs; None for none.

        Yields:
            Starter, bands and butt lines. The first is the optimum over all starters, all subsets of ties,
            all numbers of courses, and above the last tie either the exposure that arrives there or the
            nominal one; the others are the best answers through each other band, so the second is the second
            best.
        """
        usable = np.ones(len(self.marks), dtype=np.bool_) if starter is None else self.marks == starter
        through, may_stop = self.bounds.through(usable, meeting)
        reached = int((through < NEVER).sum())
        if not reached:
            return
        given: set[tuple[int, ...]] = set()
        look = _FIRST_LOOK
        while True:
            limit = NEVER - 1
            if look < reached:
                limit = int(np.partition(through, look)[look])
            chosen = np.nonzero(through <= limit)[0]
            everything = len(chosen) == reached
            for path, key in _Programme(self, chosen, usable, may_stop).paths():
                if key > limit and not everything:
                    break
                if path not in given:
                    given.add(path)
                    yield self._answer(path)
            if everything:
                return
            look = len(chosen) * _MORE

    def _answer(self, path: Sequence[int]) -> Answer:
        near, bands = NEAR * self.book.inch, self.bands
        starter = self.starters[int(bands.start[path[0]]) - len(self.points)]
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
            head = None if end == OPEN else float(self.points[end])
            stack(int(bands.courses[band]), float(bands.exposure[band]), head)
        uncovered = self.top - self.book.tolerance - butts[-1]
        if uncovered > near:
            exposure = stretches[-1][1]
            stack(max(1, ceil(uncovered / exposure - NEAR)), exposure, None)
        first, finished = 1, []
        for courses, exposure in stretches:
            finished.append(Band(first, courses, exposure))
            first += courses
        return starter, tuple(finished), tuple(butts)


def lap_lines(
    book: Rulebook,
    cols: Columns,
    starters: Sequence[float],
    top: float,
    below: Sequence[tuple[int, float]] = (),
) -> Iterator[Answer]:
    """Course lines of laps or shingles from best to worst; arguments as for ``LapSearch``."""
    return LapSearch(book, cols, starters, top, below).answers()


class _Programme:
    """Best ways up to, and on from, every one of some bands.

    A band of one course between two others counts twice. Whether it stands between two others is known at its
    upper link only if it is known how it was entered. So such a band is there twice: ``joined``, entered from
    courses of the same exposure or at the bottom of the wall, and ``parted``, entered over a change.
    """

    def __init__(
        self, search: LapSearch, chosen: Places, usable: NDArray[np.bool_], may_stop: NDArray[np.bool_]
    ) -> None:
        book, points = search.book, search.points
        single = np.nonzero((search.bands.courses[chosen] == 1) & (search.bands.end[chosen] != OPEN))[0]
        self.search, self.book = search, book
        self.origin = np.concatenate([chosen, chosen[single]])
        bands = search.bands.take(self.origin)
        self.bands = bands
        self.parted = np.arange(len(self.origin)) >= len(chosen)
        self.joined = np.zeros(len(self.origin), dtype=np.bool_)
        self.joined[single] = True
        feet = np.concatenate([points, search.marks])
        ceilings = np.concatenate([points, [np.inf]])[bands.end]
        self.terms = self._terms(feet[bands.start], ceilings)
        self.terms[OFF_NOMINAL] = bands.courses * _off_nominal(book, bands.exposure)
        self.arrive = self.terms.copy()
        self.before = np.full(len(self.origin), -1)
        starting = np.nonzero(bands.start >= len(points))[0]
        self.reachable = np.zeros(len(self.origin), dtype=np.bool_)
        self.reachable[starting] = usable[bands.start[starting] - len(points)]
        self.arrive[BANDS, starting] += 1
        self._begin(starting)
        count = len(points)
        self.leaving = _by(bands.start, count)
        self.arriving = _by(bands.end, count)
        for tie in range(count):
            self._step_up(tie)
        self.may_stop = may_stop[self.origin]
        self.finish = np.zeros_like(self.terms)
        self.finish[0, ~self.may_stop] = NEVER
        self.after = np.full(len(self.origin), -1)
        self._carry_on()
        self.stop = self.finish.copy()
        for tie in range(count - 1, -1, -1):
            self._step_down(tie)

    def _terms(self, foot: Floats, ceilings: Floats, above: Places | None = None) -> Ints:
        """What the edges from each band's foot to a ceiling add; ``above``: of these bands, carried on."""
        cols, near = self.search.cols, 100 * NEAR * self.book.inch
        exposure = self.bands.exposure if above is None else self.bands.exposure[above]
        terms = np.zeros((len(TERMS), len(foot)), dtype=np.int64)
        block = max(1, 500_000 // max(1, len(cols.height)))
        for at in range(0, len(foot), block):
            part = slice(at, at + block)
            counts = cols.height > foot[part, None] + near
            counts &= cols.height <= ceilings[part, None] + near
            if above is None:
                first = np.nonzero(self.bands.start[part] >= len(self.search.points))[0]
                counts[first] &= standing(self.book, cols, foot[part][first])
            terms[:, part] = edge_terms(self.book, cols, foot[part], exposure[part], counts)
        return terms

    def _begin(self, starting: Places) -> None:
        """Add the jump from courses that hang already to every first band."""
        below = self.search.below
        if not below:
            self.reachable[starting] &= ~self.parted[starting]
            return
        change = np.abs(self.bands.exposure[starting] - below[-1][1])
        links = self._jumps(change)
        lone = len(below) > 1 and below[-1][0] == 1
        links[2] *= 1 + lone
        self.arrive[LINKED, starting] += links
        self.reachable[starting] &= ~(self.joined[starting] & (links[2] > 0))

    def _jumps(self, change: Floats) -> Ints:
        """What changes of exposure add, in the rows of ``LINKED``: wide jump, jump that is seen, new band."""
        book = self.book
        wide = book.all_quanta(np.maximum(0.0, change - book.jump_max))
        jump = book.all_quanta(np.maximum(0.0, change - book.jump_unseen))
        return np.stack([wide, jump, change > NEAR * book.inch]).astype(np.int64)

    def _best_links(self, choice: Ints, lower: Places, upper: Places, up: bool) -> tuple[Places, Ints]:
        """For every band on one side of a tie the best one on the other side.

        Args:
            choice: terms of the bands to choose from (terms, c).
            lower: bands that end at the tie.
            upper: bands that start there.
            up: choose among ``lower`` for every one of ``upper``; else the other way.

        Returns:
            Index into the bands to choose from, -1 where none may be linked; and what that link adds (3, n).
        """
        exposure = self.bands.exposure
        links = self._jumps(np.abs(exposure[lower][:, None] - exposure[upper][None, :]))
        barred = (links[2] > 0) & self.joined[upper][None, :]
        links[2] *= 1 + self.parted[lower][:, None]
        if not up:
            links, barred = links.transpose(0, 2, 1), barred.T
        key = np.where(barred, _LAST, choice[WIDE_JUMP][:, None] + links[0])
        left = (key == key.min(axis=0)) & ~barred
        seen = (choice[SEEN][:, None] + links[1]) * ROOM + choice[BANDS][:, None] + links[2]
        for row in (_ranks(choice[MIDDLE])[:, None], seen, None):
            if not (left.sum(axis=0) > 1).any():
                break
            key = np.where(left, _ranks(choice[REST])[:, None] if row is None else row, _LAST)
            left &= key == key.min(axis=0)
        best = left.argmax(axis=0)
        added = links[:, best, np.arange(len(best))]
        return np.where(barred.all(axis=0), -1, best), added

    def _step_up(self, tie: int) -> None:
        arriving, leaving = self.arriving[tie], self.leaving[tie]
        arriving = arriving[self.reachable[arriving]]
        if not len(arriving) or not len(leaving):
            return
        here = arriving[_leaders(self.arrive[FIRST][:, arriving])]
        best, link = self._best_links(self.arrive[:, here], here, leaving, up=True)
        there, link, best = leaving[best >= 0], link[:, best >= 0], best[best >= 0]
        self.arrive[:, there] += self.arrive[:, here[best]]
        self.arrive[LINKED, there] += link
        self.before[there] = here[best]
        self.reachable[there] = True

    def _carry_on(self) -> None:
        """Courses above a band that ends at a tie, when its own exposure runs on past the highest point."""
        search, bands = self.search, self.bands
        closed = np.nonzero((bands.end != OPEN) & self.may_stop)[0]
        if not len(closed):
            return
        foot, exposure = search.points[bands.end[closed]], bands.exposure[closed]
        self.finish[:, closed] = self._terms(foot, np.full(len(foot), np.inf), closed)
        courses = np.ceil((search.top - self.book.tolerance - foot) / exposure - NEAR)
        self.finish[OFF_NOMINAL, closed] = np.maximum(0, courses).astype(np.int64) * _off_nominal(
            self.book, exposure
        )

    def _step_down(self, tie: int) -> None:
        arriving, leaving = self.arriving[tie], self.leaving[tie]
        if not len(arriving) or not len(leaving):
            return
        ahead = self.terms[:, leaving] + self.finish[:, leaving]
        kept = _leaders(ahead[FIRST])
        there = leaving[kept]
        best, link = self._best_links(ahead[:, kept], arriving, there, up=False)
        arriving, link, best = arriving[best >= 0], link[:, best >= 0], best[best >= 0]
        onward = ahead[:, kept][:, best]
        onward[LINKED[:, 0]] += link
        better = _less(onward, self.finish[:, arriving])
        self.finish[:, arriving[better]] = onward[:, better]
        self.after[arriving[better]] = there[best][better]

    def paths(self) -> Iterator[tuple[tuple[int, ...], int]]:
        """The best answers through every band, and those in which it is the last one, best first.

        Yields:
            Bands of the search from the bottom up, and the answer's key, rounded up.
        """
        bands = np.nonzero(self.reachable & (self.finish[0] < NEVER))[0]
        last = bands[(self.bands.end[bands] != OPEN) & self.may_stop[bands]]
        through = self.arrive[:, bands] + self.finish[:, bands]
        stopping = self.arrive[:, last] + self.stop[:, last]
        both = np.concatenate([bands, last])
        answers = np.concatenate([through, stopping], axis=1)
        keys = self.search.key.of_answer(answers)
        for index in order(answers):
            yield self._path(int(both[index]), onward=bool(index < len(bands))), int(keys[index])

    def _path(self, band: int, onward: bool) -> tuple[int, ...]:
        path = [band]
        while self.before[path[0]] >= 0:
            path.insert(0, int(self.before[path[0]]))
        while onward and self.after[path[-1]] >= 0:
            path.append(int(self.after[path[-1]]))
        return tuple(self.origin[path].tolist())


def _by(place: NDArray[np.int64], count: int) -> list[Places]:
    """Bands by their place, one array for each of so many places."""
    ranked = np.argsort(place, kind="stable")
    cuts = np.searchsorted(place[ranked], np.arange(count + 1))
    return [ranked[first:last] for first, last in pairwise(cuts)]


def _off_nominal(book: Rulebook, exposure: Floats) -> Ints:
    """Distance of each exposure from the nominal one, in whole quanta for one course."""
    return book.all_quanta(np.abs(exposure - book.cladding.exposure))


def _ranks(rows: Ints) -> Ints:
    """Rank of every column in strict order of the rows; equal columns have one rank."""
    ranked = np.lexsort(rows[::-1])
    new = np.any(rows[:, ranked[1:]] != rows[:, ranked[:-1]], axis=0)
    ranks = np.empty(rows.shape[1], dtype=np.int64)
    ranks[ranked] = np.concatenate([[0], np.cumsum(new)])
    return ranks


def _leaders(rows: Ints) -> Places:
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
