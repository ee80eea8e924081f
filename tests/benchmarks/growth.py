"""How time grows with the wall's height, its edges, the faces and the houses: each against half as much."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.job import Job
from evencourse.layout.order.material import material
from evencourse.layout.pieces.all_pieces import pieces
from tests.benchmarks.courselines import wall
from tests.benchmarks.timing import median, peak
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


#: Lengths of a wall [ft], and how far apart its windows stand [in].
FEET, APART = (50, 100, 200, 400), 156
#: What a process does that works out the material of such a wall.
ALONE = """
from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.order.material import material
found = material(plan(parse_job({text!r})))
found.cuts, found.order
"""


def long_wall(feet: int, profile: str) -> str:
    """A wall with a window every so often, as a job file."""
    openings = "".join(
        f"""[[elevation.opening]]
mark = "W{at}"
kind = "window"
left = {left}
sill = 36
width = 38
height = 54
"""
        for at, left in enumerate(range(60, 12 * feet - 40, APART), start=1)
    )
    return f"""[job]
name = "Long wall"
[cladding]
profile = "{profile}"
[[elevation]]
name = "Front"
width = {12 * feet}
base = 0
eave = 110
{openings}"""


def _material(made: Job) -> object:
    found = material(plan(made))
    return found.cuts, found.order


def _long() -> None:
    """Print time and memory of the material of long walls with windows all along."""
    for profile in ("double-4", "fiber-cement-8.25"):
        before, line = 0.0, []
        for feet in FEET:
            text = long_wall(feet, profile)
            made = parse_job(text)
            taken = median(partial(_material, made), 3)
            more = f" ({taken / before:.1f} x)" if before else ""
            line.append(f"{feet} ft: {taken * 1000:.0f} ms{more}, {peak(ALONE.format(text=text)):.0f} MB")
            before = taken
        print(f"  material of a wall with windows, {profile}: " + ", ".join(line))


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
    _long()
