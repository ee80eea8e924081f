"""Sheets as an office copier leaves them: every line and every figure is still read."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.drawing.drawing import Document, Line, Mark, Sheet, Text
from evencourse.render.drawing.pens import BUTT, FACE, TEXT
from evencourse.render.formats.pdf import pdf
from evencourse.render.words.result import Result
from tests.render.photocopy import copied, lost_strokes, misread

#: The one with the fewest sheets first: it stands in the quick suite.
SAMPLES = sorted(
    (Path(__file__).resolve().parents[2] / "samples").glob("*.toml"),
    key=lambda path: (path.stem != "carried-on", path.stem),
)


@pytest.mark.long
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_copied_set_keeps_every_line_and_every_figure(path: Path) -> None:
    found = plan(read_job(path))
    document = sheet_set(Result(found), "letter" if found.job.units == "in" else "A4")
    data = pdf(document)
    for page in range(len(document.sheets)):
        dots = copied(data, page)
        lost = {(one.colour, round(one.width, 2)) for one in lost_strokes(data, page, dots)}
        assert (page + 1, lost, misread(data, page, dots)) == (page + 1, set(), [])


def judged(*marks: Mark) -> tuple[int, str]:
    """How many strokes of a sheet are lost on the copier, and what its figures are taken for."""
    data = pdf(Document("Copied", (Sheet("Copied", (120.0, 80.0), marks=marks),)))
    dots = copied(data, 0)
    return len(lost_strokes(data, 0, dots)), "".join(other for _, other, *_ in misread(data, 0, dots))


def test_the_copier_takes_what_is_too_light_and_what_is_struck_through() -> None:
    figures = Text(TEXT, (20.0, 40.0), "0123456789", 2.5)
    assert judged(figures, Line(BUTT, (10.0, 20.0), (90.0, 20.0))) == (0, "")
    grey = replace(TEXT, colour=(170, 170, 170), width=0.18)
    assert judged(Line(grey, (10.0, 20.03), (90.0, 20.03)))[0] == 1
    assert judged(Line(FACE, (10.0, 20.0), (90.0, 20.0)))[0] == 0  # texture may go
    assert judged(Text(grey, (20.0, 40.0), "0123456789", 2.5))[1] != ""
    struck = Line(replace(BUTT, width=0.7), (18.0, 41.2), (60.0, 41.2))
    assert judged(figures, struck)[1] != ""
