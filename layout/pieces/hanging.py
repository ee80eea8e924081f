"""Pieces and the lengths they are cut from, chosen in the order of hanging with a small heap of cut ends.

                  what hangs                                   the heap (at most so many ends)
    course 3   [ 66 |    150    |  ?                              66   41   38
    course 2   [    150    |    150    | 82 ]   lines 150, 299    opened 5 lengths, 4 seams
    course 1   [ 84 |    150    |    150    ]   lines  83, 232

A state is how many lengths are opened, the ends on the heap, the seams of the courses that the next one
must keep away from. Stretch by stretch, piece by piece, every state tries the few places that matter: a whole
length, an end as long as it is, a place from which the rest comes out even, the edges of what is lawful. The
best few states go on. What they cost: lengths, each worth some seams, and seams, less what the ends on the
heap are worth.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from math import inf
from typing import NamedTuple

from evencourse.layout.pieces.outlook import CELLS, outlook
from evencourse.layout.pieces.seam_places import WANTED, Near, Places, places
from evencourse.layout.pieces.stretches import CODES, Stretch

#: States that go on from stretch to stretch, and from piece to piece within one: on a house; on small walls
#: more, for so much work in all; on what no house has fewer.
BEAM, WORK, WIDEST, MOST_WORK, NARROWEST = 14, 3000, 150, 20_000, 2
#: What a rule costs that has to be relaxed, wanted ones and binding ones, in seams: more than any length.
RELAXED, BROKEN = 30.0, 1000.0
#: Ends that are tried for a piece of a given size, the shortest first.
FITTING = 2
#: States that go on with the same ends on the heap, other seams apart.
ALIKE = 3
#: How far ahead stretches are looked at that an end may serve whole, how many of them, and brackets tried.
AHEAD, NEEDS, EDGES = 40, 3, 4

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
    level: int = 0


class State(NamedTuple):
    """What is hung so far, as above; ``cost`` and ``worth`` in seams, ``lines`` as course and line."""

    cost: float
    opened: int
    seams: int
    relaxed: float
    heap: Heap
    worth: float
    lines: tuple[tuple[int, int], ...]
    trail: _Trail | None


#: What is hung, by the heap and the seams that the next courses see: of two alike the better one goes on.
_Done = dict[tuple[Heap, tuple[tuple[int, int], ...]], State]
_Trail = tuple["_Trail | None", StretchLayout]
EMPTY = State(0.0, 0, 0, 0.0, (), 0.0, (), None)


_Hung = tuple["_Hung | None", int, PieceCut]


class _Part(NamedTuple):
    """A stretch that is covered up to ``x``."""

    cost: float
    x: int
    opened: int
    heap: Heap
    worth: float
    laid: int
    trail: _Hung | None
    begun: State
    places: Places

    def hung(self) -> tuple[tuple[int, ...], tuple[PieceCut, ...]]:
        """Its seams and pieces from the left."""
        seams, cuts, trail = [], [], self.trail
        while trail is not None:
            trail, seam, cut = trail
            seams.append(seam)
            cuts.append(cut)
        return tuple(seams[::-1]), tuple(cuts[::-1])


class _Step(NamedTuple):
    """A next seam, and what the piece before it is cut from."""

    cost: float
    part: _Part
    seam: int
    source: int


class Hanging:
    """The search over some stretches.

    Args:
        stretches: in the order of hanging.
        heap: ends that may wait at once.
        worth: seams that one length is worth.
        odds: that an end on the heap gets a place that it could serve.
    """

    def __init__(self, stretches: Sequence[Stretch], heap: int, worth: float, odds: float) -> None:
        self.stretches, self.most, self.length = stretches, heap, worth
        pieces = sum(max(1, one.size // one.stock.capacity) for one in stretches)
        self.beam = max(NARROWEST, min(BEAM, MOST_WORK // pieces), min(WIDEST, WORK // pieces))
        self._outlooks = {
            stock.code // CODES: (stock.code, stock.capacity, outlook(stretches, stock, worth, odds))
            for stock in {one.stock.code: one.stock for one in stretches}.values()
        }
        self._at = 0
        self._needs = [self._ahead(index) for index in range(len(stretches))]

    def hang(self) -> list[State]:
        """The best states when everything hangs, the best first."""
        states = [EMPTY]
        before = self.stretches[0]
        for index, stretch in enumerate(self.stretches):
            if (stretch.face, stretch.zone) != (before.face, before.zone):
                states = [state._replace(lines=()) for state in states]
            elif stretch.course != before.course:
                states = [_above(state, stretch) for state in states]
            before = stretch
            self._at = index + 1
            states = self._next(index, [self._valued(state) for state in states])
        return states

    def value(self, code: int) -> float:
        """What an end on the heap is worth [seams]."""
        base, capacity, table = self._outlooks[code // CODES]
        return table[self._at][(code - base) * CELLS // capacity]

    def _valued(self, state: State) -> State:
        """A state whose ends are worth what the stretches after the next one make them."""
        worth = sum(map(self.value, state.heap))
        return state._replace(worth=worth, cost=state.cost + state.worth - worth)

    def _ahead(self, index: int) -> tuple[int, ...]:
        """Sizes of the next short stretches: an end that is left just so long serves one whole."""
        stock, found = self.stretches[index].stock, dict[int, None]()
        for one in self.stretches[index + 1 : index + AHEAD]:
            if one.stock is stock and 2 * one.size <= stock.capacity:
                found[one.size] = None
                if len(found) == NEEDS:
                    break
        return tuple(found)

    def _next(self, index: int, states: Sequence[State]) -> list[State]:
        stretch = self.stretches[index]
        stock = stretch.stock
        done: _Done = {}
        if stretch.size <= stock.capacity:
            for state in states:
                self._whole(stretch, state, done)
        if stretch.size > max(stock.unseamed, 2 * stock.shortest - stock.step):
            parts = list(self._begun(stretch, states))
            while parts:
                steps: list[_Step] = []
                for part in parts:
                    self._finish(stretch, part, done)
                    steps += self._steps(index, part)
                parts = self._taken(stretch, steps)
        return self._kept(done)

    def _kept(self, done: _Done) -> list[State]:
        """The best states, few of them with the same ends on the heap."""
        found: list[State] = []
        alike = Counter[Heap]()
        for state in sorted(done.values(), key=_cost):
            alike[state.heap] += 1
            if alike[state.heap] <= ALIKE:
                found.append(state)
        return found[: self.beam]

    def _whole(self, stretch: Stretch, state: State, done: _Done) -> None:
        """The stretch in one piece."""
        heap, stock = state.heap, stretch.stock
        at, end = bisect_left(heap, stock.code + stretch.size), bisect_left(heap, stock.code + CODES)
        for source in (0, *list(dict.fromkeys(heap[at:end]))[:FITTING]):
            kept, worth, rest = self._cut(heap, stretch, source, stretch.size)
            opened, worth = state.opened + (not source), worth + state.worth
            cost = self.length * opened + state.seams + state.relaxed - worth
            old = done.get((kept, state.lines))
            if old is None or cost < old.cost:
                layout = StretchLayout((), (PieceCut(stretch.size, source, rest),))
                done[kept, state.lines] = State(
                    cost, opened, state.seams, state.relaxed, kept, worth, state.lines, (state.trail, layout)
                )

    def _cut(self, heap: Heap, stretch: Stretch, source: int, size: int) -> tuple[Heap, float, int]:
        """The heap after a cut, what it is worth more, what is left; where it is full the least end goes."""
        if source:
            at = bisect_left(heap, source)
            heap, more, rest = heap[:at] + heap[at + 1 :], -self.value(source), source - size
        else:
            more, rest = 0.0, stretch.stock.code + stretch.stock.capacity - size
        worth = self.value(rest) if rest > stretch.stock.code else 0.0
        if worth <= 0:
            return heap, more, 0
        at = bisect_left(heap, rest)
        heap = (*heap[:at], rest, *heap[at:])
        if len(heap) <= self.most:
            return heap, more + worth, rest
        values = [self.value(code) for code in heap]
        at = values.index(min(values))
        return heap[:at] + heap[at + 1 :], more + worth - values[at], rest

    def _begun(self, stretch: Stretch, states: Sequence[State]) -> Iterator[_Part]:
        room = stretch.stock.apart + stretch.stock.lap
        low, high = stretch.low - room, stretch.high + room
        near: dict[object, tuple[Near, ...]] = {}
        found: dict[tuple[Near, ...], Places] = {}
        for state in states:
            around = near.get(state.lines)
            if around is None:
                around = near[state.lines] = tuple(
                    (stretch.course - course, line)
                    for course, line in state.lines
                    if course < stretch.course and low < line < high
                )
            where = found.get(around)
            if where is None:
                where = found[around] = places(stretch, around)
            yield _Part(
                state.cost, stretch.start, state.opened, state.heap, state.worth, 0, None, state, where
            )

    def _finish(self, stretch: Stretch, part: _Part, done: _Done) -> None:
        """The last piece."""
        size, stock, state = stretch.end - part.x, stretch.stock, part.begun
        if part.trail is None or not part.places.shortest <= size <= stock.capacity:
            return
        heap = part.heap
        at, end = bisect_left(heap, stock.code + size), bisect_left(heap, stock.code + CODES)
        relaxed = state.relaxed
        if stretch.size > stock.capacity and part.places.level:
            relaxed += RELAXED if part.places.level < WANTED else BROKEN * part.places.level
        seams_laid, begun = part.hung()
        turned = not stock.on_studs and seams_laid[-1] >= stretch.entrance
        lines = state.lines + tuple((stretch.course, stretch.line(seam)) for seam in seams_laid)
        seams = state.seams + part.laid
        for source in (0, *list(dict.fromkeys(heap[at:end]))[:FITTING]):
            kept, worth, rest = self._cut(heap, stretch, source, size)
            opened, worth = part.opened + (not source), worth + part.worth
            cuts = (*begun, PieceCut(size, source, rest))
            if turned:
                kept, worth, opened, cuts = self._again(stretch, state, seams_laid, cuts)
            cost = self.length * opened + seams + relaxed - worth
            old = done.get((kept, lines))
            if old is None or cost < old.cost:
                layout = StretchLayout(seams_laid, cuts, part.places.level)
                done[kept, lines] = State(
                    cost, opened, seams, relaxed, kept, worth, lines, (state.trail, layout)
                )

    def _again(
        self, stretch: Stretch, state: State, seams: Sequence[int], cuts: Sequence[PieceCut]
    ) -> tuple[Heap, float, int, tuple[PieceCut, ...]]:
        """The same pieces cut in the order of hanging, which is not that from the left."""
        heap, worth, opened, code = state.heap, state.worth, state.opened, stretch.stock.code
        found = list(cuts)
        for index in stretch.in_turn(seams):
            size, source, _ = cuts[index]
            if source not in heap:
                at, end = bisect_left(heap, code + size), bisect_left(heap, code + CODES)
                source = heap[at] if at < end and (source or heap[at] - code - size < size) else 0
            heap, more, rest = self._cut(heap, stretch, source, size)
            worth, opened, found[index] = worth + more, opened + (not source), PieceCut(size, source, rest)
        return heap, worth, opened, tuple(found)

    def _steps(self, index: int, part: _Part) -> Iterator[_Step]:
        """One more piece and the seam at its right end."""
        stretch, where, state = self.stretches[index], part.places, part.begun
        stock, heap = stretch.stock, part.heap
        most = where.fewest + (stretch.size > stock.unseamed) * stock.extra - part.laid - 1
        if most < 1:
            return
        at, end = bisect_left(heap, stock.code), bisect_left(heap, stock.code + CODES)
        ends = list(dict.fromkeys(heap[at:end]))
        base, capacity, table = self._outlooks[stock.code // CODES]
        worths, new = table[self._at], base + capacity
        values = {code: worths[(code - base) * CELLS // capacity] for code in ends}
        # Where the heap is full the least of what is there goes, or what is new.
        least = min(map(self.value, heap), default=inf) if len(heap) >= self.most else 0.0
        before = self.length * part.opened + state.seams + part.laid + state.relaxed - part.worth
        for seam, sources in self._seams(index, part, ends, most).items():
            size = seam - part.x + stock.step
            at = bisect_left(ends, stock.code + size)
            if at < len(ends):
                sources.add(ends[at])
            covered = self.length * (seam - stretch.start) / stock.capacity
            for source in sorted(sources):
                worth = worths[((source or new) - size - base) * CELLS // capacity]
                worth -= values[source] if source else self.length + min(worth, least)
                yield _Step(before + where.rest(seam) - covered - worth, part, seam, source)

    def _taken(self, stretch: Stretch, steps: list[_Step]) -> list[_Part]:
        """The best steps, each a different state."""
        steps.sort(key=_cost)
        found: dict[tuple[object, ...], _Part] = {}
        for cost, part, seam, source in steps:
            size = seam - part.x + stretch.stock.step
            kept, worth, rest = self._cut(part.heap, stretch, source, size)
            key = (seam, kept, id(part.begun))
            if key not in found:
                found[key] = _Part(
                    cost,
                    seam,
                    part.opened + (not source),
                    kept,
                    part.worth + worth,
                    part.laid + 1,
                    (part.trail, seam, PieceCut(size, source, rest)),
                    part.begun,
                    part.places,
                )
                if len(found) == self.beam:
                    break
        return list(found.values())

    def _seams(self, index: int, part: _Part, ends: Sequence[int], most: int) -> Mapping[int, set[int]]:
        """The places that matter for the next seam, each with what the piece before it may be cut from."""
        stretch, where, x = self.stretches[index], part.places, part.x
        stock = stretch.stock
        low, high = x + where.shortest - stock.step, x + stock.capacity - stock.step
        found: dict[int, set[int]] = {}

        def put(seam: int | None, source: int) -> None:
            if seam is not None:
                found.setdefault(seam, set()).add(source)

        for code in ends:
            size = code - stock.code
            put(where.down(x + size - stock.step, most, low), code)
            seam = stretch.end - size
            if low <= seam <= high and where.down(seam, most, low) == seam:
                put(seam, 0)
        if stretch.size <= stock.capacity:
            return found  # a seam that need not be has to spare an end
        put(where.down(high, most, low), 0)
        for size in self._needs[index]:
            put(where.down(high - size, most, low), 0)
        for _, seam in zip(range(2 * EDGES), where.edges(low, high, most), strict=False):
            put(seam, 0)
        return found


def _above(state: State, stretch: Stretch) -> State:
    """A state without the seams that are too far below a course to matter."""
    low = stretch.course - stretch.stock.courses_between
    return state._replace(lines=tuple(line for line in state.lines if line[0] >= low))


def _cost(one: State | _Step) -> float:
    return one.cost


def layouts(state: State) -> list[StretchLayout]:
    """What a state has hung, in the order of hanging.

    Args:
        state: any.
    """
    found: list[StretchLayout] = []
    trail = state.trail
    while trail is not None:
        trail, layout = trail
        found.append(layout)
    return found[::-1]
