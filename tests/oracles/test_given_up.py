"""What is said of edges that are not met, against brute force over every answer of small walls."""

from __future__ import annotations

import pytest

from evencourse.layout.courses.course_sets import Question
from evencourse.layout.courses.edge_reasons import unmet
from evencourse.layout.courses.starter_line import StarterRange
from evencourse.layout.solver.targets import Target
from tests.oracles.lapwalls import objective, rank, small_wall, told
from tests.oracles.reasons import can_both_be_flush, given_up, lines_that_meet, lost


def every_reason(seed: int) -> None:
    """No lines meet it only if no answer does; else the best that do; apart only if no answer has both."""
    wall = small_wall(seed)
    allowed = StarterRange(wall.starters[0], wall.starters[-1], None)
    asked = Question("main", wall.siding, wall.book, wall.targets, wall.top, allowed, wall.mark)
    assert tuple(asked.marks()) == wall.starters
    lines = asked.lines(next(asked.answers()), 0.0)
    places = given_up(wall, lines.butt_lines)
    here = {place: _where(wall.targets[place]) for place in places}
    reasons = {(reason.height, reason.base): reason for reason in unmet(asked, lines)}
    assert set(reasons) == set(here.values())
    for place in places:
        target = wall.targets[place]
        reason, meet = reasons[here[place]], lines_that_meet(wall, place)
        where = f"{told(wall, lines.butt_lines)}\n{target.kind} {target.height}: {reason}"
        assert (reason.instead is None) == (meet is None), where
        if reason.instead is None or meet is None:
            continue
        others = [other for other in places if here[other] == here[place]]
        if len(others) == 1:
            assert rank(objective(wall, reason.instead.butt_lines), meet[0]) == 0, f"{where}\nbest {meet}"
        for one in reason.lost:
            there = [
                other
                for other, edge in enumerate(wall.targets)
                if (edge.kind, edge.height, edge.importance) == (one.edge, one.height, one.importance)
            ]
            assert all(lost(wall, other, reason.instead.butt_lines) for other in there), where
            if one.apart:
                assert not can_both_be_flush(wall, place, there[0]), where


def _where(target: Target) -> tuple[float, bool]:
    """Edges of one reason: those at one height, bases apart, since other lines meet them."""
    return target.height, target.kind == "base"


@pytest.mark.parametrize("seed", range(25))
def test_what_is_said_of_edges_that_are_not_met_is_so(seed: int) -> None:
    every_reason(seed)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(25, 300))
def test_what_is_said_of_edges_that_are_not_met_is_so_on_more_walls(seed: int) -> None:
    every_reason(seed)
