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
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.render.drawing.drawing import Document, Text
from evencourse.render.drawing.numbering import numbered
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import TEXT
from evencourse.render.drawing.placement import ELLIPSIS
from evencourse.render.formats.pdf import pdf
from evencourse.render.crew_set.cover import Contents, cover
from evencourse.render.sheets.edge_schedule import edge_schedule
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.words.caution_words import face_cautions
from evencourse.render.words.plan_words import BELOW, edge_cut, show
from evencourse.render.words.result import Result
from evencourse.render.words.safety import GENERAL
from tests.again import PLANNED, printed_twice
from tests.layout.walls import job, rectangle, window
from tests.render.sheetcheck import check_pdf, read_pdf
from tests.tools import tool

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = sorted((ROOT / "samples").glob("*.toml"))
GABLED = ROOT / "samples" / "gabled-house.toml"
_STARTS = {
    "eave": "Eave",
    "eave left": "Eave, left end",
    "eave right": "Eave, right end",
    "base": "Base",
    "band": "Band board",
}
each_sample = pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)


@cache
def planned(path: Path) -> Plan:
    return plan(read_job(path))


@cache
def bound(path: Path) -> tuple[Document, bytes]:
    document = sheet_set(Result(planned(path)), "letter")
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


def test_the_cover_says_the_starter_where_it_is_measured_from_and_what_was_given_up() -> None:
    """By hand: the foundation's top is 40 in below the line and covered by 1 in, hence 3' 5" below."""
    cover = pages(GABLED)[0]
    assert "3' 5\" below datum" in cover
    assert "Chalk line 3' 3\" below" in cover
    assert "Heights from: laser line, 40 in above the top of the foundation" in cover
    assert {"Street", "East gable", "Garden", "West gable"} <= set(cover)
    assert any(text.startswith("West gable, GD head: notch") for text in cover)
    assert any("scaffolds" in text for text in cover)


def test_courses_that_hang_out_of_level_are_told_edge_by_edge() -> None:
    """Course 5 falls from 24-1/8 to 23-7/8 over 288 in; both sills are at 30-3/4 in. By hand: at the middle
    of A, 60 in, it hangs at 24-1/16, at the middle of B, 228 in, at 23-15/16: cuts of 6-11/16 and 6-13/16."""
    carried = ROOT / "samples" / "carried-on.toml"
    assert any(text.startswith("As built, Yard, Lane") for text in pages(carried)[0])
    said = " ".join(sheets_of(carried, "Elevations")[0])
    assert re.search(r"A sill +course 5 is installed: the edge is +6-11/16", said)
    assert re.search(r"B sill +course 5 is installed: the edge is +6-13/16", said)
    rows = [text for texts in sheets_of(carried, "Edge schedule") for text in texts]
    assert rows.count("already installed") == 3 and '3/8"' not in rows


def test_where_courses_hang_cover_and_elevation_name_the_next_one() -> None:
    """By hand: course 5 at 24; from there to the heads at 75-3/4 seven courses, 24 + 51-3/4 / 7 = 31.39."""
    path = next(path for path in SAMPLES if path.stem == "carried-on")
    for page in (pages(path)[0], sheets_of(path, "Elevations")[0]):
        assert {"Next: course 6", "2' 7-3/8\" above datum"} <= set(page)


def test_the_starter_is_the_biggest_figure_of_the_cover() -> None:
    page = read_pdf(bound(GABLED)[1])[0]
    assert max(page.letterings, key=lambda item: item.cap).text == "3' 5\" below datum"


@each_sample
def test_the_cover_cautions_in_whole_sentences(path: Path) -> None:
    """Where there is no room for what each face cautions of, it is named there with its faces."""
    said = " ".join(pages(path)[0])
    assert all(caution in said for caution in GENERAL)
    for face in planned(path).elevations:
        for caution in face_cautions(face, planned(path)):
            kind = re.escape(caution.partition(":")[0])
            named = re.search(rf"{kind}: [^.]*{re.escape(face.elevation.name)}[^.]*\.", said)
            assert caution in said or named, caution


@each_sample
def test_the_cover_names_the_sheets_where_they_are(path: Path) -> None:
    document, _ = bound(path)
    (line,) = [text for text in pages(path)[0] if text.startswith("Sheets: ")]
    for title, first, last in re.findall(r"([a-z][a-z -]*?) (\d+)(?: to (\d+))?(?:,|$)", line[8:]):
        numbers = range(int(first), int(last or first) + 1)
        assert {document.sheets[number - 1].chapter.lower() for number in numbers} == {title}
        assert document.sheets[numbers[0] - 2].chapter.lower() != title
    assert line.endswith(str(len(document.sheets)))


@each_sample
def test_every_sheet_says_which_it_is_of_how_many(path: Path) -> None:
    said = pages(path)
    for number, texts in enumerate(said, start=1):
        assert f"Sheet {number} of {len(said)}" in " | ".join(texts)


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
            start = f"{edge.opening} {edge.edge}" if edge.opening else _STARTS.get(edge.edge, edge.roof or "")
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
    for chapter in ("Edge schedule", "Cut list", "Take-off"):
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
    first = cheek_said.index("Butt line 2, the lowest on this wall")
    assert '7" above datum' in cheek_said[first:] and '1" below datum' not in cheek_said
    assert "Butt line 2, the lowest: Cheek" in cover_said and '7" above datum' in cover_said
    assert "Starter line" in wall_said and '1" below datum' in wall_said


def test_every_piece_is_on_the_cut_list_once_in_its_turn() -> None:
    """And what an end is cut from comes before it."""
    made = {piece.id: piece for piece in pieces(planned(GABLED)).all()}
    said = [
        text for texts in sheets_of(GABLED, "Cut list") if texts[0].startswith("Cut list") for text in texts
    ]
    turn = [text for text in said if text in made]
    assert sorted(turn) == sorted(made)
    sources = [made[mark].source for mark in turn]
    ends = [(at, turn.index(source)) for at, source in enumerate(sources) if source != "new"]
    assert len(ends) > 100 and all(before < at for at, before in ends)
    assert [text.removeprefix("cutoff of ") for text in said if text.startswith("cutoff of ")] == [
        source for source in sources if source != "new"
    ]


def test_the_take_off_is_the_last_chapter_and_orders_the_siding() -> None:
    said = sheets_of(GABLED, "Take-off")
    count = sum(len(cutting.bars) for cutting in pieces(planned(GABLED)).stock.values())
    assert str(count) in said[0]
    assert bound(GABLED)[0].sheets[-1].chapter == "Take-off"


def test_bookmarks_labels_title_author_and_language() -> None:
    made = replace(planned(GABLED), job=replace(planned(GABLED).job, author="R. Öst"))
    document = sheet_set(Result(made), "letter", "2025-03-14")
    reader = pypdf.PdfReader(io.BytesIO(pdf(document)), strict=True)
    titles = [mark.title for mark in reader.outline if not isinstance(mark, list)]
    assert titles == ["Cover", "Details", "Elevations", "Edge schedule", "Rakes", "Cut list", "Take-off"]
    faces = reader.outline[4]
    assert [mark.title.partition(",")[0] for mark in faces][:2] == ["Street", "East gable"]  # type: ignore[union-attr]
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


def test_a_job_without_rakes_has_no_rake_sheets() -> None:
    chapters = {sheet.chapter for sheet in sheet_set(Result(small(WALL)), "letter").sheets}
    assert chapters == {"", "Details", "Elevations", "Edge schedule", "Cut list", "Take-off"}


def test_sixty_faces_go_on_and_on_with_the_head_of_the_table_on_every_sheet() -> None:
    walls = [
        Elevation(f"Face {k}", rectangle(120 + 7 * k, -1, 100), openings=(window("A", 20, 30, 30, 50),))
        for k in range(60)
    ]
    sheets = numbered(edge_schedule(small(*walls), "letter"))
    data = pdf(Document("Sixty", sheets))
    assert check_pdf(data, paper("letter").margin) == []
    said = [[item.text for item in page.letterings] for page in read_pdf(data)]
    assert len(said) > 3
    assert all("Height" in texts and "Course" in texts for texts in said)
    assert {f"Face {k}" for k in range(60)} <= {text for texts in said for text in texts}


def test_many_course_sets_and_faces_are_told_as_far_as_there_is_room() -> None:
    walls = [Elevation(f"Face {k}", rectangle(120, -1, 100 + k), courses=f"set {k}") for k in range(90)]
    contents = Contents((("Elevations", 2, 91),), tuple(range(2, 92)), ("a material",))
    data = pdf(Document("Many", numbered([cover(Result(small(*walls)), contents, "letter")])))
    assert check_pdf(data, paper("letter").margin) == []
    said = [item.text for item in read_pdf(data)[0].letterings]
    assert any(re.fullmatch(r"and \d+ more: see the elevations", text) for text in said)
    shown = sum(text.startswith("sheet ") for text in said)
    assert f"and {90 - shown} more faces" in said


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
        assert [fault.kind for fault in check_pdf(made, 10)] == [kind]


@pytest.mark.long
def test_a_second_process_writes_the_same_bytes() -> None:
    code = PLANNED + (
        "from evencourse.render.formats.pdf import pdf; "
        "from evencourse.render.crew_set.sheet_set import sheet_set; "
        "from evencourse.render.words.result import Result; "
        "print(hashlib.sha256(pdf(sheet_set(Result(found), 'letter'))).hexdigest())"
    )
    (said,) = printed_twice(code, str(ROOT / "samples" / "two-claddings.toml"))
    assert len(said.strip()) == 64
