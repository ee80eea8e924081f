"""A slip of the finger after ``-o`` writes over nothing that was measured, drawn or edited by hand."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import ezdxf
import pytest

from evencourse.cli.files.output_name import check_file, check_folder
from evencourse.cli.main import main
from evencourse.layout.model.errors import Fault
from tests.cli.jobs import SMALL
from tests.layout.dxfin.drawings import house, written


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A job whose openings stand in a spreadsheet, in the folder where the program runs."""
    monkeypatch.chdir(tmp_path)
    head, _, rest = SMALL.partition("  [[elevation.opening]]")
    assert rest
    csv = tmp_path / "openings.csv"
    csv.write_text("mark,left,sill,width,height\nA,60,30,36,48\n", encoding="utf-8")
    path = tmp_path / "house.toml"
    path.write_text(f'{head}openings = "openings.csv"\n', encoding="utf-8")
    return path


def faults_of(name: str | None, ending: str, read: list[str]) -> list[tuple[str, str]]:
    faults: list[Fault] = []
    check_file("--output", name, ending, read, faults)
    return [(fault.found, fault.wanted) for fault in faults]


LOST = "another file: this one would be lost"


@pytest.mark.parametrize(
    "words",
    [
        ["page", "house.toml", "-o"],
        ["sheets", "house.toml", "-o"],
        ["pole", "house.toml", "-o"],
        ["plan", "house.toml", "--json"],
        ["cuts", "house.toml", "--csv"],
        ["takeoff", "house.toml", "--csv"],
        ["takeoff", "house.toml", "--xlsx"],
        ["compare", "house.toml", "--svg"],
    ],
    ids=" ".join,
)
@pytest.mark.parametrize("measured", ["house.toml", "openings.csv", "./house.toml"])
def test_no_command_writes_over_what_it_reads(
    words: list[str], measured: str, job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = Path(measured).read_bytes()
    assert main([*words, measured]) == 2
    assert f'found "{measured}", which is read; wanted {LOST}' in capsys.readouterr().err
    assert Path(measured).read_bytes() == before


def test_a_link_to_the_job_is_the_job(job: Path) -> None:
    Path("link.pdf").symlink_to(job)
    assert faults_of("link.pdf", ".pdf", ["house.toml"]) == [('"link.pdf", which is read', LOST)]


@pytest.mark.parametrize("name", ["house.pdf", "house", "house.PDF", "house.2026", "-", None, "a\0b"])
def test_names_that_can_be_meant(name: str | None, job: Path) -> None:
    assert faults_of(name, ".pdf", ["house.toml", "-", "gone.toml"]) == []


@pytest.mark.parametrize("name", ["house.svg", "lot-5.toml", "out/house.DXF"])
def test_a_name_of_another_kind_of_file_is_a_slip(name: str) -> None:
    assert faults_of(name, ".pdf", []) == [(f'"{name}"', "a name that ends in .pdf")]


def test_a_folder_is_not_named_like_a_file_unless_it_stands_there(tmp_path: Path) -> None:
    """``draw JOB -o house.dxf`` would make a folder of that name."""
    faults: list[Fault] = []
    check_folder(str(tmp_path / "lot-4"), faults)
    check_folder(str(tmp_path / "lot.4"), faults)
    (tmp_path / "old.pdf").mkdir()
    check_folder(str(tmp_path / "old.pdf"), faults)
    assert faults == []
    check_folder("house.dxf", faults)
    assert [fault.found for fault in faults] == ['"house.dxf"']


def test_several_jobs_are_not_bound_into_one_pdf(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("two.toml").write_bytes(job.read_bytes())
    assert main(["sheets", "house.toml", "two.toml", "-o", "both.pdf"]) == 2
    assert main(["draw", "house.toml", "-o", "house.dxf"]) == 2
    err = capsys.readouterr().err
    assert err.count("wanted a folder: what is written into it is named after the job") == 2
    assert not Path("both.pdf").exists() and not Path("house.dxf").exists()


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("answer", "kept"), [("y\n", False), ("\n", True), ("", True), (None, True)])
def test_import_asks_before_it_writes_over_a_job(
    answer: str | None, kept: bool, job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Siding, trim and limits were written into it by hand; where nobody can be asked it stays."""
    assert main(["draw", "house.toml", "-o", ".", "--only", "dxf"]) in (0, 1)
    drawing = str(next(Path().glob("*.dxf")))
    mine = "# edited\n" + job.read_text(encoding="utf-8")
    job.write_text(mine, encoding="utf-8")
    monkeypatch.setattr(sys, "stdin", io.StringIO("y\n") if answer is None else Terminal(answer))
    assert main(["import", drawing, "-o", "house.toml"]) == (2 if kept else 0)
    assert (job.read_text(encoding="utf-8") == mine) is kept
    assert main(["import", drawing, "-o", "another.toml"]) == 0
    assert main(["import", drawing, "-o", "house.toml", "--yes"]) == 0
    assert job.read_text(encoding="utf-8") != mine


def test_import_writes_over_no_drawing(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["draw", "house.toml", "-o", ".", "--only", "dxf"]) in (0, 1)
    drawing = next(Path().glob("*.dxf"))
    before = drawing.read_bytes()
    assert main(["import", str(drawing), "-o", str(drawing)]) == 2
    assert "which is read" in capsys.readouterr().err
    assert main(["import", str(drawing), "-o", "other.dxf"]) == 2
    assert drawing.read_bytes() == before


@pytest.mark.long
@pytest.mark.parametrize("more", [[], ["--dxf-per-face"]])
def test_draw_writes_over_no_drawing_of_a_drafter(
    more: list[str], job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An imported job is called as its drawing, and so is what is drawn of it; its own may be drawn again."""
    words, drafted = ["draw", "house.toml", "-o", ".", *more], written(house())
    assert main(words) in (0, 1)
    drawn = next(Path().glob("*.dxf"))
    assert main(words) in (0, 1)
    drawn.write_bytes(drafted)
    for path in Path().glob("*.svg"):
        path.unlink()
    capsys.readouterr()
    assert main(words) == 2
    assert capsys.readouterr().err == (
        f"{drawn} was made by somebody else, or saved since by another program: choose another folder; "
        "nothing written\n"
    )
    assert drawn.read_bytes() == drafted
    assert not list(Path().glob("*.svg"))
    assert main([*words, "--only", "svg"]) in (0, 1)


@pytest.mark.long
@pytest.mark.parametrize("version", ["R2000", "R2010"])
def test_draw_writes_over_no_drawing_that_a_drafter_changed(version: str, job: Path) -> None:
    """Saved by another program (here ezdxf), its header has the day; drawn again before, it may go."""
    words = ["draw", "house.toml", "-o", ".", "--only", "dxf", "--dxf-version", version]
    assert main(words) in (0, 1)
    assert main(words) in (0, 1)
    drawn = next(Path().glob("*.dxf"))
    document = ezdxf.readfile(drawn)
    document.modelspace().add_line((0, 0), (9, 9))
    document.saveas(drawn)
    changed = drawn.read_bytes()
    assert main(words) == 2
    assert drawn.read_bytes() == changed
