"""The wall's outline: which of its sides are base, top or rake, and where siding simply hangs over a base."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import hypot

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Elevation, Point
from evencourse.layout.model.roof import Roof
from evencourse.layout.model.tolerance import BESIDE, ROUNDING
from evencourse.layout.trade.rules import out_of_level, rules


@dataclass(frozen=True)
class Side:
    """One side of an outline that is no plumb corner, read from left to right.

    Attributes:
        left: its left end.
        right: its right end.
        base: the wall lies above it (else below it: a top).
        roof: the roof, deck or ledger that siding is cut along there; None for the wall's own outline.
    """

    left: Point
    right: Point
    base: bool
    roof: Roof | None = None

    @property
    def low(self) -> float:
        """Height of its lower end."""
        return min(self.left[1], self.right[1])

    @property
    def high(self) -> float:
        """Height of its upper end."""
        return max(self.left[1], self.right[1])

    @property
    def level(self) -> bool:
        """Whether both ends lie at one height."""
        return self.high - self.low <= ROUNDING * max(1.0, abs(self.high))

    @property
    def pitch(self) -> float:
        """Rise over a run of 12, never negative."""
        return 12 * (self.high - self.low) / (self.right[0] - self.left[0])

    @property
    def length(self) -> float:
        """Length along the slope."""
        return hypot(self.right[0] - self.left[0], self.right[1] - self.left[1])

    def height_at(self, x: float) -> float:
        """Height of the side at an x between its ends."""
        run = self.right[0] - self.left[0]
        return self.left[1] + (self.right[1] - self.left[1]) * (x - self.left[0]) / run


@lru_cache(maxsize=1024)
def sides(outline: tuple[Point, ...]) -> tuple[Side, ...]:
    """Sides of a counter-clockwise outline that are not plumb, in its order; made once for each outline.

    Neighbouring sides on one line are joined, so that a point in the middle of a base makes no second side.
    """
    points, found = _corners(outline), []
    for start, end in zip(points, points[1:] + points[:1], strict=True):
        run = end[0] - start[0]
        if abs(run) > ROUNDING * max(1.0, abs(start[0])):
            found.append(Side(start, end, True) if run > 0 else Side(end, start, False))
    return tuple(found)


def _corners(outline: Sequence[Point]) -> list[Point]:
    points = list(outline)
    kept = []
    for before, here, after in zip(points[-1:] + points[:-1], points, points[1:] + points[:1], strict=True):
        ahead = (after[0] - here[0], after[1] - here[1])
        behind = (here[0] - before[0], here[1] - before[1])
        turn = behind[0] * ahead[1] - behind[1] * ahead[0]
        if abs(turn) > ROUNDING * hypot(*ahead) * hypot(*behind):
            kept.append(here)
    return kept


def base_steps(outline: tuple[Point, ...]) -> Iterator[tuple[float, float, float]]:
    """Plumb sides between two bases: x, lower and upper end, from the left."""
    bases = sorted((side for side in sides(outline) if side.base), key=lambda side: side.left[0])
    for before, after in pairwise(bases):
        (x0, y0), (x1, y1) = before.right, after.left
        if abs(x0 - x1) <= ROUNDING * max(1.0, abs(x0)) and abs(y0 - y1) > ROUNDING:
            yield x0, min(y0, y1), max(y0, y1)


def cover_run(cladding: Cladding, inch: float) -> float:
    """How far above the starter line a base may lie and still be simply hung over [job units].

    Never more than the least exposure, so that only the first course hangs over a base.
    Rule: common practice, no source (``limits.cover_run`` in ``rules.toml``).
    """
    return min(rules().limits["cover_run"] * inch, cladding.exposure_min)


def cover_max(cladding: Cladding, inch: float) -> float:
    """How far a whole first course may hang below its base at most [job units].

    Rule: the cladding's ``cover``, and no farther than that the starter strip still has ``limits.strip_wood``
    of wall behind its nails: a strip whose top lies 2 in above the butt line allows 1-1/2 in; but always
    ``limits.cover_min``, the least that is wanted (common practice, no source).
    """
    most = cladding.cover
    if cladding.starter_drop:
        most = min(most, cladding.starter_drop - rules().limits["strip_wood"] * inch)
    return max(rules().limits["cover_min"] * inch, most)


def held_off_roof(side: Side) -> bool:
    """Whether a base side is a lower roof: steeper than ``limits.eave_pitch_max``, else a foundation."""
    return not out_of_level(side.pitch, 12)


def held_off(side: Side, cladding: Cladding) -> float:
    """How far siding is held off a base side that it is cut along, measured plumb [job units].

    Args:
        side: a base side.
        cladding: what hangs there.

    Rule: ``roof_clearance`` off a lower roof; a base no steeper than ``limits.eave_pitch_max`` is a step or a
    foundation out of level, and siding ends on it (common practice, no source).
    """
    return cladding.roof_clearance if held_off_roof(side) else 0.0


def hung_over(side: Side, starter: float, cladding: Cladding, inch: float) -> bool:
    """Whether siding runs past a base side down to the starter line instead of being cut along it.

    Past a roof it never does.

    Args:
        side: a base side.
        starter: butt line 1 [job units].
        cladding: what hangs there.
        inch: job units in one inch.
    """
    return side.roof is None and side.high <= starter + cover_run(cladding, inch) + ROUNDING


def crossings(outline: Sequence[Point], height: float) -> list[float]:
    """The x where a level line crosses an outline, in order; an even number, touching corners left out."""
    found = []
    for (x0, y0), (x1, y1) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if (y0 <= height) != (y1 <= height):
            found.append(x0 + (x1 - x0) * (height - y0) / (y1 - y0))
    return sorted(found)


def width_at(outline: Sequence[Point], height: float) -> tuple[float, float] | None:
    """Leftmost and rightmost x of an outline just below a height; None where it has no width there."""
    found = crossings(outline, height - BESIDE * max(1.0, abs(height)))
    return (found[0], found[-1]) if found else None


def ceiling(elevation: Elevation, left: float, right: float) -> float:
    """Greatest height of the wall's tops between two x [job units]."""
    heights = []
    for side in sides(elevation.outline):
        if not side.base and side.right[0] > left + ROUNDING and side.left[0] < right - ROUNDING:
            heights.append(side.height_at(max(left, side.left[0])))
            heights.append(side.height_at(min(right, side.right[0])))
    return max(heights, default=float("-inf"))


def floor(elevation: Elevation, left: float, right: float) -> float:
    """Least height of the wall's bases between two x [job units]."""
    heights = []
    for side in sides(elevation.outline):
        if side.base and side.right[0] > left + ROUNDING and side.left[0] < right - ROUNDING:
            heights.append(side.height_at(max(left, side.left[0])))
            heights.append(side.height_at(min(right, side.right[0])))
    return min(heights, default=float("inf"))


def lowest(elevation: Elevation) -> float:
    """Height of the wall's lowest point."""
    return min(y for _, y in elevation.outline)


def highest(elevation: Elevation) -> float:
    """Height of the wall's highest point."""
    return max(y for _, y in elevation.outline)
