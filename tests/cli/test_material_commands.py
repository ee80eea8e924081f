"""``takeoff`` and ``cuts`` end to end: what they print, and files that a spreadsheet opens."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from evencourse.cli.main import main
from evencourse.cli.reports.spreadsheet import SheetTable, csv_bytes, safe_text, xlsx_bytes
from tests.cli.jobs import FLUSH, run, written

#: Prices, a spare, and names that a spreadsheet would run.
ORDER = """[order]
spare = "10 %"
currency = "$"
prices = { panel = 180, "starter strip" = 7.5, gutter = 3 }

[limits]"""
PRICED = (
    FLUSH.replace('name = "Linden Row, lot 4"', 'name = "=1+1"')
    .replace('mark = "A"', 'mark = "=HYPERLINK(A1)"')
    .replace("[limits]", ORDER)
    .replace('name = "Front"', 'name = "@Front"')
)


@pytest.fixture
def job(tmp_path: Path) -> str:
    return written(tmp_path, FLUSH)


def cells(line: str) -> list[str]:
    return [cell.strip() for cell in line.split("  ") if cell.strip()]


def row(lines: list[str], word: str) -> list[str]:
    return next(cells(line) for line in lines if word in line)


def test_take_off_says_what_to_order(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    """By hand, as in tests/layout/test_takeoff.py: 20 ft by 8 ft is 1.60 squares, the window 0.12 of them.

    18 panels where area and 10 % ask for 20; one carton of 24. Starter 20 ft: two of 12 ft 6 in.
    """
    code, lines = run(capsys, "takeoff", job)
    assert code == 0
    assert row(lines, "Front") == ["Front", "1.60", "0.12", "1.48"]
    found = row(lines, "double 4 in panel")
    assert found[2:7] == ["18 pcs, 12' 6\"", "18", "18", "20", "2 (10.0 %)"]
    assert row(lines, "24 to a carton") == [
        "1 carton", "double 4 in panel, 12' 6\"", "18, 24 to a carton, rounded up to 1",
    ]  # fmt: skip
    assert row(lines, "starter strip") == ["2", "starter strip, 12' 6\"", "2"]
    assert any("No extra included" in line for line in lines)


@pytest.mark.long
def test_spare_and_prices(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """18 panels and 10 % are 19.8, still a carton: 180; two starter strips 2.2, so 3: 22.50."""
    path = written(tmp_path, PRICED)
    code, lines = run(capsys, "takeoff", path)
    assert code == 0
    assert row(lines, "24 to a carton")[-2:] == ["180.00", "180.00"]
    assert row(lines, "starter strip")[2:] == ["2 + 10 % = 2.2, rounded up to 3", "7.50", "22.50"]
    assert any(line.strip() == "$202.50" for line in lines)
    assert any('"gutter"' in line for line in lines)
    _, lines = run(capsys, "takeoff", path, "--spare", "50 %")
    assert row(lines, "24 to a carton")[0] == "2 cartons"  # 27 panels


@pytest.mark.parametrize("spare", ["110 %", "-0.1", "some", ""])
def test_a_spare_that_is_no_share_is_refused(
    job: str, spare: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["takeoff", job, "--spare", spare]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(f'--spare: found "{spare}"; wanted a share')


def test_csv_holds_no_formula(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, target = written(tmp_path, PRICED), tmp_path / "cuts.csv"
    assert main(["cuts", path, "--csv", str(target)]) == 0
    capsys.readouterr()
    rows = list(csv.reader(io.StringIO(target.read_text(encoding="utf-8"))))
    assert any(row[0] == "'@Front" for row in rows)
    assert all(not cell.startswith(("=", "+", "-", "@", "\t", "\r")) for row in rows for cell in row)


def test_texts_that_a_spreadsheet_would_run_get_an_apostrophe() -> None:
    for text in ("=1+1", "+1", "-1", "@A1", "\t=1", "\r=1"):
        assert safe_text(text) == f"'{text}"
    assert safe_text("12' 6\"") == "12' 6\""
    sheet = SheetTable("S", ("name", "figure"), (("=1+1", -2.5), ('a "b", c', None)))
    assert csv_bytes(sheet) == b'"name","figure"\r\n"\'=1+1",-2.5\r\n"a ""b"", c",\r\n'


@pytest.mark.long
def test_the_order_as_csv(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, lines = run(capsys, "takeoff", job, "--csv", "-")
    assert code == 0
    head, *rows = csv.reader(lines)
    first = dict(zip(head, rows[0], strict=True))
    assert (first["item"], first["quantity"], first["unit"]) == ("panel", "1", "carton")
    assert (first["count"], first["stock length in"], first["minimum possible"]) == (
        "18",
        "150",
        "18",
    )


def test_the_workbook_reads_back_and_holds_no_formula(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pytest.importorskip("xlsxwriter")
    openpyxl = pytest.importorskip("openpyxl")
    path, target = written(tmp_path, PRICED), tmp_path / "order.xlsx"
    assert main(["takeoff", path, "--xlsx", str(target)]) == 0
    capsys.readouterr()
    book = openpyxl.load_workbook(target)
    assert book.sheetnames == ["Order", "Areas", "Siding", "Trim"]
    every = [cell for page in book for line in page.iter_rows() for cell in line if cell.value is not None]
    assert {cell.data_type for cell in every} == {"s", "n"}
    assert book["Areas"]["A2"].value == "'@Front"
    order = {line[0].value: line for line in book["Order"].iter_rows(min_row=2)}
    assert (order["panel"][2].value, order["starter strip"][2].value, order["total"][-1].value) == (
        1,
        3,
        202.5,
    )


def test_a_workbook_is_the_same_bytes_every_run() -> None:
    pytest.importorskip("xlsxwriter")
    sheets = (SheetTable("Order", ("what",), (("a \x07 bell",), ("=1+1",), (1.5,))),)
    assert xlsx_bytes(sheets) == xlsx_bytes(sheets)
    assert b"1980-01-01" in _part(xlsx_bytes(sheets), "docProps/core.xml")


def _part(data: bytes, name: str) -> bytes:
    import zipfile

    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert {info.date_time for info in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        return archive.read(name)


def test_nothing_is_written_when_two_files_are_one(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = str(tmp_path / "order")
    assert main(["takeoff", job, "--csv", target, "--xlsx", target]) == 2
    assert capsys.readouterr().err.startswith("--xlsx: ")
    assert not Path(target).exists()


def test_cuts_by_face_and_by_bar(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The window stands 60 in from the corner, a channel's gap of 1/4 at both ends: 4 ft 11-1/2 in."""
    code, lines = run(capsys, "cuts", job, "--saw")
    assert code == 0
    assert any(line.startswith("Front: ") and line.endswith("in order of installation") for line in lines)
    beside = next(cells(line) for line in lines if "4' 11-1/2\"  square" in line)
    assert "F-5.1" in beside[-1]
    assert any(line.startswith("Saw list: double 4 in panel, 18 pcs, 12' 6\"") for line in lines)
    assert not any("kerf" in line for line in lines if line.startswith("Saw list"))
    assert 'double 4 in panel: 1/4" gap at ends, laps of 1", cut with snips: no kerf.' in lines
    assert "Starter strip: 2 pcs, 12' 6\"" in lines
    start = lines.index("Outside corner post: 2 pcs, 10' 0\"")
    corners = {cells(line)[1] for line in lines[start + 3 : start + 5]}
    assert corners == {f"8' 0-1/2\" Front, {hand} outside corner" for hand in ("left", "right")}
    assert lines[start + 1] == 'A post reaches 3/4" below the siding and ends 1/4" short of its top.'


def test_cuts_say_for_each_piece_what_it_is_cut_from_and_what_is_kept(
    job: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """What one piece leaves to keep is what another is cut from, and lengths add up to 12 ft 6 in."""
    code, lines = run(capsys, "cuts", job)
    assert code == 0 and not any(line.startswith("Saw list") for line in lines)
    start = next(at for at, line in enumerate(lines) if line.startswith("Front: "))
    table = [cells(line) for line in lines[start + 2 :]]
    pieces = [row for row in table if row and row[0].startswith("F-")]
    assert pieces[0][1] == "new length"
    named = {row[1].removeprefix("cutoff of ") for row in pieces if row[1].startswith("cutoff of ")}
    assert named and named <= {row[0] for row in pieces}


@pytest.mark.long
def test_what_the_saw_takes_is_told_with_its_lengths(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Boards lose 1/8 in a cut: common practice, no source."""
    boards = Path(job).with_name("boards.toml")
    boards.write_text(Path(job).read_text(encoding="utf-8").replace("double-4", "fiber-cement-9.25"))
    _, lines = run(capsys, "cuts", str(boards), "--saw")
    (title,) = [line for line in lines if line.startswith("Saw list: ")]
    assert title.endswith('pcs, 12\' 0"; 1/8" kerf')


@pytest.mark.long
def test_every_piece_stands_in_the_csv_with_its_bar(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, lines = run(capsys, "cuts", job, "--csv", "-")
    assert code == 0
    head, *rows = csv.reader(lines)
    found = [dict(zip(head, row, strict=True)) for row in rows]
    siding = [row for row in found if row["material"] == "main"]
    assert [int(row["order"]) for row in siding] == list(range(1, len(siding) + 1))
    assert {int(row["stock no."]) for row in siding} == set(range(1, 19))
    marks = {row["mark"] for row in siding}
    assert {row["same as"] for row in siding} <= marks
    assert {row["material"] for row in found} >= {"starter strip", "channel", "finish trim"}


BARN = """\
[job]
name = "Barn"
[claddings.boards]
profile = "bevel-8"
[claddings.shingles]
profile = "shingle-16"
[limits]
starter = ["0", "0"]
[[elevation]]
name = "Yard"
width = "20'"
eave = "74-3/4"
  [[elevation.zone]]
  cladding = "boards"
  top = "31-1/4"
  trim = "5-1/2"
  [[elevation.zone]]
  cladding = "shingles"
  starter = ["34-3/4", "34-3/4"]
"""


@pytest.mark.long
def test_shingles_by_the_square_with_their_courses(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """From 34-3/4, where the first course hangs over the band board, to 74-3/4: eight courses of 5 in.

    20 ft less two gaps of 1/8 in: 239-3/4 each, the first double: 9 x 239-3/4 x 5 in are 0.75 squares.
    """
    path = written(tmp_path, BARN)
    _, lines = run(capsys, "takeoff", path)
    start = lines.index("Courses of 16 in shingles: 8")
    assert cells(lines[start + 2]) == ["B1", '5"', "19' 11-3/4\"", "double"]
    assert cells(lines[start + 3]) == ["B2 to B8", '5"', "19' 11-3/4\""]
    assert row(lines, "0.75 squares") == [
        "0.75 squares", "16 in shingles",
        "0.75 squares by the width of every course at the standard exposure; 3 bundles, 4 to a square, "
        "rounded up to 0.75",
    ]  # fmt: skip


@pytest.mark.long
def test_what_hangs_already_is_said_to_be_counted(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    hung = (
        FLUSH
        + """
[as_built]
  [[as_built.course]]
  face = "Front"
  course = 3
  left = "15"
  right = "15"
"""
    )
    (tmp_path / "hung.toml").write_text(hung, encoding="utf-8")
    said = [
        any("taken for installed" in line for line in run(capsys, "takeoff", name)[1])
        for name in (job, str(tmp_path / "hung.toml"))
    ]
    assert said == [False, True]


@pytest.mark.long
def test_neither_file_is_written_when_one_cannot_be(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    order, missing = tmp_path / "order.csv", tmp_path / "missing" / "order.xlsx"
    order.write_text("as it was")
    assert main(["takeoff", job, "--csv", str(order), "--xlsx", str(missing)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(f"cannot write {missing}: ")
    assert err.endswith("; nothing written\n")
    assert order.read_text() == "as it was"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["house.toml", "order.csv"]


def test_nothing_goes_to_standard_output_when_the_workbook_cannot_be_written(
    job: str, tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["takeoff", job, "--csv", "-", "--xlsx", str(tmp_path / "missing" / "order.xlsx")]) == 2
    assert capfdbinary.readouterr().out == b""


@pytest.mark.long
def test_two_names_of_one_file_are_refused(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    link = tmp_path / "other.xlsx"
    link.symlink_to(tmp_path / "order.csv")
    assert main(["takeoff", job, "--csv", str(tmp_path / "order.csv"), "--xlsx", str(link)]) == 2
    assert capsys.readouterr().err == f"{link} is named for two outputs; nothing written\n"
    assert not (tmp_path / "order.csv").exists()
