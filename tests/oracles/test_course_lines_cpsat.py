"""Lapped course lines against CP-SAT (OR-Tools), a general constraint solver, over ties on marks."""

from __future__ import annotations

import pytest

from tests.oracles.coursecpsat import solve_cpsat
from tests.oracles.everyanswer import Everything
from tests.oracles.lapwalls import LapWall, objective, rank, small_wall, solver_answers, told, wide_wall


def the_same_optimum(wall: LapWall) -> None:
    butts = next(solver_answers(wall))
    best = solve_cpsat(wall)
    assert rank(objective(wall, butts)[:6], best) == 0, f"{told(wall, butts)}\nCP-SAT: {best}"


@pytest.mark.parametrize("seed", range(300, 306))
def test_laps_equal_a_constraint_solver(seed: int) -> None:
    the_same_optimum(small_wall(seed))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(50))
def test_laps_of_five_to_ten_edges_equal_a_constraint_solver(seed: int) -> None:
    the_same_optimum(wide_wall(seed))


@pytest.mark.parametrize("seed", range(310, 316))
def test_the_constraint_solver_and_brute_force_agree(seed: int) -> None:
    wall = small_wall(seed)
    assert rank(Everything(wall).best()[0][0][:6], solve_cpsat(wall)) == 0
