"""The desk as a user starts it, and a browser before it."""

from __future__ import annotations

import contextlib
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.tools import tool

PHONE, LAPTOP = (390, 844), (1440, 900)
# A busy machine is slow to draw: what is waited for comes, or it does not.
expect.set_options(timeout=30_000)


@dataclass(frozen=True)
class Running:
    """A desk that runs: the address that it printed, and its process."""

    address: str
    process: subprocess.Popen[str]

    @property
    def base(self) -> str:
        """The address without its key."""
        return self.address.partition("/?")[0]


@contextlib.contextmanager
def desk(folder: Path, *options: str, before: str = "") -> Iterator[Running]:
    """Start the desk on a folder, as the command does; it is ended with Ctrl-C.

    Args:
        folder: of the job files.
        options: of the command.
        before: a statement that is run first.
    """
    words = ["open", str(folder), "--no-browser", *options]
    program = (
        f"import sys; sys.argv = ['evencourse', *{words!r}]; {before or 'pass'}; "
        "from evencourse.cli.start import run; run()"
    )
    with subprocess.Popen(
        [sys.executable, "-c", program], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    ) as process:
        try:
            assert process.stdout is not None
            line = process.stdout.readline()
            found = re.search(r"http://127\.0\.0\.1:\d+/\?key=\S+", line)
            assert found, line + process.stdout.read()
            yield Running(found[0], process)
        finally:
            process.terminate()
            process.wait(20)


@contextlib.contextmanager
def browser() -> Iterator[Browser]:
    """Chromium."""
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=tool("chromium"))
        yield found
        found.close()


@contextlib.contextmanager
def tab(
    found: Browser, running: Running, size: tuple[int, int], touch: bool
) -> Iterator[tuple[Page, list[str]]]:
    """A tab that has come in, with everything that goes wrong in it."""
    context = found.new_context(
        viewport={"width": size[0], "height": size[1]},
        has_touch=touch,
        is_mobile=touch,
        accept_downloads=True,
    )
    page = context.new_page()
    page.set_default_timeout(40_000)
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda line: wrong.append(line.text) if line.type == "error" else None)
    page.goto(running.address)
    yield page, wrong
    context.close()


def measuring(page: Page, running: Running, job: str, face: int | str) -> None:
    """Open a face of a job, or ``job`` for what holds for all of it, where it is measured; it is planned."""
    page.goto(f"{running.base}/job/{job}/measure?face={face}")
    page.wait_for_selector("body[data-drawn=planned]")
