"""Finished sheets, judged by a reader of the PDF: samples and random houses on the usual papers."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.cli.reports.plan_report import plan_lines
from evencourse.cli.reports.table import Screen
from evencourse.layout.courses.planner import plan
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation, Opening
from evencourse.layout.model.roof import Roof
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.drawing.drawing import Document, Leader, Line, Mark, Sheet, Text
from evencourse.render.drawing.drawing import Path as Shape
from evencourse.render.drawing.papers import paper, papers
from evencourse.render.drawing.pens import BAND, LEADER, OPENING, OUTLINE, PAPER, TEXT
from evencourse.render.formats.pdf import pdf
from evencourse.render.sheets.elevation_sheets import drawing_scale, job_sheets
from evencourse.render.words.result import Result
from tests.layout.walls import job, rectangle, window
from tests.render.sheetcheck import check_pdf, read_pdf
from tests.samples import each_sample, planned

#: Papers of an office printer and of a copy shop; the others are larger or nearly the same.
USUAL = ("letter", "tabloid", "A3")


def bound(found: Plan, name: str) -> bytes:
    return pdf(Document("Sheets", tuple(sheet for face in job_sheets(Result(found), name) for sheet in face)))


def faults(found: Plan, name: str) -> list[str]:
    return [str(fault) for fault in check_pdf(bound(found, name), paper(name).inset)]


def faults_of_the_set(found: Plan, name: str) -> list[str]:
    return [str(fault) for fault in check_pdf(pdf(sheet_set(Result(found), name)), paper(name).inset)]


#: As many are borne on the sheets of a house that was not looked at: leaders that cross the eave's shadow.
FEW = 2


@pytest.mark.parametrize("name", USUAL)
@each_sample
def test_the_set_of_every_sample_reads_without_a_fault(path: Path, name: str) -> None:
    assert faults_of_the_set(planned(path), name) == []


@pytest.mark.parametrize("name", [name for name in papers() if name not in USUAL])
@each_sample
def test_elevations_of_every_sample_read_without_a_fault_on_other_papers(path: Path, name: str) -> None:
    assert faults(planned(path), name) == []


@pytest.mark.long
@pytest.mark.parametrize(("seed", "name"), list(zip([0, 2, 7, 10, 15, 24, 34], 3 * USUAL, strict=False)))
def test_sets_of_random_houses_read_with_few_faults(seed: int, name: str) -> None:
    """A hundred houses on every usual paper: ``python -m tests.benchmarks.houses``."""
    assert len(faults_of_the_set(planned(seed), name)) <= FEW


def planted(*marks: Mark) -> list[str]:
    data = pdf(Document("Planted", (Sheet("Planted", (120, 90), marks=marks),)))
    return [fault.kind for fault in check_pdf(data, 10)]


def test_the_judge_sees_what_is_planted() -> None:
    fine = Text(TEXT, (30, 40), "course 11", 2.5)
    wall = Line(OUTLINE, (20, 20), (90, 20))
    assert planted(fine, wall) == []
    assert planted(fine, Text(TEXT, (33, 41), "course 12")) == ["text over text"]
    assert planted(fine, Text(TEXT, (33, 30), "along the rake", angle=60)) == ["text over text"]
    assert planted(Text(TEXT, (4, 40), "course 11")) == ["outside the margin"]
    assert planted(Line(OUTLINE, (5, 20), (90, 20))) == ["line outside the margin"]
    assert planted(Text(TEXT, (30, 40), "course 11", 2.0)) == ["too small"]
    assert planted(wall, Text(TEXT, (30, 19), "course 11")) == ["text on a heavy line"]
    assert planted(wall, Text(TEXT, (30, 19), "course 11", ground=True)) == []
    band = Line(BAND, (20, 20), (90, 20))
    frame = Shape(OPENING, ((40, 15), (60, 15), (60, 45), (40, 45)), closed=True)
    assert planted(band, Leader(LEADER, ((30, 15), (35, 30)))) == []
    assert planted(frame, Leader(LEADER, ((30, 30), (50, 35)))) == []
    assert planted(frame, Leader(LEADER, ((30, 30), (70, 35)))) == ["leader crosses a heavy line"] * 2
    assert planted(wall, band, Leader(LEADER, ((30, 15), (35, 30)))) == []  # led out of the wall
    above = Text(TEXT, (30, 42.8), "course 12", 2.5, ground=True)
    assert planted(replace(fine, ground=True), above) == []  # all grounds first, then all lettering
    assert planted(fine, Shape(TEXT, ((28, 41), (50, 41), (50, 45), (28, 45)), True, fill=PAPER)) == [
        "lettering painted over"
    ]
    crossing = (Leader(LEADER, ((30, 30), (40, 40))), Leader(LEADER, ((30, 40), (40, 30))))
    assert planted(*crossing) == ["leaders cross"]


@pytest.mark.long
def test_hostile_names_are_shortened_and_overflow_nowhere() -> None:
    marks = ["W" * 90, "\u202eright to left", "<b>&amp;</b>", "line\nbreak", "ا" * 40, "D" * 200]
    openings: list[Opening] = [window(mark, 15 + 38 * k, 30, 30, 50 + k) for k, mark in enumerate(marks)]
    wall = Elevation(
        "A face with a name that goes on and on " * 6, rectangle(260, -1, 120), openings=tuple(openings)
    )
    hostile = replace(job(wall, starter=(-2, -2)), name="<script>" + "job " * 80, datum="a line " * 60)
    found = plan(hostile)
    assert faults_of_the_set(found, "letter") == []
    for name in papers():
        assert faults(found, name) == []


def words(data: bytes) -> list[str]:
    return [item.text for page in read_pdf(data) for item in page.letterings]


def test_a_long_wall_takes_several_sheets_with_match_lines() -> None:
    """A hundred feet of wall on letter: parts, each of which names its neighbours' sheets."""
    openings = tuple(window(f"W{k}", 40 + 100 * k, 30, 36, 48) for k in range(12))
    found = plan(job(Elevation("Long", rectangle(1200, -1, 300), openings=openings), starter=(-2, -2)))
    ((*sheets,),) = job_sheets(Result(found), "letter")
    assert len(sheets) > 1
    said = words(pdf(Document("Long", tuple(sheets))))
    assert any(text.startswith("on to sheet 2") for text in said)
    assert any(text.startswith("on to sheet 1") for text in said)
    assert {str(k) for k in range(1, len(sheets) + 1)} <= set(said)
    assert said.count(f"of {len(sheets)}") == len(sheets)


def test_the_largest_standard_scale_is_taken() -> None:
    """Twenty feet by eight: 30 in wide on ARCH D at 1-1/2 in to the foot, on letter less."""
    found = plan(job(Elevation("Small", rectangle(240, -1, 94)), starter=(-2, -2)))
    face = found.elevations[0]
    said = Result(found).instructions.faces[0]
    assert drawing_scale(found, face, said, "ARCH D").label == '1-1/2" = 1\'-0"'
    assert drawing_scale(found, face, said, "letter").ratio > drawing_scale(found, face, said, "ARCH D").ratio


def test_notes_of_a_wall_in_parts_stand_where_they_have_room() -> None:
    """By hand: 456 in at a quarter inch to the foot are 241 mm, in two parts of about 120, and what stands
    round them takes up to 20. Of 164 mm on letter the notes leave 136, the line that points to them 157."""
    openings = tuple(window(mark, 40 + 80 * k, 30 + 7 * k, 36, 48) for k, mark in enumerate("ABC"))
    found = plan(job(Elevation("Tall", rectangle(300, -1, 455), openings=openings), starter=(-2, -2)))
    ((*sheets,),) = job_sheets(Result(found), "letter")
    assert [round(1 / sheet.views[0].scale) for sheet in sheets] == [48, 48]
    said = [[mark.text for mark in sheet.marks if isinstance(mark, Text)] for sheet in sheets]
    assert "Edges not met, worst first" in said[0] and "Edges not met, worst first" not in said[1]
    assert "Edges not met and cautions: see sheet 1." in said[1]
    assert faults(found, "letter") == []


def test_sheets_are_true_to_scale() -> None:
    """A wall of 240 in at 1/48 is 127 mm wide on the paper."""
    found = plan(job(Elevation("Wall", rectangle(240, -1, 94)), starter=(-2, -2)))
    ((sheet,),) = job_sheets(Result(found), "tabloid")
    ratio = drawing_scale(found, found.elevations[0], Result(found).instructions.faces[0], "tabloid").ratio
    (page,) = read_pdf(pdf(Document("Wall", (sheet,))))
    heavy = [stroke for stroke in page.strokes if abs(stroke.width - OUTLINE.width) < 0.01]
    left, _, right, _ = paper("tabloid").border
    xs = [x for stroke in heavy for x, _ in (stroke.start, stroke.end) if left + 0.1 < x < right - 0.1]
    assert max(xs) - min(xs) == pytest.approx(240 * 25.4 / ratio, abs=0.02)


def test_the_foot_strip_says_whose_sheet_it_is_and_what_matters() -> None:
    found = plan(job(Elevation("Wall", rectangle(240, -1, 94)), starter=(-2, -2)))
    said = words(bound(found, "letter"))
    assert {"Wall", "Test wall", "Sheet", "1", "of 1"} <= set(said)
    assert {"Chalk line", "on the datum", 'Starter line 2" below'} <= set(said)
    assert any("scaffolds" in text for text in said)


def test_the_foot_strip_of_a_deep_starter_loses_no_word() -> None:
    """By hand: a chalk line 5 ft 7-1/2 in below the datum is lettered 10 mm high, and leaves too
    little for ``Starter line 5' 9-1/2" below`` at 3.5 mm."""
    found = plan(job(Elevation("Wall", rectangle(240, -69, 71)), starter=(-69.5, -69.5)))
    said = words(bound(found, "letter"))
    assert "Starter line 5' 9-1/2\" below" in said
    assert not [text for text in said if text.startswith(("Starter", "Chalk", "plain")) and "…" in text]


def test_a_slope_over_a_roof_and_the_one_under_it_are_told_apart() -> None:
    """A roof of 4 in 12 by hand: 12 ft of run, 4 ft of rise; the siding over it and under it is cut alike."""
    wall = Elevation("Wall", rectangle(240, 0, 144), roofs=(Roof("S1", "roof", ((48, 48), (192, 96)), 8),))
    found = plan(job(wall, starter=(-1, -1)))
    said = " ".join(words(bound(found, "letter")))
    assert "Rake over S1, right" in said and "Rake under S1, left" in said
    listed = "\n".join(plan_lines(Result(found), Screen()))
    assert re.search(r"^over S1, right .* 4 in 12", listed, re.MULTILINE)
    assert re.search(r"^under S1, left .* 4 in 12", listed, re.MULTILINE)
    assert "gable" not in listed
