"""The story pole as printed, read back from the PDF and joined at its match marks, against the plan."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation, Opening
from evencourse.layout.model.lengths import parse_length
from evencourse.layout.results.pole_marks import poles
from evencourse.render.drawing.drawing import Document, Sheet
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
    for number, sheets in enumerate(pole_sheets(Result(found), name)):
        read = read_pole(printed(sheets))
        assert worst(found, number, read) <= TRUE


def test_eight_metres_of_pole_joined_from_letter_sheets() -> None:
    """Gabled house: 41 lines, 35 strips: over 8 m from the first line to the last one."""
    found = planned(sample("gabled-house"))
    (sheets,) = pole_sheets(Result(found), "letter")
    read = read_pole(printed(sheets))
    lines = poles(found)[0].lines
    span = (lines[-1].height - lines[0].height) * 25.4
    assert span >= 8000 and read.strips > 30
    heights = [tick.height for tick in read.ticks]
    assert max(heights) - min(heights) == pytest.approx(span, abs=TRUE)


def test_a_planted_fault_of_scale_is_found() -> None:
    """One strip a tenth of a per cent too large; then every sheet a fiftieth of one too small."""
    found = planned(sample("gabled-house"))
    (sheets,) = pole_sheets(Result(found), "letter")
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
    for pole, sheets in zip(poles(found), pole_sheets(Result(found), name), strict=True):
        read = read_pole(printed(sheets))
        said = {tick.words for tick in read.ticks if tick.tied}
        wanted = {
            (course_name(pole.course_set, line.course), show(found.job, line.height))
            for line in pole.lines
            if line.faces
        }
        assert wanted <= said
        fifth = {str(line.course) for line in pole.lines if line.course % 5 == 0 or line.course == 1}
        heavy = {tick.words[0].lstrip("B") for tick in read.ticks if tick.heavy and tick.tied}
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
    data = printed(tuple(sheet for pole in pole_sheets(Result(found), name) for sheet in pole))
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


@pytest.mark.parametrize("seed", [0, 7, 15, 24])
def test_poles_of_random_houses_read_without_a_fault(seed: int) -> None:
    found = planned(seed)
    for name in PAPERS:
        assert faults(found, name) == []
        for number, sheets in enumerate(pole_sheets(Result(found), name)):
            assert worst(found, number, read_pole(printed(sheets))) <= TRUE


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
    assert [pole.course_set.prefix for pole in poles(found)] == ["", "B"]
    assert [pole.course_set.prefix for pole in poles(found, ["Lee side"])] == [""]


def test_the_same_plan_gives_the_same_bytes() -> None:
    found = planned(SAMPLES[0])
    once, again = (printed(pole_sheets(Result(found), "letter")[0]) for _ in range(2))
    assert once == again
