"""Facts about edges that were given up, by brute force over every answer of a small wall.

For a test of what the planner says about an edge that is not flush: whether any lines meet it, whether any
meet it together with another, and what those that meet it lose against the lines that were chosen.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from tests.oracles.everyanswer import Everything
from tests.oracles.lapwalls import TERMS, Butts, LapWall, Terms, objective

MISSED, WIDE, SLIVERS, WEIGHT = 1, 2, 3, 4


@dataclass(frozen=True)
class Loss:
    """What the best lines that meet an edge lose against the chosen ones.

    Attributes:
        butts: the best lines in which the edge is flush.
        terms: theirs, in the order of ``tests.oracles.lapwalls.TERMS``.
        chosen: the terms of the lines that were chosen.
        decides: the first term that is worse, in words; None when they are as good.
    """

    butts: Butts
    terms: Terms
    chosen: Terms
    decides: str | None

    @property
    def same_musts(self) -> bool:
        """An answer has the edge flush and misses no more musts."""
        return self.terms[MISSED] <= self.chosen[MISSED]

    @property
    def no_wider(self) -> bool:
        """An answer has it flush, misses no more musts and jumps no wider past the limit."""
        return self.terms[: WIDE + 1] <= self.chosen[: WIDE + 1]

    @property
    def no_more_slivers(self) -> bool:
        """An answer has it flush, does as well in all that and leaves no more slivers."""
        return self.terms[: SLIVERS + 1] <= self.chosen[: SLIVERS + 1]

    @property
    def as_much_flush(self) -> bool:
        """An answer has it flush, does as well in all that and has as much flush weight."""
        return self.terms[: WEIGHT + 1] <= self.chosen[: WEIGHT + 1]


def lines_that_meet(wall: LapWall, *edges: int) -> tuple[Terms, Butts] | None:
    """The best lines with all of these edges flush; None when there are none.

    Args:
        wall: the wall.
        edges: places in ``wall.targets``; none of them ignored.
    """
    if any(wall.targets[edge].importance == "ignore" for edge in edges):
        raise ValueError("an edge that is ignored is not looked at")
    found = Everything(wall, flush=edges).best()
    return found[0] if found else None


def can_be_flush(wall: LapWall, edge: int) -> bool:
    """Whether any answer makes the edge flush, whatever becomes of the others."""
    return lines_that_meet(wall, edge) is not None


def can_both_be_flush(wall: LapWall, edge: int, other: int) -> bool:
    """Whether any answer makes both edges flush."""
    return lines_that_meet(wall, edge, other) is not None


def loss(wall: LapWall, edge: int, chosen: Butts) -> Loss | None:
    """What it costs to have the edge flush; None when no answer has it.

    The chosen lines are taken to be the best of all, so that the best lines with the edge flush are no better
    in any term before the first that differs: a term that is worse there is worse in every such answer that
    is as good before it.
    """
    found = lines_that_meet(wall, edge)
    if found is None:
        return None
    terms, butts = found
    best = objective(wall, chosen)
    decides = next((TERMS[i] for i, (a, b) in enumerate(zip(terms, best, strict=True)) if a > b), None)
    return Loss(butts, terms, best, decides)


def given_up(wall: LapWall, chosen: Butts) -> list[int]:
    """Edges that count, are neither passed nor hung over, and are not flush: places in ``wall.targets``."""
    return [
        place
        for place, target in enumerate(wall.targets)
        if target.importance != "ignore" and lost(wall, place, chosen)
    ]


def lost(wall: LapWall, edge: int, butts: Butts) -> bool:
    """Whether lines cut the edge: alone on the wall, it is missed or it is not."""
    alone = replace(wall, targets=(replace(wall.targets[edge], importance="must"),))
    return objective(alone, butts)[MISSED] == 1
