"""The line that says what is being done."""

from __future__ import annotations

import io
import time

from evencourse.cli.reports.progress import Progress
from evencourse.layout.language.speech import speaking
from tests.lettering import PSEUDO


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def wait_for(stream: io.StringIO, text: str) -> None:
    until = time.monotonic() + 20
    while text not in stream.getvalue() and time.monotonic() < until:
        time.sleep(0.005)


def test_a_long_run_says_what_it_does_and_wipes_the_line() -> None:
    stream = Terminal()
    with Progress(2, stream, patience=0.0, renewal=0.005) as progress:
        progress.step("Front\x1b[2J")
        wait_for(stream, "1 of 2: Front")
        progress.step("Back")
        wait_for(stream, "2 of 2: Back")
    shown = stream.getvalue()
    assert "1 of 2: Front\\u001b[2J" in shown
    assert "2 of 2: Back" in shown
    assert "\x1b" not in shown
    assert shown.endswith(" \r")


def test_a_short_run_says_nothing() -> None:
    stream = Terminal()
    with Progress(1, stream, patience=60.0) as progress:
        progress.step("Front")
    assert stream.getvalue() == ""


def test_a_pipe_hears_nothing() -> None:
    stream = io.StringIO()
    with Progress(1, stream, patience=0.0, renewal=0.005) as progress:
        progress.step("Front")
        time.sleep(0.05)
    assert stream.getvalue() == ""


def test_a_bar_says_how_many_are_done() -> None:
    stream = Terminal()
    with Progress(4, stream, patience=0.0, renewal=0.005, bar=True) as progress:
        wait_for(stream, f"[{'-' * 20}] 0 of 4")
        progress.step("one.toml")
        wait_for(stream, "1 of 4")
        for name in ("two.toml", "three.toml", "four.toml"):
            progress.step(name)
        wait_for(stream, "4 of 4")
    assert f"[{'-' * 20}] 0 of 4" in stream.getvalue()
    assert f"[{'#' * 5}{'-' * 15}] 1 of 4: one.toml" in stream.getvalue()
    assert f"[{'#' * 20}] 4 of 4: four.toml" in stream.getvalue()


def test_the_line_speaks_the_language_of_whoever_waits() -> None:
    stream = Terminal()
    with speaking(PSEUDO), Progress(2, stream, patience=0.0, renewal=0.005) as progress:
        progress.step("Front")
        wait_for(stream, "1 óóf 2: Front")
    assert "1 óóf 2: Front" in stream.getvalue()
