"""International Residential Code, chapter 7: exposures and clearances of wall covering.

Table R703.6.1 (shingles, single-coursed) agrees with National Home Improvement Estimator 2018, figure 6-14.
R703.10.2 is a value from memory.
"""

from __future__ import annotations

import pytest

from layout.claddings import profiles
from tests.published.walls import planned

SHINGLES = [("shingle-16", 7.5), ("shingle-18", 8.5), ("shingle-24", 11.5)]
WALL = """
[job]
name = "Wall"
[cladding]
profile = "{profile}"
[[elevation]]
name = "Wall"
width = "10'"
eave = "9'"
grade = "{grade}"
"""


@pytest.mark.parametrize(("profile", "greatest"), SHINGLES)
def test_greatest_exposure_of_single_coursed_shingles(profile: str, greatest: float) -> None:
    assert profiles("in")[profile].exposure_max == greatest


@pytest.mark.parametrize(("profile", "greatest"), SHINGLES)
def test_no_plan_exposes_a_shingle_more(profile: str, greatest: float) -> None:
    text = WALL.format(profile=profile, grade="-12")
    for sill in range(20, 60, 3):
        opening = f'\n[[elevation.opening]]\nmark = "A"\nleft = 30\nsill = {sill}\nwidth = 30\nheight = 31\n'
        lines = planned(text + opening).course_sets["main"].lines
        assert all(band.exposure <= greatest + 1e-9 for band in lines.bands)


@pytest.mark.parametrize("width", ["5.25", "6.25", "7.25", "8.25", "9.25", "12"])
def test_fiber_cement_laps_an_inch_and_a_quarter_at_least(width: str) -> None:  # R703.10.2, from memory
    siding = profiles("in")[f"fiber-cement-{width}"]
    assert siding.width - siding.exposure_max == pytest.approx(1.25)


def test_vinyl_hangs_six_inches_clear_of_the_ground() -> None:  # R703.3.1
    course_set = planned(WALL.format(profile="double-4", grade="-7-1/2")).course_sets["main"]
    assert course_set.limits == (-1.5, -0.5)
    assert course_set.lines.starter >= -7.5 + 6
    assert not course_set.missed


def test_ground_too_near_for_vinyl_is_said_with_the_amount() -> None:  # R703.3.1
    plan = planned(WALL.format(profile="double-4", grade="-5"))
    missed = plan.course_sets["main"].missed
    assert [limit.amount for limit in missed] == [pytest.approx(-5 + 6 - -0.5)]
    assert not plan.clean
    assert any('6" is wanted' in text for text in plan.elevations[0].cautions)


def test_vinyl_is_kept_half_an_inch_off_a_roof() -> None:  # R703.3.1
    assert profiles("in")["double-4"].roof_clearance == 0.5
