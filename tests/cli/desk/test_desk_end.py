"""The desk ends when it is told to, without a word, whoever looks at a job meanwhile."""

from __future__ import annotations

import asyncio
import http.cookiejar
import shutil
import signal
import urllib.request
from pathlib import Path

import pytest

from evencourse.cli.desk.helper_processes import Helper, HelperError
from evencourse.cli.desk.live import Live
from tests.cli.desk.client import SAMPLES
from tests.cli.desk.running import desk

JOB = "lap-cottage"


def test_who_watches_is_told_that_nothing_more_comes() -> None:
    """Three events at most: the first, one that happened, and then the end, at once and for good."""

    async def watched() -> list[list[str]]:
        live = Live()

        async def hello() -> dict[str, object]:
            return {"kind": "hello"}

        told: list[list[str]] = [[], []]
        async for event in live.events(JOB, hello):
            told[0].append(event)
            if len(told[0]) == 1:
                live.tell(JOB, {"kind": "ticks"})
            else:
                live.end()
        async for event in live.events(JOB, hello):
            told[1].append(event)
        return told

    told = asyncio.run(asyncio.wait_for(watched(), 5))
    assert told == [['data: {"kind": "hello"}\n\n', 'data: {"kind": "ticks"}\n\n'], []]


def test_a_helper_that_has_ended_starts_no_process() -> None:
    helper = Helper("evencourse.cli.views.plan_tasks", 5.0)
    helper.end()
    with pytest.raises(HelperError, match="closed"):
        asyncio.run(helper.ask("choices", "", "."))


@pytest.mark.long
@pytest.mark.parametrize(("sign", "last"), [(signal.SIGTERM, ""), (signal.SIGINT, "interrupted\n")])
def test_a_desk_ends_without_a_word_while_a_page_is_open(
    tmp_path: Path, sign: signal.Signals, last: str
) -> None:
    shutil.copy(SAMPLES / f"{JOB}.toml", tmp_path)
    with desk(tmp_path) as running:
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        browser = urllib.request.build_opener(jar)
        browser.open(running.address).read()
        with browser.open(f"{running.base}/job/{JOB}/live") as live:
            assert b"hello" in live.readline()
            running.process.send_signal(sign)
            live.read()
        assert running.process.stdout is not None
        said = running.process.stdout.read()
    assert said == f"Ctrl-C ends it; every figure is saved as it is typed.\n{last}"
