"""Pieces and the lengths they are cut from, chosen in the order of hanging with a small heap of cut ends.

                  what hangs                                   the heap (at most so many ends)
    course 3   [ 66 |    150    |  ?                              66   41   38
    course 2   [    150    |    150    | 82 ]   lines 150, 299    spent: 5 lengths, 4 seams
    course 1   [ 84 |    150    |    150    ]   lines  83, 232

A state is what has been spent on lengths and seams, the ends on the heap, the seams of the courses that the
next one must keep away from. Stretch by stretch, piece by piece, every state tries the few places that
matter: a whole length, an end as long as it is, a place from which the rest comes out even, the edges of what
is lawful. The best few go on, counted as what they have spent less what the ends on the heap are worth; none
does beside one that has spent no more and has as many ends, each as long but for a little. All states take a
step at once, each as a row of one array:

    spent | covered to | places | state before | size, source, what it leaves, right end | ... | the heap
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from evencourse.layout.pieces.heaps import SEAM, Heaps, InLine, best, needs
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
#: Candidates that are cut for every state that goes on, as some turn out to be beaten: whole stretches, and
#: those with one more seam.
SPARE, SEAMED = 2, 1.5
#: Columns that a heap begins with.
_COLUMNS = 8
#: A factor that keeps numbers apart in a key.
_MANY = 1_000_003
#: Columns of a row, and how many before its pieces; those of a piece.
SPENT, X, PLACES, BEGUN, FIRST = range(5)
SIZE, SOURCE, LEAVES, END, PIECE = range(5)
#: No tries.
_NONE = np.zeros((5, 0), np.int64)


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


class _Parts(NamedTuple):
    """A stretch that so many pieces cover: rows as above."""

    rows: Ints
    pieces: int

    @property
    def heaps(self) -> Ints:
        """By row, the ends that are left."""
        return self.rows[:, FIRST + PIECE * self.pieces :]

    @property
    def cuts(self) -> Ints:
        """By row and piece, its columns."""
        return self.rows[:, FIRST : FIRST + PIECE * self.pieces].reshape(-1, self.pieces, PIECE)

    @property
    def ends(self) -> Ints:
        """By row, the right end of every piece: where its seam is, but for the last one's."""
        return self.rows[:, FIRST + END : FIRST + PIECE * self.pieces : PIECE]

    def at(self, kept: Ints) -> _Parts:
        """Some of them."""
        return _Parts(self.rows.take(kept, axis=0), self.pieces)


class _Hung(NamedTuple):
    """How a stretch is hung by every state: rows without heaps, levels of the rules relaxed by places."""

    rows: Ints
    levels: Ints | None


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
        self._seams: list[Lines] = [()]
        self._numbers: dict[Lines, int] = {(): 0}
        self._states = _Parts(np.zeros((1, FIRST + min(heap, _COLUMNS)), np.int64), 0)
        #: By state, the number of the seams that hang.
        self._lines: Ints = np.zeros(1, np.int64)
        self._trail: list[_Hung] = []

    def hang(self) -> int:
        """What the best state has spent when everything hangs [units]."""
        before = self.stretches[0]
        for index, (stretch, ahead) in enumerate(zip(self.stretches, needs(self.stretches), strict=True)):
            if (stretch.face, stretch.zone) != (before.face, before.zone):
                self._seams, self._numbers = [()], {(): 0}
                self._lines = np.zeros_like(self._lines)
            elif stretch.course != before.course:
                every = self._lines.tolist()
                there = {at: self._number(above(self._seams[at], stretch)) for at in set(every)}
                self._lines = np.array([there[at] for at in every])
            before = stretch
            self._heaps.begin(index + 1)
            self._next(stretch, ahead)
        return int(self._states.rows[:, SPENT].min())

    def layouts(self) -> list[StretchLayout]:
        """What the best state has hung, in the order of hanging."""
        found: list[StretchLayout] = []
        state = int(self._states.rows[:, SPENT].argmin())
        for stretch, hung in zip(reversed(self.stretches), reversed(self._trail), strict=True):
            row, whole = hung.rows[state].tolist(), self._heaps.whole(stretch.stock)
            pieces = [row[at : at + PIECE] for at in range(FIRST, len(row), PIECE) if row[at + SOURCE]]
            seams = [end for *_, end in pieces[:-1]]
            cuts = [
                PieceCut(size, 0 if source == whole else source, leaves) for size, source, leaves, _ in pieces
            ]
            if stretch.turned:
                seams, cuts = [stretch.mirror(seam) for seam in reversed(seams)], cuts[::-1]
            level = 0 if hung.levels is None or not seams else int(hung.levels[row[PLACES]])
            found.append(StretchLayout(tuple(seams), tuple(cuts), level))
            state = row[BEGUN]
        return found[::-1]

    def _next(self, stretch: Stretch, ahead: Sequence[int]) -> None:
        """Hang one more stretch."""
        parts, seaming = self._begun(stretch)
        made: list[_Parts] = []
        while True:
            worth, spared = self._heaps.held(parts.heaps)
            line = self._heaps.in_line(parts.heaps)
            tries = self._last(stretch, parts, seaming, line)
            last = tries.shape[1]
            if seaming is not None:
                steps = self._steps(stretch, parts, seaming, ahead, line)
                tries = np.concatenate((tries, steps), axis=1) if last else steps
            tries, last = self._picked(stretch, tries, last, parts.rows[:, SPENT] - worth, spared)
            cut = self._cut(stretch, parts, tries)
            if last:
                made += self._in_turn(stretch, _Parts(cut.rows[:last], cut.pieces))
            if last == len(cut.rows):
                break
            parts = _Parts(cut.rows[last:], cut.pieces)
        self._keep(stretch, made, seaming)

    def _begun(self, stretch: Stretch) -> tuple[_Parts, SideBySide | None]:
        """The bare stretch, for every state; and where its seams may lie, if it may have any."""
        stock, rows, seaming = stretch.stock, self._states.rows, None
        rows[:, X], rows[:, PLACES], rows[:, BEGUN] = stretch.start, 0, np.arange(len(rows))
        if stretch.size > max(stock.unseamed, 2 * stock.shortest - stock.step):
            found: dict[tuple[Near, ...], int] = {}
            every = self._lines.tolist()
            each = sorted(set(every))
            known = {at: found.setdefault(near_by(stretch, self._seams[at]), len(found)) for at in each}
            rows[:, PLACES] = [known[at] for at in every]
            long = stretch.size > stock.capacity
            seaming = side_by_side([places(stretch, near) for near in found], long)
            if long and seaming.levels.any():
                levels = seaming.levels[rows[:, PLACES]]
                rows[:, SPENT] += np.where(levels < WANTED, RELAXED * (levels > 0), BROKEN * levels) * SEAM
        return _Parts(rows, 0), seaming

    def _steps(
        self, stretch: Stretch, parts: _Parts, seaming: SideBySide, ahead: Sequence[int], line: InLine
    ) -> Ints:
        """One more piece and the seam at its right end, as in ``_picked``."""
        stock, heaps, whole = stretch.stock, parts.heaps, self._heaps.whole(stretch.stock)
        more = stock.extra if stretch.size > stock.unseamed else 0
        starts, ends, left = seaming.within(more - parts.pieces - 1)
        if len(starts) == 1 + EDGES:
            return _NONE
        beside = parts.rows[:, PLACES, None]
        base = (beside + 1) * APART
        x = parts.rows[:, X, None] + base
        low, high = x + (seaming.shortest[beside] - stock.step), x + (stock.capacity - stock.step)
        mine = self._heaps.lengths(heaps, stock)
        # As far as an end reaches, or so that it serves the rest; a whole length less what is needed next.
        wanted = [x - stock.step + mine, base + stretch.end - mine]
        if stretch.size > stock.capacity:  # else a seam has to spare an end
            wanted.append(high - np.array((0, *ahead)))
        goals = np.concatenate(wanted, axis=1)
        at = starts.searchsorted(goals, side="right") - 1
        seams = np.minimum(goals, ends[at])
        lawful = seams >= low
        width = mine.shape[1]
        rest = seams[:, width : 2 * width]
        lawful[:, width : 2 * width] &= (rest == wanted[1]) & (rest <= high)
        if stretch.size > stock.capacity:
            near = ends.searchsorted(low) + np.arange(EDGES)
            first = starts[near]
            there = first <= high
            at = np.concatenate((at, near, near), axis=1)
            edges = np.maximum(first, low), np.minimum(ends[near], high)
            seams = np.concatenate((seams, *edges), axis=1)
            lawful = np.concatenate((lawful, there, there), axis=1)
        sources = np.full(seams.shape, whole)
        sources[:, :width] = heaps
        taken = lawful.ravel().nonzero()[0]
        rows, seams, own = taken // seams.shape[1], seams.take(taken), sources.take(taken)
        sizes = seams - x.take(rows) + stock.step
        # From the shortest end that is long enough; else from the one that it is cut for, or a new length.
        fits = line.fitting(rows, self._heaps.base(stock) + sizes)
        by_fit, other = (fits < whole).nonzero()[0], (own != fits).nonzero()[0]
        seams -= base.take(rows)
        done = self.length * (seams - stretch.start) // stock.capacity
        costs = left.take(at.take(taken)) * SEAM - done
        tries = np.array((rows, seams, sizes, own, costs)).take(np.concatenate((by_fit, other)), axis=1)
        tries[3, : len(by_fit)] = fits.take(by_fit)
        return tries

    def _last(self, stretch: Stretch, parts: _Parts, seaming: SideBySide | None, line: InLine) -> Ints:
        """The last piece of a stretch, or the only one: from one of the two shortest ends or a new length."""
        stock, whole, sizes = stretch.stock, self._heaps.whole(stretch.stock), stretch.end - parts.rows[:, X]
        fits = sizes <= stock.capacity
        if not fits.any():
            return _NONE
        if seaming is not None and parts.pieces:
            fits &= sizes >= seaming.shortest[parts.rows[:, PLACES]]
        sources = np.full((3, len(sizes)), whole)
        sources[1:] = line.two(self._heaps.base(stock) + sizes)
        lawful = sources <= whole
        lawful &= fits
        lawful[2] &= sources[2] != sources[1]
        taken = lawful.ravel().nonzero()[0]
        rows = taken % len(sizes)
        tries = np.empty((5, len(taken)), np.int64)
        tries[0], tries[1], tries[2] = rows, stretch.end, sizes.take(rows)
        tries[3], tries[4] = sources.take(taken), 0
        return tries

    def _picked(
        self, stretch: Stretch, tries: Ints, last: int, costs: Ints, spared: Ints
    ) -> tuple[Ints, int]:
        """The best of the pieces that may be next, with how many of them are last ones.

        Args:
            stretch: that they are of.
            tries: of which part, right end, size, code that it is cut from, what it costs besides; last
                pieces first.
            last: how many of these.
            costs: by part, what it has spent less what its heap is worth.
            spared: by part, what goes where a full heap takes one more end.
        """
        rows, ends, sizes, sources, more = tries
        rest, worth = self._heaps.worth(sources - sizes), self._heaps.worth(sources)
        # Where the heap is full the least of what is there goes, or what is new.
        opened = self.length + np.minimum(rest, spared.take(rows))
        taken = np.where(sources == self._heaps.whole(stretch.stock), opened, worth)
        scores = costs.take(rows) + more + taken - rest
        kept = best(scores[:last], SPARE * self.beam)
        first, last = last, len(kept)
        if first < len(scores):
            # Of those that several tries come to, one; that two others have one key is too rare to matter.
            most = int(SEAMED * self.beam)
            next_ones = best(scores[first:], 2 * most) + first
            keys = (rows[next_ones] * _MANY + ends[next_ones]) * _MANY + sources[next_ones]
            turn = keys.argsort(kind="stable")
            keys = keys[turn]
            once = np.ones(len(keys), np.bool_)
            np.not_equal(keys[1:], keys[:-1], out=once[1:])
            turn = turn[once]
            turn.sort()
            kept = np.concatenate((kept, next_ones[turn[:most]]))
        return tries.take(kept, axis=1), last

    def _cut(self, stretch: Stretch, parts: _Parts, tries: Ints) -> _Parts:
        """Parts with one more piece, a seam at its right end or not."""
        rows, ends, sizes, sources, _ = tries
        whole, pieces = self._heaps.whole(stretch.stock), FIRST + PIECE * parts.pieces
        before = parts.rows.take(rows, axis=0)
        heaps, leaves = self._heaps.cut(before[:, pieces:], whole, sources, sizes)
        made = np.empty((len(rows), pieces + PIECE + heaps.shape[1]), np.int64)
        made[:, :pieces] = before[:, :pieces]
        made[:, SPENT] += (sources == whole) * self.length + (ends < stretch.end) * SEAM
        made[:, X] = ends
        made[:, pieces : pieces + PIECE] = np.array((sizes, sources, leaves, ends)).T
        made[:, pieces + PIECE :] = heaps
        return _Parts(made, parts.pieces + 1)

    def _in_turn(self, stretch: Stretch, made: _Parts) -> Iterator[_Parts]:
        """Finished stretches, cut again where the pieces do not hang from the left: beyond an entrance."""
        laid, seams = made.pieces - 1, made.ends[:, :-1]
        if not laid or stretch.stock.on_studs or seams[:, -1].max(initial=0) < stretch.entrance:
            yield made
            return
        before = (seams < stretch.entrance).sum(axis=1)
        for count in sorted(set(before.tolist())):
            group = made.at(np.flatnonzero(before == count))
            yield group if count == laid else self._again(stretch, group)

    def _again(self, stretch: Stretch, made: _Parts) -> _Parts:
        """The same pieces, all seamed on the same sides of an entrance, cut in the order of hanging."""
        base, whole = self._heaps.base(stretch.stock), self._heaps.whole(stretch.stock)
        cuts, heaps = made.cuts.copy(), self._states.rows[made.rows[:, BEGUN], FIRST:]
        for piece in stretch.in_turn(made.ends[0, :-1].tolist()):
            sizes, sources = cuts[:, piece, SIZE], cuts[:, piece, SOURCE]
            there = (heaps == sources[:, None]).any(axis=1)
            fits = self._heaps.in_line(heaps).two(base + sizes)[0]
            fits[(fits > whole) | ((sources == whole) & (fits - base - sizes >= sizes))] = whole
            cuts[:, piece, SOURCE] = np.where(there, sources, fits)
            heaps, cuts[:, piece, LEAVES] = self._heaps.cut(heaps, whole, cuts[:, piece, SOURCE], sizes)
        opened = (cuts[:, :, SOURCE] == whole).sum(axis=1) - (made.cuts[:, :, SOURCE] == whole).sum(axis=1)
        front = made.rows[:, :FIRST].copy()
        front[:, SPENT] += self.length * opened
        return _Parts(np.concatenate((front, cuts.reshape(len(cuts), -1), heaps), axis=1), made.pieces)

    def _keep(self, stretch: Stretch, made: Sequence[_Parts], seaming: SideBySide | None) -> None:
        """Go on with the best states, none beside one that is as good in all but the places of its seams."""
        every = made[0]
        if len(made) > 1:
            every = _stacked(made)
            every = every.at(best(every.rows[:, SPENT] - self._heaps.held(every.heaps)[0], SPARE * self.beam))
        kinds = self._alike(every) if self._apart else None
        every = every.at(self._heaps.unbeaten(every.rows[:, SPENT], every.heaps, self.beam, kinds))
        lines = self._lines.take(every.rows[:, BEGUN])
        if every.pieces > 1:
            base, known = stretch.course * COURSE, dict[tuple[int, ...], int]()
            keys = [(at, *ends) for at, ends in zip(lines.tolist(), every.ends.tolist(), strict=True)]
            for key in dict.fromkeys(keys):
                seams = [base + stretch.line(end) for end in key[1 : key.index(stretch.end, 1)]]
                known[key] = self._number(tuple(sorted((*self._seams[key[0]], *seams)))) if seams else key[0]
            lines = np.array([known[key] for key in keys])
        front = every.rows[:, : every.rows.shape[1] - every.heaps.shape[1]].copy()
        self._trail.append(_Hung(front, seaming.levels if seaming else None))
        self._lines = lines
        self._states = _Parts(np.concatenate((every.rows[:, :FIRST], every.heaps), axis=1), 0)

    def _alike(self, parts: _Parts) -> Ints:
        """A number for each part that is that of others with the same seams, in it and below."""
        rows = np.column_stack((self._lines.take(parts.rows[:, BEGUN]), parts.ends)).tolist()
        numbers: dict[tuple[int, ...], int] = {}
        return np.array([numbers.setdefault(tuple(row), len(numbers)) for row in rows], np.int64)

    def _number(self, lines: Lines) -> int:
        """The number that seams are known by."""
        number = self._numbers.setdefault(lines, len(self._seams))
        if number == len(self._seams):
            self._seams.append(lines)
        return number


def _stacked(several: Sequence[_Parts]) -> _Parts:
    """Parts of different pieces and heaps one under the other: 0 after their pieces and before their ends."""
    pieces, heap = max(one.pieces for one in several), max(one.heaps.shape[1] for one in several)
    made = np.zeros((sum(len(one.rows) for one in several), FIRST + PIECE * pieces + heap), np.int64)
    at = 0
    for one in several:
        rows, split = made[at : at + len(one.rows)], FIRST + PIECE * one.pieces
        rows[:, :split] = one.rows[:, :split]
        rows[:, made.shape[1] - one.heaps.shape[1] :] = one.heaps
        at += len(rows)
    return _Parts(made, pieces)
