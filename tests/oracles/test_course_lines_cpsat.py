"""Course lines against CP-SAT (OR-Tools), a general constraint solver, on the same objective."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from coursecpsat import solve_cpsat
from coursewalls import objective, random_wall, solve


@pytest.mark.parametrize("seed", range(300, 325))
def test_laps_equal_a_constraint_solver(seed: int) -> None:
    wall = random_wall(seed, "lap")
    starter, stack, _ = solve(wall)[0]
    found = objective(wall, starter, stack)
    best = solve_cpsat(wall)
    assert found[:2] == best[:2]
    assert found[3:5] == best[3:5]
    assert found[6] == best[6]
    assert all(abs(mine - theirs) <= 40 for mine, theirs in zip(found[:6], best[:6], strict=True))
