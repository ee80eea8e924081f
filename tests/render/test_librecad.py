"""CAD files opened and plotted by LibreCAD, without a screen. It plots model space; it knows no layouts."""

from __future__ import annotations

import os
import subprocess
from math import hypot
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.render.building.wall_face import courses
from evencourse.render.formats.cad_set import Version, cad_set
from evencourse.render.formats.dxf import dxf
from evencourse.render.sheets.elevation_sheets import job_sheets
from evencourse.render.words.result import Result
from tests.render.cad import FEW, TEN_FEET, written
from tests.samples import planned
from tests.tools import tool

POINT = 25.4 / 72


def plot(data: bytes, scale: float, folder: Path) -> list[dict[str, Any]]:
    """The straight lines that LibreCAD plots [points]."""
    program = tool("librecad")
    (folder / "job.dxf").write_bytes(data)
    folder.chmod(0o700)
    subprocess.run(
        [program, "dxf2pdf", "-c", "-s", str(scale), "-o", "job.pdf", "job.dxf"],
        cwd=folder,
        env={
            **os.environ,
            "QT_QPA_PLATFORM": "offscreen",
            "XDG_RUNTIME_DIR": str(folder),
            "HOME": str(folder),
        },
        capture_output=True,
        check=True,
        timeout=120,
    )
    with pdfplumber.open(folder / "job.pdf") as file:
        lines: list[dict[str, Any]] = file.pages[0].lines
        return lines


def test_ten_feet_plot_as_ten_feet_with_the_line_weights_of_the_pdf(tmp_path: Path) -> None:
    """At 1/2" = 1'-0" ten feet are five inches; outlines are 0.7 mm wide, butt lines 0.25 mm."""
    found = plan(parse_job(TEN_FEET))
    lines = plot(dxf(cad_set(Result(found), job_sheets(Result(found), "letter"))), 1 / 24, tmp_path)
    wide = [line for line in lines if abs(line["x1"] - line["x0"]) * POINT == pytest.approx(127.0, abs=0.2)]
    weights = [line["linewidth"] * POINT for line in wide if abs(line["y1"] - line["y0"]) < 1e-6]
    outlines = [weight for weight in weights if weight == pytest.approx(0.7, abs=0.01)]
    assert len(outlines) == 2  # base and eave
    butts = [course for course in courses(found, found.elevations[0]) if course.runs]
    assert len([weight for weight in weights if weight == pytest.approx(0.25, abs=0.01)]) >= len(butts)


@pytest.mark.long
@pytest.mark.parametrize("version", ["R2000", "R2010"])
def test_every_face_is_plotted(version: Version, tmp_path: Path) -> None:
    """At a small scale LibreCAD thins its lines; those of the outlines stay the widest."""
    job = FEW[-1]
    lines = plot(written(job, version), 1 / 600, tmp_path)
    long = [line for line in lines if hypot(line["x1"] - line["x0"], line["y1"] - line["y0"]) * POINT > 2.0]
    widest = max(line["linewidth"] for line in long)  # of lines, not of the strokes of large lettering
    outlines = [line for line in long if line["linewidth"] > 0.99 * widest]
    assert len(outlines) == sum(len(face.outline) for face in planned(job).job.elevations)
