"""Openings from a CSV file: read like those in the job file; every fault with the file's row and column."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from evencourse.cli.main import main
from evencourse.layout.jobfile.job_file import parse_job, read_job
from evencourse.layout.jobfile.keys import COLUMNS
from evencourse.layout.jobfile.openings_sheet import LARGEST
from evencourse.layout.model.errors import JobError
from evencourse.layout.model.job import Opening, Trim
from tests.layout.broken_jobs import TOP, WALL, opening

FACE = TOP + WALL + 'openings = "openings.csv"\n'
ALL = 'openings = "openings.csv"\n' + TOP + WALL + WALL.replace("Front", "Back")
TRIM = "[trim]\nhead = 1\nsill = 2\nside = 3\n"
HEAD = "mark,left,sill,width,height\n"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def openings(rows: str | bytes, job: str = FACE) -> tuple[Opening, ...]:
    data = rows if isinstance(rows, bytes) else rows.encode()
    Path("openings.csv").write_bytes(data)
    return parse_job(job, Path()).elevations[0].openings


def told(rows: str | bytes, job: str = FACE) -> list[str]:
    with pytest.raises(JobError) as refused:
        openings(rows, job)
    return [str(fault) for fault in refused.value.faults]


def test_a_row_is_an_opening_as_if_it_stood_in_the_job_file() -> None:
    rows = (
        "mark,kind,left,right,sill,width,height,head_edge,sill_edge,shape,rise,trim_head,trim_sill,trim_side\n"
        "A,window,\"1' 6\",,2' 1-1/2,36-1/2,48,must,ignore,rectangle,,1-1/4,,½\n"
        "B,door,,24,,36,80,,,arch,6,,,\n"
    )
    inside = parse_job(
        TOP
        + TRIM
        + WALL
        + opening(
            "A",
            'left = "1\' 6"',
            'sill = "2\' 1-1/2"',
            'width = "36-1/2"',
            'head_edge = "must"',
            'sill_edge = "ignore"',
            'trim = { head = "1-1/4", side = "½" }',
        )
        + opening(
            "B", 'kind = "door"', "right = 24", "sill = none", "height = 80", 'shape = "arch"', "rise = 6"
        )
    )
    found = openings(rows, FACE.replace("[[elevation]]", TRIM + "[[elevation]]"))
    assert found == inside.elevations[0].openings
    # by hand: 1' 6" = 18, 2' 1-1/2" = 25.5; the trim that the row leaves out is the job's, 2 below
    assert (found[0].left, found[0].bottom, found[0].trim) == (18, 25.5, Trim(1.25, 2, 0.5))
    assert found[1].left == 240 - 24 - 36


def test_every_key_of_an_opening_is_a_column() -> None:
    assert set(COLUMNS) == {
        *("mark", "kind", "left", "right", "sill", "width", "height", "head_edge", "sill_edge", "shape"),
        *("rise", "trim_head", "trim_sill", "trim_side"),
    }


def test_one_file_for_all_faces_says_the_face_of_each_row() -> None:
    Path("openings.csv").write_text(
        "elevation," + HEAD + "Back,A,1,2,3,4\nFront,A,5,6,7,8\nBack,B,20,2,3,4\n"
    )
    front, back = parse_job(ALL, Path()).elevations
    assert [(one.mark, one.left) for one in front.openings] == [("A", 5)]
    assert [(one.mark, one.left) for one in back.openings] == [("A", 1), ("B", 20)]


def test_openings_of_the_job_file_come_first_and_share_marks_with_those_of_the_csv_file() -> None:
    job = FACE + opening("A")
    assert [one.mark for one in openings(HEAD + "B,80,24,36,48\n", job)] == ["A", "B"]
    assert told(HEAD + "A,80,24,36,48\n", job) == [
        'line 2: openings.csv, elevation "Front", opening "A", mark: found a second "A"; '
        "wanted a mark of its own on this face"
    ]


@pytest.mark.parametrize(
    "data",
    [
        HEAD + "A,36,24,36,48\nB,90,24,36,48\n",
        "\ufeff" + HEAD + "A,36,24,36,48\nB,90,24,36,48\n",
        (HEAD + "A,36,24,36,48\nB,90,24,36,48\n").replace("\n", "\r\n"),
        (HEAD + "A,36,24,36,48\nB,90,24,36,48").replace("\n", "\r"),
        (HEAD + "A,36,24,36,48\nB,90,24,36,48\n").replace(",", ";"),
        (HEAD + "A,36,24,36,48\nB,90,24,36,48\n").replace(",", "\t"),
        ("\ufeff" + HEAD + "A,36,24,36,48\nB,90,24,36,48\n").replace(",", ";").replace("\n", "\r\n"),
        " Mark , LEFT,Sill,width,height\n A , 36 ,24,36,48\n,,,,\n\nB,90,24,36,48\n,,,,,,\n",
        '"mark","left","sill","width","height"\n"A","3\'","2\'","36""","4\'"\n"B",90,24,"3\'","48"\n',
        "height,width,sill,left,mark\n48,36,24,36,A\n48,36,24,90,B\n",
    ],
    ids=["plain", "BOM", "CRLF", "CR", "semicolons", "tabs", "European", "blanks", "quotes", "other order"],
)
def test_what_a_spreadsheet_may_write(data: str) -> None:
    found = openings(data.encode())
    assert [(one.mark, one.left, one.bottom, one.width, one.height) for one in found] == [
        ("A", 36, 24, 36, 48),
        ("B", 90, 24, 36, 48),
    ]


def test_a_mark_of_digits_stays_as_written_and_may_hold_what_stands_between_cells() -> None:
    found = openings(HEAD + '007,36,24,36,48\n"a, ""b""",90,24,36,48\n')
    assert [one.mark for one in found] == ["007", 'a, "b"']


def test_feet_and_inches_with_their_marks_and_no_quotes_round_them() -> None:
    (found,) = openings(HEAD + 'A,3\' 0",2\' 1-1/2",3\' 4",48"\n')
    assert (found.left, found.bottom, found.width, found.height) == (36, 25.5, 40, 48)


def test_a_header_alone_has_no_openings() -> None:
    assert openings(HEAD) == ()


WRONG = {
    "an empty file": ("", []),
    "nothing but blanks": (
        "\n\n",
        [f"line 1: openings.csv: found no header; wanted a header of {', '.join(COLUMNS)}"],
    ),
    "cells of every kind that cannot be read": (
        HEAD.replace("\n", ",shape,trim_head\n") + "A,36,24,36,48,oval,\nB,90,5 6,0,48,,-1\n",
        [
            'line 2: openings.csv, elevation "Front", opening "A", shape: found "oval"; '
            "wanted rectangle, round, half-round, arch or triangle",
            'line 3: openings.csv, elevation "Front", opening "B", sill: found "5 6"; '
            "wanted 5' 6\" for feet and inches, 5-6/16 or the like for a fraction",
            'line 3: openings.csv, elevation "Front", opening "B", width: found "0"; '
            "wanted a length above zero",
            'line 3: openings.csv, elevation "Front", opening "B", trim, head: found "-1"; '
            "wanted a length not below zero",
        ],
    ),
    "a cell left empty": (
        HEAD + ",36,24,36,48\nB,,24,36,48\nC,150,24,,48\n",
        [
            'line 2: openings.csv, elevation "Front", opening 1, mark: found nothing; '
            "wanted the opening's mark",
            'line 3: openings.csv, elevation "Front", opening "B", left: found neither left nor right; '
            "wanted how far it lies from one corner",
            'line 4: openings.csv, elevation "Front", opening "C", width: found nothing; wanted its width',
        ],
    ),
    "an opening outside its wall": (
        HEAD + "\nA,300,24,36,48\n",
        [
            'line 3: openings.csv, elevation "Front", opening "A": found 25\' 0" to 28\' 0" across, '
            '2\' 0" to 6\' 0" high; wanted inside its wall (0" to 20\' 0" across, -1" to 8\' 0" high)'
        ],
    ),
    "unknown and doubled columns": (
        "mark,letf,sill,width,height,mark,colour\nA,36,24,36,48,A,red\n",
        [
            'line 1: openings.csv: found the unknown column "letf"; wanted "left"',
            "line 1: openings.csv, mark: found a second column of that name; wanted each column once",
            f'line 1: openings.csv: found the unknown column "colour"; wanted one of {", ".join(COLUMNS)}',
        ],
    ),
    "more cells than columns": (
        HEAD + "A,36,24,36,48,9\nB,90,24,36,48\nC,1,2,3,4,,,\n",
        ["line 2: openings.csv: found 6 cells; wanted 5, as in the header"],
    ),
    "a quoted cell without its end": (
        HEAD + 'A,36,24,36,48\nB,"90,24,36,48\n',
        [
            "line 3: openings.csv: found unexpected end of data; "
            "wanted a quoted cell that ends, with quotes inside it doubled"
        ],
    ),
    "a quoted cell with something after it": (
        HEAD + 'A,"3\' 4"",24,36,48\nB,"90"x,24,36,48\n',
        [
            "line 2: openings.csv: found ',' expected after '\"'; "
            "wanted a quoted cell that ends, with quotes inside it doubled"
        ],
    ),
    "a cell of two lines": (
        HEAD + '"A\nx",36,24,36,48\nB,90,24,0,48\n',
        [
            'line 2: openings.csv, elevation "Front", opening "A\\x0ax", mark: found "A\\x0ax"; '
            "wanted a text without control characters",
            'line 4: openings.csv, elevation "Front", opening "B", width: found "0"; '
            "wanted a length above zero",
        ],
    ),
    "an inch mark alone in quotes": (
        HEAD + 'A,"3\' 4"",24,36,48\nB,9\' 4",24,36,48\nC,150,24,x,48\n',
        [
            "line 2: openings.csv, left: found a cell that goes on in the next line; "
            "wanted a quoted cell that ends, with quotes inside it doubled",
            'line 4: openings.csv, elevation "Front", opening "C", width: found "x"; '
            "wanted a length such as 36-1/2, 14' 3-1/2\" or 4356 mm",
        ],
    ),
    "a decimal comma": (
        HEAD.replace(",", ";") + "A;36,5;24;36;48\n",
        [
            'line 2: openings.csv, elevation "Front", opening "A", left: found "36,5"; '
            "wanted a point for the decimal and nothing between thousands"
        ],
    ),
    "another encoding": (
        (HEAD + "A,36,24,36½,48\n").encode("latin-1"),
        [
            "line 2: openings.csv: found byte 0xbd; wanted a text file in UTF-8: CSV UTF-8 in a spreadsheet",
        ],
    ),
    "a spreadsheet's own file": (
        b"PK\x03\x04\xff\xff",
        ["line 1: openings.csv: found byte 0xff; wanted a text file in UTF-8: CSV UTF-8 in a spreadsheet"],
    ),
}


@pytest.mark.parametrize("kind", [kind for kind in WRONG if WRONG[kind][1]])
def test_every_fault_is_told_with_its_row_and_column(kind: str) -> None:
    data, expected = WRONG[kind]
    assert told(data) == expected


def test_an_empty_file_holds_no_openings() -> None:
    assert openings(WRONG["an empty file"][0]) == ()


def test_faults_of_a_file_for_all_faces() -> None:
    assert told(
        "elevation," + HEAD + "Frnt,A,1,2,3,4\n,B,1,2,3,4\nSide,C,1,2,3,4\nBack,D,1,2,x,4\n", ALL
    ) == [
        'line 2: openings.csv, elevation: found "Frnt"; wanted "Front"',
        "line 3: openings.csv, elevation: found nothing; wanted one of Back, Front",
        'line 4: openings.csv, elevation: found "Side"; wanted one of Back, Front',
        'line 5: openings.csv, elevation "Back", opening "D", width: found "x"; '
        "wanted a length such as 36-1/2, 14' 3-1/2\" or 4356 mm",
    ]
    assert told(HEAD + "A,1,2,3,4\n", ALL) == [
        "line 1: openings.csv: found no column elevation; wanted the face of each opening"
    ]


def test_faults_stand_where_the_job_file_names_the_csv_file() -> None:
    job = TOP.replace('"Test"', "3") + WALL + 'openings = "openings.csv"\ngrade = "x"\n'
    assert [
        fault.split(":")[0] + fault.split(":")[1].split(",")[0] for fault in told(HEAD + "A,1,2,3,x\n", job)
    ] == [
        "line 2 job",
        "line 2 openings.csv",
        'line 11 elevation "Front"',
    ]


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("missing.csv", '"missing.csv", which is no file there'),
        ("sub", '"sub", which is no file there'),
        ("../outside.csv", '"../outside.csv", outside that folder'),
        ("sub/../../outside.csv", '"sub/../../outside.csv", outside that folder'),
        ("link.csv", '"link.csv", outside that folder'),
        ("/etc/hostname", '"/etc/hostname", outside that folder'),
        ("x" * 190, "file name too long"),
    ],
)
def test_only_a_file_in_the_job_file_s_folder_is_read(name: str, found: str, tmp_path: Path) -> None:
    home = tmp_path / "job"
    (home / "sub").mkdir(parents=True)
    (tmp_path / "outside.csv").write_text(HEAD + "A,36,24,36,48\n")
    (home / "link.csv").symlink_to(tmp_path / "outside.csv")
    (home / "job.toml").write_text(TOP + WALL + f'openings = "{name}"\n')
    with pytest.raises(JobError) as refused:
        read_job(home / "job.toml")
    (fault,) = refused.value.faults
    assert fault.place == 'elevation "Front", openings'
    assert found in fault.found or len(name) > 100
    assert fault.wanted == "the name of a CSV file in the job file's folder"


def test_a_file_in_a_folder_below_is_read(tmp_path: Path) -> None:
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "a.csv").write_text(HEAD + "A,36,24,36,48\n")
    assert len(parse_job(TOP + WALL + 'openings = "sub/a.csv"\n', tmp_path).elevations[0].openings) == 1


def test_a_job_without_a_folder_has_no_csv_file() -> None:
    with pytest.raises(JobError) as refused:
        parse_job(FACE)
    assert [fault.wanted for fault in refused.value.faults] == ["a job read from its file"]


@pytest.mark.parametrize("value", ["3", '""', '"a\\u0000b"', "[]"])
def test_a_name_that_is_none(value: str) -> None:
    (fault,) = told(HEAD, TOP + WALL + f"openings = {value}\n")
    assert fault.startswith('line 10: elevation "Front", openings: found ')


def test_a_file_larger_than_any_list_of_openings_is_not_read(tmp_path: Path) -> None:
    with (tmp_path / "openings.csv").open("wb") as file:
        file.truncate(LARGEST + 1)
    with pytest.raises(JobError) as refused:
        parse_job(FACE, tmp_path)
    assert [fault.found for fault in refused.value.faults] == [f"a file of {LARGEST + 1} bytes"]


def test_a_key_in_another_spelling_of_toml_names_a_file_too() -> None:
    assert len(openings(HEAD + "A,36,24,36,48\n", TOP + WALL + '"\\u006fpenings" = "openings.csv"\n')) == 1


@pytest.mark.long
def test_ten_thousand_rows_are_read_and_every_faulty_one_is_told() -> None:
    sheet = io.StringIO()
    writer = csv.writer(sheet)
    writer.writerow(["mark", "left", "sill", "width", "height"])
    writer.writerows([str(index), 36, 24, 0, 48] for index in range(10_000))
    found = told(sheet.getvalue())
    assert len(found) == 10_000
    assert found[-1].startswith('line 10001: openings.csv, elevation "Front", opening "9999", width: ')


def test_the_commands_read_the_file_beside_the_job(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    home = tmp_path / "elsewhere"
    home.mkdir()
    (home / "job.toml").write_text(FACE)
    (home / "openings.csv").write_text(HEAD + "Window7,36,24,36,48\n")
    assert main(["check", str(home / "job.toml")]) == 0
    assert "Window7" in capsys.readouterr().out
    (home / "openings.csv").write_text(HEAD + "Window7,36,24,36,tall\n")
    assert main(["check", str(home / "job.toml")]) == 2
    assert "line 2: openings.csv" in capsys.readouterr().err
