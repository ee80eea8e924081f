"""A cover with cautions in the crew's languages: on it or on a sheet behind it, never over words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import gettext, speaking
from evencourse.layout.model.job import Elevation
from evencourse.render.crew_set.cover import Contents, caution_sheets, cover_drafts
from evencourse.render.crew_set.cover_cautions import caution_pages, crew_languages
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.drawing.drawing import Document, Mark, Sheet, Text
from evencourse.render.drawing.numbering import numbered
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import STARTER
from evencourse.render.drawing.placement import ELLIPSIS, Box
from evencourse.render.formats.pdf import pdf
from evencourse.render.sheets.notes import face_words
from evencourse.render.words.caution_words import cautions_together
from evencourse.render.words.result import Result
from evencourse.render.words.safety import GENERAL
from tests.layout.walls import job, rectangle, window
from tests.render.sheetcheck import check_pdf
from tests.samples import result, sample

WALL = Elevation("Wall", rectangle(240, -1, 94), openings=(window("A", 60, 30, 36, 48),))
#: So many faces that their cautions and edges not met fill a cover.
MANY = tuple(replace(WALL, name=f"Long name of wall {number}") for number in range(1, 7))


def crewed(walls: tuple[Elevation, ...], *crew: str) -> Result:
    """Walls, and the languages of their crew."""
    return Result(plan(replace(job(*walls, starter=(-2, -2)), crew_languages=crew)))


def covers(found: Result, name: str) -> tuple[Sheet, ...]:
    """The cover with what stands behind it."""
    faces = tuple(range(4, 4 + len(found.plan.elevations)))
    return numbered(cover_drafts(found, Contents((), faces, found.instructions.sidings), name))


def said(marks: tuple[Mark, ...]) -> str:
    """All lettering of a sheet."""
    return plain(" ".join(mark.text for mark in marks if isinstance(mark, Text)))


def plain(words: str) -> str:
    """Words with spaces that any line may break at."""
    return words.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize("name", ["letter", "tabloid", "A4"])
@pytest.mark.parametrize("walls", [(WALL,), MANY], ids=["one", "many"])
@pytest.mark.parametrize("crew", [("en",), ("en", "fr-CA"), ("en", "fr-CA", "de", "sv")], ids=len)
def test_cautions_stand_in_every_language_of_the_crew(
    name: str, walls: tuple[Elevation, ...], crew: tuple[str, ...]
) -> None:
    with speaking("es"):
        found = crewed(walls, *crew)
        sheets = covers(found, name)
        assert len(sheets) == 1 + caution_sheets(found, name)
        data = pdf(Document("Cover", sheets))
    assert check_pdf(data, paper(name).inset) == []
    words = " ".join(said(sheet.marks) for sheet in sheets)
    for code in crew:
        with speaking(code):
            for caution in GENERAL:
                assert plain(gettext(caution)) in words
            for _, texts in cautions_together(found.plan):
                assert all(plain(text) in words for text in texts)


def test_one_wall_keeps_its_cautions_on_the_cover() -> None:
    assert caution_sheets(crewed((WALL,), "es"), "tabloid") == 0
    assert caution_sheets(crewed(MANY), "letter") == 0


def test_sheets_behind_the_cover_are_numbered_and_told_on_it() -> None:
    with speaking("en"):
        found = crewed(MANY, "es", "fr-CA", "de", "sv")
        sheets = sheet_set(found, "letter").sheets
        more = caution_sheets(found, "letter")
    assert more == 1
    assert [sheet.label for sheet in sheets] == [str(number) for number in range(1, len(sheets) + 1)]
    assert [sheet.title for sheet in sheets[:2]] == ["Cover, 1 of 2", "Cover, 2 of 2"]
    cover = said(sheets[0].marks)
    assert "Precauciones: hoja 2" in cover and "Varningar: blad 2" in cover
    first = next(sheet for sheet in sheets if sheet.chapter == "Faces")
    assert f"sheet {first.label}" in cover


@pytest.mark.parametrize("name", ["letter", "tabloid"])
def test_every_starter_stands_whole_on_the_cover(name: str) -> None:
    with speaking("es"):
        found = result(sample("two-claddings"))
        marks = covers(found, name)[0].marks
        figures = [mark.text for mark in marks if isinstance(mark, Text) and mark.pen is STARTER]
    assert len(figures) >= len(found.plan.course_sets) > 1
    assert not any(ELLIPSIS in figure for figure in figures)


def test_cautions_that_one_sheet_has_no_room_for_go_on_the_next() -> None:
    found = crewed(MANY, "es", "fr-CA", "de", "sv")
    pages = caution_pages(found.plan, Box(0, 0, 200, 40), 1.0)
    assert len(pages) > 1
    texts = [mark for page in pages for mark in page if isinstance(mark, Text)]
    assert all(text.at[1] - text.height >= 0 and text.height >= 2.5 for text in texts)
    assert not any(ELLIPSIS in text.text for text in texts)
    assert sum(text.weight == "bold" for text in texts) == len(crew_languages(found.plan)) == 4


def test_a_heading_is_in_both_languages_only_over_words_in_both() -> None:
    found = crewed((WALL,))
    with speaking("en,es"):
        words = face_words(found.instructions.faces[0])
        alone = words.warned(200, None), words.edges(200, None)[0]
        with speaking("es"):
            other = face_words(found.instructions.faces[0])
        both = words.warned(200, other), words.edges(200, other)[0]
        untold = words.edges(200, replace(other, given=()))[0]
    assert [lines[0][0] for lines in alone] == ["Cautions", "Edges not met, worst first"]
    assert [lines[0][0] for lines in both] == [
        "Cautions / Precauciones", "Edges not met, worst first / Bordes no alcanzados, peores primero",
    ]  # fmt: skip
    assert untold[0][0] == "Edges not met, worst first"
