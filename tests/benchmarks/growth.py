"""How time grows with the wall's height, its edges, the faces and the houses: each against half as much."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from evencourse.layout.courses.planner import plan
from evencourse.layout.pieces.all_pieces import pieces
from tests.benchmarks.courselines import wall
from tests.benchmarks.timing import median
from tests.houses import random_house
from tests.layout.walls import LAP, Elevation, job, rectangle, window
from tests.oracles.lapwalls import solver_answers


def _tall(height: int) -> Callable[[], object]:
    face = Elevation("Front", rectangle(240, 0, height), openings=(window("A", 60, 31, 40, 50),))
    made = job(face, cladding=LAP, starter=(-1, -0.5))
    return lambda: pieces(plan(made))


def _faces(count: int) -> Callable[[], object]:
    faces = [
        Elevation(f"Face {n}", rectangle(240, 0, 100), openings=(window("A", 60, 30 + n % 7, 40, 50),))
        for n in range(count)
    ]
    made = job(*faces, cladding=LAP, starter=(-1, -0.5))
    return lambda: pieces(plan(made))


def _edges(count: int) -> Callable[[], object]:
    case = wall(count)
    return lambda: next(solver_answers(case))


def _houses(count: int) -> Callable[[], object]:
    houses = [replace(random_house(seed), name=str(seed)) for seed in range(count)]
    return lambda: [pieces(plan(house)) for house in houses]


def growth() -> None:
    """Print times, each over the one before it, which is for half as much."""
    print("\nGrowth: time, and over the time for half as much")
    for title, make, sizes in (
        ("height of a wall [in], with pieces", _tall, (120, 240, 480)),
        ("edges, course lines", _edges, (12, 24, 48, 96)),
        ("faces, with pieces", _faces, (4, 8, 16, 32)),
        ("houses, with pieces", _houses, (2, 4, 8)),
    ):
        before, line = 0.0, []
        for size in sizes:
            taken = median(make(size), 3)
            line.append(f"{size}: {taken * 1000:.0f} ms" + (f" ({taken / before:.1f} x)" if before else ""))
            before = taken
        print(f"  {title}: " + ", ".join(line))
