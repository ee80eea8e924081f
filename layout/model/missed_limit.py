"""Limits and must-meet edges that course lines do not keep to, and what stands against them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

EdgeKind = Literal[
    "head", "sill", "eave", "eave left", "eave right", "base", "band", "over roof", "under roof"
]  # fmt: skip
#: What stands against a must-meet edge that no course meets.
Against = Literal["hung", "panels", "apart", "starter", "limits", "courses"]


@dataclass(frozen=True)
class MissedEdge:
    """A must-meet edge that no course meets.

    Attributes:
        face: name of its elevation.
        opening: the opening's mark; None for an eave, a base or a band board.
        edge: which edge.
        height: of the edge [job units].
        course: the course that it falls in.
        against: what stands against it: ``hung``, a course that is on the wall there; ``panels``, which
            interlock with those on the wall; ``apart``, no whole number of courses fits above what hangs;
            ``starter``, the one that meets it misses as much or more; ``limits``, which leave no room for the
            starters that would meet it; ``courses``, none that meet it can be had, or only without another
            must-meet edge.
        starters: for panels the starters that meet it or are nearest to do so [job units].
        roof: mark of the roof, deck or ledger; None elsewhere.
    """

    face: str
    opening: str | None
    edge: EdgeKind
    height: float
    course: int
    against: Against
    starters: tuple[float, ...] = ()
    roof: str | None = None


@dataclass(frozen=True)
class OtherStarter:
    """A starter outside its limits that the job may ask for, and what it costs.

    Attributes:
        starter: height of butt line 1 [job units].
        cover: how far the first course covers the base then [job units].
        thin: that is less than is wanted.
        over_ground: how far the siding hangs above the ground then, where more is wanted [job units].
        gained: must-meet edges that are met then and are not now.
        missed: must-meet edges that are not met now.
    """

    starter: float
    cover: float
    thin: bool = False
    over_ground: float | None = None
    gained: int = 0
    missed: int = 0


@dataclass(frozen=True)
class MissedLimit:
    """A limit or a must-meet edge that lines do not keep to.

    Attributes:
        limit: ``starter``, outside its limits; ``ground``, too near for the first course; ``change`` of
            exposure, too great; ``must``, an edge that is not met; ``level``, to which an end of a face does
            not come back; ``musts``, that no starter within its limits meets and another would.
        amount: by how much it is missed [job units].
        course: first course of the zone above a change; the measured course that an end follows; else None.
        edge: the edge that is not met.
        instead: a starter that would clear the ground, or meet more must-meet edges.
        end: face and side of an end, and whether it stays high.
    """

    limit: Literal["starter", "ground", "change", "must", "level", "musts"]
    amount: float
    course: int | None = None
    edge: MissedEdge | None = None
    instead: OtherStarter | None = None
    end: tuple[str, Literal["left", "right"], bool] | None = None
