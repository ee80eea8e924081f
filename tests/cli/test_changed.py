"""``--changed``: a job whose files stand, made of the same job, profiles and options, is left out."""

from __future__ import annotations

import shutil
import subprocess
import sys
import zlib
from pathlib import Path
from xml.etree import ElementTree

import pytest

from evencourse.cli.files.output import Output
from evencourse.cli.files.provenance import Provenance, content_key, marked, provenance_of, standing
from evencourse.cli.main import main
from tests.cli.jobs import FLUSH, TWO_FAULTS

ROOT = Path(__file__).resolve().parents[2]
PROVENANCE = Provenance(content_key("a house"), 2, {"sheets": 1, "clean": True}, content_key("lot 1"))


def street(folder: Path, **texts: str) -> list[str]:
    folder.mkdir(exist_ok=True)
    for name, text in texts.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return [str(folder / f"{name}.toml") for name in texts]


def times(folder: Path) -> dict[str, int]:
    return {path.relative_to(folder).as_posix(): path.stat().st_mtime_ns for path in folder.rglob("*.*")}


def drawn_anew(before: dict[str, int], after: dict[str, int]) -> set[str]:
    return {Path(name).parts[0] for name, time in after.items() if before.get(name) != time}


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("a.svg", b'<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"></svg>\n'),
        ("a.dxf", b"  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n"),
        ("a.pdf", b"%PDF-1.7\nxref\ntrailer\n<<>>\nstartxref\n9\n%%EOF\n"),
        ("a.png", b"\x89PNG\r\n\x1a\n" + b"\0\0\0\rIHDR" + bytes(17) + b"\0\0\0\0IEND\xaeB`\x82"),
    ],
)
def test_a_stamp_is_found_again_and_changes_nothing_else(tmp_path: Path, name: str, data: bytes) -> None:
    path = tmp_path / name
    path.write_bytes(marked(Output(name, data), PROVENANCE).data)
    assert provenance_of(path) == PROVENANCE
    assert standing([path], PROVENANCE.key) is None, "one of its two files is missing"
    other = tmp_path / f"b{path.suffix}"
    other.write_bytes(path.read_bytes())
    assert standing([path, other], PROVENANCE.key) == PROVENANCE
    assert standing([path, other], content_key("another house")) is None
    edited = path.read_bytes().replace(b"\0\0\0\0IEND" if path.suffix == ".png" else b"E", b"e", 1)
    other.write_bytes(edited if edited != path.read_bytes() else path.read_bytes() + b" ")
    assert standing([path, other], PROVENANCE.key) is None, "somebody changed one"


@pytest.mark.long
def test_readers_of_every_format_pass_over_the_stamp(tmp_path: Path) -> None:
    """Read by independent libraries: an XML parser, pypdf in its strict mode, ezdxf's auditor, Pillow."""
    import ezdxf
    from PIL import Image
    from pypdf import PdfReader

    job = street(tmp_path, house=FLUSH)[0]
    out = tmp_path / "out"
    assert main(["draw", job, "-o", str(out), "--only", "svg,pdf,dxf,png", "--dpi", "50"]) == 0
    marks = [provenance_of(path) for path in sorted(out.iterdir())]
    assert len({provenance.key for provenance in marks if provenance}) == 1
    assert all(provenance is not None and provenance.files == len(marks) == 7 for provenance in marks)
    for path in out.iterdir():
        match path.suffix:
            case ".svg":
                ElementTree.parse(path)
            case ".pdf":
                assert len(PdfReader(path, strict=True).pages) == 1
            case ".dxf":
                assert not ezdxf.readfile(path).audit().errors
            case ".png":
                with Image.open(path) as image:
                    image.load()
                    assert "evencourse provenance" in image.info["Comment"]
                data = path.read_bytes()
                at = data.index(b"tEXt")
                size = int.from_bytes(data[at - 4 : at], "big")
                check = int.from_bytes(data[at + 4 + size : at + 8 + size], "big")
                assert zlib.crc32(data[at : at + 4 + size]) == check


@pytest.mark.long
@pytest.mark.parametrize("command", ["draw", "sheets"])
def test_exactly_what_changed_is_drawn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    texts = dict.fromkeys(("one", "two", "three"), FLUSH) | {"bad": TWO_FAULTS}
    jobs = street(tmp_path / "jobs", **texts)
    out = tmp_path / "out"
    words = [command, *jobs, "-o", str(out), "-j", "1", *(["--only", "svg"] if command == "draw" else [])]
    assert main(words) == 2
    first = capsys.readouterr().out.splitlines()
    before = times(out)

    assert main([*words, "--changed"]) == 2
    again = capsys.readouterr().out.splitlines()
    assert drawn_anew(before, times(out)) == set()
    assert "3 jobs are unchanged, with the files that were there" in again
    at = next(index for index, line in enumerate(first) if "all jobs" in line)
    assert again[at].split() == first[at].split(), "the figures of all jobs are known from their provenance"

    Path(jobs[1]).write_text("# measured on Monday\n" + FLUSH, encoding="utf-8")
    assert main([*words, "--changed"]) == 2
    assert drawn_anew(before, times(out)) == set(), "a comment moves no course"

    Path(jobs[1]).write_text(FLUSH.replace('width = "36"', 'width = "37"'), encoding="utf-8")
    assert main([*words, "--changed"]) == 2
    name = "two" if command == "draw" else "two.pdf"
    assert drawn_anew(before, times(out)) == {name}
    before = times(out)

    assert main([*words, "--changed", "--paper", "a3"]) == 2
    assert len(drawn_anew(before, times(out))) == 3, "other paper is another set"


@pytest.mark.long
def test_a_file_that_was_taken_away_is_drawn_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = street(tmp_path, house=FLUSH)[0]
    out = tmp_path / "out"
    words = ["draw", job, "-o", str(out), "--only", "svg,pdf", "--changed"]
    assert main(words) == 0
    capsys.readouterr()
    assert main(words) == 0
    assert capsys.readouterr().out == f"{out}: unchanged, 4 files left as they were\n"
    next(out.glob("*.pdf")).unlink()
    assert main(words) == 0
    assert len(list(out.iterdir())) == 4


@pytest.mark.long
def test_a_changed_openings_sheet_is_a_changed_job(tmp_path: Path) -> None:
    text = 'openings = "openings.csv"\n\n' + FLUSH.partition("  [[elevation.opening]]")[0]
    job = street(tmp_path, house=text)[0]
    sheet = tmp_path / "openings.csv"
    rows = "elevation,mark,left,sill,width,height\nFront,A,60,31,36,48\n"
    sheet.write_text(rows, encoding="utf-8")
    set_file = tmp_path / "set.pdf"
    words = ["sheets", job, "-o", str(set_file), "--changed"]
    main(words)
    before = set_file.stat().st_mtime_ns
    main(words)
    assert set_file.stat().st_mtime_ns == before
    sheet.write_text(rows.replace("60", "61"), encoding="utf-8")
    main(words)
    assert set_file.stat().st_mtime_ns != before


@pytest.mark.long
def test_a_changed_profile_touches_the_jobs_that_name_it(tmp_path: Path) -> None:
    """The shipped profiles in a copy of the program: one gets other cartons."""
    package = tmp_path / "package" / "evencourse"
    package.mkdir(parents=True)
    for name in ("layout", "render", "cli"):
        (package / name).symlink_to(ROOT / name)
    jobs = street(tmp_path / "jobs", one=FLUSH, two=FLUSH.replace('"double-4"', '"double-5"'), three=FLUSH)
    out = tmp_path / "out"
    words = [*jobs, "-o", str(out), "-j", "1", "--changed"]

    def run() -> None:
        program = (
            "import sys; sys.path.insert(0, sys.argv.pop(1)); from evencourse.cli.main import run; run()"
        )
        subprocess.run(
            [sys.executable, "-c", program, str(package.parent), "sheets", *words],
            check=False,
            cwd=tmp_path,
            env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(package.parent)},
        )

    run()
    before = times(out)
    assert len(before) == 3
    (package / "layout").unlink()
    shutil.copytree(ROOT / "layout", package / "layout")
    file = package / "layout" / "trade" / "claddings.toml"
    text = file.read_text(encoding="utf-8")
    start = text.index("[profile.double-5]")
    changed = text[:start] + text[start:].replace("carton = 20", "carton = 23", 1)
    file.write_text(changed, encoding="utf-8")
    run()
    assert drawn_anew(before, times(out)) == {"two.pdf"}


@pytest.mark.long
def test_a_file_that_somebody_changed_is_drawn_again(tmp_path: Path) -> None:
    job = street(tmp_path, house=FLUSH)[0]
    file = tmp_path / "set.pdf"
    words = ["sheets", job, "-o", str(file), "--changed"]
    assert main(words) == 0
    whole = file.read_bytes()
    file.write_bytes(whole.replace(b"stream", b"strEam", 1))
    assert main(words) == 0
    assert file.read_bytes() == whole


@pytest.mark.long
def test_what_an_earlier_run_drew_of_the_same_job_is_taken_away_and_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A face is called otherwise: its old drawings go; those of another job, and a changed one, stay."""
    jobs = street(tmp_path, house=FLUSH, other=FLUSH.replace("lot 4", "lot 5"))
    out = tmp_path / "out"
    words = ["-o", str(out), "--only", "svg,pdf"]
    assert [main(["draw", job, *words]) for job in jobs] == [0, 0]
    old = out / "Linden-Row-lot-4-Front.svg"
    changed = out / "Linden-Row-lot-4-Front.pdf"
    changed.write_bytes(changed.read_bytes() + b"% mine\n")
    Path(jobs[0]).write_text(FLUSH.replace('"Front"', '"Street"'), encoding="utf-8")
    capsys.readouterr()
    assert main(["draw", jobs[0], *words]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == f"{old}: of an earlier run, taken away"
    assert sorted(path.name for path in out.iterdir()) == [
        f"Linden-Row-lot-{name}"
        for name in (
            "4-Details.pdf", "4-Details.svg", "4-Front.pdf", "4-Street.pdf", "4-Street.svg",
            "5-Details.pdf", "5-Details.svg", "5-Front.pdf", "5-Front.svg",
        )
    ]  # fmt: skip
    folders = tmp_path / "folders"
    words = ["draw", *jobs, "-o", str(folders), "--only", "svg", "-j", "1"]
    assert main(words) == 0
    Path(jobs[0]).write_text(FLUSH, encoding="utf-8")
    capsys.readouterr()
    assert main([*words, "--changed"]) == 0
    gone = folders / "house" / "Linden-Row-lot-4-Street.svg"
    assert f"{gone}: of an earlier run, taken away" in capsys.readouterr().out.splitlines()
    assert not gone.exists()
