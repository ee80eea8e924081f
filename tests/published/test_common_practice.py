"""Common practice of the trade: facts without a source that can be cited.

Also values from memory, marked so.
"""

from __future__ import annotations

from math import ceil

import pytest

from evencourse.layout.model.lengths import show_length
from evencourse.layout.trade.profiles import profiles
from tests.published.test_vinyl_installation import seams
from tests.published.walls import courses, plan_file, row, told

WALL = """
[job]
name = "Wall"
[cladding]
profile = "{profile}"
{limits}
[[elevation]]
name = "Wall"
width = "{width}"
eave = "{eave}"
{openings}
"""
WINDOW = """
  [[elevation.opening]]
  mark = "W"
  left = "4'"
  sill = {sill}
  width = 36
  height = {height}
"""
HELD = '[limits]\nstarter = ["0", "0"]'


def wall(profile: str, limits: str = HELD, width: str = "12'", eave: str = "96", openings: str = "") -> str:
    return WALL.format(profile=profile, limits=limits, width=width, eave=eave, openings=openings)


def test_a_lap_covers_the_top_of_the_foundation_by_half_an_inch_to_an_inch() -> None:
    assert row(told(wall("bevel-8", limits=""), "plan"), "starter limits") == '-1" to -1/2"'
    assert row(told(wall("bevel-8"), "plan"), "starter limits") == 'fixed at 0"'


@pytest.mark.parametrize(("sill", "result"), [(17.5, "notch"), (17.4375, "sliver")])
def test_a_strip_thinner_than_an_inch_and_a_half_is_a_sliver(sill: float, result: str) -> None:
    (face,) = plan_file(wall("double-4", openings=WINDOW.format(sill=sill, height=40)))["elevations"]
    (edge,) = [edge for edge in face["edges"] if edge["edge"] == "sill"]
    assert (edge["result"], edge["strip"]) == (result, sill - 16)


@pytest.mark.parametrize(("miss", "result"), [(0.125, "flush"), (0.1875, "sliver")])
def test_within_an_eighth_is_flush(miss: float, result: str) -> None:
    (face,) = plan_file(wall("double-4", openings=WINDOW.format(sill=16 + miss, height=40)))["elevations"]
    (edge,) = [edge for edge in face["edges"] if edge["edge"] == "sill"]
    assert edge["result"] == result


def test_a_last_course_of_less_than_four_inches_is_counted() -> None:
    said = {
        eave: row(told(wall("double-4", eave=eave), "plan"), "thin last courses ") for eave in ("92", "91")
    }
    assert said["92"].split()[0] == '0"'
    assert said["91"].split()[0] == '1"'


def test_boards_butt_on_studs_and_joints_of_neighbours_keep_24_in_apart() -> None:
    (face,) = plan_file(wall("fiber-cement-8.25", width="40'", eave="140"))["elevations"]
    found = [(course, x) for course, x, _, _ in seams(face)]
    assert found
    for course, x in found:
        assert x % 16 == pytest.approx(0, abs=0.01) or x % 16 == pytest.approx(16, abs=0.01)
        assert all(abs(x - there) >= 24 - 0.01 for other, there in found if abs(other - course) == 1)


@pytest.mark.long
@pytest.mark.parametrize("profile", ["double-4", "fiber-cement-8.25"])
def test_no_seam_lies_over_or_under_an_opening_where_it_can_be_helped(profile: str) -> None:
    openings = WINDOW.replace("4'", "16'").format(sill=32, height=48)
    (face,) = plan_file(wall(profile, width="40'", openings=openings))["elevations"]
    for _, x, left, right in seams(face):
        low = min(y for piece in (left, right) for _, y in piece["polygon"])
        high = max(y for piece in (left, right) for _, y in piece["polygon"])
        if low <= 80 and high >= 32:
            assert not 192 < x < 228


def test_a_notch_under_a_sill_is_a_quarter_inch_clear_at_each_side() -> None:
    text = wall("double-4", openings=WINDOW.format(sill=36, height=40))
    (face,) = plan_file(text)["elevations"]
    (below,) = [piece for piece in courses(face)[5] if piece["left"] < 48 and piece["right"] > 84]
    (notch,) = below["notches"]
    assert notch["width"] == 36 + 2 * 0.25


def test_corner_posts_are_nailed_ten_to_twelve_inches_apart_and_channels_eight_to_ten() -> None:
    """A post takes nails along both flanges; what it takes less than at 10 in it would take at 12."""
    takeoff = plan_file(wall("double-4", openings=WINDOW.format(sill=32, height=48)))["takeoff"]
    (nails,) = [item["count"] for item in takeoff["items"] if item["item"] == "nails"]
    cuts = [
        (one["trim"], piece["length"])
        for one in takeoff["trims"]
        for run in one["runs"]
        for piece in run["pieces"]
    ]
    assert {"outside corner post", "channel"} <= {kind for kind, _ in cuts}

    def count(post: float, channel: float) -> int:
        """All nails of the trim: finish trim as channels, starter strip 10 in apart."""
        found = 0
        for kind, length in cuts:
            apart = {"outside corner post": post, "starter strip": 10.0}.get(kind, channel)
            found += (2 if kind == "outside corner post" else 1) * (ceil(length / apart - 1e-9) + 1)
        return found

    (face,) = plan_file(wall("double-4", openings=WINDOW.format(sill=32, height=48)))["elevations"]
    siding = sum(ceil(piece["length"] / 16 - 1e-9) + 1 for piece in face["pieces"])
    assert count(post=12, channel=10) <= nails - siding <= count(post=10, channel=8)


@pytest.mark.parametrize("profile", ["foam-double-4", "foam-double-6"])
def test_foam_backed_panels_end_in_pockets_of_an_inch_and_an_eighth(profile: str) -> None:
    siding = profiles("in")[profile]
    assert (siding.projection, siding.foam_recess, siding.nail_length) == (1.125, 0.625, 2.5)


@pytest.mark.parametrize(
    ("name", "exposure", "faces", "length"),
    [("double-4", 8, 2, 150), ("double-4.5", 9, 2, 145), ("double-5", 10, 2, 144), ("triple-3", 9, 3, 145),
     ("single-6.5", 6.5, 1, 150), ("single-8", 8, 1, 150), ("foam-double-4", 8, 2, 200),
     ("foam-double-6", 12, 2, 200)],
)  # fmt: skip
def test_generic_panels(name: str, exposure: float, faces: int, length: float) -> None:
    """Generic trade sizes, values from memory, as the list of claddings and a plan have them."""
    (face,) = plan_file(wall(name, width="40'"))["elevations"]
    assert max(piece["length"] for piece in face["pieces"]) == length
    assert row(told(wall(name), "plan"), "courses ").endswith(f"at {show_length(exposure, 'in', 1 / 16)}")
    assert profiles("in")[name].faces == faces
