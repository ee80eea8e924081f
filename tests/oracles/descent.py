"""Descent over answers of real-sized walls from many random starts at once, each bettered move by move.

An answer here is a starter, ties with the number of courses up to each, and the exposure above the last.
Moves shift, add, drop and recount ties, move the starter, and change the ending. Heights may be the
candidates of the objective or, with ``free``, any height at all. The terms are counted from butt lines alone.
"""

from __future__ import annotations

import random
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from evencourse.layout.solver.targets import Target
from tests.oracles.lapwalls import (
    BELOW,
    COVER_MIN,
    COVER_WANTED,
    EAVE_MIN,
    EAVES,
    JUMP_MAX,
    JUMP_UNSEEN,
    LENGTHS,
    SAME,
    STRIP_MIN,
    WEIGHTS,
    Butts,
    LapWall,
    Terms,
    behind,
    candidates,
    cover_max,
)

Answer = tuple[float, tuple[tuple[float, int], ...], bool]
#: Rounds of the descent: the best share of all starts goes on, and so many moves are tried on each.
ROUNDS = ((1.0, 15), (0.2, 80), (0.05, 200), (0.02, 400))
#: Shifts of a free tie are drawn from these, and from between [inches].
SHIFTS = (1 / 16, 1 / 32, 0.01, 0.001)


@dataclass(frozen=True)
class Found:
    """What a descent ended on.

    Attributes:
        terms: of the best answer.
        butts: its butt lines.
    """

    terms: Terms
    butts: Butts


def descend(
    wall: LapWall,
    starts: int,
    seed: int,
    free: bool = False,
    given: Sequence[Butts] = (),
) -> Found:
    """The best answer that so many random starts come down to.

    Args:
        wall: the wall.
        starts: answers bettered side by side.
        seed: of the random numbers.
        free: ties may lie at any height.
        given: butt lines to start from as well: a fifth of the starts are these with a few moves made.
    """
    chance = random.Random(f"descent {seed}")
    ways = _Moves(wall, chance, free)
    now = [ways.start() for _ in range(starts)]
    for place, butts in enumerate(given[: max(1, starts // 5)] * (starts // 5 // max(1, len(given)))):
        answer = ways.of_lines(butts)
        for _ in range(chance.randrange(0, 5)):
            answer = ways.move(answer) or answer
        now[place] = answer
    terms = many_objectives(wall, [ways.butts(answer) for answer in now])
    for share, moves in ROUNDS:
        kept = np.lexsort(terms.T[::-1])[: max(1, round(starts * share))]
        now, terms = [now[place] for place in kept], terms[kept]
        for _ in range(moves):
            tried = [(place, moved) for place, answer in enumerate(now) if (moved := ways.move(answer))]
            if not tried:
                continue
            after = many_objectives(wall, [ways.butts(moved) for _, moved in tried])
            for row, (place, moved) in zip(after, tried, strict=True):
                if tuple(row) <= tuple(terms[place]):
                    now[place], terms[place] = moved, row
    best = int(np.lexsort(terms.T[::-1])[0])
    return Found(tuple(int(value) for value in terms[best]), ways.butts(now[best]))


class _Moves:
    """Answers of one wall and the ways to change one."""

    def __init__(self, wall: LapWall, chance: random.Random, free: bool) -> None:
        self.wall, self.chance, self.free = wall, chance, free
        self.ties = candidates(wall, wall.mark)
        self.need = wall.top - wall.tolerance - 1e-9

    def counts(self, span: float) -> range:
        siding = self.wall.siding
        fewest = max(1, ceil(span / siding.exposure_max - 1e-9))
        return range(fewest, floor(span / siding.exposure_min + 1e-9) + 1)

    def start(self) -> Answer:
        """Ties at random, from none to one at every edge that can be reached."""
        chance = self.chance
        starter = foot = chance.choice(self.wall.starters)
        ties: list[tuple[float, int]] = []
        reach = chance.choice([20.0, 40.0, 80.0, 200.0])
        while self.ties and chance.random() < 0.95:
            low = bisect_left(self.ties, foot + self.wall.siding.exposure_min - 1e-9)
            high = bisect_right(self.ties, foot + reach)
            if low >= high:
                break
            tie = self.ties[chance.randrange(low, high)]
            counts = self.counts(tie - foot)
            if len(counts):
                ties.append((tie, chance.choice(counts)))
                foot = tie
            elif chance.random() < 0.3:
                break
        return starter, tuple(ties), chance.random() < 0.7

    def of_lines(self, butts: Butts) -> Answer:
        """Lines as an answer: a tie wherever the exposure changes."""
        ties: list[tuple[float, int]] = []
        courses = 0
        for index in range(1, len(butts) - 1):
            courses += 1
            if abs(butts[index + 1] - 2 * butts[index] + butts[index - 1]) > SAME:
                ties.append((butts[index], courses))
                courses = 0
        exposure = butts[-1] - butts[-2]
        if not ties or abs(exposure - self.wall.siding.exposure) > SAME:
            for back in range(courses + 1):  # the last tie is the highest line on a candidate
                height = butts[len(butts) - 1 - back]
                at = bisect_left(self.ties, height - SAME)
                if courses + 1 - back > 0 and at < len(self.ties) and self.ties[at] < height + SAME:
                    return butts[0], (*ties, (self.ties[at], courses + 1 - back)), True
        return butts[0], tuple(ties), False

    def butts(self, answer: Answer) -> Butts:
        starter, ties, own = answer
        lines, exposure = [starter], self.wall.siding.exposure
        for tie, courses in ties:
            foot = lines[-1]
            step = (tie - foot) / courses
            lines += [foot + step * k for k in range(1, courses)]
            lines.append(tie)
            if own:
                exposure = step
        while lines[-1] < self.need or len(lines) == 1:
            lines.append(lines[-1] + exposure)
        return tuple(lines)

    def move(self, answer: Answer) -> Answer | None:
        """One change at random; None when what comes of it may not hang."""
        chance = self.chance
        starter, old, own = answer
        ties = list(old)
        kind = chance.choices(range(6), [6, 3, 2, 3, 2, 1])[0]
        if kind == 4:
            starter = chance.choice(self.wall.starters)
        elif kind == 5:
            own = not own
        elif kind == 1 or not ties:
            if not self.ties:
                return None
            ties.append((chance.choice(self.ties), 0))
            ties.sort()
        elif kind == 0:
            place = chance.randrange(len(ties))
            ties[place] = (self._shifted(ties[place][0]), ties[place][1])
            if chance.random() < 0.3 and len(ties) > 1:
                place = min(len(ties) - 1, place + 1)
                ties[place] = (self._shifted(ties[place][0]), ties[place][1])
            ties.sort()
        elif kind == 2:
            del ties[chance.randrange(len(ties))]
        else:
            place = chance.randrange(len(ties))
            ties[place] = (ties[place][0], ties[place][1] + chance.choice([-1, 1]))
            if chance.random() < 0.5 and place + 1 < len(ties):
                ties[place + 1] = (ties[place + 1][0], 0)
        foot, made = starter, []
        for tie, courses in ties:
            counts = self.counts(tie - foot) if tie > foot + SAME else range(0)
            if not len(counts):
                return None
            made.append((tie, courses if courses in counts else chance.choice(counts)))
            foot = tie
        return starter, tuple(made), own

    def _shifted(self, tie: float) -> float:
        chance = self.chance
        if self.free and chance.random() < 0.7:
            away = chance.choice(SHIFTS) * (1 if chance.random() < 0.5 else chance.random())
            return min(self.wall.top + self.wall.tolerance, tie + chance.choice([-1, 1]) * away)
        at = bisect_left(self.ties, tie - SAME) + chance.choice([-3, -2, -1, -1, 1, 1, 2, 3])
        return self.ties[max(0, min(len(self.ties) - 1, at))]


def many_objectives(wall: LapWall, answers: Sequence[Butts]) -> NDArray[np.int64]:
    """The terms of many answers, one a row, as ``tests.oracles.lapwalls.objective`` counts them."""
    longest = max(map(len, answers))
    lines = np.array([(*butts, *(np.inf,) * (longest - len(butts))) for butts in answers])
    sizes = np.array([len(butts) for butts in answers])
    alike: dict[tuple[float, bool, bool, bool], list[Target]] = {}
    for target in wall.counted:
        key = (target.height, target.kind in BELOW, target.kind in EAVES, target.kind == "base")
        alike.setdefault(key, []).append(target)
    h = np.array([key[0] for key in alike], dtype=np.float64)[None, :]
    below, eave, base = (np.array([key[k] for key in alike], dtype=np.bool_) for k in (1, 2, 3))
    count = np.array([len(edges) for edges in alike.values()], dtype=np.int64)
    must = np.array([sum(t.importance == "must" for t in edges) for edges in alike.values()], dtype=np.int64)
    weight = np.array(
        [sum(round(t.weight * WEIGHTS) for t in edges) for edges in alike.values()], dtype=np.int64
    )
    starter, siding = lines[:, :1], wall.siding
    terms = np.zeros((len(answers), 10), dtype=np.int64)
    if alike:
        apart = 1e4 * np.arange(len(answers))[:, None]  # one ascending list of all lines finds every place
        ascending = (np.minimum(lines, 5e3) + apart).ravel()
        place = np.searchsorted(ascending, (h + 1e-6 + apart).ravel()).reshape(len(answers), -1)
        place -= 1 + longest * np.arange(len(answers))[:, None]
        place = np.clip(place, 0, (sizes - 2)[:, None])
        foot, head = np.take_along_axis(lines, place, 1), np.take_along_axis(lines, place + 1, 1)
        cut, exposure = h - foot, head - foot
        off = np.minimum(np.abs(cut), np.abs(head - h))
        covered = (cut >= COVER_MIN - 1e-9) & (cut <= cover_max(siding) + 1e-9)
        met = np.where(base, covered, off <= wall.tolerance + 1e-9)
        counts = (h > starter + SAME) & (met | ~(base & (h <= starter + wall.run + 1e-9)))
        flush, lost = counts & met, counts & ~met
        off = np.where(base, np.maximum(0.0, cut - COVER_WANTED), off)
        packing = behind(siding, cut, exposure)
        terms[:, 1] = lost @ must
        terms[:, 3] = (lost & (np.where(below, cut, exposure - cut) < STRIP_MIN - 1e-9)) @ count
        terms[:, 4] = -(flush @ weight)
        terms[:, 5] = np.where(flush, _quanta(off), 0) @ count
        terms[:, 8] = np.where(lost & eave, _quanta(np.maximum(0.0, EAVE_MIN - cut)), 0) @ count
        terms[:, 9] = np.where(lost, _quanta(packing), 0) @ count
    real = np.arange(longest - 1)[None, :] < (sizes - 1)[:, None]
    with np.errstate(invalid="ignore"):
        exposures = np.where(real, np.diff(lines, axis=1), 0.0)
    change = np.where(real[:, 1:], np.abs(np.diff(exposures, axis=1)), 0.0)
    new = change >= SAME
    terms[:, 2] = np.where(new, _quanta(np.maximum(0.0, change - JUMP_MAX)), 0).sum(axis=1)
    terms[:, 5] += np.where(new, _quanta(np.maximum(0.0, change - JUMP_UNSEEN)), 0).sum(axis=1)
    terms[:, 6] = 1 + new.sum(axis=1) + (new[:, 1:] & new[:, :-1]).sum(axis=1)
    terms[:, 7] = np.where(real, _quanta(np.abs(exposures - siding.exposure)), 0).sum(axis=1)
    return terms


def _quanta(lengths: NDArray[np.float64]) -> NDArray[np.int64]:
    return np.floor(lengths * LENGTHS + 0.5 + 1e-6).astype(np.int64)
