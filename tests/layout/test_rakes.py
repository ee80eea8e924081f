"""Cuts along sloping edges, worked out by hand."""

from __future__ import annotations

from math import atan, degrees, hypot

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.courses.rakes import rake
from evencourse.layout.wall.sides import Side
from tests.layout.walls import Elevation, job


def test_six_in_twelve_over_an_eight_inch_course() -> None:
    # 16 ft of run at 6 in 12 rises 96 in: rake sqrt(192^2 + 96^2) = 214.66; 8 up is 16 over
    found = rake(Side((0, 107), (192, 203), False), (8.0,))
    assert found.pitch == pytest.approx(6)
    assert found.angle == pytest.approx(degrees(atan(0.5)))
    assert found.from_square == pytest.approx(63.435, abs=5e-4)
    assert found.run_per_exposure == pytest.approx(16)
    assert found.rake_length == pytest.approx(214.66, abs=5e-3)
    assert found.hand == "left"
    assert (found.start, found.end) == ((0, 107), (192, 203))


def test_the_saws_scale_ends_at_fifty_degrees_from_square() -> None:
    # 10 in 12 leans 50.19 from square, 12 in 12 leans 45
    assert rake(Side((0, 0), (12, 10), False), (8.0,)).past_saw
    assert not rake(Side((0, 0), (12, 12), False), (8.0,)).past_saw
    assert not rake(Side((0, 0), (12, 10.25), False), (8.0,)).past_saw  # leans 49.5


def test_hands() -> None:
    up, down = ((0, 0), (12, 6)), ((0, 6), (12, 0))
    assert rake(Side(*up, False), (8.0,)).hand == "left"
    assert rake(Side(*down, False), (8.0,)).hand == "right"
    assert rake(Side(*up, True), (8.0,)).hand == "right"  # the wall above it ends on the roof to its right
    assert rake(Side(*down, True), (8.0,)).hand == "left"


def test_each_band_that_meets_the_rake_has_its_layout() -> None:
    found = rake(Side((0, 0), (120, 60), False), (8.0, 7.5))
    assert found.layouts == ((8.0, pytest.approx(16)), (7.5, pytest.approx(15)))
    assert found.rake_length == pytest.approx(hypot(120, 60))


@pytest.mark.parametrize(("foot", "hands"), [(40, ["left"]), (2, [])])
def test_base_that_climbs_a_roof_is_a_rake_and_one_that_siding_hangs_over_is_none(
    foot: float, hands: list[str]
) -> None:
    # from the starter 1 in below, siding hangs over what lies at most 3 in above it
    wall = Elevation("Wall", ((0, foot), (120, 0), (240, 0), (240, 96), (0, 96)))
    found = plan(job(wall, starter=(-1, -1))).elevations[0].rakes
    assert [(rake.side, rake.hand) for rake in found] == [("base", hand) for hand in hands]


def test_eave_out_of_level_is_no_rake_and_a_steeper_top_is() -> None:
    # 1 in 12 over 20 ft is 20 in; common practice, no source
    level, steep = (
        plan(job(Elevation("Wall", ((0, 0), (240, 0), (240, 76 + rise), (0, 76))), starter=(0, 0)))
        for rise in (20, 21)
    )
    assert level.elevations[0].rakes == ()
    assert [(rake.side, rake.hand) for rake in steep.elevations[0].rakes] == [("top", "left")]
