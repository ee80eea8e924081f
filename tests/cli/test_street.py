"""Many jobs at once: each whole or told as broken, one summary, the same bytes however many hands."""

from __future__ import annotations

import csv
import io
import os
import re
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from evencourse.cli.main import main
from evencourse.cli.street.engines import ClusterError
from evencourse.cli.street.parcel import Parcel
from evencourse.cli.street.several_jobs import over_jobs
from evencourse.cli.street.workers import Done, ended
from tests.cli.jobs import FLUSH, SMALL, TWO_FAULTS

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = "import sys; from evencourse.cli.main import run; run()"


def written(folder: Path, **texts: str) -> list[str]:
    folder.mkdir(exist_ok=True)
    for name, text in texts.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return [str(folder / f"{name}.toml") for name in texts]


def contents(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def rows(text: str) -> list[list[str]]:
    return [line.split() for line in text.splitlines()]


#: Courses from -2: butt lines at 30, 78 and 94. The sill at 31 and the eave at 95 leave 1 in of a course, the
#: head at 79 leaves 7: two slivers and a notch.
SLIVER = SMALL.replace('"-1", "-1"', '"-2", "-2"')


@pytest.fixture
def street(tmp_path: Path) -> list[str]:
    return written(tmp_path / "street", one=SMALL, two=TWO_FAULTS, three=SLIVER, four=SMALL)


@pytest.mark.long
def test_each_job_is_drawn_as_it_is_alone_in_a_folder_named_as_its_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    jobs = written(tmp_path, first=SMALL, second=SMALL.replace("Front", "North"))
    out = tmp_path / "out"
    assert main(["draw", *jobs, "-o", str(out), "--only", "svg,pdf"]) == 0
    said, err = capsys.readouterr()
    assert err == ""
    for name, job in zip(("first", "second"), jobs, strict=True):
        main(["draw", job, "-o", str(tmp_path / name), "--only", "svg,pdf"])
        assert contents(out / name) == contents(tmp_path / name)
    assert sorted(contents(out)) == [
        "first/Linden-Row-lot-4-Details.pdf",
        "first/Linden-Row-lot-4-Details.svg",
        "first/Linden-Row-lot-4-Front.pdf",
        "first/Linden-Row-lot-4-Front.svg",
        "second/Linden-Row-lot-4-Details.pdf",
        "second/Linden-Row-lot-4-Details.svg",
        "second/Linden-Row-lot-4-North.pdf",
        "second/Linden-Row-lot-4-North.svg",
    ]
    assert said.splitlines()[-1] == f"8 files in {out}"


@pytest.mark.long
def test_the_same_bytes_and_words_with_one_process_and_with_two(
    street: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    said = []
    drawn = []
    for number in ("1", "2"):
        assert main(["draw", *street, "-o", str(out), "--jobs", number, "--only", "svg,pdf"]) == 2
        said.append(capsys.readouterr())
        drawn.append(contents(out))
    assert said[0] == said[1]
    assert drawn[0] == drawn[1]
    assert {name.partition("/")[0] for name in drawn[0]} == {"one", "three", "four"}
    assert not list(out.rglob(".evencourse-*"))


@pytest.mark.long
def test_a_broken_job_stops_no_other_and_each_fault_bears_its_file(
    street: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """By hand: a panel of 150 in for each of six whole courses of 120, for two of the six 60 in left of the
    window, and 24 in right of it from what is left of the whole ones: nine."""
    assert main(["draw", *street, "-o", str(tmp_path / "out"), "--only", "svg", "-j", "1"]) == 2
    out, err = capsys.readouterr()
    lines = err.splitlines()
    assert lines[0].startswith(f"{street[1]}: line 6: cladding, profile: found ")
    assert lines[1].startswith(f'{street[1]}: line 14: elevation "Front", base: found "14-3"; wanted ')
    assert lines[2:] == ["1 job is broken; nothing of it written"]
    table = rows(out)
    assert table[0] == ["Job", "sheets", "flush", "notch", "sliver", "stock", "lengths", "waste"]
    assert table[1][:6] == [street[0], "2", "3", "0", "0", "9"]
    assert table[2] == [street[1], "broken:", "2", "faults"]
    assert (table[3][2:5], table[3][-2:]) == (["0", "1", "2"], ["2", "slivers"])
    assert table[5][:6] == ["all", "jobs", "6", "6", "1", "2"]
    assert table[5][-3:] == ["without", "1", "broken"]


@pytest.mark.long
def test_a_sliver_in_one_job_is_the_exit_code_of_all(street: list[str], tmp_path: Path) -> None:
    """0 and 2 are in the tests above."""
    assert main(["draw", street[0], street[2], "-o", str(tmp_path / "out"), "--only", "svg", "-j", "1"]) == 1


@pytest.mark.long
def test_a_file_that_is_not_there_stops_no_other(
    street: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    missing = str(tmp_path / "none.toml")
    assert main(["draw", street[0], missing, "-o", str(tmp_path / "out"), "--only", "svg", "-j", "1"]) == 2
    said, err = capsys.readouterr()
    assert err.splitlines() == [
        f"{missing}: cannot read {missing}: no such file or folder",
        "1 job file cannot be read; nothing of it written",
    ]
    assert rows(said)[2] == [missing, "cannot", "be", "read"]
    assert rows(said)[3][-4:] == ["without", "1", "not", "done"]
    assert len(contents(tmp_path / "out")) == 2


@pytest.mark.long
def test_a_place_that_cannot_be_written_breaks_only_its_job(
    street: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "one").write_text("a file", encoding="utf-8")
    assert main(["draw", street[0], street[3], "-o", str(out), "--only", "svg", "-j", "1"]) == 2
    assert "a file stands where a folder should be" in capsys.readouterr().err
    assert sorted(contents(out)) == [
        "four/Linden-Row-lot-4-Details.svg",
        "four/Linden-Row-lot-4-Front.svg",
        "one",
    ]


@pytest.mark.parametrize("command", ["draw", "sheets"])
def test_two_jobs_of_one_name_are_told_before_anything_is_drawn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    first, second = written(tmp_path / "a", house=SMALL)[0], written(tmp_path / "b", House=SMALL)[0]
    out = tmp_path / "out"
    assert main([command, first, second, "-o", str(out)]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert lines == [
        f'job "{second}": found "House" as the name of what is written, as for "{first}"; '
        "wanted files with different names",
        "1 fault; nothing written",
    ]
    assert not out.exists()


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        (["draw", "{one}", "{one}", "-o", "{out}"], 'found the same file as "{one}"; wanted each job once'),
        (
            ["takeoff", "{one}", "{link}"],
            'job "{link}": found the same file as "{one}"; wanted each job once',
        ),
        (["draw", "{one}", "-", "-o", "{out}"], "found - among several jobs; wanted files, or - alone"),
        (
            ["draw", "{one}", "{four}", "-o", "{out}", "--starter", "-1"],
            "--starter: found 2 jobs; wanted one",
        ),
        (["sheets", "{one}", "{four}", "-o", "-"], "--output: found - for several jobs; wanted a folder"),
        (["takeoff", "{one}", "{four}", "-j", "0"], '--jobs: found "0"; wanted a number of jobs at once'),
        (["draw", "{one}", "{four}", "-o", "{out}", "-j", "two"], '--jobs: found "two"; wanted'),
    ],
)
def test_what_several_jobs_cannot_have(
    street: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str], words: list[str], answer: str
) -> None:
    link = tmp_path / "link.toml"
    link.symlink_to(street[0])
    names = {"one": street[0], "four": street[3], "link": str(link), "out": str(tmp_path / "out")}
    assert main([word.format(**names) for word in words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert answer.format(**names) in err
    assert not (tmp_path / "out").exists()


@pytest.mark.long
def test_sets_of_several_jobs_go_to_one_folder(
    street: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    assert (
        main(["sheets", street[0], street[1], street[3], "-o", str(out), "--paper", "tabloid", "-j", "1"])
        == 2
    )
    table = rows(capsys.readouterr().out)
    main(["sheets", street[0], "-o", str(tmp_path / "alone.pdf"), "--paper", "tabloid"])
    alone = (tmp_path / "alone.pdf").read_bytes()
    assert contents(out) == {"four.pdf": alone, "one.pdf": alone}
    from pypdf import PdfReader

    assert int(table[1][1]) == len(PdfReader(io.BytesIO(alone)).pages)


@pytest.mark.long
def test_the_order_of_a_street(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By hand, after tests/cli/test_material_commands.py: 18 panels and 2 starter strips a house.

    Four houses take 72 panels: 3 cartons of 24, where each for itself takes one, so 4.
    """
    jobs = written(tmp_path, a=FLUSH, b=FLUSH, c=FLUSH, d=FLUSH, broken=TWO_FAULTS)
    file, book = tmp_path / "order.csv", tmp_path / "order.xlsx"
    assert main(["takeoff", *jobs, "--csv", str(file), "--xlsx", str(book)]) == 2
    out, err = capsys.readouterr()
    assert err.splitlines()[-1] == "1 job is broken; nothing of it written"
    lines = out.splitlines()
    assert [line for line in lines if line.endswith(": Linden Row, lot 4")] == [
        f"{job}: Linden Row, lot 4" for job in jobs[:4]
    ]
    assert "All jobs together: 4" in lines
    cells = [cell.strip() for cell in next(line for line in lines if "in 4 jobs" in line).split("  ") if cell]
    assert cells == ["3 cartons", "double 4 in panel, 12' 6\"", "72 in 4 jobs, 24 to a carton: 3", "4"]
    table = list(csv.DictReader(io.StringIO(file.read_bytes().decode())))
    panels, strips = (
        next(row for row in table if row["item"] == item) for item in ("panel", "starter strip")
    )
    assert (panels["quantity"], panels["unit"], panels["job by job"], panels["jobs"]) == (
        "3", "carton", "4", "4",
    )  # fmt: skip
    assert (strips["quantity"], strips["count"]) == ("8", "8")
    assert (table[-1]["item"], table[-1]["what"]) == ("not in the total", jobs[4])
    from openpyxl import load_workbook

    sheets = load_workbook(book)
    assert sheets.sheetnames == ["Order", "Job by job", "Jobs"]
    quantities = [
        row[5].value for row in sheets["Job by job"].iter_rows(min_row=2) if row[3].value == "panel"
    ]
    assert quantities == [1, 1, 1, 1]
    assert [cell.value for cell in sheets["Job by job"][1]][:4] == ["file", "job", "units", "item"]
    assert [cell.value for cell in sheets["Job by job"][1]][11:14] == [
        "stock length", "stock length in its units", "size in its units",
    ]  # fmt: skip
    assert "14-3" in sheets["Jobs"].cell(6, 9).value


@pytest.mark.long
def test_the_order_of_a_street_on_standard_output(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    jobs = written(tmp_path, a=FLUSH, b=FLUSH)
    assert main(["takeoff", *jobs, "--csv", "-", "--spare", "50 %", "-j", "1"]) == 0
    out = capfdbinary.readouterr().out.decode()
    panels = next(row for row in csv.DictReader(io.StringIO(out)) if row["item"] == "panel")
    assert (panels["with extra"], panels["quantity"]) == ("54", "3")


@pytest.mark.long
def test_no_order_is_written_when_every_job_is_broken(tmp_path: Path) -> None:
    jobs = written(tmp_path, a=TWO_FAULTS, b=TWO_FAULTS)
    assert main(["takeoff", *jobs, "--csv", str(tmp_path / "order.csv")]) == 2
    assert not (tmp_path / "order.csv").exists()


@pytest.mark.long
def test_ctrl_c_stops_every_process_and_leaves_whole_jobs(tmp_path: Path) -> None:
    """The terminal tells the program and its processes alike."""
    jobs = written(tmp_path / "jobs", **{f"house-{number}": SMALL for number in range(60)})
    out = tmp_path / "out"

    def listen() -> None:  # whoever runs the tests in the background may have SIGINT ignored
        signal.signal(signal.SIGINT, signal.SIG_DFL)

    words = [sys.executable, "-c", PROGRAM, "draw", *jobs, "-o", str(out), "-j", "2"]
    with subprocess.Popen(
        words,
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
        preexec_fn=listen,  # noqa: PLW1509
    ) as run:
        try:
            # The two in hand may yet be taken back: a job's files are put in place together or not at all.
            while run.poll() is None and len(list(out.glob("*/*.dxf"))) < 3:
                time.sleep(0.005)
            os.killpg(run.pid, signal.SIGINT)
            # Ends only when nobody holds the pipes any more: no process is left.
            said, err = run.communicate(timeout=60)
            assert (run.returncode, said) == (130, b"")
            told = re.fullmatch(
                rb"interrupted: (\d+) of 60 jobs done, (\d+) not; "
                rb"run the same command again with --changed to do the others\n",
                err,
            )
            assert told, err
            assert int(told[1]) + int(told[2]) == 60
        finally:
            run.kill()
    files = contents(out)
    assert not [name for name in files if ".evencourse-" in name]
    assert 0 < len(files) < 5 * len(jobs)
    kinds = Counter(name.partition("/")[0] for name in files)
    assert set(kinds.values()) == {5}
    ends = {".svg": b"</svg>", ".pdf": b"%%EOF", ".dxf": b"EOF"}
    for name, data in files.items():
        assert data.rstrip().endswith(ends[Path(name).suffix])


class GoesAway:
    """An engine that is lost when one job is done."""

    def run(
        self,
        work: Callable[[Parcel], str],
        items: Sequence[Parcel],
        done: Callable[[int, Done[str]], object],
        say: Callable[[str], None],
    ) -> list[object]:
        done(0, Done(work(items[0])))
        raise ClusterError("a worker has another program", begun=True)


def test_how_far_it_came_is_told_when_the_cluster_is_lost(tmp_path: Path) -> None:
    jobs = written(tmp_path, a=SMALL, b=SMALL, c=SMALL)
    with pytest.raises(ClusterError) as error:
        over_jobs(lambda one: one.text, [*jobs, "none.toml"], GoesAway(), lambda index, text: text)
    assert str(error.value) == (
        "a worker has another program: 1 of 4 jobs done, 1 failed, 2 not; run the same command again"
    )


@pytest.mark.parametrize(
    ("words", "place", "why"),
    [
        (["draw", "-o", "{file}/out"], "{file}/out", "a file stands where a folder should be"),
        (["sheets", "-o", "{file}"], "{file}", "a file stands where a folder should be"),
        (["compare", "--svg", "{file}"], "{file}", "a file stands where a folder should be"),
        (["takeoff", "--csv", "{none}/order.csv"], "{none}/order.csv", "no such file or folder"),
        (["takeoff", "--xlsx", "{none}/order.xlsx"], "{none}/order.xlsx", "no such file or folder"),
    ],
)
def test_a_place_that_cannot_be_written_is_told_before_any_work(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: list[str], place: str, why: str
) -> None:
    """Once, and of no job: not even what is wrong with them is found out."""
    jobs = written(tmp_path, a=SMALL, b=TWO_FAULTS)
    names = {"file": tmp_path / "notes", "none": tmp_path / "none"}
    names["file"].write_text("a file", encoding="utf-8")
    assert main([words[0], *jobs, *(word.format(**names) for word in words[1:])]) == 2
    assert capsys.readouterr().err == f"cannot write {place.format(**names)}: {why}; nothing written\n"


@pytest.mark.long
def test_starter_furring_of_a_street_is_counted_in_strips(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """By hand: ten feet of wall take one strip of 1-1/4 in, a kerf of 1/8 apart; a 7-1/4 board gives five."""
    boards = SMALL.partition("  [[elevation.opening]]")[0].replace('"double-4"', '"bevel-8"')
    jobs = written(tmp_path, a=boards, b=boards)
    assert main(["takeoff", *jobs, "-j", "1"]) == 0
    assert "  2 strips in 2 jobs, 5 ripped from a board: 0.4  " in capsys.readouterr().out


class EndsThem:
    """An engine whose processes are ended from outside."""

    def run(
        self,
        work: Callable[[Parcel], str],
        items: Sequence[Parcel],
        done: Callable[[int, Done[str]], object],
        say: Callable[[str], None],
    ) -> list[object]:
        return [done(at, ended(2)) for at in range(len(items))]


def test_ended_processes_are_no_fault_of_the_program(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    jobs = written(tmp_path, a=SMALL, b=SMALL)
    over_jobs(lambda one: one.text, jobs, EndsThem(), lambda index, text: text, lambda index, one: None)
    lines = capsys.readouterr().err.splitlines()
    assert lines[0].startswith(f"{jobs[0]}: its process was ended from outside 2 times; too little memory")
    assert lines[2:] == [
        "2 jobs' processes were ended; nothing of them written",
        "run the same command again with --changed to try what was ended from outside once more",
    ]


#: A wall of 2 ft 6 in is asked back by ``check``; one of 10 ft is not.
NARROW = SMALL.replace('width = "10\'"', 'width = "2\' 6"').partition("  [[elevation.opening]]")[0]


@pytest.mark.parametrize(
    "command", [["sheets", "-o", "out"], ["draw", "-o", "out", "--only", "svg"], ["takeoff"]]
)
def test_unlikely_figures_of_a_street_are_told_with_the_command_that_lists_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, command: list[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    written(tmp_path, plain=SMALL, narrow=NARROW)
    name, *options = command
    main([name, "plain.toml", "narrow.toml", *options])
    said = capsys.readouterr().out
    assert "1 unlikely figure" in said
    assert "evencourse check narrow.toml" in said
    assert "plain.toml" not in said.partition("evencourse check")[2]


def test_several_jobs_are_checked_at_once(street: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    """Each under its file's name; the faults of one stop no other."""
    assert main(["check", *street]) == 2
    said = capsys.readouterr()
    assert [line for line in said.out.splitlines() if line in street] == street
    assert said.out.count("no faults") == 3
    assert said.err.count(f"{street[1]}: ") == 2
    assert main(["check", street[0], street[0]]) == 2


@pytest.mark.parametrize("command", ["sheets", "draw"])
def test_what_stands_of_a_job_that_is_broken_now_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    """Whoever prints all that is in the folder would print the old lot."""
    jobs, out = written(tmp_path, first=SMALL, second=SMALL), tmp_path / "out"
    assert main([command, *jobs, "-o", str(out)]) == 0
    capsys.readouterr()
    written(tmp_path, second=TWO_FAULTS)
    assert main([command, *jobs, "-o", str(out)]) == 2
    said = capsys.readouterr().out
    place = out / ("second.pdf" if command == "sheets" else "second")
    assert f"{place}: of an earlier run, not of this job as it is now" in said
    assert place.exists() and said.count("earlier run") == 1


def test_a_job_that_failed_is_named_when_the_run_ends_early(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    class Lost:
        def run(self, work, items, done, say=print):  # type: ignore[no-untyped-def]
            done(0, Done(None, ("the base is above the eave",)))
            raise ClusterError("the scheduler went away", begun=True)

    jobs = written(tmp_path, first=SMALL, second=SMALL)
    with pytest.raises(ClusterError, match="0 of 2 jobs done, 1 failed, 1 not"):
        over_jobs(len, jobs, Lost(), lambda index, value: value)  # type: ignore[arg-type]
    assert f"{jobs[0]}: the base is above the eave" in capsys.readouterr().err
