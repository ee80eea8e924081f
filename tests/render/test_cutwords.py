"""Pieces, trim and order lines in the crew's words."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job, read_job
from evencourse.layout.model.job import Elevation, Opening, Point, Trim
from evencourse.layout.order.cut_list import TrimBar, TrimCut, TrimCuts
from evencourse.layout.order.order_items import Item
from evencourse.layout.order.trim_runs import TrimRun
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.pieces.piece import End, Notch, Piece, Rip
from evencourse.render.words.cut_words import curve_words, cut_words, reading_words, short_cut_words, told
from evencourse.render.words.piece_words import (
    item_words,
    marks_words,
    open_words,
    place_words,
    quantity_words,
    rounding_words,
    setting_words,
    trim_words,
)
from tests.layout.test_cutlist import BLANK
from tests.layout.walls import job, rectangle

JOB = job(Elevation("Front", rectangle(100, 0, 95)))
RAKE = End("rake", "channel", 0.25, 8, 16, "bottom")
PANELS = Item("panel", (), "main", 0, 150, "carton", 198, 24, 1, 9, 196, None)


def test_curves_are_scribed_or_laid_out_by_the_circle_round_the_casing() -> None:
    """By hand: an arch 30 wide in side casings of 3, rising 9 and a head casing of 3: half of 36 is 18, the
    rise 12, the radius (18 x 18 + 12 x 12) / 24 = 19-1/2. A round vent of 26 in casing of 2-1/2: 13 + 2-1/2
    = 15-1/2. On a wall whose pieces are all square nothing is said."""
    arch = Opening("G", "window", "arch", 20, 20, 30, 45, rise=9, trim=Trim(3, 0, 3))
    vent = Opening("O", "vent", "round", 60, 20, 26, 26, trim=Trim(2.5, 0, 0))
    wall = Elevation("Front", rectangle(100, 0, 95), openings=(arch, vent))
    curved = replace(BLANK, left_end=End("curve", "trim", 0.25, 8, 16, "bottom"))
    assert curve_words(wall, [BLANK, curved], JOB) == (
        "Curves, outlines: scribe in place along the casing, less the gap, or by its radius from so far "
        "below its top: G 1' 7-1/2\", O 1' 3-1/2\"."
    )
    assert curve_words(wall, [BLANK], JOB) == ""


@pytest.mark.parametrize(
    ("piece", "words"),
    [
        (BLANK, "square"),
        (replace(BLANK, left_end=RAKE), 'left rake 8" up, 16" over, long point below'),
        (
            replace(BLANK, right_end=replace(RAKE, long="top")),
            'right rake 8" up, 16" over, long point above',
        ),
        # A sill 2-1/4 in up the course: what is left below it is told: the top lies under the next course.
        (
            replace(BLANK, notches=(Notch("top", 14, 36.5, 5.75, 49, 2.25, False),)),
            'notch in the top down to 2-1/4", from 1\' 2" to 4\' 2-1/2"',
        ),
        (
            replace(BLANK, notches=(Notch("bottom", 0, 36, 3, 63.5, 5, True),)),
            'notch in the bottom 3" up, from 0" to 3\' 0", to its outline',
        ),
        (
            replace(BLANK, notches=(Notch("inside", 20, 6, 4, 73.5, 2, False),)),
            'hole from 2" to 6" up, from 1\' 8" to 2\' 2"',
        ),
        (replace(BLANK, rips=(Rip("top", 4, 4),), top=4), 'rip to 4"'),
        (replace(BLANK, rips=(Rip("top", 4, 5),)), 'rip to 4" at the left and 5" at the right'),
        (replace(BLANK, rips=(Rip("top", 8, 8),)), 'rip to 8": nail hem off'),
        (replace(BLANK, rips=(Rip("bottom", 3, 3),), bottom=3), 'rip 3" off the bottom'),
        (
            replace(BLANK, rips=(Rip("bottom", 3, 5),), bottom=3),
            'rip 3" at the left and 5" at the right off the bottom',
        ),
        # Uncut 8 in: 1 in off below and 3-1/2 in above leave 60 - 56-1/2 = 3-1/2.
        (
            replace(BLANK, rips=(Rip("bottom", 1, 1), Rip("top", 4.5, 4.5)), bottom=1, top=4.5),
            'rip 1" off the bottom; rip what is left to 3-1/2"',
        ),
        (
            replace(BLANK, rips=(Rip("bottom", 1, 1), Rip("top", 8, 8)), bottom=1),
            'rip 1" off the bottom; rip what is left to 7": nail hem off',
        ),
        # The bottom is ripped first: whoever cuts 2-1/4 in down to a notch before would cut the panel in two.
        (
            replace(
                BLANK,
                notches=(Notch("top", 14, 36.5, 5.75, 49, 2.25, False),),
                rips=(Rip("bottom", 3, 3),),
                bottom=3,
                left_end=RAKE,
            ),
            'rip 3" off the bottom; left rake 8" up, 16" over, long point below; '
            'notch in the top down to 2-1/4", measured after the rip, from 1\' 2" to 4\' 2-1/2"',
        ),
        # Nor is a notch told before the rip over it.
        (
            replace(
                BLANK,
                notches=(Notch("bottom", 14, 36.5, 2.25, 49, 3.75, False),),
                rips=(Rip("top", 6, 6),),
                top=6,
            ),
            'rip to 6"; notch in the bottom 2-1/4" up, from 1\' 2" to 4\' 2-1/2"',
        ),
        # What lies above the exposure of 8 in is not seen: its hem under a sill flush with the next line.
        (
            replace(BLANK, notches=(Notch("top", 14, 36.5, 1.25, 49, 8, False),)),
            'nail hem off the top, down to 8", from 1\' 2" to 4\' 2-1/2"',
        ),
    ],
)
def test_what_is_cut_on_a_piece(piece: Piece, words: str) -> None:
    assert cut_words(piece, JOB) == words


def test_a_list_says_that_pieces_are_cut_to_length_before_they_are_ripped() -> None:
    """Or the cutoff, which the next piece is cut from, would be ripped with it."""
    ripped = replace(BLANK, rips=(Rip("top", 4, 4),), top=4)
    assert reading_words(told(ripped, JOB)) == (
        "Cut to length, then rip, then notch. keep: so much stays, from the bottom edge, once ripped."
    )
    notched = replace(BLANK, notches=(Notch("top", 12, 12, 4, 49, 4, False),))
    assert reading_words(told(notched, JOB)).startswith("keep: ")


def test_what_is_left_open_at_ends_and_seams() -> None:
    """Panels: 1/4 in at each end, 3/8 at or below 40 F (Vinyl Siding Installation Manual)."""
    samples = Path(__file__).resolve().parents[2] / "samples"

    def said(name: str, **more: float) -> list[str]:
        found = replace(read_job(samples / f"{name}.toml"), **more)  # type: ignore[arg-type]
        return [open_words(found, cladding) for cladding in found.claddings.values()]

    # Foam-backed panels lap 1-1/4 in: 5/8 of recess from each (common practice).
    assert said("gabled-house") == ['1/4" gap at ends, laps of 1-1/4", cut with snips: no kerf']
    assert said("gabled-house", temperature=40.0) == [
        '3/8" gap at ends, laps of 1-1/4", cut with snips: no kerf'
    ]
    assert said("lap-cottage") == ['1/8" gap at ends and joints, 1/8" kerf']
    assert said("two-claddings") == ["3 mm gap at ends and joints, 3 mm kerf", "3 mm gap at ends"]


@pytest.mark.parametrize(
    ("end", "outline", "words"),
    [
        # An eave 4 in up the course: square to there, then 8 in 12 for the other 4 in.
        (
            End("rake", "channel", 0.25, 4, 6, "bottom"),
            ((0, 0), (100, 0), (100, 4), (94, 8), (6, 8), (0, 4)),
            'square for 4", then rake 4" up, 6" over, long point below',
        ),
        # From the butt to the top: nothing but the rake.
        (
            End("rake", "channel", 0.25, 8, 12, "bottom"),
            ((0, 0), (100, 0), (88, 8), (12, 8)),
            'rake 8" up, 12" over, long point below',
        ),
        # A roof below that ends 2 in up the course, 5 in 12 until there.
        (
            End("rake", "channel", 0.25, 2, 4.8, "top"),
            ((4.8, 0), (95.2, 0), (100, 2), (100, 8), (0, 8), (0, 2)),
            'rake 2" up, 4-13/16" over, then square, long point above',
        ),
        # One that begins 6 in up the course.
        (
            End("rake", "channel", 0.25, 2, 4.8, "top"),
            ((4.8, 0), (95.2, 0), (95.2, 6), (100, 8), (0, 8), (4.8, 6)),
            'square for 6", then rake 2" up, 4-13/16" over, long point above',
        ),
        # A peak: the rakes meet, and nothing is square above them.
        (
            End("rake", "channel", 0.25, 6, 9, "bottom"),
            ((41, 0), (59, 0), (50, 6)),
            'rake 6" up, 9" over, long point below',
        ),
    ],
)
def test_a_slope_over_part_of_a_course_says_where_it_begins_and_ends(
    end: End, outline: tuple[Point, ...], words: str
) -> None:
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    piece = replace(
        BLANK, polygon=outline, left=min(xs), right=max(xs), top=max(ys), left_end=end, right_end=end
    )
    assert cut_words(piece, JOB) == f"left {words}; right {words}"


def test_the_gables_first_raked_course_is_square_up_to_the_eave() -> None:
    """The eave at 100, courses of 8 from -1: course 13 begins at 95: 5 in square, 3 in at 8 in 12."""
    wall = Elevation("Gable", ((0, 0), (120, 0), (120, 100), (60, 140), (0, 100)))
    found = plan(job(wall, starter=(-1, -1)))
    (first,) = (piece for piece in pieces(found).all() if piece.course == 13)
    end = 'square for 5", then rake 3" up, 4-1/2" over, long point below'
    assert cut_words(first, found.job) == f"left {end}; right {end}"


def test_marks_that_follow_course_by_course_are_told_by_the_first_and_the_last() -> None:
    marks = ["S-4.1", "S-5.1", "S-6.1", "S-8.1", "S-9.1", "S-B10.2", "S-B11.2", "S-B12.2", "W-13.2"]
    assert marks_words(marks) == "S-4.1 to S-6.1, S-8.1, S-9.1, S-B10.2 to S-B12.2, W-13.2"
    assert marks_words(["S-9.1", "S-9.2", "S-10.2"]) == "S-9.1, S-9.2, S-10.2"
    assert marks_words([]) == ""


def test_where_trim_goes() -> None:
    run = TrimRun("channel", 0, "Street", "main", "side", "A", "right", 60)
    # The siding's right end lies against the opening's left side.
    assert place_words(run, JOB) == "Street, A side, left"
    assert place_words(replace(run, place="head", hand=None), JOB) == "Street, A head"
    post = TrimRun("outside corner post", 0, "Street", "main", "outside corner", None, "right", 97, "East")
    assert place_words(post, JOB) == "Street, right outside corner, shared with East"
    assert trim_words("trim board", 3.5, JOB) == 'trim board 3-1/2"'
    assert trim_words("furring", 0.25, JOB) == 'furring 1/4" thick'


def test_trim_that_runs_level_has_no_upper_length() -> None:
    """Posts by the Vinyl Siding Installation Manual, values from memory: 3/4 in below, 1/4 in above."""
    run = TrimRun("outside corner post", 0, "Street", "main", "outside corner", None, "right", 220)
    cuts = tuple(TrimCut(run, 120, part, 2) for part in (1, 2))
    post = TrimCuts("outside corner post", 0, 120, 0.75, (TrimBar(1, cuts, 0.0),))
    reach = 'A post reaches 3/4" below the siding and ends 1/4" short of its top.'
    level, alone = replace(post, kind="finish trim"), (TrimBar(1, (replace(cuts[0], parts=1),), 0.0),)
    assert setting_words(post, JOB) == f'{reach} At a joint the upper laps over the lower by 3/4".'
    assert setting_words(level, JOB) == 'At a joint one laps over the next by 3/4".'
    assert setting_words(replace(level, bars=alone), JOB) == setting_words(replace(level, lap=0), JOB) == ""
    assert setting_words(replace(post, lap=0), JOB) == reach


def test_an_order_line_says_how_it_came_about() -> None:
    assert item_words(PANELS, JOB) == "plain, 12' 6\""
    assert quantity_words(PANELS) == "9 cartons"
    assert rounding_words(PANELS, 0) == "198, 24 to a carton, rounded up to 9"
    assert rounding_words(PANELS, 0.05) == "198 + 5 % = 207.9, 24 to a carton, rounded up to 9"
    shingles = Item("shingles", (), "main", 0, 0, "square", 5.58, 1, 0.25, 5.75, None, None)
    assert quantity_words(shingles) == "5.75 squares"
    assert rounding_words(shingles, 0) == (
        "5.58 squares by the width of every course at the standard exposure; 23 bundles, 4 to a square, "
        "rounded up to 5.75"
    )
    # 13.9 m² are 5.99 bundles of 9.2903 m² / 4 (100 sq ft): 6 x 9.29 / 4 = 13.94; 6 x 2.32 would be 13.92
    metric = replace(shingles, unit="m²", count=13.9, step=9.290304 / 4, quantity=6 * 9.290304 / 4)
    assert rounding_words(metric, 0).endswith("; 6 bundles, 4 to 9.29 m², rounded up to 13.94")
    nails = Item("nails", (), "panel", 2.5, 0, "lb", 4550, 110, 1, 42, None, None)
    assert (item_words(nails, JOB), quantity_words(nails)) == ('roofing nails 2-1/2"', "42 lb")
    assert rounding_words(nails, 0) == "4550 nails, 110 to a pound, rounded up to 42"


def test_a_slope_that_ends_where_a_board_ceases_to_show_is_square_across_the_lap() -> None:
    """By hand: a base that climbs 12 in 240 from -24; course 2 shows from -18 to -12, where the base ends: 6
    up, 6 x 240 / 12 = 120 over, and the lap of 7-1/4 - 6 = 1-1/4 over it stays square."""
    text = """
[job]
name = "Sloping base"
[cladding]
profile = "fiber-cement-7.25"
[limits]
starter = ["-24", "-24"]
[[elevation]]
name = "Yard"
width = "240"
base = ["-24", "-12"]
eave = "60"
"""
    found = plan(parse_job(text))
    (piece,) = [one for one in pieces(found).faces[0].pieces if one.course == 2 and one.right_end.up]
    assert cut_words(piece, found.job) == 'right rake 6" up, 120" over, then square, long point above'
    assert short_cut_words(piece, found.job) == 'right rake 6" up 120" over, then square, long above'
