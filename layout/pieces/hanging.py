"""Pieces and the lengths they are cut from, chosen in the order of hanging with a small heap of cut ends.

                  what hangs                                   the heap (at most so many ends)
    course 3   [ 66 |    150    |  ?                              66   41   38
    course 2   [    150    |    150    | 82 ]   lines 150, 299    spent: 5 lengths, 4 seams
    course 1   [ 84 |    150    |    150    ]   lines  83, 232

A state is what has been spent on lengths and seams, the ends on the heap, the seams of the courses that the
next one must keep away from. Stretch by stretch, piece by piece, every state tries the few places that
matter: a whole length, an end as long as it is, a place from which the rest comes out even, the edges of what
is lawful. The best few go on, counted as what they have spent less what the ends on the heap are worth; none
does beside one that has spent no more and has as many ends, each as long.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice
from math import inf
from operator import itemgetter, le
from typing import NamedTuple

from evencourse.layout.pieces.outlook import CELLS, needs, outlook
from evencourse.layout.pieces.seam_places import WANTED, Lines, Near, Places, above, near_by, places
from evencourse.layout.pieces.stretch import CODES, Stretch

#: States that go on from stretch to stretch, and from piece to piece within one: on a house; on small walls
#: more, for so much work in all; on what no house has fewer.
BEAM, WORK, WIDEST, MOST_WORK, NARROWEST = 28, 3000, 150, 20_000, 2
#: What a rule costs that has to be relaxed, wanted ones and binding ones, in seams: more than any length.
RELAXED, BROKEN = 30.0, 1000.0
#: Ends that are tried for the last piece of a stretch, the shortest first.
FITTING = 2
#: Brackets whose edges are tried for a seam.
EDGES = 4

Heap = tuple[int, ...]


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


#: Pieces of a stretch from the last to the first, each with where it begins to be hidden or ends.
_Hung = tuple["_Hung | None", int, PieceCut]
#: Stretches likewise, each with the level of the rules relaxed.
_Trail = tuple["_Trail | None", _Hung, int]


class State(NamedTuple):
    """What is hung so far, as above; ``spent`` in seams."""

    spent: float
    heap: Heap
    lines: Lines
    trail: _Trail | None


class _Part(NamedTuple):
    """A stretch that is covered up to ``x`` with so many seams laid; ``worth`` is that of the heap."""

    x: int
    spent: float
    heap: Heap
    lines: Lines
    worth: float
    laid: int
    hung: _Hung | None
    begun: State
    places: Places | None


#: A next seam: what it costs, what it is laid beside, where, and what the piece before it is cut from.
_Step = tuple[float, _Part, int, int]
#: A place for a seam, the size of the piece before it, and what it costs by itself; and an end to be cut.
_Try = tuple[int, int, float, int]


class _Values(dict[int, float]):
    """What the ends on a heap are worth after a stretch, by their codes [seams]: each is looked up once."""

    def __init__(self, tables: Mapping[int, tuple[int, int, Sequence[float]]]) -> None:
        super().__init__()
        self._tables = tables

    def __missing__(self, code: int) -> float:
        base, capacity, table = self._tables[code // CODES]
        self[code] = worth = table[(code - base) * CELLS // capacity]
        return worth

    def of(self, heap: Iterable[int]) -> float:
        """What a whole heap is worth [seams]."""
        return sum(map(self.__getitem__, heap))

    def least(self, heap: Iterable[int]) -> float:
        """What the end is worth that goes first [seams]."""
        return min(map(self.__getitem__, heap), default=inf)


class Hanging:
    """The search over some stretches.

    Args:
        stretches: in the order of hanging.
        heap: ends that may wait at once.
        worth: seams that one length is worth.
        odds: that an end on the heap gets a place that it could serve.
        beam: states that go on, on a house.
    """

    def __init__(self, stretches: Sequence[Stretch], heap: int, worth: float, odds: float, beam: int) -> None:
        self.stretches = [one.from_its_end() for one in stretches]
        self.most, self.length = heap, worth
        pieces = sum(max(1, one.size // one.stock.capacity) for one in stretches)
        widest = min(WIDEST, WORK // pieces) if beam == BEAM else 0
        self.beam = max(NARROWEST, widest, min(beam, MOST_WORK // pieces))
        self._outlooks = {
            stock.code // CODES: (stock.code, stock.capacity, outlook(stretches, stock, worth, odds))
            for stock in {one.stock.code: one.stock for one in stretches}.values()
        }
        self._values = _Values({})
        self._all_needs = needs(stretches)
        self._needs: tuple[int, ...] = ()
        self._known: dict[tuple[int, ...], list[_Try]] = {}

    def hang(self) -> State:
        """The best state when everything hangs."""
        states = [State(0.0, (), (), None)]
        before = self.stretches[0]
        for index, stretch in enumerate(self.stretches):
            if (stretch.face, stretch.zone) != (before.face, before.zone):
                states = [state._replace(lines=()) for state in states]
            elif stretch.course != before.course:
                states = [state._replace(lines=above(state.lines, stretch)) for state in states]
            before = stretch
            self._needs, self._known = self._all_needs[index], {}
            outlooks = self._outlooks.items()
            self._values = _Values({key: (code, most, by[index + 1]) for key, (code, most, by) in outlooks})
            states = self._next(stretch, states)
        return min(states, key=itemgetter(0))

    def _next(self, stretch: Stretch, states: Sequence[State]) -> list[State]:
        """The best states when one more stretch hangs."""
        parts, last = list(self._begun(stretch, states)), list[_Step]()
        while parts:
            steps: list[_Step] = []
            for part in parts:
                last += self._last(stretch, part)
                if part.places is not None:
                    steps += self._steps(stretch, part, part.places)
            parts = self._taken(stretch, steps)
        return self._kept(stretch, last)

    def _begun(self, stretch: Stretch, states: Sequence[State]) -> Iterator[_Part]:
        """The bare stretch, for every state; no seams may be laid where it has no places."""
        stock = stretch.stock
        seamed = stretch.size > max(stock.unseamed, 2 * stock.shortest - stock.step)
        found: dict[tuple[Near, ...], Places] = {}
        for state in states:
            where, spent = None, state.spent
            if seamed:
                near = tuple(near_by(stretch, state.lines))
                where = found.get(near)
                if where is None:
                    where = found[near] = places(stretch, near)
                if where.level:
                    spent += RELAXED if where.level < WANTED else BROKEN * where.level
            worth = self._values.of(state.heap)
            yield _Part(stretch.start, spent, state.heap, state.lines, worth, 0, None, state, where)

    def _steps(self, stretch: Stretch, part: _Part, where: Places) -> list[_Step]:
        """One more piece and the seam at its right end."""
        stock, heap, values = stretch.stock, part.heap, self._values
        most = where.fewest + (stretch.size > stock.unseamed) * stock.extra - part.laid - 1
        if most < 1:
            return []
        code = stock.code
        ends = list(dict.fromkeys(heap[bisect_left(heap, code) : bisect_left(heap, code + CODES)]))
        tries = list(self._anywhere(stretch, part.x, where, most))
        for one in ends:
            tries += self._by_end(stretch, part.x, where, most, one)
        # Where the heap is full the least of what is there goes, or what is new.
        least = values.least(heap) if len(heap) >= self.most else 0.0
        before = part.spent - part.worth
        found: list[_Step] = []
        for seam, size, cost, source in tries:
            at = bisect_left(ends, code + size)
            if at < len(ends):
                fits = ends[at]
                found.append((before + cost + values[fits] - values[fits - size], part, seam, fits))
                if source == fits:
                    continue
            if source:
                found.append((before + cost + values[source] - values[source - size], part, seam, source))
            else:
                worth = values[code + stock.capacity - size]
                found.append((before + cost + self.length + min(worth, least) - worth, part, seam, 0))
        return found

    def _anywhere(self, stretch: Stretch, x: int, where: Places, most: int) -> Sequence[_Try]:
        """Places for the next seam whatever is on the heap: far off, for a need ahead, edges of brackets."""
        if stretch.size <= stretch.stock.capacity:
            return ()  # a seam that need not be has to spare an end
        key = (id(where), x, most)
        found = self._known.get(key)
        if found is None:
            stock = stretch.stock
            low, high = x + where.shortest - stock.step, x + stock.capacity - stock.step
            seams = [where.down(high - need, most, low) for need in (0, *self._needs)]
            seams += islice(where.edges(low, high, most), 2 * EDGES)
            found = self._known[key] = [
                self._try(stretch, x, where, seam, 0) for seam in dict.fromkeys(seams) if seam is not None
            ]
        return found

    def _by_end(self, stretch: Stretch, x: int, where: Places, most: int, end: int) -> Sequence[_Try]:
        """Places for the next seam for the sake of an end: it is used up, or it serves the rest whole."""
        key = (id(where), x, most, end)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = []
            stock = stretch.stock
            low, high = x + where.shortest - stock.step, x + stock.capacity - stock.step
            seam = where.down(x + end - stock.code - stock.step, most, low)
            if seam is not None:
                found.append(self._try(stretch, x, where, seam, end))
            seam = stretch.end - (end - stock.code)
            if low <= seam <= high and where.down(seam, most, low) == seam:
                found.append(self._try(stretch, x, where, seam, 0))
        return found

    def _try(self, stretch: Stretch, x: int, where: Places, seam: int, source: int) -> _Try:
        covered = self.length * (seam - stretch.start) / stretch.stock.capacity
        return seam, seam - x + stretch.stock.step, where.rest(seam) - covered, source

    def _taken(self, stretch: Stretch, steps: list[_Step]) -> list[_Part]:
        """The best steps, none beside one that is as good in all."""
        steps.sort(key=itemgetter(0))
        found, by_seam = list[_Part](), dict[int, list[_Part]]()
        for _, part, seam, source in steps:
            size = seam - part.x + stretch.stock.step
            heap, rest = self._cut(part.heap, stretch, source, size)
            spent = part.spent + 1 + (0.0 if source else self.length)
            alike = by_seam.setdefault(seam, [])
            if not _beaten(spent, heap, alike):
                line = (stretch.course, stretch.line(seam))
                at = bisect_left(part.lines, line)
                lines = (*part.lines[:at], line, *part.lines[at:])
                hung = (part.hung, seam, PieceCut(size, source, rest))
                worth = self._values.of(heap)
                one = _Part(seam, spent, heap, lines, worth, part.laid + 1, hung, part.begun, part.places)
                alike.append(one)
                found.append(one)
                if len(found) == self.beam:
                    break
        return found

    def _last(self, stretch: Stretch, part: _Part) -> Iterator[_Step]:
        """The last piece of a stretch, or the only one."""
        size, stock, where, values = stretch.end - part.x, stretch.stock, part.places, self._values
        if size > stock.capacity or (part.laid and where and size < where.shortest):
            return
        code, heap = stock.code, part.heap
        fitting = dict.fromkeys(heap[bisect_left(heap, code + size) : bisect_left(heap, code + CODES)])
        sources = (0, *islice(fitting, FITTING))
        if _turned(stretch, part):
            for source in sources:
                state = self._hung(stretch, part, source)
                yield state.spent - values.of(state.heap), part, stretch.end, source
            return
        before, worth = part.spent - part.worth, values[code + stock.capacity - size]
        least = values.least(heap) if len(heap) >= self.most else 0.0
        yield before + self.length - worth + min(worth, least), part, stretch.end, 0
        for source in sources[1:]:
            yield before + values[source] - values[source - size], part, stretch.end, source

    def _kept(self, stretch: Stretch, last: list[_Step]) -> list[State]:
        """The best states, none beside one that is as good in all but the places of its seams."""
        last.sort(key=itemgetter(0))
        found: list[State] = []
        for _, part, _, source in last:
            state = self._hung(stretch, part, source)
            if not _beaten(state.spent, state.heap, found):
                found.append(state)
                if len(found) == self.beam:
                    break
        return found

    def _hung(self, stretch: Stretch, part: _Part, source: int) -> State:
        """A stretch with its last piece: a state."""
        size = stretch.end - part.x
        if _turned(stretch, part):
            heap, spent, hung = self._again(stretch, part, PieceCut(size, source, 0))
        else:
            heap, rest = self._cut(part.heap, stretch, source, size)
            hung = (part.hung, stretch.end, PieceCut(size, source, rest))
            spent = part.spent + (0.0 if source else self.length)
        level = part.places.level if part.laid and part.places else 0
        return State(spent, heap, part.lines, (part.begun.trail, hung, level))

    def _again(self, stretch: Stretch, part: _Part, last: PieceCut) -> tuple[Heap, float, _Hung]:
        """The same pieces cut in the order of hanging, which is not that from the left."""
        seams, cuts = _pieces((part.hung, stretch.end, last))
        heap, code = part.begun.heap, stretch.stock.code
        spent = part.spent - self.length * sum(not cut.source for cut in cuts[:-1])
        for index in stretch.in_turn(seams):
            size, source, _ = cuts[index]
            if source not in heap:
                at, end = bisect_left(heap, code + size), bisect_left(heap, code + CODES)
                source = heap[at] if at < end and (source or heap[at] - code - size < size) else 0
            heap, rest = self._cut(heap, stretch, source, size)
            spent += 0.0 if source else self.length
            cuts[index] = PieceCut(size, source, rest)
        hung: _Hung | None = None
        for seam, cut in zip(seams, cuts, strict=False):
            hung = (hung, seam, cut)
        return heap, spent, (hung, stretch.end, cuts[-1])

    def _cut(self, heap: Heap, stretch: Stretch, source: int, size: int) -> tuple[Heap, int]:
        """The heap after a cut and what is left; where it is full the end that is worth least goes."""
        if source:
            at = bisect_left(heap, source)
            heap, rest = heap[:at] + heap[at + 1 :], source - size
        else:
            rest = stretch.stock.code + stretch.stock.capacity - size
        values = self._values
        if values[rest] <= 0:
            return heap, 0
        at = bisect_left(heap, rest)
        heap = (*heap[:at], rest, *heap[at:])
        if len(heap) <= self.most:
            return heap, rest
        least = min(range(len(heap)), key=lambda at: values[heap[at]])
        return heap[:least] + heap[least + 1 :], rest


def _beaten(spent: float, heap: Heap, others: Iterable[State | _Part]) -> bool:
    """Whether another has spent no more and has, for every end on a heap, one of its stock as long."""
    count, least = len(heap), heap[0] if heap else 0
    for other in others:
        if other.spent <= spent:
            ends = other.heap
            more = len(ends) - count
            if more >= 0 and (not count or ends[more] >= least):
                ends = ends[more:]
                if all(map(le, heap, ends)) and all(map(_one_stock, heap, ends)):
                    return True
    return False


def _one_stock(code: int, other: int) -> bool:
    return code // CODES == other // CODES


def _turned(stretch: Stretch, part: _Part) -> bool:
    """Whether the pieces do not hang from the left: some lie beyond an entrance."""
    return part.laid > 0 and not stretch.stock.on_studs and part.x >= stretch.entrance


def _pieces(hung: _Hung | None) -> tuple[list[int], list[PieceCut]]:
    """Seams and pieces of a stretch from the left."""
    seams, cuts = [], []
    while hung is not None:
        hung, seam, cut = hung
        seams.append(seam)
        cuts.append(cut)
    return seams[:0:-1], cuts[::-1]


def layouts(stretches: Sequence[Stretch], state: State) -> list[StretchLayout]:
    """What a state has hung, in the order of hanging.

    Args:
        stretches: in that order.
        state: when all hang.
    """
    found: list[StretchLayout] = []
    trail = state.trail
    while trail is not None:
        trail, hung, level = trail
        seams, cuts = _pieces(hung)
        stretch = stretches[-1 - len(found)].from_its_end()
        if stretch.turned:
            seams, cuts = [stretch.mirror(seam) for seam in reversed(seams)], cuts[::-1]
        found.append(StretchLayout(tuple(seams), tuple(cuts), level))
    return found[::-1]
