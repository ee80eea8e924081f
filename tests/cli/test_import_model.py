"""``import`` of a building model end to end: what it says, what it writes, how it ends."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from evencourse.cli.main import main
from evencourse.layout.ifc import ifc_reading
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.errors import JobError
from tests.layout.ifcin.buildings import shed


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
