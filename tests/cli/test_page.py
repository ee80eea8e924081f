"""The page for the phone from the command line."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from evencourse.cli.main import main
from tests.cli.jobs import SMALL, TWO_FAULTS

PROGRAM = [sys.executable, "-c", "from evencourse.cli.main import run; run()"]


@pytest.fixture
def job(tmp_path: Path) -> str:
    path = tmp_path / "house.toml"
    path.write_text(SMALL, encoding="utf-8")
    return str(path)


def test_a_page_is_written_and_named(job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "house.html"
    assert main(["page", job, "-o", str(out)]) == 0
    assert out.read_bytes().startswith(b"<!doctype html>")
    assert capsys.readouterr() == (f"{out}\n", "")


@pytest.mark.long
def test_a_second_run_writes_the_same_bytes(job: str) -> None:
    """In two processes, so that nothing kept in memory hides a difference."""
    runs = [
        subprocess.run([*PROGRAM, "page", job, "-o", "-"], check=True, capture_output=True).stdout
        for _ in range(2)
    ]
    assert runs[0] == runs[1]
    assert runs[0].endswith(b"</html>\n")


def test_a_sliver_is_told_by_the_exit_code(job: str, tmp_path: Path) -> None:
    out = tmp_path / "house.html"
    assert main(["page", job, "-o", str(out), "--starter", "-2"]) == 1
    assert out.exists()


def test_a_faulty_job_writes_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, out = tmp_path / "house.toml", tmp_path / "house.html"
    path.write_text(TWO_FAULTS, encoding="utf-8")
    assert main(["page", str(path), "-o", str(out)]) == 2
    assert not out.exists()
    assert "2 faults; nothing written" in capsys.readouterr().err


def test_a_page_wants_a_file(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["page", job]) == 2
    assert "--output" in capsys.readouterr().err
