"""Seam positions and stock lengths chosen together: the search behind the choice of stock.

Runs that fit a bar are packed whole, longest first; runs that do not are cut in the order of hanging, with
offcuts where they serve; then runs that share the worst bars are taken down and cut anew, as long as that
helps: first every run in its fewest pieces, then with one more where bars are spared that are worth it; at
last seams that gain nothing are done without. Everything is whole numbers, and what looks like
chance comes from one fixed row of numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from evencourse.layout.pieces.open_bars import NEW, SHARED, Bars
from evencourse.layout.pieces.run_cutting import Choice, Cutter, Task
from evencourse.layout.pieces.seam_places import Places
from evencourse.layout.pieces.small_walls import Ribbon

#: Ticks in one inch.
TICKS = 1024
#: Tolls of an offcut and fines of a seam that are tried when runs are cut anew [ticks].
_TOLLS = tuple(TICKS * value for value in (0, 2, 6, 12, 24))
_FINES = tuple(TICKS * value for value in (2, 8, 24, 40))
#: Bars whose runs are taken down together, and bars of which the worst is picked.
_TAKEN, _DRAWN = 3, 3
#: What one more seam weighs against the squares of what is left of the bars [square ticks].
_SEAM = 1500 * TICKS * TICKS
#: By how much the squares of what is left may fall short of the last ones: out of dead ends [square ticks].
_SLACK = 1500 * TICKS * TICKS
#: Runs of a small wall, on which one bar more counts.
_SMALL = 40
#: Runs of a wall that is cut afresh from the beginning, and how often.
_FEW, _AFRESH = 12, 1000
#: Bound on the work on very many bars: how often runs are cut anew, times the square of the bars. It ends
#: the search on a face of a hundred windows, and is out of reach on a house.
_WORK = 300_000_000
#: Share of the patience for a beginning in the fewest pieces, how much more there is while bars are dear, at
#: most for each run, and the share for doing with fewer seams when no bar can be gained.
_TIGHT, _DEAR, _EACH, _TIDY = 0.3, 8, 60, 0.25


class Filler:
    """Cuts runs from bars.

    Args:
        tasks: the runs, in the order of hanging; what is found is written into them.
        places: where their seams may lie.
        capacity: length of a bar, with one saw kerf [ticks].
        lap: what one more seam takes [ticks].
        shortest: shortest piece of a run that has a seam [ticks].
        goal: bars that no plan can beat: reached, there is nothing to improve.
        worth: seams beyond the fewest that one bar spared is worth.
        enough: bars above which they go before seams.
        points: seams lie on single points.
    """

    def __init__(
        self,
        tasks: Sequence[Task],
        places: Places,
        capacity: int,
        lap: int,
        shortest: int,
        goal: int,
        worth: int,
        enough: int,
        points: bool = False,
    ) -> None:
        self.tasks, self.places = tasks, places
        self.goal, self.worth, self.enough = goal, worth, enough
        smallest = min((task.size for task in tasks), default=shortest)
        self.bars = Bars(capacity, shortest, smallest, _TOLLS[2])
        self.cutter = Cutter(self.bars, lap, shortest, points, _FINES[2])
        self._given = self._extra = 0
        self._tidy = False
        self._state = 12345

    def fill(self, patience: int) -> None:
        """Cover every run.

        Args:
            patience: how often some runs are cut anew without a gain before it ends.
        """
        capacity = self.bars.capacity
        self.cutter.tight = True
        for index, task in enumerate(self.tasks):
            if task.size > capacity:
                task.base = self._base(index)
        for index in sorted(range(len(self.tasks)), key=lambda i: -self.tasks[i].size):
            whole = self.cutter.whole(self.tasks[index])
            if whole is not None:
                self._lay(index, whole, 0)
        for index, task in enumerate(self.tasks):
            if task.size > capacity:
                self._lay(index, *self._choose(index))
        best = (0, self.enough, self.worth * self.goal)
        self._improve(round(patience * _TIGHT), best)
        self.cutter.tight = False
        self._improve(patience, best)
        if self.bars.count > self.enough and len(self.tasks) > _SMALL:
            self._improve(min(patience * _DEAR, len(self.tasks) * _EACH), (0, self.enough, inf))
        while len(self.tasks) <= _SMALL and self.bars.count > self.goal and self._one_fewer():
            pass
        if len(self.tasks) <= _FEW and (self._given, self.bars.count) > (0, self.goal):
            self._afresh()
        self._tidy = True
        self._improve(round(patience * _TIDY), best)

    def _one_fewer(self) -> bool:
        """One bar fewer, the runs laid end to end; False, and nothing changed, when that is not found."""
        count = self.bars.count
        before = self._hung()
        for index in range(len(self.tasks)):
            self._lift(index)
        ribbon = Ribbon(self.tasks, self.places, self.cutter, count - 1)
        found = ribbon.search()
        for index in range(len(self.tasks)):
            self.places.hang(index, ())
        if not found:
            for index, (choice, level) in enumerate(before):
                self._lay(index, choice, level)
            return False
        bars: dict[int, int] = {}
        for index, task in enumerate(self.tasks):
            task.pieces = []
            for size, bar in ribbon.pieces[index]:
                bars[bar] = self.bars.take(bars.get(bar, NEW), size, index)
                task.pieces.append((size, bars[bar]))
            self._note(index, ribbon.seams[index], task.base)
        return True

    def _afresh(self) -> None:
        """Everything down and cut in another order, half of the seams by lot; the best is hung again."""
        runs = range(len(self.tasks))
        best, kept = (self._given, self.bars.count), self._hung()
        for _ in range(_AFRESH):
            for index in runs:
                self._lift(index)
            self.bars.toll, self.cutter.fine = self._draw(_TOLLS), self._draw((0, *_FINES))
            for index in sorted(runs, key=lambda _: self._draw(range(4096))):
                task, drawn = self.tasks[index], None
                if self._draw((0, 1)) and task.most > 1 and task.size >= 2 * self.cutter.shortest:
                    spots = self.places.spots(index, task.base)
                    drawn = self.cutter.by_lot(task, spots, lambda count: self._draw(range(count)))
                if drawn is None:
                    self._lay(index, *self._choose(index))
                else:
                    self._lay(index, drawn, task.base)
            if (self._given, self.bars.count) < best:
                best, kept = (self._given, self.bars.count), self._hung()
                if best <= (0, self.goal):
                    return
        for index in runs:
            self._lift(index)
        for index, (choice, level) in enumerate(kept):
            self._lay(index, choice, level)

    def _hung(self) -> list[tuple[Choice, int]]:
        return [((0, task.pieces, task.seams), task.level) for task in self.tasks]

    def _improve(self, patience: int, goal: tuple[float, ...]) -> None:
        spent, best = 0, self._score()[:-1]
        left = _WORK // max(1, self.bars.count) ** 2
        while spent < patience and left > 0 and best > goal:
            self._anew()
            spent, left = spent + 1, left - 1
            if self._score()[:-1] < best:
                spent, best = 0, self._score()[:-1]

    def _anew(self) -> None:
        """Take some runs down and cut them anew; put them back when that was a loss."""
        score = self._score()
        victims = self._victims()
        before = [((0, t.pieces, t.seams), t.level) for t in (self.tasks[i] for i in victims)]
        for index in victims:
            self._lift(index)
        self.bars.toll, self.cutter.fine = self._draw(_TOLLS), self._draw(_FINES)
        mode = self._draw((0, 1, 2))
        order = victims
        if mode == 0:
            order = sorted(victims, key=lambda i: -self.tasks[i].size)
        elif mode == 1:
            order = sorted(victims, key=lambda i: self._draw(range(4096)))
        for index in order:
            self._lay(index, *self._choose(index))
        found = self._score()
        if found[:-1] < score[:-1] or (found[:-1] == score[:-1] and found[-1] <= score[-1] + _SLACK):
            return
        for index in order:
            self._lift(index)
        for index, (choice, level) in zip(victims, before, strict=True):
            self._lay(index, choice, level)

    def _score(self) -> tuple[int, ...]:
        """Smaller is better: rules that gave way; bars above enough; seams beyond the fewest, with each bar
        as many as it is worth; what is left spread thin."""
        count, extra, square = self.bars.count, self._extra, self.bars.square
        if count <= self.enough:
            return (self._given, self.enough, self.worth * count + extra, -square)
        if self._tidy:
            return (self._given, count, extra, -square)
        return (self._given, count, _SEAM * extra - square)

    def _draw(self, among: Sequence[int]) -> int:
        self._state = (self._state * 1103515245 + 12345) & 0x7FFFFFFF
        return among[(self._state >> 8) % len(among)]

    def _victims(self) -> list[int]:
        """Runs cut from a few of the worst bars; or a run whose rules gave way and what stands round it."""
        if self._given and self._draw((0, 1)):
            given = [index for index, task in enumerate(self.tasks) if task.level > task.base]
            first = self._draw(given)
            others = [index for index in self.places.beside(first) if self.tasks[index].seams]
            return list(dict.fromkeys([first, *(self._draw(others) for _ in others[:3])]))
        if self._tidy and self._draw((0, 1)):
            cut = [index for index, task in enumerate(self.tasks) if len(task.pieces) > task.least]
            if cut:
                first = self._draw(cut)
                bars = [bar for _, bar in self.tasks[first].pieces]
                return list(dict.fromkeys([first, *(i for bar in bars for i in self.bars.users[bar])]))
        free, users = self.bars.free, self.bars.users
        loose = [bar for bar, rest in enumerate(free) if 0 < rest < self.bars.capacity]
        if not loose:
            loose = [bar for bar, cut in enumerate(users) if cut]
        picked: dict[int, None] = {}
        for _ in range(_TAKEN):
            worst = max((self._draw(loose) for _ in range(_DRAWN)), key=lambda bar: free[bar])
            picked.update(dict.fromkeys(users[worst]))
        return list(picked)

    def _choose(self, index: int) -> tuple[Choice, int]:
        """The cheapest way found to cut a run, the rules giving way only as far as they must."""
        task, cutter, last = self.tasks[index], self.cutter, self.places.levels
        best = cutter.whole(task)
        if best is not None and task.size < 2 * cutter.shortest - cutter.lap:
            return best, 0
        for level in range(task.base, last + 1):
            bound = best[0] if best else None
            best = cutter.cut(task, self.places.spots(index, level), bound) or best
            if best is not None:
                return best, level
        return cutter.even(task), last + 1

    def _base(self, index: int) -> int:
        task, last = self.tasks[index], self.places.levels
        levels = range(last + 1)
        return next((n for n in levels if self.cutter.can_cut(task, self.places.alone(index, n))), last + 1)

    def _lay(self, index: int, choice: Choice, level: int) -> None:
        task = self.tasks[index]
        begun: dict[int, int] = {}
        task.pieces = []
        for size, bar in choice[1]:
            taken = self.bars.take(begun.get(bar, max(bar, NEW)), size, index)
            if bar <= SHARED:
                begun[bar] = taken
            task.pieces.append((size, taken))
        self._note(index, choice[2], level)

    def _note(self, index: int, seams: list[int], level: int) -> None:
        task = self.tasks[index]
        task.seams, task.level = seams, level
        self._given += level - task.base
        self._extra += len(task.pieces) - task.least
        if task.seams:
            self.places.hang(index, task.seams)

    def _lift(self, index: int) -> None:
        task = self.tasks[index]
        for size, bar in task.pieces:
            self.bars.give_back(bar, size, index)
        if task.seams:
            self.places.hang(index, ())
        self._given -= task.level - task.base
        self._extra -= len(task.pieces) - task.least
        task.pieces, task.seams, task.level = [], [], 0
