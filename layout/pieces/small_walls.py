"""One bar fewer on a small wall: runs laid end to end, bars laid along them, a seam where a bar ends.

What is laid as one ribbon wastes nothing but laps and what a rule about seams takes. The order of the runs,
the side on which each is begun and the order of its pieces are searched, as far as the length that a number
of bars has to spare allows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from evencourse.layout.pieces.open_bars import NEW
from evencourse.layout.pieces.run_cutting import Cutter, Spans, Task
from evencourse.layout.pieces.run_orders import orders
from evencourse.layout.pieces.seam_places import Places

#: Steps of one search, searches in different orders, ways to cut one run: bounds on work.
_STEPS, _SEARCHES, _WAYS = 1500, 12, 4


#: Whose a piece is: of the bar in hand, of a bar of its own, of the bar that is in hand afterwards.
_FIRST, _WHOLE, _LAST = range(3)


@dataclass(frozen=True)
class _Way:
    """One way to cut a run: what it wastes, and for each piece its size and whose it is; its seams."""

    waste: int
    sizes: tuple[int, ...]
    owners: tuple[int, ...]
    seams: tuple[int, ...]

    @property
    def rest(self) -> int:
        """What is cut from the bar that comes last."""
        return sum(size for size, owner in zip(self.sizes, self.owners, strict=True) if owner == _LAST)

    @property
    def bars(self) -> int:
        """Bars that it takes beyond the one in hand."""
        return self.owners.count(_WHOLE) + 1


class Ribbon:
    """Looks for a way to cut all runs from a given number of bars.

    Args:
        tasks: the runs.
        places: where their seams may lie; none of these runs has any there.
        cutter: how runs are cut.
        bars: how many there are.
    """

    def __init__(self, tasks: Sequence[Task], places: Places, cutter: Cutter, bars: int) -> None:
        self.tasks, self.places, self.cutter = tasks, places, cutter
        self.capacity = cutter.bars.capacity
        least = sum(task.size + (task.least - 1) * cutter.lap for task in tasks)
        self.spare = bars * self.capacity - least
        self._state = 4242
        self._steps = 0
        #: Pieces of each run: size and bar; its seams.
        self.pieces: list[list[tuple[int, int]]] = [[] for _ in tasks]
        self.seams: list[list[int]] = [[] for _ in tasks]

    def search(self) -> bool:
        """Try; True when every run is cut: ``pieces`` and ``seams`` say how, the seams are hung."""
        if self.spare < 0:
            return False
        for _ in range(_SEARCHES):
            self._steps = _STEPS
            self._order = list(range(len(self.tasks)))
            for i in range(len(self._order) - 1, 0, -1):
                j = self._draw(i + 1)
                self._order[i], self._order[j] = self._order[j], self._order[i]
            if self._lay((1 << len(self.tasks)) - 1, 0, self.spare, 0):
                return True
        return False

    def _draw(self, count: int) -> int:
        self._state = (self._state * 6364136223846793005 + 1442695040888963407) & 0xFFFFFFFFFFFFFFFF
        return (self._state >> 33) % count

    def _lay(self, open_runs: int, room: int, spare: int, bar: int) -> bool:
        """Lay the rest of the ribbon: runs still open, room in the bar in hand, length to spare, bar."""
        if not open_runs:
            return True
        self._steps -= 1
        if self._steps < 0:
            return False
        options: list[tuple[int, int, _Way | None]] = []
        seen = set()
        for index in self._order:
            if not open_runs >> index & 1:
                continue
            task = self.tasks[index]
            if task.size <= room and task.size not in seen:
                seen.add(task.size)
                options.append(
                    (0 if room - task.size >= self.cutter.shortest else room - task.size, index, None)
                )
        if room >= self.cutter.shortest:
            for index in self._order:
                if open_runs >> index & 1 and self.tasks[index].size > room:
                    options += [(way.waste, index, way) for way in self._ways(index, room, spare)]
        options = [option for option in options if option[0] <= spare]
        options.sort(key=lambda option: option[0])
        for waste, index, way in options:
            if way is None:
                self.pieces[index], self.seams[index] = [(self.tasks[index].size, bar)], []
                if self._lay(open_runs & ~(1 << index), room - self.tasks[index].size, spare, bar):
                    return True
                continue
            self._cut(index, way, bar)
            last = bar + way.bars
            if self._lay(open_runs & ~(1 << index), self.capacity - way.rest, spare - waste, last):
                return True
            self.places.hang(index, ())
        return room <= spare and self._start(open_runs, spare - room, bar + 1)

    def _start(self, open_runs: int, spare: int, bar: int) -> bool:
        """Take the next bar for a run of its own."""
        seen = set()
        for index in self._order:
            if not open_runs >> index & 1:
                continue
            task = self.tasks[index]
            if task.size in seen:
                continue
            seen.add(task.size)
            if task.size <= self.capacity:
                self.pieces[index], self.seams[index] = [(task.size, bar)], []
                if self._lay(open_runs & ~(1 << index), self.capacity - task.size, spare, bar):
                    return True
                continue
            for way in self._ways(index, self.capacity, spare):
                self._cut(index, way, bar)
                last = bar + way.bars
                rest = self.capacity - way.rest
                if self._lay(open_runs & ~(1 << index), rest, spare - way.waste, last):
                    return True
                self.places.hang(index, ())
        return False

    def _cut(self, index: int, way: _Way, bar: int) -> None:
        """Cut a run: one piece from the bar in hand, the last one taken leaves its rest to the next run."""
        numbers = iter(range(bar + 1, bar + way.bars))
        last = bar + way.bars
        self.pieces[index] = [
            (size, bar if owner == _FIRST else last if owner == _LAST else next(numbers))
            for size, owner in zip(way.sizes, way.owners, strict=True)
        ]
        self.seams[index] = list(way.seams)
        self.places.hang(index, way.seams)

    def _ways(self, index: int, room: int, spare: int) -> list[_Way]:
        """Ways to cut a run that begins with what is left of a bar, least waste first."""
        task, cutter = self.tasks[index], self.cutter
        spans = self.places.spots(index, task.base)
        found: dict[tuple[int, ...], _Way] = {}
        for count in range(max(2, task.least), task.most + 1):
            over = (count - task.least) * cutter.lap
            total = task.size + (count - 1) * cutter.lap
            for way in (
                *self._slid(task, spans, total, count, room),
                *self._halved(task, spans, total, count, room),
            ):
                if way.waste + over <= spare and way.seams not in found:
                    found[way.seams] = replace(way, waste=way.waste + over)
        return sorted(found.values(), key=lambda way: (way.waste, way.seams))[:_WAYS]

    def _slid(self, task: Task, spans: Spans, total: int, count: int, room: int) -> Iterator[_Way]:
        """A piece from the bar in hand, whole bars, one cut to fit; seams slid to where they may lie."""
        cutter, capacity = self.cutter, self.capacity
        first, rest = room, total - room - (count - 2) * capacity
        if rest > capacity:
            return
        if rest < cutter.shortest:
            first, rest = first - cutter.shortest + rest, cutter.shortest
        if first < cutter.shortest:
            return
        sizes = [first, *[capacity] * (count - 2), rest]
        owners = [_FIRST, *[_WHOLE] * (count - 2), _LAST]
        for order in orders((0, *[1] * (count - 2), 2)):
            fit = order.index(count - 1)
            cut = cutter.slide(task, spans, [sizes[i] for i in order], [NEW] * count, fit)
            if cut is not None:
                waste = room + (count - 2) * capacity - (sum(cut[0]) - cut[0][fit])
                yield _Way(waste, tuple(cut[0]), tuple(owners[i] for i in order), tuple(cut[1]))

    def _halved(self, task: Task, spans: Spans, total: int, count: int, room: int) -> Iterator[_Way]:
        """The same with one bar fewer, what comes from the first or from the last bar cut in two."""
        rest = total - room - (count - 3) * self.capacity
        if count < 3 or not self.cutter.shortest <= rest <= self.capacity:
            return
        whole = [self.capacity] * (count - 3)
        for sizes, one, two in (([*whole, room, rest], _FIRST, _LAST), ([*whole, rest, room], _LAST, _FIRST)):
            cut = self.cutter.halved(task, spans, sizes)
            if cut is not None:
                owners = [*[_WHOLE] * (count - 3), one, two, two]
                yield _Way(0, tuple(cut[0]), tuple(owners[i] for i in cut[2]), tuple(cut[1]))
