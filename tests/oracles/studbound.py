"""What no cutting of boards with their joints on studs can beat: the linear programme over its patterns.

The length bound takes a joint to lie anywhere. On studs the pieces come in few sizes, and those do not fill
every length. Here each run of boards takes a mix of its layouts (joints on studs, none at an opening, as many
pieces as the rules allow), each length a mix of pieces, any end may wait for ever, and courses do not mind
each other: so no plan is better. By column generation (Gilmore and Gomory, "A linear programming approach to
the cutting-stock problem", Operations Research 9, 1961); the bound that holds at any time is Farley's
(Operations Research 38, 1990). Sizes are rounded down to cells for the pattern that is worth most, so the
bound may be a hair too low, never too high.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import inf

import numpy as np
import numpy.typing as npt
from scipy.optimize import linprog

from evencourse.layout.pieces.stretch import Stretch

#: Cells of a length in the knapsack.
CELLS = 4096
ROUNDS = 400
#: By size, how many pieces: of a layout, or of a length.
Pieces = dict[int, int]


def least(found: Sequence[Stretch], length: float, seam: float) -> float:
    """The least that lengths and joints of boards can cost, joints on studs.

    Args:
        found: all stretches of one stock of boards.
        length: what a length costs.
        seam: what a joint costs.
    """
    kinds = Counter(_Run(one).key for one in found)
    runs = {_Run(one).key: _Run(one) for one in found}
    sizes = sorted({size for run in runs.values() for size in run.sizes()})
    row = {size: at for at, size in enumerate(sizes)}
    capacity = found[0].stock.capacity
    of_run = {key: len(sizes) + at for at, key in enumerate(kinds)}
    columns: list[npt.NDArray[np.float64]] = []
    costs: list[float] = []

    def add(pieces: Pieces, cost: float, sign: int, run: object = None) -> None:
        column = np.zeros(len(sizes) + len(kinds))
        for size, count in pieces.items():
            column[row[size]] = sign * count
        if run is not None:
            column[of_run[run]] = 1
        columns.append(column)
        costs.append(cost)

    for size in sizes:
        add({size: capacity // size}, length, 1)
    plain = {size: length * size / capacity for size in sizes}
    for key, run in runs.items():
        pieces, worth = run.cheapest(plain, seam)
        add(pieces, seam * (sum(pieces.values()) - 1), -1, key)
    wanted = np.array([0.0] * len(sizes) + [float(kinds[key]) for key in kinds])
    best = 0.0
    for _ in range(ROUNDS):
        solved = linprog(costs, A_ub=-np.array(columns).T, b_ub=-wanted)
        price = -solved.ineqlin.marginals
        prices = dict(zip(sizes, price, strict=False))
        worth, pattern = _dearest(sizes, capacity, prices)
        # Farley: prices made so low that no length is worth more than it costs are prices all the same.
        scale = min(1.0, length / worth) if worth > 0 else 1.0
        fair = {size: scale * value for size, value in prices.items()}
        best = max(best, sum(count * runs[key].cheapest(fair, seam)[1] for key, count in kinds.items()))
        if best >= solved.fun - 1e-6 * solved.fun:
            break
        new = worth > length + 1e-7
        if new:
            add(pattern, length, 1)
        for key, run in runs.items():
            pieces, cost = run.cheapest(prices, seam)
            if cost < price[of_run[key]] - 1e-7:
                new = True
                add(pieces, seam * (sum(pieces.values()) - 1), -1, key)
        if not new:
            break
    return best


class _Run:
    """One run of boards, from its start: where joints may lie, how many pieces there may be."""

    def __init__(self, stretch: Stretch) -> None:
        stock = stretch.stock
        self.size, self.step, self.capacity = stretch.size, stock.step, stock.capacity
        self.shortest = stock.shortest
        joint = stock.joint // 2
        shut = [(low, high) for low, high, rule in stretch.spans if rule == "opening"]
        free = [x for x in stretch.points if not any(low < x - joint < high for low, high in shut)]
        self.joints = tuple(x - stretch.start for x in free)
        self.extra = stock.extra if self.size > stock.unseamed else 0
        self.key = (self.size, self.joints)
        if self.fewest() == inf:  # no lawful layout: it breaks a rule, and may break any
            self.joints = tuple(x - stretch.start for x in stretch.points)
            self.shortest = self.step + 1
        self.most = self.fewest() + self.extra

    def fewest(self) -> float:
        """Pieces of its shortest layout."""
        return self._table({}, 0.0, 1 << 20)[2]

    def sizes(self) -> set[int]:
        """Every size of a piece that some layout may have."""
        ends = (0, *self.joints)
        found = {self.size - x for x in ends} | {
            y + self.step - x for x in ends for y in self.joints if y > x
        }
        return {size for size in found if 0 < size <= self.capacity}

    def cheapest(self, prices: dict[int, float], seam: float) -> tuple[Pieces, float]:
        """The layout whose pieces and joints cost least, and what they cost."""
        pieces, cost, _ = self._table(prices, seam, int(self.most))
        return pieces, cost

    def _table(self, prices: dict[int, float], seam: float, most: int) -> tuple[Pieces, float, float]:
        """By dynamic programme, joint by joint: the cheapest of at most so many pieces."""
        reached: dict[int, tuple[float, tuple[int, ...]]] = {0: (0.0, ())}
        best: tuple[float, tuple[int, ...]] = (inf, ())
        for count in range(1, most + 1):
            for x, (cost, sizes) in reached.items():
                last = self.size - x
                if last <= self.capacity and (count == 1 or last >= self.shortest):
                    total = cost + prices.get(last, 0.0)
                    best = min(best, (total, (*sizes, last)))
            if best[0] < inf and not prices:
                break
            further: dict[int, tuple[float, tuple[int, ...]]] = {}
            for x, (cost, sizes) in reached.items():
                for y in self.joints:
                    size = y + self.step - x
                    if self.shortest <= size <= self.capacity:
                        total = cost + prices.get(size, 0.0) + seam
                        if total < further.get(y, (inf, ()))[0]:
                            further[y] = (total, (*sizes, size))
            reached = further
            if not reached:
                break
        return dict(Counter(best[1])), best[0], len(best[1]) if best[0] < inf else inf


def _dearest(sizes: Sequence[int], capacity: int, prices: dict[int, float]) -> tuple[float, Pieces]:
    """The length whose pieces are worth most: a knapsack, sizes rounded down to cells."""
    worth = np.zeros(CELLS + 1)
    taken: list[tuple[int, int, npt.NDArray[np.bool_]]] = []
    for size in sizes:
        cells = size * CELLS // capacity
        if prices[size] <= 1e-9 or cells == 0:
            continue
        for _ in range(CELLS // cells):
            more = worth[: CELLS + 1 - cells] + prices[size]
            better = more > worth[cells:] + 1e-12
            if not better.any():
                break
            taken.append((size, cells, better))
            worth[cells:] = np.where(better, more, worth[cells:])
    pieces, room = Counter[int](), CELLS
    for size, cells, better in reversed(taken):
        if room >= cells and better[room - cells]:
            pieces[size] += 1
            room -= cells
    return float(worth[CELLS]), dict(pieces)
