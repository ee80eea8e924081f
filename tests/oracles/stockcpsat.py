"""Seams and stock of a small wall as a CP-SAT model: the rules in words, another solver.

Everything in sixteenths of an inch. A run is cut into its fewest pieces or one more, but only into one when
it is no longer than two fifths of a bar; every piece but the only one of a run is at least 24 in long.
Panels lap 1 in at a seam. Boards butt on studs, 16 in apart, 1/8 in open, and the saw takes 1/8 in at a
cut. Seams of neighbouring courses are 24 in apart, of courses within three (boards: two) 6 in; none lies
within 1 in of an opening that the course meets. A cut end waits on the heap from its bar's first piece to its
last.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from ortools.sat.python import cp_model

from evencourse.layout.model.job import Job, Opening
from tests.layout.walls import LAP, PLAIN, Elevation, job, rectangle, window

MARKS = 16
STUDS, JOINT, KERF = 16 * MARKS, 2, 2
#: Seams that a length is worth: common practice, no source.
WORTH = 6


@dataclass(frozen=True)
class SmallRun:
    """One run: course, ends with the gaps taken off, where no seam may fall; sixteenths of an inch."""

    course: int
    left: int
    right: int
    shut: tuple[tuple[int, int], ...]


def small_wall(seed: int, family: str = "panel") -> Job:
    """A wall of two to four courses with up to two windows; everything on sixteenths of an inch."""
    chance = random.Random(f"small wall {seed}")
    width = chance.randrange(90 * 4, 300 * 4) / 4
    courses = chance.randrange(2, 5)
    siding = replace(PLAIN, length=chance.choice([100.0, 125.0, 150.0]))
    if family == "lap":
        siding = replace(LAP, exposure=8, exposure_min=8, exposure_max=8, length=chance.choice([96.0, 144.0]))
    openings: list[Opening] = []
    for mark in "AB":
        wide, tall = chance.randrange(20, 60), chance.choice([12, 20, 28])
        left = chance.randrange(10, max(11, int(width) - wide - 10))
        bottom = chance.choice([5, 8, 13, 16])
        clear = all(left + wide + 5 < o.left or o.right + 5 < left for o in openings)
        if left + wide + 8 < width and bottom + tall < courses * 8 and clear and chance.random() < 0.7:
            openings.append(window(mark, left, bottom, wide, tall))
    face = Elevation("Front", rectangle(width, 0, 8 * courses), openings=tuple(openings))
    return job(face, cladding=siding, starter=(0, 0))


def small_runs(wall: Job) -> list[SmallRun]:
    """Runs of a rectangular wall whose courses are 8 in from 0: split by windows that are as high as they."""
    (face,) = wall.elevations
    siding = wall.claddings["main"]
    right, top = face.outline[2]
    gap = siding.end_gap
    found = []
    for course in range(int(top / 8)):
        foot, head = 8 * course, 8 * course + 8
        split = [o for o in face.openings if o.bottom <= foot and o.top >= head]
        met = [o for o in face.openings if o.bottom <= head and o.top >= foot and o not in split]
        edges = [0.0, *sorted(x for o in split for x in (o.left, o.right)), right]
        for a, b in zip(edges[::2], edges[1::2], strict=True):
            shut = tuple(
                (int((o.left - 1) * MARKS), int((o.right + 1) * MARKS))
                for o in met + split
                if o.left < b and o.right > a
            )
            found.append(SmallRun(course, round((a + gap) * MARKS), round((b - gap) * MARKS), shut))
    return found


def can_be_done(
    runs: Sequence[SmallRun], bars: int, length: float, family: str = "panel", most_seams: int = 1000
) -> bool | None:
    """Whether some number of bars is enough; None when the solver does not decide in time.

    Every end may be kept as long as one likes: what cannot be done here cannot be done with a small heap.

    Args:
        runs: what is to be covered.
        bars: how many there are.
        length: of one [in].
        family: panel or lap.
        most_seams: in all runs.
    """
    wall = _Wall(runs, bars, length, family)
    wall.model.add(sum(wall.seams) <= most_seams)
    status = _solver(120).solve(wall.model)
    return {cp_model.OPTIMAL: True, cp_model.FEASIBLE: True, cp_model.INFEASIBLE: False}.get(status)


def least_spent(
    runs: Sequence[SmallRun], bars: int, length: float, family: str, heap: int, seconds: float = 60
) -> tuple[int, int] | None:
    """The least that lengths and seams cost with a small heap, and what is proven; None for nothing found.

    Args:
        runs: what is to be covered, in the order of hanging.
        bars: the most that there are.
        length: of one [in].
        family: panel or lap.
        heap: ends that may wait at once.
        seconds: of the solver, on its own count.

    Returns:
        The best plan's cost, a length counting as six seams, and a bound that no plan is below.
    """
    wall = _Wall(runs, bars, length, family)
    used = wall.hang_in_order(heap)
    wall.model.minimize(WORTH * sum(used) + sum(wall.seams))
    solver = _solver(seconds)
    if solver.solve(wall.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return round(solver.objective_value), ceil(solver.best_objective_bound - 1e-6)


def _solver(seconds: float) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_deterministic_time = seconds
    return solver


class _Wall:
    """Pieces, seams and bars of some runs as a model.

    Args:
        runs: what is to be covered.
        bars: how many there are.
        length: of one [in].
        family: panel or lap.
    """

    def __init__(self, runs: Sequence[SmallRun], bars: int, length: float, family: str) -> None:
        self.model = cp_model.CpModel()
        panel = family == "panel"
        self.panel, self.bars, self.bar = panel, bars, round(length * MARKS)
        self.kerf, self.over, courses = (0, MARKS, 3) if panel else (KERF, -JOINT, 2)
        self.loads: list[list[cp_model.IntVar]] = [[] for _ in range(bars)]
        #: By run and by piece from its left, whether it is cut from each bar, in each number of pieces.
        self.cut: list[list[list[list[cp_model.IntVar]]]] = []
        lines: list[tuple[int, cp_model.IntVar, cp_model.IntVar]] = []
        for number, run in enumerate(runs):
            lines += self._run(number, run)
        self.seams = [there for _, _, there in lines]
        for load in self.loads:
            self.model.add(sum(load) <= self.bar + self.kerf)
        for i, (course, line, there) in enumerate(lines):
            for other, second, also in lines[i + 1 :]:
                away = abs(other - course)
                if 1 <= away <= courses:
                    apart = (24 if away == 1 else 6) * MARKS
                    before = self.model.new_bool_var("")
                    self.model.add(line + apart <= second).only_enforce_if(there, also, before)
                    self.model.add(second + apart <= line).only_enforce_if(there, also, before.negated())

    def _run(self, number: int, run: SmallRun) -> list[tuple[int, cp_model.IntVar, cp_model.IntVar]]:
        model, over, bar, shortest = self.model, self.over, self.bar, 24 * MARKS
        size = run.right - run.left
        fewest = 1 if size <= bar else -((over - size) // (bar - over))
        most = 1 if 5 * size <= 2 * bar else fewest + 1
        counts = [k for k in range(fewest, most + 1) if k == 1 or size + (k - 1) * over >= k * shortest]
        chosen = {k: model.new_bool_var(f"run {number} in {k}") for k in counts}
        model.add_exactly_one(chosen.values())
        self.cut.append([[] for _ in range(max(counts))])
        found = []
        for k, there in chosen.items():
            spots = cp_model.Domain(run.left, run.right)
            for a, b in run.shut:
                spots = spots.intersection_with(cp_model.Domain(a + 1, b - 1).complement())
            if not self.panel:
                first, last = -(-run.left // STUDS), run.right // STUDS
                on_studs = cp_model.Domain.from_values([STUDS * n for n in range(first, last + 1)])
                spots = spots.intersection_with(on_studs)
            lines = [model.new_int_var_from_domain(spots, f"seam {number} {k} {i}") for i in range(k - 1)]
            edges = [run.left, *lines, run.right]
            for i in range(k):
                # A panel reaches a lap past the next one's end; a board ends half a joint before its stud.
                ends = (0 if self.panel else i > 0) + (i < k - 1)
                long = edges[i + 1] - edges[i] + (over * ends if self.panel else over * ends // 2)
                if k > 1:
                    model.add(long >= shortest).only_enforce_if(there)
                    model.add(long <= bar).only_enforce_if(there)
                self.cut[number][i].append(self._piece(long, there, f"piece {number} {k} {i}"))
            found += [(run.course, line, there) for line in lines]
        return found

    def _piece(self, size: cp_model.LinearExprT, there: cp_model.IntVar, name: str) -> list[cp_model.IntVar]:
        where = [self.model.new_bool_var(f"{name} in {b}") for b in range(self.bars)]
        self.model.add(sum(where) == 1).only_enforce_if(there)
        self.model.add(sum(where) == 0).only_enforce_if(there.negated())
        for b, chosen in enumerate(where):
            load = self.model.new_int_var(0, self.bar + self.kerf, f"{name} load {b}")
            self.model.add(load >= size + self.kerf).only_enforce_if(chosen)
            self.loads[b].append(load)
        return where

    def hang_in_order(self, heap: int) -> list[cp_model.IntVar]:
        """Whether each bar is used, when so many ends may wait: from a bar's first piece to its last."""
        model = self.model
        pieces = [piece for run in self.cut for piece in run]
        opened, wanted = [], []
        for b in range(self.bars):
            opened.append([model.new_bool_var(f"{b} opened {t}") for t in range(len(pieces))])
            wanted.append([model.new_bool_var(f"{b} wanted {t}") for t in range(len(pieces))])
            for t, piece in enumerate(pieces):
                now = [where[b] for where in piece]
                model.add_max_equality(opened[b][t], [*now, *opened[b][t - 1 : t]] if t else now)
                later = wanted[b][t - 1 : t] if t else []
                for chosen in now:
                    for before in later:
                        model.add_implication(chosen, before)
                for before in later:
                    model.add_implication(wanted[b][t], before)
        for t in range(len(pieces) - 1):
            waits = [model.new_bool_var(f"{b} waits {t}") for b in range(self.bars)]
            for b, wait in enumerate(waits):
                model.add_bool_or(wait, opened[b][t].negated(), wanted[b][t].negated())
            model.add(sum(waits) <= heap)
            for b in range(self.bars - 1):  # bars are numbered as they are opened
                model.add_implication(opened[b + 1][t], opened[b][t])
        return [row[-1] for row in opened]
