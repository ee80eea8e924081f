"""Straight lengths cut from bars, by hand and against CP-SAT."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout.order.bar_cuts import cut_straight, split


def test_what_fits_a_bar_is_one_piece_and_what_does_not_begins_with_whole_lengths() -> None:
    assert split(150, 150, 1, 12) == (150,)
    # By hand: 38 ft in lengths of 12 ft 6 in, butted: 456 = 150 + 150 + 150 + 6; 6 is too short for a last
    # piece, so the third gives 6 of its own.
    assert split(456, 150, 0, 12) == (150, 150, 144, 12)
    # A post of 220-1/2 in from 10 ft with a lap of 3/4: 120 + 101-1/4 - 3/4 = 220-1/2.
    assert split(220.5, 120, 0.75, 24) == (120, 101.25)


def test_an_offcut_serves_the_next_run() -> None:
    # 100 + 40 and 90 + 60 fill two bars of 150 where each alone would take its own.
    plan = cut_straight([100, 90, 60, 40], 150, lap=0, kerf=0, shortest=12, scale=16, heap=8)
    assert [[plan.pieces[i].length for i in bar] for bar in plan.bars] == [[100, 40], [90, 60]]
    assert (len(plan.bars), plan.bound, plan.left_over(0), plan.left_over(1)) == (2, 2, 10, 0)


def test_the_saw_takes_its_kerf_at_every_cut_but_not_at_the_end_of_the_bar() -> None:
    halves = [96, 96]
    assert len(cut_straight(halves, 192, lap=0, kerf=0.125, shortest=12, scale=16, heap=8).bars) == 2
    assert len(cut_straight(halves, 192.125, lap=0, kerf=0.125, shortest=12, scale=16, heap=8).bars) == 1
    assert len(cut_straight([192], 192, lap=0, kerf=0.125, shortest=12, scale=16, heap=8).bars) == 1


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(st.integers(1, 90), max_size=30), st.integers(0, 4))
def test_every_piece_is_cut_once_and_no_more_ends_wait_than_the_heap_holds(
    lengths: list[int], heap: int
) -> None:
    plan = cut_straight(lengths, 90, lap=0, kerf=1, shortest=12, scale=16, heap=heap)
    assert sorted(i for bar in plan.bars for i in bar) == list(range(len(lengths)))
    assert all(sum(plan.pieces[i].length + 1 for i in bar) <= 91 for bar in plan.bars)
    assert plan.bound <= len(plan.bars)
    # From a bar's first piece to its last one its end waits: fixed in the order of the list.
    waits = [sum(bar[0] <= at < bar[-1] for bar in plan.bars) for at in range(len(lengths))]
    assert max(waits, default=0) <= heap


@pytest.mark.parametrize("seed", range(12))
def test_small_lists_take_at_most_one_bar_more_than_cp_sat_finds(seed: int) -> None:
    """CP-SAT packs them in any order; eight ends may wait here."""
    from ortools.sat.python import cp_model

    chance = random.Random(f"bars {seed}")
    sizes = [chance.randrange(20, 110) for _ in range(chance.randrange(6, 15))]
    plan = cut_straight(sizes, 150, lap=0, kerf=0, shortest=12, scale=16, heap=8)
    model = cp_model.CpModel()
    most = len(plan.bars)
    used = [model.new_bool_var("") for _ in range(most)]
    places = [[model.new_bool_var("") for _ in range(most)] for _ in sizes]
    for row in places:
        model.add_exactly_one(row)
    for bar in range(most):
        model.add(sum(size * row[bar] for size, row in zip(sizes, places, strict=True)) <= 150 * used[bar])
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    assert plan.bound <= round(solver.objective_value) and most <= solver.objective_value + 1
