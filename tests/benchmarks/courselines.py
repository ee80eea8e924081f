"""The exact solver of course lines against CP-SAT, on the same objective."""

from __future__ import annotations

import random
import time

from evencourse.layout.courses.laps import lap_lines
from evencourse.layout.courses.score import columns
from evencourse.layout.courses.targets import Target
from tests.benchmarks.timing import median
from tests.oracles.coursewalls import KINDS, Wall, book, cladding, objective, solve


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


def course_lines(constraint_solver: bool) -> None:
    """Print times for 6, 10, 24 and 60 edges.

    Args:
        constraint_solver: solve with CP-SAT, too, as far as it can.
    """
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
