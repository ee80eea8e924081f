"""Which point of a raked end is the long one: below on a gable, above where a wall dies on a roof."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.job import Elevation
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.pieces.piece import End, Piece, Rip
from evencourse.render.words.cut_words import cut_words
from tests.layout.walls import LAP, PLAIN, job
from tests.samples import planned

#: Eave at 40 under a gable of 12 in 12 on the left, a roof of 6 in 12 rising to the right from (60, 0).
WALL = Elevation("Front", ((0, 0), (60, 0), (160, 50), (160, 140), (100, 140), (0, 40)))


@pytest.mark.long
def test_long_point_below_on_a_gable_and_above_over_a_roof() -> None:
    """Course 3, from 16 to 24: the roof, held 1/2 in off, runs from x = 91 to 107 along it: 8 up, 16 over.

    Course 8, from 56 to 64, on the left: the rake from x = 16 to 24: 8 up, 8 over.
    """
    cut = {piece.course: piece for piece in pieces(plan(job(WALL, starter=(0, 0)))).all()}
    roof, gable = cut[3].right_end, cut[8].left_end
    assert (roof.shape, roof.up, roof.over, roof.long) == ("rake", 8, pytest.approx(16), "top")
    assert (gable.shape, gable.up, gable.over, gable.long) == ("rake", 8, pytest.approx(8), "bottom")


@pytest.mark.long
def test_board_over_a_roof_is_long_enough_for_its_lap() -> None:
    """Boards of 9-1/4 in that show 8, held 2 in off: course 3 shows up to x = 104 at 24.

    Its lap of 1-1/4 goes on 2-1/2 along the slope, less 1/8 open: 106-3/8. Over the whole board the cut is
    9-1/4 up and 18-1/2 over. Course 7, from 48 to 56, meets the roof's end at 52 and is plumb from there:
    nothing goes on.
    """
    boards = replace(LAP, exposure=8, exposure_min=8, exposure_max=8)
    cut = {piece.course: piece for piece in pieces(plan(job(WALL, cladding=boards, starter=(0, 0)))).all()}
    first = {
        piece.course: piece
        for piece in pieces(plan(job(WALL, cladding=boards, starter=(0, 0)))).all()
        if piece.id.endswith(".1")
    }
    assert cut[3].right == pytest.approx(104)
    assert (cut[3].end, cut[3].right_end.up, cut[3].right_end.over) == pytest.approx((106.375, 9.25, 18.5))
    assert (cut[3].right_end.gap, cut[3].right_end.long) == (pytest.approx(0.125), "top")
    assert cut[3].short == pytest.approx(cut[3].length - 18.5)
    assert (cut[7].end, cut[7].right_end.up) == pytest.approx((159.875, 4))
    assert first[8].left_end.over == pytest.approx(8)  # a gable's long point is at the butt


def reach(piece: Piece, hand: str, height: float) -> float:
    """How far a piece reaches to one side at a height."""
    line = shapely.LineString([(piece.left - 1, height), (piece.right + 1, height)])
    left, _, right, _ = shapely.intersection(shapely.Polygon(piece.polygon), line).bounds
    return float(-left if hand == "left" else right)


@pytest.mark.parametrize("seed", range(6))
def test_the_long_point_is_where_the_outline_reaches_farther(seed: int) -> None:
    found = planned(seed)
    seen = 0
    for piece in pieces(found).all():
        ends: tuple[tuple[str, End], ...] = (("left", piece.left_end), ("right", piece.right_end))
        for hand, end in ends:
            if end.shape != "rake":
                continue
            in_from_edge = (piece.top - piece.bottom) / 50
            below = reach(piece, hand, piece.bottom + in_from_edge)
            above = reach(piece, hand, piece.top - in_from_edge)
            assert end.long == ("bottom" if below > above else "top")
            seen += 1
    assert seen


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_base_out_of_level_is_cut_where_it_runs_and_off_the_bottom(mirrored: bool) -> None:
    """A base that climbs 1 in 12 from 0, courses of 8 from -1: each butt line meets it 96 farther on.

    Course 1, from -1 to 7, runs out at 84 (7 = 84/12): its bottom is cut from 1 up to 8 up. Course 2 is whole
    to 84 and runs out at 180. Course 3 is whole to 180; over the last 12 the base climbs 1 of it.
    """
    outline = [(0.0, 0.0), (192.0, 16.0), (192.0, 100.0), (0.0, 100.0)]
    if mirrored:
        outline = [(192 - x, y) for x, y in reversed(outline)]
    made = job(Elevation("Side", tuple(outline)), cladding=replace(PLAIN, length=200), starter=(-1, -1))
    cut = {piece.course: piece for piece in pieces(plan(made)).all()}
    assert cut[1].rips == (Rip("bottom", *((8, 1) if mirrored else (1, 8))),)
    assert cut[2].rips == cut[3].rips == ()
    ends = [piece.left_end if mirrored else piece.right_end for piece in (cut[2], cut[3])]
    assert [(end.shape, end.up, end.over, end.long) for end in ends] == [
        ("rake", pytest.approx(8), pytest.approx(96), "top"),
        ("rake", pytest.approx(1), pytest.approx(12), "top"),
    ]
    hand = "left" if mirrored else "right"
    assert cut_words(cut[3], made) == f'{hand} rake 1" up, 12" over, then square, long point above'


def test_under_an_eave_out_of_level_one_cut_goes_through_the_hem() -> None:
    """An eave that climbs 10 in 140 from 96, courses of 8 from -1: course 13 from 95 to 103.

    At the left 1 of it shows; the eave leaves it at 98 (7 up at 14 over 1), and its hem of 1-1/4 at 115-1/2.
    Course 14, from 103, begins at 98 and is 3 high at the right.
    """
    outline = ((0.0, 0.0), (140.0, 0.0), (140.0, 106.0), (0.0, 96.0))
    made = job(Elevation("Side", outline), cladding=PLAIN, starter=(-1, -1))
    cut = {piece.course: piece for piece in pieces(plan(made)).all()}
    end = cut[13].left_end
    assert (end.shape, end.up, end.over, end.long) == (
        "rake", pytest.approx(8.25), pytest.approx(115.5), "bottom",
    )  # fmt: skip
    assert cut[13].notches == cut[13].rips == ()
    assert (
        cut_words(cut[13], made) == 'left square for 1", then rake 8-1/4" up, 115-1/2" over, long point below'
    )
    assert cut[14].rips == (Rip("top", pytest.approx(0), pytest.approx(3)),)
