"""Seams and marks of pieces on the wall."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely import Polygon, box

from evencourse.layout.courses.planner import plan
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.render.drawing.drawing import Line, Path, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.placement import Box, Occupied
from evencourse.render.elevation.piece_marks import piece_marks, piece_outlines, seam_marks, short_mark
from tests.layout.walls import Elevation, job, rectangle
from tests.samples import planned

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


@pytest.mark.parametrize("seed", range(6))
def test_mark_stands_inside_its_piece_and_off_every_other(seed: int) -> None:
    found = planned(seed)
    mm = MM * found.job.inch
    for face in pieces(found).faces:
        shapes = {short_mark(piece): Polygon(piece.polygon, piece.holes) for piece in face.pieces}
        placed: list[Polygon] = []
        for mark in piece_marks(face, mm, Occupied(), None):
            assert isinstance(mark, Text)
            x, y = mark.at
            letters = box(x, y, x + text_width(mark.text, mark.height) * mm, y + mark.height * mm)
            assert shapes[mark.text].covers(letters)
            assert not any(letters.intersects(other) for other in placed)
            placed.append(letters)


def test_course_lower_than_the_lettering_has_no_marks() -> None:
    # 8 in at 1/16 in to the foot is 1.06 mm of paper; capitals are 2.5 mm.
    assert not list(piece_marks(hung(), MM * 4, Occupied(), None))


def test_mark_gives_way_to_what_is_there_and_keeps_to_the_part_that_shows() -> None:
    face = hung(140)
    first = next(iter(piece_marks(face, MM, Occupied(), None)))
    taken = Occupied([Box(0, 0, 30, 8)])
    moved = next(iter(piece_marks(face, MM, taken, None)))
    shown = next(iter(piece_marks(face, MM, Occupied(), Box(60, 0, 100, 40))))
    assert isinstance(first, Text) and isinstance(moved, Text) and isinstance(shown, Text)
    assert first.at[0] < 5 and moved.at[0] > 30 and shown.at[0] > 60


def test_mark_lies_over_the_datum_rather_than_nowhere() -> None:
    face = hung(140)
    # Levels of 0.6 mm at the foot and the middle of course 1: at 1/4 in to the foot 8 in are 4.2 mm, and no
    # gap has room for capitals of 2.5 mm with their air, 3.1 mm in all.
    levels = [Box(0, level - 0.3 * MM, 140, level + 0.3 * MM) for level in (0, 4)]
    over, off = (
        [mark.text for mark in piece_marks(face, MM, taken, None) if isinstance(mark, Text)]
        for taken in (Occupied(levels=levels), Occupied(list(levels)))
    )
    assert "1.1" in over and "1.1" not in off
    # A level that leaves room above it is kept clear of.
    low = [Box(0, -0.3 * MM, 140, 0.3 * MM)]
    first = next(iter(piece_marks(face, MM, Occupied(levels=low), None)))
    assert isinstance(first, Text) and first.at[1] > 0.6 * MM


def test_outlines_carry_mark_and_length() -> None:
    face = hung()
    outlines = [mark for mark in piece_outlines(face) if isinstance(mark, Path)]
    assert [dict(outline.facts)["piece"] for outline in outlines] == [piece.id for piece in face.pieces]
    assert all(outline.closed and outline.pen is not None and outline.pen.off for outline in outlines)
