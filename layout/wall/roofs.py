"""Roofs, decks and ledgers against a wall: what of it they leave out, and the sides that siding meets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely

from evencourse.layout.model.geometry import height_of
from evencourse.layout.model.job import Elevation, Job, Point
from evencourse.layout.model.roof import Roof
from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.sides import Side, floor, lowest

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


@dataclass(frozen=True)
class FirstBase:
    """Where the siding of some faces begins.

    Attributes:
        height: its lowest point [job units].
        face: name of the face.
        over_roof: the wall's base is behind a roof, a deck or a ledger all along: on the clearance over it.
    """

    height: float
    face: str
    over_roof: bool


def first_base(job: Job, faces: Sequence[Elevation]) -> FirstBase:
    """The lowest base of some faces: of the wall's outline, or over a roof that covers its base all along.

    Args:
        job: for what siding keeps clear of roofs.
        faces: the walls.
    """
    found = []
    for face in faces:
        height = lowest(face)
        if face.roofs:
            left = shapely.Polygon(face.outline).difference(
                shapely.union_all([shapely.Polygon(hole) for hole in roof_holes(job, face)])
            )
            height = height if left.is_empty else float(left.bounds[1])
        found.append(FirstBase(height, face.name, height > lowest(face) + SAME * job.inch))
    return min(found, key=lambda base: base.height)


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


def behind_roof(job: Job, face: Elevation, left: Point, right: Point) -> bool:
    """Whether a straight stretch of an edge lies in a roof's band all along: no siding meets it there."""
    near, rise = SAME * job.inch, (right[1] - left[1]) / max(right[0] - left[0], ROUNDING)
    for roof in face.roofs:
        if left[0] < roof.left - near or right[0] > roof.right + near:
            continue
        clear = clearance(job, face, roof) + near
        turns = (left[0], right[0], *(x for x, _ in roof.line if left[0] < x < right[0]))
        over = [left[1] + rise * (x - left[0]) - height_of(roof.line, x) for x in turns]
        if -roof.depth - near <= min(over) and max(over) <= clear:
            return True
    return False
