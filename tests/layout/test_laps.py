"""Which of several ways to meet the same edges is taken, worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.solver.lap_bands import ties
from evencourse.layout.solver.score import columns, lone_bands, rulebook
from evencourse.layout.solver.targets import Target
from evencourse.layout.trade.profiles import build_cladding
from evencourse.layout.trade.rules import rules
from tests.layout.walls import LAP, Elevation, job, rectangle, window

#: Boards that show 5 to 7 in, best 6-1/2.
BOARDS = replace(LAP, exposure_min=5, exposure=6.5, exposure_max=7)

#: Boards that may show anything: every height is reached.
FREE = replace(LAP, exposure_min=1, exposure=6.5, exposure_max=12)


def bands(
    *windows: object, top: float, jump: float = 2, tolerance: float = 1 / 32
) -> list[tuple[int, float]]:
    face = Elevation("Front", rectangle(240, 0, top), openings=windows)  # type: ignore[arg-type]
    found = (
        plan(job(face, cladding=BOARDS, starter=(0, 0), jump=jump, tolerance=tolerance))
        .course_sets["main"]
        .lines
    )
    return [(band.courses, pytest.approx(band.exposure)) for band in found.bands]


def test_of_ways_with_equal_jumps_the_one_nearest_the_nominal_exposure_is_taken() -> None:
    # A sill at 5 takes one course of 5, and a head at 72 over one at 65 one course of 7. Between them 60 in
    # take 9 courses of 6-2/3, 10 of 6 or 11 of 5-5/11: all rise from 5 to 7 in two steps, so their jumps add
    # up to the same 2 - 2 x 1/8. Off the nominal 6-1/2 they are 9 x 1/6 = 1-1/2, 10 x 1/2 = 5 and 11.5. The
    # same once more downwards, from the head at 72 to one at 132 and an eave at 137.
    low = window("A", 20, 5, 30, 60, head_edge="must", sill_edge="must")
    high = window("B", 80, 30, 30, 42, head_edge="must", sill_edge="ignore")
    upper = window("C", 140, 90, 30, 42, head_edge="must", sill_edge="ignore")
    assert bands(low, high, upper, top=137) == [(1, 5), (9, 60 / 9), (1, 7), (9, 60 / 9), (1, 5)]


@pytest.mark.parametrize(("eave", "layouts"), [(20, [(6, 12), (35 / 6, 35 / 3)]), (40, [(35 / 6, 35 / 3)])])
def test_a_rake_has_a_layout_over_the_exposure_of_every_band_that_meets_it(
    eave: float, layouts: list[tuple[float, float]]
) -> None:
    # At 5-1/2 to 7 in, 30 in to the sill are five courses of 6, 35 in to the head six of 5-5/6, which go on
    # to the peak. A rake climbs 6 in 12: over 6 it runs 12, over 5-5/6 it runs 11-2/3. From an eave at 20 it
    # passes both, from one at 40 the upper band alone.
    outline = ((0.0, 0.0), (240.0, 0.0), (240.0, eave), (120.0, eave + 60), (0.0, eave))
    middle = window("A", 105, 30, 30, 35, head_edge="must", sill_edge="must")
    gable = Elevation("Gable", outline, openings=(middle,))
    found = plan(job(gable, cladding=replace(BOARDS, exposure_min=5.5), starter=(0, 0)))
    left, right = found.elevations[0].rakes
    for rake in (left, right):
        assert rake.layouts == tuple(pytest.approx(one) for one in layouts)
        assert rake.run_per_exposure == pytest.approx(layouts[0][1])


def test_what_is_flush_with_the_starter_line_stands_beside_the_whole_first_course() -> None:
    # A sill 1/16 over the starter is flush with it. Heads at 5 and 11-1/2: a line 1/16 over the lower one
    # makes courses of 5-1/16 and 6-7/16, a change of 1-3/8: it shows less than 5 and 6-1/2, 1-1/2 apart.
    low = window("A", 20, 1 / 16, 30, 5 - 1 / 16, head_edge="must", sill_edge="want")
    high = window("B", 80, 6, 30, 5.5, head_edge="must", sill_edge="ignore")
    face = Elevation("Front", rectangle(240, 0, 20), openings=(low, high))
    found = plan(job(face, cladding=BOARDS, starter=(0, 0), jump=2, tolerance=1 / 16))
    assert [band.exposure for band in found.course_sets["main"].lines.bands] == [5.0625, 6.4375]
    (sill,) = [edge for edge in found.elevations[0].edges if (edge.opening, edge.edge) == ("A", "sill")]
    assert (sill.result, sill.strip) == ("flush", 5.0625)


def test_courses_that_run_on_over_the_last_tie_count_up_to_the_one_that_the_peak_cuts() -> None:
    # 60 in to a head: ten courses of 6 or nine of 6-2/3, which go on to a peak at 66.3 in. Two more of 6, the
    # second one cut, against one more of 6-2/3: off the nominal 6.302 they are 12 x 0.302 = 3.624 and
    # 10 x 0.3647 = 3.647.
    # Without the courses that the peak cuts it would be 3.322 against 3.282.
    outline = ((0.0, 0.0), (240.0, 0.0), (240.0, 20.0), (120.0, 66.3), (0.0, 20.0))
    slot = window("A", 115, 30, 10, 30, head_edge="must", sill_edge="ignore")
    boards = replace(BOARDS, exposure=6.302)
    found = plan(job(Elevation("Gable", outline, openings=(slot,)), cladding=boards, starter=(0, 0)))
    assert [(band.courses, band.exposure) for band in found.course_sets["main"].lines.bands] == [(12, 6)]


def test_an_exposure_that_comes_twice_along_a_rake_has_one_layout() -> None:
    # heads at 5, 65, 72 and 132 as above: 6-2/3 comes below the course of 7 and over it again
    outline = ((0.0, 0.0), (240.0, 0.0), (240.0, 2.0), (120.0, 137.0), (0.0, 2.0))
    low = window("A", 115, 5, 3, 60, head_edge="must", sill_edge="must")
    high = window("B", 119, 30, 3, 42, head_edge="must", sill_edge="ignore")
    upper = window("C", 123, 90, 1, 42, head_edge="must", sill_edge="ignore")
    gable = Elevation("Gable", outline, openings=(low, high, upper))
    found = plan(job(gable, cladding=BOARDS, starter=(0, 0), jump=2, tolerance=1 / 32))
    exposures = [band.exposure for band in found.course_sets["main"].lines.bands]
    assert len(exposures) > len({round(exposure, 6) for exposure in exposures})
    (rake, _) = found.elevations[0].rakes
    layouts = [round(exposure, 6) for exposure, _ in rake.layouts]
    assert sorted(layouts) == sorted({round(exposure, 6) for exposure in exposures})


def test_ties_lie_at_edges_on_marks_near_them_and_where_one_line_meets_two() -> None:
    # By hand, tolerance 1/8, tape in sixteenths: round a head at 60 the marks from 59-7/8 to 60-1/8; one at
    # 60-7/32 lies on no mark: its own height and 60-1/8 to 60-5/16; one line is flush with both from 60-3/32
    # to 60-1/8. From a starter at 0, courses of 5 to 7 reach neither 8 nor 60-1/4 at 20 to 30 in each.
    heads = [Target("Front", None, "head", height, 0, 30, "want", 4) for height in (8, 60, 60 + 7 / 32)]
    face = Elevation("Front", rectangle(240, 0, 100))
    book = rulebook(job(face, cladding=BOARDS, starter=(0, 0)), BOARDS)
    near_60 = [60 + k / 16 for k in range(-2, 6)]
    assert ties(book, columns(heads), 0, 0, 100).tolist() == sorted([*near_60, 60 + 3 / 32, 60 + 7 / 32])


def test_two_musts_three_sixteenths_apart_are_met_by_one_line_between_them() -> None:
    # By hand: heads at 82 and 81-13/16: 14 courses of 5-23/24 from -1-1/2 end at 81-11/12, 1/12 below the one
    # and 5/48 above the other.
    siding = build_cladding("main", "shingle-18", {}, "in")
    holes = (
        window("A", 40, 40, 36, 42, head_edge="must", sill_edge="ignore"),
        window("B", 160, 40, 36, 41.8125, head_edge="must", sill_edge="ignore"),
    )
    face = Elevation("Front", rectangle(264, -1, 106), openings=holes)
    found = plan(job(face, cladding=siding, starter=(-2, -1.5)))
    lines = found.course_sets["main"].lines
    assert lines.score.missed_must == 0
    assert [edge.result for edge in found.elevations[0].edges if edge.edge == "head"] == ["flush", "flush"]


def test_what_shows_is_one_sum_of_jumps_and_of_flush_edges_off_their_lines() -> None:
    # By hand, courses of 5 to 7 from 0, heads at 36 and 71-1/2: six of 6 and six of 5-11/12 meet both, and
    # a change of 1/12 in goes unseen. Any line off its head would show.
    low = window("A", 20, 10, 30, 26, sill_edge="ignore")
    high = window("B", 80, 50, 30, 21.5, sill_edge="ignore")
    exact = bands(low, high, top=100, tolerance=1 / 8)
    assert exact[:2] == [(6, 6), (6, 35.5 / 6)]


def test_a_band_of_one_course_between_two_others_counts_twice() -> None:
    assert lone_bands([8, 1, 6, 1]) == 1
    assert lone_bands([1, 8, 1]) == 0
    assert lone_bands([3, 1, 1, 4]) == 2


def test_of_too_many_edges_the_heaviest_are_tied_to() -> None:
    # 200 heights, every fifth one twice as heavy: all of those, and the lowest of the others up to the limit
    most = int(rules().limits["ties_max"])
    heights = [10 + k / 2 for k in range(200)]
    targets = [
        Target("Front", None, "head", height, 0, 30, "want", 2 if k % 5 == 0 else 1)
        for k, height in enumerate(heights)
    ]
    book = rulebook(job(Elevation("Front", rectangle(240, 0, 120)), tolerance=1 / 32), FREE)
    found = ties(book, columns(targets), 0, 0, 200)
    heavy = set(heights[::5])
    light = [height for height in heights if height not in heavy][: most - len(heavy)]
    assert found.tolist() == sorted([*heavy, *light])
    assert ties(book, columns(targets[:most]), 0, 0, 200).tolist() == heights[:most]


def test_a_zone_that_a_roof_hides_has_a_plan() -> None:
    """Clearance over the roof ends at 0.01 + 2, above the top of the zone at 2: nothing is left to cover."""
    found = plan(parse_job(_HIDDEN))
    assert found.course_sets["main"].lines.butt_lines[0] == pytest.approx(2.01)
    hung = {piece.cladding for piece in pieces(found).all()}
    assert hung == {"high"}


_HIDDEN = """
[job]
name = "Shed"
[claddings.low]
profile = "bevel-12"
[claddings.high]
profile = "double-4"
[[elevation]]
name = "Back"
width = 144
base = 0
eave = 108
[[elevation.zone]]
cladding = "low"
top = 2
[[elevation.zone]]
cladding = "high"
[[elevation.roof]]
mark = "R"
kind = "roof"
line = [[0, 0.01], [144, 0.01]]
depth = 0.01
"""
