"""Straight lengths cut from stock: the fewest bars, offcuts used again, and a bound that is proven."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor

from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.layout.order.stock_bound import beside_halves

#: Steps of the exact search before it settles for what it has: a bound on work.
_STEPS = 4000
#: How often some bars are cut anew, at most, and times the pieces: bounds on work.
_TURNS, _WORK = 400, 200_000
#: Steps that a bar's length is then counted in, at least.
_GRAIN = 8_000
#: Bars above which the exact search is not begun: it goes one level deeper for each.
_DEEPEST = 150


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
        bars: for each bar the indices of its pieces in the order of cutting, the longest first.
        bound: bars that these pieces cannot do without; equal to the bars' number when that is proven to be
            the fewest.
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
    lengths: Sequence[float], stock: float, *, lap: float, kerf: float, shortest: float, scale: float
) -> BarPlan:
    """Cut runs from bars of one length.

    Args:
        lengths: what is to be covered [job units].
        stock: length of a bar [job units].
        lap: of one piece over the next at a joint; 0 for butted ones [job units].
        kerf: what the saw takes at a cut [job units].
        shortest: shortest piece beside a joint [job units].
        scale: steps in one job unit that lengths are counted in.

    Returns:
        The cutting. Bars are filled longest piece first, then some of them emptied and filled again as full
        as can be, over and over. The bound is that of Martello and Toth (1990), raised by an exact search
        (bin completion, Korf 2003) as far as a fixed number of steps goes: small lists are proven.
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
    packed, bound = pack(sizes, capacity)
    number: dict[int, int] = {}
    bar_of = [0] * len(pieces)
    for bar, members in enumerate(packed):
        for index in members:
            bar_of[index] = bar
    for bar in bar_of:
        number.setdefault(bar, len(number))
    cut = tuple(Length(run, piece, number[bar]) for (run, piece), bar in zip(pieces, bar_of, strict=True))
    bars: list[list[int]] = [[] for _ in number]
    for index in sorted(range(len(cut)), key=lambda index: (-sizes[index], index)):
        bars[cut[index].bar].append(index)
    return BarPlan(stock, kerf, lap, cut, tuple(map(tuple, bars)), bound)


def pack(sizes: Sequence[int], capacity: int) -> tuple[list[list[int]], int]:
    """Sizes into bins of one capacity: the bins' members, and a bound on their number.

    Args:
        sizes: whole numbers, none above the capacity.
        capacity: of a bin.
    """
    order = sorted(range(len(sizes)), key=lambda index: (-sizes[index], index))
    bound = beside_halves(sizes, capacity)
    best = _improved(_best_fit(sizes, order, capacity), sizes, capacity, bound)
    while bound < len(best) <= _DEEPEST:
        search = _Search(sizes, order, capacity)
        found = search.run(bound)
        if found is not None:
            return found, bound
        if search.steps <= 0:
            break
        bound += 1
    return best, bound


def _best_fit(sizes: Sequence[int], order: Sequence[int], capacity: int) -> list[list[int]]:
    """Longest first, each into the fullest bin that still takes it."""
    bins: list[list[int]] = []
    room: list[tuple[int, int]] = []
    for index in order:
        at = bisect_left(room, (sizes[index], -1))
        if at == len(room):
            bins.append([index])
            insort(room, (capacity - sizes[index], len(bins) - 1))
        else:
            free, bin_ = room.pop(at)
            bins[bin_].append(index)
            insort(room, (free - sizes[index], bin_))
    return bins


def _fullest(sizes: Sequence[int], order: Sequence[int], capacity: int) -> list[list[int]]:
    """Bin by bin: the first size that is left, and with it what fills the bin best, early sizes before late.

    Sums that can be reached are the set bits of whole numbers, one for every size on.
    """
    bins: list[list[int]] = []
    left = list(order)
    while left:
        room = capacity - sizes[left[0]]
        mask = (2 << room) - 1
        reach = [1]
        for index in reversed(left[1:]):
            reach.append((reach[-1] | (reach[-1] << sizes[index])) & mask)
        reach.reverse()
        total = reach[0].bit_length() - 1
        taken, kept = [left[0]], []
        for index, rest in zip(left[1:], reach[1:], strict=True):
            if sizes[index] <= total and rest >> (total - sizes[index]) & 1:
                taken.append(index)
                total -= sizes[index]
            else:
                kept.append(index)
        bins.append(taken)
        left = kept
    return bins


def _improved(bins: list[list[int]], sizes: Sequence[int], capacity: int, bound: int) -> list[list[int]]:
    """Some bins emptied and filled again, in turns that are always the same, while fewer may do.

    A turn is kept when it takes no more bins and leaves what is empty in fewer of them.
    """
    unit = 1 << max(0, (capacity // _GRAIN).bit_length() - 1)
    room = capacity // unit
    coarse = [min(room, -(-size // unit)) for size in sizes]
    turn = 1
    for _ in range(min(_TURNS, _WORK // len(sizes)) if len(bins) > bound else 0):
        some = []
        bins.sort(key=lambda members: sum(coarse[index] for index in members))
        for _ in range(min(len(bins), 5)):
            turn = (turn * 1103515245 + 12345) & 0x7FFFFFFF
            some.append((turn >> 8) % len(bins))
        chosen = sorted({0, *some})
        loose = [index for at in chosen for index in bins[at]]
        loose.sort(key=lambda index: -coarse[index])
        swap = (turn >> 4) % len(loose)
        loose[0], loose[swap] = loose[swap], loose[0]
        again = _fullest(coarse, loose, room)
        before = [sum(coarse[index] for index in bins[at]) for at in chosen]
        after = [sum(coarse[index] for index in members) for members in again]
        if len(again) > len(chosen) or sum(x * x for x in after) < sum(x * x for x in before):
            continue
        bins = [members for at, members in enumerate(bins) if at not in chosen] + again
        if len(bins) <= bound:
            break
    return bins


class _Search:
    """Whether sizes fit so many bins, bin by bin, the largest size that is left first.

    Args:
        sizes: of the items.
        order: their indices, the largest first.
        capacity: of a bin.
    """

    def __init__(self, sizes: Sequence[int], order: Sequence[int], capacity: int) -> None:
        self.capacity, self.steps = capacity, _STEPS
        self.kinds: list[int] = []
        self.members: list[list[int]] = []
        for index in order:
            if not self.kinds or self.kinds[-1] != sizes[index]:
                self.kinds.append(sizes[index])
                self.members.append([])
            self.members[-1].append(index)
        self.left = [len(members) for members in self.members]
        self.failed: set[tuple[int, ...]] = set()

    def run(self, bins: int) -> list[list[int]] | None:
        """The bins' members; None when there are none, or the steps ran out."""
        waste = bins * self.capacity - sum(
            size * count for size, count in zip(self.kinds, self.left, strict=True)
        )
        chosen: list[list[int]] = []
        if waste < 0 or not self._fill(waste, chosen):
            return None
        queues = [list(members) for members in self.members]
        return [[queues[kind].pop(0) for kind in found] for found in reversed(chosen)]

    def _fill(self, waste: int, chosen: list[list[int]]) -> bool:
        first = next((kind for kind, count in enumerate(self.left) if count), None)
        if first is None:
            return True
        state = tuple(self.left)
        if state in self.failed:
            return False
        self.left[first] -= 1
        for found, spare in self._completions(first, self.capacity - self.kinds[first], waste):
            for kind in found:
                self.left[kind] -= 1
            done = self._fill(waste - spare, chosen)
            for kind in found:
                self.left[kind] += 1
            if done:
                chosen.append([first, *found])
                self.left[first] += 1
                return True
            if self.steps <= 0:
                break
        self.left[first] += 1
        if self.steps > 0:
            self.failed.add(state)
        return False

    def _completions(self, kind: int, room: int, waste: int) -> Iterator[tuple[list[int], int]]:
        """What else goes into a bin so that no more than the waste stays empty, large sizes first."""
        self.steps -= 1
        if self.steps <= 0:
            return
        while kind < len(self.kinds) and (self.kinds[kind] > room or not self.left[kind]):
            kind += 1
        if kind == len(self.kinds):
            if room <= waste:
                yield [], room
            return
        most = min(self.left[kind], room // self.kinds[kind])
        for count in range(most, -1, -1):
            for found, spare in self._completions(kind + 1, room - count * self.kinds[kind], waste):
                yield [kind] * count + found, spare
