"""How things are timed: medians after a warm-up, processes with their peak memory."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable

#: Counted runs of every figure.
RUNS = 7


def median(action: Callable[[], object], runs: int = RUNS) -> float:
    """Median time of an action after one warm-up [s]."""
    action()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        action()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def medians(one: Callable[[], object], other: Callable[[], object], runs: int = RUNS) -> tuple[float, float]:
    """Median times of two actions that take turns, so that both meet the same machine [s]."""
    times: tuple[list[float], list[float]] = ([], [])
    for action in (one, other):
        action()
    for _ in range(runs):
        for action, taken in zip((one, other), times, strict=True):
            start = time.perf_counter()
            action()
            taken.append(time.perf_counter() - start)
    return statistics.median(times[0]), statistics.median(times[1])


def process(*words: str) -> Callable[[], object]:
    """A whole process."""
    return lambda: subprocess.run([sys.executable, *words], check=False, capture_output=True)


def peak(code: str) -> float:
    """Most memory that a process held while it ran some code [MB]; 0 where the system does not tell.

    Asked of the process itself: what a parent is told begins with the parent's own memory.
    """
    told = "\nimport sys\nprint(open('/proc/self/status').read(), file=sys.stderr)"
    done = subprocess.run(
        [sys.executable, "-c", code + told], check=False, capture_output=True, text=True, errors="replace"
    )
    found = [line.split()[1] for line in done.stderr.splitlines() if line.startswith("VmHWM:")]
    return int(found[0]) / 1024 if found else 0.0
