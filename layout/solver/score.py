"""The objective of the course lines: its terms, their strict order, and how one edge counts.

The order stands here and nowhere else. Two answers are compared term by term; the first term that differs
decides. Lengths are counted in whole ten-thousandths of an inch, so that sums are exact and the same on every
machine; weights in whole thousandths.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor
from typing import TYPE_CHECKING, Any

import numpy as np

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Score
from evencourse.layout.model.job import Job
from evencourse.layout.solver.targets import BELOW, EAVES, Target
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.sides import cover_max

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

#: Terms in strict order. All are minimised; the weight of the flush edges is counted negative.
TERMS = (
    "limits",  # starter outside its limits
    "missed_must",  # edges marked must that are not flush
    "wide_jump",  # change of exposure between bands beyond the greatest that is allowed
    "slivers",  # strips thinner than strip_min
    "flush_weight",  # weight of the flush edges, negative
    "seen",  # all that shows, in inches: jumps beyond what goes unseen, flush edges off their lines, cover
    "bands",  # number of bands; one of a single course between two others counts twice
    "off_nominal",  # distance from the nominal exposure, over all courses
    "thin_eave",  # what cut last courses lack of a good height under an eave
    "furring",  # packing behind cut edges
)
(
    LIMITS,
    MISSED_MUST,
    WIDE_JUMP,
    SLIVERS,
    FLUSH_WEIGHT,
    SEEN,
    BANDS,
    OFF_NOMINAL,
    THIN_EAVE,
    FURRING,
) = range(len(TERMS))
#: Ten-thousandths of an inch in one inch: the resolution of every length in the objective.
QUANTUM = 10_000
#: Halves of a quantum go up (1/32 in is 312-1/2), and so does what misses one by the last bits of a sum.
_HALF_UP = 0.5 + 1e-6
#: Thousandths: the resolution of weights.
WEIGHT_QUANTUM = 1_000
#: Lengths closer than this are one length [inches].
NEAR = 1e-9


@dataclass(frozen=True)
class Rulebook:
    """What the objective needs to know of the job and the cladding, in job units.

    Attributes:
        cladding: what hangs there.
        inch: job units in one inch.
        mark: the finest mark of the tape.
        tolerance: flush within this.
        strip_min: thinner is a sliver.
        eave_min: wanted height of a last course under an eave.
        jump_max: greatest change of exposure between neighbouring courses.
        jump_unseen: change of exposure that goes unseen.
        cover_min: a whole first course hangs at least so far below its base.
        cover_wanted: farther than this shows.
        cover_max: and at most so far.
        cover_run: a base this near above the starter is hung over.
    """

    cladding: Cladding
    inch: float
    mark: float
    tolerance: float
    strip_min: float
    eave_min: float
    jump_max: float
    jump_unseen: float
    cover_min: float
    cover_wanted: float
    cover_max: float
    cover_run: float

    def whole(self, cover: Any) -> Any:
        """Whether a course that hangs so far below a base is whole there: bool of a float, or of an array."""
        near = NEAR * self.inch
        return (cover >= self.cover_min - near) & (cover <= self.cover_max + near)

    def quanta(self, length: float) -> int:
        """A length in whole quanta of the objective."""
        return floor(length / self.inch * QUANTUM + _HALF_UP)

    def all_quanta(self, lengths: Floats) -> Ints:
        """Lengths in whole quanta of the objective, each as ``quanta`` counts it."""
        return np.floor(lengths * (QUANTUM / self.inch) + _HALF_UP).astype(np.int64)

    def length(self, quanta: int) -> float:
        """Quanta of the objective as a length [job units]."""
        return quanta * self.inch / QUANTUM


def rulebook(job: Job, cladding: Cladding) -> Rulebook:
    """The objective's numbers for one cladding of a job."""
    limits = rules().limits
    return Rulebook(
        cladding=cladding,
        inch=job.inch,
        mark=job.round,
        tolerance=job.limits.tolerance,
        strip_min=job.limits.strip_min,
        eave_min=limits["eave_min"] * job.inch,
        jump_max=job.limits.jump,
        jump_unseen=limits["jump_unseen"] * job.inch,
        cover_min=limits["cover_min"] * job.inch,
        cover_wanted=limits["cover_wanted"] * job.inch,
        cover_max=cover_max(cladding, job.inch),
        cover_run=min(limits["cover_run"] * job.inch, cladding.exposure_min),
    )


@dataclass(frozen=True)
class Columns:
    """Targets that count in the objective, as arrays; equal ones are one column with a count.

    Attributes:
        height: float (n,) [job units], ascending.
        below: bool (n,), siding lies below the edge.
        eave: bool (n,), a last course under an eave.
        base: bool (n,), a base: met by a line some way below it.
        count: int64 (n,), edges in the column.
        must: int64 (n,), edges marked must.
        weight: int64 (n,), sum of their weights [thousandths].
    """

    height: Floats
    below: NDArray[np.bool_]
    eave: NDArray[np.bool_]
    base: NDArray[np.bool_]
    count: Ints
    must: Ints
    weight: Ints


def columns(targets: Sequence[Target]) -> Columns:
    """Arrays of the targets that are not ignored."""
    sums: dict[tuple[float, bool, bool, bool], list[int]] = {}
    for target in targets:
        if target.importance == "ignore":
            continue
        key = (target.height, target.kind in BELOW, target.kind in EAVES, target.kind == "base")
        entry = sums.setdefault(key, [0, 0, 0])
        entry[0] += 1
        entry[1] += target.importance == "must"
        entry[2] += round(target.weight * WEIGHT_QUANTUM)
    keys = sorted(sums)
    return Columns(
        height=np.array([key[0] for key in keys], dtype=np.float64),
        below=np.array([key[1] for key in keys], dtype=np.bool_),
        eave=np.array([key[2] for key in keys], dtype=np.bool_),
        base=np.array([key[3] for key in keys], dtype=np.bool_),
        count=np.array([sums[key][0] for key in keys], dtype=np.int64),
        must=np.array([sums[key][1] for key in keys], dtype=np.int64),
        weight=np.array([sums[key][2] for key in keys], dtype=np.int64),
    )


def edge_terms(
    book: Rulebook, cols: Columns, base: Floats, exposure: Floats, counts: NDArray[np.bool_]
) -> Ints:
    """What edges add to every term, for many stretches of equal courses at once.

    Args:
        book: the objective's numbers.
        cols: the targets (n,).
        base: height of a butt line at the foot of each stretch (b,) or (b, n) [job units].
        exposure: exposure of each stretch (b,) or (b, n) [job units].
        counts: bool (b, n): which targets lie in which stretch.

    Returns:
        int64 (terms, b), in the order of ``TERMS``; the terms that no edge decides are 0.
    """
    near = NEAR * book.inch
    steps = exposure if exposure.ndim == 2 else exposure[:, None]
    above = cols.height - (base if base.ndim == 2 else base[:, None])
    cut = above - np.floor(above / steps) * steps
    cut = np.where(steps - cut < near * 100, 0.0, cut)
    miss = np.minimum(cut, steps - cut)
    flush = np.where(cols.base, book.whole(cut), miss <= book.tolerance + near)
    miss = np.where(cols.base, np.maximum(0.0, cut - book.cover_wanted), miss)
    strip = np.where(cols.below, cut, steps - cut)
    sliver = ~flush & (strip < book.strip_min - near)
    thin = np.where(cols.eave & ~flush, np.maximum(0.0, book.eave_min - cut), 0.0)
    packing = np.where(flush, 0.0, _furring(book, cut, steps))

    def total(values: NDArray[np.int64] | NDArray[np.bool_], share: Ints) -> Ints:
        return (np.where(counts, values, 0).astype(np.int64) @ share).astype(np.int64)

    terms = np.zeros((len(TERMS), counts.shape[0]), dtype=np.int64)
    terms[MISSED_MUST] = total(~flush, cols.must)
    terms[SLIVERS] = total(sliver, cols.count)
    terms[FLUSH_WEIGHT] = -total(flush, cols.weight)
    terms[SEEN] = total(book.all_quanta(np.where(flush, miss, 0.0)), cols.count)
    terms[THIN_EAVE] = total(book.all_quanta(thin), cols.count)
    terms[FURRING] = total(book.all_quanta(packing), cols.count)
    return terms


def _furring(book: Rulebook, cut: Floats, exposure: Floats) -> Floats:
    """``Cladding.furring`` of many cuts at once."""
    cladding = book.cladding
    if cladding.family == "panel":
        face = exposure / cladding.faces
        lean = cut - np.floor(cut / face) * face
        lean = np.where(np.minimum(lean, face - lean) < NEAR * book.inch * 100, 0.0, lean)
        return np.asarray((cladding.projection - cladding.projection_top) * lean / face)
    if cladding.family == "lap":
        return cladding.projection_top * (1 - cut / cladding.width)
    return np.zeros_like(cut)


def standing(book: Rulebook, cols: Columns, starter: Floats) -> NDArray[np.bool_]:
    """Which targets count above each starter: all above it, but no base that the first course hangs over.

    Returns:
        bool (b, n).
    """
    above = cols.height - starter[:, None]
    hung = cols.base & (above <= book.cover_run + NEAR * book.inch) & ~book.whole(above)
    return np.asarray((above > NEAR * book.inch * 100) & ~hung)


def lone_bands(courses: Sequence[int]) -> int:
    """How many bands are one course between two others: stripes, the worst of all bands.

    Args:
        courses: number of courses of each band, from the bottom up.

    Example:
        >>> lone_bands([8, 1, 6, 1])
        1
    """
    return sum(number == 1 for number in courses[1:-1])


def order(terms: Ints) -> NDArray[np.intp]:
    """Indices of candidates from best to worst; equal ones keep their order."""
    return np.lexsort(terms[::-1])


def strict_order(score: Score) -> tuple[float, ...]:
    """A score's terms in their strict order, every one better when smaller: it compares as the objective."""
    return tuple((-1.0 if term == "flush_weight" else 1.0) * getattr(score, term) for term in TERMS)
