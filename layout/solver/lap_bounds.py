"""How good an answer through a band can be at best: what lets the search leave most bands out.

The terms that come before all that shows (musts missed, wide jumps, slivers, weight of flush edges) are
packed into one whole number, the key: it compares as they do in strict order. Flush weight is counted by what
is not flush, so that every part of it is at least 0. The key of a band is exact but for what single precision
leaves open, and that counts in its favour. The key of a link is a lower bound: exposures are gathered into
slots, and between two slots the least change counts. So the least key of a way through a band is a lower
bound of every answer that uses it, and one pass up and one pass down give it for all bands.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil, gcd
from typing import TYPE_CHECKING

import numpy as np

from evencourse.layout.solver.lap_bands import Bands
from evencourse.layout.solver.score import (
    FLUSH_WEIGHT,
    MISSED_MUST,
    NEAR,
    QUANTUM,
    SLIVERS,
    WIDE_JUMP,
    Columns,
    Rulebook,
    standing,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from evencourse.layout.solver.score import Floats, Ints
    from evencourse.layout.solver.targets import Target

#: Greater than any key; sums of three still are whole numbers of 64 bits.
NEVER = 1 << 61
#: Slots of exposure at most, and how wide one is at least [inches].
_SLOTS, _SLOT = 64, 1 / 16
#: Bands that are looked at together: what fits into a processor's own memory is several times faster.
_ROWS = 512
#: Wide jumps are counted in these for the key [quanta]: a hundredth of an inch.
_STEP = QUANTUM // 100


class SearchKey:
    """How the leading terms are packed into one number.

    Attributes:
        unit: what one thousandth of weight is divided by.
    """

    def __init__(self, book: Rulebook, cols: Columns, links: int) -> None:
        reach = book.cladding.exposure_max - book.cladding.exposure_min
        weights = cols.weight.tolist()
        self.unit = max(1, gcd(*weights)) if weights else 1
        self.all = int(cols.weight.sum())
        jumps = (int(reach / book.inch * QUANTUM) // _STEP + 1) * links + 1
        slivers, musts = int(cols.count.sum()) + 1, int(cols.must.sum()) + 1
        # A coarser weight is still a lower bound; only thousands of edges need it.
        while (weight := self.all // self.unit + 2) * slivers * jumps * musts >= NEVER // 2:
            self.unit *= 2
        self.sliver = weight
        self.jump = self.sliver * slivers
        self.must = self.jump * jumps

    def of_answer(self, terms: Ints) -> Ints:
        """Keys of finished answers, rounded up: int64 (a,) of terms (terms, a)."""
        unmet = -((-(self.all + terms[FLUSH_WEIGHT])) // self.unit)
        wide = -((-terms[WIDE_JUMP]) // _STEP)
        return np.asarray(
            terms[MISSED_MUST] * self.must + wide * self.jump + terms[SLIVERS] * self.sliver + unmet
        )


class Bounds:
    """Lower bounds for every band of a search.

    Attributes:
        own: int64 (b,), key of each band by itself, a lower bound.
        finish: int64 (b,), key of carrying on above it with its own exposure.
    """

    def __init__(
        self, book: Rulebook, cols: Columns, points: Floats, marks: Floats, bands: Bands, key: SearchKey
    ) -> None:
        self.book, self.bands, self.count = book, bands, len(points)
        low, high = book.cladding.exposure_min, book.cladding.exposure_max
        self.slots = min(_SLOTS, max(1, ceil((high - low) / (_SLOT * book.inch) - NEAR)))
        width = (high - low) / self.slots
        self.slot = np.zeros(len(bands.start), dtype=np.int64)
        if width > 0:
            self.slot = np.clip(((bands.exposure - low) / width).astype(np.int64), 0, self.slots - 1)
        apart = np.abs(np.arange(self.slots)[:, None] - np.arange(self.slots)[None, :])
        least = np.maximum(0.0, (apart - 1) * width - book.jump_max - NEAR) * (QUANTUM / book.inch)
        self.links = (least.astype(np.int64) // _STEP) * key.jump
        self.feet = np.concatenate([points, marks])
        self.heads = np.concatenate([points, [np.inf]])[bands.end]
        first = np.searchsorted(bands.start, np.arange(len(self.feet) + 1)).tolist()
        self.leaving = [slice(a, b) for a, b in pairwise(first)]
        by_end = np.argsort(bands.end, kind="stable")
        cuts = np.searchsorted(bands.end[by_end], np.arange(self.count + 1))
        self.arriving = [by_end[a:b] for a, b in pairwise(cuts)]
        self.own = np.zeros(len(bands.start), dtype=np.int64)
        self.finish = np.zeros(len(bands.start), dtype=np.int64)
        self._keys(cols, marks, key)
        self.onward = self._down(self.own, self.finish)

    def _keys(self, cols: Columns, marks: Floats, key: SearchKey) -> None:
        """The key of each band, and of carrying on with its exposure past the top.

        Courses that carry on lie where those of the band would, continued: one look at all edges above the
        band's foot gives both.
        """
        book, bands = self.book, self.bands
        near = NEAR * book.inch
        unmet = cols.weight // key.unit
        missed = unmet + cols.must * key.must
        sliver = cols.count * key.sliver
        last = np.searchsorted(cols.height, self.heads + near * 100, side="right")
        first = np.searchsorted(cols.height, self.feet + near * 100, side="right")
        stands = standing(book, cols, marks)
        for foot, height in enumerate(self.feet):
            here, since = self.leaving[foot], int(first[foot])
            if here.start == here.stop:
                continue
            before = int(unmet[:since].sum()) if foot >= self.count else 0
            hung = ~stands[foot - self.count][since:] if foot >= self.count else None
            for at in range(here.start, here.stop, _ROWS):
                rows = slice(at, min(at + _ROWS, here.stop))
                keys = self._edge_keys(
                    cols.height[since:] - height, bands.exposure[rows, None], cols.below[since:],
                    cols.base[since:], missed[since:], sliver[since:],
                )  # fmt: skip
                if hung is not None:
                    keys[:, hung] = unmet[since:][hung]
                sums = np.zeros((len(keys), keys.shape[1] + 1), dtype=np.int64)
                np.cumsum(keys, axis=1, out=sums[:, 1:])
                inside = sums[np.arange(len(keys)), last[rows] - since]
                self.own[rows] = inside + before
                self.finish[rows] = sums[:, -1] - inside

    def _edge_keys(
        self,
        above: Floats,
        exposure: Floats,
        below: NDArray[np.bool_],
        base: NDArray[np.bool_],
        missed: Ints,
        sliver: Ints,
    ) -> Ints:
        """What edges add under courses from one foot: int64 (b, n), as ``score.edge_terms`` counts them.

        Args:
            above: how far each edge lies above the foot (n,) [job units].
            exposure: of each band (b, 1) [job units].
            below: siding lies below the edge (n,).
            base: it is a base (n,).
            missed: what it adds when it is not met (n,).
            sliver: what a sliver adds (n,).
        """
        book = self.book
        # Half the digits take half the time; what they may be wrong by counts in the edge's favour.
        slack = np.float32(float(above[-1]) * 2.0**-22 + 1e-6 * book.inch) if len(above) else np.float32(0)
        exposure = exposure.astype(np.float32)
        cut = above.astype(np.float32) / exposure
        cut -= np.floor(cut)
        cut *= exposure
        rest = exposure - cut
        flush = np.float32(book.tolerance) + slack
        unmet = (cut > flush) & (rest > flush)
        thin = np.where(below, cut, rest) < np.float32(book.strip_min) - slack
        if base.any():
            cover, left = cut[:, base], rest[:, base]
            unmet[:, base] = (cover < book.cover_min - slack) | (cover > book.cover_max + slack)
            thin[:, base] &= left > slack  # just under a butt line is on it, but for rounding
        thin &= unmet
        return np.where(unmet, missed, 0) + np.where(thin, sliver, 0)

    def _down(self, own: Ints, finish: Ints) -> Ints:
        """Least key of what comes above each band: int64 (b,)."""
        onward = finish.copy()
        for tie in range(self.count - 1, -1, -1):
            arriving, leaving = self.arriving[tie], self.leaving[tie]
            if not len(arriving) or leaving.start == leaving.stop:
                continue
            ahead = np.full(self.slots, NEVER, dtype=np.int64)
            np.minimum.at(ahead, self.slot[leaving], own[leaving] + onward[leaving])
            best = np.minimum((ahead[None, :] + self.links).min(axis=1), NEVER)
            onward[arriving] = np.minimum(onward[arriving], best[self.slot[arriving]])
        return onward

    def through(
        self, usable: NDArray[np.bool_], meeting: Target | None = None
    ) -> tuple[Ints, NDArray[np.bool_]]:
        """Least key of any answer through each band.

        Args:
            usable: bool (m,), the marks that courses may start on.
            meeting: an edge that has to be flush; None for none.

        Returns:
            int64 (b,), at least ``NEVER`` for bands that no such answer uses; and bool (b,), whether a band
            may be the last one, carried on with its own exposure.
        """
        own, finish, onward = self.own, self.finish, self.onward
        if meeting is not None:
            own, finish = self._meeting(meeting)
            onward = self._down(own, finish)
        arrive = np.full(len(own), NEVER, dtype=np.int64)
        for mark in np.nonzero(usable)[0] + self.count:
            arrive[self.leaving[mark]] = own[self.leaving[mark]]
        for tie in range(self.count):
            arriving, leaving = self.arriving[tie], self.leaving[tie]
            if not len(arriving) or leaving.start == leaving.stop:
                continue
            best = np.full(self.slots, NEVER, dtype=np.int64)
            np.minimum.at(best, self.slot[arriving], arrive[arriving])
            best = np.minimum((best[:, None] + self.links).min(axis=0), NEVER)
            arrive[leaving] = np.minimum(own[leaving] + best[self.slot[leaving]], NEVER)
        return np.minimum(arrive + onward, NEVER), finish < NEVER

    def _meeting(self, target: Target) -> tuple[Ints, Ints]:
        """Keys of bands and of carrying on, ``NEVER`` where an edge would not be flush."""
        height = target.height
        near, bands = NEAR * self.book.inch, self.bands
        foot = self.feet[bands.start]
        turns = (height - foot) / bands.exposure
        off = (turns - np.rint(turns)) * bands.exposure
        misses = np.abs(off) > self.book.tolerance + near
        above = height > foot + near * 100
        if target.kind == "base":
            misses = ~self.book.whole(np.where(off < 0, off + bands.exposure, off))
        passed = ~above & (bands.start >= self.count)
        inside = above & (height <= self.heads + near * 100)
        own = np.where(passed | (inside & misses), NEVER, self.own)
        return own, np.where(above & ~inside & misses, NEVER, self.finish)
