"""Vinyl Siding Installation Manual, Vinyl Siding Institute: gaps, laps and nails of panels."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from evencourse.cli.main import main
from evencourse.layout.trade.profiles import profiles
from tests.published.walls import courses, plan_file, row, told

WALL = """
[job]
name = "Panels"
temperature = "{degrees} F"
[cladding]
profile = "{profile}"
[limits]
starter = ["0", "0"]
[[elevation]]
name = "Wall"
width = "{width}"
eave = "{eave}"
entrance = {entrance}
"""
PANELS = [name for name, siding in profiles("in").items() if siding.family == "panel"]


@pytest.mark.parametrize("name", PANELS)
def test_a_quarter_inch_at_panel_ends_and_three_eighths_in_the_cold(name: str) -> None:
    siding = profiles("in")[name]
    assert (siding.end_gap, siding.end_gap_cold, siding.cold) == (0.25, 0.375, 40)


@pytest.mark.parametrize("name", PANELS)
def test_panels_lap_an_inch_and_foam_backed_ones_by_twice_the_foams_recess(name: str) -> None:
    siding = profiles("in")[name]
    # foam held back 5/8 in from each end, so the vinyl laps 1-1/4: common practice, no source
    assert siding.end_lap == (2 * siding.foam_recess if siding.foam_recess else 1)
    assert siding.foam_recess in (0, 0.625)


@pytest.mark.parametrize("name", PANELS)
def test_nails_are_sixteen_inches_apart_at_most(name: str) -> None:
    assert profiles("in")[name].nail_spacing == 16


@pytest.mark.parametrize(("degrees", "gap"), [(80, 0.25), (41, 0.25), (40, 0.375), (20, 0.375)])
@pytest.mark.parametrize("name", PANELS)
def test_panels_are_cut_short_by_the_gap_at_each_end(name: str, degrees: int, gap: float) -> None:
    (face,) = plan_file(WALL.format(profile=name, degrees=degrees, width="8'", eave="9'", entrance=48))[
        "elevations"
    ]
    lap = profiles("in")[name].end_lap
    for pieces in courses(face).values():
        assert (pieces[0]["left_end"]["gap"], pieces[-1]["right_end"]["gap"]) == (gap, gap)
        whole = sum(piece["length"] for piece in pieces) - lap * (len(pieces) - 1)
        assert whole == pytest.approx(96 - 2 * gap)


def seams(face: dict[str, Any]) -> Iterator[tuple[int, float, dict[str, Any], dict[str, Any]]]:
    """Course, x, left and right piece of every seam in a plan file."""
    for course, pieces in courses(face).items():
        for left, right in pairwise(pieces):
            yield course, left["right"], left, right


LONG = {name: WALL.format(profile=name, degrees=60, width="40'", eave="12'", entrance=240) for name in PANELS}


@pytest.mark.parametrize("name", PANELS)
def test_panels_lap_an_inch_at_every_seam_and_foam_meets_foam(name: str) -> None:
    found = list(seams(plan_file(LONG[name])["elevations"][0]))
    assert found
    for _, _, left, right in found:
        lap = left["end"] - right["start"]
        if profiles("in")[name].foam_recess:
            # foam is held back 5/8 in from each end of the vinyl: common practice, no source
            assert left["end"] - 0.625 == pytest.approx(right["start"] + 0.625)
        else:
            assert lap == pytest.approx(1)


@pytest.mark.parametrize("name", PANELS)
def test_seams_are_in_line_only_with_three_courses_between(name: str) -> None:
    found = [(course, x) for course, x, _, _ in seams(plan_file(LONG[name])["elevations"][0])]
    for course, x in found:
        for other, there in found:
            if 0 < other - course <= 3:
                # nearer than 6 in reads as one line: common practice, no source
                assert abs(x - there) >= 6 - 0.002


@pytest.mark.parametrize("name", PANELS)
def test_seams_face_away_from_the_entrance(name: str) -> None:
    """The panel on the entrance's side lies over the other one: it shows up to its own end."""
    for _, x, left, right in seams(plan_file(LONG[name])["elevations"][0]):
        if x < 240 - 2:
            assert right["left"] == pytest.approx(right["start"])
            assert left["right"] < left["end"]
        elif x > 240 + 2:
            assert left["right"] == pytest.approx(left["end"])
            assert right["left"] > right["start"]


@pytest.mark.parametrize("name", PANELS)
def test_nails_reach_an_inch_and_a_quarter_into_what_holds_them(name: str) -> None:
    """Through the panel's backing, and else through 1/2 in of sheathing: common practice, no source."""
    said = row(
        [line.lstrip("0123456789 lb") for line in told(LONG[name], "takeoff") if "nails" in line],
        "roofing nails",
    )
    length = {'2"': 2.0, '2-1/2"': 2.5}[said.split()[0]]
    siding = profiles("in")[name]
    through = siding.projection if siding.foam_recess else 0.5
    assert length - through >= 1.25


@pytest.mark.long
def test_the_ladder_is_heavy_where_the_level_is_checked(tmp_path: Path) -> None:
    """Every fifth or sixth course: the manual; the sheet marks every fifth, and the starter."""
    job = tmp_path / "wall.toml"
    job.write_text(LONG["double-4"], encoding="utf-8")
    assert main(["draw", str(job), "-o", str(tmp_path / "out"), "--only", "svg"]) == 0
    first, _ = sorted((tmp_path / "out").glob("*-Wall-part-*.svg"))  # 40 ft take two parts
    sheet = first.read_text(encoding="utf-8")
    ladder = re.findall(r'<g data-layer="A-ANNO-LADR"[^>]*stroke-width="0.5"[^>]*>(.*?)</g>', sheet)
    heights = sorted(-float(y) for group in ladder for y in re.findall(r"M[\d.]+ ([\d.]+)L", group))
    scale = int(re.search(r"scale 1:(\d+)", sheet)[1])  # type: ignore[index]
    courses_up = [(height - heights[0]) * scale / 25.4 / 8 + 1 for height in heights]
    assert courses_up == pytest.approx([1, 5, 10, 15], abs=0.01)
