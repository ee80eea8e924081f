"""Orders of the pieces of a run."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import cache
from math import perm

#: Orders of one run that are tried: a long run has more of them than can be looked at.
_MOST = 240


@cache
def orders(kinds: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    """Orders of some pieces that differ, when pieces of one kind are alike.

    Args:
        kinds: of the pieces.

    Returns:
        Indices in the order of the row: every order that differs, the first pieces in front first; of a long
        run so many spread over all places of the pieces that have not the commonest kind.
    """
    common, count = Counter(kinds).most_common(1)[0] if kinds else (0, 0)
    apart = [i for i, kind in enumerate(kinds) if kind != common]
    if perm(len(kinds), len(apart)) <= _MOST or count == 1:
        return tuple(_differing(kinds, ()))
    return tuple(_spread(kinds, apart))


def _differing(kinds: tuple[int, ...], begun: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    if len(begun) == len(kinds):
        yield begun
        return
    tried: set[int] = set()
    for i, kind in enumerate(kinds):
        if i not in begun and kind not in tried:
            tried.add(kind)
            yield from _differing(kinds, (*begun, i))


def _spread(kinds: tuple[int, ...], apart: list[int]) -> Iterator[tuple[int, ...]]:
    """Places of the few pieces that are not alike, evenly drawn from all of them."""
    size, total = len(kinds), perm(len(kinds), len(apart))
    alike = [i for i in range(size) if i not in apart]
    for number in range(_MOST):
        rest = number * total // _MOST
        free, placed = list(range(size)), dict[int, int]()
        for i in apart:
            rest, at = divmod(rest, len(free))
            placed[free.pop(at)] = i
        others = iter(alike)
        yield tuple(placed[place] if place in placed else next(others) for place in range(size))
