""" "Durable Details for Vinyl Siding", Journal of Light Construction: the starter strip.

The top of the starter strip, where the line is snapped, lies about 2 in above the bottom of
course 1, by maker.
"""

from __future__ import annotations

from tests.published.walls import plan_file, row, told

WALL = """
[job]
name = "Starter"
[cladding]
profile = "double-4"
{more}
[limits]
starter = ["-1-1/2", "-1-1/2"]
[[elevation]]
name = "Wall"
width = "12'"
eave = "8'"
"""


def test_the_chalk_line_is_snapped_two_inches_above_the_starter_line() -> None:
    said = told(WALL.format(more=""), "plan")
    assert row(said, "starter line ") == '1-1/2" below the datum'
    assert row(said, "chalk line ") == '1/2" above the datum'


def test_the_makers_own_figure_takes_its_place() -> None:
    found = plan_file(WALL.format(more='starter_drop = "1-3/4"'))["course_sets"]["main"]
    assert found["chalk_line"] - found["starter"] == 1.75
