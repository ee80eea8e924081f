"""The brute-force facts behind what is said of edges that were given up, by hand and against plain steps."""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.oracles.coursewalls import cladding
from tests.oracles.everyanswer import Everything
from tests.oracles.lapwalls import LapWall, candidates, edge, objective, plain_answers, small_wall, whole
from tests.oracles.reasons import can_be_flush, can_both_be_flush, given_up, loss, lost

BOARDS = cladding("lap", 6.0, 7.0, 7.0)


def test_a_head_out_of_reach_by_hand() -> None:
    """From 0, 10 in: two courses are at most 14 and at least 12, one is at most 7."""
    wall = LapWall(BOARDS, (edge("head", 10.0), edge("head", 42.0)), (0.0,), 42.0)
    assert not can_be_flush(wall, 0)
    assert can_be_flush(wall, 1)
    assert not can_both_be_flush(wall, 0, 1)


def test_heads_3_in_apart_cannot_both_be_met_by_hand() -> None:
    """42 is six of 7, 45 is seven of 6-3/7; but from 42 to 45 no course fits. The must is kept."""
    wall = LapWall(BOARDS, (edge("head", 42.0, "must"), edge("head", 45.0)), (0.0,), 70.0)
    assert can_be_flush(wall, 0)
    assert can_be_flush(wall, 1)
    assert not can_both_be_flush(wall, 0, 1)
    chosen = Everything(wall).best()[0][1]
    assert given_up(wall, chosen) == [1]
    cost = loss(wall, 1, chosen)
    assert cost is not None
    assert cost.decides == "missed musts"
    assert not cost.same_musts


def test_heads_3_16_apart_are_both_met_on_a_mark_between_by_hand() -> None:
    """42-1/16 is seven of 6-1/112: flush with 42 and with 42-3/16. Six of 7-1/96 are too wide."""
    wall = LapWall(BOARDS, (edge("head", 42.0), edge("head", 42.1875)), (0.0,), 42.1875)
    assert can_both_be_flush(wall, 0, 1)
    assert given_up(wall, Everything(wall).best()[0][1]) == []


@pytest.mark.parametrize("seed", [s for s in range(90) if len(candidates(small_wall(s), 1 / 16)) <= 9])
def test_facts_are_those_of_every_answer_in_plain_steps(seed: int) -> None:
    wall = small_wall(seed)
    chosen = Everything(wall).best()[0][1]
    best = objective(wall, chosen)
    every = list(plain_answers(wall, wall.mark))
    places = [i for i, target in enumerate(wall.targets) if target.importance != "ignore"]
    meets = {butts: {i for i in places if _flush(wall, i, butts)} for butts in every}
    terms = {butts: objective(wall, butts) for butts in every}
    for i in places:
        with_it = [butts for butts in every if i in meets[butts]]
        assert can_be_flush(wall, i) == bool(with_it)
        cost = loss(wall, i, chosen)
        assert (cost is None) == (not with_it)
        if cost is not None:
            assert cost.same_musts == any(terms[b][1] <= best[1] for b in with_it)
            assert cost.no_wider == any(terms[b][1:3] <= best[1:3] for b in with_it)
            assert cost.no_more_slivers == any(terms[b][1:4] <= best[1:4] for b in with_it)
            assert cost.as_much_flush == any(terms[b][1:5] <= best[1:5] for b in with_it)
    for i, j in combinations(places, 2):
        assert can_both_be_flush(wall, i, j) == any({i, j} <= meets[butts] for butts in every)


def _flush(wall: LapWall, place: int, butts: tuple[float, ...]) -> bool:
    """Met, not passed: an edge under the starter is neither lost nor flush."""
    target = wall.targets[place]
    if target.kind == "base":
        return whole(wall.siding, target.height, butts) is not None
    return target.height > butts[0] + 1e-7 and not lost(wall, place, butts)
