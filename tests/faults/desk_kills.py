"""The desk killed over and over while it saves: ``python -m tests.faults.desk_kills [KILLS]``.

A desk of its own process on a folder, as the command starts it, takes figures and ticks over HTTP from
two at once and is killed (SIGKILL, with whatever it is in the midst of) at a random moment, now and then
while it is still starting; its helpers have to end by themselves. Then file and database are looked at
as they lie, and the next desk starts on them. What was answered as saved has to be there: of the figures
that one, or one that was sent after it and not answered any more; the file is whole and reads as a job,
every tick that was answered is kept and none that nobody made, and SQLite's own ``integrity_check``
finds nothing. Printed is what was done and found.
"""

from __future__ import annotations

import contextlib
import random
import re
import sqlite3
import sys
import tempfile
import threading
import time
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import httpx
import psutil

from evencourse.cli.jobs.job_folder import JobFolder
from evencourse.cli.jobs.job_shelf import JobShelf
from evencourse.cli.jobs.revisions import NAME
from evencourse.layout.jobfile.job_file import read_job
from tests.cli.desk.running import Running, desk

SAMPLE = Path(__file__).resolve().parents[2] / "samples" / "lap-cottage.toml"
JOB = SAMPLE.stem
#: Least width that is sent [in], how long at most a desk works before it is killed, and how long its helpers
#: may take to find out [s].
LEAST, LIVES, ENDING = 400, 0.6, 90.0
#: Of so many desks one is killed while it starts.
STARTING = 5


@dataclass
class Sent:
    """What two people sent, and what of it was answered as saved."""

    figures: list[int] = field(default_factory=list)
    ticks: list[str] = field(default_factory=list)
    saved_figures: list[int] = field(default_factory=list)
    saved_ticks: list[str] = field(default_factory=list)
    begun: threading.Event = field(default_factory=threading.Event)


@contextlib.contextmanager
def come_in(running: Running) -> Iterator[httpx.Client]:
    """A browser without a screen that knows the desk's token."""
    with httpx.Client(follow_redirects=True, timeout=60, trust_env=False) as client:
        page = client.get(f"{running.address}&job={JOB}")
        token = re.search(r'desk-token" content="([^"]+)"', page.text)
        number = re.search(r'data-number="(\d+)"', page.text)
        assert token and number, page.text
        client.headers["x-desk-token"] = token[1]
        client.headers["x-number"] = number[1]
        yield client


def figures(running: Running, sent: Sent) -> None:
    """Type one width after the other, until the desk is gone."""
    with contextlib.suppress(httpx.TransportError), come_in(running) as client:
        number = int(client.headers["x-number"])
        while True:
            width = LEAST + len(sent.figures)
            sent.figures.append(width)
            change = {"kind": "set", "path": ["elevation", 0, "width"], "value": str(width)}
            content = {"base": number, "changes": [change], "face": 0, "room": "800x500"}
            answer = client.post(f"{running.base}/job/{JOB}/edit", json=content)
            assert answer.status_code == 200, answer.text
            number = answer.json()["number"]
            sent.saved_figures.append(width)
            sent.begun.set()


def ticks(running: Running, sent: Sent) -> None:
    """Tick one course after the other, until the desk is gone."""
    with contextlib.suppress(httpx.TransportError), come_in(running) as client:
        while True:
            count = len(sent.ticks) + 1
            tick = {
                "id": f"phone-{count:08d}", "face": "Front", "course_set": "main", "course": count % 20 + 1,
                "up": True, "device": "phone", "counter": count, "who": "Bo", "height": None,
            }  # fmt: skip
            sent.ticks.append(f"phone-{count:08d}")
            answer = client.post(f"{running.base}/job/{JOB}/ticks", json={"ticks": [tick]})
            assert answer.status_code == 200, answer.text
            sent.saved_ticks.append(f"phone-{count:08d}")


def killed(folder: Path, sent: Sent, seed: random.Random, starting: bool) -> int:
    """Start a desk, let two work at it, kill it at some moment; returns how many helpers outlived it."""
    sent.begun.clear()
    with desk(folder) as running:
        process = psutil.Process(running.process.pid)
        working = [threading.Thread(target=one, args=(running, sent)) for one in (figures, ticks)]
        for thread in working:
            thread.start()
        if not starting:
            assert sent.begun.wait(60), "nothing was saved"
        time.sleep(seed.random() * LIVES)
        helpers = process.children()
        process.kill()
        for thread in working:
            thread.join()
        return len(psutil.wait_procs(helpers, ENDING)[1])


def wrong(folder: Path, sent: Sent) -> list[str]:
    """What is not as it has to be, of file and database as they lie."""
    job = folder / f"{JOB}.toml"
    text = job.read_text("utf-8")
    read_job(job)
    width = int(tomllib.loads(text)["elevation"][0]["width"])
    shelf = JobShelf(JobFolder(folder))
    with contextlib.closing(sqlite3.connect(folder / NAME)) as connection:
        sound = connection.execute("PRAGMA integrity_check").fetchone()[0]
    kept = [tick.id for tick in shelf.ticks(JOB)]
    last = sent.saved_figures[-1] if sent.saved_figures else None
    checks: dict[str, Callable[[], bool]] = {
        f"the width is {width}, {last} was saved": lambda: last is None or last <= width <= sent.figures[-1],
        "the revision is not the file's": lambda: shelf.now(JOB).text == text,
        f"the database: {sound}": lambda: sound == "ok",
        "a tick is lost": lambda: set(kept) >= set(sent.saved_ticks),
        "a tick that nobody made, or twice": lambda: sorted(set(kept) & set(sent.ticks)) == sorted(kept),
    }
    return [words for words, holds in checks.items() if not holds()]


def main(kills: int) -> None:
    """Kill so many desks, and print what was found."""
    seed, sent, found, outlived = random.Random(5), Sent(), list[str](), 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name).resolve()
        (folder / SAMPLE.name).write_bytes(SAMPLE.read_bytes())
        for number in range(kills):
            outlived += killed(folder, sent, seed, number % STARTING == STARTING - 1)
            found += [f"kill {number + 1}: {words}" for words in wrong(folder, sent)]
        # One that is not killed clears away what those before it left.
        with desk(folder) as running, come_in(running) as client:
            change = {"kind": "set", "path": ["job", "author"], "value": "Bo"}
            content = {"base": int(client.headers["x-number"]), "changes": [change], "face": 0}
            assert client.post(f"{running.base}/job/{JOB}/edit", json=content).status_code == 200
        names = [path.name for path in folder.iterdir() if path.name != SAMPLE.name]
        left = sorted(name for name in names if not name.startswith(NAME))
    print(
        f"{kills} desks killed: {len(sent.saved_figures)} figures saved of {len(sent.figures)} sent, "
        f"{len(sent.saved_ticks)} ticks of {len(sent.ticks)}; {len(found)} faults, "
        f"{outlived} helpers outlived their desk, left over: {', '.join(left) or 'nothing'}"
    )
    for words in found:
        print(words)
    assert not found and not outlived and not left


if __name__ == "__main__":
    main(int((sys.argv[1:] or ["100"])[0]))
