"""What DXF accepts as text and as a name (DXF reference: special characters; names of blocks and layouts)."""

from __future__ import annotations

import pytest
from ezdxf.tools.text import MTextParser, TokenType, plain_text

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.course_plan import Plan
from evencourse.render.formats.cad_set import Version, cad_set
from evencourse.render.formats.dxf import dxf
from evencourse.render.formats.dxf_text import for_mtext, for_text, name, plain
from evencourse.render.sheets.elevation_sheets import job_sheets
from evencourse.render.words.result import Result
from tests.render.cad import papers, read, told

HOSTILE = (
    "%%c50",
    "%%%%u",
    "^J^I^^x",
    "\\P\\f{Arial}x;",
    "{\\C1;red}",
    "\\U+0041\\M+41234",
    "%<\\AcVar Date>%",
    "*Model_Space",
    "A-GLAZ",
    "<>/\\\":;?*|,=`'",
    "½ ″ ⅝ Ω 木",
    "%" * 60,
)
#: Names that differ only by what DXF does not tell apart.
ALIKE = ("front", "Front", "FRONT", "Front*", "Front?")


@pytest.mark.parametrize("text", HOSTILE)
def test_nothing_in_a_text_is_read_as_a_code(text: str) -> None:
    """Read by ezdxf's readers of TEXT and MTEXT; signs that begin a code may have a space after them."""
    assert plain_text(for_text(text)).replace(" ", "") == text.replace(" ", "")
    tokens = list(MTextParser(for_mtext(text)))
    assert {token.type for token in tokens} <= {TokenType.WORD, TokenType.SPACE, TokenType.NBSP}
    words = "".join(token.data for token in tokens if token.type == TokenType.WORD)
    assert words.replace(" ", "") == text.replace(" ", "")


def test_no_text_breaks_a_line_of_the_file() -> None:
    assert plain("a\nb\r\x00c\x1f\u2028d\ud800e") == "a b  c  d e"


def test_names_are_free_of_signs_that_are_forbidden_and_differ_in_more_than_case() -> None:
    taken: set[str] = set()
    for wanted in ALIKE:
        found = name(wanted, taken, "sheet")
        assert not set(found) & set("<>/\\\":;?*|,=`'")
        taken.add(found.lower())
    assert len(taken) == len(ALIKE)
    assert name("???", {"---"}, "sheet") == "--- (2)"
    assert name(" \n", (), "sheet 1") == "sheet 1"
    assert len(name("x" * 999, (), "sheet")) <= 255


def _hostile() -> Plan:
    def quoted(text: str) -> str:
        return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'

    faces = [*HOSTILE, *ALIKE]
    rows = ["[job]", f"name = {quoted(HOSTILE[3])}", f"datum = {quoted(HOSTILE[0])}"]
    rows += ["[cladding]", 'profile = "fiber-cement-8.25"']
    for number, face in enumerate(faces):
        rows += ["[[elevation]]", f"name = {quoted(face)}", 'width = "12\'"', 'base = "0"', 'eave = "9\'"']
        rows += ["[[elevation.opening]]", f"mark = {quoted(face + str(number))}", 'kind = "window"']
        rows += ['left = "24"', 'sill = "36"', 'width = "30"', 'height = "40"']
    return plan(parse_job("\n".join(rows)))


@pytest.mark.long
@pytest.mark.parametrize("version", ["R2000", "R2010"])
def test_hostile_names_of_faces_marks_and_job_stay_names(version: Version) -> None:
    found = _hostile()
    drawing = read(dxf(cad_set(Result(found), job_sheets(Result(found), "letter")), version), version)
    auditor = drawing.audit()
    assert not auditor.errors
    assert not auditor.fixes
    count = len(found.elevations)
    assert len(papers(drawing)) == count
    walls = told(drawing.modelspace().query("LWPOLYLINE"), "face")
    read_back = [data["face"].replace(" ", "") for _, data in walls]
    assert read_back == [face.elevation.name.replace(" ", "") for face in found.elevations]
    marks = [block for block in drawing.query("INSERT") if block.has_attrib("MARK")]
    assert len({block.dxf.name.lower() for block in marks}) == count
    said = [plain_text(block.get_attrib_text("MARK")).replace(" ", "") for block in marks]
    assert said == [face.elevation.openings[0].mark.replace(" ", "") for face in found.elevations]


def test_no_name_turns_a_figure_round() -> None:
    """Embeddings, overrides and isolates are those of UAX 9, table 4; marks of direction turn nothing."""
    turning = "".join(map(chr, [*range(0x202A, 0x202F), *range(0x2066, 0x206A)]))
    assert for_text(f"{turning}12{turning}, \u05d0\u200e 3") == "12, \u05d0\u200e 3"
