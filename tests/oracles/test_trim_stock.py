"""Bars of trim against the linear programme over cutting patterns (Gilmore and Gomory 1961), solved by HiGHS.

No cutting takes fewer bars than the programme's value, rounded up.
"""

from __future__ import annotations

from math import ceil
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import linprog

from evencourse.layout.order.bar_cuts import BarPlan
from evencourse.layout.order.trims import trims
from tests.samples import planned

SAMPLE = Path(__file__).resolve().parents[2] / "samples" / "gabled-house.toml"


def least_bars(cutting: BarPlan, inch: float) -> int:
    """The programme's value rounded up, by column generation; lengths in sixteenths, rounded up."""
    scale = 16 / inch
    sizes = [ceil((piece.length + cutting.kerf) * scale - 1e-6) for piece in cutting.pieces]
    capacity = ceil((cutting.stock + cutting.kerf) * scale)
    kinds = sorted(set(sizes), reverse=True)
    demand = [sizes.count(kind) for kind in kinds]
    patterns = [
        [capacity // kind if i == j else 0 for j in range(len(kinds))] for i, kind in enumerate(kinds)
    ]
    while True:
        solved = linprog(np.ones(len(patterns)), A_ub=-np.array(patterns).T, b_ub=-np.array(demand))
        worth = -solved.ineqlin.marginals
        best, taken = [0.0] * (capacity + 1), [-1] * (capacity + 1)
        for room in range(1, capacity + 1):
            best[room], taken[room] = best[room - 1], -1
            for at, kind in enumerate(kinds):
                if kind <= room and best[room - kind] + worth[at] > best[room] + 1e-12:
                    best[room], taken[room] = best[room - kind] + worth[at], at
        if best[capacity] <= 1 + 1e-7:
            return ceil(solved.fun - 1e-6)
        pattern, room = [0] * len(kinds), capacity
        while room > 0:
            if taken[room] < 0:
                room -= 1
            else:
                pattern[taken[room]] += 1
                room -= kinds[taken[room]]
        patterns.append(pattern)


def test_the_gabled_houses_channel_takes_at_most_one_bar_more_than_there_must_be() -> None:
    found = planned(SAMPLE)
    (channel,) = [trim for trim in trims(found) if trim.kind == "channel"]
    assert len(channel.cutting.pieces) > 80
    assert len(channel.cutting.bars) <= least_bars(channel.cutting, 1) + 1


@pytest.mark.long
@pytest.mark.parametrize("seed", [2, 7, 13])
def test_a_small_heap_costs_few_bars_of_trim_above_the_programme(seed: int) -> None:
    """The programme may keep every end and cut in any order; no bound is above its value."""
    found = planned(seed)
    for trim in trims(found):
        if len(trim.cutting.bars) > trim.cutting.bound:
            least = least_bars(trim.cutting, found.job.inch)
            assert trim.cutting.bound <= least
            assert len(trim.cutting.bars) <= least * 1.08 + 1
