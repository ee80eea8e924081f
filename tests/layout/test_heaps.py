"""Heaps of cut ends: which states go on, by its definition, state by state and end by end."""

from __future__ import annotations

from itertools import product
from math import inf

import numpy as np
import pytest

from evencourse.layout.pieces import heaps
from evencourse.layout.pieces.heaps import Heaps
from evencourse.layout.pieces.stretch import CODES, Stock, Stretch


def stretch(stock: Stock, size: int) -> Stretch:
    return Stretch(0, stock, 0, 0, 1, 0.0, 1.0, None, 0, size, 0, size, inf, (), ())


def no_worse(mine: list[tuple[int, int]], other: list[tuple[int, int]], short: float) -> bool:
    """Whether every end of a heap (stock, length) finds one of its stock, so little short, in another."""
    rest = sorted(other)
    for stock, length in sorted(mine):
        fitting = [end for end in rest if end[0] == stock and end[1] >= length - short]
        if not fitting:
            return False
        rest.remove(fitting[0])
    return True


@pytest.mark.parametrize(("stocks", "seed", "like"), list(product((3, 2, 1), range(4), (1000, heaps.LIKE))))
def test_no_state_is_given_up_that_no_earlier_one_beats(
    stocks: int, seed: int, like: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(heaps, "LIKE", like)
    luck = np.random.default_rng(seed)
    kinds = [Stock(number * CODES, 150_000 + 9_000 * number) for number in range(1, stocks + 1)]
    found_in = Heaps([stretch(one, 60_000) for one in kinds], 6, 6.0, 0.3)
    short = kinds[0].capacity / like if like == heaps.LIKE else 0
    count = 40
    held: list[list[tuple[int, int]]] = []
    codes = np.zeros((count, 6), np.int64)
    for state in range(count):
        ends = [
            (int(luck.integers(stocks)), 1000 * int(luck.integers(20, 25))) for _ in range(luck.integers(7))
        ]
        held.append(ends)
        codes[state, : len(ends)] = [found_in.base(kinds[stock]) + length for stock, length in ends]
    codes.sort(axis=1)
    spent = np.sort(luck.integers(0, 6, count))
    groups = luck.integers(0, 2, count)
    for same in (None, groups):
        wanted = [
            mine
            for mine in range(count)
            if not any(
                spent[other] <= spent[mine]
                and (same is None or same[other] == same[mine])
                and no_worse(held[mine], held[other], short)
                for other in range(mine)
            )
        ]
        found = found_in.unbeaten(spent, codes, count, same).tolist()
        # Of several stocks ends are compared place by place, and by the steps that they lie in: some that are
        # beaten go on.
        exact = stocks == 1 and not short
        assert found == wanted if exact else set(wanted) <= set(found) < set(range(count))
        for most in (5, 13):
            assert found_in.unbeaten(spent, codes, most, same).tolist() == found[:most]
