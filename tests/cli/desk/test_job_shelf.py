"""Jobs that several change at once: revisions, kills at any moment, two programs on one folder."""

from __future__ import annotations

import random
import sqlite3
import subprocess
import sys
import time
import tomllib
from pathlib import Path
from typing import Any

import pytest

from evencourse.cli.jobs.installed import Tick, standing
from evencourse.cli.jobs.job_edits import Edit
from evencourse.cli.jobs.job_folder import JobFolder, NoSuchJobError
from evencourse.cli.jobs.job_shelf import JobShelf
from evencourse.cli.jobs.revisions import StoreError
from evencourse.layout.model.errors import OutputError

SAMPLES = Path(__file__).resolve().parents[3] / "samples"
JOB = "lap-cottage"
#: Changes the width and ticks a course, over and over, from a count on; says each that is done.
WRITER = """
import sys
from pathlib import Path
from evencourse.cli.jobs.installed import Tick
from evencourse.cli.jobs.job_edits import Edit
from evencourse.cli.jobs.job_folder import JobFolder
from evencourse.cli.jobs.job_shelf import JobShelf
shelf = JobShelf(JobFolder(Path(sys.argv[1])))
name, start, count = sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
for number in range(start, start + count):
    face = 0 if name == "one" else 1
    shelf.change("lap-cottage", shelf.now("lap-cottage").number,
                 [Edit("set", ("elevation", face, "width"), f"{300 + number}")], name, "width")
    tick = Tick(f"{name}-{number:08d}", "Front", "main", number + 1, True, name, number + 1)
    shelf.tick("lap-cottage", [tick])
    print(number, flush=True)
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / f"{JOB}.toml").write_bytes((SAMPLES / f"{JOB}.toml").read_bytes())
    return tmp_path


def shelf_of(folder: Path) -> JobShelf:
    return JobShelf(JobFolder(folder.resolve()))


def writer(folder: Path, name: str, start: int, count: int) -> subprocess.Popen[str]:
    words = [sys.executable, "-c", WRITER, str(folder), name, str(start), str(count)]
    return subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


@pytest.mark.parametrize("kills", [6, pytest.param(100, marks=pytest.mark.long)])
def test_killed_at_any_moment_nothing_is_lost_but_what_was_not_said_to_be_done(
    folder: Path, kills: int
) -> None:
    """Every figure and every tick that was said to be done is there, and the file is whole."""
    seed, last = random.Random(7), -1
    for _ in range(kills):
        with writer(folder, "one", last + 1, 100_000) as process:
            assert process.stdout is not None
            said = [process.stdout.readline()]
            time.sleep(seed.random() * 0.05)
            process.kill()
            said += process.stdout.readlines()
        done = [int(line) for line in said if line.endswith("\n")]
        assert done, process.stderr.read() if process.stderr else ""
        last = done[-1]
        shelf = shelf_of(folder)
        width = int(tomllib.loads((folder / f"{JOB}.toml").read_text())["elevation"][0]["width"])
        assert width in (300 + last, 301 + last)
        assert shelf.now(JOB).text == (folder / f"{JOB}.toml").read_text()
        assert {tick.course for tick in shelf.ticks(JOB)} >= set(range(1, last + 2))
    shelf.change(JOB, shelf.now(JOB).number, [Edit("set", ("job", "author"), "x")], "", "")
    assert not list(folder.glob("*.part")), "what killed runs left behind is cleared away"


def test_two_programs_change_one_job_and_neither_loses_a_figure(folder: Path) -> None:
    with writer(folder, "one", 0, 25) as one, writer(folder, "two", 0, 25) as two:
        for process in (one, two):
            _, errors = process.communicate(timeout=120)
            assert process.returncode == 0, errors
    faces = tomllib.loads((folder / f"{JOB}.toml").read_text())["elevation"]
    assert [face["width"] for face in faces[:2]] == ["324", "324"]
    shelf = shelf_of(folder)
    assert len(shelf.history(JOB)) == 50
    assert len(standing(shelf.ticks(JOB))) == 25
    assert len(shelf.ticks(JOB)) == 50


def test_undo_goes_back_step_by_step_and_redo_forward_and_an_edit_forgets_what_was_undone(
    folder: Path,
) -> None:
    """By hand: a, b, c; undo twice, redo once, then d: undo comes to b, then a."""
    shelf = shelf_of(folder)

    def name() -> str:
        return str(tomllib.loads(shelf.now(JOB).text)["job"]["name"])

    first = name()
    for called in "abc":
        shelf.change(JOB, shelf.now(JOB).number, [Edit("set", ("job", "name"), called)], "Ana", called)
    shelf.step(JOB, True, "")
    shelf.step(JOB, True, "")
    assert name() == "a"
    shelf.step(JOB, False, "")
    assert name() == "b"
    shelf.change(JOB, shelf.now(JOB).number, [Edit("set", ("job", "name"), "d")], "Bo", "d")
    assert shelf.step(JOB, False, "") is None
    seen = []
    while shelf.step(JOB, True, "") is not None:
        seen.append(name())
    assert seen == ["b", "a", first]


def test_a_full_disk_leaves_file_and_revisions_as_they_were(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shelf = shelf_of(folder)
    before = shelf.now(JOB)

    def full(*words: object) -> None:
        raise OutputError("cannot write: no space left on device; nothing written")

    monkeypatch.setattr("evencourse.cli.jobs.job_folder.write_file", full)
    with pytest.raises(OutputError):
        shelf.change(JOB, before.number, [Edit("set", ("job", "name"), "x")], "", "")
    assert shelf.now(JOB) == before
    assert (folder / f"{JOB}.toml").read_text() == before.text


def test_a_full_disk_of_revisions_loses_no_figure_and_hides_no_job(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite's own limit of pages says that the disk is full, and is lifted again."""
    shelf = shelf_of(folder)
    before = shelf.now(JOB)
    edits = [Edit("set", ("job", "datum"), "x" * 400)]
    connect, full = sqlite3.connect, True

    def limited(*words: Any, **more: Any) -> sqlite3.Connection:
        connection = connect(*words, **more)
        if full:
            connection.execute("PRAGMA max_page_count = 1")
        return connection

    monkeypatch.setattr(sqlite3, "connect", limited)
    number = before.number
    with pytest.raises(StoreError, match="full"):
        for count in range(50):  # until the pages that are there are full
            edits = [Edit("set", ("job", "datum"), f"{count:0400}")]
            number = shelf.change(JOB, number, edits, "", "datum").now.number
    seen = shelf.now(JOB)
    assert seen.text == (folder / f"{JOB}.toml").read_text() and seen.text != before.text
    full = False
    # Sent again, it is kept, and what it is made on is known.
    assert shelf.change(JOB, number, edits, "", "datum").now.text == seen.text
    assert shelf.step(JOB, True, "") is not None


@pytest.mark.parametrize(
    "name",
    [
        "",
        ".",
        "..",
        "../out",
        "a/b",
        "a\\b",
        "/etc/passwd",
        ".hidden",
        "a\0b",
        "x" * 81,
        "link",
        "a\n",
        "con/",
    ],
)
def test_no_name_leads_out_of_the_folder(folder: Path, name: str) -> None:
    inside = folder / "inside"
    inside.mkdir()
    (folder / "out.toml").write_text('[job]\nname = "out"\n')
    (inside / "link.toml").symlink_to(folder / "out.toml")
    found = JobFolder(inside)
    with pytest.raises(NoSuchJobError):
        found.read(name)
    with pytest.raises(NoSuchJobError):
        found.write(name, "x")
    assert found.names() == []


def test_ticks_give_the_same_wall_in_whatever_order_they_come() -> None:
    """By hand: of one count the device that sorts last holds; else the greater count."""
    ticks = [
        Tick("a", "F", "main", 1, True, "a", 1), Tick("b", "F", "main", 1, False, "b", 2),
        Tick("c", "F", "main", 1, True, "c", 2), Tick("d", "F", "main", 2, True, "a", 3),
        Tick("e", "F", "main", 2, False, "b", 4),
    ]  # fmt: skip
    for seed in range(20):
        mixed = random.Random(seed).sample([*ticks, *ticks], 10)
        assert {course[2]: tick.up for course, tick in standing(mixed).items()} == {1: True, 2: False}
