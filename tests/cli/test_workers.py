"""Work done by several processes: order, faults, death, interruption."""

from __future__ import annotations

import multiprocessing
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import pytest

from evencourse.cli.street.workers import Done, in_workers
from tests.cli.work import dies_once, double, stubborn, troubled, unsendable

Value = TypeVar("Value")
ROOT = Path(__file__).resolve().parents[2]


def quiet(index: int, one: Done[Value]) -> Done[Value]:
    return one


def waited_for(true: Callable[[], bool]) -> bool:
    until = time.monotonic() + 60
    while not true() and time.monotonic() < until:
        time.sleep(0.01)
    return true()


def alive(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    try:  # ended, but nobody has asked yet how
        status = Path(f"/proc/{process}/stat").read_text(encoding="ascii")
    except FileNotFoundError:
        return not Path("/proc").exists()
    return status.rpartition(")")[2].split()[0] != "Z"


@pytest.mark.parametrize("workers", [1, 3])
def test_answers_stand_in_the_order_of_the_items(workers: int) -> None:
    told: list[int] = []

    def kept(index: int, one: Done[int]) -> int | None:
        told.append(index)
        return one.value

    assert in_workers(double, range(6), workers, kept) == [0, 2, 4, 6, 8, 10]
    assert sorted(told) == [0, 1, 2, 3, 4, 5]
    assert multiprocessing.active_children() == []


def test_nothing_to_do() -> None:
    assert in_workers(double, [], 2, quiet) == []


def test_every_trouble_is_told_as_a_fault_of_its_item() -> None:
    words = ["a", "faults", "dies", "b", "said", "slip", "leaves", "c"]
    found = in_workers(troubled, words, 2, quiet)
    assert [one.value for one in found] == ["A", None, None, "B", None, None, None, "C"]
    assert [one.broken for one in found] == [False, True, True, False, True, True, True, False]
    assert found[1].faults == (
        "base: found 14-3; wanted a length",
        "line 7: eave: found up; wanted a length",
    )
    assert [one.failing for one in found if one.broken] == ["broken", "ended", "broken", "broken", "ended"]
    assert found[2].faults == found[6].faults
    assert found[2].faults[0].startswith("its process was ended from outside 2 times; too little memory is")
    assert found[4].faults == ("no such paper",)
    assert found[5].faults[0] == "a fault in the program itself: ZeroDivisionError: division by zero"


def test_a_job_whose_process_was_ended_is_tried_once_more(tmp_path: Path) -> None:
    items = [str(tmp_path / str(number)) for number in range(8)]
    found = in_workers(dies_once, items, 2, quiet)
    assert [one.value for one in found] == items
    assert any(Path(f"{item}.died").exists() for item in items)


def test_the_place_of_a_slip_is_shown_on_request(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("EVENCOURSE_TRACE", "1")
    (found,) = in_workers(troubled, ["slip"], 1, quiet)
    assert any("work.py" in line for line in found.faults)


def test_an_answer_that_cannot_be_sent() -> None:
    found = in_workers(unsendable, ["function", "word"], 1, quiet)
    assert found[0].broken
    assert "pickle" in found[0].faults[0]
    assert found[1].value == "word"


def test_an_interruption_ends_processes_that_are_deaf_to_it() -> None:
    def interrupt(index: int, one: Done[str]) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        in_workers(stubborn, ["quick", "deaf", "deaf"], 2, interrupt)
    assert multiprocessing.active_children() == []


@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGTERM])
def test_no_process_is_left_alone(tmp_path: Path, number: int) -> None:
    """When the program dies, its processes end by themselves."""
    places = [str(tmp_path / name) for name in ("one", "two")]
    lines = (
        "from evencourse.cli.street.workers import in_workers",
        "from tests.cli.work import slow",
        "from evencourse.cli.main import _stop",
        "import signal",
        "signal.signal(signal.SIGTERM, _stop)",
        f"in_workers(slow, {places!r}, 2, print)",
    )
    with subprocess.Popen([sys.executable, "-c", "\n".join(lines)], cwd=ROOT) as run:
        assert waited_for(lambda: all(Path(place).exists() and Path(place).read_text() for place in places))
        processes = [int(Path(place).read_text()) for place in places]
        assert all(alive(process) for process in processes)
        run.send_signal(number)
        assert waited_for(lambda: not any(alive(process) for process in processes))
        assert run.wait(60) != 0


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_the_word_to_stop_while_a_process_is_started_prints_nothing(tmp_path: Path, number: int) -> None:
    """The process is there, what it shall do is not sent yet: half started, it would tell what it lacks."""
    lines = (
        "import multiprocessing.util as util, os, signal, sys",
        "from evencourse.cli.main import _stop",
        "from evencourse.cli.street.workers import in_workers",
        "from tests.cli.work import slow",
        "signal.signal(signal.SIGINT, signal.default_int_handler)",  # a background job ignores it
        "signal.signal(signal.SIGTERM, _stop)",
        "start = util.spawnv_passfds",
        "def started(program, words, handed):",
        "    process = start(program, words, handed)",
        f"    if any('spawn_main' in str(word) for word in words): os.kill(os.getpid(), {int(number)})",
        "    return process",
        "util.spawnv_passfds = started",
        "try:",
        f"    in_workers(slow, [{str(tmp_path / 'one')!r}], 2, print)",
        "except KeyboardInterrupt:",
        "    sys.exit(128 + signal.SIGINT)",
    )
    run = subprocess.run(
        [sys.executable, "-c", "\n".join(lines)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert (run.returncode, run.stdout, run.stderr) == (128 + number, "", "")
