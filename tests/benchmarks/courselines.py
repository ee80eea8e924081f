"""The exact solver of course lines against CP-SAT, on the same objective over ties on marks."""

from __future__ import annotations

import random
import time

from evencourse.layout.solver.targets import Target
from tests.benchmarks.timing import median
from tests.oracles.coursewalls import KINDS, cladding
from tests.oracles.lapwalls import LapWall, objective, rank, solver_answers


def wall(edges: int) -> LapWall:
    """A wall in lap boards with so many edges at heights of their own."""
    chance = random.Random(edges)
    top = 240
    heights = chance.sample(range(8 * 16, 16 * top), edges)
    targets = tuple(
        Target("Front", None, chance.choice(KINDS), height / 16, 0, 1, "want", chance.choice([4, 2, 1]))
        for height in heights
    )
    return LapWall(cladding("lap", 6, 7, 8.25), targets, tuple(-1 + k / 16 for k in range(9)), float(top))


def course_lines(constraint_solver: bool) -> None:
    """Print times for 6, 10, 24, 60 and 96 edges.

    Args:
        constraint_solver: solve with CP-SAT, too, as far as it can.
    """
    print("\nCourse lines of laps: time, and CP-SAT's time over ours")
    for edges in (6, 10, 24, 60, 96):
        case = wall(edges)
        ours = median(lambda case=case: next(solver_answers(case)))
        line = f"  {edges:3} edges  {ours * 1000:7.1f} ms"
        if constraint_solver and edges <= 24:
            from tests.oracles.coursecpsat import solve_cpsat

            start = time.perf_counter()
            try:
                best = solve_cpsat(case, 300.0, 2)
                taken = time.perf_counter() - start
                same = rank(objective(case, next(solver_answers(case)))[:6], best) == 0
                line += (
                    f"  CP-SAT {taken:7.2f} s  {taken / ours:8.0f} x  same optimum: {'yes' if same else 'NO'}"
                )
            except TimeoutError as error:
                line += f"  CP-SAT not proven in {time.perf_counter() - start:.0f} s ({error})"
        print(line)
