"""Pieces and the lengths they are cut from, chosen in the order of hanging with a small heap of cut ends.

                  what hangs                                   the heap (at most so many ends)
    course 3   [ 66 |    150    |  ?                              66   41   38
    course 2   [    150    |    150    | 82 ]   lines 150, 299    spent: 5 lengths, 4 seams
    course 1   [ 84 |    150    |    150    ]   lines  83, 232

A state is what has been spent on lengths and seams, the ends on the heap, the seams of the courses that the
next one must keep away from. Stretch by stretch, piece by piece, every state tries the few places that
matter: a whole length, an end as long as it is, a place from which the rest comes out even, the edges of what
is lawful. The best few go on, counted as what they have spent less what the ends on the heap are worth; none
does beside one that has spent no more and has as many ends, each as long. All states take a step at once: a
row of every array is one of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from evencourse.layout.pieces.heaps import SEAM, Heaps, best, needs, stacked
from evencourse.layout.pieces.seam_places import (
    APART,
    COURSE,
    EDGES,
    WANTED,
    Ints,
    Lines,
    Near,
    SideBySide,
    above,
    near_by,
    places,
    side_by_side,
)
from evencourse.layout.pieces.stretch import Stretch

#: What a rule costs that has to be relaxed, wanted ones and binding ones, in seams: more than any length.
RELAXED, BROKEN = 30, 1000
#: Ends that are tried for the last piece of a stretch, the shortest first.
FITTING = 2
#: Candidates that are cut for every state that goes on: some turn out to be beaten.
SPARE = 2
#: Columns that a heap begins with.
_COLUMNS = 8
#: A factor that keeps numbers apart in a key.
_MANY = 1_000_003


class PieceCut(NamedTuple):
    """One piece: its size, the end it is cut from (0: a new length), what goes on the heap (0: nothing)."""

    size: int
    source: int
    leaves: int


class StretchLayout(NamedTuple):
    """How a stretch is covered: seams and pieces from the left, and the level of the rules relaxed."""

    seams: tuple[int, ...]
    cuts: tuple[PieceCut, ...]
    level: int


class _States(NamedTuple):
    """What is hung so far, as above; ``lines`` by their number."""

    spent: Ints
    heaps: Ints
    lines: Ints


class _Parts(NamedTuple):
    """A stretch that is covered up to ``x``: from which state, beside which places; seams and cuts."""

    x: Ints
    spent: Ints
    heaps: Ints
    begun: Ints
    places: Ints
    seams: Ints
    cuts: Ints

    def at(self, rows: Ints) -> _Parts:
        """Some of them."""
        return _Parts(*(column.take(rows, axis=0) for column in self))


class _Tries(NamedTuple):
    """Pieces that may be next: of which part, their right end, the code that they are cut from."""

    scores: Ints
    rows: Ints
    ends: Ints
    sources: Ints

    def at(self, kept: Ints) -> _Tries:
        """Some of them."""
        return _Tries(*(column.take(kept) for column in self))

    def once(self, most: int) -> _Tries:
        """The best, in their order, those that several tries come to once."""
        kept = best(self.scores, 2 * most)
        # That two others have one key is too rare to matter.
        keys = (self.rows[kept] * _MANY + self.ends[kept]) * _MANY + self.sources[kept]
        turn = keys.argsort(kind="stable")
        keys = keys[turn]
        first = np.ones(len(keys), np.bool_)
        np.not_equal(keys[1:], keys[:-1], out=first[1:])
        turn = turn[first]
        turn.sort()
        return self.at(kept[turn[:most]])


class _Hung(NamedTuple):
    """How a stretch is hung by every state: the state before it, seams laid, seams, cuts, level."""

    begun: Ints
    laid: Ints
    seams: Ints
    cuts: Ints
    levels: Ints


class Hanging:
    """The search over some stretches.

    Args:
        stretches: in the order of hanging.
        heap: ends that may wait at once.
        worth: seams that one length is worth.
        odds: that an end on the heap gets a place that it could serve.
        beam: states that go on.
        apart: states are beaten by those alone that have the same seams.
    """

    def __init__(
        self,
        stretches: Sequence[Stretch],
        heap: int,
        worth: float,
        odds: float,
        beam: int,
        apart: bool = False,
    ) -> None:
        self.stretches = [one.from_its_end() for one in stretches]
        self.length, self.beam, self._apart = round(worth * SEAM), beam, apart
        self._heaps = Heaps(self.stretches, heap, worth, odds)
        self._lines: list[Lines] = [()]
        self._numbers: dict[Lines, int] = {(): 0}
        zero = np.zeros(1, np.int64)
        self._states = _States(zero, np.zeros((1, min(heap, _COLUMNS)), np.int64), zero)
        self._trail: list[_Hung] = []

    def hang(self) -> int:
        """What the best state has spent when everything hangs [units]."""
        before = self.stretches[0]
        for index, (stretch, ahead) in enumerate(zip(self.stretches, needs(self.stretches), strict=True)):
            if (stretch.face, stretch.zone) != (before.face, before.zone):
                self._lines, self._numbers = [()], {(): 0}
                self._states = self._states._replace(lines=np.zeros_like(self._states.lines))
            elif stretch.course != before.course:
                every = self._states.lines
                there = {at: self._number(above(self._lines[at], stretch)) for at in set(every.tolist())}
                self._states = self._states._replace(lines=np.array([there[at] for at in every.tolist()]))
            before = stretch
            self._heaps.begin(index + 1)
            self._next(stretch, ahead)
        return int(self._states.spent.min())

    def layouts(self) -> list[StretchLayout]:
        """What the best state has hung, in the order of hanging."""
        found: list[StretchLayout] = []
        state = int(self._states.spent.argmin())
        for stretch, hung in zip(reversed(self.stretches), reversed(self._trail), strict=True):
            laid, whole = int(hung.laid[state]), self._heaps.whole(stretch.stock)
            seams = hung.seams[state, :laid].tolist()
            cuts = [
                PieceCut(size, 0 if source == whole else source, leaves)
                for size, source, leaves in hung.cuts[state, : laid + 1].tolist()
            ]
            if stretch.turned:
                seams, cuts = [stretch.mirror(seam) for seam in reversed(seams)], cuts[::-1]
            found.append(StretchLayout(tuple(seams), tuple(cuts), int(hung.levels[state])))
            state = int(hung.begun[state])
        return found[::-1]

    def _next(self, stretch: Stretch, ahead: Sequence[int]) -> None:
        """Hang one more stretch."""
        parts, seaming = self._begun(stretch)
        made: list[_Parts] = []
        while len(parts.x):
            worth, spared = self._heaps.held(parts.heaps)
            costs = parts.spent - worth
            last = self._last(stretch, parts, seaming, costs, spared)
            if len(last.rows):
                made += self._in_turn(
                    stretch, self._cut(stretch, parts, last.at(best(last.scores, SPARE * self.beam)))
                )
            if seaming is None:
                break
            steps = self._steps(stretch, parts, seaming, ahead, costs, spared)
            parts = self._seamed(stretch, parts, steps.once(SPARE * self.beam))
        self._keep(stretch, made, seaming)

    def _begun(self, stretch: Stretch) -> tuple[_Parts, SideBySide | None]:
        """The bare stretch, for every state; and where its seams may lie, if it may have any."""
        stock, count = stretch.stock, len(self._states.spent)
        spent, heaps, lines = self._states
        beside, seaming = np.zeros(count, np.int64), None
        if stretch.size > max(stock.unseamed, 2 * stock.shortest - stock.step):
            found: dict[tuple[Near, ...], int] = {}
            known: dict[int, int] = {}
            for number in dict.fromkeys(lines.tolist()):
                near = near_by(stretch, self._lines[number])
                known[number] = found.setdefault(near, len(found))
            beside = np.array([known[number] for number in lines.tolist()])
            long = stretch.size > stock.capacity
            seaming = side_by_side([places(stretch, near) for near in found], long)
            if long:
                wanted, bound = RELAXED * (seaming.levels > 0), BROKEN * seaming.levels
                spent = spent + np.where(seaming.levels < WANTED, wanted, bound)[beside] * SEAM
        none = np.zeros((count, 0), np.int64)
        x = np.full(count, stretch.start)
        return _Parts(x, spent, heaps, np.arange(count), beside, none, none.reshape(count, 0, 3)), seaming

    def _steps(
        self,
        stretch: Stretch,
        parts: _Parts,
        seaming: SideBySide,
        ahead: Sequence[int],
        costs: Ints,
        spared: Ints,
    ) -> _Tries:
        """One more piece and the seam at its right end."""
        stock, laid, whole = stretch.stock, parts.seams.shape[1], self._heaps.whole(stretch.stock)
        more = stock.extra if stretch.size > stock.unseamed else 0
        starts, ends, left = seaming.within(more - laid - 1)
        base = (parts.places[:, None] + 1) * APART
        x = parts.x[:, None] + base
        low, high = x + seaming.shortest[parts.places, None] - stock.step, x + stock.capacity - stock.step
        mine = self._heaps.lengths(parts.heaps, stock)
        # As far as an end reaches, or so that it serves the rest; a whole length less what is needed next.
        wanted = [x + mine - stock.step, base + stretch.end - mine]
        if stretch.size > stock.capacity:  # else a seam has to spare an end
            wanted.append(high - np.array((0, *ahead)))
        goals = np.concatenate(wanted, axis=1)
        at = starts.searchsorted(goals, side="right") - 1
        seams = np.minimum(goals, ends[at])
        lawful = seams >= low
        width = mine.shape[1]
        rest = slice(width, 2 * width)
        lawful[:, rest] &= (seams[:, rest] == goals[:, rest]) & (seams[:, rest] <= high)
        if stretch.size > stock.capacity:
            near = ends.searchsorted(low) + np.arange(EDGES)
            there = starts[near] <= high
            at = np.concatenate((at, near, near), axis=1)
            seams = np.concatenate(
                (seams, np.maximum(starts[near], low), np.minimum(ends[near], high)), axis=1
            )
            lawful = np.concatenate((lawful, there, there), axis=1)
        sizes = seams - x + stock.step
        seams = seams - base
        costs = costs[:, None] + left[at] * SEAM - self.length * (seams - stretch.start) // stock.capacity
        fits = self._heaps.fitting(parts.heaps, self._heaps.base(stock) + sizes)
        # From the shortest end that is long enough; else from the one that it is cut for, or a new length.
        by_fit = (lawful & (fits < whole)).ravel().nonzero()[0]
        lawful[:, :width] &= parts.heaps != fits[:, :width]
        other = lawful.ravel().nonzero()[0]
        sources = np.full(fits.shape, whole)
        sources[:, :width] = parts.heaps
        taken = np.concatenate((by_fit, other))
        sources = np.concatenate((fits.take(by_fit), sources.take(other)))
        rows = taken // fits.shape[1]
        return self._tries(
            stretch, rows, seams.take(taken), sizes.take(taken), costs.take(taken), sources, spared
        )

    def _last(
        self, stretch: Stretch, parts: _Parts, seaming: SideBySide | None, costs: Ints, spared: Ints
    ) -> _Tries:
        """The last piece of a stretch, or the only one: from one of the shortest ends, or a new length."""
        stock, whole, sizes = stretch.stock, self._heaps.whole(stretch.stock), stretch.end - parts.x
        fits = sizes <= stock.capacity
        if seaming is not None and parts.seams.shape[1]:
            fits &= sizes >= seaming.shortest[parts.places]
        rows = fits.nonzero()[0]
        if not len(rows):
            return _Tries(rows, rows, rows, rows)
        sizes = sizes[rows]
        found, sources = [rows], [np.full(len(rows), whole)]
        codes = self._heaps.base(stock) + sizes
        for _ in range(FITTING):
            ends = self._heaps.fitting(parts.heaps[found[-1]], codes[:, None])[:, 0]
            there = ends < whole
            codes = ends[there] + 1
            found.append(found[-1][there])
            sources.append(ends[there])
        rows = np.concatenate(found)
        sizes = stretch.end - parts.x[rows]
        ends = np.full(len(rows), stretch.end)
        return self._tries(stretch, rows, ends, sizes, costs[rows], np.concatenate(sources), spared)

    def _tries(
        self, stretch: Stretch, rows: Ints, ends: Ints, sizes: Ints, costs: Ints, sources: Ints, spared: Ints
    ) -> _Tries:
        """Pieces with their scores: what is spent less what the heap is worth."""
        worth, rest = self._heaps.worth(np.array((sources, sources - sizes)))
        # Where the heap is full the least of what is there goes, or what is new.
        opened = self.length + np.minimum(rest, spared[rows])
        taken = np.where(sources == self._heaps.whole(stretch.stock), opened, worth)
        return _Tries(costs + taken - rest, rows, ends, sources)

    def _cut(self, stretch: Stretch, parts: _Parts, tries: _Tries) -> _Parts:
        """Parts with one more piece, a seam at its right end or not."""
        made, sources = parts.at(tries.rows), tries.sources
        sizes = tries.ends - made.x + (tries.ends < stretch.end) * stretch.stock.step
        whole = self._heaps.whole(stretch.stock)
        heaps, leaves = self._heaps.cut(made.heaps, whole, sources, sizes)
        cut = np.array((sizes, sources, leaves)).T[:, None]
        spent = made.spent + (sources == whole) * self.length
        return made._replace(spent=spent, heaps=heaps, cuts=np.concatenate((made.cuts, cut), axis=1))

    def _seamed(self, stretch: Stretch, parts: _Parts, tries: _Tries) -> _Parts:
        """The best parts with one more seam, none beside one that is as good in all."""
        made = self._cut(stretch, parts, tries)
        kinds = self._alike(made, tries.ends) if self._apart else tries.ends
        kept = self._heaps.unbeaten(made.spent, made.heaps, self.beam, kinds)
        made, seams = made.at(kept), tries.ends[kept]
        return made._replace(
            x=seams, spent=made.spent + SEAM, seams=np.concatenate((made.seams, seams[:, None]), axis=1)
        )

    def _in_turn(self, stretch: Stretch, made: _Parts) -> Iterator[_Parts]:
        """Finished stretches, cut again where the pieces do not hang from the left: beyond an entrance."""
        laid = made.seams.shape[1]
        if not laid or stretch.stock.on_studs or made.x.max(initial=0) < stretch.entrance:
            yield made
            return
        before = (made.seams < stretch.entrance).sum(axis=1)
        for count in sorted(set(before.tolist())):
            group = made.at(np.flatnonzero(before == count))
            yield group if count == laid else self._again(stretch, group)

    def _again(self, stretch: Stretch, made: _Parts) -> _Parts:
        """The same pieces, all seamed on the same sides of an entrance, cut in the order of hanging."""
        base, whole = self._heaps.base(stretch.stock), self._heaps.whole(stretch.stock)
        cuts, heaps = made.cuts.copy(), self._states.heaps[made.begun]
        for piece in stretch.in_turn(made.seams[0].tolist()):
            sizes, sources = cuts[:, piece, 0], cuts[:, piece, 1]
            there = (heaps == sources[:, None]).any(axis=1)
            fits = self._heaps.fitting(heaps, base + sizes[:, None])[:, 0]
            fits[(fits > whole) | ((sources == whole) & (fits - base - sizes >= sizes))] = whole
            cuts[:, piece, 1] = np.where(there, sources, fits)
            heaps, cuts[:, piece, 2] = self._heaps.cut(heaps, whole, cuts[:, piece, 1], sizes)
        opened = (cuts[:, :, 1] == whole).sum(axis=1) - (made.cuts[:, :, 1] == whole).sum(axis=1)
        return made._replace(spent=made.spent + self.length * opened, heaps=heaps, cuts=cuts)

    def _keep(self, stretch: Stretch, made: Sequence[_Parts], seaming: SideBySide | None) -> None:
        """Go on with the best states, none beside one that is as good in all but the places of its seams."""
        laid = np.array([one.seams.shape[1] for one in made]).repeat([len(one.x) for one in made])
        every = made[0]
        if len(made) > 1:
            several = (stacked(column, first=at == 2) for at, column in enumerate(zip(*made, strict=True)))
            every = _Parts(*several)
            order = best(every.spent - self._heaps.held(every.heaps)[0], SPARE * self.beam)
            every, laid = every.at(order), laid.take(order)
        kinds = self._alike(every, laid) if self._apart else None
        order = self._heaps.unbeaten(every.spent, every.heaps, self.beam, kinds)
        every, laid = every.at(order), laid.take(order)
        lines = self._states.lines.take(every.begun)
        levels = np.zeros_like(lines) if seaming is None else seaming.levels[every.places] * (laid > 0)
        base, known = stretch.course * COURSE, dict[tuple[int, ...], int]()
        for at in laid.nonzero()[0].tolist():
            seams = every.seams[at, : laid[at]].tolist()
            key = (lines[at], *seams)
            if key not in known:
                mine = [base + stretch.line(seam) for seam in seams]
                known[key] = self._number(tuple(sorted((*self._lines[lines[at]], *mine))))
            lines[at] = known[key]
        self._states = _States(every.spent, every.heaps, lines)
        self._trail.append(_Hung(every.begun, laid, every.seams, every.cuts, levels))

    def _alike(self, parts: _Parts, more: Ints) -> Ints:
        """A number for each part that is that of others with the same seams, in it and below."""
        rows = np.column_stack((self._states.lines.take(parts.begun), more, parts.seams)).tolist()
        numbers: dict[tuple[int, ...], int] = {}
        return np.array([numbers.setdefault(tuple(row), len(numbers)) for row in rows], np.int64)

    def _number(self, lines: Lines) -> int:
        """The number that seams are known by."""
        number = self._numbers.setdefault(lines, len(self._lines))
        if number == len(self._lines):
            self._lines.append(lines)
        return number
