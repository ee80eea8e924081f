"""What happens at each edge, worked out by hand."""

from __future__ import annotations

import pytest

from layout.edges import edge
from layout.job import Opening
from layout.plan import Band, Edge, Lines, Score
from layout.score import rulebook
from layout.targets import Target
from tests.layout.walls import LAP, PLAIN, Elevation, job, rectangle, window

FACE = Elevation("Front", rectangle(240, 0, 100))
NO_SCORE = Score(0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0)
EIGHTS = Lines(-1, (Band(1, 13, 8),), tuple(-1 + 8 * k for k in range(14)), NO_SCORE)


def at(kind: str, height: float, opening: object = None, cladding: object = PLAIN) -> Edge | None:
    target = Target("Front", opening, kind, height, 0, 30, "want", 1)
    return edge(target, EIGHTS, rulebook(job(FACE), cladding), "main")


def test_head_between_two_butts_is_cut_from_the_bottom_of_the_course_above() -> None:
    # butts at 71 and 79; a head at 73-1/4 lies 2-1/4 up course 10 (71 = -1 + 9 x 8), 5-3/4 is left above it
    found = at("head", 73.25)
    assert (found.result, found.course, found.cut, found.strip) == ("notch", 10, 2.25, 5.75)
    assert found.miss == -2.25


def test_sill_between_two_butts_leaves_the_lower_part_of_the_course() -> None:
    found = at("sill", 73.25)
    assert (found.result, found.course, found.cut, found.strip) == ("notch", 10, 2.25, 2.25)


def test_edge_within_the_tolerance_is_flush_and_names_the_course_on_its_side() -> None:
    head, sill = at("head", 71.125), at("sill", 70.875)
    assert (head.result, head.course, head.cut, head.strip, head.miss) == ("flush", 10, 0, 8, -0.125)
    assert (sill.result, sill.course, sill.cut, sill.strip, sill.miss) == ("flush", 9, 0, 8, 0.125)
    assert at("head", 71.1876).result == "notch"


def test_strip_thinner_than_an_inch_and_a_half_is_a_sliver() -> None:
    assert at("head", 77.75).result == "sliver"  # 1-1/4 left above
    assert at("head", 77.5).result == "notch"  # 1-1/2 left
    assert at("sill", 72.25).result == "sliver"  # 1-1/4 left below
    assert at("eave", 72.25).result == "sliver"


@pytest.mark.parametrize(
    ("cut", "packing"),
    [
        # double 4, 1/2 off the wall at a butt, 1/16 at the top of a face: 7/16 over 4 in of face
        (1.0, 0.4375 * 1 / 4),
        (3.0, 0.4375 * 3 / 4),
        (4.0, 0.0),  # on the butt of the second face: nothing
        (6.0, 0.4375 * 2 / 4),
    ],
)
def test_furring_is_what_the_profile_lacks_where_the_cut_falls(cut: float, packing: float) -> None:
    assert at("sill", 71 + cut).furring == pytest.approx(packing, abs=1e-12)


def test_furring_is_most_just_under_a_butt() -> None:
    values = [at("sill", 71 + k / 16).furring for k in range(3, 64)]
    assert values == sorted(values)
    assert values[-1] < PLAIN.projection - PLAIN.projection_top


def test_eave_step_and_band_are_rips_and_windows_are_not() -> None:
    assert at("eave", 75).rip
    assert at("band", 75).rip
    assert at("step", 75).rip
    assert not at("head", 75, window("A", 0, 30, 30, 45)).rip
    assert not at("eave", 71).rip


def test_a_base_that_the_first_course_hangs_over_is_no_edge() -> None:
    assert at("step", 2.0) is None  # 3 in above the starter line
    assert at("step", 2.25) is not None


def test_round_window_is_measured_where_the_course_meets_it() -> None:
    from dataclasses import replace

    # radius 12 about a centre at 60: top at 72, butt below it at 71, so 11 above the centre:
    # half the chord is sqrt(144 - 121) = 4.796
    circle = replace(window("R", 10, 48, 24, 24), shape="round")
    found = at("head", 72.0, circle)
    assert found.cut == 1.0
    left, right = found.chord
    assert (left + right) / 2 == pytest.approx(22)
    assert (right - left) / 2 == pytest.approx(4.796, abs=0.02)  # the circle is cut into 128 chords


def test_triangle_window_is_measured_where_the_course_meets_it() -> None:
    from dataclasses import replace

    # 24 wide, 12 high, apex at 73: on the butt line at 71 it is 2/12 of its height down, 24 x 2/12 = 4 wide
    gable = replace(window("T", 10, 61, 24, 12), shape="triangle")
    found = at("head", 73.0, gable)
    assert found.chord == pytest.approx((20, 24))


def test_lap_boards_lean_over_the_whole_exposure() -> None:
    # 5/8 off the wall at the butt, 3/16 under the next: 7/16 over 8 in
    assert at("sill", 75, cladding=LAP).furring == pytest.approx(0.4375 * 4 / 8)


def test_a_vent_that_stands_on_a_butt_line_is_cut_over_all_of_its_base() -> None:
    # butts at 39 and 47; a triangle of 24 by 6 in from 39 up: the line under its head is its own base
    vent = Opening("V", "vent", "triangle", 20, 39, 24, 6)
    assert at("head", 45, vent).chord == (20, 44)
