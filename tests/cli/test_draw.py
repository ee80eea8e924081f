"""The drawings of a job as files: which, how named, the same each time, all or none."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from evencourse.cli.files.output import Output
from evencourse.cli.files.provenance import Provenance, content_key, marked
from evencourse.cli.main import main
from evencourse.cli.street.parcel import parcel
from tests.cli.jobs import SMALL

PROGRAM = [sys.executable, "-c", "from evencourse.cli.main import run; run()"]
JOB = "Linden-Row-lot-4"
FRONT = f"{JOB}-Front"
DETAILS = (f"{JOB}-Details.pdf", f"{JOB}-Details.svg")


@pytest.fixture
def job(tmp_path: Path) -> str:
    path = tmp_path / "house.toml"
    path.write_text(SMALL, encoding="utf-8")
    return str(path)


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_every_elevation_in_every_format(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "deep" / "out"
    assert main(["draw", job, "-o", str(out)]) == 0
    files = contents(out)
    assert sorted(files) == [*DETAILS, f"{FRONT}.pdf", f"{FRONT}.svg", f"{JOB}.dxf"]
    assert files[f"{FRONT}.svg"].lstrip().startswith(b"<?xml")
    assert files[f"{FRONT}.pdf"].startswith(b"%PDF-")
    assert files[f"{JOB}.dxf"].lstrip().startswith(b"0")
    said, err = capsys.readouterr()
    assert sorted(Path(line).name for line in said.splitlines()) == sorted(files)
    assert err == ""


@pytest.mark.long
def test_a_second_run_writes_the_same_bytes(job: str, tmp_path: Path) -> None:
    """In two processes, so that nothing kept in memory hides a difference."""
    folders = [tmp_path / "one", tmp_path / "two"]
    for folder in folders:
        subprocess.run([*PROGRAM, "draw", job, "-o", str(folder)], check=True, capture_output=True)
    assert contents(folders[0]) == contents(folders[1])


def test_only_what_is_asked_for(job: str, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert main(["draw", job, "-o", str(out), "--only", "DXF, svg"]) == 0
    assert sorted(contents(out)) == [DETAILS[1], f"{FRONT}.svg", f"{JOB}.dxf"]


@pytest.mark.long
def test_a_picture_of_each_face_when_asked_for(job: str, tmp_path: Path) -> None:
    """PNG (ISO/IEC 15948), IHDR: width and height; 11 by 8-1/2 in at 150 and at 60 dots an inch."""
    pytest.importorskip("cairosvg")
    for words, size in (([], (1650, 1275)), (["--dpi", "60"], (660, 510))):
        out = tmp_path / f"out{len(words)}"
        assert main(["draw", job, "-o", str(out), "--only", "png", *words]) == 0
        details, picture = sorted(out.iterdir())
        assert details.name == f"{JOB}-Details.png"
        head = picture.read_bytes()[:24]
        assert picture.name == f"{FRONT}.png" and head.startswith(b"\x89PNG")
        found = int.from_bytes(head[16:20], "big"), int.from_bytes(head[20:24], "big")
        assert found == pytest.approx(size, abs=1)


def test_dots_that_no_picture_has(job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["draw", job, "-o", str(tmp_path / "out"), "--only", "png", "--dpi", "fine"]) == 2
    assert '--dpi: found "fine"; wanted dots per inch, from 50 to 600' in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_a_cad_file_for_each_face_when_asked_for(job: str, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert main(["draw", job, "-o", str(out), "--only", "dxf", "--dxf-per-face"]) == 0
    assert [*contents(out)] == [f"{FRONT}.dxf"]


def test_the_version_of_the_cad_file(job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """DXF reference, $ACADVER: AC1015 is R2000, AC1024 is R2010."""
    for words, version in (([], b"AC1024"), (["--dxf-version", "r2000"], b"AC1015")):
        assert main(["draw", job, "-o", str(tmp_path), "--only", "dxf", *words]) == 0
        assert version in contents(tmp_path)[f"{JOB}.dxf"][:200]
    capsys.readouterr()
    assert main(["draw", job, "-o", str(tmp_path / "out"), "--dxf-version", "R12"]) == 2
    assert capsys.readouterr().err.splitlines()[0] == '--dxf-version: found "R12"; wanted R2000 or R2010'


@pytest.mark.parametrize(
    ("paper", "short", "long"),
    [
        (None, 215.9, 279.4),
        ("letter", 215.9, 279.4),
        ("tabloid", 279.4, 431.8),
        ("a4", 210, 297),
        ("A3", 297, 420),
        ("arch-c", 457.2, 609.6),
        ("ARCH D", 609.6, 914.4),
    ],
)
def test_every_paper_has_its_size(
    job: str, tmp_path: Path, paper: str | None, short: float, long: float
) -> None:
    """ASME Y14.1 (letter, tabloid), ISO 216 (A4, A3), US National CAD Standard (ARCH C, ARCH D) [mm]."""
    from pypdf import PdfReader

    words = [] if paper is None else ["--paper", paper]
    assert main(["draw", job, "-o", str(tmp_path), "--only", "pdf", *words]) == 0
    box = PdfReader(tmp_path / f"{FRONT}.pdf").pages[0].mediabox
    assert sorted([float(box.width), float(box.height)]) == pytest.approx(
        [short * 72 / 25.4, long * 72 / 25.4], abs=0.5
    )


def test_a_metric_job_goes_on_a4(tmp_path: Path) -> None:
    from pypdf import PdfReader

    path = tmp_path / "house.toml"
    metric = SMALL.replace('datum = "laser line"', 'units = "mm"').replace('"-1", "-1"', '"-25", "-25"')
    for inches, mm in (("60", "1500"), ("31", "800"), ("36", "900"), ("48", "1200")):
        metric = metric.replace(f'= "{inches}"', f'= "{mm}"')
    path.write_text(metric, encoding="utf-8")
    main(["draw", str(path), "-o", str(tmp_path), "--only", "pdf"])
    box = PdfReader(tmp_path / f"{FRONT}.pdf").pages[0].mediabox
    assert float(box.width) == pytest.approx(297 * 72 / 25.4, abs=0.5)


@pytest.mark.long
def test_the_date_is_printed_only_when_it_is_given(job: str, tmp_path: Path) -> None:
    main(["draw", job, "-o", str(tmp_path), "--only", "svg"])
    assert b"2025" not in (tmp_path / f"{FRONT}.svg").read_bytes()
    main(["draw", job, "-o", str(tmp_path), "--only", "svg", "--date", "2025-03-14"])
    assert b"2025-03-14" in (tmp_path / f"{FRONT}.svg").read_bytes()


def test_a_plan_with_a_sliver_is_drawn_all_the_same(job: str, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert main(["draw", job, "-o", str(out), "--only", "svg", "--starter", "-2"]) == 1
    assert sorted(contents(out)) == [DETAILS[1], f"{FRONT}.svg"]


def test_parts_of_an_earlier_run_are_taken_away_when_a_face_takes_fewer_sheets(
    job: str, tmp_path: Path
) -> None:
    """Known by their provenance, whatever they are called; those of other formats and other jobs stay."""
    out = tmp_path / "out"
    out.mkdir()
    drawing = b'<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"></svg>\n'
    own, other = (parcel(name).origin for name in (job, __file__))
    earlier = {f"{FRONT}-part-1.svg": own, f"{FRONT}-part-2.svg": own, "Back.svg": other, "Side.svg": ""}
    for name, origin in earlier.items():
        stamp = Provenance(content_key("earlier"), 2, {}, origin)
        (out / name).write_bytes(marked(Output(name, drawing), stamp).data)
    kept = ["Back.svg", "Side.svg", f"{FRONT}-part-3.svg", f"{FRONT}-part-2.pdf"]
    for name in kept[2:]:
        (out / name).write_bytes(drawing)
    assert main(["draw", job, "-o", str(out), "--only", "svg"]) == 0
    assert sorted(path.name for path in out.iterdir()) == sorted([*kept, DETAILS[1], f"{FRONT}.svg"])


@pytest.mark.long
def test_nothing_is_written_when_one_drawing_fails(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """PDF comes after SVG: when it cannot be made, neither is written."""
    from evencourse.layout.model.errors import EvencourseError

    def failing(document: object) -> bytes:
        raise EvencourseError("no PDF today")

    monkeypatch.setattr("evencourse.cli.street.drawn_jobs.pdf", failing)
    out = tmp_path / "out"
    assert main(["draw", job, "-o", str(out)]) == 2
    assert not out.exists()
    err = capsys.readouterr().err
    assert "no PDF today" in err
    assert len(err.splitlines()) == 1
    assert main(["draw", job, "-o", str(out), "--only", "svg,dxf"]) == 0
    assert len(contents(out)) == 3


@pytest.mark.parametrize("name", ["../../up", "/etc/x", r"a\\b", "<svg onload='x'>&", "x" * 100, "CON", "%s"])
def test_hostile_names_stay_in_the_folder(tmp_path: Path, name: str) -> None:
    path = tmp_path / "house.toml"
    text = SMALL.replace("Linden Row, lot 4", name).replace('"Front"', f'"{name}"')
    path.write_text(text.replace('mark = "A"', f'mark = "{name}"'), encoding="utf-8")
    out = tmp_path / "out"
    assert main(["draw", str(path), "-o", str(out)]) == 0
    assert len(contents(out)) == 5
    assert {item for item in tmp_path.rglob("*") if item.parent != out} == {path, out}


@pytest.mark.parametrize("name", [r"\u202etxt.exe", r"a\nb", r"\u001b[2J", "x" * 5000])
def test_names_that_no_sheet_can_show_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    path = tmp_path / "house.toml"
    path.write_text(SMALL.replace("Linden Row, lot 4", name), encoding="utf-8")
    assert main(["draw", str(path), "-o", str(tmp_path / "out")]) == 2
    assert list(tmp_path.iterdir()) == [path]
    err = capsys.readouterr().err
    assert err.startswith("line 2: job, name: found ")
    assert not set(err) & set("\u202e\x1b")


@pytest.mark.long
def test_two_runs_into_one_folder_at_once(job: str, tmp_path: Path) -> None:
    out = tmp_path / "out"
    runs = [
        subprocess.Popen([*PROGRAM, "draw", job, "-o", str(out), "--only", "svg,dxf"], stdout=subprocess.PIPE)
        for _ in range(3)
    ]
    for run in runs:
        run.communicate()
    assert [run.returncode for run in runs] == [0, 0, 0]
    alone = tmp_path / "alone"
    main(["draw", job, "-o", str(alone), "--only", "svg,dxf"])
    assert contents(out) == contents(alone)
