"""Seams and marks of pieces on the wall."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise
from types import SimpleNamespace

import pytest
from shapely import Point, Polygon, box

from evencourse.layout.courses.planner import plan
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.render.building.piece_lines import piece_outlines, seam_marks
from evencourse.render.drawing.crowd import Crowd
from evencourse.render.drawing.drawing import Leader, Line, Path, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.placement import Box, Occupied
from evencourse.render.elevation.piece_marks import PieceMarking, PieceMarks
from evencourse.render.elevation.piece_runs import plumb_run
from evencourse.render.elevation.shown_piece import short_mark
from tests.houses import random_house
from tests.layout.walls import Elevation, job, rectangle

#: Drawing units in a millimetre of paper at 1/4 in to the foot.
MM = 48 / 25.4


def hung(width: float = 400, **more: object):  # type: ignore[no-untyped-def]
    face = Elevation("Front", rectangle(width, 0, 40), **more)  # type: ignore[arg-type]
    return pieces(plan(job(face, starter=(0, 0)))).faces[0]


def test_seam_is_a_line_over_the_height_of_its_course() -> None:
    face = hung()
    lines = [mark for mark in seam_marks(face, MM) if isinstance(mark, Line)]
    assert [(line.start, line.end) for line in lines] == [
        ((seam.x, seam.bottom), (seam.x, seam.top)) for seam in face.seams
    ]
    assert lines and all(line.end[1] - line.start[1] == pytest.approx(8) for line in lines)


def test_shadow_lies_on_the_piece_behind() -> None:
    face = hung(entrance=200)
    shadows = [mark for mark in seam_marks(face, MM) if isinstance(mark, Path)]
    assert {seam.front for seam in face.seams} == {"left", "right"}
    for seam, shadow in zip(face.seams, shadows, strict=True):
        xs = {x for x, _ in shadow.points}
        assert (min(xs) == seam.x) if seam.front == "left" else (max(xs) == seam.x)


def test_boards_butt_without_a_shadow() -> None:
    face = hung()
    boards = replace(face, seams=tuple(replace(seam, front="butt") for seam in face.seams))
    assert all(isinstance(mark, Line) for mark in seam_marks(boards, MM))


def marked(face, mm: float, taken: Occupied | None = None, window: Box | None = None) -> PieceMarks:  # type: ignore[no-untyped-def]
    marking = PieceMarking(face, mm, taken or Occupied(), window)
    marking.narrow()
    return marking.others()


def letters(mark: Text, mm: float) -> Polygon:
    x, y = mark.at
    return box(x, y, x + text_width(mark.text, mark.height) * mm, y + mark.height * mm)


def test_marks_of_low_courses_stand_beside_each_other() -> None:
    """Five courses of 8 in, 2.65 mm each on the paper: marks of 2.5 mm right over each other would touch."""
    mm = 8 / 2.65
    places = {mark.text: mark.at for mark in marked(hung(400), mm).marks if isinstance(mark, Text)}
    lefts = [places[f"{course}.1"][0] for course in range(1, 6)]
    assert all(abs(one - other) > 4 * mm for one, other in pairwise(lefts))


def test_no_line_from_mark_to_mark_is_as_short_as_a_tick() -> None:
    """Five courses of 8 in, 1.3 mm each: 6.5 mm less two marks of 2.6 mm would leave a line of 1.3 mm."""
    mm = 8 / 1.3
    lines = [mark for mark in marked(hung(140), mm).marks if isinstance(mark, Line)]
    assert all(line.end[1] - line.start[1] >= 2.4 * mm for line in lines)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(6))
def test_mark_stands_in_its_piece_where_the_course_is_high_enough_and_off_every_other(seed: int) -> None:
    planned = plan(random_house(seed))
    mm = MM / 2 * planned.job.inch  # half an inch to the foot: courses of 5 in are 5.3 mm, capitals 2.5 mm
    for face in pieces(planned).faces:
        shapes = {short_mark(piece): Polygon(piece.polygon, piece.holes) for piece in face.pieces}
        found = marked(face, mm)
        texts = [mark for mark in found.marks if isinstance(mark, Text)]
        led = [mark.points[-1] for mark in found.marks if isinstance(mark, Leader)]
        for mark in texts:
            near = letters(mark, mm).buffer(mm)
            if mark.text in shapes and not any(near.covers(Point(end)) for end in led):
                # In a ripped course it may stand over the butt lines, but never off its own piece.
                x, y = mark.at[0], mark.at[1] + mark.height / 2 * mm
                assert shapes[mark.text].buffer(1e-6).covers(Point(x, y)), mark.text
        assert found.told == {piece.id for piece in face.pieces}
        for one, other in combinations([letters(mark, mm) for mark in texts], 2):
            assert not one.intersects(other)


def test_courses_lower_than_the_lettering_are_told_by_the_first_and_the_last_of_a_run() -> None:
    # 8 in at 1/8 in to the foot is 2.1 mm of paper, a mark with its air 2.9: five courses of one piece each
    # begin at the left end, so that the first and the last are lettered and a line joins them.
    found = marked(hung(140), MM * 2)
    assert sorted(mark.text for mark in found.marks if isinstance(mark, Text)) == ["1.1", "5.1"]
    (line,) = (mark for mark in found.marks if isinstance(mark, Line))
    assert line.end[1] - line.start[1] > 8
    assert not found.missing and len(found.told) == 5


def test_a_single_mark_in_a_low_course_stands_right_of_its_seam() -> None:
    face = hung()
    found = marked(face, MM * 2)
    texts = {mark.text: mark for mark in found.marks if isinstance(mark, Text)}
    for seam in face.seams:
        text = seam.right.rpartition("-")[2]
        if text in texts:
            assert 0 < texts[text].at[0] - seam.x < 12 * MM * 2
    assert not found.missing


def test_no_mark_stands_over_courses_too_low_to_be_told_apart() -> None:
    # 8 in at 1/32 in to the foot are half a millimetre: runs and leaders alone.
    found = marked(hung(), MM * 8)
    texts = [mark for mark in found.marks if isinstance(mark, Text)]
    lines = [mark for mark in found.marks if isinstance(mark, Leader | Line)]
    assert len(texts) <= 2 * len(lines)


def test_mark_gives_way_to_what_is_there_and_keeps_to_the_part_that_shows() -> None:
    face = hung(140)

    def first(*given: object) -> Text:
        return next(
            mark for mark in marked(face, MM, *given).marks if isinstance(mark, Text) and mark.text == "1.1"
        )

    assert first().at[0] < 5
    assert first(Occupied([Box(0, 0, 30, 8)])).at[0] > 30
    assert first(None, Box(60, 0, 100, 40)).at[0] > 60


def test_a_piece_that_hardly_shows_is_marked_on_the_sheet_with_the_rest_of_it() -> None:
    face = hung(140)
    assert not marked(face, MM, None, Box(120, 0, 140, 40)).told
    assert marked(face, MM, None, Box(0, 0, 120, 40)).told == {piece.id for piece in face.pieces}


def test_outlines_carry_mark_and_length() -> None:
    face = hung()
    outlines = [mark for mark in piece_outlines(face) if isinstance(mark, Path)]
    assert [dict(outline.facts)["piece"] for outline in outlines] == [piece.id for piece in face.pieces]
    assert all(outline.closed and outline.pen is not None and outline.pen.off for outline in outlines)


def test_a_run_of_two_pieces_far_apart_has_no_mark_where_neither_is() -> None:
    # 60 of wall between them, and lettering of about 10 plumb in its middle: no piece to stand on
    parts = [
        SimpleNamespace(text=text, bottom=bottom, top=bottom + 4, middle=bottom + 2)
        for text, bottom in (("1.1", 0), ("9.1", 64))
    ]
    assert plumb_run(parts, 0.5, Crowd()) == []  # type: ignore[arg-type]
