"""Which of several ways to meet the same edges is taken, worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencourse.layout.courses.laps import ties
from evencourse.layout.courses.planner import plan
from evencourse.layout.courses.score import columns
from evencourse.layout.courses.targets import Target
from evencourse.layout.trade.rules import rules
from tests.layout.walls import LAP, Elevation, job, rectangle, window

#: Boards that show 5 to 7 in, best 6-1/2.
BOARDS = replace(LAP, exposure_min=5, exposure=6.5, exposure_max=7)


def bands(*windows: object, top: float, jump: float = 2) -> list[tuple[int, float]]:
    face = Elevation("Front", rectangle(240, 0, top), openings=windows)  # type: ignore[arg-type]
    found = plan(job(face, cladding=BOARDS, starter=(0, 0), jump=jump)).course_sets["main"].lines
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
    # a sill 1/16 over the starter is flush with it; the first course is 5 in high, the next ones 6-1/2
    low = window("A", 20, 1 / 16, 30, 5 - 1 / 16, head_edge="must", sill_edge="want")
    high = window("B", 80, 6, 30, 5.5, head_edge="must", sill_edge="ignore")
    face = Elevation("Front", rectangle(240, 0, 20), openings=(low, high))
    found = plan(job(face, cladding=BOARDS, starter=(0, 0), jump=2))
    assert [band.exposure for band in found.course_sets["main"].lines.bands] == [5, 6.5]
    (sill,) = [edge for edge in found.elevations[0].edges if (edge.opening, edge.edge) == ("A", "sill")]
    assert (sill.result, sill.strip) == ("flush", 5)


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
    found = plan(job(gable, cladding=BOARDS, starter=(0, 0), jump=2))
    exposures = [band.exposure for band in found.course_sets["main"].lines.bands]
    assert len(exposures) > len({round(exposure, 6) for exposure in exposures})
    (rake, _) = found.elevations[0].rakes
    layouts = [round(exposure, 6) for exposure, _ in rake.layouts]
    assert sorted(layouts) == sorted({round(exposure, 6) for exposure in exposures})


def test_of_too_many_edges_the_heaviest_are_tied_to() -> None:
    # 200 heights, every fifth one twice as heavy: all of those, and the lowest of the others up to the limit
    most = int(rules().limits["ties_max"])
    heights = [10 + k / 2 for k in range(200)]
    targets = [
        Target("Front", None, "head", height, 0, 30, "want", 2 if k % 5 == 0 else 1)
        for k, height in enumerate(heights)
    ]
    found = ties(columns(targets), 0, 200)
    heavy = set(heights[::5])
    light = [height for height in heights if height not in heavy][: most - len(heavy)]
    assert found.tolist() == sorted([*heavy, *light])
    assert ties(columns(targets[:most]), 0, 200).tolist() == heights[:most]
