"""The courses above what hangs, against brute force: every chain of ties on marks, every number of courses.

What hangs may have crept beyond what the siding allows. Answers and objective come from
``tests.oracles.lapwalls``, which shares nothing with the solver.
"""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import accumulate

import pytest

from evencourse.layout.courses.course_sets import Question
from evencourse.layout.courses.starter_line import StarterRange
from tests.oracles.lapwalls import LapWall, candidates, edge, objective, plain_answers, rank, small_wall, told


def hung_wall(seed: int) -> tuple[LapWall, tuple[float, ...]]:
    """A wall with edges above what hangs alone, and one to five lines that hang, laps off by 3/4."""
    for more in range(1000):
        chance = random.Random(f"hung {seed} {more}")
        wall = small_wall(1000 * seed + more)
        siding = wall.siding
        laps = [siding.exposure_min, siding.exposure, siding.exposure_max]
        crept = [0, 0, -0.75, -0.25, -1 / 16, 1 / 16, 1 / 8, 0.3, 0.75]
        steps = [chance.choice(laps) + chance.choice(crept) for _ in range(chance.randrange(5))]
        steps = steps if chance.random() < 0.5 else steps[:1] * len(steps)
        hung = tuple(accumulate(steps, initial=wall.starters[0]))
        last = round(16 * hung[-1]) / 16
        hung = (*hung[:-1], last)
        targets = tuple(one for one in wall.targets if one.height > last + 0.01)
        wall = replace(wall, targets=targets, starters=(last,), top=max(wall.top, last + 20))
        if targets and len(candidates(wall, wall.mark)) <= 9 and wall.top - last < 70:
            return wall, hung
    raise AssertionError("no such wall")


def asked_of(wall: LapWall, hung: tuple[float, ...]) -> Question:
    """The same wall as the planner asks for the rest of it."""
    allowed = StarterRange(hung[0], hung[0], None)
    return Question("main", wall.siding, wall.book, wall.targets, wall.top, allowed, wall.mark, hung)


@pytest.mark.parametrize("seed", range(120))
def test_the_rest_is_the_best_that_can_still_be_hung(seed: int) -> None:
    wall, hung = hung_wall(seed)
    best = min(objective(wall, (*hung[:-1], *butts)) for butts in plain_answers(wall, wall.mark))
    starter, bands, butts = next(asked_of(wall, hung).answers())
    assert butts[: len(hung)] == hung
    assert starter == hung[0]
    assert sum(band.courses for band in bands) == len(butts) - 1
    assert rank(objective(wall, butts), best) == 0, told(wall, butts)


def test_the_jump_from_what_hangs_decides_between_equal_answers() -> None:
    """By hand: 42 in to a head, 5-1/4 to 7 in may show: 6 courses of 7 or 7 of 6. Over a course of 6-1/8
    seven of 6 jump by less than one sees; over one of 7 six of 7 do not jump at all.
    """
    wall, _ = hung_wall(1)
    siding = replace(wall.siding, exposure_min=5.25, exposure=6.5, exposure_max=7.0)
    wall = replace(wall, siding=siding, targets=(edge("head", 52.0),), starters=(10.0,), top=52.0)
    for below, exposure in ((6.125, 6.0), (7.0, 7.0)):
        _, bands, _ = next(asked_of(wall, (10 - below, 10.0)).answers())
        assert bands[-1].exposure == exposure


def test_a_base_that_course_1_hangs_over_is_so_when_course_1_hangs_by_hand() -> None:
    """Courses of 3-1/4 to 5 in, nominal 4; course 1 hangs at 10, a base lies 3 in above it, a head 28 in.

    Seven of 4 meet the head. They cut nothing: course 1 hangs over the base, though only 1 in lies above.
    """
    wall, _ = hung_wall(1)
    siding = replace(
        wall.siding, exposure_min=3.25, exposure=4.0, exposure_max=5.0, starter_drop=0.0, cover=1.0
    )
    edges = (edge("base", 13.0), edge("head", 38.0))
    wall = replace(wall, siding=siding, targets=edges, starters=(10.0,), top=40.0)
    _, bands, butts = next(asked_of(wall, (10.0,)).answers())
    assert [(band.courses, band.exposure) for band in bands] == [(8, 4.0)]
    assert objective(wall, butts)[3] == 0
