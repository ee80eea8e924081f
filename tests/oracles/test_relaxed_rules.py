"""No rule about seams is relaxed where a layout keeps it: every layout of its row is tried."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.job import Elevation, Seams
from evencourse.layout.pieces.all_pieces import pieces
from tests.layout.walls import job, rectangle, window
from tests.oracles.seamlayouts import Grid, rows, untrue
from tests.samples import planned

#: Houses on which rules are relaxed.
HOUSES = (15, 20, 22)


@pytest.mark.parametrize("seed", HOUSES)
def test_rules_of_a_house_are_relaxed_only_where_no_layout_keeps_them(seed: int) -> None:
    found = planned(seed)
    wrong, relaxed = untrue(found, pieces(found))
    assert wrong == [] and relaxed > 0


def test_a_seam_that_needs_no_place_over_a_window_is_found() -> None:
    """By hand: 200 in of panels of 150; lawful at 84 or right of it, but 60 to 84 lies under the window."""
    wall = job(
        Elevation("Front", rectangle(200, 0, 8), openings=(window("A", 60, 5, 24, 3),)), starter=(0, 0)
    )
    planned = plan(wall)
    cut = pieces(planned)
    assert untrue(planned, cut) == ([], 0)
    (face,) = cut.faces
    (seam,) = face.seams
    left, right = face.pieces
    lap = left.end - right.start
    moved = replace(
        cut,
        faces=(
            replace(
                face,
                seams=(replace(seam, x=70.0),),
                pieces=(
                    replace(left, end=right.start + 70 - seam.x + lap),
                    replace(right, start=right.start + 70 - seam.x),
                ),
            ),
        ),
    )
    wrong, relaxed = untrue(planned, moved)
    assert relaxed == 1 and any("keeps opening" in one for one in wrong)


def test_where_no_layout_keeps_a_rule_none_is_found_by_hand() -> None:
    """199-1/2 in to cover, no piece under 75, lap 1: seams from 74-1/4 to 124-3/4, all under the window."""
    window_a = window("A", 72, 5, 56, 3)
    wall = job(Elevation("Front", rectangle(200, 0, 8), openings=(window_a,)), starter=(0, 0))
    planned = plan(replace(wall, seams=Seams(75, 24)))
    cut = pieces(planned)
    (hung,) = cut.faces
    (row,) = rows(hung)
    grid = Grid(planned, planned.elevations[0], hung, row)
    assert grid.broken() == {"opening"}
    assert not grid.layout({"apart", "raked"}) and grid.layout({"opening"})
    assert untrue(planned, cut) == ([], 1)


def test_no_opening_gives_way_for_another_ones_sake() -> None:
    """By hand: 150 in of panel cannot span C's 152, but a piece that begins left of B reaches past its 36."""
    wall = job(
        Elevation(
            "Front",
            rectangle(512, 0, 40),
            openings=(window("B", 36, 9, 36, 7), window("C", 272, 9, 152, 7)),
        ),
        starter=(0, 0),
    )
    told = [one for face in pieces(plan(wall)).faces for one in face.gave_way]
    assert {mark for one in told for mark in one.marks} == {"C"}
