"""The bound on stock against every packing of a few pieces, and the programme over all patterns."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from math import ceil

import numpy as np
import pytest
from scipy.optimize import linprog

from evencourse.layout.order.stock_bound import fewest_bars


def fewest_by_trying(sizes: Sequence[int], capacity: int) -> int:
    """Every packing, the longest piece first."""
    best = len(sizes)
    ordered = sorted(sizes, reverse=True)

    def pack(at: int, bars: tuple[int, ...]) -> None:
        nonlocal best
        if len(bars) >= best:
            return
        if at == len(ordered):
            best = len(bars)
            return
        tried = set()
        for i, room in enumerate(bars):
            if room >= ordered[at] and room not in tried:
                tried.add(room)
                pack(at + 1, (*bars[:i], room - ordered[at], *bars[i + 1 :]))
        pack(at + 1, (*bars, capacity - ordered[at]))

    pack(0, ())
    return best


def patterns(sizes: Sequence[int], most: Sequence[int], room: int) -> Iterator[tuple[int, ...]]:
    """Every way to cut one bar."""
    if not sizes:
        yield ()
        return
    for count in range(min(most[0], room // sizes[0]) + 1):
        for rest in patterns(sizes[1:], most[1:], room - count * sizes[0]):
            yield (count, *rest)


def by_all_patterns(sizes: Sequence[int], capacity: int) -> float:
    """The linear programme over every pattern, solved by SciPy's HiGHS."""
    demand = Counter(sizes)
    kinds = sorted(demand)
    columns = np.array(list(patterns(kinds, [demand[kind] for kind in kinds], capacity))).T
    wanted = np.array([demand[kind] for kind in kinds])
    return float(linprog(np.ones(columns.shape[1]), A_ub=-columns, b_ub=-wanted).fun)


def pieces(seed: int, count: int, kinds: int) -> list[int]:
    chance = random.Random(f"pieces {seed}")
    lengths = [chance.randrange(15, 95) for _ in range(kinds)]
    return [chance.choice(lengths) for _ in range(count)]


@pytest.mark.parametrize("seed", range(60))
def test_bound_lies_between_the_programme_over_all_patterns_and_the_best_packing(seed: int) -> None:
    sizes = pieces(seed, 11, 6)
    bound = fewest_bars(sizes, 100)
    assert ceil(by_all_patterns(sizes, 100) - 0.02) <= bound <= fewest_by_trying(sizes, 100)


def test_pieces_over_half_a_bar_need_one_each() -> None:
    # 51 + 51 > 100: the length alone would say 6 bars for ten of them.
    assert fewest_bars([51.0] * 10, 100.0) == 10


def test_three_thirds_leave_no_room_for_a_fourth() -> None:
    # Seven pieces of 26 in 100: three to a bar, so 7 / 3 = 2.33, three bars; by length 1.82, two.
    assert fewest_bars([26.0] * 7, 100.0) == 3


def test_nothing_needs_no_bar() -> None:
    assert fewest_bars([], 100.0) == 0


def test_a_cutting_that_meets_the_bound_is_proven_at_once() -> None:
    assert fewest_bars([50.0] * 8, 100.0, found=4) == 4


def test_solver_prints_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    fewest_bars([33.5, 21.2, 45.1, 12.9, 28.4] * 9, 100.0)
    assert capfd.readouterr() == ("", "")
