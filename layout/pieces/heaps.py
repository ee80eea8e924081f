"""Heaps of cut ends, of all states of a search at once: what ends are worth, what a cut makes of them.

                   sorted, nothing first         a cut of 30 from the 41         a cut of 84 from a new 150
    state 1      0    0   66   41'  93'            0   11   66   93'               41'  66   66'  93'
    state 2      0    0   38   66   93'            ...

A row is the heap of one state: codes of its ends, stock by stock, the shortest first, 0 where there is none.
A code tells the stock and the length, and, less a few bits, the row of a table of what such an end is worth.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from evencourse.layout.pieces.seam_places import Ints
from evencourse.layout.pieces.stretch import Stock, Stretch

#: What a seam costs in the units of the search: whole numbers add up alike on every machine.
SEAM = 1 << 12
#: Steps that the shortest length is counted in here, at least; cells of the whole table, about at most.
CELLS, TABLE = 800, 1 << 23
#: Steps that a length is counted in, at least, when states are compared: of those nearly alike one goes on.
LIKE = 50
#: What a turn of waiting costs [seams].
WAIT = 0.015
#: What an end that is used is worth, over its share of a new length, whose own end may find no use. Of 0.8,
#: 0.9, 1, 1.1 and 1.2 the best over random houses.
USED = 1.1
#: How far ahead stretches are looked at that an end may serve whole, and how many of them.
AHEAD, NEEDS = 40, 3
#: Ends that are kept at most, whatever the job allows: more spared no length on any job measured.
MOST = 64
#: More than any code.
NONE = 1 << 62
#: Columns that heaps without a limit grow by.
_MORE = 8


class InLine(NamedTuple):
    """The ends of heaps, row after row in one ascending line, more than any code after each.

    Attributes:
        ends: so many columns for each heap.
        first: what is added to the codes of each.
    """

    ends: Ints
    first: Ints

    def fitting(self, states: Ints, codes: Ints) -> Ints:
        """The shortest end on a heap that is at least so long; more than any code where there is none.

        Args:
            states: whose heap it is.
            codes: of what is needed; an end of a later stock may be found.
        """
        first = self.first.take(states)
        found: Ints = self.ends.take(self.ends.searchsorted(codes + first), mode="clip") - first
        return found

    def two(self, codes: Ints) -> Ints:
        """The two shortest ends on each heap that are at least so long, one under the other.

        Args:
            codes: by heap.
        """
        at = self.ends.searchsorted(codes + self.first)
        found: Ints = self.ends.take(np.array((at, at + 1)), mode="clip") - self.first
        return found


class Heaps:
    """What ends are worth, stretch by stretch, and what cuts make of heaps.

    Args:
        stretches: in the order of hanging.
        most: ends that may wait at once.
        worth: seams that one length is worth.
        odds: that an end gets a place that it could serve, for others wait for it too.
    """

    def __init__(self, stretches: Sequence[Stretch], most: int, worth: float, odds: float) -> None:
        stocks = list({one.stock.code: one.stock for one in stretches}.values())
        self.most = min(most, MOST)
        steps = min(CELLS, TABLE // len(stretches) + 1)
        self._bits = max(0, (min(stock.capacity for stock in stocks) // steps).bit_length() - 1)
        self._like = max(0, (min(stock.capacity for stock in stocks) // min(steps, LIKE)).bit_length() - 1)
        self._base: dict[int, int] = {}
        # Every stock begins with a cell of its own, the narrow ones and the wide ones.
        cells = wide = 1 << (self._like - self._bits)
        for stock in stocks:
            self._base[stock.code] = cells << self._bits
            cells += (stock.capacity // (wide << self._bits) + 1) * wide
        self._beyond = cells << self._bits
        self._tables = np.zeros((len(stretches) + 1, cells), np.int32)
        #: By wide cell, the number of its stock; for no end more than any.
        self._stocks = np.full(cells // wide, len(stocks), np.min_scalar_type(len(stocks)))
        self._kind = np.min_scalar_type(len(self._stocks))
        for number, stock in enumerate(stocks):
            first, count = self._base[stock.code] >> self._bits, (stock.capacity >> self._bits) + 1
            self._stocks[first // wide : (first + count - 1) // wide + 1] = number
            mine = slice(first, first + count)
            _outlook(self._tables[:, mine], self._bits, stretches, stock, worth * USED, odds)
        self._table = self._tables[0].astype(np.int64)

    def begin(self, index: int) -> None:
        """Ends are worth from now on what they are when so many stretches hang."""
        self._table = self._tables[index].astype(np.int64)

    def base(self, stock: Stock) -> int:
        """The code of an end of no length."""
        return self._base[stock.code]

    def whole(self, stock: Stock) -> int:
        """The code of a new length."""
        return self._base[stock.code] + stock.capacity

    def lengths(self, heaps: Ints, stock: Stock) -> Ints:
        """Lengths of the ends of one stock; 0 for others [ticks]."""
        length = heaps - self._base[stock.code]
        if len(self._base) > 1:
            length[length > stock.capacity] = 0
        return np.maximum(length, 0)

    def worth(self, codes: Ints) -> Ints:
        """What each end is worth [units]."""
        found: Ints = self._table.take(codes >> self._bits)
        return found

    def held(self, heaps: Ints) -> tuple[Ints, Ints]:
        """What each heap is worth, and its end that goes first when one more comes; 0 where there is room."""
        if not self.most:
            return np.zeros(len(heaps), np.int64), np.full(len(heaps), NONE)
        worth = self.worth(heaps)
        if heaps.shape[1] < self.most:
            return worth.sum(axis=1), np.zeros(len(heaps), np.int64)
        return worth.sum(axis=1), worth.min(axis=1) * (heaps[:, 0] > 0)

    def cut(self, heaps: Ints, whole: int, sources: Ints, sizes: Ints) -> tuple[Ints, Ints]:
        """Heaps after a cut from an end or from a new length, and the code of what goes on them; 0 for none.

        Rule: what is worth nothing is thrown away; of too many ends the one goes that is worth least.
        """
        rest = sources - sizes
        rest *= self.worth(rest) > 0
        made = np.empty((len(heaps), heaps.shape[1] + 1), np.int64)
        made[:, 0] = (sources == whole) * whole
        made[:, 1:] = heaps
        turn = np.arange(len(made))
        made[turn, (made == sources[:, None]).argmax(axis=1)] = rest
        made.sort(axis=1)
        if not made[:, 0].any():
            return made[:, 1:], rest
        if heaps.shape[1] < self.most:
            room = min(_MORE, self.most - heaps.shape[1])
            return np.concatenate((np.zeros((len(made), room - 1), np.int64), made), axis=1), rest
        least = self.worth(made).argmin(axis=1)
        rest *= rest != made[turn, least]
        return np.where(np.arange(self.most) < least[:, None], made[:, :-1], made[:, 1:]), rest

    def in_line(self, heaps: Ints) -> InLine:
        """The ends of all heaps in one line."""
        count, width = heaps.shape
        first = np.arange(0, 2 * self._beyond * count, 2 * self._beyond)
        ends = np.empty((count, width + 1), np.int64)
        np.add(heaps, first[:, None], out=ends[:, :width])
        np.add(first, self._beyond, out=ends[:, width])
        return InLine(ends.ravel(), first)

    def unbeaten(self, spent: Ints, heaps: Ints, most: int, kinds: Ints | None = None) -> Ints:
        """The first states after none that has spent no more and, for each end, has one nearly as long.

        Args:
            spent: by state.
            heaps: likewise; ends of one stock are compared.
            most: so many, at most.
            kinds: only those of one kind are compared.
        """
        cells = (heaps >> self._like).T.astype(self._kind, order="C")
        # Whoever is beaten by one that is itself beaten is also beaten by one that is not.
        better = np.logical_and.reduce(cells[:, None] >= cells[:, :, None], axis=0)
        if len(self._base) > 1:
            stocks = self._stocks.take(cells)
            better &= np.logical_and.reduce(stocks[:, None] <= stocks[:, :, None], axis=0)
        better &= spent[:, None] >= spent
        better &= _before(len(spent))
        if kinds is not None:
            better &= kinds[:, None] == kinds
        kept: Ints = (~better.any(axis=1)).nonzero()[0][:most]
        return kept


@cache
def _before(count: int) -> npt.NDArray[np.bool_]:
    """By state and other, whether the other comes before it."""
    return np.tri(count, k=-1, dtype=np.bool_)


def best(scores: Ints, most: int) -> Ints:
    """Indices of the least scores, from the least; of equal ones the first."""
    if len(scores) <= most:
        return scores.argsort(kind="stable")
    kept = (scores <= np.partition(scores, most - 1)[most - 1]).nonzero()[0]
    order: Ints = kept[scores[kept].argsort(kind="stable")][:most]
    return order


def _outlook(
    tables: npt.NDArray[np.int32],
    bits: int,
    stretches: Sequence[Stretch],
    stock: Stock,
    worth: float,
    odds: float,
) -> None:
    """What an end is worth, by the stretches that hang and by its length in cells [units].

    From the last stretch to the first: an end serves a stretch whole, or a seamed one that has room for it,
    or with one seam more; else it waits.
    """
    count = tables.shape[1]
    lengths = np.arange(count) << bits
    share = worth * lengths / stock.capacity
    full = stock.capacity - stock.step
    value = np.zeros(count)
    uses: dict[tuple[int, int], npt.NDArray[np.float64]] = {}
    for index in range(len(stretches) - 1, -1, -1):
        stretch = stretches[index]
        wait = np.maximum(value - WAIT, 0.0)
        if stretch.stock.code == stock.code:
            size, whole = stretch.size, stretch.size <= stock.capacity
            cells = size >> bits
            key = size, stretch.stock.unseamed
            if key not in uses:
                rest = size if whole else size - (-(-(size - stock.step) // full) - 1) * full
                # With no seam more where it reaches so far, else with one.
                use = share - (lengths < max(stock.shortest, rest))
                use[lengths < stock.shortest] = 0.0
                if size <= stretch.stock.unseamed:
                    use[:cells] = 0.0
                uses[key] = use
            use = uses[key]
            if whole and cells < count:
                use = use.copy()
                use[cells:] = worth * size / stock.capacity + value[: count - cells]
            value = np.where(use > wait, odds * use + (1 - odds) * wait, wait)
        else:
            value = wait
        tables[index] = np.rint(value * SEAM)


def needs(stretches: Sequence[Stretch]) -> list[tuple[int, ...]]:
    """Sizes of the next short stretches of each one's stock: an end left just so long serves one whole.

    Args:
        stretches: in the order of hanging.
    """
    ahead: dict[int, list[tuple[int, int]]] = {}
    found: list[tuple[int, ...]] = []
    for index in range(len(stretches) - 1, -1, -1):
        one = stretches[index]
        next_ones = ahead.setdefault(one.stock.code, [])
        found.append(tuple(size for at, size in next_ones if at < index + AHEAD))
        if 2 * one.size <= one.stock.capacity:
            others = [(at, size) for at, size in next_ones if size != one.size]
            next_ones[:] = [(index, one.size), *others][:NEEDS]
    return found[::-1]
