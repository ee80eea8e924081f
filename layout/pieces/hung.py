"""What is hung in the end: every stretch with its seams, and the piece whose end each piece is cut from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from evencourse.layout.pieces.hanging import Hanging, StretchLayout
from evencourse.layout.pieces.heaps import SEAM
from evencourse.layout.pieces.stretch import Stretch

#: Odds that an end on the heap gets a place that it could serve; those of pieces without seams; others that
#: are tried too on so small a wall.
ODDS, SEAMLESS, SMALL = 0.3, (0.45, 0.8), 40
#: Heaps of which the next smaller one is tried as well, for whoever may keep more ends need not; the first
#: on a small house alone. With more ends than so many each is needed half as likely.
SMALLER, MANY = (5, 8, 12), 12
#: What a seam counts on a house while it is searched: it also takes places from the courses over it.
CROWDED = 1.45
#: States that go on on a house of so many pieces; the least on a larger job, not so few that a step takes as
#: long with more; the most on a smaller one, which has the time for it.
HOUSE, PIECES, LEAST, WIDEST = 44, (300, 600), 8, 160
#: States of a first try where it may turn out to be enough, and of the next.
QUICK, FEWER = 8, 20

#: A piece: index of its stretch, and which of its pieces from the left.
Mark = tuple[int, int]


@dataclass(frozen=True)
class Row:
    """How one stretch is hung.

    Attributes:
        seams: from the left [ticks].
        sizes: of its pieces, from the left [ticks].
        sources: by piece, the one whose cut end it comes from; None for a new length.
        level: of the rules that had to be relaxed.
    """

    seams: tuple[int, ...]
    sizes: tuple[int, ...]
    sources: tuple[Mark | None, ...]
    level: int


def hang(stretches: Sequence[Stretch], heap: int, worth: float, enough: int = 0) -> list[Row]:
    """Every stretch with its seams, and where each piece is cut from.

    Args:
        stretches: in the order of hanging.
        heap: ends that may wait at once.
        worth: seams that one length is worth.
        enough: lengths that no plan of pieces without seams can do without: nothing is tried when they do.
    """
    if not stretches:
        return []
    seamless = all(one.size <= one.stock.unseamed for one in stretches)
    odds = SEAMLESS if seamless else (ODDS, *SEAMLESS) if len(stretches) <= SMALL else (ODDS,)
    pieces = sum(max(1, one.size // one.stock.capacity) for one in stretches)
    if pieces > PIECES[1]:
        odds = odds[:1]
    small = pieces < PIECES[0] and not enough
    heaps = (heap, *[one for one in SMALLER if one < heap and (small or one > SMALLER[0])][-1:])
    beam = FEWER if enough else _states(pieces)
    guide = worth if seamless or len(stretches) <= SMALL else worth / CROWDED
    tries = [(QUICK, heap, odds[0])] if enough else []
    tries += [(beam, most, one if most <= MANY else one / 2) for most in heaps for one in odds]
    best, least = None, inf
    for states, most, one in tries:
        search = Hanging(stretches, most, guide, one, states)
        spent = search.hang() / SEAM
        if spent < least:
            best, least = search, spent
        if least <= enough * guide:
            break
    found = best.layouts() if best else []
    if any(one.level for one in found):
        # Other seams further down may keep the rule, though they cost more there.
        search = Hanging(stretches, heap, guide, odds[0], beam, apart=True)
        if search.hang() / SEAM < least:
            found = search.layouts()
    return _named(stretches, found)


def _states(pieces: int) -> int:
    """States that go on while so many pieces are hung."""
    small, large = PIECES
    if pieces < small:
        return min(WIDEST, HOUSE * small**2 // pieces**2)
    return HOUSE if pieces < large else max(LEAST, HOUSE * large // pieces)


def _named(stretches: Sequence[Stretch], found: Sequence[StretchLayout]) -> list[Row]:
    """Layouts whose ends are told by the pieces that leave them."""
    ends: dict[int, list[Mark]] = {}
    rows = []
    for index, (stretch, layout) in enumerate(zip(stretches, found, strict=True)):
        sources: list[Mark | None] = [None] * len(layout.cuts)
        for piece in stretch.in_turn(layout.seams):
            cut = layout.cuts[piece]
            if cut.source:
                sources[piece] = ends[cut.source].pop()
            if cut.leaves:
                ends.setdefault(cut.leaves, []).append((index, piece))
        rows.append(Row(layout.seams, tuple(cut.size for cut in layout.cuts), tuple(sources), layout.level))
    return rows


def left_over(stretches: Sequence[Stretch], rows: Sequence[Row]) -> dict[Mark, int]:
    """The code of what every piece leaves of what it is cut from.

    Args:
        stretches: in the order of hanging.
        rows: how they hang.
    """
    found: dict[Mark, int] = {}
    for index, (stretch, row) in enumerate(zip(stretches, rows, strict=True)):
        for piece in stretch.in_turn(row.seams):
            source = row.sources[piece]
            whole = stretch.stock.code + stretch.stock.capacity if source is None else found[source]
            found[index, piece] = whole - row.sizes[piece]
    return found
