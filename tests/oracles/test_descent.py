"""Lapped course lines of real-sized houses against descents from random starts."""

from __future__ import annotations

from functools import cache
from itertools import islice

import pytest

from evencourse.layout.courses.course_sets import Question
from tests.oracles.descent import descend, many_objectives
from tests.oracles.lappedhouses import chosen_lines, lapped_sets, wall_of
from tests.oracles.lapwalls import objective, rank, small_wall, solver_answers, told


@cache
def sets() -> list[tuple[int, Question]]:
    """Seeds of houses, and what is asked of one of their course sets."""
    return [(seed, asked) for seed, _, asked in islice(lapped_sets(), 30)]


def nothing_better(seed: int, asked: Question, starts: int) -> None:
    """A fifth of the starts are the chosen lines with up to four moves made; the others are random."""
    wall, lines = wall_of(asked), chosen_lines(asked)
    mine = objective(wall, lines)
    found = descend(wall, starts, seed, given=[lines])
    assert objective(wall, found.butts) == found.terms
    assert rank(found.terms, mine) >= 0, f"{told(wall, lines)}\nbetter:\n{told(wall, found.butts)}"


@pytest.mark.parametrize("seed", range(20))
def test_many_answers_are_counted_as_one_is(seed: int) -> None:
    wall = small_wall(seed)
    answers = list(islice(solver_answers(wall), 30))
    assert [tuple(row) for row in many_objectives(wall, answers)] == [objective(wall, b) for b in answers]


@pytest.mark.long
@pytest.mark.parametrize("number", range(2))
def test_forty_starts_come_down_to_nothing_better(number: int) -> None:
    nothing_better(*sets()[number], 40)


@pytest.mark.long
@pytest.mark.parametrize("number", range(30))
def test_a_thousand_starts_come_down_to_nothing_better(number: int) -> None:
    nothing_better(*sets()[number], 1000)
