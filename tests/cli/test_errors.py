"""What the program says, and how it ends, when something is wrong: no trace, nothing half-done."""

from __future__ import annotations

import contextlib
import errno
import io
import os
import signal
import subprocess
import sys
from collections.abc import Callable
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


def said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(words)
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return code, out, err


def test_every_fault_is_told_a_line_each(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "house.toml"
    path.write_text(TWO_FAULTS, encoding="utf-8")
    code, out, err = said(capsys, "draw", str(path), "-o", str(tmp_path / "out"))
    lines = err.splitlines()
    assert (code, out) == (2, "")
    assert len(lines) == 3
    assert lines[0].startswith("line 6: cladding, profile: found ")
    assert "wanted" in lines[0]
    assert lines[1].startswith('line 14: elevation "Front", base: found "14-3"; wanted ')
    assert lines[2] == "2 faults; nothing written"
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("make", "answer"),
    [
        (lambda path: None, "no such file or folder"),
        (lambda path: path.mkdir(), "it is a folder"),
        (lambda path: path.symlink_to(path), "links that lead in a circle"),
        (
            lambda path: path.write_bytes(b"a = 1\n# \xe9"),
            "line 2: {path}: found byte 0xe9; wanted a text file in UTF-8",
        ),
        (lambda path: path.write_bytes("[job]".encode("utf-16")), "wanted a text file in UTF-8"),
        (lambda path: path.write_bytes(b"\0" * 100), "line 1"),
        (lambda path: path.write_bytes(b""), "elevation"),
        (lambda path: path.write_bytes(b"[job\n"), "line 1"),
        (lambda path: path.symlink_to("/dev/zero"), "characters are no job file"),
    ],
)
@pytest.mark.parametrize("command", ["check", "plan"])
def test_a_job_that_cannot_be_read(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    make: Callable[[Path], object],
    answer: str,
    command: str,
) -> None:
    path = tmp_path / "house.toml"
    make(path)
    code, out, err = said(capsys, command, str(path))
    assert (code, out) == (2, "")
    assert answer.format(path=path) in err


def test_no_permission_to_read(
    job: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(self: Path, mode: str) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(self))

    monkeypatch.setattr(Path, "open", refuse)
    assert said(capsys, "check", job) == (2, "", f"cannot read {job}: no permission\n")


def test_a_name_with_a_nul(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = said(capsys, "check", "a\0b")
    assert code == 2
    assert "cannot read a\\u0000b" in err


def test_a_file_name_that_is_no_text() -> None:
    ended = subprocess.run([*PROGRAM, "check", b"caf\xe9.toml"], capture_output=True, check=False)
    assert ended.returncode == 2
    assert ended.stderr == b"cannot read caf\\udce9.toml: no such file or folder\n"


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        (["plan"], "JOB"),
        (["plot"], "plot"),
        (["plan", "{job}", "--jsn", "-"], "--jsn"),
        (["plan", "{job}", "--json"], "--json"),
        (["draw", "{job}"], "--output"),
        (["plan", "{job}", "--starter", "14-3"], '--starter "14-3"'),
        (["plan", "{job}", "--starter", "rear=1"], 'found course set "rear"; wanted "main"'),
        (["plan", "{job}", "--starter", "1", "--starter", "2"], "a second starter"),
        (["draw", "{job}", "-o", "{out}", "--only", "svg,gif"], '--only: found "gif"; wanted'),
        (["draw", "{job}", "-o", "{out}", "--only", ""], "--only: found nothing; wanted"),
        (
            ["draw", "{job}", "-o", "{out}", "--paper", "foolscap"],
            '--paper: found "foolscap"; wanted letter or',
        ),
        (["draw", "{job}", "-o", "{out}", "--date", "1 May"], '--date: found "1 May"; wanted'),
        (["draw", "{job}", "-o", "{out}", "--date", "2024-02-30"], "--date"),
        (["claddings", "double-44"], 'found "double-44"; wanted'),
    ],
)
def test_words_that_cannot_be_read(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], words: list[str], answer: str
) -> None:
    out_folder = tmp_path / "out"
    code, out, err = said(capsys, *(word.format(job=job, out=out_folder) for word in words))
    assert (code, out) == (2, "")
    assert answer in err
    assert not out_folder.exists()


def test_all_options_of_draw_are_read_before_it_complains(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, _, err = said(
        capsys, "draw", job, "-o", str(tmp_path / "out"), "--only", "gif", "--paper", "x", "--date", "y"
    )
    assert code == 2
    assert err.splitlines()[-1] == "3 faults; nothing written"


def test_the_output_folder_is_a_file(job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    taken = tmp_path / "sheets"
    taken.write_bytes(b"mine")
    code, out, err = said(capsys, "draw", job, "-o", str(taken), "--only", "svg")
    assert (code, out) == (2, "")
    assert err == f"cannot write {taken}: a file stands where a folder should be; nothing written\n"


@pytest.mark.long
def test_a_full_disk_behind_standard_output(job: str) -> None:
    if not Path("/dev/full").exists():
        pytest.skip("no /dev/full here")
    for words in (["check", job], ["plan", job, "--json", "-"]):
        with Path("/dev/full").open("wb") as full:
            ended = subprocess.run([*PROGRAM, *words], stdout=full, stderr=subprocess.PIPE, check=False)
        assert ended.returncode == 2
        assert ended.stderr.decode().strip().endswith("standard output: the disk is full")
        assert len(ended.stderr.splitlines()) == 1


def test_nobody_reads_the_output(job: str) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    ended = subprocess.run([*PROGRAM, "plan", job], stdout=writing, stderr=subprocess.PIPE, check=False)
    os.close(writing)
    assert (ended.returncode, ended.stderr) == (141, b"")


def test_no_standard_output_at_all(job: str) -> None:
    ended = subprocess.run(["/bin/sh", "-c", 'exec "$@" >&- 2>&-', "sh", *PROGRAM, "check", job], check=False)
    assert ended.returncode == 0


def test_the_user_interrupts(
    job: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(source: str) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("evencourse.cli.commands.check.read", interrupted)
    assert said(capsys, "check", job) == (130, "", "interrupted\n")


@pytest.mark.long
def test_interrupted_while_it_waits_for_the_job(tmp_path: Path) -> None:
    pipe = tmp_path / "job"
    os.mkfifo(pipe)

    def listen() -> None:  # whoever runs the tests in the background may have SIGINT ignored
        signal.signal(signal.SIGINT, signal.SIG_DFL)

    words = [*PROGRAM, "check", str(pipe)]
    with subprocess.Popen(words, stderr=subprocess.PIPE, preexec_fn=listen) as run:  # noqa: PLW1509
        try:
            assert run.stderr
            end = None
            while end is None and run.poll() is None:
                with contextlib.suppress(OSError):  # opens once the program has opened its end
                    end = os.open(pipe, os.O_WRONLY | os.O_NONBLOCK)
            assert end is not None
            for _ in range(20):  # an interruption that falls into a finaliser is lost, as it is to a user
                run.send_signal(signal.SIGINT)
                with contextlib.suppress(subprocess.TimeoutExpired):
                    run.wait(2)
                    break
            os.close(end)
            assert run.returncode == 130
            assert run.stderr.read().endswith(b"interrupted\n")
        finally:
            run.kill()


def test_a_fault_in_the_program_is_told_in_two_lines(
    job: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(source: str) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("evencourse.cli.commands.check.read", broken)
    code, out, err = said(capsys, "check", job)
    assert (code, out) == (70, "")
    assert err.splitlines()[0] == "a fault in the program itself: ZeroDivisionError: division by zero"
    monkeypatch.setenv("EVENCOURSE_TRACE", "1")
    with pytest.raises(ZeroDivisionError):
        main(["check", job])


def test_the_job_on_standard_input(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(SMALL.encode())))
    code, out, err = said(capsys, "check", "-")
    assert (code, err) == (0, "")
    assert out.startswith("Linden Row, lot 4: 1 face, no faults\n")


def test_a_mark_of_byte_order_is_no_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "house.toml"
    path.write_bytes(b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode())
    assert said(capsys, "check", str(path))[0] == 0


@pytest.mark.parametrize(
    ("begins", "kind"),
    [
        (b"%PDF-1.7\n", "a PDF"),
        (b"PK\x03\x04", "a workbook or a packed folder"),
        (b"  0\nSECTION\n  2\nHEADER\n", "a DXF drawing, of which import makes a job file"),
        (b"999\nmade by hand\n0\nSECTION\n", "a DXF drawing, of which import makes a job file"),
        (b"AutoCAD Binary DXF\r\n\x1a\0", "a DXF drawing, of which import makes a job file"),
        (b"AC1032\0\0", "a DWG drawing"),
        (b"<!doctype html>\n<title>x</title>\n", "a page or a picture"),
        (b"\xef\xbb\xbf<?xml version='1.0'?>", "a page or a picture"),
        (b'{\n  "format": "evencourse-plan"\n}', "a JSON file, as --json writes one"),
    ],
)
def test_what_lies_beside_a_job_is_called_by_its_name(
    begins: bytes, kind: str, job: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """One line, and not a fault for each of its lines."""
    Path(job).write_bytes(begins + b"x y\n" * 99)
    assert said(capsys, "check", job) == (2, "", f"cannot read {job}: found {kind}; wanted a job file\n")


@pytest.mark.parametrize("begins", ["\ufeff", "\n\n", "# <a> {b} %PDF\n", "\t"])
def test_a_job_file_may_begin_with_space_and_remarks(begins: str, job: str) -> None:
    Path(job).write_text(begins + SMALL, encoding="utf-8")
    assert main(["check", job]) == 0
