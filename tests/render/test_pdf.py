"""PDF files as general readers see them: true to size, named, searchable, fonts inside, no clock."""

from __future__ import annotations

import io
import re
import subprocess
from functools import cache
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import pdfplumber
import pypdf
import pypdfium2
import pytest

from evencourse.layout.language.speech import LANGUAGES, Voice, speaking
from evencourse.render.drawing.drawing import Document, Drawing, Line, Sheet, Text, View
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import BUTT, DATUM, OUTLINE, TEXT
from evencourse.render.formats.pdf import pdf
from tests.again import PLANNED, printed_twice
from tests.samples import SAMPLES, each_sample, faces_of, planned, sample
from tests.tools import tool

MM = 25.4 / 72


@cache
def drawn(path: Path, size: str = "tabloid") -> bytes:
    sheets = tuple(sheet for face in faces_of(path, size) for sheet in face)
    return pdf(Document(planned(path).job.name, sheets))


def read(data: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(data), strict=True)


def one_text(text: str) -> Document:
    return Document("One", (Sheet("One", (100.0, 80.0), marks=(Text(TEXT, (20.0, 40.0), text),)),))


def words_of(data: bytes) -> str:
    with pdfplumber.open(io.BytesIO(data)) as file:
        return "\n".join(page.extract_text() for page in file.pages)


@each_sample
def test_every_sheet_is_a_page_of_its_paper_with_bookmark_and_label(path: Path) -> None:
    reader = read(drawn(path))
    sheets = [sheet for face in faces_of(path, "tabloid") for sheet in face]
    assert len(reader.pages) == len(sheets) > 0
    for page in reader.pages:
        size = float(page.mediabox.width) * MM, float(page.mediabox.height) * MM
        assert size == pytest.approx(paper("tabloid").size, abs=0.01)
    marks: list[Any] = reader.outline
    assert [mark.title for mark in marks] == [sheet.title for sheet in sheets]
    assert [reader.get_destination_page_number(mark) for mark in marks] == list(range(len(sheets)))
    assert reader.page_labels == [sheet.label or str(k) for k, sheet in enumerate(sheets, start=1)]


@each_sample
def test_every_font_is_inside(path: Path) -> None:
    """ISO 32000-1, 9.9: a font program stands in the descriptor of the font or of its descendant."""
    for page in read(drawn(path)).pages:
        fonts: Any = page["/Resources"]["/Font"]  # type: ignore[index]
        assert len(fonts) > 0
        for font in fonts.values():
            whole = font.get_object()
            part = whole["/DescendantFonts"][0].get_object() if "/DescendantFonts" in whole else whole
            descriptor = part["/FontDescriptor"]
            assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor)
            assert re.fullmatch(r"/[A-Z]{6}\+BarlowSemiCondensed.*", whole["/BaseFont"])
            assert "/ToUnicode" in whole


def test_title_author_language_and_what_a_reader_shows() -> None:
    sheet = Sheet("Street", (100.0, 80.0), label="A2")
    made = Document(
        "House (no. 4) \\ Übersee", (sheet, sheet), "R. Öst", "en-GB", "courses", None, ("a", "b")
    )
    reader = read(pdf(made))
    facts = reader.metadata
    assert facts is not None
    assert facts.title == "House (no. 4) \\ Übersee"
    assert facts.author == "R. Öst"
    assert facts.subject == "courses"
    assert facts["/Keywords"] == "a, b"
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "en-GB"
    assert bool(root["/ViewerPreferences"]["/DisplayDocTitle"]) is True
    assert reader.page_labels == ["A2", "A2"]


def test_a_document_is_in_the_language_that_is_spoken() -> None:
    assert Document("House", ()).language == "en-US"
    with speaking(Voice(LANGUAGES["es"], NullTranslations())):
        assert Document("Casa", ()).language == "es-MX"


def test_sheets_of_a_chapter_hang_under_one_bookmark() -> None:
    named = (("Cover", ""), ("Street", "Elevations"), ("Garden", "Elevations"), ("Cut list", "Cut list"))
    sheets = tuple(Sheet(title, (100.0, 80.0), chapter=chapter) for title, chapter in named)
    reader = read(pdf(Document("House", sheets)))
    cover, elevations, faces, cut_list = reader.outline
    assert [mark.title for mark in (cover, elevations, cut_list)] == ["Cover", "Elevations", "Cut list"]  # type: ignore[union-attr]
    assert [mark.title for mark in faces] == ["Street", "Garden"]  # type: ignore[union-attr]
    marks: list[Any] = [cover, elevations, *faces, cut_list]  # type: ignore[misc]
    assert [reader.get_destination_page_number(mark) for mark in marks] == [0, 1, 1, 2, 3]


def test_nothing_is_said_of_an_author_who_is_not_given() -> None:
    facts = read(pdf(one_text("eave"))).metadata
    assert facts is not None
    assert {"/Author", "/Subject", "/Keywords"}.isdisjoint(facts)


def test_there_is_no_date_without_a_date() -> None:
    data = drawn(SAMPLES[0])
    facts = read(data).metadata
    assert facts is not None
    assert not [key for key in facts if "Date" in key]
    assert b"Date" not in data
    assert not re.search(rb"D:\d{8}", data)
    dated = read(pdf(Document("One", (Sheet("One", (100, 80)),), date="2025-03-14"))).metadata
    assert dated is not None
    assert dated["/CreationDate"] == "D:20250314"
    assert dated.creation_date is not None
    assert dated.creation_date.date().isoformat() == "2025-03-14"


@pytest.mark.long
def test_a_length_is_found_in_one_piece() -> None:
    words = words_of(drawn(sample("gabled-house")))
    assert "3' 3\" below datum" in words


def test_poppler_finds_a_length_in_one_piece_and_every_font_inside(tmp_path: Path) -> None:
    file = tmp_path / "sheets.pdf"
    file.write_bytes(drawn(sample("gabled-house")))
    said = subprocess.run([tool("pdftotext"), "-layout", str(file), "-"], check=True, capture_output=True)
    assert "3' 3\" below datum" in said.stdout.decode()
    assert not said.stderr
    fonts = subprocess.run([tool("pdffonts"), str(file)], check=True, capture_output=True, text=True)
    rows = fonts.stdout.splitlines()[2:]
    assert rows
    for row in rows:
        embedded, subset, unicode = row.split()[-5:-2]
        assert (embedded, subset, unicode) == ("yes", "yes", "yes"), row


@pytest.mark.parametrize(
    "text", ["(unbalanced", "back\\slash )", "<b>&", "½ ⅞ × °", "2' 11-1/2\"", "fi fl ffi", "AVAToWa"]
)
def test_a_text_comes_back_as_it_was_given(text: str) -> None:
    assert words_of(pdf(one_text(text))) == text


def test_poppler_and_pdfium_copy_every_letter_out_as_it_was_given(tmp_path: Path) -> None:
    said = "µ ½ ′ ″ é ⅞ Ø ° × – 2′ 11-½″"
    file = tmp_path / "one.pdf"
    file.write_bytes(pdf(one_text(said)))
    found = subprocess.run([tool("pdftotext"), str(file), "-"], check=True, capture_output=True)
    assert found.stdout.decode().strip() == said
    with pypdfium2.PdfDocument(file) as document:
        assert document[0].get_textpage().get_text_range().strip() == said


@each_sample
def test_qpdf_finds_no_fault(path: Path, tmp_path: Path) -> None:
    file = tmp_path / "sheets.pdf"
    file.write_bytes(drawn(path))
    found = subprocess.run([tool("qpdf"), "--check", str(file)], check=False, capture_output=True, text=True)
    assert found.returncode == 0, found.stdout + found.stderr
    assert "No syntax or stream encoding errors found" in found.stdout


def test_the_longest_page_is_true_to_size_and_a_longer_one_is_refused() -> None:
    """ISO 32000-1, annex C: 14400 units of 1/72 in are 200 in or 5080 mm."""
    rod = Line(OUTLINE, (150.0, 40.0), (150.0, 5040.0))
    data = pdf(Document("One", (Sheet("Rod", (300.0, 5080.0), marks=(rod,)),)))
    (page,) = read(data).pages
    assert float(page.mediabox.height) == 14400
    assert "/UserUnit" not in page
    with pdfplumber.open(io.BytesIO(data)) as file:
        (line,) = file.pages[0].lines
        assert (line["bottom"] - line["top"]) * MM == pytest.approx(5000, abs=0.02)
        assert line["linewidth"] * MM == pytest.approx(OUTLINE.width, abs=0.01)
    with pytest.raises(ValueError, match="5080 mm long at most, not 5081 mm"):
        pdf(Document("One", (Sheet("Rod", (300.0, 5081.0)),)))


def test_a_dash_before_a_window_ends_where_the_window_ends() -> None:
    """ISO 32000-1, 8.4.2: what is set before the state was kept is set again when it is restored."""
    drawing = Drawing("wall", "mm", (Line(BUTT, (-500, 40), (500, 40)),))
    dashed = View(
        Drawing("datum", "mm", (Line(DATUM, (0, 0), (90, 0)),)), 1.0, (5.0, 70.0), (0.0, 0.0, 100.0, 80.0)
    )
    cut = View(drawing, 1.0, (0.0, 0.0), (30.0, 20.0, 70.0, 60.0))
    made = Document("One", (Sheet("One", (100, 80), (dashed, cut), (Line(BUTT, (5, 10), (95, 10)),)),))
    with pdfplumber.open(io.BytesIO(pdf(made))) as file:
        first, *others = file.pages[0].lines
    assert first["dash"][0]
    assert [line["dash"] for line in others] == [([], 0), ([], 0)]


@pytest.mark.parametrize("bad", ["\x00", "\x1b", "\ufffe", "\ud800", "\U0001f3e0", "\U0001f16a", "\u202e"])
def test_what_the_font_cannot_show_leaves_the_rest_readable(bad: str) -> None:
    words = words_of(pdf(one_text(f"course{bad} 11 flush")))
    assert words.startswith("course")
    assert words.endswith("11 flush")


@pytest.mark.parametrize("bad", ["\x00\x1b", "\ud800", ")>>endobj", "\U0001f3e0", "\u202e"])
def test_no_title_breaks_the_file(bad: str) -> None:
    made = Document(f"job{bad}", (Sheet(f"face{bad}", (100, 80), label=f"A{bad}"),))
    reader = read(pdf(made))
    assert len(reader.pages) == 1
    facts = reader.metadata
    assert facts is not None
    assert (facts.title or "").startswith("job")


@pytest.mark.parametrize("title", ["(open", "close)", "back\\", "a \\( b", "Ω 3′ 5″", "<feff>"])
def test_a_title_comes_back_as_it_was_given(title: str) -> None:
    reader = read(pdf(Document(title, (Sheet(title, (100, 80), label=title),))))
    facts, outline = reader.metadata, reader.outline
    assert facts is not None
    assert facts.title == title
    assert [mark.title for mark in outline] == [title]  # type: ignore[union-attr]
    assert reader.page_labels == [title]


def test_lettering_is_as_high_as_it_is_asked_for() -> None:
    made = Document("One", (Sheet("One", (100, 80), marks=(Text(TEXT, (20, 40), "H", 3.5),)),))
    with pdfplumber.open(io.BytesIO(pdf(made))) as file:
        (char,) = file.pages[0].chars
    a, b, _, _, x, y = char["matrix"]
    # capital height of the font over its size: 700 of 1000 units, by its H
    assert (a * a + b * b) ** 0.5 * MM * 0.700 == pytest.approx(3.5, rel=0.01)
    assert (x * MM, y * MM) == pytest.approx((20, 40), abs=0.01)


def test_a_drawing_is_true_to_scale() -> None:
    """At 1/4 inch to the foot, 10 ft are 2-1/2 in of paper."""
    drawing = Drawing("wall", "in", (Line(OUTLINE, (0, 0), (120, 0)),))
    view = View(drawing, 1 / 48, (20.0, 30.0), (0.0, 0.0, 200.0, 150.0))
    with pdfplumber.open(io.BytesIO(pdf(Document("One", (Sheet("One", (200, 150), (view,)),))))) as file:
        (line,) = file.pages[0].lines
        assert (line["x1"] - line["x0"]) / 72 == pytest.approx(2.5, abs=0.001)
        assert line["linewidth"] * MM == pytest.approx(OUTLINE.width, abs=0.005)


def test_what_lies_outside_its_window_is_cut_off(tmp_path: Path) -> None:
    """Seen in the picture that poppler draws: ink inside the window, none outside it."""
    drawing = Drawing("wall", "mm", (Line(BUTT, (-500, 40), (500, 40)),))
    view = View(drawing, 1.0, (0.0, 0.0), (30.0, 20.0, 70.0, 60.0))
    file = tmp_path / "one.pdf"
    file.write_bytes(pdf(Document("One", (Sheet("One", (100, 80), (view,)),))))
    program = tool("pdftoppm")
    words = [program, "-r", "25.4", "-gray", str(file), str(tmp_path / "page")]
    subprocess.run(words, check=True, capture_output=True, timeout=60)
    (picture,) = tmp_path.glob("page*.pgm")
    _, width, _, _, pixels = picture.read_bytes().split(maxsplit=4)
    dark = {index % int(width) for index, grey in enumerate(pixels) if grey < 240}
    assert min(dark) == pytest.approx(30, abs=1)
    assert max(dark) == pytest.approx(69, abs=1)


@pytest.mark.long
def test_a_second_process_writes_the_same_bytes() -> None:
    code = PLANNED + (
        "from evencourse.render.sheets.elevation_sheets import job_sheets; "
        "from evencourse.render.drawing.drawing import Document; "
        "from evencourse.render.formats.pdf import pdf; "
        "sheets = tuple(s for f in job_sheets(found, 'tabloid') for s in f); "
        "print(hashlib.sha256(pdf(Document(found.job.name, sheets))).hexdigest())"
    )
    (said,) = printed_twice(code, str(SAMPLES[0]))
    assert len(said) > 60
