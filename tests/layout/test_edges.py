"""What happens at each edge, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencourse.layout.courses.edges import alike, edge, score
from evencourse.layout.model.course_plan import Band, Edge, Lines, Score
from evencourse.layout.model.job import Opening
from evencourse.layout.solver.score import rulebook
from evencourse.layout.solver.targets import Target
from evencourse.layout.trade.profiles import build_cladding
from tests.layout.walls import LAP, PLAIN, Elevation, job, rectangle, window

FACE = Elevation("Front", rectangle(240, 0, 100))
RULES = rulebook(job(FACE), PLAIN)
NO_SCORE = Score(*[0] * 14)
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


@pytest.mark.parametrize("off", [0.0, 1e-9, -1e-9])
def test_edge_on_a_butt_line_misses_it_by_nothing(off: float) -> None:
    found = at("head", 71 + off)
    assert (found.result, found.cut, found.strip, found.miss) == ("flush", 0, 8, 0)


def test_edge_in_the_middle_of_a_course_misses_the_line_below() -> None:
    assert at("head", 75).miss == -4


def test_flush_edge_stands_beside_the_whole_course_on_its_side() -> None:
    # three courses of 8, then one of 7: the line at 24 has 7 in above it and 8 in below
    bands = (Band(1, 3, 8), Band(4, 1, 7))
    lines = Lines(0, bands, (0, 8, 16, 24, 31), NO_SCORE)

    def strip(kind: str, height: float) -> float:
        found = edge(Target("Front", None, kind, height, 0, 30, "want", 1), lines, RULES, "main")
        assert found is not None and found.result == "flush"
        return found.strip

    assert (strip("head", 24), strip("sill", 24)) == (7, 8)
    assert (strip("head", 16), strip("sill", 31)) == (8, 7)
    assert strip("head", 31) == 7  # over the last line there is no course: as high as the one below


def test_change_of_exposure_beyond_the_limit_counts_by_what_it_is_too_much() -> None:
    # from 8 to 7 at a limit of 1/2: 1/2 too much, and 7/8 more than goes unseen
    lines = (0.0, (Band(1, 3, 8), Band(4, 2, 7)), (0.0, 8.0, 16.0, 24.0, 31.0, 38.0))
    found, _ = score((), lines, RULES, 0)
    assert (found.wide_jump, found.jump) == (0.5, 0.875)


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
    assert at("base", 75).rip
    assert not at("head", 75, window("A", 0, 30, 30, 45)).rip
    assert not at("eave", 71).rip


def test_a_base_that_the_first_course_hangs_over_is_no_edge() -> None:
    assert at("base", 2.0) is None  # 3 in above the starter line
    assert at("base", 2.25) is not None


def test_a_base_is_met_by_a_whole_course_that_covers_it_by_a_half_to_one_and_a_half_inches() -> None:
    # By hand, lines at -1 + 8k: bases at 71-1/2, 72 and 72-1/2 are covered by 1/2, 1 and 1-1/2 in; the strip,
    # 2 in high, then has 1/2 in of wall behind its nails. Before and after that no first course is whole.
    for height, result in ((71.4375, "notch"), (71.5, "flush"), (72.5, "flush"), (72.5625, "notch")):
        assert at("base", height).result == result
    assert at("base", 72).course == 10
    assert at("base", 72).miss == -1
    # covered by half an inch already, the first course is whole; it is no base that is hung over
    assert at("base", -0.5).result == "flush"
    assert at("base", -0.75) is None


def test_round_window_is_measured_where_the_course_meets_it() -> None:
    # radius 12 about a centre at 60: top at 72, butt below it at 71, so 11 above the centre:
    # half the chord is sqrt(144 - 121) = 4.796
    circle = replace(window("R", 10, 48, 24, 24), shape="round")
    found = at("head", 72.0, circle)
    assert found.cut == 1.0
    left, right = found.chord
    assert (left + right) / 2 == pytest.approx(22)
    assert (right - left) / 2 == pytest.approx(4.796, abs=0.02)  # the circle is cut into 128 chords


def test_sill_of_a_round_window_is_measured_on_the_butt_line_above_it() -> None:
    # butts at 47 and 55; the circle's lowest point at 48, its centre at 60: 5 below it on the line at 55,
    # where half the chord is sqrt(144 - 25) = 10.909
    circle = replace(window("R", 10, 48, 24, 24), shape="round")
    left, right = at("sill", 48.0, circle).chord
    assert (right - left) / 2 == pytest.approx(10.909, abs=0.02)


@pytest.mark.parametrize("kind", ["head", "sill"])
def test_level_edges_have_no_chord(kind: str) -> None:
    assert at(kind, 73.0, window("A", 10, 43, 24, 30)).chord is None
    assert at("sill", 73.0, replace(window("H", 10, 73, 24, 12), shape="half-round")).chord is None


def test_triangle_window_is_measured_where_the_course_meets_it() -> None:
    # 24 wide, 12 high, apex at 73: on the butt line at 71 it is 2/12 of its height down, 24 x 2/12 = 4 wide
    gable = replace(window("T", 10, 61, 24, 12), shape="triangle")
    found = at("head", 73.0, gable)
    assert found.chord == pytest.approx((20, 24))


def test_behind_a_cut_board_goes_what_its_back_stands_off_there() -> None:
    """Its butt lies on the board below, 3/16 off the wall, its top edge on the wall 9-1/4 in higher."""
    # 4 in up: 5-1/4 of 9-1/4 in are left to the top edge; the same below a sill and above a head
    assert at("sill", 75, cladding=LAP).furring == pytest.approx(0.1875 * 5.25 / 9.25)
    assert at("head", 75, cladding=LAP).furring == pytest.approx(0.1875 * 5.25 / 9.25)
    assert at("sill", 77, cladding=LAP).furring == pytest.approx(0.1875 * 3.25 / 9.25)


def test_shingles_lie_on_those_below_and_take_no_furring() -> None:
    assert at("head", 75, cladding=replace(LAP, family="shingle", width=18)).furring == 0


@pytest.mark.parametrize(
    ("profile", "butt", "top", "width", "exposure"),
    [
        ("bevel-8", 7 / 16, 3 / 16, 7.25, 6.25),
        ("fiber-cement-8.25", 5 / 16, 5 / 16, 8.25, 7.0),
    ],
)
def test_boards_stand_off_the_wall_as_they_lie_on_each_other(
    profile: str, butt: float, top: float, width: float, exposure: float
) -> None:
    """Thicknesses: values from memory. Just under the next butt a board is as far out as that one's back.

    The line from there to the wall at the top edge is the back: it rises by ``thick`` over the exposure.
    """
    found = build_cladding("main", profile, {}, "in")
    thick = butt - (butt - top) * exposure / width
    assert found.projection_top == pytest.approx(thick * width / exposure, abs=1 / 64)
    assert found.projection - found.projection_top == pytest.approx(butt, abs=1 / 64)


def test_a_vent_that_stands_on_a_butt_line_is_cut_over_all_of_its_base() -> None:
    # butts at 39 and 47; a triangle of 24 by 6 in from 39 up: the line under its head is its own base
    vent = Opening("V", "vent", "triangle", 20, 39, 24, 6)
    assert at("head", 45, vent).chord == (20, 44)


def test_edges_that_count_alike_are_counted_once_for_all() -> None:
    # two heads and a sill at 73-1/4 and one head that must be met: three sorts, and the same score either way
    every = [
        Target(face, None, kind, height, 0, 30, importance, 2)
        for face, kind, height, importance in (
            ("Front", "head", 73.25, "want"),
            ("Back", "head", 73.25, "want"),
            ("Back", "sill", 73.25, "want"),
            ("Back", "head", 73.25, "must"),
            ("Front", "head", 71.0, "want"),
            ("Left", "head", 71.0, "want"),
        )
    ]
    sorts = alike(every)
    assert [(one.kind, one.height, count) for one, count in sorts] == [
        ("head", 73.25, 2),
        ("sill", 73.25, 1),
        ("head", 73.25, 1),
        ("head", 71.0, 2),
    ]
    lines = (EIGHTS.starter, EIGHTS.bands, EIGHTS.butt_lines)
    found = score(sorts, lines, RULES, 0)
    assert found == score([(one, 1) for one in every], lines, RULES, 0)
    assert (found[0].flush, found[0].notches, found[0].missed_must) == (2, 4, 1)
