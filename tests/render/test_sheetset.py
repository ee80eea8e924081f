"""The whole set of a job, read back from the PDF: what each sheet says, what the document says of itself."""

from __future__ import annotations

import io
import re
import subprocess
from dataclasses import replace
from functools import cache
from pathlib import Path

import pypdf
import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import LANGUAGES, speaking
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation, Fixture
from evencourse.render.border.stamp import Stamp
from evencourse.render.building.siding_lines import next_chalk, next_line
from evencourse.render.crew_set.cover import Contents, cover
from evencourse.render.crew_set.sheet_set import drawn_sheets, sheet_set
from evencourse.render.drawing.drawing import Document, Sheet, Text, View
from evencourse.render.drawing.numbering import numbered
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import TEXT
from evencourse.render.drawing.placement import ELLIPSIS, Box
from evencourse.render.drawing.text_lines import clear_leading
from evencourse.render.elevation.face_picture import face_picture
from evencourse.render.formats.pdf import pdf
from evencourse.render.sheets.edge_schedule import edge_schedule
from evencourse.render.words.caution_words import face_cautions
from evencourse.render.words.piece_words import quantity_words, trim_words
from evencourse.render.words.plan_words import BELOW, datum_words, edge_cut, show
from evencourse.render.words.result import Result
from evencourse.render.words.safety import GENERAL
from tests.again import PLANNED, printed_twice
from tests.layout.walls import Trim, job, rectangle, window
from tests.lettering import PSEUDO, Pseudo
from tests.render.sheetcheck import Fault, Page, check_pdf, read_pdf
from tests.samples import each_sample, planned, result, sample
from tests.tools import tool

GABLED = sample("gabled-house")
COTTAGE = sample("lap-cottage")
SAW = "Trims, rakes and order"
_STARTS = {
    "eave": "Eave",
    "eave left": "Eave, left end",
    "eave right": "Eave, right end",
    "base": "Base",
    "band": "Band board",
}


@cache
def bound(path: Path) -> tuple[Document, bytes]:
    document = sheet_set(result(path), "letter", all_edges=True)
    return document, pdf(document)


@cache
def pages(path: Path) -> list[list[str]]:
    """What every page says, text by text, in painting order."""
    return [[item.text for item in page.letterings] for page in read_pdf(bound(path)[1])]


def sheets_of(path: Path, chapter: str) -> list[list[str]]:
    document, _ = bound(path)
    return [
        said for sheet, said in zip(document.sheets, pages(path), strict=True) if sheet.chapter == chapter
    ]


def small(*elevations: Elevation, **more: object) -> Plan:
    return plan(job(*elevations, starter=(-2, -2), **more))  # type: ignore[arg-type]


WALL = Elevation("Wall", rectangle(240, -1, 94), openings=(window("A", 60, 30, 36, 48),))


@pytest.mark.long
def test_the_cover_says_the_starter_where_it_is_measured_from_and_what_was_given_up() -> None:
    """By hand: the foundation's top is 40 in below the line and covered by 1 in, hence 3' 5" below."""
    cover = pages(GABLED)[0]
    assert {"Chalk line", "3' 3\" below datum", "Starter line 3' 5\" below"} <= set(cover)
    assert "Heights from: laser line, 40 in above the top of the foundation" in cover
    assert {"Street", "East gable", "Garden", "West gable"} <= set(cover)
    assert any(text.startswith("West gable GD head, West gable V2 sill: notch") for text in cover)
    assert any("scaffolds" in text for text in cover)


def test_the_cover_of_a_stepped_building_says_where_each_face_begins() -> None:
    """By hand: lines every 8 in from -146; the street's base at -41 takes -146 + 13 x 8 = -42, the west's
    at -89 takes -146 + 7 x 8 = -90; a chalk line is 2 in above its first line. Sills of like fate are told
    together.
    """
    cover = pages(sample("walk-out"))[0]
    assert "Chalk line: East, River, Nook, Terrace" in cover
    marks = {"A", "B1", "B2", "D1", "D2", "E", "F", "G", "H", "K", "M", "P"}
    assert marks <= set(cover)  # of two windows that share a casing too
    assert not any(text.startswith("sliver:") for text in cover)  # it has none
    assert any(
        text.startswith("Street: chalk line 3' 4\" below. West: chalk line 7' 4\" below.") for text in cover
    )
    assert any(text.startswith("Street A, B1, B2 sill, River H sill, Nook K sill,") for text in cover)


def test_courses_of_shingles_that_are_alike_share_a_row_of_the_order() -> None:
    """By hand: beside the barn door twice 8' 8-1/4", on the gable 23' 11-3/4": 41' 4-1/4" in courses 1 to 9;
    the first is laid double."""
    said = [text for page in pages(sample("shingled-barn")) for text in page]
    assert "courses 2 to 9, each" in said
    assert said[said.index("courses 2 to 9, each") - 1] == "41' 4-1/4\""
    assert any(text.startswith('course 1, exposure 4-11/16",') for text in said)


def test_a_band_board_is_named_on_the_face_that_shows_it() -> None:
    """190 high over the lap boards of the sea gable, which end at 1850: on the sheet of the gable alone."""
    named = [
        number for number, page in enumerate(pages(sample("two-claddings")), 1) if "band board 190 mm" in page
    ]
    assert len(named) == 1


def test_courses_that_hang_out_of_level_are_told_edge_by_edge() -> None:
    """Course 5 falls from 24-1/8 to 23-7/8 over 288 in; both sills are at 30-3/4 in. By hand: at the middle
    of A, 60 in, it hangs at 24-1/16, at the middle of B, 228 in, at 23-15/16: cuts of 6-11/16 and 6-13/16."""
    carried = sample("carried-on")
    assert any(text.startswith("As built, Yard, Lane") for text in pages(carried)[0])
    said = " ".join(sheets_of(carried, "Faces")[0])
    for mark, up in (("A", '6-11/16"'), ("B", '6-13/16"')):
        told = f"{mark} sill 2' 6-3/4\": course 5 is installed: it must be cut off {up} up from its bottom; "
        assert f"{told}if it is not, cut it on the wall" in said
    rows = [text for texts in sheets_of(carried, "Edge schedule") for text in texts]
    assert rows.count("already installed") == 3 and '3/8"' not in rows


def test_where_courses_hang_cover_and_elevation_name_the_next_one() -> None:
    """By hand: course 5 at 24; from there to the heads at 75-3/4 seven courses, 24 + 51-3/4 / 7 = 31.39."""
    path = sample("carried-on")
    for page in (pages(path)[0], sheets_of(path, "Faces")[0]):
        assert {"Next: course 6", "2' 7-3/8\" above datum"} <= set(page)


@pytest.mark.long
def test_what_is_snapped_is_the_biggest_figure_of_cover_and_faces() -> None:
    """Panels: the chalk line, 2 in over the starter line (by hand: 1-1/2 in of strip under the line and the
    drop of the first course); boards have no strip to snap a line for: the starter line."""
    biggest = [
        max(page.letterings, key=lambda item: item.cap).text
        for path, number in ((GABLED, 0), (GABLED, 3), (COTTAGE, 0), (COTTAGE, 3))
        for page in [read_pdf(bound(path)[1])[number]]
    ]
    assert biggest[:2] == ["3' 3\" below datum"] * 2
    starter = datum_words(planned(COTTAGE).job, planned(COTTAGE).elevations[0].bases[0].line)
    assert biggest[2:] == [starter] * 2


@pytest.mark.long
@each_sample
def test_the_cover_cautions_in_whole_sentences(path: Path) -> None:
    """Where there is no room for what each face cautions of, it is named there with its faces."""
    said = " ".join(pages(path)[0])
    assert all(caution in said for caution in GENERAL)
    for face in planned(path).elevations:
        for caution in face_cautions(face, planned(path)):
            if caution.startswith("Height:"):
                continue
            kind = re.escape(caution.partition(":")[0])
            named = re.search(rf"{kind}: [^.]*{re.escape(face.elevation.name)}[^.]*\.", said)
            assert caution in said or named, caution


def test_the_cover_tells_the_greatest_height_of_work_once() -> None:
    """By hand: 94 in and 118 in over the foot of two walls, 71 in at the third, where no fall is named; at
    the fourth the ground lies 60 in under the datum, its eave 94 in over it."""
    walls = [Elevation(name, rectangle(120, 0, top)) for name, top in (("A", 94), ("B", 118), ("C", 71))]
    walls.append(Elevation("D", rectangle(120, 0, 94), grade=((0, -60), (120, -60))))
    drafts = numbered([cover(Result(small(*walls)), Contents((), (0,) * 4, ()), "letter")])
    said = " ".join(item.text for item in read_pdf(pdf(Document("Heights", drafts)))[0].letterings)
    assert re.findall(r"([A-D](?:, [A-D])*): Height: work is up to (.+?) above (.+?);", said) == [
        ("A, B", "9' 10\"", "the foot of the wall"),
        ("D", "12' 10\"", "the ground"),
    ]


@each_sample
def test_the_cover_names_the_sheets_where_they_are(path: Path) -> None:
    document, _ = bound(path)
    (line,) = [text for text in pages(path)[0] if text.startswith("Sheets: ")]
    for chapter in dict.fromkeys(sheet.chapter for sheet in document.sheets[1:]):
        numbers = [at for at, sheet in enumerate(document.sheets, start=1) if sheet.chapter == chapter]
        words = f"{numbers[0]}" if len(numbers) == 1 else f"{numbers[0]} to {numbers[-1]}"
        assert re.search(rf"[:,] {chapter.lower()} {words}(,|$)", line)
    assert line.endswith(str(len(document.sheets)))


@each_sample
def test_every_sheet_says_which_it_is_of_how_many(path: Path) -> None:
    said = pages(path)
    for number, texts in enumerate(said, start=1):
        assert {"Sheet", str(number), f"of {len(said)}"} <= set(
            texts
        ) or f"Sheet {number} of {len(said)}" in texts


@each_sample
def test_the_edge_schedule_has_every_edge_with_its_cut(path: Path) -> None:
    """Rows are read by their level on the page."""
    found, (document, data) = planned(path), bound(path)
    rows: list[str] = []
    for sheet, page in zip(document.sheets, read_pdf(data), strict=True):
        if sheet.chapter == "Edge schedule":
            levels: dict[int, list[tuple[float, str]]] = {}
            for item in page.letterings:
                levels.setdefault(round(item.quad[0][1]), []).append((item.quad[0][0], item.text))
            near = [
                [part for shift in (-1, 0, 1) for part in levels.get(level + shift, [])] for level in levels
            ]
            rows += [" | ".join(text for _, text in sorted(row)) for row in near]
    for face in found.elevations:
        for edge in face.edges:
            cut = "" if edge.result == "flush" else show(found.job, edge_cut(edge, found)[0])
            start = (
                f"{edge.opening} {edge.edge}"
                if edge.opening
                else _STARTS.get(edge.edge, edge.edge.split()[0].title())
            )
            height = show(found.job, edge.height)
            assert any(row.startswith(start) and height in row and cut in row for row in rows), (edge, rows)


@pytest.mark.parametrize(
    ("sample", "comes_off"), [("gabled-house", "nail hem"), ("lap-cottage", "lap"), ("shingled-barn", "tops")]
)
def test_where_a_course_ends_flush_the_schedule_says_what_comes_off(sample: str, comes_off: str) -> None:
    """What laps under the next course has no next course there (geometry)."""
    path = GABLED.with_stem(sample)
    rows = [text for texts in sheets_of(path, "Edge schedule") for text in texts]
    flush = [
        edge
        for face in planned(path).elevations
        for edge in face.edges
        if edge.result == "flush" and edge.edge in BELOW
    ]
    said = [text for text in rows if f"course ends here, its {comes_off} off" in text]
    assert len(said) == len(flush) > 0


@each_sample
def test_no_words_of_a_list_are_cut_short(path: Path) -> None:
    for chapter in ("Edge schedule", "Faces", SAW):
        assert not [text for texts in sheets_of(path, chapter) for text in texts if ELLIPSIS in text]


@pytest.mark.long
def test_a_wall_that_begins_over_a_roof_is_told_its_lowest_line() -> None:
    """A dormer's cheek over a roof of 6 in 12, courses of 8 in from -1: butt line 1 lies under the roof,
    butt line 2, at 7 in, is the lowest that siding hangs on."""
    cheek = Elevation("Cheek", ((0, 0), (108, 54), (108, 72), (0, 72)), courses="cheek")
    found = plan(job(cheek, WALL, starter=(-1, -1)))
    document = sheet_set(Result(found), "letter")
    read = zip(document.sheets, read_pdf(pdf(document)), strict=True)
    sheets = [page for sheet, page in read if sheet.chapter != "Details"][:3]
    cover_said, cheek_said, wall_said = ([item.text for item in sheet.letterings] for sheet in sheets)
    first = cheek_said.index("Butt line 2, lowest here")
    assert '7" above datum' in cheek_said[first:] and '1" below datum' not in cheek_said
    assert "Butt line 2, lowest here: Cheek" in cover_said and '7" above datum' in cover_said
    assert "Chalk line" in wall_said and 'Starter line 1" below' in wall_said


def listed(document: Document) -> list[tuple[str, str, str]]:
    """Every piece of the lists as a set prints them, in their turn: mark, length, source.

    A column's head tells the letters of its face; ``4 to 9`` is one piece a course, and rows under
    ``Courses 4 to 9, each:`` are one of each course.
    """
    found: list[tuple[str, str, str]] = []
    for sheet, page in zip(document.sheets, read_pdf(pdf(document)), strict=True):
        if sheet.chapter == "Faces":
            found += _listed([item.text for item in page.letterings])
    return found


def _listed(said: list[str]) -> list[tuple[str, str, str]]:
    found: list[tuple[str, str, str]] = []
    letters, courses, at = "", range(0), 0
    while at < len(said):
        text, size = said[at], _row_size(said, at)
        if text.endswith("-") and said[at + 1] in ("From", "Length"):
            letters = text
        elif each := re.fullmatch(r"Courses (\S+) to (\S+), each:", text):
            courses = _courses(each[1], each[2])
        elif letters and size:
            marks = [f"{letters}{text}"]
            if several := re.fullmatch(r"(\d+) to (\d+)", text):
                marks = [f"{letters}{course}.1" for course in _courses(*several.groups())]
            elif text.startswith("."):
                marks = [f"{letters}{course}{text}" for course in courses]
            source = said[at + 1] if size == 3 else ""
            found += [(mark, said[at + size - 1], source) for mark in marks]
            at += size - 1
        at += 1
    return found


def _courses(first: str, last: str) -> range:
    return range(int(first), int(last) + 1)


def _row_size(said: list[str], at: int) -> int:
    """How many texts mark, source and length of a row are; 0 where no row begins."""
    mark, source, length = (*said[at : at + 3], "", "")[:3]
    if not re.fullmatch(r"\.\d+|[A-Za-z]*\d+\.\d+|\d+ to \d+", mark):
        return 0
    if re.fullmatch(r"new|(\S+-)?[A-Za-z]*\d+\.\d+", source) and _LENGTH.fullmatch(length):
        return 3
    return 2 if _LENGTH.fullmatch(source) else 0


_LENGTH = re.compile(r"(\d+' )?[\d/-]+\"|\d+' \d+\"|\d+(\.\d+)?( mm)?")


@pytest.mark.parametrize("paper_name", ["letter", "tabloid"])
@each_sample
def test_every_piece_is_listed_once_in_its_turn(path: Path, paper_name: str) -> None:
    """With its length; and what an end is cut from comes before it."""
    found = result(path)
    made = {piece.id: piece for piece in found.material.pieces.all()}
    said = listed(sheet_set(found, paper_name, only=["faces"]))
    assert sorted(mark for mark, _, _ in said) == sorted(made)
    for mark, length, source in said:
        piece = made[mark]
        assert length == show(found.plan.job, piece.length)
        letters = mark.rpartition("-")[0]
        wanted = (piece.source or "").removeprefix(f"{letters}-")
        assert source == wanted
    for face in found.material.pieces.faces:
        turn = [piece.id for piece in sorted(face.pieces, key=lambda piece: piece.order)]
        ours = [mark for mark, _, _ in said if made[mark].face == face.face]
        single = [mark for mark in ours if made[mark].source not in ("new", None)]
        assert single == [mark for mark in turn if mark in set(single)]


def test_courses_of_alike_pieces_are_one_row() -> None:
    """A wall of 148 in, no opening, stock of 12' 6": one new length a course, and no cutoff to use."""
    found = Result(small(Elevation("Wall", rectangle(148, -2, 94))))
    document = sheet_set(found, "letter", only=["faces"])
    said = [item.text for page in read_pdf(pdf(document)) for item in page.letterings]
    assert "1 to 11" in said  # the nail hem comes off the twelfth
    assert len(listed(document)) == len(list(found.material.pieces.all())) == 12


@pytest.mark.parametrize(("paper_name", "most"), [("letter", 12), ("tabloid", 8)])
def test_a_crew_carries_few_sheets(paper_name: str, most: int) -> None:
    """A two-storey house of four faces and 394 pieces."""
    assert len(sheet_set(result(GABLED), paper_name).sheets) <= most


@pytest.mark.long
def test_parts_of_a_set_are_printed_alone_and_more_on_request() -> None:
    def chapters(**more: object) -> list[str]:
        made = sheet_set(result(GABLED), "letter", **more)  # type: ignore[arg-type]
        return list(dict.fromkeys(sheet.chapter for sheet in made.sheets))

    assert chapters() == ["", "Details", "Faces", SAW]
    assert chapters(only=["faces"]) == ["Faces"]
    assert chapters(only=["trims", "order"]) == ["Trims and order"]
    assert chapters(only=["cover", "rakes"]) == ["", "Rakes"]
    more = chapters(all_edges=True, templates=True)
    assert more == ["", "Details", "Faces", SAW, "Edge schedule", "Rake templates"]
    assert sheet_set(Result(small(WALL)), "letter", only=["rakes"]).sheets == ()


@each_sample
def test_faces_are_drawn_as_the_crew_has_them(path: Path) -> None:
    """In as many parts and as large; what the cover cautions of every face stands on the drawn details."""
    document, drawn = bound(path)[0], drawn_sheets(result(path), "letter")
    crews = [(sheet.title, sheet.views[0].scale) for sheet in document.sheets if sheet.chapter == "Faces"
             and sheet.views]  # fmt: skip
    assert [(sheet.title, sheet.views[0].scale) for face in drawn.faces for sheet in face] == crews
    for sheet in drawn.details:
        said = " ".join(mark.text for mark in sheet.marks if isinstance(mark, Text))
        assert all(caution in said for caution in GENERAL)


def test_rakes_trims_and_order_stand_on_their_sheets() -> None:
    """8 in 12 by hand: 26 ft of gable, 13 ft of run, 8 ft 8 in of rise; 8 in up are 12 in over."""
    said = [text for texts in sheets_of(GABLED, SAW) for text in texts]
    assert {"Rake 8 in 12", '8" up, 12" over', "33.7° from level"} <= set(said)
    assert "run 13' 0\", rise 8' 8\"" in " ".join(said)
    trims = result(GABLED).material.cuts.trims
    for trim in trims:
        words = f"{trim_words(trim.kind, trim.size, planned(GABLED).job)}: {len(trim.bars)} pc"
        assert any(text.startswith(f"{words[0].upper()}{words[1:]}") for text in said), words
    for item in result(GABLED).material.order.items:
        assert quantity_words(item) in said


@pytest.mark.long
def test_bookmarks_labels_title_author_and_language() -> None:
    made = replace(planned(GABLED), job=replace(planned(GABLED).job, author="R. Öst"))
    document = sheet_set(Result(made), "letter", Stamp("2025-03-14"))
    reader = pypdf.PdfReader(io.BytesIO(pdf(document)), strict=True)
    titles = [mark.title for mark in reader.outline if not isinstance(mark, list)]
    assert titles == ["Cover", "Details", "Faces", SAW]
    faces = reader.outline[4]
    drawn = [mark.title.partition(",")[0] for mark in faces]  # type: ignore[union-attr]
    assert [title for title in drawn if not title.startswith("Pieces")][:2] == ["Street", "East gable"]
    assert reader.page_labels == [str(number) for number in range(1, len(reader.pages) + 1)]
    assert reader.metadata is not None
    assert reader.metadata.title == "Heron Lane, house 3"
    assert reader.metadata.author == "R. Öst"
    assert reader.trailer["/Root"]["/Lang"] == "en-US"  # type: ignore[index]
    assert reader.metadata["/CreationDate"] == "D:20250314"


@each_sample
def test_qpdf_finds_no_fault_in_a_set(path: Path, tmp_path: Path) -> None:
    file = tmp_path / "set.pdf"
    file.write_bytes(bound(path)[1])
    found = subprocess.run([tool("qpdf"), "--check", str(file)], check=False, capture_output=True, text=True)
    assert found.returncode == 0, found.stdout + found.stderr


@pytest.mark.long
def test_a_job_without_rakes_has_no_rake_sheets() -> None:
    chapters = {sheet.chapter for sheet in sheet_set(Result(small(WALL)), "letter").sheets}
    assert chapters == {"", "Details", "Faces", "Trims and order"}


def test_sixty_faces_go_on_and_on_with_the_head_of_the_table_on_every_sheet() -> None:
    walls = [
        Elevation(f"Face {k}", rectangle(120 + 7 * k, -1, 100), openings=(window("A", 20, 30, 30, 50),))
        for k in range(60)
    ]
    sheets = numbered(edge_schedule(small(*walls), "letter"))
    data = pdf(Document("Sixty", sheets))
    assert check_pdf(data, paper("letter").inset) == []
    said = [[item.text for item in page.letterings] for page in read_pdf(data)]
    assert len(said) > 3
    assert all("Height" in texts and "Course" in texts for texts in said)
    assert {f"Face {k}" for k in range(60)} <= {text for texts in said for text in texts}


def test_no_mark_on_the_cover_stands_on_the_sign_of_an_opening_beside_it() -> None:
    """A wall of 36 ft, 22 mm wide: the door's mark has no room between the signs of two windows."""
    trim = Trim(head=5.25, sill=1.5, side=4.5)
    holes = [window("N", 147.5, 1.5, 36, 82.5, trim=trim)]
    holes += [
        window(mark, left, 46.75, 36.5, 49.5, trim=trim) for mark, left in (("P", 35.75), ("R", 251.75))
    ]
    found = small(Elevation("Back", rectangle(432, 1.5, 213.875), openings=tuple(holes)))
    assert _on_the_cover(found, 0.0518)[1] == []


def test_marks_on_the_cover_stand_on_no_sign_and_under_no_fixture() -> None:
    """A vent's sign reaches into the window under it, and a lamp hangs at the right side of another one."""
    holes = (
        window("F", 95, 163.5, 37, 39.5),
        window("M", 110, 207.5, 30, 18),
        window("C", 227.75, 49.75, 20, 40),
    )
    lamp = Fixture("lamp", 255, 45, 8, 40)
    wall = Elevation("Front", rectangle(484, -2.75, 250), openings=holes, fixtures=(lamp,))
    page, faults = _on_the_cover(small(wall), 0.1157)
    assert faults == []
    (mark,) = (item for item in page.letterings if item.text == "C")
    assert max(x for x, _ in mark.quad) < 60 + 0.1157 * 227.75


def _on_the_cover(found: Plan, factor: float) -> tuple[Page, list[Fault]]:
    picture = View(
        face_picture(found, found.elevations[0], factor), factor / 25.4, (60, 40), (10, 10, 190, 90)
    )
    data = pdf(Document("Face", (Sheet("Face", (200, 100), (picture,)),)))
    return read_pdf(data)[0], list(check_pdf(data, 7.0))


@pytest.mark.long
def test_no_rule_of_a_list_touches_its_lettering() -> None:
    document = sheet_set(Result(small(WALL)), "letter", only=["faces"])
    (page,) = read_pdf(pdf(document))
    length = next(item for item in page.letterings if item.text == "Length")
    left, low = length.quad[0]
    across = [line for line in page.strokes if line.start[0] < left < line.end[0]]
    rules = [line.start[1] + line.width / 2 for line in across if abs(line.start[1] - line.end[1]) < 0.01]
    assert 0 < low - max(rule for rule in rules if rule < low + 1.0) < 0.5


def test_many_course_sets_and_faces_are_told_as_far_as_there_is_room() -> None:
    walls = [Elevation(f"Face {k}", rectangle(120, -1, 100 + k), courses=f"set {k}") for k in range(90)]
    contents = Contents((("faces {sheets}", 2, 91),), tuple(range(2, 92)), ("a material",))
    data = pdf(Document("Many", numbered([cover(Result(small(*walls)), contents, "letter")])))
    assert check_pdf(data, paper("letter").inset) == []
    said = [item.text for item in read_pdf(data)[0].letterings]
    assert any(re.fullmatch(r"and \d+ more: see the faces", text) for text in said)
    shown = sum(text.startswith("sheet ") for text in said)
    assert f"and {90 - shown} more faces" in said


@pytest.mark.long
def test_a_fault_planted_on_a_finished_set_is_found() -> None:
    """A text over the starter's figure, one in the margin, one too small: on the cover of a sample."""
    document, _ = bound(GABLED)
    figure = max(read_pdf(bound(GABLED)[1])[0].letterings, key=lambda item: item.cap)
    on_it = (figure.quad[0][0] + 5.0, figure.quad[0][1] + 2.0)
    faults = {"text over text": Text(TEXT, on_it, "planted"), "outside the margin": Text(TEXT, (4, 100), "x"),
              "too small": Text(TEXT, (200, 197), "x", 1.8)}  # fmt: skip
    for kind, mark in faults.items():
        cover = replace(document.sheets[0], marks=(*document.sheets[0].marks, mark))
        made = pdf(replace(document, sheets=(cover,)))
        assert [fault.kind for fault in check_pdf(made, paper("letter").inset)] == [kind]


@pytest.mark.long
def test_a_second_process_writes_the_same_bytes() -> None:
    code = PLANNED + (
        "from evencourse.render.formats.pdf import pdf; "
        "from evencourse.render.crew_set.sheet_set import sheet_set; "
        "print(hashlib.sha256(pdf(sheet_set(found, 'letter'))).hexdigest())"
    )
    (said,) = printed_twice(code, str(sample("two-claddings")))
    assert len(said.strip()) == 64


def test_every_step_of_a_base_has_its_chalk_line_on_its_sheet() -> None:
    """By hand: lines every 8 in from -146; East's bases take -42, -90, -146; chalk lines 2 in above."""
    east = next(
        texts
        for sheet, texts in zip(bound(sample("walk-out"))[0].sheets, pages(sample("walk-out")), strict=True)
        if sheet.title.startswith("East")
    )
    words = " ".join(east).replace("\n", " ")
    for line in ("chalk line 3' 4\" below", "chalk line 7' 4\" below", "12' 0\" below datum"):
        assert line in words, line


def test_a_part_of_a_face_names_the_line_that_is_snapped_on_it() -> None:
    """By hand: the left part's only base stands 16 in above the right one's, and its chalk line likewise."""
    stepped = ((0, 0), (0, -24), (600, -24), (600, -40), (1200, -40), (1200, 96), (0, 96))
    found = plan(job(Elevation("Long", stepped[1:]), starter=(-41, -41)))
    (face,) = found.elevations
    whole, left = next_chalk(found, face), next_chalk(found, face, Box(0, -40, 500, 96))
    assert whole is not None and left is not None and left - whole == 16
    assert next_line(found, face, Box(0, -40, 500, 96))[1] - next_line(found, face)[1] == 16
    # Over the match line at 2 ft the first line is the one at -41 + 9 x 8 = 31; nothing is chalked there.
    upper = Box(0, 24, 1200, 96)
    assert next_chalk(found, face, upper) is None
    assert next_line(found, face, upper) == (10, 31, "Butt line 10, lowest here")


def test_a_set_in_another_language_is_in_order() -> None:
    """Its words are longer by 40 %, with accents on capitals."""
    with speaking(PSEUDO):
        document = sheet_set(Result(planned(COTTAGE)), "letter", all_edges=True, templates=True)
        data = pdf(document)
    assert check_pdf(data, paper("letter").inset) == []
    chapters = ("Details", "Faces", SAW, "Edge schedule", "Rake templates")
    assert {sheet.chapter for sheet in document.sheets} == {"", *map(Pseudo().gettext, chapters)}
    first = " ".join(item.text for item in read_pdf(data)[0].letterings)
    assert Pseudo().gettext("trims, rakes and order") in first


def test_accents_on_capitals_keep_clear_of_the_line_above() -> None:
    assert clear_leading(("gyp", "E"), 1.5) == clear_leading(("Épi", "gyp"), 1.5) == 1.5
    # By hand from the outlines of the font: a g reaches 0.304 below, an É 1.28 above, an Å 1.42, an å 1.16.
    assert 1.58 < clear_leading(("gyp", "Épi"), 1.5) < 1.65
    assert 1.72 < clear_leading(("gyp", "Åt"), 1.6) <= 1.75
    assert 1.46 < clear_leading(("gyp", "åt"), 1.4) < 1.5
    assert clear_leading(("no", "ät"), 1.4) == 1.4


@pytest.mark.parametrize("code", sorted(LANGUAGES))
@pytest.mark.parametrize("name", ["boat-house", "carried-on"])
def test_longer_words_lie_over_nothing_and_are_not_cut(name: str, code: str) -> None:
    with speaking(code):
        read = read_pdf(pdf(sheet_set(result(sample(name)), "A3")))
    assert check_pdf(read, paper("A3").inset) == []
    assert [item.text for page in read for item in page.letterings if ELLIPSIS in item.text] == []


def test_the_trim_list_says_how_the_ends_of_a_band_board_are_cut() -> None:
    """In a gable of 10 in 12 a board 190 high goes 190 up, 190 x 12/10 = 228 over, at both ends."""
    found = " ".join(
        text for texts in sheets_of(sample("two-claddings"), "Trims, rakes and order") for text in texts
    )
    assert "SG band board (1 of 2), left end 190 up 228 over" in found
    assert "SG band board (2 of 2), right end 190 up 228 over" in found


def test_boards_of_one_siding_are_added_up() -> None:
    """168 to hang, and 2, 1, 1 and 1 to rip starter furring from, by its widths: 173 to buy."""
    found = result(sample("boat-house")).instructions.in_all
    assert found == ("7-1/4 in fiber cement board, 12' 0\": 173 in all, 5 of them for starter furring",)
    said = " ".join(
        text for texts in sheets_of(sample("boat-house"), "Trims, rakes and order") for text in texts
    )
    assert "173 in all, 5 of them for starter furring" in said


def test_the_order_says_what_is_taken_for_installed_and_no_areas() -> None:
    """The sills' trim begins at 30-3/4, under the butt of course 6: course 5 reaches it, no cap is bought."""
    made = result(sample("carried-on"))
    five, six = made.plan.course_sets["main"].lines.butt_lines[4:6]
    assert five < 30.75 < six
    assert not any(item.item == "drip cap" for item in made.material.order.items)
    said = " ".join(
        text for texts in sheets_of(sample("carried-on"), "Trims, rakes and order") for text in texts
    )
    assert "all trim, drip caps too, of openings" in said
    assert "Areas" not in said
