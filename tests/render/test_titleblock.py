"""Border and title block, read back from the PDF and the DXF by general readers; the plan's fingerprint."""

from __future__ import annotations

import io
import json
import re
from functools import cache
from pathlib import Path

import pypdf
import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job, read_job
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.results.fingerprint import fingerprint
from evencourse.layout.results.plan_file import plan_json
from evencourse.render.border.stamp import Stamp
from evencourse.render.border.title_block import Titled
from evencourse.render.crew_set.sheet_set import PARTS, drawn_sheets, sheet_set
from evencourse.render.drawing.papers import paper
from evencourse.render.formats.cad_set import cad_set
from evencourse.render.formats.dxf import dxf
from evencourse.render.formats.pdf import pdf
from evencourse.render.words.result import Result, result
from tests.again import printed_twice
from tests.render import cad
from tests.render.sheetcheck import Page, read_pdf

ROOT = Path(__file__).resolve().parents[2]
METRIC, GABLED = ROOT / "samples" / "two-claddings.toml", ROOT / "samples" / "gabled-house.toml"
WALL = """
[job]
name = "Test wall"
datum = "laser line"
[cladding]
profile = "foam-double-4"
[[elevation]]
name = "Wall"
width = "20'"
base = "-1"
eave = "94"
[[elevation.opening]]
mark = "A"
kind = "window"
left = "60"
sill = "31"
width = "36"
height = "48"
"""


def planned(text: str = WALL, starters: dict[str, float] | None = None) -> Plan:
    return plan(parse_job(text), starters)


@cache
def small() -> Result:
    return Result(planned())


def stamped(found: Result) -> Stamp:
    return Stamp("2026-03-04", "B", found.fingerprint)


def block(page: Page) -> list[str]:
    """What stands in the title block: lettering in the lowest 21.5 mm."""
    return [item.text for item in page.letterings if max(y for _, y in item.quad) < 24.5]


@pytest.mark.long
def test_every_sheet_says_whose_it_is_to_what_scale_and_of_which_issue() -> None:
    found = small()
    document = sheet_set(found, "letter", stamped(found))
    for number, (sheet, page) in enumerate(zip(document.sheets, read_pdf(pdf(document)), strict=True), 1):
        said = block(page)
        assert {sheet.title, "Test wall", "Units", "feet and inches", "Scale"} <= set(said)
        assert {"Date", "2026-03-04", "Revision", "B", "Fingerprint", found.fingerprint} <= set(said)
        assert {"Drawn by", "Checked by", "Sheet", str(number), f"of {len(document.sheets)}"} <= set(said)
        if sheet.title == "Wall":
            assert any(re.fullmatch(r'\d+/\d+" = 1\'-0"', text) for text in said)


def test_without_date_and_revision_their_places_are_blank_to_fill_in() -> None:
    said = block(read_pdf(pdf(sheet_set(small(), "letter")))[0])
    assert {"Date", "Revision"} <= set(said)
    assert not [text for text in said if re.search(r"\d{4}-\d{2}", text)]


def test_a_title_names_as_many_faces_as_have_room_and_cuts_no_name() -> None:
    titled = Titled("Pieces", (7, 12), part="1 of 3", names=("Street", "East gable", "Garden", "West gable"))
    assert titled.fitted(200, 5) == "Pieces: Street, East gable, Garden, West gable, 1 of 3"
    assert titled.fitted(130, 5) == "Pieces: Street, East gable and 2 more, 1 of 3"
    assert titled.fitted(100, 5) == "Pieces: Street and 3 more, 1 of 3"
    assert titled.fitted(65, 5) == "Pieces: 4 faces, 1 of 3"
    assert Titled("Wall", (1, 1)).fitted(100, 5) == "Wall"


@pytest.mark.long
def test_a_metric_sheet_says_mm_once() -> None:
    """As the unit of all its lengths; "mm" elsewhere only behind a figure of a sentence."""
    found = result(read_job(METRIC))
    for page in read_pdf(pdf(sheet_set(found, "A3"))):
        assert block(page).count("mm") == 1
        assert [item.text for item in page.letterings].count("mm") == 1


@pytest.mark.parametrize("name", ["letter", "A3"])
def test_the_border_stands_outside_everything(name: str) -> None:
    """ISO 5457: a frame of 0.7 mm; nothing else is nearer to the edge of the paper."""
    sheet = paper(name)
    for page in read_pdf(pdf(sheet_set(small(), name))):
        frame = [stroke for stroke in page.strokes if abs(stroke.width - 0.7) < 0.01]
        corners = {tuple(round(v, 1) for v in end) for stroke in frame for end in (stroke.start, stroke.end)}
        left, low, right, high = (round(value, 1) for value in sheet.border)
        assert {(left, low), (right, low), (right, high), (left, high)} <= corners
        xs, ys = zip(*(point for item in page.letterings for point in item.quad), strict=True)
        assert min(xs) > left and max(xs) < right and min(ys) > low and max(ys) < high


@pytest.mark.long
def test_page_labels_are_the_codes_of_the_sheets_in_the_whole_set() -> None:
    """By a general PDF reader; a part of the set keeps the numbers of the whole."""
    found = result(read_job(GABLED))
    whole = pypdf.PdfReader(io.BytesIO(pdf(sheet_set(found, "tabloid"))))
    titles = [sheet.title for sheet in sheet_set(found, "tabloid").sheets]
    assert whole.page_labels == [str(number) for number in range(1, len(titles) + 1)]
    for part in PARTS:
        if part in ("rakes", "order"):
            continue  # they begin where the shared sheets do
        document = sheet_set(found, "tabloid", only=[part])
        labels = pypdf.PdfReader(io.BytesIO(pdf(document))).page_labels
        said = [block(page) for page in read_pdf(pdf(document))]
        assert all(
            {label, f"of {len(titles)}"} <= set(texts) for label, texts in zip(labels, said, strict=True)
        )
        if part != "trims":
            assert labels == [str(titles.index(sheet.title) + 1) for sheet in document.sheets]


def test_a_drafter_finds_the_same_in_the_title_block_of_every_layout() -> None:
    found = small()
    sheets = drawn_sheets(found, "letter", stamped(found))
    drawing = cad.read(dxf(cad_set(found, sheets.faces, found.material.pieces, details=sheets.details)))
    blocks = [
        {attribute.dxf.tag: attribute.dxf.text for attribute in insert.attribs}
        for layout in drawing.layouts
        if layout.name != "Model"
        for insert in layout.query("INSERT")
        if any(attribute.dxf.tag == "FINGERPRINT" for attribute in insert.attribs)
    ]
    assert len(blocks) == len(sheets.details) + 1
    for number, said in enumerate(sorted(blocks, key=lambda one: int(one["SHEET"])), start=1):
        assert said["SHEET"] == str(number)
        assert (said["DATE"], said["REVISION"]) == ("2026-03-04", "B")
        assert (said["FINGERPRINT"], said["JOB"]) == (found.fingerprint, "Test wall")
        assert said["UNITS"] == "feet and inches"


def of(found: Plan) -> str:
    return Result(found).fingerprint


@pytest.mark.long
def test_the_fingerprint_changes_with_whatever_is_built_and_with_nothing_else() -> None:
    first = of(planned())
    assert re.fullmatch("[0-9a-f]{4}-[0-9a-f]{4}", first)
    assert of(planned(WALL.replace('width = "20\'"', 'width = "240"'))) == first  # the same length
    lamp = '[[elevation.fixture]]\nmark = "L"\nleft = "150"\nbottom = "60"\nwidth = "4"\nheight = "6"\n'
    others = [
        planned(WALL.replace('left = "60"', 'left = "60-1/16"')),
        planned(WALL + lamp),
        planned(WALL.replace("laser line", "top of the slab")),
        planned(starters={"main": -1.5}),
    ]
    assert len({first, *(of(other) for other in others)}) == 1 + len(others)


def test_plan_file_and_sheets_of_any_paper_say_the_same_fingerprint() -> None:
    found = small()
    stored = json.loads(plan_json(found.plan, found.material))["fingerprint"]
    assert stored == fingerprint(found.plan, found.material.pieces) == found.fingerprint
    assert "fingerprint" not in json.loads(plan_json(found.plan))


@pytest.mark.long
def test_another_process_finds_the_same_fingerprint() -> None:
    code = (
        "import sys; from pathlib import Path; "
        "from evencourse.layout.jobfile.job_file import read_job; "
        "from evencourse.render.words.result import result; "
        "print(result(read_job(Path(sys.argv[1]))).fingerprint)"
    )
    (said,) = printed_twice(code, str(METRIC))
    assert said.decode().strip() == result(read_job(METRIC)).fingerprint
