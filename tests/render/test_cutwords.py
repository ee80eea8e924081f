"""Pieces, trim and order lines in the crew's words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.job import Elevation
from layout.orderitems import Item
from layout.piece import End, Notch, Piece, Rip
from layout.trims import TrimRun
from render.cutwords import (
    cut_words,
    item_words,
    marks_words,
    place_words,
    quantity_words,
    rounding_words,
    trim_words,
)
from tests.layout.test_cutlist import BLANK
from tests.layout.walls import job, rectangle

JOB = job(Elevation("Front", rectangle(100, 0, 95)))
RAKE = End("rake", "channel", 0.25, 8, 16, "bottom")
PANELS = Item("panel", (), "main", 0, 150, "carton", 198, 24, 1, 9, 196, None)


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
        (replace(BLANK, rip=Rip("top", 4, 4), top=4), 'rip to 4"'),
        (replace(BLANK, rip=Rip("top", 4, 5)), 'rip to 4" at the left, 5" at the right'),
        (replace(BLANK, rip=Rip("bottom", 5, 5), bottom=3), 'rip the bottom off, 5" left'),
    ],
)
def test_what_is_cut_on_a_piece(piece: Piece, words: str) -> None:
    assert cut_words(piece, JOB) == words


def test_marks_that_follow_course_by_course_are_told_by_the_first_and_the_last() -> None:
    marks = ["S-4.1", "S-5.1", "S-6.1", "S-8.1", "S-9.1", "S-B10.2", "S-B11.2", "S-B12.2", "W-13.2"]
    assert marks_words(marks) == "S-4.1 to S-6.1, S-8.1, S-9.1, S-B10.2 to S-B12.2, W-13.2"
    assert marks_words(["S-9.1", "S-9.2", "S-10.2"]) == "S-9.1, S-9.2, S-10.2"
    assert marks_words([]) == ""


def test_where_trim_goes() -> None:
    run = TrimRun("channel", 0, "Street", "main", "side", "A", "right", 60)
    # The siding's right end lies against the opening's left side.
    assert place_words(run) == "Street, A side, left"
    assert place_words(replace(run, place="head", hand=None)) == "Street, A head"
    post = TrimRun("outside corner post", 0, "Street", "main", "outside corner", None, "right", 97, "East")
    assert place_words(post) == "Street, right outside corner, shared with East"
    assert trim_words("trim board", 3.5, JOB) == 'trim board 3-1/2"'
    assert trim_words("furring", 0.25, JOB) == 'furring 1/4" thick'


def test_an_order_line_says_how_it_came_about() -> None:
    assert item_words(PANELS, JOB) == "plain, 12' 6\""
    assert quantity_words(PANELS) == "9 cartons"
    assert rounding_words(PANELS, 0) == "198, 24 in a carton, up to 9"
    assert rounding_words(PANELS, 0.05) == "198 + 5 % = 207.9, 24 in a carton, up to 9"
    shingles = Item("shingles", (), "main", 0, 0, "square", 5.58, 1, 0.25, 5.75, None, None)
    assert quantity_words(shingles) == "5.75 squares"
    assert rounding_words(shingles, 0) == "5.58 squares, in bundles of 0.25, up to 5.75"
    nails = Item("nails", (), "panel", 2.5, 0, "lb", 4550, 110, 1, 42, None, None)
    assert (item_words(nails, JOB), quantity_words(nails)) == ('roofing nails 2-1/2"', "42 lb")
    assert rounding_words(nails, 0) == "4550 nails, 110 in a pound, up to 42"
