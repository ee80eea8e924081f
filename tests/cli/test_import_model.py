"""``import`` of a building model end to end: what it says, what it writes, how it ends."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from math import cos, sin
from pathlib import Path
from typing import Any

import ifcopenshell
import ifcopenshell.geom
import numpy as np
import pytest

from evencourse.cli.main import main
from evencourse.layout.ifc import ifc_reading
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.errors import JobError
from tests.cli.jobs import SMALL
from tests.layout.ifcin.buildings import shed


@pytest.mark.long
def test_a_model_becomes_a_job_that_plan_takes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = str(shed().written(tmp_path / "garden_shed.ifc"))
    job = tmp_path / "shed.toml"
    assert main(["import", source, "-o", str(job), "--cladding", "double-4"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    lines = out.splitlines()
    assert lines[0] == "From garden_shed.ifc, IFC4 in millimetres."
    assert lines[-1] == f"written: {job}"
    row = next(line for line in lines if line.startswith("South"))
    assert [cell.strip() for cell in row.split("  ") if cell] == [
        "South", "6000", "0", "2400", "A", "none", "outside corner", "outside corner",
    ]  # fmt: skip
    found = read_job(job)
    assert found.name == "garden shed"
    assert [face.name for face in found.elevations] == ["East", "North", "West", "South"]
    assert "IfcWindow" in job.read_text() and str(tmp_path) not in job.read_text()
    assert main(["plan", str(job)]) in (0, 1)
    # 2400 of wall in courses of 8 in (203.2 mm): 11.8
    assert "12 courses" in capsys.readouterr().out


@pytest.mark.long
def test_a_model_becomes_sheets(tmp_path: Path) -> None:
    source, job = str(shed().written(tmp_path / "a.ifc")), tmp_path / "a.toml"
    assert main(["import", source, "-o", str(job), "--cladding", "bevel-8", "--yes"]) == 0
    assert main(["sheets", str(job), "-o", str(tmp_path / "a.pdf")]) in (0, 1)
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.long
def test_show_lists_every_opening_and_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = shed().written(tmp_path / "a.ifc")
    assert main(["import", str(source), "--show"]) == 0
    out, _ = capsys.readouterr()
    row = next(line for line in out.splitlines() if line.startswith("D1"))
    assert [cell.strip() for cell in row.split("  ") if cell][:7] == [
        "D1", "door", "rectangle", "2000", "0", "900", "2000",
    ]  # fmt: skip
    assert "'Side door'" in row
    assert list(tmp_path.iterdir()) == [source]


def test_faults_of_options_come_all_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = str(shed().written(tmp_path / "a.ifc"))
    words = ["--units", "mm", "--layer", "wall=A", "-o", str(tmp_path / "a.toml")]
    assert main(["import", source, *words]) == 2
    err = capsys.readouterr().err.splitlines()
    assert [line.partition(":")[0] for line in err][:-1] == ["--layer", "--units", "the siding"]
    assert not (tmp_path / "a.toml").exists()


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda data: data[: len(data) // 2], "no last line: the file is cut off"),
        (lambda data: b"0\nSECTION\n" + data, "its first line is another"),
        (lambda data: data.replace(b"'IFC4'", b"'IFC9'"), 'found "IFC9"; wanted one of IFC2X3, IFC4'),
        (lambda data: data.replace(b"IFCWALL(", b"IFCSLAB("), "found no wall"),
        (lambda data: data.replace(b"IFCEXTRUDEDAREASOLID(", b"IFCEXTRUDED("), "none with a body"),
    ],
)
def test_a_spoiled_model_is_told(spoil: Callable[[bytes], bytes], said: str, tmp_path: Path) -> None:
    source = shed().written(tmp_path / "a.ifc")
    source.write_bytes(spoil(source.read_bytes()))
    with pytest.raises(JobError, match=re.escape(said)):
        ifc_reading.read_model(source)


def test_a_spoiled_model_ends_the_run_in_a_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = shed().written(tmp_path / "a.ifc")
    source.write_bytes(source.read_bytes()[:-100])
    assert main(["import", str(source), "--show"]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.splitlines() == [
        "a.ifc: found no last line: the file is cut off; wanted END-ISO-10303-21;",
        "1 fault; nothing written",
    ]


def test_without_the_library_the_extra_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    source = shed().written(tmp_path / "a.ifc")
    monkeypatch.setitem(sys.modules, "ifcopenshell", None)
    with pytest.raises(JobError, match=r"wanted evencourse\[ifc\]"):
        ifc_reading.read_model(source)


def test_a_model_that_is_too_large_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    source = shed().written(tmp_path / "a.ifc")
    monkeypatch.setattr(ifc_reading, "MOST_BYTES", 1000)
    with pytest.raises(JobError, match="at most 0 MB; export walls"):
        ifc_reading.read_model(source)


@pytest.mark.long
def test_the_siding_lies_on_the_walls_of_the_model_that_it_came_from(tmp_path: Path) -> None:
    """Turned by 30 degrees and moved: the plan's pieces stand on the outside of the walls, and nowhere else.

    Both models are read by ifcopenshell's geometry kernel; lengths come out in metres.
    """
    building = shed()
    place = building.axes((120_000, -45_000, 2_500), 0.5235987755982988)
    building.building.ObjectPlacement.RelativePlacement = place
    source, job = building.written(tmp_path / "a.ifc"), tmp_path / "job.toml"
    assert main(["import", str(source), "-o", str(job), "--cladding", "double-4"]) == 0
    assert main(["draw", str(job), "-o", str(tmp_path), "--only", "ifc"]) in (0, 1)
    settings: Any = ifcopenshell.geom.settings()
    settings.set("use-world-coords", True)

    def corners(path: Path, kind: str) -> Any:
        file = ifcopenshell.open(path)  # kept: its entities do not outlive it
        made = [ifcopenshell.geom.create_shape(settings, one) for one in file.by_type(kind)]
        return np.concatenate([np.array(one.geometry.verts).reshape(-1, 3) for one in made])

    def at_home(points: Any) -> Any:
        """Turned back, from the shed's first corner."""
        x, y = points[:, 0] - 120, points[:, 1] + 45
        turned = 0.5235987755982988
        return np.column_stack(
            (x * cos(turned) + y * sin(turned), y * cos(turned) - x * sin(turned), points[:, 2] - 2.5)
        )

    walls = at_home(corners(source, "IfcWall"))
    assert walls.min(axis=0) == pytest.approx([0, 0, 0], abs=1e-6)
    siding = at_home(corners(tmp_path / "a-siding.ifc", "IfcCovering"))
    # The panel stands off 1/2 in: from the wall's outside, 6 m by 4 m, by that much on all four sides.
    off = 0.0127
    assert siding.min(axis=0)[:2] == pytest.approx([-off, -off], abs=0.005)
    assert siding.max(axis=0) == pytest.approx([6 + off, 4 + off, 2.4], abs=0.005)
    inside = np.minimum(
        np.minimum(siding[:, 0], 6 - siding[:, 0]), np.minimum(siding[:, 1], 4 - siding[:, 1])
    )
    assert inside.max() == pytest.approx(0, abs=0.005)


def test_a_model_is_never_drawn_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "job.toml").write_text(SMALL, encoding="utf-8")
    ours = tmp_path / "Linden-Row-lot-4-siding.ifc"
    draw = ["draw", str(tmp_path / "job.toml"), "-o", str(tmp_path), "--only", "ifc"]
    assert main(draw) in (0, 1)
    assert main(draw) in (0, 1)
    ifcopenshell.open(ours).write(str(ours))
    assert main(draw) == 2
    assert "made by somebody else, or saved since by another program" in capsys.readouterr().err
