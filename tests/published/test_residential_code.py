"""International Residential Code, chapter 7: exposures and clearances of wall covering.

Table R703.6.1 (shingles, single-coursed) agrees with National Home Improvement Estimator, figure 6-14.
R703.10.2 is a value from memory.
"""

from __future__ import annotations

from math import ceil

import pytest

from evencourse.layout.model.errors import JobError
from evencourse.layout.trade.profiles import profiles
from tests.layout.walls import cautions_said
from tests.published.walls import courses, plan_file, planned, row, told

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
#: Nails of trim by their spacing, a row each: common practice, no source; starter strip: the panels' manual.
APART = {
    "starter strip": [10], "outside corner post": [10, 10], "finish trim": [8], "utility trim": [8],
    "furring": [16],
}  # fmt: skip


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
    assert any('it must be 6"' in text for text in cautions_said(plan))


def test_vinyl_is_kept_half_an_inch_off_a_roof() -> None:  # R703.3.1
    assert profiles("in")["double-4"].roof_clearance == 0.5


@pytest.mark.parametrize(("profile", "greatest"), SHINGLES)
def test_a_shingle_exposed_more_is_refused(profile: str, greatest: float) -> None:
    text = WALL.format(profile=f'{profile}"\nexposure = "{{exposure}}', grade="-12")
    planned(text.format(exposure=greatest))
    with pytest.raises(JobError) as refused:
        planned(text.format(exposure=greatest + 1 / 16))
    assert "exposure" in str(refused.value)


@pytest.mark.parametrize("width", [5.25, 6.25, 7.25, 8.25, 9.25, 12])
def test_a_lap_of_less_than_an_inch_and_a_quarter_is_refused(width: float) -> None:  # from memory
    text = WALL.format(profile=f'fiber-cement-{width}"\nexposure = "{{exposure}}', grade="-12")
    planned(text.format(exposure=width - 1.25))
    with pytest.raises(JobError):
        planned(text.format(exposure=width - 1.1875))


def test_the_terminal_says_how_near_the_ground_is_and_what_is_wanted() -> None:  # R703.3.1
    said = told(WALL.format(profile="double-4", grade="-5"), "plan")
    assert [line for line in said if line.startswith("! Ground")] == [
        '! Ground: only 4-1/2" below the siding, 0" from the left; it must be 6".'
    ]
    assert row(told(WALL.format(profile="double-4", grade="-12"), "plan"), "starter line") != ""


@pytest.mark.parametrize(("profile", "clear"), [("double-4", '1/2"'), ("bevel-8", '2"')])
def test_the_terminal_says_how_far_to_stay_off_a_roof(profile: str, clear: str) -> None:
    # R703.3.1 for vinyl; for wood Builder 3 & 2 Vol. 2, figure 4-6
    text = WALL.format(profile=profile, grade="-12").replace(
        'width = "10\'"\neave = "9\'"', "outline = [[0, 0], [120, 0], [240, 60], [240, 144], [0, 144]]"
    )
    words = f"! Lower roof: hold the siding {clear} off it; the step flashing goes up behind."
    assert words in told(text, "plan")


def test_the_pieces_over_a_roof_end_that_far_above_it() -> None:  # R703.3.1
    text = WALL.format(profile="double-4", grade="-12").replace(
        'width = "10\'"\neave = "9\'"', "outline = [[0, 0], [120, 0], [240, 60], [240, 144], [0, 144]]"
    )
    (face,) = plan_file(text)["elevations"]
    over_roof = [
        (x, y)
        for pieces in courses(face).values()
        for piece in pieces
        for x, y in piece["polygon"]
        if x > 121
    ]
    # the roof rises 6 in 12 from (120, 0)
    assert min(y - (x - 120) / 2 for x, y in over_roof) == pytest.approx(0.5)


def test_no_nails_of_a_panel_are_more_than_sixteen_inches_apart() -> None:  # R703.11.1.3
    """A panel of 119-1/2 in: eight spaces of 15 in, so nine nails; what the trim takes is taken off."""
    found = plan_file(WALL.format(profile="double-4", grade="-12"))
    takeoff = found["takeoff"]
    (nails,) = [item for item in takeoff["items"] if item["item"] == "nails"]
    trim = sum(
        ceil(piece["length"] / apart - 1e-9) + 1
        for one in takeoff["trims"]
        for run in one["runs"]
        for piece in run["pieces"]
        for apart in APART[one["trim"]]
    )
    lengths = [piece["length"] for piece in found["elevations"][0]["pieces"]]
    assert 119.5 in lengths
    assert nails["count"] - trim == sum(ceil(length / 16) + 1 for length in lengths)
