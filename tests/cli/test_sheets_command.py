"""``sheets``: one PDF, whole or not at all."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from evencourse.cli.main import main
from tests.cli.jobs import FLUSH


@pytest.fixture
def job(tmp_path: Path) -> str:
    path = tmp_path / "house.toml"
    path.write_text(FLUSH, encoding="utf-8")
    return str(path)


def test_the_set_is_written_as_one_file(job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from pypdf import PdfReader

    file = tmp_path / "set.pdf"
    assert main(["sheets", job, "-o", str(file), "--paper", "tabloid"]) == 0
    assert capsys.readouterr().out.splitlines() == [str(file)]
    reader = PdfReader(file, strict=True)
    assert reader.metadata is not None
    assert reader.metadata.title == "Linden Row, lot 4"
    assert float(reader.pages[0].mediabox.width) == pytest.approx(431.8 * 72 / 25.4, abs=0.5)
    assert "Linden Row, lot 4" in reader.pages[0].extract_text()


@pytest.mark.long
def test_a_dash_is_standard_output(job: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    from pypdf import PdfReader

    assert main(["sheets", job, "-o", "-"]) == 0
    assert len(PdfReader(io.BytesIO(capfdbinary.readouterr().out), strict=True).pages) == 4


@pytest.mark.long
def test_the_date_is_printed_only_when_it_is_given(job: str, tmp_path: Path) -> None:
    from pypdf import PdfReader

    file = tmp_path / "set.pdf"
    main(["sheets", job, "-o", str(file)])
    assert "2025" not in "".join(page.extract_text() for page in PdfReader(file).pages)
    main(["sheets", job, "-o", str(file), "--date", "2025-03-14"])
    assert all("2025-03-14" in page.extract_text() for page in PdfReader(file).pages)


@pytest.mark.long
def test_a_plan_with_a_sliver_is_drawn_all_the_same(job: str, tmp_path: Path) -> None:
    file = tmp_path / "set.pdf"
    assert main(["sheets", job, "-o", str(file), "--starter", "-2"]) == 1
    assert file.read_bytes().startswith(b"%PDF-")


def test_nothing_is_written_when_a_choice_is_none(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "set.pdf"
    assert main(["sheets", job, "-o", str(file), "--paper", "napkin", "--date", "soon"]) == 2
    err = capsys.readouterr().err
    assert '"napkin"' in err
    assert '"soon"' in err
    assert not file.exists()


@pytest.mark.long
def test_a_part_of_the_set_and_more_of_it(job: str, tmp_path: Path) -> None:
    from pypdf import PdfReader

    def titles(*options: str) -> list[str]:
        file = tmp_path / "set.pdf"
        assert main(["sheets", job, "-o", str(file), *options]) == 0
        return [mark.title for mark in PdfReader(file).outline if not isinstance(mark, list)]

    # a chapter of one sheet has that sheet's title
    assert titles() == ["Cover", "Details", "Front", "Trims and order"]
    assert titles("--only", "faces,cover") == ["Cover", "Front"]
    assert titles("--only", "order", "--all-edges") == ["Order", "Edge schedule"]
    assert titles("--templates") == titles()  # no rake


@pytest.mark.long
def test_a_part_that_is_none_and_one_that_the_job_has_not(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "set.pdf"
    assert main(["sheets", job, "-o", str(file), "--only", "cover,lunch"]) == 2
    assert '"lunch"' in capsys.readouterr().err
    assert main(["sheets", job, "-o", str(file), "--only", "rakes"]) == 2
    assert "the job has none" in capsys.readouterr().err
    assert not file.exists()


@pytest.mark.long
def test_one_job_goes_into_a_folder_as_several_do(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    there, new = tmp_path / "there", f"{tmp_path / 'new'}/"
    there.mkdir()
    for folder in (str(there), new):
        assert main(["sheets", job, "-o", folder]) == 0
        place = Path(folder) / "house.pdf"
        assert capsys.readouterr().out == f"{place}\n"
        assert place.read_bytes().startswith(b"%PDF")
    assert main(["sheets", job, "-o", new, "--changed"]) == 0
    assert capsys.readouterr().out.endswith("house.pdf: unchanged, left as it was\n")


def test_a_name_without_its_ending_is_refused(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    assert main(["sheets", job, "-o", str(out)]) == 2
    assert capsys.readouterr().err.splitlines()[0] == (
        f'--output: found "{out}" for 1 job; wanted a name that ends in .pdf, or "{out}/" for a folder'
    )
    assert not out.exists()
