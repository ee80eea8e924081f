"""Lists of pieces on sheets: where they stand, where they go on, and how they are read."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import speaking
from evencourse.layout.model.job import Elevation, Fixture
from evencourse.render.crew_set.sheet_set import drawn_sheets, sheet_set
from evencourse.render.drawing.drawing import Document, Line, Mark, Sheet, Text
from evencourse.render.drawing.fonts import ASCENT_RATIO, ascent, text_width
from evencourse.render.drawing.pens import ROW_RULE
from evencourse.render.formats.pdf import pdf
from evencourse.render.sheets.face_list import SMALL, list_items, sentence
from evencourse.render.sheets.flow import ColumnItem, column_marks, pour
from evencourse.render.sheets.rake_block import rake_items
from evencourse.render.sheets.table_sheet import Section, SheetCell, SheetColumn, Table, table_items
from evencourse.render.words.piece_list import FaceList, face_lists, list_words
from evencourse.render.words.result import Result
from tests.layout.walls import LAP, job, rectangle, window
from tests.lettering import PSEUDO
from tests.render.photocopy import copied, lost_strokes
from tests.render.sheetcheck import read_pdf
from tests.render.test_sheetset import _listed as pieces_of
from tests.samples import each_sample, result, sample


@cache
def faces_of(path: Path, paper: str, only: tuple[str, ...] = ()) -> list[tuple[Sheet, list[str]]]:
    """The sheets of the faces of a set, with what they say, text by text."""
    more = {"only": only} if only else {}
    document = sheet_set(result(path), paper, **more)  # type: ignore[arg-type]
    read = zip(document.sheets, read_pdf(pdf(document)), strict=True)
    return [
        (sheet, [item.text for item in page.letterings]) for sheet, page in read if sheet.chapter == "Faces"
    ]


def numbers(words: str) -> list[int]:
    return [int(number) for number in re.findall(r"\d+", words)]


def check(found: list[tuple[Sheet, list[str]]], result: Result) -> None:
    """What the sheets say of each other against where the rows are read."""
    letters = {face.face: face.pieces[0].id.rpartition("-")[0] for face in result.material.pieces.faces}
    drawn: dict[str, list[int]] = {face: [] for face in letters}
    listed: dict[str, list[int]] = {face: [] for face in letters}
    for sheet, said in found:
        for face, own in letters.items():
            if sheet.views and re.fullmatch(rf"{re.escape(face)}(, part \d of \d)?", sheet.title):
                drawn[face].append(int(sheet.label))
            if any(mark.rpartition("-")[0] == own for mark, _, _ in pieces_of(said)):
                listed[face].append(int(sheet.label))
    for sheet, said in found:
        number = int(sheet.label)
        if sheet.views:
            (face,) = (face for face, sheets in drawn.items() if number in sheets)
            (told,) = (text for text in said if text.startswith("Pieces: "))
            here = [number] if told.startswith(("Pieces: this", "Pieces: here")) else []
            assert sorted({*here, *numbers(told)}) == listed[face], told
        for face, sheets in listed.items():
            if number not in sheets:
                continue
            later = [other for other in sheets if other > number]
            name = "" if sheet.views else f"{face} "
            goes_on = [text for text in said if re.fullmatch(rf"{name}continued on sheet \d+", text)]
            assert [numbers(text.removeprefix(name)) for text in goes_on] == [[other] for other in later[:1]]
            own = [mark for mark, _, _ in pieces_of(said) if mark.rpartition("-")[0] == letters[face]]
            first, last = (mark.rpartition("-")[2] for mark in (own[0], own[-1]))
            span = first if first == last else f"{first} to {last}"
            assert (
                f"{face} {span}" in sheet.title
                if not sheet.views
                else said_of(said, f"Pieces {span} in order")
            )
            if not sheet.views and face in said:  # the name stands over the first of its rows
                place = next(text for text in said[said.index(face) - 1 :] if text.startswith("drawn on "))
                assert numbers(place.partition(", with")[0]) == drawn[face]


def said_of(said: list[str], words: str) -> bool:
    return words in " ".join(said)


@pytest.mark.long
@pytest.mark.parametrize("paper", ["letter", "tabloid"])
@each_sample
def test_drawings_and_lists_name_the_sheets_of_each_other(path: Path, paper: str) -> None:
    """Read back from the PDF: where the rows of a face stand, and which sheets draw it."""
    check(faces_of(path, paper), result(path))


@pytest.mark.long
def test_the_sheets_named_are_the_same_in_a_part_of_a_set() -> None:
    """Their numbers are those of the whole set; drawings without lists beside them name none."""
    path = sample("carried-on")
    check(faces_of(path, "letter", ("faces",)), result(path))
    sheets = [sheet for face in drawn_sheets(result(path), "letter").faces for sheet in face]
    texts = [mark.text for sheet in sheets for mark in sheet.marks if isinstance(mark, Text)]
    assert sheets and not [text for text in texts if text.startswith("Pieces: ") and "sheet" in text]


def texts_of(items: Iterable[ColumnItem]) -> list[str]:
    return [mark.text for mark in column_marks(list(items), 0.0, 0.0) if isinstance(mark, Text)]


def listing(*elevations: Elevation, **more: object) -> tuple[Result, FaceList]:
    found = Result(plan(job(*elevations, starter=(-2, -2), **more)))  # type: ignore[arg-type]
    return found, face_lists(found)[0]


def test_no_column_opens_with_a_piece_whose_courses_are_not_told() -> None:
    """Courses beside two windows are three pieces each, alike from course to course: shingles are."""
    path = sample("shingled-barn")
    one = next(one for one in face_lists(result(path)) if any(row.under for row in one.rows))
    at = next(at for at, row in enumerate(one.rows) if row.under)
    words = one.rows[at].under.removesuffix(":")
    items = list_items(one, one.rows[at:], 60.0)
    assert items is not None
    assert texts_of(items[:1])[0] == f"{words}, continued:"  # the rest of a list begins there
    whole = list_items(one, one.rows, 60.0)
    assert whole is not None
    for height in range(20, 80, 4):
        columns, _ = pour(whole, [float(height)] * 60)
        for column in columns:
            said = texts_of(column)
            if any(text.startswith(".") for text in said):
                before = said[: next(at for at, text in enumerate(said) if text.startswith("."))]
                assert any(text.startswith("Courses ") for text in before)


def test_a_list_tells_which_panel_laps_over_which() -> None:
    """A wall of 400 in with its entrance at 200 in, panels of 150 in: hung from both ends towards it."""
    found, one = listing(Elevation("Wall", rectangle(400, -2, 30), entrance=200.0))
    (hung,) = found.material.pieces.faces
    turn = {piece.id: piece.order for piece in hung.pieces}
    for seam in hung.seams:
        front, behind = (seam.left, seam.right) if seam.front == "left" else (seam.right, seam.left)
        assert turn[front] > turn[behind]
    assert one.turned and int(one.turned[0].rpartition(".")[2]) > int(one.turned[1].rpartition(".")[2])
    assert f"towards the entrance ({' before '.join(one.turned)})" in list_words([one])


def test_without_an_entrance_panels_go_on_from_the_left_and_boards_do_not_lap() -> None:
    words = list_words([listing(Elevation("Wall", rectangle(400, -2, 30)))[1]])
    assert "Each panel laps over the one before it." in words and "entrance" not in words
    boards = listing(Elevation("Wall", rectangle(400, -2, 30)), cladding=LAP)[1]
    assert "Each panel" not in list_words([boards])


def test_a_fixture_that_a_panel_is_cut_past_is_named() -> None:
    pipe = Fixture("S1", 130, 16, 4, 4, block=False)
    _, one = listing(Elevation("Wall", rectangle(400, -2, 30), fixtures=(pipe,)))
    assert one.past == ("S1",)
    assert "At S1 the first panel runs a lap past it" in list_words([one])


def test_a_list_has_no_empty_columns_and_its_save_stays_near_its_length() -> None:
    """Shingles come from no length and leave none. Common practice, no source: 2 in are followed."""
    one = next(iter(face_lists(result(sample("shingled-barn")))))
    items = list_items(one, one.rows, 200.0)
    assert items is not None
    assert not {"From", "Save"} & set(texts_of(items[-1].again))
    (mixed,) = (
        one
        for one in face_lists(result(sample("two-claddings")))
        if any("C" in row.first for row in one.rows)
    )
    shingles = list_items(mixed, [row for row in mixed.rows if row.first.startswith("C")], 200.0)
    assert shingles is not None and "From" not in texts_of(shingles[-1].again)
    _, panels = listing(Elevation("Wall", rectangle(400, -2, 30), openings=(window("A", 60, 12, 36, 48),)))
    items = list_items(panels, panels.rows, 380.0)
    assert items is not None
    head = {mark.text: mark.at[0] for item in items[-1].again for mark in item.draw(0.0, 0.0)
            if isinstance(mark, Text)}  # fmt: skip
    assert 0.0 < head["Save"] - head["Length"] <= 50.0


def test_a_heading_that_has_no_room_for_it_says_continued_under_it() -> None:
    """A section of 30 rows in columns of 20: the second column's heading may not read as a second order."""
    rows = tuple((SheetCell(str(number)),) for number in range(30))
    table = Table(
        (SheetColumn("No.", wraps=True),), (Section("Outside corner post: 8 pcs", rows),), dense=True
    )
    for width in (30.0, 45.0, 120.0):
        items = table_items(table, width, True)
        assert items is not None
        _, second = pour(items, [100.0, 1000.0])[0]
        assert "continued" in " ".join(texts_of(second)[:4]).replace(",", "").split()


def test_text_of_a_rake_that_runs_on_has_its_heading_again() -> None:
    items = rake_items(result(sample("gabled-house")).plan, 60.0)
    assert items is not None
    paragraphs = [item for item in items if not item.heading]
    assert texts_of(paragraphs[:1])[0] == '8" up, 12" over'  # the figures, never parted from their triangle
    assert len(paragraphs) > 1
    assert all(texts_of(item.again) == ["Rake 8 in 12, continued"] for item in paragraphs[1:])


def test_a_rakes_usual_layout_is_told_once_in_any_language() -> None:
    """Of the same rows it is left out, and the same sentences tell how the list is read."""

    def said() -> tuple[list[bool], int]:
        lists = face_lists(result(sample("gabled-house")))
        assert any(one.rake for one in lists)
        bare = [one.rake != "" and one.rake not in row.cut for one in lists for row in one.rows]
        return bare, list_words(lists).count(". ")

    english = said()
    with speaking(PSEUDO):
        assert said() == english


def test_a_copier_keeps_the_rules_between_rows() -> None:
    """150 dots per inch, black from 60 % on; a rule may fall anywhere between its dots, of 0.17 mm."""
    marks: tuple[Mark, ...] = tuple(
        Line(ROW_RULE, (10.0, 5.0 + 2.0 * step + 0.017 * step), (90.0, 5.0 + 2.0 * step + 0.017 * step))
        for step in range(30)
    )
    data = pdf(Document("Rules", (Sheet("Rules", (120.0, 80.0), marks=marks),)))
    assert lost_strokes(data, 0, copied(data, 0)) == []


def test_a_sentence_that_begins_with_an_accent_keeps_clear_of_the_row_over_it() -> None:
    """By hand: it begins as much lower as the accent rises over what is reckoned, and is as much higher."""
    plain, accented = sentence("Offnung R", 60.0), sentence("Öffnung R", 60.0)
    rise = SMALL * (ascent("Ö") - ASCENT_RATIO)
    assert rise > 0.1
    assert accented.height - plain.height == pytest.approx(rise)
    tops = [
        next(mark.at[1] for mark in one.draw(0.0, 0.0) if isinstance(mark, Text)) for one in (plain, accented)
    ]
    assert tops[0] - tops[1] == pytest.approx(rise)


def test_only_the_line_whose_accents_rise_stands_lower_than_usual() -> None:
    """By hand: 3.5 mm from line to line, and 2.5 x (1.33 + 0.304) = 4.085 above the line with an accent."""
    lines = ["Fuge an den Enden, jede", "\u00dcberlappung 25 mm, mit", "Blechschere, ohne Fuge"]
    words = " ".join(line.replace(" ", "\u00a0") for line in lines)
    width = max(text_width(line, SMALL) for line in lines)
    drawn = [mark for mark in sentence(words, width).draw(0.0, 0.0) if isinstance(mark, Text)]
    assert [mark.text for mark in drawn] == lines
    downs = [upper.at[1] - lower.at[1] for upper, lower in pairwise(drawn)]
    assert downs == pytest.approx([4.085, 3.5], abs=0.005)
    assert sentence(words, width).height == pytest.approx(3.7 + sum(downs))
