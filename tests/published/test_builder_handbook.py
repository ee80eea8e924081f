"""Builder 3 & 2, Volume 2, NAVEDTRA 14044 (US Navy nonresident training course), chapter 4.

Bevel siding: alignment with heads and sills, the worked example of a window, recommended exposures, the
least lap, and the clearance to a roof.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from layout.claddings import profiles
from tests.published.walls import planned

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


def test_six_courses_of_ten_and_a_sixth_beside_the_window_and_three_of_ten_and_a_third_below() -> None:
    lines = planned(WINDOW).course_sets["main"].lines
    below, beside = lines.bands[:2]
    assert (below.courses, below.exposure) == (3, pytest.approx(31 / 3))
    assert beside.exposure == pytest.approx(61 / 6)
    assert 31.0 in lines.butt_lines
    assert 92.0 in lines.butt_lines
    assert lines.butt_lines.index(92.0) - lines.butt_lines.index(31.0) == 6


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
