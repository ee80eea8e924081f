"""Windows that share a casing: one hole for the siding, edges of each as they are.

Oracle: areas by hand; shapely's union of the trimmed outlines.
"""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.errors import JobError
from evencourse.layout.order.trims import trims
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.wall.border import stretches

TOP = (
    '[job]\nname = "Gang"\n[cladding]\nprofile = "double-4"\n[limits]\nstarter = [0, 0]\n'
    "[trim]\nhead = 4\nsill = 2\nside = 4\n"
    '[[elevation]]\nname = "Front"\nwidth = 240\nbase = 0\neave = 96\n'
)


def window(mark: str, left: float, sill: float, width: float, height: float) -> str:
    return (
        f'[[elevation.opening]]\nmark = "{mark}"\nleft = {left}\nsill = {sill}\n'
        f"width = {width}\nheight = {height}\n"
    )


def test_two_windows_that_touch_are_one_hole() -> None:
    """Each 30 by 50 in; with trim the two are 68 by 56 in. Two heads, two sills; no side between them."""
    planned = plan(parse_job(TOP + window("A", 60, 30, 30, 50) + window("B", 90, 30, 30, 50)))
    face = planned.elevations[0]
    assert face.area == 240 * 96 - 68 * 56
    assert sorted((edge.opening, edge.edge) for edge in face.edges if edge.opening) == [
        ("A", "head"), ("A", "sill"), ("B", "head"), ("B", "sill"),
    ]  # fmt: skip
    border = stretches(planned)
    for place, length in (("head", 68), ("sill", 68), ("side", 112)):
        assert sum(one.length for one in border if one.place == place) == pytest.approx(length)


@pytest.mark.long
@settings(deadline=None, max_examples=30)
@given(st.integers(0, 8), st.integers(20, 40), st.integers(20, 40), st.integers(-6, 6), st.integers(30, 50))
def test_what_is_clad_is_the_wall_less_the_union_of_the_casings(
    apart: int, one: int, other: int, up: int, height: int
) -> None:
    """Side by side, from touching to trims that just meet, at like or unlike heights."""
    found = plan(
        parse_job(TOP + window("A", 60, 30, one, height) + window("B", 60 + one + apart, 30 + up, other, 44))
    )
    face = found.elevations[0]
    union = shapely.union_all([shapely.Polygon(hole.trimmed) for hole in face.elevation.openings])
    # At a flush edge up to the tolerance of 1/8 in is left open over the opening's width.
    assert face.area == pytest.approx(240 * 96 - union.area, abs=4 * 50 / 8)
    for piece in pieces(found).faces[0].pieces:
        assert shapely.Polygon(piece.polygon, piece.holes).intersection(union).area <= 1e-6


def test_openings_themselves_may_not_overlap() -> None:
    with pytest.raises(JobError, match="it lies over opening"):
        parse_job(TOP + window("A", 60, 30, 30, 50) + window("B", 89, 30, 30, 50))


def test_a_fixture_stays_clear_of_trim() -> None:
    meter = '[[elevation.fixture]]\nmark = "M"\nleft = 91\nbottom = 40\nwidth = 8\nheight = 8\n'
    with pytest.raises(JobError, match="runs into the trim"):
        parse_job(TOP + window("A", 60, 30, 30, 50) + meter)


def test_one_strip_of_furring_runs_over_both_heads_and_under_both_sills() -> None:
    """Trim from 28 to 84 in up; courses of 8 in from -1: both edges lie 1 in up a step."""
    wall = TOP.replace("starter = [0, 0]", "starter = [-1, -1]")
    planned = plan(parse_job(wall + window("A", 60, 30, 30, 50) + window("B", 90, 30, 30, 50)))
    packed = [
        (run.place, run.opening, run.beside, run.length)
        for bars in trims(planned)
        for run in bars.runs
        if run.kind == "furring" and run.opening
    ]
    assert packed == [("sill", "A", ("B",), 68), ("head", "A", ("B",), 68)]
