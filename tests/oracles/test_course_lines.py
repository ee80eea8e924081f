"""Course lines of panels against brute force over every mark: one unknown, each mark scored by its lines."""

from __future__ import annotations

from math import ceil

import pytest

from evencourse.layout.solver.panels import panel_lines
from evencourse.layout.solver.score import columns
from tests.oracles.coursewalls import random_wall
from tests.oracles.lapwalls import LapWall, objective


@pytest.mark.parametrize("seed", range(200))
def test_panels_equal_brute_force_over_every_mark(seed: int) -> None:
    made = random_wall(seed, "panel")
    wall = LapWall(made.siding, made.targets, made.starters, made.top)
    exposure, scores = wall.siding.exposure, {}
    for starter in wall.starters:
        courses = max(1, ceil((wall.top - wall.tolerance - starter) / exposure - 1e-9))
        scores[starter] = objective(wall, [starter + exposure * k for k in range(courses + 1)])
    answers = list(panel_lines(wall.book, columns(wall.targets), wall.starters, wall.top))
    # panels have one exposure: no two marks can differ in bands or in the distance from the nominal one
    assert [scores[answer[0]] for answer in answers] == sorted(scores.values())
