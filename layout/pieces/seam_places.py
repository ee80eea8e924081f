"""Where the seams of a stretch may lie, and how few pieces its rest takes from there.

    x:     start      |-- apart from the seams of the course below --|        end
           ·····[======]                              [====]·····[==]·····
    pieces left:  3 3 2                                 2 1       1

Every seam in a bracket is lawful, and from each the rest can be covered lawfully. So whoever hangs from the
left and steps from bracket to bracket never gets stuck: a dynamic programme from the right has looked ahead.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from evencourse.layout.pieces.seam_rules import Rule
from evencourse.layout.pieces.stretch import Stretch

Ints = npt.NDArray[np.int64]
Range = tuple[int, int]
#: A seam near by: how many courses away, and its line [ticks].
Near = tuple[int, int]
#: Seams that hang, sorted: the line of each, and ``COURSE`` times its course [ticks].
Lines = tuple[int, ...]
#: More than twice any line.
COURSE = 1 << 46

#: Which rules are relaxed, step by step, where no layout keeps them: wanted ones before those that bind.
LEVELS: tuple[frozenset[Rule], ...] = (
    frozenset(),
    frozenset({"apart"}),
    frozenset({"raked"}),
    frozenset({"apart", "raked"}),
    frozenset({"opening"}),
    frozenset({"apart", "opening"}),
    frozenset({"opening", "raked"}),
    frozenset({"apart", "opening", "raked"}),
    frozenset({"apart", "opening", "raked", "line"}),
    frozenset({"apart", "opening", "raked", "line", "shortest"}),
    frozenset({"apart", "opening", "raked", "line", "shortest", "stud"}),
)
#: Levels that relax nothing but what is wanted, not bound.
WANTED = 4
#: Brackets whose edges are tried for a seam.
EDGES = 4
#: How far places beside different seams are kept from each other, and what lies beyond them all [ticks].
APART, _BEYOND = 1 << 32, 1 << 46


@dataclass(frozen=True)
class Places:
    """Where a stretch may have seams, beside the seams that hang near it.

    Attributes:
        brackets: from the left, where each begins and ends [ticks], the fewest pieces that the rest takes.
        fewest: pieces that the whole stretch takes.
        shortest: size of the shortest piece [ticks].
        level: of the rules that had to be relaxed.
    """

    brackets: Sequence[tuple[int, int, int]]
    fewest: int
    shortest: int
    level: int


class SideBySide(NamedTuple):
    """Places beside several other seams: all brackets on one line, ``APART`` times their number.

    Attributes:
        starts: ends: left: of the brackets, one more before all and ``EDGES`` more after them.
        owners: index of the places that a bracket is of; their number is one more.
        fewest: shortest: levels: by places.
    """

    starts: Ints
    ends: Ints
    left: Ints
    owners: Ints
    fewest: Ints
    shortest: Ints
    levels: Ints

    def within(self, more: int) -> tuple[Ints, Ints, Ints]:
        """Starts, ends and pieces left where the rest takes no more than the fewest and so many more."""
        kept = self.left <= self.fewest[self.owners] + more
        return self.starts[kept], self.ends[kept], self.left[kept]


def side_by_side(found: Sequence[Places], long: bool) -> SideBySide:
    """Places as arrays; none where a rule would be relaxed for a seam that need not be.

    Args:
        found: of one stretch, beside several other seams.
        long: whether the stretch has to have a seam.
    """
    several = [one.brackets if long or not one.level else () for one in found]
    count = sum(map(len, several))
    brackets = np.empty((4, 1 + count + EDGES), np.int64)
    brackets[:, 0] = -_BEYOND, -_BEYOND, -_BEYOND, 0
    brackets[:, 1 + count :] = np.array((_BEYOND, _BEYOND, -_BEYOND, 0))[:, None]
    mine = brackets[:, 1 : 1 + count]
    mine[3] = np.arange(len(several)).repeat([len(one) for one in several])
    mine[:3] = np.array(list(chain.from_iterable(several)), np.int64).reshape(-1, 3).T
    mine[:2] += (mine[3] + 1) * APART
    columns = np.array([(one.fewest, one.shortest, one.level) for one in found], np.int64).T
    return SideBySide(*brackets, *columns)


def near_by(stretch: Stretch, lines: Lines) -> tuple[Near, ...]:
    """The seams of the courses below a stretch that are near it; those of all but the last one as one.

    Args:
        stretch: any.
        lines: seams that hang on its face.
    """
    stock = stretch.stock
    room = max(stock.apart, stock.in_line) + stock.lap
    low, high = stretch.low - room, stretch.high + room
    if stretch.turned:
        low, high = stretch.mirror_line(high), stretch.mirror_line(low)
    found: set[Near] = set()
    for away in range(stock.courses_between, 0, -1):
        base, far = (stretch.course - away) * COURSE, min(away, 2)
        for line in lines[bisect_right(lines, base + low) : bisect_left(lines, base + high)]:
            found.add((far, stretch.mirror_line(line - base) if stretch.turned else line - base))
    return tuple(sorted(found))


def above(lines: Lines, stretch: Stretch) -> Lines:
    """Seams without those that are too far below a stretch to matter.

    Args:
        lines: seams that hang on its face.
        stretch: any.
    """
    first = stretch.course - stretch.stock.courses_between
    return lines[bisect_left(lines, first * COURSE - COURSE // 2) :]


def places(stretch: Stretch, near: Iterable[Near]) -> Places:
    """Where a stretch may have seams, the rules relaxed only as far as no layout keeps them.

    Args:
        stretch: any.
        near: the seams that hang near it.

    Rules: ``LEVELS``; how a level is found: whatever the pieces, from the right end to the left, every seam
    from which the rest can be covered is known, so that none is said to be impossible that is not.
    """
    near = (*near, *stretch.fixed)
    kept: tuple[Range, ...] = ()
    for level, relaxed in enumerate(LEVELS):
        shortest = stretch.stock.shortest
        if "shortest" in relaxed:
            shortest = stretch.stock.relaxed
        if "opening" in relaxed and not kept:
            kept = _kept_clear(stretch, near, relaxed | {"apart", "raked"}, shortest)
        found, fewest = _counted(stretch, _free(stretch, near, relaxed, shortest, kept), shortest)
        if fewest:
            return Places(sorted(found), fewest, shortest, level)
    raise ValueError(f"a length of {stretch.stock.capacity} ticks is too short to be seamed")


def _kept_clear(
    stretch: Stretch, near: Iterable[Near], relaxed: frozenset[Rule], shortest: int
) -> tuple[Range, ...]:
    """Openings that a layout keeps clear of though not of all: none gives way for another one's sake."""
    kept: tuple[Range, ...] = ()
    for low, high, rule in stretch.spans:
        if rule == "opening":
            free = _free(stretch, near, relaxed, shortest, (*kept, (low, high)))
            if _counted(stretch, free, shortest)[1]:
                kept = (*kept, (low, high))
    return kept


def _counted(stretch: Stretch, free: list[Range], shortest: int) -> tuple[list[tuple[int, int, int]], int]:
    """Brackets with the fewest pieces that the rest takes; pieces of the whole, 0 when there is no layout."""
    stock = stretch.stock
    fewest = int(stretch.size <= stock.capacity)
    found: list[tuple[int, int, int]] = []
    # Seams from which one more piece reaches what is known already; at first the right end.
    reach = [(stretch.end - stock.capacity, stretch.end - shortest)]
    pieces = 1
    while free and reach and (not fewest or pieces <= fewest + stock.extra):
        # What lies to the left of the reach is not looked at yet, what lies to its right never again.
        free, ahead = _parted(free, reach[0][0])
        inside, outside = _split(ahead, reach)
        free += [(low, high) for low, high in outside if low < reach[-1][1]]
        found += [(low, high, pieces) for low, high in inside]
        reach = _joined(
            (low - stock.capacity + stock.step, high - shortest + stock.step) for low, high in inside
        )
        pieces += 1
        if not fewest and any(low <= stretch.start <= high for low, high in reach):
            fewest = pieces
    return found, fewest


def _parted(ranges: list[Range], at: int) -> tuple[list[Range], list[Range]]:
    """Sorted ranges that end before a place, and the others; the list is taken apart for it."""
    others: list[Range] = []
    while ranges and ranges[-1][1] >= at:
        others.append(ranges.pop())
    return ranges, others[::-1]


def _split(ranges: Sequence[Range], by: Sequence[Range]) -> tuple[list[Range], list[Range]]:
    """What of sorted ranges lies in other sorted ranges, and what does not."""
    inside: list[Range] = []
    outside: list[Range] = []
    at = 0
    for low, high in ranges:
        here = low
        while at < len(by) and by[at][1] < low:
            at += 1
        along = at
        while along < len(by) and by[along][0] <= high:
            first, last = by[along]
            if first > here:
                outside.append((here, first - 1))
            inside.append((max(here, first), min(high, last)))
            here = last + 1
            along += 1
        if here <= high:
            outside.append((here, high))
    return inside, outside


def _joined(ranges: Iterable[Range]) -> list[Range]:
    found: list[Range] = []
    for low, high in sorted(ranges):
        if found and low <= found[-1][1] + 1:
            found[-1] = (found[-1][0], max(high, found[-1][1]))
        else:
            found.append((low, high))
    return found


def _free(
    stretch: Stretch,
    near: Iterable[Near],
    relaxed: frozenset[Rule],
    shortest: int,
    kept: Iterable[Range] = (),
) -> list[Range]:
    """Where seams may lie by themselves, off the openings that are kept all the same [right piece's left]."""
    stock = stretch.stock
    shut = [(low, high) for low, high, rule in stretch.spans if rule not in relaxed]
    shut += kept
    if "line" not in relaxed:
        for away, line in near:
            wanted = stock.apart if away == 1 and "apart" not in relaxed else 0
            reach = max(wanted, stock.in_line)
            shut.append((line - reach, line + reach))
    shut.sort()
    low = stretch.start + shortest - stock.step
    high = stretch.end - shortest
    if stock.on_studs and "stud" not in relaxed:
        points = stretch.points[bisect_left(stretch.points, low) : bisect_right(stretch.points, high)]
        return list(_points(points, shut, stock.joint // 2))
    if stock.on_studs:
        return list(_gaps(shut, low, high, -(stock.joint // 2)))
    # Left of the entrance the right piece lies in front, right of it behind.
    if stretch.entrance >= high:
        return list(_gaps(shut, low, high, 0))
    if stretch.entrance <= low:
        return list(_gaps(shut, low, high, stock.lap))
    border = int(stretch.entrance)
    return [*_gaps(shut, low, border - 1, 0), *_gaps(shut, border, high, stock.lap)]


def _gaps(shut: Sequence[Range], low: int, high: int, shift: int) -> Iterator[Range]:
    """What sorted open ranges of lines leave of a closed range of seams, a line a shift from its seam."""
    here, high = low + shift, high + shift
    for first, last in shut:
        if last <= here:
            continue
        if first >= high:
            break
        if first >= here:
            yield here - shift, first - shift
        here = last
    if here <= high:
        yield here - shift, high - shift


def _points(points: Sequence[int], shut: Sequence[Range], half: int) -> Iterator[Range]:
    """Joints whose lines, half a joint to their left, lie in none of the sorted open ranges."""
    at, reach = 0, -(1 << 60)
    for point in points:
        line = point - half
        while at < len(shut) and shut[at][0] < line:
            reach = max(reach, shut[at][1])
            at += 1
        if line >= reach:
            yield point, point
