"""Course lines against CP-SAT (OR-Tools), a general constraint solver, on the same objective."""

from __future__ import annotations

import pytest

from tests.oracles.coursecpsat import solve_cpsat
from tests.oracles.coursewalls import objective, random_wall, solve


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
