"""The story pole from the command line: a PDF to print, for all faces or some, on sheets or on a roll."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest

from evencourse.cli.main import main
from tests.cli.jobs import FLUSH

TWO_FACES = FLUSH + FLUSH[FLUSH.index("[[elevation]]") :].replace('"Front"', '"Back, to the yard"')


@pytest.fixture
def job(tmp_path: Path) -> str:
    path = tmp_path / "house.toml"
    path.write_text(TWO_FACES, encoding="utf-8")
    return str(path)


def said(path: Path) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(path).pages)


def test_a_pole_is_written_whole(job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "pole.pdf"
    assert main(["pole", job, "-o", str(out)]) == 0
    reader = pypdf.PdfReader(out)
    assert reader.metadata.title == "Linden Row, lot 4: story pole"
    assert len(reader.pages) == 5  # cover, list, and a staff of 41 in: 5 strips of 9 in, two on a sheet
    assert "Front A sill" in said(out) and "Back, to the yard A sill" in said(out)
    assert capsys.readouterr() == (f"{out}\n", "")


def test_one_face_by_its_name_even_with_a_comma_in_it(job: str, tmp_path: Path) -> None:
    out = tmp_path / "pole.pdf"
    assert main(["pole", job, "-o", str(out), "--faces", "back, to the yard"]) == 0
    assert "Back, to the yard" in said(out) and "Front" not in said(out)
    assert main(["pole", job, "-o", str(out), "--faces", "front"]) == 0
    assert "Front" in said(out) and "yard" not in said(out)


def test_one_long_page_for_a_roll(job: str, tmp_path: Path) -> None:
    out = tmp_path / "pole.pdf"
    assert main(["pole", job, "-o", str(out), "--paper", "Roll"]) == 0
    (page,) = pypdf.PdfReader(out).pages
    assert 97 < float(page.mediabox.height) / 72 <= 200


def test_faces_and_papers_that_are_not_known(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "pole.pdf"
    assert main(["pole", job, "-o", str(out), "--paper", "b5", "--date", "soon"]) == 2
    err = capsys.readouterr().err
    assert '--paper: found "b5"' in err and "or roll" in err and "--date" in err
    assert main(["pole", job, "-o", str(out), "--faces", "Front, Side,Top"]) == 2
    err = capsys.readouterr().err
    assert '--faces: found "Side"; wanted "Front" or "Back, to the yard"' in err and '"Top"' in err
    assert not out.exists()


def test_one_storey(job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By hand: lines of 8 from -1: between 2' and 4' are 31, 39 and 47, lines 5 to 7."""
    out = tmp_path / "pole.pdf"
    assert main(["pole", job, "-o", str(out), "--from", "2'", "--to", "4'"]) == 0
    words = said(out)
    assert all(f"\n{height}\n" in words for height in ("2' 7\"", "3' 3\"", "3' 11\""))
    assert "Butt line 5" in words and "1' 11\"" not in words and "4' 7\"" not in words
    assert main(["pole", job, "-o", str(out), "--from", "-1"]) == 0
    assert (
        len(pypdf.PdfReader(out).pages) == 7
    )  # every line: 11 strips of 9 in, two on a sheet, and the cover
    out.unlink()
    capsys.readouterr()
    for words_, wanted in (
        (["--from", "14-3", "--to", "x"], ("--from: found", "--to: found")),
        (["--from", "4'", "--to", "2'"], ('--from: found "4\'"; wanted a height under that of --to',)),
        (["--from", "9'"], ("no butt line between them",)),
    ):
        assert main(["pole", job, "-o", str(out), *words_]) == 2
        err = capsys.readouterr().err
        assert all(part in err for part in wanted)
    assert not out.exists()


def test_standard_output(job: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["pole", job, "-o", "-"]) == 0
    data = capfdbinary.readouterr().out
    assert data.startswith(b"%PDF-") and len(pypdf.PdfReader(io.BytesIO(data)).pages) == 5
