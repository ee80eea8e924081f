"""How sure a plan is: what edges can turn out to be when tape and level err.

**The errors.** Every edge's height (head, sill, eave end, base, band board) may be wrong by any amount from
``-error`` to ``error``, each on its own. The datum may be wrong by one amount from ``-error`` to ``error``,
the same all round the building: every butt line then lies that much off. So an edge may lie anywhere from
``-2 error`` to ``2 error`` from where the plan has it, measured from the lines.

**What is exact.** What happens at an edge changes only where a butt line, its tolerance, the cover of a base
or the least strip passes it. Between two such heights nothing changes, so every height that counts is looked
at: the ends of the interval, every change in it, and a height between each two. Nothing is sampled.

**The worst case** of a course set: the most musts that some error misses, the most slivers that some error
makes, the least that is flush under any error. For one error of the datum the edges are free of each other,
so each takes its own worst; the datum's error runs over every value at which any of them changes.

**What holds up best** is decided by ``worst_order``, here and nowhere else.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import ceil
from typing import Literal, NamedTuple

import numpy as np

from evencourse.layout.courses.carrying_on import as_found, met_lines
from evencourse.layout.courses.course_sets import Question, groups, question
from evencourse.layout.courses.edges import edge
from evencourse.layout.model.course_plan import Lines, Plan, Result
from evencourse.layout.model.job import Importance, Job
from evencourse.layout.model.missed_limit import EdgeKind
from evencourse.layout.solver.score import NEAR, WEIGHT_QUANTUM, Rulebook, strict_order
from evencourse.layout.solver.targets import BELOW, Target

#: What can become of an edge, the best first. ``passed``: it lies below the starter line, or is a base that
#: the first course hangs over, and counts neither way.
Fate = Literal["flush", "passed", "notch", "sliver"]
FATES: tuple[Fate, ...] = ("flush", "passed", "notch", "sliver")
_RANK = {fate: rank for rank, fate in enumerate(FATES)}
#: Order in which possible results are told.
_TOLD: tuple[Result, ...] = ("flush", "notch", "sliver")


@dataclass(frozen=True)
class SureEdge:
    """What one edge can turn out to be.

    Attributes:
        face: name of its elevation.
        course_set: whose courses it meets.
        opening: the opening's mark; None for an eave, a base or a band board.
        edge: which edge.
        height: as measured [job units].
        left: x where it begins [job units].
        right: x where it ends [job units].
        importance: how much it matters.
        result: as planned; None when it is passed.
        results: every result that some error gives, in the order flush, notch, sliver.
        may_be_passed: some error puts it below the starter line, or lets the first course hang over it.
        roof: mark of the roof, deck or ledger; None elsewhere.
    """

    face: str
    course_set: str
    opening: str | None
    edge: EdgeKind
    height: float
    left: float
    right: float
    importance: Importance
    result: Result | None
    results: tuple[Result, ...]
    may_be_passed: bool
    roof: str | None = None

    @property
    def sure(self) -> bool:
        """Whether no error changes what happens there."""
        return len(self.results) + self.may_be_passed == 1


@dataclass(frozen=True)
class Worst:
    """The worst case of a course set over all errors; each figure over errors of its own.

    Attributes:
        missed_must: most edges marked ``must`` that are not flush.
        slivers: most slivers.
        flush_weight: least weight of the flush edges.
        flush: fewest flush edges.
    """

    missed_must: int
    slivers: int
    flush_weight: float
    flush: int


class PassedOver(NamedTuple):
    """Lines that would be best as planned, and were passed over for others that hold up better.

    Attributes:
        lines: their starter is told.
        worst: their worst case.
    """

    lines: Lines
    worst: Worst


@dataclass(frozen=True)
class Certainty:
    """How sure a plan is.

    Attributes:
        error: greatest error of a height, and of the datum [job units].
        edges: every edge that siding meets as planned or can meet, by face, then by height.
        worst: the worst case of every course set.
        passed_over: for course sets whose starter was chosen because it holds up, the lines that would be
            best as planned, and their worst case.
        robust: course sets whose starter was free to be chosen because it holds up.
    """

    error: float
    edges: tuple[SureEdge, ...]
    worst: Mapping[str, Worst]
    passed_over: Mapping[str, PassedOver] = field(default_factory=dict)
    robust: frozenset[str] = frozenset()


def certainty(plan: Plan, error: float, best: Plan | None = None) -> Certainty:
    """What every edge of a plan can turn out to be.

    Args:
        plan: the plan; its butt lines are taken as they stand.
        error: greatest error of a height, and of the datum; not negative [job units].
        best: the plan that is best as planned, when this one was chosen because it holds up.
    """
    edges: list[SureEdge] = []
    worst, passed_over, robust = {}, {}, set()
    for name, group in groups(plan.job).items():
        asked = question(plan.job, group)
        lines = plan.course_sets[name].lines
        own = {
            face.elevation.name: [line for line in face.built if line.course_set == name]
            for face in plan.elevations
        }
        met = met_lines(plan.job, lines, own, asked.book)
        worst[name] = worst_case(asked, lines, error, met)
        other = best.course_sets[name].lines if best else lines
        if best and not plan.job.as_built.of(name) and len(asked.marks()) > 1:
            robust.add(name)
        if other.starter != lines.starter:
            passed_over[name] = PassedOver(other, worst_case(asked, other, error))
        for target in asked.targets:
            if target.kind == "base":
                continue  # it counts in the worst case; what begins there stands on sheets and lists
            there = met(target)
            fates = possible(target, there, asked.book, error)
            if fates == {"passed"}:
                continue
            found = edge(target, there, asked.book, name)
            results = tuple(result for result in _TOLD if result in fates)
            edges.append(
                SureEdge(
                    target.face, name, target.opening.mark if target.opening else None, target.kind,
                    target.height, target.left, target.right, target.importance,
                    found.result if found else None, results, "passed" in fates,
                    target.roof.mark if target.roof else None,
                )
            )  # fmt: skip
    order = {face.elevation.name: place for place, face in enumerate(plan.elevations)}
    edges.sort(key=lambda found: (order[found.face], found.height, found.left, found.edge))
    return Certainty(error, tuple(edges), worst, passed_over, frozenset(robust))


def possible(target: Target, lines: Lines, book: Rulebook, error: float) -> frozenset[Fate]:
    """Everything that can become of one edge.

    Args:
        target: the edge as measured.
        lines: the course lines it meets.
        book: tolerance and strip limits.
        error: greatest error of a height, and of the datum [job units].
    """
    steps = _steps(target, _carried_on(lines, error), book, error)
    return frozenset(FATES[rank] for rank in (*steps.at, *steps.between))


def worst_case(
    asked: Question, lines: Lines, error: float, met: Callable[[Target], Lines] | None = None
) -> Worst:
    """The worst case of one course set over all errors.

    Args:
        asked: its edges and the objective's numbers.
        lines: the course lines, as they stand.
        error: greatest error of a height, and of the datum [job units].
        met: the lines that an edge meets, where faces have their own; None: all meet the same.
    """
    book = asked.book
    slack = 100 * NEAR * book.inch
    counted = [target for target in asked.targets if target.importance != "ignore"]
    all_steps = [
        _steps(target, _carried_on(met(target) if met else lines, error), book, error) for target in counted
    ]
    changes = {-error, error}
    for target, steps in zip(counted, all_steps, strict=True):
        for height in steps.heights:
            off = height - target.height
            changes |= {at for at in (off - error, off + error) if -error <= at <= error}
    ends = _apart(sorted(changes), slack)
    shifts = np.array(sorted([*ends, *((a + b) / 2 for a, b in pairwise(ends))]))
    musts, slivers, weights, flush = (np.zeros(len(shifts), dtype=np.int64) for _ in range(4))
    for target, steps in zip(counted, all_steps, strict=True):
        low, high = target.height + shifts - error, target.height + shifts + error
        rank = np.zeros(len(shifts), dtype=np.int64)
        for height, fate in zip(steps.heights, steps.at, strict=True):
            here = (height >= low - slack) & (height <= high + slack)
            rank = np.where(here, np.maximum(rank, fate), rank)
        for foot, head, fate in zip(steps.heights, steps.heights[1:], steps.between, strict=False):
            here = (foot < high - slack) & (head > low + slack)
            rank = np.where(here, np.maximum(rank, fate), rank)
        musts += (rank >= _RANK["notch"]) & (target.importance == "must")
        slivers += rank == _RANK["sliver"]
        flush += (rank == _RANK["flush"]) & (target.kind != "base")
        weights += np.where(rank == _RANK["flush"], round(target.weight * WEIGHT_QUANTUM), 0)
    return Worst(int(musts.max()), int(slivers.max()), int(weights.min()) / WEIGHT_QUANTUM, int(flush.min()))


def worst_order(lines: Lines, worst: Worst) -> tuple[float, ...]:
    """How well lines hold up: compared term by term, less is better.

    Limits that the starter passes, for no error moves them; then the worst case: musts missed, slivers, and
    weight that stays flush. Between lines that hold up alike the objective as planned decides.

    Args:
        lines: course lines with their score as planned.
        worst: their worst case.
    """
    return (
        lines.score.limits,
        worst.missed_must,
        worst.slivers,
        -worst.flush_weight,
        *strict_order(lines.score),
    )


def robust_starters(job: Job, error: float) -> dict[str, float]:
    """The starters that hold up best against errors.

    Args:
        job: what was measured.
        error: greatest error of a height, and of the datum [job units].

    Returns:
        For every course set whose starter is free (nothing of it hangs), the mark of the tape whose best
        lines have the least ``worst_order``; of equal ones the lowest [job units].
    """
    chosen = {}
    found = as_found(job)
    for name, group in groups(found).items():
        asked = question(found, group)
        if job.as_built.of(name) or len(asked.marks()) == 1:
            continue
        chosen[name] = holding_up_best(asked, error).starter
    return chosen


def holding_up_best(asked: Question, error: float) -> Lines:
    """Of the best lines from every mark those of the least ``worst_order``; of equal ones the lowest.

    Args:
        asked: the edges of a course set and where its starter may lie.
        error: greatest error of a height, and of the datum; not negative [job units].
    """
    return min(asked.from_each_mark(), key=lambda lines: worst_order(lines, worst_case(asked, lines, error)))


@dataclass(frozen=True)
class _Steps:
    """Where an edge's fate changes, over the heights that it may have.

    Attributes:
        heights: ascending, from the lowest height to the greatest [job units].
        at: the fate's rank at each.
        between: its rank between each two.
    """

    heights: tuple[float, ...]
    at: tuple[int, ...]
    between: tuple[int, ...]


def _steps(target: Target, lines: Lines, book: Rulebook, error: float) -> _Steps:
    low, high = target.height - 2 * error, target.height + 2 * error
    butts = lines.butt_lines
    based = target.kind == "base"
    reach = max(book.tolerance, book.strip_min, book.cover_max)
    near = butts[bisect_left(butts, low - reach) : bisect_right(butts, high + reach)]
    strip = book.strip_min if target.kind in BELOW else -book.strip_min
    offs = (book.cover_min, book.cover_max, strip) if based else (-book.tolerance, book.tolerance, strip)
    changes = {butt + off for butt in near for off in offs}
    changes |= {lines.starter, lines.starter + book.cover_run}
    inside = sorted(height for height in (*changes, *near) if low < height < high)
    heights = _apart([low, *inside, high], 100 * NEAR * book.inch)
    middles = [(a + b) / 2 for a, b in pairwise(heights)]
    bare = replace(target, opening=None)

    def rank(height: float) -> int:
        found = edge(replace(bare, height=height), lines, book, "")
        return _RANK[found.result if found else "passed"]

    return _Steps(tuple(heights), tuple(map(rank, heights)), tuple(map(rank, middles)))


def _apart(heights: Sequence[float], slack: float) -> list[float]:
    """Ascending heights without those that are the same as the one before; the last is always kept."""
    kept: list[float] = []
    for height in heights:
        if not kept or height - kept[-1] > slack:
            kept.append(height)
    if heights[-1] - kept[-1] > 0:
        kept[-1] = heights[-1]
    return kept


def _carried_on(lines: Lines, error: float) -> Lines:
    """The same lines with courses enough above the highest point for edges that turn out to lie higher."""
    exposure = lines.bands[-1].exposure
    more = ceil(2 * error / exposure) + 1
    last = lines.butt_lines[-1]
    return replace(lines, butt_lines=(*lines.butt_lines, *(last + exposure * k for k in range(1, more + 1))))
