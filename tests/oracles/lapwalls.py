"""Small random walls in laps and shingles, and the objective of their course lines from its words.

An answer is its butt lines, nothing else: :func:`objective` looks at them as a crew would, line by line.
Nothing here shares code with the solver or with its scoring; :func:`solver_answers` alone calls it.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, floor
from typing import Any

from evencourse.layout.courses.edges import score
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.solver.laps import lap_lines
from evencourse.layout.solver.score import Rulebook, columns
from evencourse.layout.solver.targets import Target
from tests.oracles.coursewalls import cladding

#: Numbers of the objective, in inches. Common practice, no source; see ``layout/trade/rules.toml``.
STRIP_MIN, EAVE_MIN, JUMP_MAX, JUMP_UNSEEN = 1.5, 4.0, 0.5, 0.125
COVER_MIN, COVER_WANTED, COVER_RUN, STRIP_WOOD = 0.5, 1.0, 3.0, 0.5
#: Ten-thousandths of an inch, and thousandths of a weight.
LENGTHS, WEIGHTS = 10_000, 1_000
#: Lengths closer than this are one [inches].
SAME = 1e-7
TERMS = (
    "limits", "missed musts", "wide jumps", "slivers", "flush weight", "seen", "bands", "off nominal",
    "thin eaves", "furring",
)  # fmt: skip
BELOW = ("sill", "eave", "eave left", "eave right", "band")
EAVES = ("eave", "eave left", "eave right")
#: Terms that count things: they are equal or they are not. The others are sums of rounded lengths.
COUNTED = (1, 3, 4, 6)

Terms = tuple[int, ...]
Butts = tuple[float, ...]


@dataclass(frozen=True)
class LapWall:
    """A wall in lapped courses [inches].

    Attributes:
        siding: what is hung.
        targets: its edges.
        starters: every mark where butt line 1 may lie, ascending.
        top: the highest point that must be covered.
        tolerance: flush within this.
        mark: the finest mark of the tape.
        cover_run: a base so near above the lowest line is hung over, unless it is met.
    """

    siding: Cladding
    targets: tuple[Target, ...]
    starters: tuple[float, ...]
    top: float
    tolerance: float = 0.125
    mark: float = 1 / 16
    cover_run: float = COVER_RUN

    @property
    def run(self) -> float:
        """A base so near above the lowest line is hung over, unless it is met: by course 1 alone."""
        return min(self.cover_run, self.siding.exposure_min)

    @property
    def book(self) -> Rulebook:
        """The same wall's numbers as the solver wants them."""
        return Rulebook(
            cladding=self.siding, inch=1.0, mark=self.mark, tolerance=self.tolerance, strip_min=STRIP_MIN,
            eave_min=EAVE_MIN, jump_max=JUMP_MAX, jump_unseen=JUMP_UNSEEN,
            cover_min=COVER_MIN, cover_wanted=COVER_WANTED, cover_max=cover_max(self.siding),
            cover_run=self.run,
        )  # fmt: skip

    @property
    def counted(self) -> tuple[Target, ...]:
        """The edges that are not ignored."""
        return tuple(target for target in self.targets if target.importance != "ignore")


def quanta(length: float) -> int:
    """Whole ten-thousandths of an inch; a half goes up, and what is a half but for its last bits is one.

    Such halves are common: 1/32 in is 312-1/2.
    """
    return floor(length * LENGTHS + 0.5 + 1e-6)


def cover_max(siding: Cladding) -> float:
    """A whole first course hangs at most so far below its base [inches].

    The siding's own cover; and a starter strip has 1/2 in of the wall behind its nails. But a base may always
    be covered by the least that is wanted.
    """
    strip = siding.starter_drop - STRIP_WOOD if siding.starter_drop > 0 else siding.cover
    return max(COVER_MIN, min(siding.cover, strip))


def whole(siding: Cladding, base: float, butts: Sequence[float]) -> float | None:
    """By how much the whole course that begins at a base covers it; None when none does [inches]."""
    covers = [base - butt for butt in butts if COVER_MIN - 1e-9 <= base - butt <= cover_max(siding) + 1e-9]
    return min(covers, default=None)


def edge(kind: str, height: float, importance: str = "want", weight: float | None = None) -> Target:
    """An edge; without a weight it has its kind's: head and base 4, sill 2, half an eave 1/2, others 1."""
    usual = {"head": 4.0, "base": 4.0, "sill": 2.0, "eave left": 0.5, "eave right": 0.5}.get(kind, 1.0)
    return Target("Front", None, kind, height, 0, 10, importance, usual if weight is None else weight)  # type: ignore[arg-type]


def small_wall(seed: int) -> LapWall:
    """At most four edges: anywhere, at one height, a little apart, on the highest point, near the starter.

    Bases lie on marks and off them, at every height; what may cover one is a single mark, or many.
    """
    chance = random.Random(f"small wall {seed}")
    tolerance = chance.choice([1, 2, 2, 2, 3]) / 16
    nominal = chance.choice([5.0, 6.25, 7.0, 8.0, 10.0])
    siding = cladding(
        chance.choice(["lap", "lap", "shingle"]),
        nominal - chance.choice([0.25, 0.5, 1.0, 1.75]),
        nominal,
        nominal + chance.choice([0, 0, 0.25, 1]),
    )
    drop, cover = chance.choice(
        [(0, 1), (0, 1), (0, 0.75), (0, 0.5), (0, 0.25), (0, 1.25), (2, 2), (1.25, 2), (0.75, 1)]
    )
    siding = replace(siding, starter_drop=drop, cover=cover)
    mark = chance.choice([1 / 16, 1 / 16, 1 / 8])
    top = chance.randrange(40, 120) + chance.choice([0, 0, 1 / 16, 5 / 32])
    starters = tuple(-1 + k * mark for k in range(chance.randrange(1, 5)))
    if chance.random() < 0.1:
        starters = (-1 + chance.choice([1 / 32, 0.3, 1 / 48]),)
    found: list[Target] = []
    for _ in range(chance.choice([1, 2, 2, 3, 3, 3, 4])):
        kind = chance.choice(["head", "head", "sill", "base", "base", "band", "eave left"])
        way = chance.random()
        if found and way < 0.35:
            apart = chance.choice([0, *range(1, 9), *range(2, 5)]) * chance.choice([1 / 16, 1 / 16, 1 / 32])
            apart += chance.choice([0.5, 1, 1.5]) if "base" in (kind, found[-1].kind) else 0
            height = found[-1].height + chance.choice([-1, 1]) * apart
        elif way < 0.45:
            kind, height = "eave", top - chance.choice([0, 0, 1 / 16, 1 / 8, 2])
        elif way < 0.55:
            kind, height = "base", starters[0] + chance.randrange(1, 60) / 16
        elif way < 0.65:
            kind, height = "base", chance.choice([32 * 4, 100, 128, 25.4]) * chance.uniform(0.02, top / 130)
        elif way < 0.75:
            height = round(chance.uniform(4, top), 2)
        else:
            height = chance.randrange(4 * 16, int(16 * top)) / 16
        importance = chance.choices(["want", "must", "ignore"], [6, 3, 1])[0]
        found.append(edge(kind, min(height, top - 2 * (kind == "base")), importance))
    if chance.random() < 0.4:
        found = [replace(t, weight=t.weight * chance.choice([1, 1, 2, 0.5])) for t in found]
    return LapWall(siding, tuple(found), starters, top, tolerance, mark)


def tall_wall(seed: int) -> LapWall:
    """Few edges far apart: many numbers of courses between them whose exposures differ by what goes unseen.

    So late terms decide. Half of the walls have an edge on their highest point.
    """
    chance = random.Random(f"tall wall {seed}")
    siding = cladding("lap", 6.5, chance.choice([6.75, 7.0, 7.25]), 7.5)
    top = chance.randrange(16 * 200, 16 * 300) / 16
    targets = [
        edge(chance.choice(["head", "sill", "base"]), chance.randrange(16 * 60, int(16 * top)) / 16,
             chance.choice(["must", "want"]))
        for _ in range(chance.choice([1, 2]))
    ]  # fmt: skip
    if chance.random() < 0.5:
        targets.append(edge("eave", top, chance.choice(["must", "want"])))
    return LapWall(
        siding, tuple(targets), tuple(-1 + k / 16 for k in range(chance.choice([1, 2]))), top, 1 / 16
    )


def wide_wall(seed: int) -> LapWall:
    """Five to ten edges, most of them heads and sills of one storey that lie near each other or in line."""
    chance = random.Random(f"wide wall {seed}")
    siding = cladding(
        "lap", *chance.choice([(6.0, 7.0, 7.0), (6.0, 7.0, 8.25), (5.0, 6.0, 6.25), (8.5, 10, 10)])
    )
    top, head = chance.randrange(80, 120), chance.randrange(60 * 16, 76 * 16)
    targets = []
    for _ in range(chance.randrange(5, 11)):
        kind = chance.choice(["head", "head", "sill", "sill", "base", "band", "eave left"])
        height = chance.randrange(8 * 16, top * 16) / 16
        if kind in ("head", "sill") and chance.random() < 0.7:
            height = (head - chance.choice([0, 480, 576]) * (kind == "sill") + chance.randrange(-4, 5)) / 16
        targets.append(edge(kind, height, chance.choices(["want", "must", "ignore"], [7, 2, 1])[0]))
    starters = tuple(-1 + k / 16 for k in range(chance.choice([1, 5, 9])))
    return LapWall(siding, tuple(targets), starters, float(top), chance.choice([1, 2, 2]) / 16)


def behind(siding: Cladding, cut: Any, exposure: Any) -> Any:
    """What goes behind a cut edge of a course, so far above its butt.

    A panel leans in from step to step, and a channel takes what stands off as its butt does. The back of a
    board comes to the wall evenly from its butt, which lies on the face of the board below, to its top edge.
    Shingles have wood behind them all over.
    """
    if siding.family == "panel":
        face = exposure / siding.faces
        lean = cut % face
        lean = lean if SAME <= lean <= face - SAME else 0.0
        return (siding.projection - siding.projection_top) * lean / face
    to_top = siding.width - cut
    return siding.projection_top * to_top / siding.width if siding.family == "lap" else 0.0 * cut


def objective(wall: LapWall, butts: Sequence[float], limits: int = 0) -> Terms:
    """The terms of ``TERMS``, all better when less, from butt lines alone.

    Lengths are counted in whole ten-thousandths of an inch, each rounded on its own; weights in thousandths.
    """
    starter, tolerance = butts[0], wall.tolerance + 1e-9
    must = slivers = weight = seen = thin = furring = 0
    for target in wall.counted:
        h = target.height
        if h <= starter + SAME:
            continue
        if target.kind == "base":
            cover = whole(wall.siding, h, butts)
            if cover is None and h <= starter + wall.run + 1e-9:
                continue
            off = None if cover is None else max(0.0, cover - COVER_WANTED)
        else:
            off = min(abs(h - butt) for butt in butts)
            off = off if off <= tolerance else None
        if off is not None:
            weight += round(target.weight * WEIGHTS)
            seen += quanta(off)
            continue
        foot = max(butt for butt in butts[:-1] if butt <= h + SAME)
        head = butts[butts.index(foot) + 1]
        left = h - foot if target.kind in BELOW else head - h
        must += target.importance == "must"
        slivers += left < STRIP_MIN - 1e-9
        if target.kind in EAVES:
            thin += quanta(max(0.0, EAVE_MIN - (h - foot)))
        furring += quanta(behind(wall.siding, h - foot, head - foot))
    bands = banded(butts)
    wide = 0
    for (_, below), (_, above) in pairwise(bands):
        wide += quanta(max(0.0, abs(above - below) - JUMP_MAX))
        seen += quanta(max(0.0, abs(above - below) - JUMP_UNSEEN))
    count = len(bands) + sum(courses == 1 for courses, _ in bands[1:-1])
    off_nominal = sum(courses * quanta(abs(exposure - wall.siding.exposure)) for courses, exposure in bands)
    return (limits, must, wide, slivers, -weight, seen, count, off_nominal, thin, furring)


def banded(butts: Sequence[float]) -> list[tuple[int, float]]:
    """(courses, exposure) of every band from the bottom up."""
    bands: list[tuple[int, float]] = []
    for low, high in pairwise(butts):
        if bands and abs(high - low - bands[-1][1]) < SAME:
            bands[-1] = (bands[-1][0] + 1, bands[-1][1])
        else:
            bands.append((1, high - low))
    return bands


def candidates(wall: LapWall, mark: float) -> list[float]:
    """Where a line may be tied.

    Edges, marks within the tolerance of one, ends of what two of them share; marks from which a whole course
    covers a base, or where there is none the lowest height from which it does.
    """
    heights = sorted({target.height for target in wall.counted if target.kind != "base"})
    tolerance = wall.tolerance + 1e-9
    found = set(heights)
    for height in heights:
        first, last = ceil((height - tolerance) / mark), floor((height + tolerance) / mark)
        found |= {k * mark for k in range(first, last + 1)}
    for low in heights:
        for high in heights:
            if low < high <= low + 2 * tolerance:
                found |= {high - wall.tolerance, low + wall.tolerance}
    for base in {target.height for target in wall.counted if target.kind == "base"}:
        low, high = base - cover_max(wall.siding), base - COVER_MIN
        marks = {k * mark for k in range(ceil(low / mark - 1e-9), floor(high / mark + 1e-9) + 1)}
        found |= marks or {low}
    kept: list[float] = []
    for height in sorted(found):
        if wall.starters[0] + SAME < height <= wall.top + tolerance and not (
            kept and height - kept[-1] < SAME
        ):
            kept.append(height)
    return kept


def plain_answers(wall: LapWall, mark: float) -> Iterator[Butts]:
    """Every answer one after the other, in plain steps: slow, and too simple to be wrong."""
    siding, ties = wall.siding, candidates(wall, mark)
    need = wall.top - wall.tolerance - 1e-9

    def covered(butts: Butts, exposure: float) -> Butts:
        while butts[-1] < need or len(butts) == 1:
            butts = (*butts, butts[-1] + exposure)
        return butts

    def onward(butts: Butts) -> Iterator[Butts]:
        yield covered(butts, siding.exposure)
        if len(butts) > 1:
            yield covered(butts, butts[-1] - butts[-2])
        for tie in ties:
            span = tie - butts[-1]
            for courses in range(1, floor(span / siding.exposure_min + 1e-9) + 1):
                if span > SAME and span / courses <= siding.exposure_max + 1e-9:
                    steps = (butts[-1] + span * k / courses for k in range(1, courses))
                    yield from onward((*butts, *steps, tie))

    for starter in wall.starters:
        yield from onward((starter,))


def rank(found: Terms, best: Terms, slack: int = 8) -> int:
    """-1, 0 or 1: whether the first is better, equal or worse by the order.

    Lengths that differ by the last digits alone count as equal, and end the comparison: a sum of lengths
    rounded one by one depends on the last bit of each where one lies between two ten-thousandths.
    """
    for term, (mine, other) in enumerate(zip(found, best, strict=True)):
        if mine == other:
            continue
        if term not in COUNTED and abs(mine - other) <= slack:
            return 0
        return -1 if mine < other else 1
    return 0


def solver_answers(wall: LapWall) -> Iterator[Butts]:
    """The solver's butt lines, best first."""
    for _, _, butts in lap_lines(wall.book, columns(wall.targets), wall.starters, wall.top):
        yield butts


def solver_terms(wall: LapWall, butts: Butts) -> Terms:
    """What the project's own scoring, edge by edge, says of butt lines that the solver gave."""
    for starter, bands, lines in lap_lines(wall.book, columns(wall.targets), wall.starters, wall.top):
        if lines == butts:
            return score([(one, 1) for one in wall.targets], (starter, bands, lines), wall.book, 0)[1]
    raise ValueError("not among the answers")


def told(wall: LapWall, butts: Sequence[float]) -> str:
    """A wall and lines in words, for the message of a test that fails."""
    lines = [
        f"{wall.siding.family} {wall.siding.exposure_min} to {wall.siding.exposure_max}, nominal "
        f"{wall.siding.exposure}; starters {wall.starters}; top {wall.top}; tolerance {wall.tolerance}"
    ]
    lines += [f"  {t.kind} {t.height} {t.importance} {t.weight}" for t in wall.targets]
    lines += ["  bands " + ", ".join(f"{n} of {e:.4f}" for n, e in banded(butts)) + f" from {butts[0]}"]
    terms = zip(TERMS, objective(wall, butts), strict=True)
    return "\n".join([*lines, "  " + ", ".join(f"{name} {value}" for name, value in terms)])
