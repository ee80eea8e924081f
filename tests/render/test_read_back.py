"""Finished drawings of every sample, read back by programs that are not ours, say what the plan says."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import ezdxf
import pytest
from ezdxf.math import Vec3

from layout.jobfile import read_job
from layout.lengths import parse_length
from layout.plan import Plan
from layout.planner import plan
from render.drawing import Document, Drawing, Sheet, Text
from render.dxf import dxf
from render.elevation import elevation_drawing
from render.elevationsheets import drawing_scale, job_sheets
from render.papers import paper
from render.pdf import pdf
from render.pens import TEXT
from render.wallface import courses
from tests.render.readback import gdal_features, levels, overlaps, pages
from tests.tools import tool

SAMPLES = sorted((Path(__file__).resolve().parents[2] / "samples").glob("*.toml"))
PAPERS = ("letter", "tabloid", "A3")


@cache
def planned(path: Path) -> Plan:
    return plan(read_job(path))


@cache
def drawn(path: Path, face: int, version: str = "R2010") -> bytes:
    found = planned(path)
    scale = drawing_scale(found, found.elevations[face], "tabloid").factor
    return dxf(elevation_drawing(found, found.elevations[face], scale), scale, version)


FACES = [(path, face) for path in SAMPLES for face in range(len(planned(path).elevations))]
each_face = pytest.mark.parametrize(
    ("path", "face"), FACES, ids=[f"{path.stem}-{face}" for path, face in FACES]
)


@pytest.mark.parametrize("size", PAPERS)
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_course_number_is_read_and_no_text_lies_over_text(path: Path, size: str) -> None:
    found = planned(path)
    margin = paper(size).margin
    for face, sheets in zip(found.elevations, job_sheets(found, size), strict=True):
        said: set[str] = set()
        for (width, height), runs in pages(pdf(Document("Sheets", sheets))):
            said |= {run.text.strip() for run in runs}
            assert not overlaps(runs)
            for run in runs:
                assert run.size >= 2.5 - 0.02, run
                assert margin - 0.5 <= run.left, run
                assert run.right <= width - margin + 0.5, run
                assert margin - 1.0 <= run.bottom, run
                assert run.top <= height - margin + 0.5, run
        numbers = {f"{course.course_set.prefix}{course.number}" for course in courses(found, face)}
        assert numbers <= said


def test_the_reader_sees_text_over_text() -> None:
    def sheet(x: float) -> Sheet:
        return Sheet(
            "Planted", (100, 80), marks=(Text(TEXT, (20, 40), "course 11"), Text(TEXT, (x, 41), "course 12"))
        )

    assert overlaps(pages(pdf(Document("Planted", (sheet(22),))))[0][1])
    assert not overlaps(pages(pdf(Document("Planted", (sheet(60),))))[0][1])


def test_the_reader_sees_sloping_text_as_it_lies() -> None:
    def sheet(y: float) -> Sheet:
        marks = (
            Text(TEXT, (20, 40), "along the rake", angle=30.0),
            Text(TEXT, (20, y), "past the scale", angle=30.0),
        )
        return Sheet("Planted", (100, 80), marks=marks)

    assert overlaps(pages(pdf(Document("Planted", (sheet(38),))))[0][1])
    assert not overlaps(pages(pdf(Document("Planted", (sheet(36),))))[0][1])


@each_face
def test_the_auditor_finds_nothing(path: Path, face: int) -> None:
    for version, encoding in (("R2010", "utf-8"), ("R2000", "cp1252")):
        auditor = ezdxf.read(io.StringIO(drawn(path, face, version).decode(encoding))).audit()
        assert not auditor.errors
        assert not auditor.fixes


@each_face
def test_gdal_finds_each_butt_line_at_its_height(path: Path, face: int, tmp_path: Path) -> None:
    program = tool("ogr2ogr")
    file = tmp_path / "face.dxf"
    file.write_bytes(drawn(path, face))
    features = gdal_features(program, file)
    seen = levels(features, "A-ELEV-CRSE") | levels(features, "A-ELEV-BAND")
    found = planned(path)
    drawn_courses = courses(found, found.elevations[face])
    shown = [course.foot for course in drawn_courses if course.runs and course.own is None]
    starters = {zone.lines.starter for zone in found.course_sets.values()}
    assert len(shown) > 5
    for foot in shown:
        if foot not in starters:  # the starter has a line of its own
            assert min(abs(foot - level) for level in seen) < 1e-6
    assert (
        min(abs(level - found.course_sets["main"].lines.starter) for level in levels(features, "A-ELEV-STRT"))
        < 1e-6
    )


@each_face
def test_dimensions_are_real_and_say_what_they_measure(path: Path, face: int) -> None:
    document = ezdxf.read(io.StringIO(drawn(path, face).decode()))
    job = planned(path).job
    assert document.header["$INSUNITS"] == (1 if job.units == "in" else 4)
    assert document.header["$MEASUREMENT"] == (0 if job.units == "in" else 1)
    dimensions = document.modelspace().query("DIMENSION")
    assert len(dimensions) > 2
    for dimension in dimensions:
        said = parse_length(dimension.dxf.text.split("  ")[-1], job.units)
        run = Vec3(dimension.dxf.defpoint3) - Vec3(dimension.dxf.defpoint2)
        measured = abs(run.y if dimension.dxf.angle == 90 else run.x)
        assert abs(said - measured) <= job.round + 1e-6


def test_hostile_lettering_reads_back_whole() -> None:
    texts = ["{\\fArial;x}", "%%c 50%% ^J", "a\x07b\x1b", "\u202eright to left", "\\P\\U+0041", "½ ″ ⅝"]
    marks = tuple(Text(TEXT, (0, 10 * k), text) for k, text in enumerate(texts))
    document = ezdxf.read(io.StringIO(dxf(Drawing("Hostile", "in", marks), 1 / 48).decode()))
    assert not document.audit().errors
    assert len(document.modelspace().query("TEXT")) == len(texts)
