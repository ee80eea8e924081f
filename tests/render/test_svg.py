"""SVG files as an XML parser and librsvg read them: well-formed, true to size, text as text."""

from __future__ import annotations

import io
import re
import subprocess
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from evencourse.render.drawing.drawing import Block, Line, Sheet, Text
from evencourse.render.drawing.drawing import Path as Polyline
from evencourse.render.drawing.font_files import font_file
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import BUTT, OUTLINE, TEXT
from evencourse.render.formats.svg import svg
from tests.again import PLANNED, printed_twice
from tests.samples import SAMPLES, each_sample, faces_of
from tests.tools import tool

SVG = "{http://www.w3.org/2000/svg}"


def sheets(path: Path, size: str = "tabloid") -> list[Sheet]:
    return [sheet for face in faces_of(path, size) for sheet in face]


def texts(root: ET.Element) -> list[ET.Element]:
    return list(root.iter(f"{SVG}text"))


def one_text(text: str, **how: object) -> ET.Element:
    """The text element of a sheet that says one thing."""
    sheet = Sheet("One", (100.0, 80.0), marks=(Text(TEXT, (20.0, 40.0), text, **how),))  # type: ignore[arg-type]
    (found,) = texts(ET.fromstring(svg(sheet)))
    return found


def tabled_width(text: str, size: float, weight: str = "regular") -> float:
    """Width of a text by the font's own table of advance widths (OpenType hmtx), in millimetres."""
    with TTFont(io.BytesIO(font_file(weight))) as font:  # type: ignore[arg-type]
        names, advances = font.getBestCmap(), font["hmtx"]
        return sum(advances[names[ord(letter)]][0] for letter in text) * size / font["head"].unitsPerEm


@each_sample
def test_every_sample_is_well_formed_and_as_large_as_its_paper(path: Path) -> None:
    for sheet in sheets(path):
        root = ET.fromstring(svg(sheet))
        width, height = paper("tabloid").size
        assert float(root.attrib["width"].removesuffix("mm")) == pytest.approx(width, abs=1e-3)
        assert float(root.attrib["height"].removesuffix("mm")) == pytest.approx(height, abs=1e-3)
        box = [float(part) for part in re.split("[ ,]+", root.attrib["viewBox"])]
        assert box == pytest.approx([0, 0, width, height], abs=1e-3)
        assert root.findtext(f"{SVG}title") == sheet.title
        assert len(texts(root)) > 40


@each_sample
def test_every_text_of_a_sheet_is_given_the_width_of_its_letters(path: Path) -> None:
    (sheet, *_) = sheets(path)
    root = ET.fromstring(svg(sheet))
    parents = {child: parent for parent in root.iter() for child in parent}
    for element in texts(root):
        group = parents[element]
        weight = "bold" if group.get("font-weight") == "bold" else "regular"
        said = element.text or ""
        wanted = tabled_width(said, float(group.attrib["font-size"]), weight)
        # both figures stand in the file with three decimals
        assert float(element.attrib["textLength"]) == pytest.approx(wanted, abs=0.001 + 0.0005 * len(said))


def test_lettering_is_as_high_as_it_is_asked_for() -> None:
    root = ET.fromstring(svg(Sheet("One", (100, 80), marks=(Text(TEXT, (20, 40), "H", 3.5),))))
    (group,) = [group for group in root.iter(f"{SVG}g") if group.get("font-size")]
    with TTFont(io.BytesIO(font_file())) as font:
        capital = font["glyf"]["H"].yMax / font["head"].unitsPerEm
    assert float(group.attrib["font-size"]) * capital == pytest.approx(3.5, rel=0.02)


def test_the_lower_left_corner_of_paper_is_the_origin_and_up_is_up() -> None:
    element = one_text("eave")
    assert (float(element.attrib["x"]), float(element.attrib["y"])) == (20, 40)
    sheet = Sheet("One", (100.0, 80.0), marks=(Line(BUTT, (10.0, 10.0), (30.0, 15.0)),))
    (stroke,) = ET.fromstring(svg(sheet)).iter(f"{SVG}path")
    assert stroke.attrib["d"] == "M10 70L30 65"


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", "a & b", "]]>", "\"'", "&amp;", "</text>", "3' 5\" below datum"]
)
def test_a_text_comes_back_as_it_was_given(text: str) -> None:
    assert one_text(text).text == text


def test_a_title_and_facts_cannot_break_out() -> None:
    hostile = "\"><svg onload='x'>&\x00\x1b\ufffe"
    block = Block(hostile, (20, 20), (Line(BUTT, (10, 10), (20, 20)),), (("mark", hostile), (hostile, "x")))
    root = ET.fromstring(svg(Sheet(hostile, (100, 80), marks=(block,))))
    assert root.findtext(f"{SVG}title", "").startswith("\"><svg onload='x'>&")
    assert not [element for element in root.iter() if "onload" in element.attrib]
    assert len(list(root.iter(f"{SVG}svg"))) == 1


@pytest.mark.parametrize("bad", ["\x00", "\x07", "\x1b", "\x7f", "\ufffe", "\ud800"])
def test_characters_that_xml_cannot_hold_are_shown_as_lacking(bad: str) -> None:
    """XML 1.0, 2.2: which characters a document may hold."""
    said = one_text(f"course{bad}11").text or ""
    assert said == f"course◊{ord(bad):X}◊11"
    assert bad not in said


def test_line_ends_in_a_text_stay_on_its_line() -> None:
    assert one_text("head\nflush\tcourse 11").text == "head flush course 11"


def test_lettering_of_a_turned_text_turns_about_its_anchor() -> None:
    assert one_text("rake", angle=30.0).attrib["transform"] == "rotate(-30 20 40)"


def test_an_arc_bulges_to_its_left() -> None:
    """A half circle from left to right with a bulge of 1 (DXF: positive is counter-clockwise) hangs below."""
    arch = Polyline(OUTLINE, ((20.0, 40.0), (40.0, 40.0)), bulges=(1.0,))
    (stroke,) = ET.fromstring(svg(Sheet("One", (100.0, 80.0), marks=(arch,)))).iter(f"{SVG}path")
    # SVG 1.1, 8.3.8: sweep flag 0 runs against the clock as seen on the page
    assert stroke.attrib["d"] == "M20 40A10 10 0 0 0 40 40"


@pytest.mark.long
def test_a_second_process_writes_the_same_bytes() -> None:
    code = PLANNED + (
        "from evencourse.render.sheets.elevation_sheets import job_sheets; "
        "from evencourse.render.formats.svg import svg; "
        "print(hashlib.sha256(b''.join(svg(s) for f in job_sheets(found, 'tabloid') for s in f)).hexdigest())"
    )
    (said,) = printed_twice(code, str(SAMPLES[0]))
    assert len(said) > 60


def test_librsvg_draws_a_sheet_at_its_size(tmp_path: Path) -> None:
    program = tool("rsvg-convert")
    file, picture = tmp_path / "sheet.svg", tmp_path / "sheet.png"
    file.write_bytes(svg(sheets(SAMPLES[0])[0]))
    words = [program, "--dpi-x", "50", "--dpi-y", "50", "-o", str(picture), str(file)]
    subprocess.run(words, check=True, capture_output=True, timeout=60)
    head = picture.read_bytes()[:24]
    pixels = int.from_bytes(head[16:20], "big"), int.from_bytes(head[20:24], "big")
    wanted = [side / 25.4 * 50 for side in paper("tabloid").size]
    assert list(pixels) == pytest.approx(wanted, abs=1.01)
