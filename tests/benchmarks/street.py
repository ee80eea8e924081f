"""Many houses at once: ``python -m tests.benchmarks.street [COUNT]``.

Random houses written as job files and drawn by one process, by two, by a Dask LocalCluster of two workers, by
a scheduler with two workers started as processes of their own: wall time, the same bytes, memory. The same
again while workers are killed at random moments. Then growth: work of the measured length that only waits, on
64 threads, to see what the one who asks needs itself.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import random
import resource
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import psutil
from distributed import LocalCluster

from evencourse.cli.commands.draw import USUAL
from evencourse.cli.street.drawn_jobs import DrawOptions, draw_one
from evencourse.cli.street.engines import Cluster, Engine, ThisMachine
from evencourse.cli.street.finished import Finished, put
from evencourse.cli.street.parcel import Parcel, parcel
from evencourse.cli.street.workers import Done
from evencourse.layout.jobfile.job_text import job_text
from tests.houses import random_house

HOUSES, WAITING = 300, 64
_MIB = 1 << 20


@dataclass(frozen=True)
class Drawn:
    """One house drawn, and what its process is like afterwards.

    Attributes:
        done: its files.
        process: that drew it.
        peak: the most memory that the process had until then [bytes].
        took: processor time [s].
    """

    done: Finished
    process: int
    peak: int
    took: float


def draw_measured(wanted: DrawOptions, one: Parcel) -> Drawn:
    """Draw a house, and look at the process that did."""
    start = time.thread_time()
    done = draw_one(wanted, one)
    return Drawn(done, os.getpid(), _peak(), time.thread_time() - start)


def wait_for(length: float, data: bytes, one: int) -> bytes:
    """Only wait as long as a house takes, and give back as much."""
    time.sleep(length)
    return data


def street(count: int = HOUSES) -> None:
    """Time, bytes and memory with every engine; then the growth of the cheapest."""
    print(f"\nA street of {count} random houses drawn as {', '.join(USUAL)}")
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        jobs = []
        for seed in range(count):
            path = folder / f"house-{seed}.toml"
            path.write_text(job_text(random_house(seed)), encoding="utf-8")
            jobs.append(parcel(str(path)))
        first: tuple[float, str] | None = None
        for name, begin in (
            ("one process", lambda: contextlib.nullcontext(ThisMachine(1))),
            ("two processes", lambda: contextlib.nullcontext(ThisMachine(2))),
            ("LocalCluster of two", _local_cluster),
            ("scheduler and two workers", lambda: _own_scheduler(2, 1)),
        ):
            with begin() as engine:
                out = folder / name
                start, own = time.perf_counter(), time.process_time()
                drawn = _draw(jobs, out, engine)
                taken, own = time.perf_counter() - start, time.process_time() - own
            mean, size = sum(one.took for one in drawn) / len(drawn), _size(out)
            data = _bytes(out)
            first = first or (taken, data)
            same = "the same bytes" if data == first[1] else "OTHER BYTES"
            workers = max(one.peak for one in drawn) / _MIB
            print(
                f"  {name:26} {taken:6.1f} s, {taken / first[0]:.2f} of one process; {same}; a house "
                f"{1e3 * mean:.0f} ms of a worker, {1e3 * own / count:.1f} ms here; workers up to "
                f"{workers:.0f} MiB, here {_peak() / _MIB:.0f} MiB",
                flush=True,
            )
        killed(jobs, folder / "killed", data, mean)
    growth(mean, size // count)


def killed(jobs: list[Parcel], out: Path, data: str, length: float) -> None:
    """Draw while a worker is killed now and then: every house is there, whole.

    Args:
        jobs: to be drawn.
        out: folder for them.
        data: what their bytes are.
        length: how long a house takes [s].
    """
    luck, over, kills = random.Random(7), threading.Event(), 0
    with _own_scheduler(2, 1, kept_alive=True) as engine:

        def kill() -> None:
            nonlocal kills
            while not over.wait(luck.uniform(2, 10) * max(1.0, length)):
                workers = [
                    one
                    for child in psutil.Process().children()
                    if "distributed.cli.dask_worker" in child.cmdline()
                    for one in child.children()
                    if "spawn_main" in " ".join(one.cmdline())
                ]
                if workers:
                    luck.choice(workers).kill()
                    kills += 1

        thread = threading.Thread(target=kill)
        thread.start()
        try:
            _draw(jobs, out, engine)
        finally:
            over.set()
            thread.join()
    print(f"  {kills} workers killed meanwhile: {'the same bytes' if _bytes(out) == data else 'OTHER BYTES'}")


def growth(length: float, size: int) -> None:
    """What the one who asks needs for each house when many workers are at it.

    Args:
        length: how long a house takes a worker [s].
        size: what comes back [bytes].
    """
    work = partial(wait_for, length, bytes(size))
    for threads in (8, WAITING):
        count = 20 * threads
        with _own_scheduler(1, threads) as engine:
            start, own = time.perf_counter(), time.process_time()
            engine.run(work, range(count), lambda index, one: None)
            taken, own = time.perf_counter() - start, time.process_time() - own
        print(
            f"  {count} waits of {1e3 * length:.0f} ms, {size // 1024} KiB each, on {threads} threads: "
            f"{taken:.1f} s, {count * length / threads / taken:.2f} of what they could do; here "
            f"{1e3 * own / count:.2f} ms a house, {100 * own / count / length:.2f} % of a worker's time",
            flush=True,
        )


@contextlib.contextmanager
def _local_cluster() -> Iterator[Engine]:
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50) as cluster:
        yield Cluster(cluster.scheduler_address)


@contextlib.contextmanager
def _own_scheduler(workers: int, threads: int, kept_alive: bool = False) -> Iterator[Engine]:
    """A scheduler and workers in processes of their own; workers that die come again where they are kept."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    address = f"tcp://127.0.0.1:{port}"

    def start(*words: str) -> subprocess.Popen[bytes]:
        program = [sys.executable, "-m", *words, "--no-dashboard"]
        return subprocess.Popen(program, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    running = [start("distributed.cli.dask_scheduler", "--host", "127.0.0.1", "--port", str(port))]
    try:
        for _ in range(workers):
            nanny = "--nanny" if kept_alive else "--no-nanny"
            running.append(start("distributed.cli.dask_worker", address, "--nthreads", str(threads), nanny))
        time.sleep(8)  # until all of them are there
        yield Cluster(address)
    finally:
        for one in running:
            one.terminate()
            one.wait()


def _draw(jobs: list[Parcel], out: Path, engine: Engine) -> list[Drawn]:
    """What was measured of each house."""
    wanted = DrawOptions(USUAL, None, None, "", False, "R2010", 150)

    def done(index: int, one: Done[Drawn]) -> Drawn:
        assert one.value is not None, one.faults
        put(out / Path(jobs[index].source).stem, one.value.done)
        empty = Finished((), one.value.done.summary)
        return Drawn(empty, one.value.process, one.value.peak, one.value.took)

    return engine.run(partial(draw_measured, wanted), jobs, done)


def _peak() -> int:
    scale = 1 if sys.platform == "darwin" else 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * scale


def _size(folder: Path) -> int:
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())


def _bytes(folder: Path) -> str:
    digest = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            digest.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


if __name__ == "__main__":
    street(*(int(word) for word in sys.argv[1:]))
