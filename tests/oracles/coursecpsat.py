"""Lapped course lines as a CP-SAT model: the same objective over ties on marks, another solver.

A path from a starter mark through ties over the top, each arc a stretch of equal courses. What an arc adds by
itself is taken from the objective in words; what two arcs that meet add (jumps, seen and too wide) is
modelled. The strict order is solved term by term, each optimum kept before the next is sought.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, floor

from ortools.sat.python import cp_model

from tests.oracles.lapwalls import (
    JUMP_MAX,
    JUMP_UNSEEN,
    LENGTHS,
    SAME,
    Butts,
    LapWall,
    Terms,
    candidates,
    objective,
)

#: Exposures are modelled a thousand times finer than lengths are counted.
FINE = 1_000
#: Terms that the model solves: missed musts, wide jumps, slivers, flush weight, what is seen.
MODELLED = (1, 2, 3, 4, 5)


@dataclass(frozen=True)
class Arc:
    """A stretch from a starter (foot below 0: -1 less its number) or a tie to a tie, or over the top.

    ``end`` None runs over the top; ``own`` marks a stretch that ends at a tie and whose exposure runs on.
    """

    foot: int
    end: int | None
    exposure: float
    terms: Terms


def arcs(wall: LapWall) -> list[Arc]:
    """Every stretch, with what its edges add."""
    siding, ties = wall.siding, candidates(wall, wall.mark)
    found: list[Arc] = []
    feet = [*((-1 - k, mark) for k, mark in enumerate(wall.starters)), *enumerate(ties)]

    def over_the_top(butts: Butts, exposure: float) -> Butts:
        while butts[-1] < wall.top - wall.tolerance - 1e-9 or len(butts) == 1:
            butts = (*butts, butts[-1] + exposure)
        return butts

    for foot, low in feet:
        if foot < 0 or low < wall.top - wall.tolerance - SAME:
            lines = over_the_top((low,), siding.exposure)
            found.append(Arc(foot, None, siding.exposure, alone(wall, lines, None, foot < 0)))
        for end, high in enumerate(ties):
            span = high - low
            if span < SAME:
                continue
            fewest = max(1, ceil(span / siding.exposure_max - 1e-9))
            for count in range(fewest, floor(span / siding.exposure_min + 1e-9) + 1):
                step = span / count
                lines = (*(low + step * k for k in range(count)), high)
                found.append(Arc(foot, end, step, alone(wall, lines, high, foot < 0)))
                on = over_the_top(lines, step)
                found.append(Arc(foot, None, step, alone(wall, on, None, foot < 0)))
    return found


def alone(wall: LapWall, butts: Butts, end: float | None, first: bool) -> Terms:
    """The objective of the edges in one stretch; bases are hung over from a starter only.

    One course more is looked at above the end: a base that lies on it begins there, and cuts nothing below.
    """
    if end is not None:
        butts = (*butts, 2 * butts[-1] - butts[-2])
    inside = [
        target
        for target in wall.targets
        if butts[0] + SAME < target.height and (end is None or target.height <= end + SAME)
    ]
    run = wall.cover_run if first else 0.0
    return objective(replace(wall, targets=tuple(inside), cover_run=run), butts)


def solve_cpsat(wall: LapWall, seconds: float = 60.0, workers: int = 1) -> Terms:
    """The optimum of the first six terms.

    Raises:
        TimeoutError: it is not proven within so many seconds a term.
    """
    model = cp_model.CpModel()
    every = arcs(wall)
    used = [model.new_bool_var(f"arc{i}") for i in range(len(every))]
    model.add_exactly_one(used[i] for i, arc in enumerate(every) if arc.foot < 0)
    exposures = [round(arc.exposure * LENGTHS * FINE) for arc in every]
    widest = max(exposures) - min(exposures)
    totals = {row: sum(arc.terms[row] * x for arc, x in zip(every, used, strict=True)) for row in MODELLED}
    jumps = {2: 0, 5: 0}
    ties = len(candidates(wall, wall.mark))
    arriving: list[list[int]] = [[] for _ in range(ties)]
    leaving: list[list[int]] = [[] for _ in range(ties)]
    for i, arc in enumerate(every):
        if arc.end is not None:
            arriving[arc.end].append(i)
        if arc.foot >= 0:
            leaving[arc.foot].append(i)
    for tie in range(ties):
        into, out = arriving[tie], leaving[tie]
        model.add(sum(used[i] for i in into) == sum(used[i] for i in out))
        if not into or not out:
            continue
        change = model.new_int_var(0, widest, "")
        arrives = sum(exposures[i] * used[i] for i in into)
        leaves = sum(exposures[i] * used[i] for i in out)
        model.add(change >= arrives - leaves)
        model.add(change >= leaves - arrives)
        for row, allowed in ((2, JUMP_MAX), (5, JUMP_UNSEEN)):
            beyond = model.new_int_var(0, widest, "")
            model.add(beyond >= change - round(allowed * LENGTHS * FINE))
            jumps[row] += beyond
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds
    best = [0]
    for row in MODELLED:
        total = totals[row] * FINE + jumps[row] if row in jumps else totals[row]
        model.minimize(total)
        status = solver.solve(model)
        if status != cp_model.OPTIMAL:
            raise TimeoutError(f"term {row}: {solver.status_name(status)}")
        value = round(solver.objective_value)
        # Jumps are modelled finer than they are counted: leave room for the rounding of two, no more, or a
        # jump that is too wide by a hair would be traded for what shows.
        model.add(total <= value + (2 * FINE if row in jumps else 0))
        model.clear_hints()
        for x in used:
            model.add_hint(x, solver.value(x))
        best.append(round(value / FINE) if row in jumps else value)
    return tuple(best)
