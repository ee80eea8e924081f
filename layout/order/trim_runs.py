"""A run of trim: where it goes and how long it is; one length over openings that stand side by side."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from math import dist

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Point
from evencourse.layout.trade.materials import materials
from evencourse.layout.wall.border import BorderStretch, Hand, Place

#: Trim that is ripped from boards of the siding that it belongs to.
RIPPED = "starter furring"


@dataclass(frozen=True)
class BandEnd:
    """An end of a band board that a rake cuts.

    Attributes:
        up: height of the cut [job units].
        over: how far it leans inward over that height [job units].
        square: what stands square below it [job units].
    """

    up: float
    over: float
    square: float


@dataclass(frozen=True)
class TrimRun:
    """One stretch of trim that goes up as one, with joints where it is longer than its stock.

    Attributes:
        kind: which trim.
        size: width of a board or a ripped strip, thickness of furring; 0 for the rest [job units].
        face: name of the elevation.
        cladding: name of the cladding it belongs to.
        place: where it goes; see ``evencourse.layout.wall.border.BorderStretch``; ``band`` for a band board
            and its cap.
        opening: mark of the opening, the left one of several; None elsewhere.
        hand: at which end of the siding; None where it runs along it.
        length: [job units].
        shared: name of the face round the corner that the post serves too; None elsewhere.
        at: where it begins, of several that are named alike: from the left, or the height of a plumb one's
            foot [job units]; None where there is one.
        plumb: it stands.
        roof: mark of the roof, deck or ledger; None elsewhere.
        beside: marks of the openings to the right that it runs on over, or under.
        ends: how a band board's left and right end are cut along a rake; None for a square one.
    """

    kind: str
    size: float
    face: str
    cladding: str
    place: Place | str
    opening: str | None
    hand: Hand | None
    length: float
    shared: str | None = None
    at: float | None = None
    plumb: bool = False
    roof: str | None = None
    beside: tuple[str, ...] = ()
    ends: tuple[BandEnd | None, BandEnd | None] = (None, None)


def stock_length(plan: Plan, kind: str, cladding: str) -> float:
    """Length of a bar: the job's own, the board's it is ripped from, or else as in ``materials.toml``.

    Args:
        plan: for its job.
        kind: of trim.
        cladding: name of the cladding that it belongs to.

    Returns:
        [job units].
    """
    ripped = plan.job.claddings[cladding].length if kind == RIPPED else 0.0
    usual = ripped or round(materials()["trim"][kind]["stock"] * plan.job.inch, 6)
    return plan.job.order.lengths.get(kind, usual)


#: A run of trim and the stretch of the border that it lies along.
Placed = tuple[BorderStretch, TrimRun]


#: What a channel round an opening meets at its corners, and goes on over by its face.
_MEETS: dict[Place, tuple[Place, ...]] = {
    "head": ("side",),
    "sill": ("side", "curve"),
    "side": ("head", "sill"),
}


def channel_corners(plan: Plan, stretch: BorderStretch, around: Iterable[BorderStretch]) -> int:
    """Corners at which a channel meets another round its opening: none where another casing stops it.

    Args:
        plan: where the border comes from.
        stretch: along an opening.
        around: every stretch of the border along that opening.
    """
    if stretch.place == "slope":
        return 1
    near = plan.job.limits.tolerance + 1e-5 * plan.job.inch
    met = [point for one in around if one.place in _MEETS[stretch.place] for point in (one.start, one.end)]
    return sum(any(dist(end, point) <= near for point in met) for end in (stretch.start, stretch.end))


def over_several(plan: Plan, placed: Iterable[Placed]) -> Iterator[Placed]:
    """Trim with one length over, or under, openings side by side.

    Args:
        plan: for its stock.
        placed: runs, each with the stretch of the border that it lies along.

    Returns:
        Runs, each with the stretch that it begins along.

    Rule: where heads, or sills, are level and their trims touch, a joint over the mullion would leak: one
    length runs over both, as far as a stock length goes (common practice, no source).
    """
    found = list(placed)
    begins = {_end(pair, min): index for index, pair in enumerate(found) if pair[0].place in ("head", "sill")}
    after = {
        index: begins[_end(found[index], max)]
        for index in begins.values()
        if _end(found[index], max) in begins
    }
    later = set(after.values())
    for first in range(len(found)):
        if first in later:
            continue
        at, (begins_at, run) = first, found[first]
        while at in after:
            at = after[at]
            follows = found[at][1]
            length = run.length + follows.length
            if length <= stock_length(plan, run.kind, run.cladding) and follows.opening is not None:
                run = replace(run, length=length, beside=(*run.beside, follows.opening))
            else:
                yield begins_at, run
                begins_at, run = found[at]
        yield begins_at, run


def _end(pair: Placed, which: Callable[[Point, Point], Point]) -> tuple[object, ...]:
    """The left or the right end of a stretch of trim, and what goes on as one with it there."""
    stretch, run = pair
    x, y = which(stretch.start, stretch.end)
    return (stretch.face, stretch.zone, stretch.place, run.kind, run.size, round(x, 5), round(y, 5))
