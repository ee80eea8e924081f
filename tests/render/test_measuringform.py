"""The measuring form as printed: nothing hinders reading it, and its sketches speak of its questions."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from evencourse.layout.language.speech import LANGUAGES, speaking
from evencourse.layout.model.job import Units
from evencourse.render.drawing.drawing import Document, Text
from evencourse.render.drawing.papers import paper, papers
from evencourse.render.formats.pdf import pdf
from evencourse.render.templates.measuring_form import form_sheets
from tests.render.sheetcheck import check_pdf, read_pdf


def form(units: Units, name: str) -> bytes:
    return pdf(Document("Measuring form", form_sheets(units, name)))


def words(page: int, units: Units = "in") -> list[str]:
    return [item.text for item in read_pdf(form(units, "letter"))[page].letterings]


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("name", list(papers()))
def test_the_form_reads_without_a_fault_on_every_paper(name: str, units: Units) -> None:
    assert [str(fault) for fault in check_pdf(form(units, name), paper(name).margin)] == []


def test_every_question_of_a_job_file_has_its_place() -> None:
    """The keys of the job file, in the words of the form."""
    asked = " ".join((*words(0), *words(1)))
    for what in (
        "Job", "Measured by", "Datum", "Finest mark", "Temperature", "profile", "lowest", "highest", "head",
        "sill", "side", "center to center", "Face", "Width", "Ends", "Base", "Ground", "Eave", "pitch",
        "peak", "Entrance", "How much it matters", "Siding changes", "board", "mark", "kind, shape",
        "from left", "width", "height", "rise", "head flush", "sill flush", "bottom", "on a block",
    ):  # fmt: skip
        assert what in asked


def test_signs_in_the_sketches_are_those_of_questions_on_their_sheet() -> None:
    for page, numbers in ((0, {"3", "7", "8", "21"}), (1, {"10", "11", "12", "13", "14", "20"})):
        said = words(page)
        for number in numbers:
            assert said.count(number) >= 2  # once in the sketch, once before its question
    assert {"a", "b", "c", "d"} <= set(words(1))
    asked = [int(text) for page in (0, 1) for text in words(page) if re.fullmatch(r"\d+", text)]
    assert set(range(1, 22)) <= set(asked)


def test_a_metric_form_asks_in_millimetres() -> None:
    assert any("1000 mm above" in text for text in words(0, "mm"))
    assert not any("1/16" in text or " 40 in" in text for text in words(0, "mm"))


def test_there_is_room_for_openings_to_write_down() -> None:
    """Rows are tall enough for a pencil: 7 mm and more, and five of them at least on the smallest paper."""
    page = read_pdf(form("in", "letter"))[1]
    levels = sorted({
        round(stroke.start[1], 2)
        for stroke in page.strokes
        if abs(stroke.start[1] - stroke.end[1]) < 1e-3 and abs(stroke.start[0] - stroke.end[0]) > 190
    })  # fmt: skip
    gaps = [high - low for low, high in pairwise(levels)]
    assert sum(7.0 <= gap <= 8.0 for gap in gaps) >= 7


def test_the_same_form_gives_the_same_bytes() -> None:
    assert form("in", "A4") == form("in", "A4")


@pytest.mark.parametrize("name", ["letter", "A4"])
@pytest.mark.parametrize("code", LANGUAGES)
def test_heads_of_the_tables_are_whole_in_every_language(code: str, name: str) -> None:
    with speaking(code):
        sheets = form_sheets("in", name)
        printed = pdf(Document("Measuring form", sheets))
    said = [mark.text for mark in sheets[1].marks if isinstance(mark, Text)]
    assert not any("\u2026" in text for text in said)
    assert [str(fault) for fault in check_pdf(printed, paper(name).margin)] == []


def test_a_head_too_long_for_its_column_goes_into_two_lines() -> None:
    """By hand, upright letter: the words take 28.9 mm, the longer one of them 21.6 mm, its column 18.6 mm."""
    with speaking("sv"):
        marks = [mark for mark in form_sheets("in", "letter")[1].marks if isinstance(mark, Text)]
    over = [mark for mark in marks if mark.text == "foderunderkant"]
    under = [mark for mark in marks if mark.text == "j\u00e4ms"]
    assert len(over) == 2 and len(under) == 2  # the sill, too, stands in one line
    assert over[1].at[0] == under[1].at[0]
    assert over[1].at[1] - under[1].at[1] == pytest.approx(4.125)
