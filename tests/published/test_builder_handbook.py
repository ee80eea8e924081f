"""Builder 3 & 2, Volume 2, NAVEDTRA 14044 (US Navy nonresident training course), chapter 4.

Bevel siding: alignment with heads and sills, the worked example of a window, recommended exposures, the
least lap, and the clearance to a roof.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from evencourse.layout.model.errors import JobError
from evencourse.layout.trade.profiles import profiles
from tests.published.walls import planned, row, told

# A window 61 in from drip cap to the underside of the sill, its sill 31 in above a line just below the top of
# the foundation; 12 in siding. The handbook's siding is of its day, dressed 1/2 in under its nominal width.
WINDOW = """
[job]
name = "Worked example"
[cladding]
profile = "bevel-12"
width = "11-1/2"
[limits]
starter = ["0", "0"]
[[elevation]]
name = "Wall"
width = "12'"
base = "1"
eave = "8' 6"
  [[elevation.opening]]
  mark = "W"
  left = "4'"
  sill = "31"
  width = "36"
  height = "61"
"""
COURSES = """
[job]
name = "Courses"
[cladding]
profile = "{profile}"
exposure = {exposure}
[limits]
starter = ["0", "0"]
[[elevation]]
name = "Wall"
width = "10'"
eave = {eave}
"""


def test_six_courses_of_ten_and_a_sixth_beside_the_window_and_three_of_ten_and_a_third_below() -> None:
    lines = planned(WINDOW).course_sets["main"].lines
    below, beside = lines.bands[:2]
    assert (below.courses, below.exposure) == (3, pytest.approx(31 / 3))
    assert beside.exposure == pytest.approx(61 / 6)
    assert 31.0 in lines.butt_lines
    assert 92.0 in lines.butt_lines
    assert lines.butt_lines.index(92.0) - lines.butt_lines.index(31.0) == 6


def test_the_terminal_says_the_worked_example_as_the_tape_reads_it() -> None:
    # 31/3 = 10.333 and 61/6 = 10.167: 10-5/16 and 10-3/16 on a tape of sixteenths
    said = told(WINDOW, "plan")
    assert row(said, "courses ").startswith(
        '3 courses in 2\' 7", about 10-5/16" each; 6 courses in 5\' 1", about 10-3/16" each'
    )
    assert row(said, "W sill") == "2' 7\"  flush, course 3 ends here"
    assert row(said, "W head") == "7' 8\"  flush, course 10"


def test_butt_lines_fall_on_the_drip_cap_and_under_the_sill() -> None:
    edges = {(edge.opening, edge.edge): edge for edge in planned(WINDOW).elevations[0].edges}
    assert edges["W", "head"].result == "flush"
    assert edges["W", "sill"].result == "flush"


def test_a_big_difference_between_two_bands_is_notched_with_one_equal_exposure() -> None:
    # 28-1/2 in below the sill would take three courses of 9-1/2, the window six of 10-1/6: 2/3 in apart
    text = WINDOW.replace('sill = "31"', 'sill = "28-1/2"').replace(
        'width = "11-1/2"', 'width = "11-1/2"\nexposure_min = "9-1/2"'
    )
    plan = planned(text)
    lines = plan.course_sets["main"].lines
    changes = [abs(b.exposure - a.exposure) for a, b in pairwise(lines.bands)]
    assert all(change <= 0.5 + 1e-9 for change in changes)
    edges = {(edge.opening, edge.edge): edge for edge in plan.elevations[0].edges}
    assert edges["W", "head"].result == "flush"
    assert edges["W", "sill"].result == "notch"


@pytest.mark.parametrize(
    ("profile", "recommended"), [("bevel-6", 4), ("bevel-8", 6), ("bevel-10", 8), ("bevel-12", 10)]
)
def test_recommended_exposures_are_allowed(profile: str, recommended: float) -> None:
    siding = profiles("in")[profile]
    assert siding.exposure_min <= recommended <= siding.exposure_max


@pytest.mark.parametrize("profile", ["bevel-6", "bevel-8", "bevel-10", "bevel-12"])
def test_bevel_siding_laps_an_inch_at_least(profile: str) -> None:
    siding = profiles("in")[profile]
    assert siding.width - siding.exposure_max == pytest.approx(1)


def test_wood_siding_is_kept_two_inches_off_a_roof() -> None:  # figure 4-6
    assert profiles("in")["bevel-8"].roof_clearance == 2


@pytest.mark.parametrize(
    ("profile", "recommended"), [("bevel-6", 4), ("bevel-8", 6), ("bevel-10", 8), ("bevel-12", 10)]
)
def test_ten_courses_at_the_recommended_exposure_are_planned_where_they_fit(
    profile: str, recommended: int
) -> None:
    said = told(COURSES.format(profile=profile, exposure=recommended, eave=10 * recommended), "plan")
    assert row(said, "courses ") == f'10 courses at {recommended}"'


@pytest.mark.parametrize(("profile", "width"), [("bevel-6", 5.5), ("bevel-8", 7.25), ("bevel-10", 9.25)])
def test_an_exposure_that_leaves_less_than_an_inch_of_lap_is_refused(profile: str, width: float) -> None:
    with pytest.raises(JobError) as refused:
        planned(COURSES.format(profile=profile, exposure=width - 0.9375, eave=90))
    assert "exposure" in str(refused.value)
    planned(COURSES.format(profile=profile, exposure=width - 1, eave=90))


def test_the_sheet_keeps_wood_siding_two_inches_off_a_lower_roof() -> None:  # figure 4-6
    outline = "[[0, 0], [120, 0], [240, 60], [240, 144], [0, 144]]"
    said = told(
        COURSES.format(profile="bevel-8", exposure=6, eave=0).replace(
            'width = "10\'"\neave = 0', f"outline = {outline}"
        ),
        "plan",
    )
    assert '! Lower roof: hold the siding 2" off it; the step flashing goes up behind.' in said
