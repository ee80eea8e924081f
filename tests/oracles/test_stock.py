"""Seams and stock of small walls against CP-SAT: no plan is better by a bar and its seams."""

from __future__ import annotations

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.pieces.all_pieces import pieces
from tests.oracles.stockcpsat import can_be_done, small_runs, small_wall

#: Walls that the model decides in a few seconds: those left out take it minutes, or are not decided at all.
WALLS = [("panel", seed) for seed in (*range(54), 56, 67, 159)]
WALLS += [("lap", seed) for seed in range(34) if seed not in {0, 2, 6, 20, 22}]


@pytest.mark.parametrize(("family", "seed"), WALLS)
def test_no_plan_of_a_small_wall_spares_a_bar_for_fewer_seams_than_it_is_worth(
    family: str, seed: int
) -> None:
    wall = small_wall(seed, family)
    made = pieces(plan(wall))
    bars = len(made.stock["main"].bars)
    assert not made.faces[0].gave_way
    if bars > made.stock["main"].length_bound:
        # A length is worth six seams: common practice, no source.
        most = len(made.faces[0].seams) + 5
        length = wall.claddings["main"].length
        assert can_be_done(small_runs(wall), bars - 1, length, family, most) is False


def test_the_model_finds_the_panels_that_are_needed() -> None:
    """The other way round: with as many bars as the plan uses, the model says yes."""
    wall = small_wall(0)
    siding = wall.claddings["main"]
    bars = len(pieces(plan(wall)).stock["main"].bars)
    assert can_be_done(small_runs(wall), bars, siding.length) is True
