"""Fifty phones on one job for a minute: ``python -m tests.benchmarks.phones [PHONES] [SECONDS]``.

Each phone listens to the desk, ticks courses, takes ticks back, loses its connection now and then and sends
what it kept, out of order and twice. At the end every event that a phone made has to be kept, and every phone
has to see the wall that the events add up to. Printed are the events, how long an answer took, and the memory
of the desk's processes at the beginning, in the middle and at the end.
"""

from __future__ import annotations

import asyncio
import json
import random
import re
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import httpx
import psutil

from evencourse.cli.jobs.installed import Tick, standing
from evencourse.cli.jobs.job_folder import JobFolder
from evencourse.cli.jobs.job_shelf import JobShelf
from tests.cli.desk.running import Running, desk

SAMPLE = Path(__file__).resolve().parents[2] / "samples" / "gabled-house.toml"
JOB = SAMPLE.stem
FACES, COURSES = ("Street", "East gable", "Garden", "West gable"), 28
#: How long a phone waits after something happened, as the page does, and between ticks on average [s].
SOON, BETWEEN = 0.3, 3.0


def client_of() -> httpx.AsyncClient:
    """A browser without a screen."""
    return httpx.AsyncClient(follow_redirects=True, timeout=60, verify=False, trust_env=False)


class Phone:
    """One phone: what it made, what it has sent, what it sees."""

    def __init__(self, number: int, base: str) -> None:
        self.name, self.base, self.seed = f"phone-{number}", base, random.Random(number)
        self.made: list[Tick] = []
        self.unsent: list[Tick] = []
        self.counter = 0
        self.seen: set[tuple[str, str, int]] = set()
        self.times: list[float] = []
        self.waked = asyncio.Event()

    async def live(self, address: str, seconds: float, all_here: asyncio.Barrier) -> None:
        """Come in, listen and tick for some time as soon as all are there, and send the rest."""
        async with httpx.AsyncClient(
            follow_redirects=True, timeout=60, verify=False, trust_env=False
        ) as client:
            page = await client.get(address)
            found = re.search(r'desk-token" content="([^"]+)"', page.text)
            assert found
            self.headers = {"x-desk-token": found[1]}
            listening = asyncio.create_task(self.listen(client))
            asking = asyncio.create_task(self.ask(client))
            await all_here.wait()
            until = time.monotonic() + seconds
            while time.monotonic() < until:
                await asyncio.sleep(self.seed.expovariate(1 / BETWEEN))
                self.tick()
                if self.seed.random() < 0.7:  # else it is behind the house, without a connection
                    await self.send(client)
            await self.send(client)
            for task in (listening, asking):
                task.cancel()

    def tick(self) -> None:
        """Tick a course, or take a tick back."""
        self.counter += 1
        count, seed = self.counter, self.seed
        course, up = seed.randint(1, COURSES), seed.random() < 0.8
        made = Tick(
            f"{self.name}-{count}", seed.choice(FACES), "main", course, up, self.name, count, self.name
        )
        self.made.append(made)
        self.unsent.append(made)

    async def send(self, client: httpx.AsyncClient) -> None:
        """Send what waits, out of order, with some that were sent before."""
        ticks = [*self.unsent, *self.seed.sample(self.made, min(2, len(self.made)))]
        self.seed.shuffle(ticks)
        sent = list(self.unsent)
        await self.answered(client, {"ticks": [vars(one) for one in ticks]})
        self.unsent = [one for one in self.unsent if one not in sent]

    async def answered(self, client: httpx.AsyncClient, content: Any = None) -> None:
        """Ask, and see the wall."""
        begun = time.perf_counter()
        address = f"{self.base}/job/{JOB}/ticks"
        answer = await (
            client.get(address)
            if content is None
            else client.post(address, json=content, headers=self.headers)
        )
        assert answer.status_code == 200, answer.text
        self.times.append(time.perf_counter() - begun)
        told = answer.json()
        self.seen = {(one["face"], one["set"], one["course"]) for one in told["up"]}
        self.counter = max(self.counter, told["counter"])

    async def listen(self, client: httpx.AsyncClient) -> None:
        """Hear what happens."""
        async with client.stream("GET", f"{self.base}/job/{JOB}/live", timeout=None) as stream:
            async for line in stream.aiter_lines():
                if line.startswith("data:") and json.loads(line[5:])["kind"] == "ticks":
                    self.waked.set()

    async def ask(self, client: httpx.AsyncClient) -> None:
        """Look again soon after something happened."""
        while True:
            await self.waked.wait()
            await asyncio.sleep(SOON)
            self.waked.clear()
            await self.answered(client)


def memory(running: Running) -> int:
    """Memory of the desk and its helpers [MB]."""
    process = psutil.Process(running.process.pid)
    return sum(one.memory_info().rss for one in (process, *process.children())) // 1_000_000


async def minute(running: Running, count: int, seconds: float) -> tuple[list[Phone], list[int]]:
    """All phones for that long; the memory at the beginning, in the middle, at the end."""
    phones = [Phone(number, running.base) for number in range(count)]
    all_here = asyncio.Barrier(count + 1)
    working = asyncio.gather(*(phone.live(running.address, seconds, all_here) for phone in phones))
    await all_here.wait()
    held = []
    for part in (0.2, 0.4, 0.4):
        await asyncio.sleep(seconds * part)
        held.append(memory(running))
    await working
    async with client_of() as client:
        await client.get(running.address)
        for phone in phones:
            await phone.answered(client)
    return phones, held


def main(count: int, seconds: float) -> None:
    """Print what was made and kept, and the figures."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name).resolve()
        (folder / SAMPLE.name).write_bytes(SAMPLE.read_bytes())
        with desk(folder) as running:
            phones, held = asyncio.run(minute(running, count, seconds))
            worked = sum(psutil.Process(running.process.pid).cpu_times()[:2])
        made = {tick.id: tick for phone in phones for tick in phone.made}
        kept = {tick.id: tick for tick in JobShelf(JobFolder(folder)).ticks(JOB)}
        wall = {course for course, tick in standing(made.values()).items() if tick.up}
    alike = sum(phone.seen == wall for phone in phones)
    times = [1000 * one for phone in phones for one in phone.times]
    print(
        f"{count} phones, {seconds:g} s: {len(made)} events made, {len(made.keys() - kept.keys())} lost, "
        f"{len(kept.keys() - made.keys())} nobody made; {alike} phones see the wall that they add up to\n"
        f"{len(times)} answers: half within {statistics.median(times):.0f} ms, "
        f"95 % within {statistics.quantiles(times, n=20)[18]:.0f} ms; the desk worked {worked:.1f} s\n"
        f"memory of the desk: {', '.join(f'{one} MB' for one in held)} after a fifth, three fifths, all of it"
    )
    assert made == kept and alike == count


if __name__ == "__main__":
    main(int((sys.argv[1:] or ["50"])[0]), float((sys.argv[2:] or ["60"])[0]))
