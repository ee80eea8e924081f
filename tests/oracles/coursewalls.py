"""Random walls, and the objective of course lines written anew from its definition in words.

Nothing here calls the solver's own scoring: :func:`objective` and :func:`stacks` share no code with it.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product
from math import ceil, floor

from evencourse.layout.courses.laps import lap_lines
from evencourse.layout.courses.panels import panel_lines
from evencourse.layout.courses.score import Rulebook, columns
from evencourse.layout.courses.targets import Target
from evencourse.layout.model.cladding import Cladding

KINDS = ("head", "sill", "eave", "step", "band", "eave left")


def cladding(family: str, low: float, nominal: float, high: float, faces: int = 1) -> Cladding:
    return Cladding(
        name="main", profile="", label="", family=family, material="wood", exposure=nominal,
        exposure_min=low, exposure_max=high, faces=faces, length=192, width=0, projection=0.625,
        projection_top=0.125, starter_drop=0, cover=1, end_gap=0.25, end_gap_cold=0.375, cold=40, end_lap=1,
        foam_recess=0, carton=0, carton_squares=0, nail_spacing=16, nail_length=2, ground_clearance=6,
        roof_clearance=2, source="",
    )  # fmt: skip


def book(siding: Cladding) -> Rulebook:
    return Rulebook(siding, 1.0, 1 / 16, 0.125, 1.5, 4.0, 0.5, 0.125, min(3.0, siding.exposure_min))


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
        weight = {"head": 4, "sill": 2, "eave left": 0.5}.get(kind, 1) * chance.choice([1, 1, 2, 0.5])
        targets.append(Target("Front", None, kind, height, 0, 10, importance, weight))
    starters = tuple(-1 + k / 16 for k in range(chance.randrange(1, 6)))
    return Wall(siding, tuple(targets), starters, float(top))


def tall_wall(seed: int) -> Wall:
    """Few edges far apart: many numbers of courses between them whose exposures differ by what goes unseen.

    So late terms decide. Half of the walls have an edge on their highest point.
    """
    chance = random.Random(f"tall {seed}")
    siding = cladding("lap", 6.5, chance.choice([6.75, 7.0, 7.25]), 7.5)
    top = chance.randrange(16 * 250, 16 * 400) / 16
    heights = sorted(chance.randrange(16 * 60, int(16 * top)) / 16 for _ in range(chance.choice([1, 2, 2])))
    kinds = [chance.choice(["head", "sill", "step"]) for _ in heights]
    if chance.random() < 0.5:
        heights, kinds = [*heights, top], [*kinds, "eave"]
    targets = tuple(
        Target("Front", None, kind, height, 0, 10, chance.choice(["must", "want"]), chance.choice([1, 2, 4]))
        for kind, height in zip(kinds, heights, strict=True)
    )
    return Wall(siding, targets, tuple(-1 + k / 16 for k in range(chance.choice([1, 2]))), top)


def objective(wall: Wall, starter: float, stack: list[tuple[int, float, float | None]]) -> tuple[int, ...]:
    """The objective in words: limits, musts, jumps beyond 1/2, slivers, flush weight, jumps, bands, off
    nominal, near misses, thin eaves, furring; lengths in ten-thousandths of an inch.

    ``stack`` holds (courses, exposure, height where the band ends or None) from the bottom up.
    """
    butts = pile(starter, stack)
    exposures = [exposure for courses, exposure, _ in stack for _ in range(courses)]
    must = sliver = weight = miss_sum = thin = furring = 0
    for target in wall.targets:
        h = target.height
        hung = target.kind == "step" and h <= starter + min(3.0, wall.siding.exposure_min) + 1e-9
        if target.importance == "ignore" or h <= starter + 1e-7 or hung:
            continue
        miss = min(abs(h - butt) for butt in butts)
        k = max(i for i, butt in enumerate(butts[:-1]) if butt <= h + 1e-7)
        exposure, cut = butts[k + 1] - butts[k], h - butts[k]
        below = target.kind in ("sill", "eave", "eave left", "eave right", "band")
        if miss <= 0.125 + 1e-9:
            weight += round(target.weight * 1000)
            miss_sum += round((miss if miss > 1e-7 else 0) * 10000)
            height_left = exposure
        else:
            must += target.importance == "must"
            height_left = cut if below else exposure - cut
            sliver += height_left < 1.5 - 1e-9
            face = exposure / wall.siding.faces
            up = cut % face
            if min(up, face - up) < 1e-7:
                up = 0
            furring += round(0.5 * up / face * 10000)
            height_left = cut
        if target.kind in ("eave", "eave left", "eave right"):
            thin += round(max(0.0, 4 - height_left) * 10000)
    merged = [exposures[0]]
    jump = wide = 0
    for exposure in exposures[1:]:
        if abs(exposure - merged[-1]) > 1e-9:
            jump += round(max(0.0, abs(exposure - merged[-1]) - 0.125) * 10000)
            wide += round(max(0.0, abs(exposure - merged[-1]) - 0.5) * 10000)
            merged.append(exposure)
    off = sum(round(abs(exposure - wall.siding.exposure) * 10000) for exposure in exposures)
    return (0, must, wide, sliver, -weight, jump, len(merged), off, miss_sum, thin, furring)


def stacks(wall: Wall) -> Iterator[tuple[float, list[tuple[int, float, float | None]]]]:
    """Every starter, every subset of ties, every number of equal courses between them."""
    siding = wall.siding
    heights = sorted({target.height for target in wall.targets if target.importance != "ignore"})

    def counts(span: float) -> range:
        return range(
            max(1, ceil(span / siding.exposure_max - 1e-9)), floor(span / siding.exposure_min + 1e-9) + 1
        )

    for starter in wall.starters:
        for size in range(len(heights) + 1):
            for subset in combinations(heights, size):
                spans = [b - a for a, b in zip((starter, *subset), subset, strict=False)]
                if any(span <= 1e-7 for span in spans):
                    continue
                for numbers in product(*(counts(span) for span in spans)):
                    stack = [
                        (number, span / number, tie)
                        for number, span, tie in zip(numbers, spans, subset, strict=True)
                    ]
                    foot = subset[-1] if subset else starter
                    if foot >= wall.top - 1e-9:
                        yield starter, stack
                        continue
                    last = {siding.exposure} | ({stack[-1][1]} if stack else set())
                    for exposure in sorted(last):
                        rest = max(1, ceil((wall.top - foot) / exposure - 1e-9))
                        yield starter, [*stack, (rest, exposure, None)]


def solve(wall: Wall) -> list[tuple[float, list[tuple[int, float, float | None]]]]:
    lines = panel_lines if wall.siding.family == "panel" else lap_lines
    found = lines(book(wall.siding), columns(wall.targets), wall.starters, wall.top)
    answers = []
    for starter, bands, butts in found:
        stack = []
        for band in bands:
            end = butts[band.first_course - 1 + band.courses]
            stack.append((band.courses, band.exposure, end))
        answers.append((starter, stack, butts))
    return answers


def pile(starter: float, stack: list[tuple[int, float, float | None]]) -> list[float]:
    butts = [starter]
    for courses, exposure, end in stack:
        foot = butts[-1]
        butts += [foot + exposure * (k + 1) for k in range(courses)]
        if end is not None:
            butts[-1] = end
    return butts


def close(found: tuple[int, ...], best: tuple[int, ...], slack: int = 40) -> bool:
    """Equal up to the last digits that floating sums of courses can move."""
    exact = found[3:5] == best[3:5] and (found[1], found[6]) == (best[1], best[6])
    return exact and all(abs(mine - yours) <= slack for mine, yours in zip(found, best, strict=True))
