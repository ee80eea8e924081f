"""The edges that course lines should meet: of openings, eaves, bases, band boards and roofs of a set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evencourse.layout.model.job import Elevation, Importance, Job, Opening, Zone
from evencourse.layout.model.missed_limit import EdgeKind
from evencourse.layout.model.roof import Roof
from evencourse.layout.trade.rules import out_of_level, rules
from evencourse.layout.wall.bare_edges import bare_edges
from evencourse.layout.wall.roofs import behind_roof, roof_sides
from evencourse.layout.wall.sides import ceiling, floor, sides, width_at

#: Kinds whose siding lies below the edge: what is left of the course is its lower part.
BELOW: frozenset[EdgeKind] = frozenset({"sill", "eave", "eave left", "eave right", "band", "under roof"})
#: Kinds that are the last course under an eave.
EAVES: frozenset[EdgeKind] = frozenset({"eave", "eave left", "eave right"})
#: Kinds along which a course is cut lengthwise.
RIPPED: frozenset[EdgeKind] = frozenset({"eave", "eave left", "eave right", "base", "band"})


@dataclass(frozen=True)
class Target:
    """One edge that siding meets.

    Attributes:
        face: name of its elevation.
        opening: the opening it belongs to; None for eaves, bases, band boards and roofs.
        kind: which edge.
        height: [job units].
        left: x where it begins [job units].
        right: x where it ends [job units].
        importance: how much a flush line matters.
        weight: what a flush line counts: the kind's weight times the face's.
        roof: the roof, deck or ledger that it lies over or under; None elsewhere.
    """

    face: str
    opening: Opening | None
    kind: EdgeKind
    height: float
    left: float
    right: float
    importance: Importance
    weight: float
    roof: Roof | None = None


def targets(job: Job, elevation: Elevation, zone: Zone, bottom: float, top: float) -> Iterator[Target]:
    """Edges of one zone of one face.

    Args:
        job: for what siding keeps clear of roofs.
        elevation: the face.
        zone: its zone.
        bottom: where the zone's siding begins; minus infinity for the lowest zone [job units].
        top: where it ends [job units].

    Yields:
        Targets in no particular order. An opening's edge that no siding meets (a door on the base, a
        head tight under the eave, an edge behind a band board, a porch roof or another casing) is none; of
        one that is covered in part the rest alone is (``evencourse.layout.wall.bare_edges``). Nor is an eave
        or a band board behind a roof all along one.
    """
    weights = rules().weights

    def target(  # one place for the weight
        kind: EdgeKind,
        height: float,
        span: tuple[float, float],
        importance: Importance = "want",
        opening: Opening | None = None,
        roof: Roof | None = None,
    ) -> Target:
        share = weights["eave"] / 2 if kind in ("eave left", "eave right") else weights[kind]
        return Target(
            elevation.name, opening, kind, height, *span, importance, share * elevation.weight, roof
        )

    near = 1e-7 * max(1.0, abs(top))

    def behind(left: float, right: float, height: float) -> bool:
        return bool(elevation.roofs) and behind_roof(job, elevation, (left, height), (right, height))

    for opening, kind, height, span in bare_edges(job, elevation):
        if kind == "head" and bottom + near < height < min(top, ceiling(elevation, *span)) - near:
            yield target("head", height, span, opening.head_edge, opening)
        if kind == "sill" and max(bottom, floor(elevation, *span)) + near < height < top - near:
            yield target("sill", height, span, opening.sill_edge, opening)
    for side in sides(elevation.outline):
        span = (side.left[0], side.right[0])
        if side.base and side.level and bottom + near < side.low < top - near and not behind(*span, side.low):
            yield target("base", side.low, span)
        elif side.base or (elevation.roofs and behind_roof(job, elevation, side.left, side.right)):
            continue
        elif side.level and bottom + near < side.low <= top + near:
            yield target("eave", side.low, span)
        elif out_of_level(side.pitch, 12):
            for hand, (x, height) in (("left", side.left), ("right", side.right)):
                if bottom + near < height <= top + near:
                    yield target("eave left" if hand == "left" else "eave right", height, (x, x))
    for side in roof_sides(job, elevation):
        if side.level and bottom + near < side.low < top - near:
            yield target(
                "over roof" if side.base else "under roof",
                side.low,
                (side.left[0], side.right[0]),
                roof=side.roof,
            )
    if zone.top is not None:
        across = width_at(elevation.outline, zone.top)
        if across is not None and not behind(*across, zone.top):
            yield target("band", zone.top, across)
