"""Straight lengths cut from stock in the order of fixing, with a small heap of cut ends, and a bound."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, inf

from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.layout.order.stock_bound import beside_halves
from evencourse.layout.pieces.hung import hang
from evencourse.layout.pieces.stretch import CODES, Stock, Stretch


@dataclass(frozen=True)
class Length:
    """One piece of a run, as cut from its bar.

    Attributes:
        run: index of its run.
        length: [job units].
        bar: index of its bar.
    """

    run: int
    length: float
    bar: int


@dataclass(frozen=True)
class BarPlan:
    """Runs of one material, and the bars they are cut from.

    Attributes:
        stock: length of a bar [job units].
        kerf: what the saw takes at a cut [job units].
        lap: of one piece over the next at a joint [job units].
        pieces: by run, in the order of fixing.
        bars: for each bar the indices of its pieces in the order of cutting, which is that of fixing.
        bound: bars that these pieces cannot do without.
    """

    stock: float
    kerf: float
    lap: float
    pieces: tuple[Length, ...]
    bars: tuple[tuple[int, ...], ...]
    bound: int

    @property
    def joints(self) -> int:
        """Joints between pieces of one run."""
        return len(self.pieces) - len({piece.run for piece in self.pieces})

    def left_over(self, bar: int) -> float:
        """What is left of a bar [job units]."""
        used = sum(self.pieces[index].length + self.kerf for index in self.bars[bar])
        return max(0.0, self.stock - used)


def split(length: float, stock: float, lap: float, shortest: float) -> tuple[float, ...]:
    """The pieces of one run: whole lengths first, then what is left.

    Args:
        length: what is to be covered [job units].
        stock: length of a bar.
        lap: of one piece over the next at a joint.
        shortest: shortest piece beside a joint.

    Rule: what fits a bar is one piece; what does not takes the fewest joints (common practice, no source).
    """
    if length <= stock + ROUNDING:
        return (length,)
    count = ceil((length - lap) / (stock - lap) - ROUNDING)
    rest = length + (count - 1) * lap - (count - 1) * stock
    least = min(shortest, stock / 2)
    if rest >= least:
        return (*[stock] * (count - 1), rest)
    return (*[stock] * (count - 2), stock - (least - rest), least)


def cut_straight(
    lengths: Sequence[float],
    stock: float,
    *,
    lap: float,
    kerf: float,
    shortest: float,
    scale: float,
    heap: int,
) -> BarPlan:
    """Cut runs from bars of one length, in the order in which they are fixed.

    Args:
        lengths: what is to be covered [job units].
        stock: length of a bar [job units].
        lap: of one piece over the next at a joint; 0 for butted ones [job units].
        kerf: what the saw takes at a cut [job units].
        shortest: shortest piece beside a joint [job units].
        scale: steps in one job unit that lengths are counted in.
        heap: cut ends that may wait at once.

    Returns:
        The cutting, by the same search as the siding's (``evencourse.layout.pieces.hanging``), and the bound
        of Martello and Toth (1990).
    """
    pieces = [
        (run, piece)
        for run, length in enumerate(lengths)
        if length > 0
        for piece in split(length, stock, lap, shortest)
    ]
    extra = ceil(kerf * scale - SAME)
    capacity = floor(stock * scale + SAME) + extra
    sizes = [min(capacity, ceil(piece * scale - SAME) + extra) for _, piece in pieces]
    bar = Stock(CODES, capacity, unseamed=capacity)
    bound = beside_halves(sizes, capacity)
    rows = hang([_alone(bar, size) for size in sizes], heap, 1.0, bound)
    bars: list[list[int]] = []
    cut: list[Length] = []
    for index, ((run, piece), row) in enumerate(zip(pieces, rows, strict=True)):
        (source,) = row.sources
        if source is None:
            bars.append([])
        at = len(bars) - 1 if source is None else cut[source[0]].bar
        cut.append(Length(run, piece, at))
        bars[at].append(index)
    return BarPlan(stock, kerf, lap, tuple(cut), tuple(map(tuple, bars)), bound)


def _alone(stock: Stock, size: int) -> Stretch:
    """A piece as a stretch without a seam."""
    return Stretch(0, stock, 0, 0, 0, 0.0, 0.0, None, 0, size, 0, 0, inf, (), ())
