"""Finished drawings of every sample, read back by programs that are not ours, say what the plan says."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencourse.render.building.wall_face import courses
from evencourse.render.drawing.drawing import Document, Sheet, Text
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import TEXT
from evencourse.render.formats.pdf import pdf
from evencourse.render.sheets.elevation_sheets import job_sheets
from evencourse.render.words.result import Result
from tests.render.readback import overlaps, pages
from tests.samples import each_sample, planned

PAPERS = ("letter", "tabloid", "A3")


@pytest.mark.long
@pytest.mark.parametrize("size", PAPERS)
@each_sample
def test_every_course_number_is_read_and_no_text_lies_over_text(path: Path, size: str) -> None:
    found = planned(path)
    margin = paper(size).inset + 1.5
    for face, sheets in zip(found.elevations, job_sheets(Result(found), size), strict=True):
        said: set[str] = set()
        for (width, height), runs in pages(pdf(Document("Sheets", sheets))):
            said |= {run.text.strip() for run in runs}
            assert not overlaps(runs)
            for run in runs:
                assert run.size >= 2.5 - 0.02, run
                assert margin - 0.5 <= run.left, run
                assert run.right <= width - margin + 0.5, run
                assert margin - 1.0 <= run.bottom, run
                assert run.top <= height - margin + 0.5, run
        numbers = {f"{course.course_set.prefix}{course.number}" for course in courses(found, face)}
        assert numbers <= said


def test_the_reader_sees_text_over_text() -> None:
    def sheet(x: float) -> Sheet:
        return Sheet(
            "Planted", (100, 80), marks=(Text(TEXT, (20, 40), "course 11"), Text(TEXT, (x, 41), "course 12"))
        )

    assert overlaps(pages(pdf(Document("Planted", (sheet(22),))))[0][1])
    assert not overlaps(pages(pdf(Document("Planted", (sheet(60),))))[0][1])


def test_the_reader_sees_sloping_text_as_it_lies() -> None:
    def sheet(y: float) -> Sheet:
        marks = (
            Text(TEXT, (20, 40), "along the rake", angle=30.0),
            Text(TEXT, (20, y), "past the scale", angle=30.0),
        )
        return Sheet("Planted", (100, 80), marks=marks)

    assert overlaps(pages(pdf(Document("Planted", (sheet(38),))))[0][1])
    assert not overlaps(pages(pdf(Document("Planted", (sheet(36),))))[0][1])
