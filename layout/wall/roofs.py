"""Roofs, decks and ledgers against a wall: what of it they leave out, and the sides that siding meets."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import shapely

from evencourse.layout.model.job import Elevation, Job, Point
from evencourse.layout.model.roof import Roof
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.ground import height_of
from evencourse.layout.wall.sides import Side, floor

#: Deeper than any siding hangs below its wall [inches].
_DEEP = 1e3


def clearance(job: Job, face: Elevation, roof: Roof) -> float:
    """How far siding stops above a roof, a deck or a ledger, measured plumb [job units].

    Args:
        job: for its claddings.
        face: the wall.
        roof: what stands against it.

    Rule: a roof takes the ``roof_clearance`` of what hangs over it; a deck and a ledger, which a flashing
    covers, take ``limits.ledger_clearance`` (sources in ``claddings.toml`` and ``rules.toml``).
    """
    if roof.kind != "roof":
        return rules().limits["ledger_clearance"] * job.inch
    zone = next(zone for zone in face.zones if zone.top is None or zone.top > roof.top)
    return job.claddings[zone.cladding].roof_clearance


def roof_holes(job: Job, face: Elevation) -> Iterator[tuple[Point, ...]]:
    """What roofs, decks and ledgers leave out of a wall with their clearance, counter-clockwise [job units].

    One for each, in the order of the job. Where it reaches down to the wall's base no siding hangs below it.
    """
    for roof in face.roofs:
        under: list[Point] = []
        for left, right in pairwise(roof.shifted(-roof.depth)):
            reaches = max(left[1], right[1]) <= floor(face, left[0], right[0]) + SAME * job.inch
            deep = _DEEP * job.inch if reaches else 0.0
            under += [(left[0], left[1] - deep), (right[0], right[1] - deep)]
        yield (*dict.fromkeys(under), *reversed(roof.shifted(clearance(job, face, roof))))


def roof_sides(job: Job, face: Elevation) -> Iterator[Side]:
    """The sides that siding is cut along over roofs (as bases) and under them (as tops), within the wall.

    Roof by roof in the order of the job, from left to right; over a roof they run along its clearance.
    """
    wall = shapely.Polygon(face.outline)
    near = SAME * job.inch
    for roof in face.roofs:
        for base, up in ((True, clearance(job, face, roof)), (False, -roof.depth)):
            for stretch in pairwise(roof.shifted(up)):
                for part in shapely.get_parts(shapely.intersection(shapely.LineString(stretch), wall)):
                    ends = sorted((float(x), float(y)) for x, y in shapely.get_coordinates(part))
                    if len(ends) < 2 or ends[-1][0] - ends[0][0] <= near:
                        continue
                    # Along the wall's own base or eave there is no siding on the other side.
                    if not shapely.covers(shapely.get_exterior_ring(wall), part):
                        yield Side(ends[0], ends[-1], base, roof)


def behind_roof(job: Job, face: Elevation, left: float, right: float, height: float) -> bool:
    """Whether a level stretch of an edge lies in the band of a roof all along: no siding meets it there."""
    near = SAME * job.inch
    for roof in face.roofs:
        if left < roof.left - near or right > roof.right + near:
            continue
        clear = clearance(job, face, roof) + near
        levels = [
            height_of(roof.line, x) for x in (left, right, *(x for x, _ in roof.line if left < x < right))
        ]
        if all(level - roof.depth - near <= height <= level + clear for level in levels):
            return True
    return False
