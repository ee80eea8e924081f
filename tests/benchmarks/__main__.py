"""Benchmarks, as ratios against a reference measured in the same run: ``python -m tests.benchmarks``.

Nothing here is a test: figures are printed, none is asserted.
"""

from __future__ import annotations

import platform
import random
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from layout.laps import lap_lines
from layout.score import columns
from layout.targets import Target
from tests.oracles.coursewalls import KINDS, Wall, book, cladding, objective, solve

SAMPLE = Path(__file__).resolve().parents[2] / "samples" / "gabled-house.toml"
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


def wall(edges: int) -> Wall:
    """A wall in lap boards with so many edges at heights of their own."""
    chance = random.Random(edges)
    top = 240
    heights = chance.sample(range(8 * 16, 16 * top), edges)
    targets = tuple(
        Target("Front", None, chance.choice(KINDS), height / 16, 0, 1, "want", chance.choice([4, 2, 1]))
        for height in heights
    )
    return Wall(cladding("lap", 6, 7, 8.25), targets, tuple(-1 + k / 16 for k in range(9)), top)


def process(*words: str) -> Callable[[], object]:
    """A whole process."""
    return lambda: subprocess.run([sys.executable, *words], check=False, capture_output=True)


def solver(constraint_solver: bool) -> None:
    """The exact solver against CP-SAT, on the same objective."""
    print("\nCourse lines of laps: time, and CP-SAT's time over ours")
    for edges in (6, 10, 24, 60):
        case = wall(edges)
        ours = median(
            lambda case=case: next(
                lap_lines(book(case.siding), columns(case.targets), case.starters, case.top)
            )
        )
        line = f"  {edges:3} edges  {ours * 1000:7.1f} ms"
        if constraint_solver and edges <= 24:
            from tests.oracles.coursecpsat import solve_cpsat

            start = time.perf_counter()
            try:
                best = solve_cpsat(case, 300.0, 2)
                taken = time.perf_counter() - start
                starter, stack, _ = solve(case)[0]
                same = objective(case, starter, stack)[1:5] == best[1:5]
                line += (
                    f"  CP-SAT {taken:7.2f} s  {taken / ours:8.0f} x  same optimum: {'yes' if same else 'NO'}"
                )
            except TimeoutError as error:
                line += f"  CP-SAT not proven in {time.perf_counter() - start:.0f} s ({error})"
        print(line)


def commands() -> None:
    """Whole commands against the time that their imports alone take."""
    print("\nWhole commands over a reference process")
    program = ("-c", "import sys; from cli.main import main; sys.exit(main(sys.argv[1:]))")
    rows = (
        ("--help", (*program, "--help"), "import typer"),
        ("plan", (*program, "plan", str(SAMPLE)), "import numpy, shapely"),
        (
            "draw --only svg,pdf",
            (*program, "draw", str(SAMPLE), "-o", "out/benchmark", "--only", "svg,pdf"),
            "import numpy, shapely, svgwrite, cairosvg",
        ),
        *(
            (
                f"sheets, {paper}",
                (*program, "sheets", str(SAMPLE), "-o", "-", "--paper", paper),
                "import numpy, shapely, svgwrite, cairosvg",
            )
            for paper in ("letter", "tabloid")
        ),
        (
            "draw --only dxf",
            (*program, "draw", str(SAMPLE), "-o", "out/benchmark", "--only", "dxf"),
            "import numpy, shapely, ezdxf",
        ),
    )
    for name, words, reference in rows:
        mine, floor = medians(process(*words), process("-c", reference))
        print(f"  {name:20} {mine * 1000:6.0f} ms  {mine / floor:5.2f} x {reference} ({floor * 1000:.0f} ms)")


def main() -> None:
    """Print every table; ``--quick`` leaves CP-SAT out."""
    print(f"Python {platform.python_version()}, {platform.machine()}, median of {RUNS}")
    solver("--quick" not in sys.argv)
    commands()


if __name__ == "__main__":
    main()
