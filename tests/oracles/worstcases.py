"""Worst cases of course lines by brute force: the datum's error on a grid and at every value that matters.

For one error of the datum the edges are free of each other, so each takes its own worst height. What becomes
of an edge is written from its words here, and heights are tried, not reasoned about: both ends of what its
height may be, every height at which a line, its tolerance or the least strip lies, one between each two.
"""

from __future__ import annotations

import random
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from evencourse.layout.model.job import Elevation, Framing, Job, Limits, Opening, Order, Seams, Trim, Zone
from evencourse.layout.solver.targets import Target
from evencourse.layout.trade.profiles import build_cladding
from tests.oracles.lapwalls import (
    BELOW,
    COVER_MIN,
    SAME,
    STRIP_MIN,
    WEIGHTS,
    Butts,
    LapWall,
    Terms,
    cover_max,
    objective,
)

FLUSH, PASSED, NOTCH, SLIVER = range(4)
Floats = NDArray[np.float64]


def fates(wall: LapWall, target: Target, butts: Floats, heights: Floats) -> NDArray[np.int64]:
    """What happens at an edge of a kind at many heights; the lines go on above every one of them."""
    passed = heights <= butts[0] + SAME
    place = np.clip(np.searchsorted(butts, heights + SAME) - 1, 0, len(butts) - 2)
    cut, rest = heights - butts[place], butts[place + 1] - heights
    if target.kind == "base":
        flush = (cut >= COVER_MIN - 1e-9) & (cut <= cover_max(wall.siding) + 1e-9)
        passed |= ~flush & (heights <= butts[0] + wall.run + 1e-9)
    else:
        flush = np.minimum(np.abs(cut), np.abs(rest)) <= wall.tolerance + 1e-9
    sliver = (cut if target.kind in BELOW else rest) < STRIP_MIN - 1e-9
    return np.where(passed, PASSED, np.where(flush, FLUSH, np.where(sliver, SLIVER, NOTCH)))


def worst(wall: LapWall, butts: Butts, error: float) -> tuple[int, int, int]:
    """Most musts missed, most slivers, least flush weight in thousandths; each over errors of its own.

    Args:
        wall: the wall, edges as measured.
        butts: the lines as they stand.
        error: greatest error of a height, and of the datum [inches].
    """
    exposure = butts[-1] - butts[-2]
    lines = np.array([*butts, *(butts[-1] + exposure * k for k in (1, 2))], dtype=np.float64)
    looks = []
    datums = set(np.linspace(-error, error, 33))
    for target in wall.counted:
        changes = (0.0, wall.tolerance, STRIP_MIN, COVER_MIN, cover_max(wall.siding))
        offs = (*changes, *(-off for off in changes))
        turns = np.unique([*(lines[None, :] + np.array(offs)[:, None]).ravel(), lines[0] + wall.run])
        reach = 2 * error + SAME
        turns = turns[(turns > target.height - reach) & (turns < target.height + reach)]
        looks.append((target, turns))
        for off in (turns - target.height)[:, None] + np.array([-error, error]):
            datums |= {float(value) for value in off if abs(value) <= error}
    ordered = sorted(datums)
    shifts = np.array([*ordered, *((a + b) / 2 for a, b in pairwise(ordered))])
    musts, slivers, weights = (np.zeros(len(shifts), dtype=np.int64) for _ in range(3))
    for target, turns in looks:
        low, high = target.height + shifts - error, target.height + shifts + error
        tried = np.array([*turns, *((a + b) / 2 for a, b in pairwise(turns))], dtype=np.float64)
        worst_fate = np.maximum(fates(wall, target, lines, low), fates(wall, target, lines, high))
        if len(tried):
            found = fates(wall, target, lines, tried)
            inside = (tried[None, :] >= low[:, None] - 1e-9) & (tried[None, :] <= high[:, None] + 1e-9)
            worst_fate = np.maximum(worst_fate, np.where(inside, found[None, :], FLUSH).max(axis=1))
        musts += (worst_fate >= NOTCH) & (target.importance == "must")
        slivers += worst_fate == SLIVER
        weights += np.where(worst_fate == FLUSH, round(target.weight * WEIGHTS), 0)
    return int(musts.max()), int(slivers.max()), int(weights.min())


def holds_up(wall: LapWall, butts: Butts, error: float, limits: int = 0) -> tuple[Terms, Terms]:
    """How well lines hold up, better when less: limits, musts and slivers at worst, weight that is sure; and
    the terms as planned.
    """
    musts, slivers, weight = worst(wall, butts, error)
    return (limits, musts, slivers, -weight), objective(wall, butts, limits)


def small_job(seed: int) -> tuple[Job, float]:
    """A house of one or two faces with a few windows that share a course set, and an error [inches]."""
    chance = random.Random(f"small job {seed}")
    profile = chance.choice(["bevel-8", "fiber-cement-7.25", "fiber-cement-8.25", "shingle-18", "double-4"])
    siding = build_cladding("main", profile, {}, "in")
    eave, base = chance.randrange(84 * 16, 112 * 16) / 16, chance.choice([0.0, -0.5, -1.25])
    step = chance.randrange(2 * 16, 20 * 16) / 16
    faces = []
    for name in ("Front", "Back")[: chance.choice([1, 1, 2])]:
        outline = [(0.0, base), (300.0, base), (300.0, eave), (0.0, eave)]
        if chance.random() < 0.3:
            outline[1:2] = [(200.0, base), (200.0, base + step), (300.0, base + step)]
        openings = []
        head = chance.randrange(78 * 16, 82 * 16) / 16
        for place in range(chance.choice([1, 2, 2])):
            high = chance.choice([36.0, 48.5, 53.0625])
            top = head - chance.choice([0, 0, 1, 2, 3, 30]) / 16
            edges = [chance.choices(["want", "must", "ignore"], [6, 2, 1])[0] for _ in "hs"]
            openings.append(
                Opening(
                    f"{name[0]}{place}", "window", "rectangle", 30.0 + 80 * place, top - high, 40.0, high,
                    head_edge=edges[0], sill_edge=edges[1], trim=Trim(0.0, 0.0, 0.0),
                )
            )  # fmt: skip
        faces.append(
            Elevation(
                name=name, outline=tuple(outline), left="outside corner", right="outside corner", grade=None,
                courses="main", entrance=None, openings=tuple(openings), fixtures=(), zones=(Zone("main"),),
            )
        )  # fmt: skip
    first = base - chance.choice([1, 1.5])
    job = Job(
        name=f"Small house {seed}", units="in", round=1 / 16, datum="a level line", author="",
        temperature=None, claddings={"main": siding},
        limits=Limits((first, first + chance.choice([3, 5, 9]) / 16), 0.125, 1.5, 0.5),
        framing=Framing(16.0, 0.0), seams=Seams(24.0, 24.0), order=Order(0.0), elevations=tuple(faces),
    )  # fmt: skip
    return job, chance.choice([1 / 16, 1 / 8, 1 / 8, 3 / 16, 1 / 4])
