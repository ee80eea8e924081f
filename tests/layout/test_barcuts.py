"""Straight lengths cut from bars, by hand and against CP-SAT."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout.order.bar_cuts import cut_straight, pack, split


def test_what_fits_a_bar_is_one_piece_and_what_does_not_begins_with_whole_lengths() -> None:
    assert split(150, 150, 1, 12) == (150,)
    # By hand: 38 ft in lengths of 12 ft 6 in, butted: 456 = 150 + 150 + 150 + 6; 6 is too short for a last
    # piece, so the third gives 6 of its own.
    assert split(456, 150, 0, 12) == (150, 150, 144, 12)
    # A post of 220-1/2 in from 10 ft with a lap of 3/4: 120 + 101-1/4 - 3/4 = 220-1/2.
    assert split(220.5, 120, 0.75, 24) == (120, 101.25)


def test_an_offcut_serves_the_next_run() -> None:
    # 100 + 40 and 90 + 60 fill two bars of 150 where each alone would take its own.
    plan = cut_straight([100, 90, 60, 40], 150, lap=0, kerf=0, shortest=12, scale=16)
    assert [[plan.pieces[i].length for i in bar] for bar in plan.bars] == [[100, 40], [90, 60]]
    assert (len(plan.bars), plan.bound, plan.left_over(0), plan.left_over(1)) == (2, 2, 10, 0)


def test_the_saw_takes_its_kerf_at_every_cut_but_not_at_the_end_of_the_bar() -> None:
    halves = [96, 96]
    assert len(cut_straight(halves, 192, lap=0, kerf=0.125, shortest=12, scale=16).bars) == 2
    assert len(cut_straight(halves, 192.125, lap=0, kerf=0.125, shortest=12, scale=16).bars) == 1
    assert len(cut_straight([192], 192, lap=0, kerf=0.125, shortest=12, scale=16).bars) == 1


def test_longest_first_is_not_enough() -> None:
    # By hand: 7 + 5, 6 + 3 + 3 and 5 + 4 + 3 fill three bars of 12. Longest first cuts 7 + 5, 6 + 5 and
    # 4 + 3 + 3, and takes a fourth for the last 3.
    bins, bound = pack([7, 6, 5, 5, 4, 3, 3, 3], 12)
    assert (len(bins), bound) == (3, 3)
    assert sorted(i for members in bins for i in members) == list(range(8))


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.lists(st.integers(1, 60), max_size=40), st.integers(60, 100))
def test_every_size_is_in_one_bin_and_no_bin_overflows(sizes: list[int], capacity: int) -> None:
    bins, bound = pack(sizes, capacity)
    assert sorted(i for members in bins for i in members) == list(range(len(sizes)))
    assert all(sum(sizes[i] for i in members) <= capacity for members in bins)
    assert bound <= len(bins)


@pytest.mark.parametrize("seed", range(12))
def test_small_lists_take_the_fewest_bars_that_cp_sat_finds(seed: int) -> None:
    from ortools.sat.python import cp_model

    chance = random.Random(f"bars {seed}")
    capacity = 150
    sizes = [chance.randrange(20, 110) for _ in range(chance.randrange(6, 15))]
    bins, bound = pack(sizes, capacity)
    model = cp_model.CpModel()
    most = len(bins)
    used = [model.new_bool_var("") for _ in range(most)]
    places = [[model.new_bool_var("") for _ in range(most)] for _ in sizes]
    for row in places:
        model.add_exactly_one(row)
    for bin_ in range(most):
        model.add(
            sum(size * row[bin_] for size, row in zip(sizes, places, strict=True)) <= capacity * used[bin_]
        )
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    assert len(bins) == bound == round(solver.objective_value)
