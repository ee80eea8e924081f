"""Carrying on, in the crew's words and on the sheet."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.results.plan_file import plan_dict
from evencourse.render.drawing.drawing import Document, Line
from evencourse.render.drawing.pens import BUILT, BUTT
from evencourse.render.drawing.placement import Box
from evencourse.render.elevation.elevation import FaceToDraw, elevation_drawing
from evencourse.render.formats.pdf import pdf
from evencourse.render.sheets.elevation_sheets import job_sheets
from evencourse.render.sheets.notes import face_notes, face_words
from evencourse.render.words.as_built_words import (
    carried_words,
    change_heading,
    change_words,
    hangs_words,
    hung_words,
    levelled_words,
    sheet_words,
)
from evencourse.render.words.result import Result
from tests.layout.test_asbuilt import built, laps
from tests.layout.walls import LAP, PLAIN, Elevation, job, rectangle, window
from tests.render.sheetcheck import check_pdf
from tests.samples import planned

SAMPLE = Path(__file__).resolve().parents[2] / "samples" / "carried-on.toml"


def main(planned: Plan) -> list[str]:
    return list(carried_words(planned.course_sets["main"], planned))


def test_the_jump_per_course_is_stated() -> None:
    """By hand: see ``tests/layout/test_asbuilt.py``: 6 courses of 6-7/8 over some of 7-1/8, then 3 of 7."""
    planned = plan(laps(built((7, 42.75, 42.75))))
    assert hangs_words(planned.course_sets["main"], planned) == (
        'up to course 7, whose bottom is 3/4" above plan'
    )
    assert main(planned) == [
        'courses 7 to 12 show 6-7/8", 1/8" less than planned and 1/4" less than the course below',
        'courses 13 to 15 show 7", 1/8" more than the course below',
        "from butt line 13 up the lines are as first planned",
    ]


def test_what_hangs_as_planned_is_told_so() -> None:
    planned = plan(laps(built((7, 42.0, 42.0))))
    assert hangs_words(planned.course_sets["main"], planned) == "up to course 7, as planned"
    assert main(planned) == [
        'courses 7 to 15 show 7"',
        "from butt line 8 up the lines are as first planned",
    ]


def test_an_exposure_off_the_tapes_marks_is_about_what_it_shows() -> None:
    """By hand: from 42-1/2 to 84 six courses of 6-11/12 in."""
    planned = plan(laps(built((7, 42.5, 42.5))))
    assert main(planned)[0].startswith('courses 7 to 12 show about 6-15/16", about 1/16" less than planned')


def test_ends_brought_back_are_told_by_their_courses() -> None:
    planned = plan(laps(built((7, 42.1875, 41.8125))))
    face = planned.elevations[0]
    assert list(hung_words(face, planned)) == [
        "course 7 is installed at 3' 6-3/16\" left, 3' 5-13/16\" right"
    ]
    assert list(levelled_words(face, planned)) == [
        'left end is 3/16" high at course 7: courses 7 to 8 show 3/32" less there',
        'right end is 3/16" low at course 7: courses 7 to 8 show 3/32" more there',
    ]


def test_a_face_that_is_level_but_behind_is_told_in_one_sentence() -> None:
    side = Elevation("Side", rectangle(150, 0, 105))
    lines = (
        *built((7, 42.0, 42.0), (4, 21.125, 21.125)).courses,
        *built((4, 21.0, 21.0), face="Side").courses,
    )
    planned = plan(replace(laps(AsBuilt(lines)), elevations=(*laps(AsBuilt()).elevations, side)))
    assert list(levelled_words(planned.elevations[1], planned)) == [
        'the whole face is 1/16" low at course 4: course 4 shows 1/16" more'
    ]


def test_panels_stay_as_they_hang() -> None:
    face = Elevation("Front", rectangle(240, 0, 95), openings=(window("A", 60, 31, 36, 48),))
    planned = plan(
        replace(
            job(face, cladding=PLAIN, starter=(-1, -1)),
            as_built=AsBuilt((BuiltCourse("Front", "main", 4, 23.25, 22.75),)),
        )
    )
    assert list(levelled_words(planned.elevations[0], planned)) == [
        'left end is 1/4" high at course 4, and stays so: panels interlock',
        'right end is 1/4" low at course 4, and stays so: panels interlock',
    ]


def test_a_change_is_told_from_what_was_planned_to_what_to_do() -> None:
    planned = plan(laps(built((7, 42.75, 42.75))))
    (change,) = planned.changes
    assert change_words(change, planned) == (
        "A sill: planned flush, course 4 ends there; "
        'now course 4 is installed: it must be cut off 6-5/8" up from its bottom; '
        "if it is not, cut it on the wall"
    )


def test_a_line_out_of_level_is_drawn_as_it_hangs() -> None:
    """By hand: 42-3/16 at x = 0 and 41-13/16 at x = 240; cut by the window, so in parts along that slope."""
    planned = plan(laps(built((7, 42.1875, 41.8125))))
    marks = elevation_drawing(
        planned, planned.elevations[0], Result(planned).instructions.faces[0], 1 / 48
    ).marks
    hung = [mark for mark in marks if isinstance(mark, Line) and mark.pen is BUILT]
    assert {dict(mark.facts)["number"] for mark in hung} == {7}
    for mark in hung:
        for x, y in (mark.start, mark.end):
            assert y == pytest.approx(42.1875 - 0.375 * x / 240)
    assert {end[0] for mark in hung for end in (mark.start, mark.end)} == {0, 60, 96, 240}
    above = [m for m in marks if isinstance(m, Line) and m.pen is BUTT and dict(m.facts)["number"] == 8]
    assert min(y for mark in above for _, y in (mark.start, mark.end)) == pytest.approx(48.90625)
    level = [m for m in marks if isinstance(m, Line) and m.pen is BUTT and dict(m.facts)["number"] == 10]
    assert {y for mark in level for _, y in (mark.start, mark.end)} == {63.0}


def test_the_ladder_reads_the_left_end() -> None:
    planned = plan(laps(built((7, 42.1875, 41.8125))))
    steps = {
        rung.name: rung.level
        for rung in FaceToDraw(planned, planned.elevations[0], Result(planned).instructions.faces[0])
        .part(None, 1 / 48)
        .rungs
    }
    assert steps["7"] == "3' 6-3/16\""
    assert steps["10"] == "5' 3\""


def test_the_notes_of_a_sheet_say_what_hangs_first() -> None:
    planned = plan(laps(built((7, 42.1875, 41.8125))))
    notes = face_notes(face_words(Result(planned).instructions.faces[0]), Box(10, 10, 270, 200))
    assert notes.left[0][0] == "As built, then edges not met, worst first"
    assert notes.left[1][0] == "Course 7 is installed at 3' 6-3/16\" left, 3' 5-13/16\" right"
    free = plan(laps(AsBuilt()))
    assert (
        face_notes(face_words(Result(free).instructions.faces[0]), Box(10, 10, 270, 200)).left[0][0]
        == "Edges not met, worst first"
    )


def test_the_sheet_names_every_change_once() -> None:
    found = planned(SAMPLE)
    told = [words for words in sheet_words(found.elevations[0], found) if words.startswith("Changed")]
    assert told == [
        "Changed, see the notes at the drawing: A sill planned flush, course 5 ends there; "
        "B sill planned flush, course 5 ends there"
    ]


@pytest.mark.parametrize("paper", ["letter", "a3"])
def test_the_sheets_of_a_job_carried_on_have_nothing_over_anything(paper: str) -> None:
    found = planned(SAMPLE)
    sheets = [sheet for face in job_sheets(Result(found), paper) for sheet in face]
    assert check_pdf(pdf(Document("Carried on", tuple(sheets))), 5.0) == []


def test_uneven_shares_are_told_course_by_course() -> None:
    """By hand: as in ``tests/layout/test_asbuilt.py``: none in course 2, 1/16 in each of the next two."""
    planned = plan(laps(built((7, 42.1875, 41.8125))))
    face = planned.elevations[0]
    uneven = replace(face.levelled[1], shares=(0.0, -0.0625, -0.0625, -0.03125), left_over=-0.03125)
    assert list(levelled_words(replace(face, levelled=(uneven,)), planned)) == [
        'right end is 3/16" low at course 7: courses 8 to 9 show 1/16" more there, '
        'course 10 shows 1/32" more there; 1/32" remains'
    ]


def test_a_head_lost_is_told_without_an_end_of_its_course() -> None:
    """By hand: line 11 of panels hangs 3/8 high at 79-3/8; course 10, from 71-3/8, is cut 7-5/8 up."""
    face = Elevation("Front", rectangle(240, 0, 95), openings=(window("A", 60, 31, 36, 48),))
    measured = job(face, cladding=PLAIN, starter=(-1, -1))
    planned = plan(replace(measured, as_built=AsBuilt((BuiltCourse("Front", "main", 4, 23.375, 23.375),))))
    head = next(one for one in planned.changes if one.after is not None and one.after.edge == "head")
    assert change_words(head, planned).startswith(
        'A head: planned flush, course 11; now sliver 3/8": cut 7-5/8" off the bottom of course 10'
    )


def test_more_courses_than_were_planned_are_told_without_a_difference() -> None:
    planned = plan(laps(built((17, 104.75, 104.75))))
    assert hangs_words(planned.course_sets["main"], planned) == "up to course 17"


def test_a_lap_that_is_short_is_told_with_how_much() -> None:
    """By hand: boards of 7 in at most; line 8 hangs 1/8 high at 49-1/8: 7 courses of 7-1/56, 1/56 (about
    1/64) over. At 48-1/8 they show 6-7/8, 1/16 under 6-15/16; course 1 alone up to 7-1/2 is 1/2 over.
    """
    siding = {"main": replace(LAP, exposure_min=6.9375, exposure_max=7.0)}
    over = plan(replace(laps(built((8, 49.125, 49.125))), claddings=siding))
    assert list(hung_words(over.elevations[0], over)) == [
        "course 8 is installed at 4' 1-1/8\"",
        'courses 1 to 7 show about 7-1/64", at most 7" allowed: each lap is about 1/64" short '
        "(see the maker's instructions)",
    ]
    told = plan_dict(over)["elevations"][0]["crept"]
    assert [(one["course_set"], one["first_course"], one["last_course"]) for one in told] == [("main", 1, 7)]
    assert told[0]["beyond"] == pytest.approx(1 / 56)
    under = plan(replace(laps(built((8, 48.125, 48.125))), claddings=siding))
    assert list(hung_words(under.elevations[0], under))[1:] == [
        'courses 1 to 7 show 6-7/8", 1/16" less than the least, 6-15/16"'
    ]
    one = plan(replace(laps(built((2, 7.5, 7.5))), claddings=siding))
    assert list(hung_words(one.elevations[0], one))[1:] == [
        'course 1 shows 7-1/2", at most 7" allowed: its lap is 1/2" short (see the maker\'s instructions)'
    ]


def test_edges_of_another_result_come_before_those_that_are_only_cut_differently() -> None:
    """By hand: panels of 8 in from -1; line 4 hangs 3/8 high. The sill of A at 35 was to be cut 4 up and is
    now cut 3-5/8 up: a notch as before. The head of B at 79 lay on line 11 and leaves a sliver of 3/8.
    """
    openings = (window("A", 30, 35, 36, 40), window("B", 120, 35, 36, 44))
    face = Elevation("Front", rectangle(240, 0, 95), openings=openings)
    measured = job(face, cladding=PLAIN, starter=(-1, -1))
    planned = plan(replace(measured, as_built=AsBuilt((BuiltCourse("Front", "main", 4, 23.375, 23.375),))))
    same = [change.same_result for change in planned.changes]
    assert same == sorted(same)
    assert [change_heading(change) for change in planned.changes if change.after is not None] == [
        "Cut differently" if one else "Changed" for one in same
    ]
    first = planned.changes[0].after
    assert first is not None and (first.opening, first.edge, first.result) == ("B", "head", "sliver")
    said = [words.partition(",")[0] for words in sheet_words(planned.elevations[0], planned)]
    assert said[-2:] == ["Changed", "Cut differently"]
