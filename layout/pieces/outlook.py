"""What a cut end on the heap is worth: what is still to be hung that it may serve."""

from __future__ import annotations

from array import array
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from evencourse.layout.pieces.stretch import Stock, Stretch

#: Steps that a length is counted in here.
CELLS = 256
#: What a turn of waiting costs [seams].
WAIT = 0.015
#: How far ahead stretches are looked at that an end may serve whole, and how many of them.
AHEAD, NEEDS = 40, 3


def outlook(stretches: Sequence[Stretch], stock: Stock, worth: float, odds: float) -> list[array[float]]:
    """What an end is worth, by the stretch that is hung next and by its length in cells [seams].

    Args:
        stretches: in the order of hanging.
        stock: that the end is of.
        worth: seams that one length is worth.
        odds: that an end gets a place that it could serve, for others wait for it too.

    From the last stretch to the first: an end serves a stretch whole, or a seamed one that has room for it,
    or with one seam more; else it waits.
    """
    share = np.arange(CELLS + 1) / CELLS
    full = stock.capacity - stock.step
    value = np.zeros(CELLS + 1)
    found = [array("d", value.tobytes())]
    uses: dict[int, npt.NDArray[np.float64]] = {}
    for stretch in reversed(stretches):
        wait = np.maximum(value - WAIT, 0.0)
        if stretch.stock is stock:
            size, whole = stretch.size, stretch.size <= stock.capacity
            cells = -(-size * CELLS // stock.capacity)
            if size not in uses:
                rest = size if whole else size - (-(-(size - stock.step) // full) - 1) * full
                # With no seam more where it reaches so far, else with one.
                use = worth * share - (share * stock.capacity < max(stock.shortest, rest))
                use[: -(-stock.shortest * CELLS // stock.capacity)] = 0.0
                if size <= stock.unseamed:
                    use[:cells] = 0.0
                uses[size] = use
            use = uses[size]
            if whole:
                use = use.copy()
                use[cells:] = worth * size / stock.capacity + value[: CELLS + 1 - cells]
            value = np.where(use > wait, odds * use + (1 - odds) * wait, wait)
        else:
            value = wait
        found.append(array("d", value.tobytes()))
    return found[::-1]


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
