"""Where the starter line may lie: the job's limits, or the base and the ground."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.solver.score import NEAR
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.ground import highest_ground
from evencourse.layout.wall.roofs import first_base
from evencourse.layout.wall.sides import Side, cover_max, cover_run, sides


@dataclass(frozen=True)
class StarterRange:
    """Where butt line 1 may lie [job units].

    Attributes:
        low: lowest.
        high: highest.
        ground: least height above the ground that the cladding wants, as a height; None without grades or
            where zones begin on a band board.
    """

    low: float
    high: float
    ground: float | None


def starter_range(
    job: Job,
    cladding: Cladding,
    faces: Sequence[Elevation],
    bottom: float | None,
    own: tuple[float, float] | None,
) -> StarterRange:
    """Where the first butt line of a course set may lie.

    Args:
        job: for its limits.
        cladding: what is hung.
        faces: the faces that share the lines.
        bottom: top of the band board that the zone stands on; None for a lowest zone [job units].
        own: the zone's own limits; None without.

    Rules: a zone on a band board starts on it. Else the job's limits hold. Without them the first course
    covers the lowest base by at least ``limits.cover_min`` and by no more than leaves the starter strip wall
    behind its nails (``evencourse.layout.wall.sides.cover_max``), and keeps the cladding's clearance
    to the ground where that leaves room (sources in ``rules.toml`` and ``claddings.toml``). Over a roof that
    the lowest base is behind it covers nothing: it begins on the clearance.
    """
    if own is not None:
        return StarterRange(*own, None)
    if bottom is not None:
        return StarterRange(bottom, bottom, None)
    begins = first_base(job, faces)
    base = begins.height
    ground = ground_line(job, cladding, faces, base)
    if job.limits.starter is not None:
        return StarterRange(*job.limits.starter, ground)
    if begins.over_roof:
        return StarterRange(base, base, ground)
    high = base - rules().limits["cover_min"] * job.inch
    low = min(base - cover_max(cladding, job.inch), high)
    if ground is not None:
        low = min(max(low, ground), high)
    return StarterRange(low, high, ground)


def ground_line(job: Job, cladding: Cladding, faces: Sequence[Elevation], base: float) -> float | None:
    """Height below which the first course comes too near the ground; None when no grade was measured.

    Only bases that the first course hangs over count: along one that climbs out of its reach the siding is
    cut, and a wall that begins higher up keeps its own clearance.
    """
    reach = base + cover_run(cladding, job.inch)
    heights = [
        ground
        for face in faces
        for side in sides(face.outline)
        if _reached(side, reach) and (ground := highest_ground(face, side.left[0], side.right[0])) is not None
    ]
    return max(heights) + cladding.ground_clearance if heights else None


def _reached(side: Side, reach: float) -> bool:
    return side.base and side.high <= reach


def tape_marks(low: float, high: float, mark: float) -> list[float]:
    """Heights on the tape's grid from low to high; ``low`` itself when no mark lies between [job units]."""
    first, last = ceil(low / mark - NEAR), floor(high / mark + NEAR)
    return [k * mark for k in range(first, last + 1)] or [low]
