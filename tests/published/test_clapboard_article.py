""" "How to Install Clapboard Siding", Fine Homebuilding: what the eye does not see.

A change of 1/8 in in exposure from one course to the next goes unseen.
"""

from __future__ import annotations

import pytest

from tests.published.walls import plan_file, row, told

#: Ten courses up to a sill that must be met, and ten more up to a head that must be met.
WALL = """
[job]
name = "Clapboards"
[cladding]
profile = "bevel-8"
exposure_min = "5-3/4"
[limits]
starter = ["0", "0"]
[[elevation]]
name = "Wall"
width = "12'"
eave = {eave}
  [[elevation.opening]]
  mark = "W"
  left = "4'"
  sill = 60
  width = 36
  height = {height}
  head_edge = "must"
  sill_edge = "must"
"""


@pytest.mark.parametrize(
    ("above", "seen"),
    [(6.125, '0"'), (6.0625, '0"'), (6.1875, '1/16"'), (5.875, '0"'), (5.8125, '1/16"')],
)
def test_an_eighth_between_two_bands_costs_nothing_and_more_is_counted(above: float, seen: str) -> None:
    text = WALL.format(height=10 * above, eave=60 + 10 * above)
    bands = plan_file(text)["course_sets"]["main"]["bands"]
    assert [(band["courses"], band["exposure"]) for band in bands] == [(10, 6), (10, pytest.approx(above))]
    assert row(told(text, "plan"), "unevenness of exposure changes").split("  ")[0] == seen
