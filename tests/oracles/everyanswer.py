"""Brute force over lapped courses: every starter, every chain of ties, every number of courses, both endings.

Nothing is left out but answers whose terms so far are already worse than those of a whole answer in hand:
every term only grows from the base up when the weight of edges that are lost is counted in place of the
weight of those that are flush. The terms of one answer are packed into three whole numbers, each a sum of
its stretches' own, so that thousands of answers are lengthened by one stretch at once.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

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
    objective,
)

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
#: Places in the three packed numbers: missed musts, wide jumps, slivers, lost weight; what is seen, bands,
#: off nominal; thin eaves, furring. Each has room for the sums of a small wall.
MUST, WIDE, SLIVER, LOST = 1 << 52, 1 << 30, 1 << 22, 1
SEEN, BAND, OFF = 1 << 34, 1 << 26, 1
THIN, FURRING = 1 << 24, 1
#: Answers lengthened at once.
BLOCK = 2_000_000
#: Answers beyond those wanted that are scored line by line: packed terms can differ in their last digits.
SPARE = 8
_BARRED = np.iinfo(np.int64).max // 8
#: Answers kept at every tie by the quick look that gives an answer in hand.
QUICK = 200
Best = list[tuple[Terms, Butts]]


def _quanta(lengths: Floats) -> Ints:
    """Whole ten-thousandths of an inch, as :func:`tests.oracles.lapwalls.quanta` counts them."""
    return np.floor(lengths * LENGTHS + 0.5 + 1e-6).astype(np.int64)


@dataclass(frozen=True)
class _Partial:
    """Answers up to a tie: their number in the log, and what the next stretch must know of the last band.

    ``run`` counts the courses of the last band, ``inner`` says that another lies below it.
    """

    number: Ints
    exposure: Floats
    run: Ints
    inner: NDArray[np.bool_]
    keys: Ints

    def take(self, chosen: Ints) -> _Partial:
        return _Partial(
            self.number[chosen], self.exposure[chosen], self.run[chosen], self.inner[chosen],
            self.keys[:, chosen],
        )  # fmt: skip

    def links(self, exposure: Floats) -> tuple[Ints, NDArray[np.bool_]]:
        """What going on with each exposure adds to the packed terms (3, n, m), and where it is no change."""
        change = np.abs(self.exposure[:, None] - exposure[None, :])
        same = change < SAME
        keys = np.zeros((3, *change.shape), dtype=np.int64)
        keys[0] = _quanta(np.maximum(0.0, change - JUMP_MAX)) * WIDE
        keys[1] = _quanta(np.maximum(0.0, change - JUMP_UNSEEN)) * SEEN
        lone = (self.inner & (self.run == 1))[:, None]
        keys[1] += np.where(same, 0, 1 + lone) * BAND
        return keys, same


@dataclass(frozen=True)
class _Stretches:
    """Stretches of equal courses from one foot: where they end (a candidate's number), courses, exposure."""

    end: Ints
    courses: Ints
    exposure: Floats
    keys: Ints


class Everything:
    """Every answer of a wall.

    Args:
        wall: the wall.
        mark: ties lie on marks this far apart; None: the tape's own [inches].
        flush: only answers in which these edges (numbers of ``wall.targets``) are flush.
        starter_marks: where butt line 1 may lie; None: the wall's own.
    """

    def __init__(
        self,
        wall: LapWall,
        mark: float | None = None,
        flush: tuple[int, ...] = (),
        starter_marks: tuple[float, ...] | None = None,
    ) -> None:
        self.wall = wall
        self.forced = np.array(
            [i in flush for i, t in enumerate(wall.targets) if t.importance != "ignore"], dtype=np.bool_
        )
        self.starters = wall.starters if starter_marks is None else starter_marks
        self.ties = np.array(candidates(wall, mark or wall.mark), dtype=np.float64)
        edges = wall.counted
        self.height = np.array([t.height for t in edges], dtype=np.float64)
        self.below = np.array([t.kind in BELOW for t in edges], dtype=np.bool_)
        self.eave = np.array([t.kind in EAVES for t in edges], dtype=np.bool_)
        self.base = np.array([t.kind == "base" for t in edges], dtype=np.bool_)
        self.must = np.array([t.importance == "must" for t in edges], dtype=np.int64)
        self.weight = np.array([round(t.weight * WEIGHTS) for t in edges], dtype=np.int64)
        self.from_tie = [self._stretches(float(tie), False) for tie in self.ties]
        self.from_start = [self._stretches(starter, True) for starter in self.starters]

    def best(self, keep: int = 1) -> Best:
        """The best answers that differ in their butt lines, with their terms; empty when there is none."""
        quick = _Search(self, keep, None, QUICK).run()
        limit = quick[-1][0] if len(quick) == keep else None
        found = _Search(self, keep, limit, None).run()
        return sorted((objective(self.wall, butts), butts) for _, butts in found)[:keep]

    def keys(self, feet: Floats, exposure: Floats, ends: Floats, first: bool) -> Ints:
        """The packed terms of edges in many stretches, (3, n)."""
        siding = self.wall.siding
        h = self.height[None, :]
        foot, e, end = feet[:, None], exposure[:, None], ends[:, None]
        standing = h > foot + SAME
        passed = np.zeros_like(standing)
        cut = np.mod(h - foot, e)
        cut = np.where(e - cut < SAME, 0.0, cut)
        off = np.minimum(cut, e - cut)
        met = (cut >= COVER_MIN - 1e-9) & (cut <= cover_max(siding) + 1e-9)
        flush = np.where(self.base, met, off <= self.wall.tolerance + 1e-9)
        if first:
            hung = self.base[None, :] & (h <= foot + self.wall.run + 1e-9) & ~flush
            passed = ~standing | hung
            standing &= ~hung
        inside = standing & (h <= end + SAME)
        lost = inside & ~flush
        left = np.where(self.below, cut, e - cut)
        packing = _quanta(behind(siding, cut, e))
        thin = _quanta(np.maximum(0.0, EAVE_MIN - cut))
        one = (
            np.where(lost, self.must, 0) * MUST
            + (lost & (left < STRIP_MIN - 1e-9)) * SLIVER
            + np.where(lost | passed, self.weight, 0) * LOST
        )
        seen = np.where(self.base, np.maximum(0.0, cut - COVER_WANTED), off)
        two = np.where(inside & flush, _quanta(seen), 0) * SEEN
        three = np.where(lost & self.eave, thin, 0) * THIN + np.where(lost, packing, 0) * FURRING
        keys = np.stack([one.sum(1), two.sum(1), three.sum(1)])
        barred = ((lost | passed) & self.forced[None, :]).any(axis=1)
        keys[0, barred] = _BARRED
        return keys

    def _stretches(self, foot: float, first: bool) -> _Stretches:
        siding = self.wall.siding
        ends, courses = [], []
        for number, tie in enumerate(self.ties):
            span = tie - foot
            if span < SAME:
                continue
            low = max(1, int(np.ceil(span / siding.exposure_max - 1e-9)))
            high = int(np.floor(span / siding.exposure_min + 1e-9))
            ends += [number] * max(0, high - low + 1)
            courses += range(low, high + 1)
        end = np.array(ends, dtype=np.int64)
        count = np.array(courses, dtype=np.int64)
        exposure = (self.ties[end] - foot) / count if len(end) else np.zeros(0)
        keys = self.keys(np.full(len(end), foot), exposure, self.ties[end] if len(end) else exposure, first)
        keys[1] += count * self.off_nominal(exposure) * OFF
        return _Stretches(end, count, exposure, keys)

    def off_nominal(self, exposure: Floats) -> Ints:
        return _quanta(np.abs(exposure - self.wall.siding.exposure))

    def rest(self, foot: float, exposure: Floats, first: bool) -> tuple[Ints, Ints]:
        """Courses of an exposure that cover the rest of the wall above a foot, and their packed terms."""
        left = self.wall.top - self.wall.tolerance - foot
        courses = np.maximum(1 if first else 0, np.ceil(left / exposure - 1e-9)).astype(np.int64)
        keys = self.keys(np.full(len(exposure), foot), exposure, np.full(len(exposure), np.inf), first)
        keys[1] += courses * self.off_nominal(exposure) * OFF
        return courses, keys


class _Search:
    """One walk from the base up: ``limit`` drops answers that are worse already, ``quick`` all but a few."""

    def __init__(self, every: Everything, keep: int, limit: Ints | None, quick: int | None) -> None:
        self.every, self.keep, self.limit, self.quick = every, keep, limit, quick
        self.arrived: list[list[_Partial]] = [[] for _ in every.ties]
        self.log: list[tuple[Ints, Ints, Floats, Ints]] = []
        self.logged = 0
        self.done: list[tuple[Ints, Ints, Ints, Floats]] = []
        self.number = 0

    def run(self) -> list[tuple[Ints, Butts]]:
        """Answers with their packed terms, best first."""
        every = self.every
        nominal = np.array([every.wall.siding.exposure])
        for number, (starter, leaving) in enumerate(zip(every.starters, every.from_start, strict=True)):
            courses, keys = every.rest(starter, nominal, True)
            keys[1] += BAND
            self._note(keys, np.array([-1 - number]), courses, nominal)
            keys = leaving.keys.copy()
            keys[1] += BAND
            count = len(leaving.end)
            self._deal(
                keys, np.full(count, -1 - number), leaving, np.arange(count), leaving.courses,
                np.zeros(count, dtype=np.bool_),
            )  # fmt: skip
        for tie in range(len(every.ties)):
            parts = self.arrived[tie]
            if not parts:
                continue
            here = _Partial(
                np.concatenate([p.number for p in parts]), np.concatenate([p.exposure for p in parts]),
                np.concatenate([p.run for p in parts]), np.concatenate([p.inner for p in parts]),
                np.concatenate([p.keys for p in parts], axis=1),
            )  # fmt: skip
            self.arrived[tie] = []
            if self.quick is not None:
                here = here.take(np.lexsort(here.keys[::-1])[: self.quick])
            self._finish(here, float(every.ties[tie]))
            self._lengthen(here, every.from_tie[tie])
        return self._answers()

    def _within(self, keys: Ints) -> Ints:
        """Which are not worse than the limit."""
        if self.limit is None:
            return np.nonzero(keys[0] < _BARRED)[0]
        worse = keys[0] > self.limit[0]
        worse |= (keys[0] == self.limit[0]) & (keys[1] > self.limit[1])
        return np.nonzero(~worse)[0]

    def _deal(
        self, keys: Ints, parent: Ints, leaving: _Stretches, which: Ints, run: Ints, inner: NDArray[np.bool_]
    ) -> None:
        """Hand answers to the ties that their last stretches end on."""
        kept = self._within(keys)
        which = which[kept]
        end, exposure = leaving.end[which], leaving.exposure[which]
        self.log.append((parent[kept], leaving.courses[which], exposure, end))
        number = self.logged + np.arange(len(kept))
        self.logged += len(kept)
        made = _Partial(number, exposure, run[kept], inner[kept], keys[:, kept])
        ranked = np.argsort(end, kind="stable")
        cuts = np.searchsorted(end[ranked], np.arange(len(self.arrived) + 1))
        for tie in np.unique(end):
            self.arrived[int(tie)].append(made.take(ranked[cuts[tie] : cuts[tie + 1]]))

    def _finish(self, here: _Partial, foot: float) -> None:
        """Both endings: the exposure that arrived, or the nominal one, up over the top."""
        wall = self.every.wall
        own, which = np.unique(here.exposure, return_inverse=True)
        courses, keys = self.every.rest(foot, own, False)
        self._note(here.keys + keys[:, which], here.number, courses[which], here.exposure)
        if foot < wall.top - wall.tolerance - SAME:
            nominal = np.array([wall.siding.exposure])
            courses, keys = self.every.rest(foot, nominal, False)
            links, _ = here.links(nominal)
            many = len(here.number)
            self._note(
                here.keys + keys + links[:, :, 0], here.number, np.repeat(courses, many),
                np.repeat(nominal, many),
            )  # fmt: skip

    def _note(self, keys: Ints, number: Ints, courses: Ints, exposure: Floats) -> None:
        kept = self._within(keys)
        if self.quick is not None:
            kept = kept[np.lexsort(keys[::-1, kept])[: 60 * self.keep]]
        self.done.append((keys[:, kept], number[kept], courses[kept], exposure[kept]))

    def _lengthen(self, here: _Partial, leaving: _Stretches) -> None:
        ways = len(leaving.end)
        for at in range(0, len(here.number) if ways else 0, max(1, BLOCK // max(1, ways))):
            rows = here.take(np.arange(at, min(at + max(1, BLOCK // ways), len(here.number))))
            links, same = rows.links(leaving.exposure)
            keys = (rows.keys[:, :, None] + leaving.keys[:, None, :] + links).reshape(3, -1)
            kept = self._within(keys)
            i, j = kept // ways, kept % ways
            carried = same[i, j]
            self._deal(
                keys[:, kept], rows.number[i], leaving, j,
                np.where(carried, rows.run[i], 0) + leaving.courses[j],
                np.where(carried, rows.inner[i], True),
            )  # fmt: skip

    def _answers(self) -> list[tuple[Ints, Butts]]:
        keys = np.concatenate([entry[0] for entry in self.done], axis=1)
        number = np.concatenate([entry[1] for entry in self.done])
        courses = np.concatenate([entry[2] for entry in self.done])
        exposure = np.concatenate([entry[3] for entry in self.done])
        log = [np.concatenate([entry[k] for entry in self.log]) for k in range(4)]
        found: dict[tuple[int, ...], tuple[Ints, Butts]] = {}
        for i in np.lexsort(keys[::-1]):
            steps, at = [(int(courses[i]), float(exposure[i]), None)], int(number[i])
            while at >= 0:
                end = float(self.every.ties[log[3][at]])
                steps.append((int(log[1][at]), float(log[2][at]), end))
                at = int(log[0][at])
            butts: Butts = (self.every.starters[-1 - at],)
            for count, size, end_at in reversed(steps):
                butts = (*butts, *(butts[-1] + size * k for k in range(1, count + 1)))
                if end_at is not None:
                    butts = (*butts[:-1], end_at)
            found.setdefault(tuple(round(butt / SAME / 10) for butt in butts), (keys[:, i], butts))
            if len(found) >= self.keep + SPARE:
                break
        return list(found.values())[: self.keep if self.quick is not None else None]
