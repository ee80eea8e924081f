"""ASTM D3679, rigid PVC siding: thermal growth of at most 4.5e-5 an inch and degree F (value from memory).

Usual compounds grow by 3.0 to 4.5e-5 (value from memory): 12 ft move about 1/2 in over 100 F.
"""

from __future__ import annotations

import pytest

from tests.published.walls import courses, plan_file

LEAST, GREATEST, RANGE = 3.0e-5, 4.5e-5, 100
WALL = """
[job]
name = "Growth"
temperature = "{degrees} F"
[cladding]
profile = "double-4"
[[elevation]]
name = "Wall"
width = "12'"
eave = "8'"
"""


def room(degrees: int) -> tuple[float, float]:
    """Length of a panel between two posts, and what is left open at its ends together."""
    (face,) = plan_file(WALL.format(degrees=degrees))["elevations"]
    ((piece,), *_) = courses(face).values()
    return piece["length"], 144 - piece["length"]


def test_twelve_feet_hung_on_a_warm_day_may_move_half_an_inch() -> None:
    length, gaps = room(70)
    assert gaps == 0.5
    assert LEAST * RANGE * length <= gaps <= GREATEST * RANGE * length


def test_hung_in_the_cold_all_growth_that_the_standard_allows_has_room() -> None:
    length, gaps = room(40)
    assert gaps == 0.75
    assert gaps >= GREATEST * RANGE * length == pytest.approx(0.645, abs=0.001)
