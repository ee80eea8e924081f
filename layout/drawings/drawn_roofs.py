"""A roof, a deck or a ledger from the band that is drawn of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import get_args

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.geometry import area
from evencourse.layout.model.job import Point
from evencourse.layout.model.roof import Roof, RoofKind

#: Kinds that a block's attribute says, in the job's own words.
ROOF_KINDS: tuple[RoofKind, ...] = get_args(RoofKind)


def roof_of(
    mark: str, kind: RoofKind, band: Sequence[Point], near: float, settle: Callable[[float], float]
) -> Roof | None:
    """The roof whose band is drawn; None when the outline is no band of one depth, measured plumb.

    Args:
        mark: its mark.
        kind: what it is.
        band: outline [job units].
        near: how far a shape may be off [job units].
        settle: takes the dust of arithmetic off a length.
    """
    ring = list(band) if area(band) > 0 else list(band)[::-1]
    left, right = min(x for x, _ in ring), max(x for x, _ in ring)
    start = max((point for point in ring if point[0] <= left + near), key=lambda point: point[1])
    at = ring.index(start)
    ring = [*ring[at:], *ring[:at]]
    # Counter-clockwise from its upper left corner: down the left end, along the underside, up, and back.
    turn = next((index for index, (x, _) in enumerate(ring) if x >= right - near), 0)
    under, line = ring[1 : turn + 1], [start, *reversed(ring[turn + 1 :])]
    if len(under) != len(line) or len(line) < 2:
        return None
    depth = settle(line[0][1] - under[0][1])
    plumb = all(
        abs(upper[0] - lower[0]) <= near and abs(upper[1] - lower[1] - depth) <= near
        for upper, lower in zip(line, under, strict=True)
    )
    rightward = all(a[0] < b[0] for a, b in pairwise(line))
    return Roof(mark, kind, tuple(line), depth) if plumb and rightward and depth > near else None


def roof_words(kind: RoofKind, mark: str) -> str:
    """``deck "DK1"``, as a note names it."""
    if kind == "roof":
        return gettext('roof "{mark}"', mark=mark)
    if kind == "deck":
        return gettext('deck "{mark}"', mark=mark)
    return gettext('ledger "{mark}"', mark=mark)
