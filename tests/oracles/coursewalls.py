"""Random walls in panels and laps, with edges anywhere."""

from __future__ import annotations

import random
from dataclasses import dataclass

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.solver.score import Rulebook
from evencourse.layout.solver.targets import Target

KINDS = ("head", "sill", "eave", "base", "band", "eave left")


def cladding(family: str, low: float, nominal: float, high: float, faces: int = 1) -> Cladding:
    panel = family == "panel"
    return Cladding(
        name="main", profile="", label="", family=family, material="wood", exposure=nominal,
        exposure_min=low, exposure_max=high, faces=faces, length=192,
        width=0 if panel else high + 1.25, projection=0.625,
        projection_top=0.125, starter_drop=2 * panel, cover=1 + panel, end_gap=0.25, end_gap_cold=0.375,
        cold=40, end_lap=1,
        foam_recess=0, carton=0, carton_squares=0, nail_spacing=16, nail_length=2, ground_clearance=6,
        roof_clearance=2, source="",
    )  # fmt: skip


def book(siding: Cladding) -> Rulebook:
    """A base is covered by 1/2 to 1 in, in panels to 1-1/2: their strips are 2 in high."""
    most = 1.5 if siding.family == "panel" else 1.0
    run = min(3.0, siding.exposure_min)
    return Rulebook(siding, 1.0, 1 / 16, 0.125, 1.5, 4.0, 0.5, 0.125, 0.5, 1.0, most, run)


@dataclass(frozen=True)
class Wall:
    siding: Cladding
    targets: tuple[Target, ...]
    starters: tuple[float, ...]
    top: float


def random_wall(seed: int, family: str) -> Wall:
    chance = random.Random(seed)
    if family == "panel":
        exposure = chance.choice([8.0, 9.0, 10.0, 12.0, 6.5])
        siding = cladding(family, exposure, exposure, exposure, chance.choice([1, 2, 3]))
    else:
        nominal = chance.choice([6.25, 8.0, 7.0, 10.0])
        siding = cladding(
            family, nominal - chance.choice([0.5, 1.0, 2.0]), nominal, nominal + chance.choice([0, 0.25, 1])
        )
    top = chance.randrange(60, 140)
    targets = []
    for _ in range(chance.randrange(1, 7)):
        kind = chance.choice(KINDS)
        height = chance.randrange(8, 16 * top) / 16
        importance = chance.choices(["want", "must", "ignore"], [6, 2, 1])[0]
        usual = {"head": 4, "base": 4, "sill": 2, "eave left": 0.5}.get(kind, 1)
        weight = usual * chance.choice([1, 1, 2, 0.5])
        targets.append(Target("Front", None, kind, height, 0, 10, importance, weight))
    starters = tuple(-1 + k / 16 for k in range(chance.randrange(1, 6)))
    return Wall(siding, tuple(targets), starters, float(top))
