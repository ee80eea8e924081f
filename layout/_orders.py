"""Orders of the pieces of a run."""

from __future__ import annotations

from functools import cache
from itertools import permutations


@cache
def orders(kinds: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    """Orders of some pieces that differ, when pieces of one kind are alike."""
    found: dict[tuple[int, ...], tuple[int, ...]] = {}
    for order in permutations(range(len(kinds))):
        found.setdefault(tuple(kinds[i] for i in order), order)
    return tuple(found.values())
