"""Plain walls on which seams were once lost, in line, off the studs, or long in coming; and many more."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation, Framing, Job, Opening, Seams
from evencourse.layout.pieces.all_pieces import Pieces, pieces
from evencourse.layout.trade.profiles import build_cladding
from tests.layout.piececheck import faults
from tests.layout.replay import replay
from tests.layout.walls import job, rectangle, window
from tests.oracles.seamlayouts import untrue

BOARDS = build_cladding("main", "fiber-cement-6.25", {}, "in")
PANELS = build_cladding("main", "double-4", {}, "in")


def cut(wall: Job) -> tuple[Plan, Pieces]:
    planned = plan(wall)
    made = pieces(planned)
    assert faults(planned, made) == [] and replay(planned, made)[0] == []
    return planned, made


def door(left: float, width: float) -> Opening:
    return Opening("D", "door", "rectangle", left, -1, width, 80, on_base=True)


@pytest.mark.long
def test_a_wall_of_boards_with_a_door() -> None:
    face = Elevation("Front", rectangle(343, -1, 97), openings=(door(26, 36),))
    _, made = cut(job(face, cladding=BOARDS))
    assert not made.faces[0].gave_way


@pytest.mark.long
def test_joints_are_on_studs_and_out_of_line_where_two_boards_cannot_meet_on_one() -> None:
    """282 in, studs at 12, 36 … 132, 156: no two boards of 144 reach over it, whichever stud they meet on."""
    wall = replace(job(Elevation("Front", rectangle(282, -1, 97)), cladding=BOARDS), framing=Framing(24, 12))
    _, made = cut(wall)
    assert not made.faces[0].gave_way
    assert all(abs((seam.x - 12) % 24) < 0.002 or (seam.x - 12) % 24 > 23.998 for seam in made.faces[0].seams)


@pytest.mark.long
def test_a_wall_of_thirty_by_eight_feet() -> None:
    for siding in (PANELS, BOARDS):
        _, made = cut(job(Elevation("Front", rectangle(360, -1, 95)), cladding=siding))
        (cutting,) = made.stock.values()
        assert not made.faces[0].gave_way and len(cutting.bars) <= cutting.length_bound + 1


@pytest.mark.long
@pytest.mark.parametrize("windows", [15, 30])
@pytest.mark.parametrize("siding", [PANELS, BOARDS], ids=["panels", "boards"])
def test_a_wall_of_two_and_of_four_hundred_feet_with_a_window_every_thirteen(
    siding: Cladding, windows: int
) -> None:
    openings = tuple(window(f"W{at}", 60 + 156 * at, 36, 36, 48) for at in range(windows))
    _, made = cut(
        job(Elevation("Front", rectangle(160 * windows, -1, 95), openings=openings), cladding=siding)
    )
    assert not made.faces[0].gave_way


def plain_wall(seed: int) -> Job:
    """One face of random width, with a door or none, of panels or boards on random studs."""
    chance = random.Random(f"plain wall {seed}")
    width = chance.randrange(150, 620) + chance.choice([0, 0.5, 0.25])
    wide = chance.choice([0, 32, 36, 64])
    room = int(width) - wide - 28
    openings = (door(chance.randrange(14, room), wide),) if wide and room > 15 else ()
    face = Elevation("Front", rectangle(width, -1, 97), openings=openings)
    wall = job(face, cladding=chance.choice([PANELS, BOARDS]))
    return replace(wall, framing=Framing(chance.choice([16, 24]), chance.choice([0, 8, 12])))


@pytest.mark.parametrize("seed", range(40))
def test_plain_walls_keep_the_rules_that_bind(seed: int) -> None:
    """No seam over an opening, off the studs or in line, and none shorter, where the wall is plain.

    What may be relaxed on them is only how far seams of neighbouring courses are apart.
    """
    _, made = cut(plain_wall(seed))
    assert {given.rule for given in made.faces[0].gave_way} <= {"apart"}
    for first, second in pairwise(made.faces[0].seams):
        assert (first.course, first.x) < (second.course, second.x)


@pytest.mark.parametrize("seed", [0, *(pytest.param(seed, marks=pytest.mark.long) for seed in range(1, 500))])
def test_a_rule_is_relaxed_on_a_plain_wall_only_where_no_layout_keeps_it(seed: int) -> None:
    planned, made = cut(plain_wall(seed))
    assert untrue(planned, made)[0] == []


@pytest.mark.parametrize("width", [66.2, 152, 160, 176.1])
@pytest.mark.parametrize("length", [60.0, 150.0])
def test_no_piece_is_all_lap_where_none_is_too_short(width: float, length: float) -> None:
    face = Elevation("Front", rectangle(width, 0, 200))
    wall = job(face, cladding=replace(build_cladding("main", "double-4.5", {}, "in"), length=length))
    _, made = cut(replace(wall, seams=Seams(0, 24)))
    assert min(piece.length for piece in made.faces[0].pieces) > 1


def test_a_joint_stays_on_a_stud_where_a_piece_has_to_be_short() -> None:
    """By hand: 150 in of boards of 144, none under 72: only joints from 72 to 78 have two such, and studs are
    at 64 and 80. So a piece is shorter, but on a stud."""
    wall = job(Elevation("Front", rectangle(150, 0, 20)), cladding=BOARDS)
    _, made = cut(replace(wall, seams=Seams(72, 24)))
    assert {given.rule for given in made.faces[0].gave_way} >= {"shortest"}
    assert "stud" not in {given.rule for given in made.faces[0].gave_way}
    assert all(abs(seam.x / 16 - round(seam.x / 16)) < 1e-3 for seam in made.faces[0].seams)


def test_seams_of_neighboring_courses_are_never_in_line_however_near_they_may_be() -> None:
    face = Elevation("Front", rectangle(300, 0, 60))
    wall = job(face, cladding=build_cladding("main", "double-4.5", {}, "in"))
    _, made = cut(replace(wall, seams=Seams(24, 0)))
    assert not made.faces[0].gave_way
