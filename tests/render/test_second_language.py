"""A second language beside the first: on the sheets, where they have room; the first alone is as ever."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from gettext import NullTranslations
from pathlib import Path

import pytest

from evencourse.cli.options.choices import read_language
from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import ENGLISH, Voice, alone, beside, gettext, speaking, spoken
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.job import Elevation
from evencourse.render.crew_set.cover import Contents, cover
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.drawing.drawing import Document, Sheet, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.numbering import numbered
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import SECOND
from evencourse.render.drawing.placement import Box
from evencourse.render.drawing.text_lines import both
from evencourse.render.formats.pdf import pdf
from evencourse.render.page.phone_page import phone_page
from evencourse.render.sheets.notes import HEIGHT, FaceWords, face_notes, face_words
from evencourse.render.words.piece_list import face_lists
from evencourse.render.words.result import Result
from evencourse.render.words.safety import GENERAL
from tests.faults.commands import run_here
from tests.layout.walls import job, rectangle, window
from tests.lettering import PSEUDO, Pseudo, sheet_words
from tests.render.sheetcheck import check_pdf, read_pdf
from tests.samples import each_sample, result, sample

SAID = Pseudo().gettext
WALL = Elevation("Wall", rectangle(240, -1, 94), openings=(window("A", 60, 30, 36, 48),))


@contextmanager
def two() -> Iterator[None]:
    """English with a second language that nobody speaks, its words longer and accented."""
    with speaking(Voice(ENGLISH, NullTranslations(), PSEUDO)):
        yield


def second(sheet: Sheet) -> list[Text]:
    """What a sheet says in the pen of the second language."""
    return [mark for mark in sheet.marks if isinstance(mark, Text) and mark.pen is SECOND]


def small(*crew: str) -> Result:
    """One wall; the languages of its crew."""
    return Result(plan(replace(job(WALL, starter=(-2, -2)), crew_languages=crew)))


@pytest.mark.long
@pytest.mark.parametrize("large", [False, True], ids=["small", "large"])
@each_sample
def test_a_second_language_takes_no_sheet_and_no_scale(path: Path, large: bool) -> None:
    found = result(path)
    name = "letter"
    if large:
        name = "tabloid" if found.job.units == "in" else "A3"
    single = sheet_set(found, name, all_edges=True).sheets
    with two():
        document = sheet_set(found, name, all_edges=True)
        data = pdf(document)
    assert check_pdf(data, paper(name).inset) == []
    assert len(document.sheets) == len(single)
    for one, other in zip(single[1:], document.sheets[1:], strict=True):
        assert [view.scale for view in one.views] == [view.scale for view in other.views]
    assert any(second(sheet) for sheet in document.sheets)
    for sheet in document.sheets:
        assert all(text.height >= 2.5 and text.weight == "regular" for text in second(sheet))


def test_nothing_is_beside_a_language_that_is_spoken_alone() -> None:
    assert beside(spoken) is None
    with two():
        assert spoken() is ENGLISH and gettext("Cautions") == "Cautions"
        assert beside(lambda: gettext("Cautions")) == SAID("Cautions")
        assert beside(lambda: beside(spoken)) is None
        with alone():
            assert beside(spoken) is None
        assert beside(spoken) is PSEUDO.language
    assert beside(spoken) is None


def test_words_are_said_twice_where_a_line_has_room() -> None:
    def words() -> str:
        return gettext("Cautions")

    assert both(words, 500.0, 2.5) == "Cautions"
    with two():
        whole = f"Cautions / {SAID('Cautions')}"
        assert both(words, text_width(whole, 2.5), 2.5) == whole
        assert both(words, text_width(whole, 2.5) - 0.1, 2.5) == "Cautions"
        assert both(lambda: "A", 500.0, 2.5) == "A"


def test_two_languages_are_read_from_the_command_line_and_every_fault_is_told() -> None:
    faults: list[Fault] = []
    assert read_language("ES", faults) == "es"
    assert read_language("en, FR-ca", faults) == "en,fr-CA"
    assert read_language(None, faults) is None
    assert faults == []
    read_language("xx,yy", faults)
    assert [fault.found for fault in faults] == ['"xx"', '"yy"']
    for text in ("es,es", "en,es,sv"):
        faults.clear()
        read_language(text, faults)
        assert [fault.found for fault in faults] == [f'"{text}"']


def test_notes_say_everything_in_the_second_language_under_the_first() -> None:
    found = small()

    def words() -> FaceWords:
        return face_words(found.instructions.faces[0], found.material.pieces.faces[0])

    frame = Box(0, 0, 260, 190)
    with two():
        notes = face_notes(words(), frame, second=beside(words))
        narrow = face_notes(words(), Box(0, 0, 60, 190), True, beside(words))
    alike = face_notes(words(), frame)
    told = [line for line, pen in notes.right if pen is SECOND]
    plain = [line for line, pen in notes.right if pen is not SECOND]
    assert notes.right[0][0] == f"Cautions / {SAID('Cautions')}"
    assert " ".join(plain[1:]) == " ".join(line for line, _ in alike.right[1:])
    assert all(SAID(caution) in " ".join(told) for caution in GENERAL)
    assert [pen for _, pen in notes.right] == sorted(
        (pen for _, pen in notes.right), key=lambda p: p is SECOND
    )
    assert (SAID("Every edge that counts is flush."), SECOND) in notes.left
    heading = SAID("Edges not met, worst first")
    assert " ".join(line for line, _ in notes.left).count(heading) == 1
    # A column too narrow for both headings has the second one over what it heads.
    assert narrow.left[0][0] == "Edges not met, worst first"
    assert heading in " ".join(line for line, pen in narrow.left if pen is SECOND)
    assert all(text_width(line, HEIGHT) <= 60 for line, _ in narrow.left)


def test_heads_of_every_list_stand_on_two_lines() -> None:
    with two():
        sheets = sheet_set(small(), "tabloid", all_edges=True).sheets
    said = {text.text for sheet in sheets for text in second(sheet)}
    assert {SAID(head) for head in ("From", "Length", "Save")} <= said
    assert {SAID(head) for head in ("Quantity", "No.", "Edge", "Height", "Course", "Strip")} <= said


def test_titles_and_headings_are_in_both_languages() -> None:
    with two():
        sheets = sheet_set(small(), "tabloid", all_edges=True).sheets
    words = list(sheet_words(sheets))
    for title in ("Details", "Edge schedule", "Trims and order", "Order", "Cautions"):
        assert f"{title} / {SAID(title)}" in words, title
    assert {sheet.chapter for sheet in sheets} >= {
        "Details",
        "Faces",
        "Edge schedule",
    }  # bookmarks: the first


def test_the_second_language_stands_under_every_cut_of_a_list_or_under_none() -> None:
    found = small()
    (given,) = face_lists(found)
    with two():
        others = beside(lambda: face_lists(found))
        assert others is not None
        told = given.beside(others[0])
        (sheet,) = sheet_set(found, "tabloid", only=["faces"]).sheets
    assert told is not None and told.second is others[0]
    cuts = [(row.cut, row.second) for row in told.rows if row.cut and SAID(row.cut) != row.cut]
    assert cuts and all(more == other.cut for (_, more), other in zip(
        cuts, (row for row in others[0].rows if row.cut), strict=True))  # fmt: skip
    said = " ".join(text.text for text in second(sheet))
    assert all(" ".join(more.split()) in said for _, more in cuts)
    assert given.beside(replace(others[0], rows=others[0].rows[1:])) is None


def test_the_cover_cautions_in_no_language_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    """The crew's languages are the first and the second one."""
    monkeypatch.setattr("evencourse.layout.language.speech._spoken", lambda code: PSEUDO)
    found = small("en", PSEUDO.language.code)
    contents = Contents((), (0,), ())
    with two():
        (sheet,) = numbered([cover(found, contents, "tabloid")])
    said = " ".join(text.text for text in sheet.marks if isinstance(text, Text))
    for caution in GENERAL:
        assert said.count(caution) == 1 and said.count(SAID(caution)) == 1
    assert check_pdf(pdf(Document("Cover", (sheet,))), paper("tabloid").inset) == []


def test_the_page_speaks_the_first_language_alone() -> None:
    found = result(sample("lap-cottage"))
    single = phone_page(found, "letter")
    with two():
        assert phone_page(found, "letter") == single


def test_the_command_line_asks_for_a_second_language(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """On the sheets it stands beside the first; what has no second language speaks the first alone."""
    monkeypatch.setattr(
        "evencourse.layout.language.speech._spoken",
        lambda code: PSEUDO if code == "es" else Voice(ENGLISH, NullTranslations()),
    )
    made, path = tmp_path / "set.pdf", str(sample("lap-cottage"))
    run_here(["sheets", path, "-o", str(made), "--lang", "en,es"])
    said = {item.text for page in read_pdf(made.read_bytes()) for item in page.letterings}
    assert {f"{head} / {SAID(head)}" for head in ("Cautions", "Order", "Edges not met, worst first")} & said
    cuts = [run_here(["cuts", path, "--lang", language]).out for language in ("en", "en,es")]
    assert cuts[0] == cuts[1] and cuts[0]
