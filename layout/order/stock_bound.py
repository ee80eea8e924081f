"""How few bars some pieces can be cut from: a bound that no cutting of these pieces can beat."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import ceil, floor
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np

#: Cells of the knapsack that prices new patterns: sizes are rounded down to them, so the bound stays a bound.
_CELLS = 8192
#: Rounds of pricing: a bound on work; the best bound so far is returned when they are spent.
_ROUNDS = 600
_NEAR = 1e-7


def fewest_bars(sizes: Sequence[float], capacity: float, found: int | None = None) -> int:
    """Bars that no cutting of some pieces can do without.

    Args:
        sizes: of the pieces, what the saw takes included [any unit].
        capacity: length of a bar, with what the saw takes once [the same unit].
        found: bars of a cutting that is known: proven best, there is nothing more to do.

    Returns:
        The greater of two bounds: pieces over half a bar, with what fits beside them (Martello and Toth,
        "Lower bounds and reduction procedures for the bin packing problem", Discrete Applied Mathematics 28,
        1990); and the linear programme over all patterns of a bar by column generation (Gilmore and Gomory,
        "A linear programming approach to the cutting-stock problem", Operations Research 9, 1961), with the
        bound that holds before it has ended (Farley, Operations Research 38, 1990).

    Sizes are rounded down to 1/8192 of a bar, so that the bound may be a hair too low, never too high.
    """
    cells = [min(_CELLS, floor(size / capacity * _CELLS + 1e-6)) for size in sizes]
    cells = [size for size in cells if size > 0]
    bound = beside_halves(cells, _CELLS)
    if not cells or (found is not None and bound >= found):
        return bound
    smallest = min(cells)
    alone = sum(size + smallest > _CELLS for size in cells)
    together = Counter(size for size in cells if size + smallest <= _CELLS)
    return max(bound, alone + _by_patterns(together, bound - alone) if together else alone)


def beside_halves(sizes: Sequence[int], capacity: int) -> int:
    """Bars that sizes cannot do without: pieces over half a bar, with what fits beside them.

    Args:
        sizes: whole numbers, none above the capacity.
        capacity: of a bar.

    For every small size: what leaves no room for it has a bar of its own, what is longer than half needs one
    each, and the rest has only the room that these leave (Martello and Toth, 1990).
    """
    best = -(-sum(sizes) // capacity) if sizes else 0
    for least in {size for size in sizes if 2 * size <= capacity}:
        alone = sum(size > capacity - least for size in sizes)
        halves = [size for size in sizes if capacity < 2 * size <= 2 * (capacity - least)]
        small = sum(size for size in sizes if least <= size and 2 * size <= capacity)
        over = small - (len(halves) * capacity - sum(halves))
        best = max(best, alone + len(halves) + max(0, -(-over // capacity)))
    return max(best, sum(2 * size > capacity for size in sizes))


def _by_patterns(demand: Counter[int], bound: int) -> int:
    """The linear programme over patterns, rounded up.

    Args:
        demand: how many pieces of each size [cells].
        bound: bars that are known to be needed.
    """
    import highspy
    import numpy as np

    sizes = sorted(demand, reverse=True)
    wanted = np.array([demand[size] for size in sizes], dtype=float)

    class Quiet(highspy.Highs):
        """The solver without its callbacks: setting them prints its name before it can be told not to."""

        def enableCallbacks(self) -> None:  # noqa: N802
            self.setOptionValue("output_flag", False)

    model = Quiet()  # type: ignore[no-untyped-call]
    model.setOptionValue("threads", 1)
    for count in wanted:
        model.addRow(float(count), highspy.kHighsInf, 0, [], [])
    for row, size in enumerate(sizes):
        model.addCol(1.0, 0.0, highspy.kHighsInf, 1, [row], [float(min(_CELLS // size, demand[size]))])
    for pattern in _first_fit(sizes, demand):
        _add(model, highspy.kHighsInf, pattern)
    best = float(bound)
    for _ in range(_ROUNDS):
        model.run()
        prices = np.maximum(np.array(model.getSolution().row_dual), 0.0)
        worth, pattern = _dearest(sizes, demand, prices)
        total = float(prices @ wanted)
        best = max(best, total / max(worth, 1.0))
        if worth <= 1 + _NEAR or ceil(best - _NEAR) >= ceil(total - _NEAR):
            break
        _add(model, highspy.kHighsInf, pattern)
    return ceil(best - _NEAR)


def _add(model: object, unbounded: float, pattern: dict[int, int]) -> None:
    rows = sorted(pattern)
    model.addCol(1.0, 0.0, unbounded, len(rows), rows, [float(pattern[row]) for row in rows])  # type: ignore[attr-defined]


def _first_fit(sizes: Sequence[int], demand: Counter[int]) -> list[dict[int, int]]:
    """Patterns of a plain cutting, the longest first: a start for the linear programme."""
    left = [demand[size] for size in sizes]
    found: list[dict[int, int]] = []
    while any(left):
        room, pattern = _CELLS, dict[int, int]()
        for row, size in enumerate(sizes):
            count = min(left[row], room // size)
            if count:
                pattern[row] = count
                left[row] -= count
                room -= count * size
        found.append(pattern)
    return found


def _dearest(sizes: Sequence[int], demand: Counter[int], prices: np.ndarray) -> tuple[float, dict[int, int]]:
    """The pattern of one bar whose pieces are worth most: a knapsack by dynamic programming."""
    import numpy as np

    worth = np.zeros(_CELLS + 1)
    steps: list[tuple[int, np.ndarray]] = []
    for row, size in enumerate(sizes):
        if prices[row] <= _NEAR:
            continue
        for _ in range(min(demand[size], _CELLS // size)):
            with_it = worth[: _CELLS + 1 - size] + prices[row]
            better = with_it > worth[size:]
            steps.append((row, better))
            worth[size:] = np.where(better, with_it, worth[size:])
    pattern: dict[int, int] = {}
    room = _CELLS
    for row, better in reversed(steps):
        at = room - sizes[row]
        if at >= 0 and better[at]:
            pattern[row] = pattern.get(row, 0) + 1
            room = at
    return float(worth[_CELLS]), pattern
