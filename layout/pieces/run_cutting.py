"""How one run is cut: which bars, in which order, and where its seams fall."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import accumulate, pairwise

from evencourse.layout.pieces.open_bars import NEW, SHARED, Bars
from evencourse.layout.pieces.run_orders import orders

Spans = tuple[list[int], list[int]]
"""Sorted starts and ends of the stretches where a seam may lie."""
Choice = tuple[int, list[tuple[int, int]], list[int]]
"""What it costs, its pieces (size and bar) and its seams, from left to right."""
Mix = tuple[int, list[int], list[int]]
"""What it costs at least, sizes and bars; the last piece is cut to fit."""

#: Offcuts that are tried in pairs, and mixes of bars that are tried along the run: bounds on work.
_PAIRED, _TRIED = 40, 24


def _within(spans: Spans, seam: int) -> bool:
    at = bisect_right(spans[0], seam) - 1
    return at >= 0 and seam <= spans[1][at]


@dataclass
class Task:
    """A run to be covered: cut into k pieces, their sizes add up to ``size + (k - 1) * lap``.

    Attributes:
        start: where its first piece begins [ticks].
        size: what it takes in one piece, kerf included [ticks].
        least: fewest pieces it can be cut into.
        most: most pieces that it may be cut into.
        pieces: size and bar of each piece, left to right.
        seams: where each piece but the first begins [ticks].
        level: how far the rules gave way, 0 for not at all.
        base: how far they must give way whatever hangs round it.
    """

    start: int
    size: int
    least: int
    most: int
    base: int = 0
    pieces: list[tuple[int, int]] = field(default_factory=list)
    seams: list[int] = field(default_factory=list)
    level: int = 0


@dataclass
class Cutter:
    """Finds the cheapest way to cut a run from the bars as they are.

    Attributes:
        bars: what there is to cut from.
        lap: what one more seam takes [ticks].
        shortest: shortest piece of a run that has a seam [ticks].
        points: seams lie on single points (boards on studs).
        fine: what one more seam than needed costs [ticks].
        tight: every run is cut into its fewest pieces.
    """

    bars: Bars
    lap: int
    shortest: int
    points: bool
    fine: int
    tight: bool = False

    def whole(self, task: Task) -> Choice | None:
        """In one piece; None when it is too long."""
        if task.size > self.bars.capacity:
            return None
        cost, bar = self.bars.source(task.size)
        return (cost, [(task.size, bar)], [])

    def cut(self, task: Task, spans: Spans, bound: int | None) -> Choice | None:
        """With seams where they may lie; None when there is no way, or none cheaper than a bound."""
        if not spans[0] or self._most(task) == 1:
            return None
        if self.points:
            return self._on_points(task, spans[0], bound)
        best: Choice | None = None
        for count in range(max(2, task.least), self._most(task) + 1):
            fine = self.fine * (count - task.least)
            for mix in self._mixes(task, count, count, fine):
                if bound is not None and mix[0] >= bound:
                    break
                found = self._arrange(task, spans, mix, fine, bound)
                if found is not None:
                    best, bound = found, found[0]
            if count in (task.least, 2):
                continue
            for mix in self._mixes(task, count, count - 1, fine):
                if bound is not None and mix[0] >= bound:
                    break
                halved = self.halved(task, spans, mix[1])
                if halved is not None:
                    sizes, seams, order = halved
                    last = SHARED if mix[2][-1] == NEW else mix[2][-1]
                    bars = [*mix[2][:-1], last, last]
                    best, bound = (
                        (mix[0], [(size, bars[i]) for size, i in zip(sizes, order, strict=True)], seams),
                        mix[0],
                    )
        if best is None:
            best = self._anyhow(task, spans)
            if best is not None and bound is not None and best[0] >= bound:
                return None
        return best

    def by_lot(self, task: Task, spans: Spans, draw: Callable[[int], int]) -> Choice | None:
        """Seams drawn by lot where they may lie; None when the lot fell badly."""
        starts, ends = spans
        count = max(2, task.least) + draw(task.most - max(2, task.least) + 1)
        reach, finish = self.bars.capacity - self.lap, task.start + task.size
        seams: list[int] = []
        here = task.start
        for left in range(count - 1, 0, -1):
            low = max(here + self.shortest - self.lap, finish - self.bars.capacity - (left - 1) * reach)
            high = min(here + reach, finish - self.shortest - (left - 1) * (self.shortest - self.lap))
            at = bisect_left(ends, low)
            options = []
            while at < len(starts) and starts[at] <= high:
                options.append((max(low, starts[at]), min(high, ends[at])))
                at += 1
            if not options:
                return None
            a, b = options[draw(len(options))]
            here = (a, b, a + draw(b - a + 1))[draw(3)]
            seams.append(here)
        return self._between(task, seams)

    def can_cut(self, task: Task, spans: Spans) -> bool:
        """Whether seams that keep to the stretches can be had at all."""
        if not spans[0]:
            return False
        if self.points:
            return self._on_points(task, spans[0], None) is not None
        return self._anyhow(task, spans) is not None

    def even(self, task: Task) -> Choice:
        """Equal pieces: what is left when no rule about seams can be kept."""
        count = max(2, task.least)
        total = task.size + (count - 1) * self.lap
        seams = [task.start + total * i // count - i * self.lap for i in range(1, count)]
        return self._between(task, seams)

    def _most(self, task: Task) -> int:
        return task.least if self.tight else task.most

    def _mixes(self, task: Task, count: int, bars: int, fine: int) -> list[Mix]:
        """Bars that make up a run of some pieces: (cost, sizes, bars), cheapest first.

        None, one or two offcuts are used up and new bars whole; what comes from the last bar is cut to fit.
        """
        found: list[Mix] = []
        capacity, toll, whole = self.bars.capacity, self.bars.toll, bars - 1
        total = task.size + (count - 1) * self.lap
        usable = self.bars.pool[bisect_left(self.bars.pool, (self.shortest, NEW)) :]
        self._close(found, fine, [capacity] * whole, [NEW] * whole, total - whole * capacity)
        if whole >= 1:
            rest = total - (whole - 1) * capacity
            sizes, new = [capacity] * (whole - 1), [NEW] * (whole - 1)
            for free, bar in usable[bisect_left(usable, (rest - capacity, NEW)) :]:
                if rest - free < self.shortest:
                    break
                self._close(found, fine - toll, [*sizes, free], [*new, bar], rest - free)
        if whole >= 2 and len(usable) <= _PAIRED:
            rest = total - (whole - 2) * capacity
            sizes, new = [capacity] * (whole - 2), [NEW] * (whole - 2)
            for at, (free, bar) in enumerate(usable):
                for other, second in usable[at + 1 :]:
                    last = rest - free - other
                    if last < self.shortest:
                        break
                    if last <= capacity:
                        self._close(found, fine - 2 * toll, [*sizes, free, other], [*new, bar, second], last)
        found.sort(key=lambda mix: mix[0])
        return found[:_TRIED]

    def _close(
        self,
        found: list[Mix],
        cost: int,
        sizes: list[int],
        bars: list[int],
        rest: int,
    ) -> None:
        """Cut the last piece of a mix to fit; where that is too short, take it off a new bar."""
        if rest > self.bars.capacity:
            return
        cost += sum(sizes)
        if rest < self.shortest:
            first = sizes[0] - (self.shortest - rest)
            if first < self.shortest or bars[0] != NEW:
                return
            sizes, rest = [first, *sizes[1:]], self.shortest
        price, bar = self.bars.source(rest, bars)
        found.append((cost + price, [*sizes, rest], [*bars, bar]))

    def _arrange(self, task: Task, spans: Spans, mix: Mix, fine: int, bound: int | None) -> Choice | None:
        """The best order of a mix along the run, seams slid to where they may lie."""
        low, sizes, bars = mix
        best: Choice | None = None
        last = len(sizes) - 1
        kinds = tuple(0 if bars[i] == NEW and sizes[i] == self.bars.capacity else i + 1 for i in range(last))
        for order in orders((*kinds, last + 1)):
            inorder = [bars[i] for i in order]
            found = self.slide(task, spans, [sizes[i] for i in order], inorder, order.index(last))
            if found is None:
                continue
            pieces = list(zip(found[0], inorder, strict=True))
            cost = fine + sum(self.bars.price(size, bar) for size, bar in pieces)
            if bound is None or cost < bound:
                best, bound = (cost, pieces, found[1]), cost
                if cost <= low:
                    break
        return best

    def slide(
        self, task: Task, spans: Spans, sizes: list[int], bars: list[int], fit: int
    ) -> tuple[list[int], list[int]] | None:
        """Pieces left of the fitted one from the left, the others from the right, each as long as may be."""
        starts, ends = spans
        lap, shortest = self.lap, self.shortest
        cut, seams = list(sizes), [0] * (len(sizes) - 1)
        left = task.start
        for i in range(fit):
            want = left + sizes[i] - lap
            at = bisect_right(starts, want) - 1
            if at < 0:
                return None
            seam = min(want, ends[at])
            cut[i] = seam - left + lap
            if cut[i] < shortest:
                return None
            seams[i] = left = seam
        right = task.start + task.size
        for i in range(len(sizes) - 1, fit, -1):
            want = right - sizes[i]
            at = bisect_left(ends, want)
            if at == len(ends):
                return None
            seam = max(want, starts[at])
            cut[i] = right - seam
            if cut[i] < shortest:
                return None
            seams[i - 1] = seam
            right = seam + lap
        cut[fit] = right - left
        if not shortest <= cut[fit] <= self.bars.room(bars[fit]):
            return None
        return cut, seams

    def _anyhow(self, task: Task, spans: Spans) -> Choice | None:
        """Any way that keeps the rules; None when there is none: every stretch that n pieces can reach."""
        starts, ends = spans
        lap, shortest, capacity = self.lap, self.shortest, self.bars.capacity
        finish = task.start + task.size
        reach = [[(task.start, task.start)]]
        for count in range(1, self._most(task)):
            step = []
            for low, high in reach[-1]:
                first, last = low + shortest - lap, high + capacity - lap
                at = bisect_left(ends, first)
                while at < len(starts) and starts[at] <= last:
                    step.append((max(first, starts[at]), min(last, ends[at])))
                    at += 1
            reach.append(step)
            hits = [
                (max(low, finish - capacity), min(high, finish - shortest))
                for low, high in step
                if max(low, finish - capacity) <= min(high, finish - shortest)
            ]
            if hits and count + 1 >= task.least:
                return self._between(task, self._trace(reach, hits[-1]))
        return None

    def _trace(self, reach: list[list[tuple[int, int]]], hit: tuple[int, int]) -> list[int]:
        seams = [(hit[0] + hit[1]) // 2]
        for step in reach[-2:0:-1]:
            low, high = seams[0] - self.bars.capacity + self.lap, seams[0] - self.shortest + self.lap
            seams.insert(0, max(min(b, high) for a, b in step if max(a, low) <= min(b, high)))
        return seams

    def _between(self, task: Task, seams: list[int]) -> Choice:
        """Pieces between given seams, each from the bar that serves it best, the longest first."""
        edges = [task.start, *seams, task.start + task.size]
        sizes = [right - left + self.lap for left, right in pairwise(edges)]
        sizes[-1] -= self.lap
        cost, bars = self.fine * max(0, len(sizes) - task.least), [NEW] * len(sizes)
        begun: dict[int, int] = {}
        for i in sorted(range(len(sizes)), key=lambda i: -sizes[i]):
            size = sizes[i]
            price, bar = self.bars.source(size, tuple(begun))
            for other, room in begun.items():
                if room >= size and (again := self.bars.worth(room) - self.bars.worth(room - size)) < price:
                    price, bar = again, other
            if bar == NEW:
                bar = SHARED - i
            begun[bar] = begun.get(bar, self.bars.room(bar)) - size
            bars[i] = bar
            cost += price
        return (cost, list(zip(sizes, bars, strict=True)), seams)

    def halved(
        self, task: Task, spans: Spans, sizes: Sequence[int]
    ) -> tuple[list[int], list[int], list[int]] | None:
        """A run whose last size is cut in two, so that the seams between its halves slide.

        Args:
            task: the run.
            spans: where its seams may lie.
            sizes: of its pieces, the last one for both halves.

        Returns:
            Sizes, seams, and for each piece the index of its size (the second half is one past the last);
            None when the seams fit nowhere.
        """
        *others, both = sizes
        if both < 2 * self.shortest:
            return None
        last = len(others)
        kinds = tuple(0 if size == self.bars.capacity else i + 1 for i, size in enumerate(others))
        for order in orders((*kinds, last + 1, last + 1)):
            first, second = order.index(last), order.index(last + 1)
            row = [0 if i >= last else others[i] for i in order]
            row[first], row[second] = self.shortest, both - self.shortest
            seams = [task.start + end - self.lap * (at + 1) for at, end in enumerate(accumulate(row[:-1]))]
            if not all(_within(spans, seam) for seam in (*seams[:first], *seams[second:])):
                continue
            by = self._slid(spans, seams[first:second], both - 2 * self.shortest)
            if by is None:
                continue
            row[first], row[second] = row[first] + by, row[second] - by
            moved = [seam + by if first <= at < second else seam for at, seam in enumerate(seams)]
            return row, moved, list(order)
        return None

    def _slid(self, spans: Spans, seams: Sequence[int], most: int) -> int | None:
        """How far seams have to slide together until all of them lie where they may."""
        starts, ends = spans
        by = 0
        while by <= most:
            moved = by
            for seam in seams:
                at = bisect_left(ends, seam + moved)
                if at == len(ends):
                    return None
                moved = max(moved, starts[at] - seam)
            if moved == by:
                return by
            by = moved
        return None

    def _on_points(self, task: Task, points: Sequence[int], bound: int | None) -> Choice | None:
        """Seams on single points: a dynamic programme over points and pieces."""
        lap, shortest, capacity = self.lap, self.shortest, self.bars.capacity
        source, prices = self.bars.source, dict[int, int]()
        finish = task.start + task.size
        layers: list[dict[int, tuple[int, int]]] = [{task.start: (0, task.start)}]
        best: Choice | None = None
        for count in range(1, self._most(task)):
            step: dict[int, tuple[int, int]] = {}
            for here, (cost, _) in layers[-1].items():
                first = bisect_left(points, here + shortest - lap)
                for point in points[first : bisect_right(points, here + capacity - lap)]:
                    size = point - here + lap
                    price = prices.get(size)
                    if price is None:
                        price = prices[size] = source(size)[0]
                    if point not in step or cost + price < step[point][0]:
                        step[point] = (cost + price, here)
            layers.append(step)
            if count + 1 < task.least:
                continue
            least: tuple[int, int] | None = None
            for here, (cost, _) in step.items():
                size = finish - here
                if shortest <= size <= capacity:
                    price = prices.get(size)
                    if price is None:
                        price = prices[size] = source(size)[0]
                    if least is None or cost + price < least[0]:
                        least = (cost + price, here)
            if least is None:
                continue
            seams = [least[1]]
            for layer in layers[-1:1:-1]:
                seams.insert(0, layer[seams[0]][1])
            found = self._between(task, seams)
            if bound is None or found[0] < bound:
                best, bound = found, found[0]
        return best
