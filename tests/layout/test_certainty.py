"""How sure a plan is: worked by hand."""

from __future__ import annotations

from dataclasses import replace

from evencourse.cli.reports.certainty_report import decided_words
from evencourse.layout.courses.certainty import SureEdge, Worst, certainty, robust_starters
from evencourse.layout.courses.planner import plan
from evencourse.layout.model.job import Job
from evencourse.layout.results.plan_file import plan_dict
from tests.layout.walls import Elevation, job, rectangle, window


def wall(*heads: float, tolerance: float = 0.125, starter: tuple[float, float] = (-1.0, -1.0)) -> Job:
    """Windows 40 in high whose sills lie half a course from any line; courses of 8 in."""
    openings = tuple(
        window(chr(65 + n), 30 + 60 * n, head - 44, 36, 44, sill_edge="ignore")
        for n, head in enumerate(heads)
    )
    face = Elevation("Front", rectangle(300, 0, 95), openings=openings)
    return job(face, starter=starter, tolerance=tolerance)


def found(wanted: Job, error: float, mark: str, edge: str) -> SureEdge:
    edges = certainty(plan(wanted), error).edges
    return next(one for one in edges if (one.opening, one.edge) == (mark, edge))


def test_a_head_on_a_line_stays_flush_while_twice_the_error_is_within_the_tolerance() -> None:
    """By hand: lines at -1 + 8 k; the head at 79 lies on line 11. Off by 1/16 and the datum by 1/16 more it
    lies 1/8 off at most: within the tolerance of 1/8.
    """
    head = found(wall(79), 1 / 16, "A", "head")
    assert head.results == ("flush",)
    assert head.sure


def test_a_head_on_a_line_can_leave_a_sliver_above_or_a_notch_when_the_error_is_greater() -> None:
    """By hand: off by 1/8 + 1/8. 1/4 above line 11 it leaves 7-3/4 in of course 11, a notch; 1/4 below line
    11 it leaves 1/4 in of course 10, a sliver.
    """
    head = found(wall(79), 1 / 8, "A", "head")
    assert head.results == ("flush", "notch", "sliver")
    assert not head.sure


def test_a_head_in_the_middle_of_a_course_is_a_notch_whatever_happens() -> None:
    """By hand: 75 lies 4 in above line 10 at 71; 1/4 in off it is still 3-3/4 from any line."""
    assert found(wall(75), 1 / 8, "A", "head").results == ("notch",)


def test_a_strip_at_its_least_can_become_a_sliver_but_never_flush() -> None:
    """By hand: a head at 77-1/2 leaves 1-1/2 in below line 11 at 79: a notch, 1/64 in higher a sliver."""
    head = found(wall(77.5), 1 / 128, "A", "head")
    assert head.result == "notch"
    assert head.results == ("notch", "sliver")


def test_without_an_error_everything_is_as_planned() -> None:
    planned = plan(wall(79, 75, 77.6))
    sure = certainty(planned, 0.0)
    assert [(one.result,) for one in sure.edges] == [one.results for one in sure.edges]
    assert all(one.sure for one in sure.edges)
    score = planned.course_sets["main"].lines.score
    worst = sure.worst["main"]
    assert (worst.flush, worst.slivers, worst.flush_weight) == (
        score.flush,
        score.slivers,
        score.flush_weight,
    )


def test_an_edge_just_above_the_starter_can_fall_below_it() -> None:
    """By hand: a head at -15/16 lies 1/16 above the starter at -1; off by 1/8 it lies from 1/16 below it,
    where nothing is cut, to 3/16 above, where the line misses it by more than 1/8.
    """
    low = wall(-15 / 16)
    head = found(low, 1 / 16, "A", "head")
    assert head.may_be_passed
    assert head.results == ("flush", "notch")
    assert not head.sure


def test_the_robust_starter_lies_in_the_middle_of_the_good_spot() -> None:
    """By hand: heads at 79 and 79-1/4, tolerance 1/4. From -1 to -3/4 both are flush as planned, and near
    misses add up to 1/4 everywhere: the plan takes the lowest. Off by 1/16 + 1/16, both stay flush only from
    -7/8, where each line lies 1/8 from its head. The eave at 95 is within 1/4 of line 13 at 95-1/8 as well.
    """
    wanted = wall(79, 79.25, tolerance=0.25, starter=(-1.5, -0.25))
    assert plan(wanted).course_sets["main"].lines.starter == -1.0
    assert robust_starters(wanted, 1 / 16) == {"main": -0.875}
    worst = certainty(plan(wanted, robust_starters(wanted, 1 / 16)), 1 / 16).worst["main"]
    assert (worst.flush, worst.slivers) == (3, 0)


def test_a_lucky_extra_edge_is_given_up_for_those_that_are_sure() -> None:
    """By hand: heads at 79, 79 and, only just within the tolerance of 1/8 with them, 79-1/4. As planned -7/8
    meets all three. Off by 1/32 + 1/32, -7/8 is sure of none; -1 + 1/16 is sure of the two at 79, and of the
    eave at 95, and has lost the third.
    """
    wanted = wall(79, 79, 79.25, starter=(-1.5, -0.25))
    assert plan(wanted).course_sets["main"].lines.score.flush == 4
    assert plan(wanted).course_sets["main"].lines.starter == -0.875
    chosen = robust_starters(wanted, 1 / 32)["main"]
    worst = certainty(plan(wanted, {"main": chosen}), 1 / 32).worst["main"]
    assert -1.0625 <= chosen <= -0.9375
    assert worst.flush == 3


def test_a_sliver_that_an_error_can_make_counts_more_than_edges_that_are_not_sure() -> None:
    """By hand: courses of 8 in, errors of 1/8 + 1/8, tolerance 1/8. From -1 head and eave lie on lines 11 and
    13, but neither is sure: off by up to 1/4, low the head or high the eave leaves a sliver; not both, since
    the datum errs the same way for the two. No sliver is left where the eave lies at least 1-1/2 + 1/4 above
    line 13: from -2-3/4 down, where nothing is flush; of those alike the best as planned is taken.
    The base at 0 is covered by 1 in, give or take 1/4: whole for sure, a weight of 4.
    """
    wanted = wall(79, starter=(-3.0, -0.5))
    assert plan(wanted).course_sets["main"].lines.starter == -1.0
    found = certainty(plan(wanted), 1 / 8).worst["main"]
    assert (found.slivers, found.flush_weight) == (1, 4)
    chosen = robust_starters(wanted, 1 / 8)["main"]
    held = certainty(plan(wanted, {"main": chosen}), 1 / 8, plan(wanted))
    assert chosen <= -2.75
    assert held.worst["main"].slivers == 0
    assert held.robust == {"main"}
    words = decided_words(held.worst["main"], held.passed_over["main"].worst)
    assert words == "at worst 0 slivers instead of 1"


def test_what_decides_is_the_first_figure_that_differs() -> None:
    better, other = Worst(1, 2, 4.0, 1), Worst(2, 0, 9.0, 3)
    assert decided_words(better, other) == "at worst 1 must-meet edge missed instead of 2"
    assert decided_words(better, replace(better, slivers=3, flush_weight=9)) == (
        "at worst 2 slivers instead of 3"
    )
    assert decided_words(better, replace(better, flush_weight=2)) == (
        "weight sure to stay flush, 4 instead of 2"
    )


def test_the_plan_file_carries_what_was_told() -> None:
    planned = plan(wall(79))
    sure = certainty(planned, 1 / 8)
    told = plan_dict(planned, sure=sure)["certainty"]
    assert told["error"] == 0.125
    assert told["worst"]["main"]["sliver"] == sure.worst["main"].slivers
    head = next(edge for edge in told["edges"] if edge["edge"] == "head")
    assert (head["face"], head["opening"], head["result"]) == ("Front", "A", "flush")
    assert head["results"] == ["flush", "notch", "sliver"]
    assert "certainty" not in plan_dict(planned)


def test_an_error_of_the_datum_between_two_others_can_be_the_worst() -> None:
    """By hand: heads 5/64 above and 5/64 below line 11, tolerance 1/8, errors of 1/16. The upper one is lost
    where the datum errs by more than -1/64 (5/64 + 1/16 - 1/64 = 1/8), the lower one by less than 1/64: at
    either of these one of them still holds, between them neither. The eave at 95 holds up to 1/16 + 1/16.
    """
    wanted = wall(79 + 5 / 64, 79 - 5 / 64)
    worst = certainty(plan(wanted), 1 / 16).worst["main"]
    assert worst.flush == 1
