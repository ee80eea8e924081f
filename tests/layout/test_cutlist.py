"""The cut list: what is alike, in which order, and every bar for the saw."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation
from evencourse.layout.order.cut_list import CutList, alike, cut_list
from evencourse.layout.order.trims import trims
from evencourse.layout.pieces.all_pieces import Pieces, pieces
from evencourse.layout.pieces.piece import End, Notch, Piece, Rip
from tests.layout.walls import job, rectangle, window
from tests.samples import SAMPLES, label, planned

SQUARE = End("square", "channel", 0.25)
BLANK = Piece(
    id="F-1.1", face="Front", course_set="main", cladding="main", course=1,
    left=0, right=100, bottom=0, top=8,
    polygon=((0, 0), (100, 0), (100, 8), (0, 8)), holes=(), length=99.5, short=99.5, start=0.25, end=99.75,
    left_end=SQUARE, right_end=SQUARE, notches=(), rips=(), exposure=8, foot=0, stock=1, cut=1, order=1,
    held=True, source="new", leaves=0, thrown=50.5,
)  # fmt: skip
JOB = job(Elevation("Front", rectangle(100, 0, 95)))


def made(planned: Plan) -> tuple[CutList, Pieces]:
    cut = pieces(planned)
    return cut_list(planned, cut, trims(planned)), cut


def test_pieces_alike_within_the_tapes_mark_are_one() -> None:
    """On a tape of sixteenths 99-1/2 and 99-33/64 read alike, 99-1/2 and 99-9/16 do not."""
    key = alike(JOB, BLANK)
    assert alike(JOB, replace(BLANK, length=99.5 + 1 / 64)) == key
    assert alike(JOB, replace(BLANK, length=99.5 + 1 / 16)) != key
    assert alike(JOB, replace(BLANK, id="F-9.1", course=9, order=5, stock=7)) == key
    assert alike(JOB, replace(BLANK, left_end=replace(SQUARE, meets="seam", gap=0))) == key


@pytest.mark.parametrize(
    "other",
    [
        replace(BLANK, cladding="other"),
        replace(BLANK, left_end=End("rake", "channel", 0.25, 8, 16, "bottom")),
        replace(BLANK, right_end=End("rake", "channel", 0.25, 8, 16, "bottom")),
        replace(BLANK, notches=(Notch("top", 10, 20, 3, 70, 5, False),)),
        replace(BLANK, rips=(Rip("top", 5, 5),)),
    ],
)
def test_another_siding_end_notch_or_rip_is_not_alike(other: Piece) -> None:
    assert alike(JOB, other) != alike(JOB, BLANK)


def test_a_rake_that_begins_higher_up_is_not_alike() -> None:
    """4 in up, 6 in over: from the butt with the rest square above it, or from 4 in up."""
    rake = End("rake", "channel", 0.25, 4, 6, "bottom")
    low = ((0, 0), (100, 0), (94, 4), (94, 8), (0, 8))
    high = ((0, 0), (100, 0), (100, 4), (94, 8), (0, 8))
    low_key, high_key = (alike(JOB, replace(BLANK, polygon=sides, right_end=rake)) for sides in (low, high))
    assert low_key != high_key


def test_which_hand_and_which_edge_count() -> None:
    rake = End("rake", "channel", 0.25, 8, 16, "bottom")
    left, right = replace(BLANK, left_end=rake), replace(BLANK, right_end=rake)
    assert alike(JOB, left) != alike(JOB, right)
    top, bottom = (replace(BLANK, notches=(Notch(e, 10, 20, 4, 70, 4, False),)) for e in ("top", "bottom"))
    assert alike(JOB, top) != alike(JOB, bottom)
    assert alike(JOB, replace(BLANK, rips=(Rip("top", 5, 5),))) != alike(
        JOB, replace(BLANK, rips=(Rip("top", 5, 6),))
    )


def test_a_notch_is_measured_as_a_difference_of_heights_on_the_tape() -> None:
    """A head at 79 over a butt line at 73-17/32, 73-9/16 on the tape: 5-7/16, not 5-15/32 rounded up."""
    low = 73 + 17 / 32
    notch = Notch("bottom", 10, 20, 79 - low, 70, 2, False)
    here = replace(BLANK, bottom=low, top=low + 7.5, notches=(notch,))
    there = replace(BLANK, bottom=73, top=80, notches=(replace(notch, depth=5 + 7 / 16),))
    assert alike(JOB, here) == alike(JOB, there)


def test_curved_pieces_are_alike_only_when_their_outlines_are() -> None:
    notch = Notch("bottom", 10, 20, 4, 70, 4, True)
    outline = ((0, 0), (10, 0), (30, 4), (30, 0), (100, 0), (100, 8), (0, 8))
    mirrored = ((0, 0), (10, 0), (10, 4), (30, 0), (100, 0), (100, 8), (0, 8))
    one, other = (replace(BLANK, notches=(notch,), polygon=points) for points in (outline, mirrored))
    assert alike(JOB, one) != alike(JOB, other)
    moved = replace(one, polygon=tuple((x + 50, y + 16) for x, y in outline), left=50, bottom=16, top=24)
    assert alike(JOB, one) == alike(JOB, moved)


def test_a_wall_by_hand() -> None:
    """20 ft of 8 in panels, 12 ft 6 in long, window 36 wide 60 in from the left, six courses beside it.

    Gaps of 1/4 taken off: six runs of 59-1/2, six of 143-1/2 and six of 239-1/2. Every seam adds a lap of
    1 in. What 18 panels hold besides is left over.
    """
    wall = Elevation("Front", rectangle(240, 0, 95), openings=(window("A", 60, 31, 36, 48),))
    found, cut = made(plan(job(wall, starter=(-1, -1))))
    (face,), (stock,) = found.faces, found.stock
    assert face.lines[0].piece.order == 1
    assert [bar.number for bar in stock.bars] == list(range(1, 19))
    needed = 6 * (59.5 + 143.5 + 239.5) + len(cut.faces[0].seams)
    assert sum(line.piece.length * line.count for line in face.lines) == pytest.approx(needed, abs=0.5)
    assert sum(bar.left_over for bar in stock.bars) == pytest.approx(18 * 150 - needed)


def agrees(planned: Plan) -> None:
    found, cut = made(planned)
    every = [piece.id for piece in cut.all()]
    assert Counter(mark for face in found.faces for line in face.lines for mark in line.marks) == Counter(
        every
    )
    by_mark = {piece.id: piece for piece in cut.all()}
    for face, part in zip(found.faces, cut.faces, strict=True):
        firsts = [line.piece.order for line in face.lines]
        assert firsts == sorted(firsts)
        for line in face.lines:
            assert {by_mark[mark].face for mark in line.marks} == {part.face}
            orders = [by_mark[mark].order for mark in line.marks]
            assert orders == sorted(orders)
            assert all(abs(by_mark[m].length - line.piece.length) <= planned.job.round for m in line.marks)
    sawn = [piece.id for stock in found.stock for bar in stock.bars for piece in bar.cuts]
    assert Counter(sawn) == Counter(piece.id for piece in cut.all() if piece.stock is not None)
    for stock in found.stock:
        for bar in stock.bars:
            assert [piece.cut for piece in bar.cuts] == list(range(1, len(bar.cuts) + 1))
            assert {piece.stock for piece in bar.cuts} == {bar.number}
            used = sum(piece.length for piece in bar.cuts) + (len(bar.cuts) - 1) * stock.kerf
            assert used <= stock.stock + 1e-6
    for trim, cuts in zip(trims(planned), found.trims, strict=True):
        lengths = Counter(round(cut.length, 6) for bar in cuts.bars for cut in bar.cuts)
        assert lengths == Counter(round(piece.length, 6) for piece in trim.cutting.pieces)
        assert all(1 <= cut.part <= cut.parts for bar in cuts.bars for cut in bar.cuts)


@pytest.mark.parametrize("sample", SAMPLES, ids=label)
def test_every_piece_of_a_sample_stands_once_on_each_list(sample: Path) -> None:
    agrees(planned(sample))


@pytest.mark.parametrize("seed", range(6))
def test_every_piece_of_a_house_stands_once_on_each_list(seed: int) -> None:
    agrees(planned(seed))
