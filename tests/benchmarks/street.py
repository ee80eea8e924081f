"""Many houses at once: ``python -m tests.benchmarks.street [COUNT]``.

Random houses written as job files and drawn by one process and by two: wall time, cores busy, the same bytes,
and what the memory of a process does on the way.
"""

from __future__ import annotations

import hashlib
import os
import resource
import sys
import tempfile
import time
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from evencourse.cli.commands.draw import FORMATS, DrawOptions, draw_one
from evencourse.cli.street.workers import Done, in_workers
from evencourse.layout.jobfile.job_text import job_text
from tests.houses import random_house

HOUSES, FIRST = 200, 20
_MIB = 1 << 20


@dataclass(frozen=True)
class Drawn:
    """One house drawn.

    Attributes:
        process: that drew it.
        files: how many.
        now: memory of the process when it was drawn [bytes].
        peak: the most that it had until then [bytes].
    """

    process: int
    files: int
    now: int
    peak: int


def draw_measured(wanted: DrawOptions, task: tuple[str, Path]) -> Drawn:
    """Draw a house, and ask for the memory of the process that did."""
    done = draw_one(wanted, task)
    scale = 1 if sys.platform == "darwin" else 1024
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * scale
    status = Path("/proc/self/statm")
    now = int(status.read_text().split()[1]) * resource.getpagesize() if status.exists() else peak
    return Drawn(os.getpid(), done.files, now, peak)


def street(count: int = HOUSES) -> None:
    """Time, bytes and memory with one process and with two."""
    print(f"\nA street of {count} random houses drawn as {', '.join(FORMATS)}")
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        jobs = []
        for seed in range(count):
            jobs.append(folder / f"house-{seed}.toml")
            jobs[-1].write_text(job_text(random_house(seed)), encoding="utf-8")
        taken, bytes_drawn = [], []
        for workers in (1, 2):
            out = folder / f"by-{workers}"
            start, spent = time.perf_counter(), _spent()
            found = _draw(jobs, out, workers)
            taken.append(time.perf_counter() - start)
            bytes_drawn.append(_bytes(out))
            _tell(workers, taken[-1], (_spent() - spent) / taken[-1], found)
    same = "the same bytes" if bytes_drawn[0] == bytes_drawn[1] else "OTHER BYTES"
    print(f"  two take {taken[1] / taken[0]:.2f} of the time of one, and draw {same}")


def _draw(jobs: list[Path], out: Path, workers: int) -> list[Drawn]:
    """What was measured after each house, in the order in which they were done."""
    wanted = DrawOptions(FORMATS, None, None, False, "R2010")
    found: list[Drawn] = []

    def done(index: int, one: Done[Drawn]) -> None:
        if one.value is None:
            print(f"  {jobs[index].name}: {'; '.join(one.faults)}", flush=True)
        else:
            found.append(one.value)

    in_workers(partial(draw_measured, wanted), [(str(job), out / job.stem) for job in jobs], workers, done)
    return found


def _spent() -> float:
    """Processor time of all processes that have ended [s]."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _tell(workers: int, taken: float, busy: float, found: list[Drawn]) -> None:
    files = sum(one.files for one in found)
    print(f"  by {workers}: {taken:6.1f} s, {busy:.2f} cores busy, {len(found)} houses, {files} files")
    for process in dict.fromkeys(one.process for one in found):
        mine = [one for one in found if one.process == process]
        for number in dict.fromkeys((min(FIRST, len(mine)), len(mine))):
            one = mine[number - 1]
            print(
                f"    a process after {number:3} houses: {one.now / _MIB:4.0f} MiB, "
                f"at its peak {one.peak / _MIB:4.0f} MiB",
                flush=True,
            )


def _bytes(folder: Path) -> str:
    digest = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            digest.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


if __name__ == "__main__":
    street(*(int(word) for word in sys.argv[1:]))
