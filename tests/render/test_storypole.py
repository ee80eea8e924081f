"""The story pole as printed, read back from the PDF and joined at its match marks, against the plan."""

from __future__ import annotations

import io
from dataclasses import replace
from math import ceil, inf
from pathlib import Path

import pypdf
import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import LANGUAGES, speaking
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation, Opening
from evencourse.layout.model.lengths import parse_length
from evencourse.layout.model.roof import Roof
from evencourse.layout.results.pole_marks import poles
from evencourse.render.drawing.drawing import Document, Sheet, Text
from evencourse.render.drawing.papers import paper, roll
from evencourse.render.formats.pdf import pdf
from evencourse.render.templates.story_pole import pole_sheets
from evencourse.render.words.plan_words import course_name, show
from evencourse.render.words.result import Result
from tests.layout.walls import LAP, job, rectangle, window
from tests.render.polereader import Printed, level, near, read_pole
from tests.render.sheetcheck import check_pdf, meet, read_pdf
from tests.samples import SAMPLES, each_sample, planned, sample

PAPERS = ("letter", "A4", "roll")
#: What a mark may be off [mm].
TRUE = 0.1


def whole(found: Plan, name: str) -> tuple[tuple[Sheet, ...], ...]:
    """Every mark of every pole, also where a staff would do."""
    return pole_sheets(Result(found), name, between=(-inf, inf))


def printed(sheets: tuple[Sheet, ...]) -> bytes:
    return pdf(Document("Pole", sheets))


def unit(found: Plan) -> float:
    return 25.4 if found.job.units == "in" else 1.0


def worst(found: Plan, number: int, read: Printed) -> float:
    """By how much the marks of a joined pole are off the plan at most; every line has its mark [mm]."""
    lines = poles(found)[number].lines
    heights = [line.height * unit(found) for line in lines]
    foot = parse_length(read.foot, found.job.units) * unit(found)
    off = [min(abs(tick.height + foot - height) for height in heights) for tick in read.ticks]
    off += [min(abs(tick.height + foot - height) for tick in read.ticks) for height in heights]
    return max(off)


@pytest.mark.parametrize("name", PAPERS)
@each_sample
def test_every_butt_line_stands_at_its_height(path: Path, name: str) -> None:
    found = planned(path)
    for number, sheets in enumerate(whole(found, name)):
        read = read_pole(printed(sheets))
        assert worst(found, number, read) <= TRUE


def test_eight_metres_of_pole_joined_from_letter_sheets() -> None:
    """Gabled house: 41 lines, 35 strips: over 8 m from the first line to the last one."""
    found = planned(sample("gabled-house"))
    (sheets,) = whole(found, "letter")
    read = read_pole(printed(sheets))
    lines = poles(found)[0].lines
    span = (lines[-1].height - lines[0].height) * 25.4
    assert span >= 8000 and read.strips > 30
    heights = [tick.height for tick in read.ticks]
    assert max(heights) - min(heights) == pytest.approx(span, abs=TRUE)


def test_a_planted_fault_of_scale_is_found() -> None:
    """One strip a tenth of a per cent too large; then every sheet a fiftieth of one too small."""
    found = planned(sample("gabled-house"))
    (sheets,) = whole(found, "letter")
    view = sheets[9].views[1]
    tall = replace(view, scale=1.001, at=(view.at[0], view.at[1] - 0.001 * view.at[1]))
    faulty = replace(sheets[9], views=(sheets[9].views[0], tall))
    assert worst(found, 0, read_pole(printed((*sheets[:9], faulty, *sheets[10:])))) > TRUE
    shrunk = tuple(
        replace(sheet, views=tuple(replace(view, scale=0.99998) for view in sheet.views)) for sheet in sheets
    )
    assert worst(found, 0, read_pole(printed(shrunk))) > TRUE


@pytest.mark.parametrize("name", PAPERS)
@pytest.mark.parametrize("stem", ["old-house", "two-claddings"])
def test_every_tick_has_its_course_and_its_height_as_the_tape_reads_it(stem: str, name: str) -> None:
    found = planned(sample(stem))
    for pole, sheets in zip(poles(found), whole(found, name), strict=True):
        read = read_pole(printed(sheets))
        said = {tick.words for tick in read.ticks if tick.tied}
        wanted = {
            (course_name(pole.course_set, line.course), show(found.job, line.height))
            for line in pole.lines
            if line.faces
        }
        assert wanted <= said
        fifth = {str(line.course) for line in pole.lines if line.course % 5 == 0 or line.course == 1}
        heavy = {
            tick.words[0].removeprefix(pole.course_set.prefix)
            for tick in read.ticks
            if tick.heavy and tick.tied
        }
        assert heavy == fifth


@pytest.mark.parametrize("name", PAPERS)
@each_sample
def test_check_bars_measure_what_they_say(path: Path, name: str) -> None:
    found = planned(path)
    long = 152.4 if found.job.units == "in" else 150.0
    for sheets in pole_sheets(Result(found), name):
        page = read_pdf(printed(sheets))[0]
        bars = [stroke for stroke in page.strokes if near(stroke.width, 0.25)]
        lengths = [
            (level(bar), abs(bar.end[0] - bar.start[0]) + abs(bar.end[1] - bar.start[1])) for bar in bars
        ]
        assert any(flat and size == pytest.approx(long, abs=0.02) for flat, size in lengths)
        assert any(not flat and size == pytest.approx(long, abs=0.02) for flat, size in lengths)
        said = " ".join(item.text for item in page.letterings)
        assert ('6" across' if found.job.units == "in" else "150 mm across") in said
        assert "Measure both bars" in said and "100 %" in said


def margin(name: str) -> float:
    return roll(1.0).margin if name == "roll" else paper(name).margin


def faults(found: Plan, name: str) -> list[str]:
    several = (whole(found, name), pole_sheets(Result(found), name))
    data = printed(tuple(sheet for poles in several for pole in poles for sheet in pole))
    said = [str(fault) for fault in check_pdf(data, margin(name))]
    for number, page in enumerate(read_pdf(data), start=1):
        for item in page.letterings:
            for stroke in page.strokes:
                half = stroke.width / 2
                (x0, y0), (x1, y1) = stroke.start, stroke.end
                box = (min(x0, x1) - half, min(y0, y1) - half, max(x0, x1) + half, max(y0, y1) + half)
                if (level(stroke) or near(x0, x1)) and meet(item.quad, corners(*box)):
                    said.append(f"page {number}: {item.text!r} on a line")
    return said


def corners(left: float, bottom: float, right: float, top: float) -> tuple[tuple[float, float], ...]:
    return (left, bottom), (right, bottom), (right, top), (left, top)


@pytest.mark.parametrize("name", [*PAPERS, "A3"])
@each_sample
def test_poles_of_every_sample_read_without_a_fault(path: Path, name: str) -> None:
    assert faults(planned(path), name) == []


@pytest.mark.long
@pytest.mark.parametrize("seed", [0, 7, 15, 24])
def test_poles_of_random_houses_read_without_a_fault(seed: int) -> None:
    found = planned(seed)
    for name in PAPERS:
        assert faults(found, name) == []
        for number, sheets in enumerate(whole(found, name)):
            assert worst(found, number, read_pole(printed(sheets))) <= TRUE


@pytest.mark.long
def test_many_edges_and_long_names_find_room() -> None:
    """Forty windows whose heads and sills all lie elsewhere, on faces with long names."""
    walls = []
    for face in range(4):
        openings: list[Opening] = [
            window(f"Window-{face}-{k}", 15 + 50 * k, 20 + 1.3125 * (k + face), 30, 40 + k / 4)
            for k in range(10)
        ]
        name = f"A face whose name goes on and on, number {face}"
        walls.append(Elevation(name, rectangle(520, -1, 120), openings=tuple(openings)))
    hostile = replace(job(*walls, starter=(-2, -2)), name="<script>" + "job " * 80, datum="a line " * 60)
    found = plan(hostile)
    for name in PAPERS:
        assert faults(found, name) == []


def test_a_pole_for_one_face_carries_that_faces_lines_and_edges_alone() -> None:
    found = planned(sample("old-house"))
    (pole,) = poles(found, ["Over the wing"])
    assert pole.faces == ("Over the wing",)
    assert {edge.face for line in pole.lines for edge in line.flush} == {"Over the wing"}
    (sheets,) = pole_sheets(Result(found), "letter", ["Over the wing"])
    said = {item.text for page in read_pdf(printed(sheets)) for item in page.letterings}
    assert "E sill" in said and not any("Road" in text for text in said)


def test_equal_courses_are_a_staff_of_six_marks_and_a_list() -> None:
    """By hand: 15 lines of 8 from -2. Mark 0 is held on lines 1, 6 and 11; the mark 40 over it is 6, 11, 16:
    of these 6 and 11 are there. Line 11 is at -2 + 10 x 8 = 78, or 6' 6".
    """
    wall = Elevation("Front", rectangle(240, -1, 111), openings=(window("A", 60, 30, 36, 48),))
    found = plan(job(wall, starter=(-2, -2)))
    (sheets,) = pole_sheets(Result(found), "letter")
    read = read_pole(printed(sheets))
    assert len(sheets) == 2 + ceil(read.strips / 2) < len(whole(found, "letter")[0])
    foot = parse_length(read.foot, "in") * 25.4
    marks = {round((tick.height + foot) / 25.4, 3): tick for tick in read.ticks if tick.tied}
    assert sorted(marks) == [0, 8, 16, 24, 32, 40]
    assert [tick.words for _, tick in sorted(marks.items())][1:3] == [("1", '8"'), ("2", "1' 4\"")]
    said = [item.text for page in read_pdf(printed(sheets)) for item in page.letterings]
    assert (
        "on butt line 1, 6 or 11" in said and "butt line 2, 7 or 12" in said and "butt line 6 or 11" in said
    )
    assert said.index("Mark 0 on line") < said.index("6' 6\"")
    assert "Every butt line and edge, from the bottom up" in said and "A head" in said


def test_a_staff_is_for_equal_courses_of_a_wall_that_is_higher_than_two_of_them() -> None:
    """Unequal courses, a low wall, a roll, and heights that were asked for have every mark."""
    lap = planned(sample("lap-cottage"))
    assert len(lap.course_sets["main"].lines.bands) > 1
    low = plan(job(Elevation("Front", rectangle(240, -1, 79)), starter=(-2, -2)))  # lines 1 to 11
    assert len(poles(low)[0].lines) == 11
    for found in (lap, low):
        assert printed(pole_sheets(Result(found), "letter")[0]) == printed(whole(found, "letter")[0])
    house = planned(sample("gabled-house"))
    assert len(pole_sheets(Result(house), "roll")[0]) == len(whole(house, "roll")[0]) == 2
    assert (len(pole_sheets(Result(house), "letter")[0]), len(whole(house, "letter")[0])) == (5, 19)


def test_one_storey_has_the_marks_between_two_heights() -> None:
    """By hand: lines of 8 from -2: from 30 to 62 are 30, 38, 46, 54, 62, lines 5 to 9; the sill is at 30."""
    wall = Elevation("Front", rectangle(240, -1, 111), openings=(window("A", 60, 30, 36, 48),))
    found = plan(job(wall, starter=(-2, -2)))
    (pole,) = poles(found, between=(30, 62))
    assert [line.course for line in pole.lines] == [5, 6, 7, 8, 9]
    assert pole.chalk_line is None and poles(found)[0].chalk_line is not None
    (sheets,) = pole_sheets(Result(found), "letter", between=(30, 62))
    read = read_pole(printed(sheets))
    foot = parse_length(read.foot, "in") * 25.4
    heights = {round((tick.height + foot) / 25.4, 3) for tick in read.ticks if tick.tied}
    assert {30.0, 38.0, 46.0, 54.0, 62.0} <= heights <= {30.0, 38.0, 46.0, 54.0, 62.0, 0.0}
    assert poles(found, between=(31, 37)) == ()


def test_a_page_of_a_roll_is_never_longer_than_200_inches() -> None:
    """ISO 32000-1, annex C: 14400 units of 1/72 in; no UserUnit is needed, which some viewers ignore."""
    for path in SAMPLES:
        for sheets in pole_sheets(Result(planned(path)), "roll"):
            for page in pypdf.PdfReader(io.BytesIO(printed(sheets))).pages:
                assert float(page.mediabox.height) <= 14400
                assert "/UserUnit" not in page


def test_a_flush_head_stands_at_the_line_that_begins_over_it_and_a_sill_where_a_course_ends() -> None:
    """Courses of 8 from -2: the sill at 30 is line 5 (-2 + 4 x 8), the head at 78 line 11 (-2 + 10 x 8)."""
    wall = Elevation("Front", rectangle(240, -1, 110), openings=(window("A", 60, 30, 36, 48),))
    (pole,) = poles(plan(job(wall, starter=(-2, -2))))
    met = {(line.course, found.edge.edge) for line in pole.lines for found in line.flush}
    assert met == {(5, "sill"), (11, "head"), (15, "eave")}
    assert [line.course for line in pole.lines] == list(range(1, 16))
    assert pole.lines[-1].faces == ()  # course 14 ends at the eave; none begins there


def test_what_hangs_already_is_told_and_where_a_face_has_its_own_lines() -> None:
    """By hand: line 7 hangs at 42-3/16 left and 41-13/16 right, 3/16 either side of 42; the next course takes
    half of it: 49 + 3/32 left and 49 - 3/32 right, on a tape of sixteenths 49-1/8 and 48-15/16.
    """
    wall = Elevation("Front", rectangle(240, 0, 105), openings=(window("A", 60, 28, 36, 56),))
    hung = AsBuilt((BuiltCourse("Front", "main", 7, 42.1875, 41.8125),))
    found = plan(replace(job(wall, cladding=LAP, starter=(0, 0)), as_built=hung))
    (pole,) = poles(found)
    assert [line.course for line in pole.lines if line.hangs] == list(range(1, 8))
    for name in PAPERS:
        assert faults(found, name) == []
    (sheets,) = pole_sheets(Result(found), "letter")
    said = " ".join(item.text for page in read_pdf(printed(sheets)) for item in page.letterings)
    assert "Front: installed at 3' 6-3/16\" left, 3' 5-13/16\" right" in said
    assert "Front: strike 4' 1-1/8\" left, 4' 0-15/16\" right" in said
    assert (said.count(": installed at"), said.count("strike"), said.count("already installed")) == (1, 1, 7)


def test_no_set_of_courses_on_the_wanted_faces_no_pole() -> None:
    found = planned(sample("two-claddings"))
    assert [pole.course_set.prefix for pole in poles(found)] == ["", "C"]  # B is a window
    assert [pole.course_set.prefix for pole in poles(found, ["Lee side"])] == [""]


def test_the_same_plan_gives_the_same_bytes() -> None:
    found = planned(SAMPLES[0])
    once, again = (printed(pole_sheets(Result(found), "letter")[0]) for _ in range(2))
    assert once == again


def test_the_pole_writes_the_mark_of_a_roof_as_the_sheets_do() -> None:
    """By hand: 8 in panels from -1; siding ends under a roof at 60 - 8 = 52, 5 in up course 7 (47 to 55)."""
    wall = Elevation("Wall", rectangle(240, 0, 95), roofs=(Roof("R1", "roof", ((60, 60), (120, 60)), 8),))
    (sheets,) = whole(plan(job(wall, starter=(-1, -1))), "letter")
    said = " ".join(item.text for page in read_pdf(printed(sheets)) for item in page.letterings)
    assert "under R1" in said and "over R1" in said


@pytest.mark.parametrize("code", LANGUAGES)
@pytest.mark.parametrize("between", [None, (-inf, inf)])
def test_the_name_of_the_job_stands_whole_at_head_and_foot(
    code: str, between: tuple[float, float] | None
) -> None:
    found = planned(sample("two-claddings"))
    named = replace(found, job=replace(found.job, name="Casa Peralta, lote 14"))
    with speaking(code):
        for sheets in pole_sheets(Result(named), "letter", date="2026-11-30", between=between):
            said = [[mark.text for mark in sheet.marks if isinstance(mark, Text)] for sheet in sheets]
            assert "Casa Peralta, lote 14" in said[0]
            for words in said:
                assert any(text.endswith(" \u00b7 Casa Peralta, lote 14 \u00b7 2026-11-30") for text in words)
            assert [str(fault) for fault in check_pdf(printed(sheets), margin("letter"))] == []
