"""The course-line problem as a CP-SAT model: the same objective, another solver.

A path from a starter mark through ties to the top, each arc a band of equal courses. What an arc adds by
itself is taken from the oracle's own objective in words; the links between arcs (jump, wide jump, new band)
are modelled. The strict order is solved term by term, each optimum fixed before the next is sought.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor

from ortools.sat.python import cp_model

from evencourse.layout.courses.targets import Target
from tests.oracles.coursewalls import Wall, objective

SCALE = 10_000


Foot = tuple[str, float]
Arc = tuple[Foot, float | None, int, float, tuple[int, ...]]


def arcs(wall: Wall) -> list[Arc]:
    """(from, to, courses, exposure, terms): ``to`` is None for a band that runs past the top."""
    siding = wall.siding
    heights = sorted({t.height for t in wall.targets if t.importance != "ignore" and t.height <= wall.top})
    found: list[Arc] = []

    def add(foot: Foot, height: float | None, count: int, exposure: float) -> None:
        found.append((foot, height, count, exposure, alone(wall, foot, count, exposure, height)))

    for foot in [("starter", mark) for mark in wall.starters] + [("tie", height) for height in heights]:
        for height in heights:
            span = height - foot[1]
            if span <= 1e-7:
                continue
            fewest = max(1, ceil(span / siding.exposure_max - 1e-9))
            for count in range(fewest, floor(span / siding.exposure_min + 1e-9) + 1):
                add(foot, height, count, span / count)
        if foot[1] < wall.top - 1e-9:
            add(foot, None, max(1, ceil((wall.top - foot[1]) / siding.exposure - 1e-9)), siding.exposure)
    return found


def alone(wall: Wall, foot: Foot, count: int, exposure: float, end: float | None) -> tuple[int, ...]:
    """What one band adds: the objective of the edges between its foot and its end."""
    limit = end if end is not None else float("inf")
    inside = tuple(t for t in wall.targets if foot[1] + 1e-7 < t.height <= limit + 1e-7)
    if foot[0] == "tie":  # a step is hung over from a starter only
        inside = tuple(as_head(t) if t.kind == "step" else t for t in inside)
    return objective(Wall(wall.siding, inside, wall.starters, wall.top), foot[1], [(count, exposure, end)])


def as_head(target: Target) -> Target:
    """A step that is no longer hung over is scored like a head: its siding lies above it."""
    return replace(target, kind="head")


def solve_cpsat(wall: Wall, seconds: float = 60.0, workers: int = 1) -> tuple[int, ...]:
    """The optimum of the objective; raises when it is not proven in time."""
    model = cp_model.CpModel()
    every = arcs(wall)
    used = [model.new_bool_var(f"arc{i}") for i in range(len(every))]
    ends = {arc[1] for arc in every if arc[1] is not None}
    heights = sorted(ends | {arc[0][1] for arc in every if arc[0][0] == "tie"})
    model.add_exactly_one(used[i] for i, arc in enumerate(every) if arc[0][0] == "starter")
    exposures = [round(arc[3] * SCALE * 1000) for arc in every]
    biggest = max(exposures)
    carried: list[list[object]] = [[] for _ in range(11)]
    links: list[list[object]] = [[], [], []]
    for height in heights:
        into = [i for i, arc in enumerate(every) if arc[1] == height]
        out = [i for i, arc in enumerate(every) if arc[0] == ("tie", height)]
        stop = model.new_bool_var(f"stop{height}")
        model.add(sum(used[i] for i in into) == sum(used[i] for i in out) + stop)
        for i in into:  # the band that arrives runs on to the top by its own exposure
            last = model.new_bool_var(f"last{i}")
            model.add_bool_and([used[i], stop]).only_enforce_if(last)
            model.add_bool_or([used[i].negated(), stop.negated(), last])
            if height < wall.top - 1e-9:
                count = max(1, ceil((wall.top - height) / every[i][3] - 1e-9))
                terms = alone(wall, ("tie", height), count, every[i][3], None)
                for row in (1, 3, 4, 7, 8, 9, 10):
                    carried[row].append(terms[row] * last)
        if not out:
            continue
        going = model.new_bool_var(f"going{height}")
        model.add(sum(used[i] for i in out) == going)
        arrives, leaves = model.new_int_var(0, biggest, ""), model.new_int_var(0, biggest, "")
        model.add(arrives == sum(exposures[i] * used[i] for i in into))
        model.add(leaves == sum(exposures[i] * used[i] for i in out))
        change = model.new_int_var(0, biggest, "")
        model.add(change >= arrives - leaves).only_enforce_if(going)
        model.add(change >= leaves - arrives).only_enforce_if(going)
        wide, jump = model.new_int_var(0, biggest, ""), model.new_int_var(0, biggest, "")
        model.add(wide >= change - 500 * SCALE)
        model.add(jump >= change - 125 * SCALE)
        fresh = model.new_bool_var("")
        model.add(change <= biggest * fresh)
        for row, variable in zip(links, (wide, jump, fresh), strict=True):
            row.append(variable)
    totals = []
    for row in range(11):
        if row == 6:
            totals.append(sum(links[2]) + 1)
            continue
        total = sum(arc[4][row] * x for arc, x in zip(every, used, strict=True)) + sum(carried[row])
        if row in (2, 5):
            total = sum(links[0 if row == 2 else 1])
        totals.append(total)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds
    best = []
    for row, total in enumerate(totals):
        if row == 0:
            best.append(0)
            continue
        model.minimize(total)
        status = solver.solve(model)
        if status != cp_model.OPTIMAL:
            raise TimeoutError(f"term {row}: {solver.status_name(status)}")
        value = round(solver.objective_value)
        best.append(value)
        # jumps are modelled a thousand times finer than they are counted: leave room for the rounding
        model.add(total <= value + (1000 * len(heights) if row in (2, 5) else 0))
    return tuple(round(value / 1000) if row in (2, 5) else value for row, value in enumerate(best))
