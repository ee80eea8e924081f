"""DXF files as the command writes them, read by ezdxf and GDAL: openings, starter, hostile lettering."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import ezdxf
import pytest

from evencourse.cli.main import main
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import parse_length
from tests.render.readback import gdal_features, levels
from tests.samples import SAMPLES, each_sample, planned
from tests.tools import tool

HOSTILE = ("{\\fArial;x}", "%%c50", "%%u^J", "\\P\\U+0041", "<b>&amp;", "½ ″ ⅝")
#: Short enough to be lettered whole: codes of a diameter sign, an underline, a control character.
CODES = ("%%c5", "%%u7", "^J8", "{\\L9")
WALL = """
[job]
name = "Hostile"
[cladding]
profile = "fiber-cement-8.25"
[[elevation]]
name = 'Wall {\\L%%o}'
width = "40'"
base = "0"
eave = "9'"
"""


def drawn(path: Path, folder: Path) -> dict[str, bytes]:
    """The DXF files of a job, by name."""
    assert main(["draw", str(path), "-o", str(folder), "--only", "dxf"]) in (0, 1)
    return {file.name: file.read_bytes() for file in sorted(folder.glob("*.dxf"))}


@cache
def documents(path: Path) -> tuple[Any, ...]:
    """The DXF files of a job, as ezdxf reads them."""
    with TemporaryDirectory() as folder:
        drawn(path, Path(folder))
        return tuple(ezdxf.readfile(file) for file in sorted(Path(folder).glob("*.dxf")))


def attributes(path: Path) -> list[dict[str, str]]:
    """What a drafter extracts: the attributes of every block that has a mark."""
    blocks = [insert for document in documents(path) for insert in document.query("INSERT")]
    rows = [{attribute.dxf.tag: attribute.dxf.text for attribute in block.attribs} for block in blocks]
    return [row for row in rows if "MARK" in row]


def hostile_job(folder: Path, marks: tuple[str, ...] = HOSTILE) -> Path:
    windows = [
        f'[[elevation.opening]]\nmark = \'{mark}\'\nleft = "{12 + 60 * k}"\nsill = "36"\nwidth = "30"\n'
        f'height = "40"\n'
        for k, mark in enumerate(marks)
    ]
    path = folder / "hostile.toml"
    path.write_text(WALL + "".join(windows), encoding="utf-8")
    return path


@each_sample
def test_every_opening_is_a_block_that_tells_mark_kind_and_size(path: Path) -> None:
    job: Job = planned(path).job
    rows = {row["MARK"]: row for row in attributes(path)}
    openings = [opening for face in job.elevations for opening in face.openings]
    assert openings
    for opening in openings:
        row = rows[opening.mark]
        assert row["KIND"] == opening.kind
        width, height = (parse_length(part, job.units) for part in row["SIZE"].split(" x "))
        assert abs(width - opening.width) <= job.round / 2 + 1e-9
        assert abs(height - opening.height) <= job.round / 2 + 1e-9
    fixtures = [fixture.mark for face in job.elevations for fixture in face.fixtures]
    roofs = [roof.mark for face in job.elevations for roof in face.roofs]
    assert {*rows} == {*fixtures, *roofs, *(opening.mark for opening in openings)}
    assert len(attributes(path)) == len(openings) + len(fixtures) + len(roofs)


@each_sample
def test_the_starter_lies_on_its_layer_and_no_butt_line_lies_below_it(path: Path, tmp_path: Path) -> None:
    program = tool("ogr2ogr")
    drawn(path, tmp_path)
    found = planned(path)
    starters = {course_set.lines.starter for course_set in found.course_sets.values()}
    lowest = min(starters)
    seen: set[float] = set()
    for file in sorted(tmp_path.glob("*.dxf")):
        features = gdal_features(program, file)
        seen |= levels(features, "A-ELEV-STRT")
        assert min(levels(features, "A-ELEV-CRSE")) > lowest - 1e-6
    for starter in starters:
        assert min(abs(starter - level) for level in seen) < 1e-6


def test_both_inches_and_millimetres_are_among_the_samples() -> None:
    assert {planned(path).job.units for path in SAMPLES} == {"in", "mm"}


@pytest.mark.long
def test_hostile_names_audit_clean_and_read_back(tmp_path: Path) -> None:
    path = hostile_job(tmp_path)
    for document in documents(path):
        auditor = document.audit()
        assert not auditor.errors
        assert not auditor.fixes
        assert {layer.dxf.name for layer in document.layers} >= {"A-GLAZ", "A-ELEV-STRT"}
    said = [row["MARK"] for row in attributes(path)]
    assert len(said) == len(HOSTILE)
    assert "½ ″ ⅝" in said
    assert "<b>&amp;" in said


@pytest.mark.long
def test_gdal_reads_no_code_into_hostile_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every sign of a mark is read as it stands; signs that begin a code may have a space after them."""
    # Files from R2007 on are UTF-8 whatever their code page says; GDAL 3.6 goes by the code page.
    monkeypatch.setenv("DXF_ENCODING", "UTF-8")
    program = tool("ogr2ogr")
    drawn(hostile_job(tmp_path, CODES), tmp_path)
    (file,) = tmp_path.glob("*.dxf")
    said = [feature["properties"].get("Text") or "" for feature in gdal_features(program, file)]
    assert not [text for text in said if not text.replace("\n", " ").isprintable()]
    for mark in CODES:
        assert mark in {text.replace(" ", "") for text in said}
