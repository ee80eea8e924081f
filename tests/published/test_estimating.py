"""Estimating by area: boards, the area of a gable, cartons, and the shingle table.

The figures of lap board and gable are those of the worked example in the National Home Improvement
Estimator. What a square of shingles covers at other exposures: red cedar coverage table, values from memory.
"""

from __future__ import annotations

from math import ceil

import pytest

from evencourse.layout.order.material import Material
from evencourse.layout.order.siding_quantities import lengths_by_area
from evencourse.layout.trade.profiles import profiles
from tests.published.walls import plan_file, planned, row, told

SQUARE_FOOT = 144
GABLE = """
[job]
name = "Gable"
[cladding]
profile = "{profile}"
exposure = "{exposure}"
[limits]
starter = ["0", "0"]
[[elevation]]
name = "Gable"
outline = [["0", "0"], ["28'", "0"], ["14'", "4'"]]
"""


def test_lap_board_of_eight_and_a_quarter_covers_seven_square_feet_in_twelve_feet() -> None:
    board = profiles("in")["fiber-cement-8.25"]
    assert (board.width, board.width - board.exposure, board.length) == (8.25, 1.25, 144)
    assert board.exposure * board.length == 7 * SQUARE_FOOT
    assert lengths_by_area(4000 * SQUARE_FOOT, board.exposure, board.length) == 572


@pytest.mark.long
def test_four_thousand_square_feet_take_572_boards_and_by_rule_of_thumb_a_tenth_more() -> None:
    """Twenty walls of 200 sq ft, each twelve full courses of 7 in high.

    4000 / 7 = 571.4, so 572. Ten in the hundred for waste is common practice, no source. What is really cut
    is a little shorter than the wall (1/8 in at ends and joints), never by as much as a board in a hundred.
    """
    text = GABLE.split("[[elevation]]", maxsplit=1)[0].format(profile="fiber-cement-8.25", exposure="7")
    for number in range(1, 21):
        text += f'[[elevation]]\nname = "Wall {number}"\nwidth = {200 * 144 / 84}\neave = 84\n'
    takeoff = plan_file(text)["takeoff"]
    (boards,) = takeoff["siding"]
    assert boards["area"] == pytest.approx(4000 * SQUARE_FOOT)
    assert boards["by_thumb"] == ceil(4000 / 7 * 1.1) == 629
    assert 572 * 0.995 <= boards["bound"] <= 572
    assert boards["bound"] <= boards["bars"] < boards["by_thumb"]
    assert row(told(text, "takeoff"), "all faces") == "40.00      0.00  40.00"


def test_a_gable_of_twenty_eight_by_four_feet_is_fifty_six_square_feet() -> None:
    plan = planned(GABLE.format(profile="fiber-cement-8.25", exposure="7"))
    (area,) = Material(plan).order.areas
    assert (area.gross / SQUARE_FOOT, area.openings, area.net / SQUARE_FOOT) == (56, 0, 56)


def test_the_terminal_says_fifty_six_square_feet() -> None:
    text = GABLE.format(profile="fiber-cement-8.25", exposure="7")
    assert "Gable: 56.0 sq ft net" in told(text, "plan")
    assert row(told(text, "takeoff"), "all faces") == "0.56      0.00  0.56"


@pytest.mark.parametrize("name", [name for name, one in profiles("in").items() if one.carton])
def test_a_carton_holds_two_squares(name: str) -> None:
    """24, 22 and 20 panels: generic trade sizes, values from memory."""
    panel = profiles("in")[name]
    covers = panel.carton * panel.exposure * panel.length / SQUARE_FOOT
    assert panel.carton_squares == 2
    assert covers == pytest.approx(200, rel=0.005)


@pytest.mark.parametrize(
    ("profile", "exposure", "covers"),
    [("shingle-16", 5, 100), ("shingle-16", 7.5, 150), ("shingle-18", 5.5, 100), ("shingle-18", 8.5, 154.5),
     ("shingle-24", 7.5, 100), ("shingle-24", 11.5, 153)],
)  # fmt: skip
def test_what_a_square_of_shingles_covers(profile: str, exposure: float, covers: float) -> None:
    """A wall of twelve courses, the first of them doubled: what is ordered is thirteen courses' worth."""
    wall = GABLE.replace(
        'outline = [["0", "0"], ["28\'", "0"], ["14\'", "4\'"]]', 'width = "25\'"\neave = {eave}'
    )
    plan = planned(wall.format(profile=profile, exposure=exposure, eave=12 * exposure))
    found = Material(plan).order
    (shingles,) = [item for item in found.items if item.item == "shingles"]
    area = found.areas[0].net / SQUARE_FOOT
    gaps = (300 - 0.25) / 300  # an eighth of an inch is kept clear at each end
    assert shingles.net == pytest.approx(area * gaps * 13 / 12 / covers, rel=0.005)
    assert shingles.unit == "square"
