"""What comes off the laps and nail hems that nobody sees, and what a rip leaves, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Job, Zone
from evencourse.layout.model.roof import Roof
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.pieces.piece import Piece, Rip
from evencourse.render.words.caution_words import piece_cautions
from evencourse.render.words.cut_words import cut_words
from evencourse.render.words.plan_words import starter_words
from tests.layout.walls import LAP, PLAIN, Elevation, job, rectangle, window

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
#: 9-1/4 in wide, shown 8 in: a lap of 1-1/4 in (Builder 3 & 2 Vol. 2, NAVEDTRA 14044: at least 1 in).
BOARD = replace(LAP, exposure=8, exposure_min=8, exposure_max=8)
#: 11-1/4 in wide, shown 8 in: a lap of 3-1/4 in.
WIDE = replace(BOARD, width=11.25)


def hung(wall: Job) -> dict[str, Piece]:
    return {piece.id: piece for piece in pieces(plan(wall)).all()}


def under_an_eave(eave: float, cladding: Cladding = PLAIN) -> Job:
    """12 ft wide, courses of 8 in from -1/2; a roof of 7 in all along at 56, so course 8 begins at 56-1/2."""
    porch = Roof("P", "roof", ((0, 56), (144, 56)), 7)
    face = Elevation("Front", rectangle(144, 0, eave), roofs=(porch,))
    return job(face, cladding=cladding, starter=(-0.5, -0.5))


@pytest.mark.parametrize(
    ("eave", "rips", "words"),
    [
        # Course 8 runs from 55-1/2 to 63-1/2: an eave at 60 leaves 60 - 56-1/2.
        (60, ((1, 1), (4.5, 4.5)), 'rip 1" off the bottom; rip what is left to 3-1/2"'),
        # An eave on the line at 63-1/2 takes the hem alone: 63-1/2 - 56-1/2.
        (63.5, ((1, 1), (8, 8)), 'rip 1" off the bottom; rip what is left to 7": nail hem off'),
    ],
)
def test_a_course_between_a_roof_and_an_eave_is_ripped_at_both_edges(
    eave: float, rips: tuple[tuple[float, float], ...], words: str
) -> None:
    wall = under_an_eave(eave)
    last = hung(wall)["F-8.1"]
    assert [(rip.edge, rip.left, rip.right) for rip in last.rips] == [
        ("bottom", *rips[0]),
        ("top", *rips[1]),
    ]
    assert last.notches == () and last.top - last.bottom == pytest.approx(eave - 56.5)
    assert cut_words(last, wall) == words


def test_a_course_under_a_sloping_eave_and_over_a_roof_is_ripped_at_both_edges() -> None:
    """An eave from 59 up to 61 over 144 in: 3-1/2 up the course at the left, 5-1/2 at the right, less 1."""
    level = under_an_eave(60)
    (face,) = level.elevations
    sloped = replace(level, elevations=(replace(face, outline=((0, 0), (144, 0), (144, 61), (0, 59))),))
    words = cut_words(hung(sloped)["F-8.1"], sloped)
    assert words == 'rip 1" off the bottom; rip what is left to 2-1/2" at the left and 4-1/2" at the right'


def wall(sill: float, cladding: Cladding = WIDE) -> Job:
    """12 ft wide, courses of 8 in from -1, one window from 36 to 72 in and from a sill's underside up."""
    face = Elevation("Front", rectangle(144, 0, 95), openings=(window("A", 36, sill, 36, 24),))
    return job(face, cladding=cladding, starter=(-1, -1))


@pytest.mark.parametrize(
    ("cladding", "sill", "told"),
    [
        # A sill 2 in up course 5 (31 to 39): course 4 stands up to 23 + 11-1/4 = 34-1/4, 1-1/4 in too high.
        (WIDE, 33, {4: 10.0, 5: 2.0}),
        # 3-1/4 in up: the lap of course 4 ends there.
        (WIDE, 34.25, {5: 3.25}),
        # Flush: all of the lap comes off, 3-1/4 in and 1-1/4 in; the hem of a panel likewise.
        (WIDE, 31, {4: 8.0}),
        (BOARD, 31, {4: 8.0}),
        (PLAIN, 31, {4: 8.0}),
        # Inside course 4, below its lap: one notch from the top, not two.
        (BOARD, 28, {4: 5.0}),
    ],
)
def test_the_hidden_top_under_a_sill_is_cut_down_to_it(
    cladding: Cladding, sill: float, told: dict[int, float]
) -> None:
    found = {
        piece.course: notch.rest
        for piece in hung(wall(sill, cladding)).values()
        for notch in piece.notches
        if notch.edge == "top"
    }
    assert found == pytest.approx(told)


def test_a_cut_in_the_lap_has_its_place_in_words() -> None:
    """From 36 to 72 in and 1/8 in wider at each side, the piece beginning 1/8 in from the corner."""
    made = hung(wall(33))
    assert cut_words(made["F-4.1"], wall(33)) == 'notch in the top down to 10", from 2\' 11-3/4" to 6\' 0"'
    flush = hung(wall(31, BOARD))
    assert cut_words(flush["F-4.1"], wall(31, BOARD)) == (
        'lap off the top, down to 8", from 2\' 11-3/4" to 6\' 0"'
    )


def test_under_a_flush_eave_a_band_and_a_roof_the_whole_top_comes_off() -> None:
    """Eave at 95 in: twelve courses of 8 in from -1; a band board from 47 in; a deck's underside at 47 in."""
    plain = hung(job(Elevation("Front", rectangle(144, 0, 95)), cladding=BOARD, starter=(-1, -1)))
    ripped = [(mark, piece.rips) for mark, piece in plain.items() if piece.rips]
    assert ripped == [("F-12.1", (Rip("top", 8, 8),))]
    deck = Roof("D", "deck", ((0, 57), (144, 57)), 10)
    under = hung(
        job(Elevation("Front", rectangle(144, 0, 95), roofs=(deck,)), cladding=BOARD, starter=(-1, -1))
    )
    assert under["F-6.1"].rips == (Rip("top", 8, 8),)
    zones = (Zone("main", 47, 7.25), Zone("main", None, 0))
    banded = hung(
        job(Elevation("Front", rectangle(144, 0, 95), zones=zones), cladding=BOARD, starter=(-1, -1))
    )
    assert banded["F-6.1"].rips == (Rip("top", 8, 8),)


@pytest.mark.long
def test_a_board_ripped_at_its_bottom_keeps_its_width_less_that() -> None:
    """A base 3-1/4 in up a course of 7-1/4 in boards, which hang 1 in below it: 2-1/4 come off, 5 stay."""
    board = replace(LAP, width=7.25, exposure=6, exposure_min=6, exposure_max=6)
    # A step at 8-1/4, inside course 2 from 5 to 11 in: what lies right of the seam over it is ripped.
    outline = ((0, 0), (72, 0), (72, 8.25), (400, 8.25), (400, 95), (0, 95))
    found = job(Elevation("Front", outline), cladding=board, starter=(-1, -1))
    ripped = [piece for piece in hung(found).values() if any(rip.edge == "bottom" for rip in piece.rips)]
    assert {cut_words(piece, found) for piece in ripped} == {'rip 2-1/4" off the bottom, keep 5"'}


def test_the_sample_house_keeps_what_is_left_of_the_whole_board() -> None:
    """Old house, 7-1/4 in boards: a base 1-7/8 in up a course, and boards hang 1 in below it.

    So 7/8 comes off, and 6-3/8 stays. It is the whole width less what comes off, not the exposure less it.
    """
    found = read_job(SAMPLES / "old-house.toml")
    said = [cut_words(piece, found) for piece in hung(found).values()]
    assert 'rip 7/8" off the bottom, keep 6-3/8"' in said


def test_a_strip_that_nails_cannot_hold_is_no_piece_but_told() -> None:
    """A window 1-1/8 in from the corner: less 1/8 at each end 7/8 in is left beside it, in courses 5 to 7."""
    face = Elevation("Front", rectangle(144, 0, 95), openings=(window("A", 1.125, 31, 36, 24),))
    planned = plan(job(face, cladding=BOARD, starter=(-1, -1)))
    found = pieces(planned).faces[0]
    assert [(piece.id, piece.left) for piece in found.pieces if piece.course == 5] == [("F-5.1", 37.125)]
    assert piece_cautions(found, planned) == (
        'Courses 5 to 7: no piece is cut for 1-1/8" of wall at 0" from the left, it could not be held; let '
        "the trim cover it.",
    )
    wide = replace(face, openings=(replace(face.openings[0], left=1.25),))
    held = pieces(plan(job(wide, cladding=BOARD, starter=(-1, -1)))).faces[0]
    assert [piece.length for piece in held.pieces if piece.course == 5 and piece.left == 0] == [1]
    assert not [caution for caution in held.cautions if caution.kind == "narrow"]


def test_a_ripped_first_course_has_no_chalk_line() -> None:
    """Base at -4 in, panels of 8 in that must start at -10: 6 in off the bottom of course 1, no strip."""
    face = Elevation("Front", rectangle(144, -4, 95))
    ripped = plan(job(face, starter=(-10, -10)))
    assert [(base.result, base.off) for base in ripped.elevations[0].bases] == [("rip", 6)]
    assert ripped.course_sets["main"].chalk_line is None
    assert starter_words(ripped.course_sets["main"], ripped.job) == 'starter 10" below the datum'
    whole = plan(job(face, starter=(-5, -5)))
    assert starter_words(whole.course_sets["main"], whole.job).endswith('chalk line 3" below')
