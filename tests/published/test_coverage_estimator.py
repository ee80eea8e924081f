"""Western Wood Products Association, Coverage Estimator: bevel siding.

Nominal, dressed and exposed width, and lineal feet per square foot of wall.
"""

from __future__ import annotations

import pytest

from evencourse.layout.order.siding_quantities import lengths_by_area
from evencourse.layout.trade.profiles import profiles
from tests.published.walls import plan_file, planned

ROWS = [("bevel-6", 5.5, 4.5, 2.67), ("bevel-8", 7.25, 6.25, 1.92), ("bevel-10", 9.25, 8.25, 1.45)]
WALL = """
[job]
name = "Wall"
[cladding]
profile = "{profile}"
[limits]
starter = ["0", "0"]
[[elevation]]
name = "Wall"
width = "10'"
eave = {eave}
"""


@pytest.mark.parametrize(("profile", "dressed", "exposed", "factor"), ROWS)
def test_lineal_feet_per_square_foot(profile: str, dressed: float, exposed: float, factor: float) -> None:
    siding = profiles("in")[profile]
    assert (siding.width, siding.exposure) == (dressed, exposed)
    plan = planned(WALL.format(profile=profile, eave=exposed * 12))  # twelve courses at the exposed width
    lines = plan.course_sets["main"].lines
    assert [(band.courses, band.exposure) for band in lines.bands] == [(12, pytest.approx(exposed))]
    lineal_feet = sum(band.courses for band in lines.bands) * 10
    square_feet = plan.elevations[0].area / 144
    assert lineal_feet / square_feet == pytest.approx(factor, abs=0.0051)


@pytest.mark.parametrize(("profile", "dressed", "exposed", "factor"), ROWS)
def test_the_factor_is_what_the_take_off_counts_by(
    profile: str, dressed: float, exposed: float, factor: float
) -> None:
    """Feet of board for 10 000 sq ft: 12 over the exposed width, for each."""
    assert profiles("in")[profile].width == dressed
    assert lengths_by_area(10_000 * 144, exposed, 12) == pytest.approx(10_000 * factor, abs=51)


@pytest.mark.parametrize(("profile", "dressed", "exposed", "factor"), ROWS)
def test_the_boards_that_are_cut_add_up_to_the_factor(
    profile: str, dressed: float, exposed: float, factor: float
) -> None:
    """Lineal feet of all pieces in the plan file, over the square feet that they cover."""
    (face,) = plan_file(WALL.format(profile=profile, eave=exposed * 12))["elevations"]
    widths = [piece["length"] for piece in face["pieces"]]
    # 10 ft, less 1/8 in at each end and at a joint: common practice, no source
    assert 119.5 * 12 <= sum(widths) <= 119.75 * 12
    assert sum(widths) / 12 / (face["area"] / 144) == pytest.approx(factor, rel=0.007)
