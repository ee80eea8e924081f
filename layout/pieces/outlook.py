"""What a cut end on the heap is worth: what is still to be hung that it may serve."""

from __future__ import annotations

from array import array
from collections.abc import Sequence

import numpy as np

from evencourse.layout.pieces.stretches import Stock, Stretch

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
    for stretch in reversed(stretches):
        wait = np.maximum(value - WAIT, 0.0)
        if stretch.stock is stock:
            rest = stretch.size
            if rest > stock.capacity:
                rest -= (-(-(rest - stock.step) // full) - 1) * full
            # With no seam more where it reaches so far, else with one.
            use = worth * share - (share * stock.capacity < max(stock.shortest, rest))
            use[: -(-stock.shortest * CELLS // stock.capacity)] = 0.0
            if stretch.size <= stock.capacity:
                cells = -(-stretch.size * CELLS // stock.capacity)
                if stretch.size <= stock.unseamed:
                    use[:cells] = 0.0
                use[cells:] = worth * stretch.size / stock.capacity + value[: CELLS + 1 - cells]
            value = np.where(use > wait, odds * use + (1 - odds) * wait, wait)
        else:
            value = wait
        found.append(array("d", value.tobytes()))
    return found[::-1]


def needs(stretches: Sequence[Stretch], index: int) -> tuple[int, ...]:
    """Sizes of the next short stretches of a stock: an end that is left just so long serves one whole.

    Args:
        stretches: in the order of hanging.
        index: of the one that is hung now.
    """
    stock, found = stretches[index].stock, dict[int, None]()
    for one in stretches[index + 1 : index + AHEAD]:
        if one.stock is stock and 2 * one.size <= stock.capacity:
            found[one.size] = None
            if len(found) == NEEDS:
                break
    return tuple(found)
