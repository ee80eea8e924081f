"""Course lines against brute force: every mark, every subset of ties, every number of courses."""

from __future__ import annotations

from itertools import pairwise
from math import ceil

import pytest

from tests.oracles.coursewalls import Wall, close, objective, pile, random_wall, solve, stacks, tall_wall


@pytest.mark.parametrize("seed", range(200))
def test_laps_equal_brute_force_over_every_subset_of_ties_and_count(seed: int) -> None:
    wall = random_wall(seed, "lap")
    best = min(objective(wall, starter, stack) for starter, stack in stacks(wall))
    starter, _, butts = solve(wall)[0]
    found = objective(wall, starter, [(1, b - a, b) for a, b in pairwise(butts)])
    assert close(found, best)


@pytest.mark.parametrize("seed", range(200))
def test_laps_of_tall_walls_equal_brute_force(seed: int) -> None:
    wall = tall_wall(seed)
    best = min(objective(wall, starter, stack) for starter, stack in stacks(wall))
    starter, stack, _ = solve(wall)[0]
    assert close(objective(wall, starter, stack), best)


@pytest.mark.parametrize("seed", range(200))
def test_panels_equal_brute_force_over_every_mark(seed: int) -> None:
    wall = random_wall(seed, "panel")
    exposure = wall.siding.exposure
    scores = {
        starter: objective(wall, starter, [(ceil((wall.top - starter) / exposure - 1e-9), exposure, None)])
        for starter in wall.starters
    }
    answers = solve(wall)
    assert scores[answers[0][0]] == min(scores.values())
    assert [scores[answer[0]] for answer in answers] == sorted(scores.values())


@pytest.mark.parametrize(
    "wall", [*(random_wall(seed, "lap") for seed in range(150)), *(tall_wall(seed) for seed in range(150))]
)
def test_the_second_answer_for_laps_is_the_second_best_of_all(wall: Wall) -> None:
    everything: dict[tuple[float, ...], tuple[int, ...]] = {}
    for starter, stack in stacks(wall):
        butts = tuple(round(butt, 6) for butt in pile(starter, stack))
        value = objective(wall, starter, stack)
        everything[butts] = min(value, everything.get(butts, value))
    ranked = sorted(everything.values())
    answers = {}
    for starter, stack, butts in solve(wall):
        answers.setdefault(tuple(round(butt, 6) for butt in butts), objective(wall, starter, stack))
    found = list(answers.values())
    for mine, best in zip(found[:2], ranked[:2], strict=True):
        assert close(mine, best)
