"""A roof, a deck or a ledger against a wall: a band of it where there is no siding."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from evencourse.layout.model.geometry import Point

RoofKind = Literal["roof", "deck", "ledger"]


@dataclass(frozen=True)
class Roof:
    """What stands against a wall and leaves out a band of it; siding goes on below.

    Attributes:
        mark: its mark on the drawings.
        kind: a roof, which siding keeps clear of, a deck, or a bare ledger.
        line: its top on the wall, points from left to right, straight between them [job units].
        depth: from the line down to where siding goes on, plumb [job units].
    """

    mark: str
    kind: RoofKind
    line: tuple[Point, ...]
    depth: float

    @property
    def left(self) -> float:
        """X of its left end."""
        return self.line[0][0]

    @property
    def right(self) -> float:
        """X of its right end."""
        return self.line[-1][0]

    @property
    def top(self) -> float:
        """Height of its highest point."""
        return max(y for _, y in self.line)

    def shifted(self, up: float) -> tuple[Point, ...]:
        """Its line moved plumb [job units]."""
        return tuple((x, y + up) for x, y in self.line)

    def outline(self) -> tuple[Point, ...]:
        """The band that it covers, counter-clockwise [job units]."""
        return (*self.shifted(-self.depth), *reversed(self.line))

    def parts(self) -> tuple[tuple[Point, ...], ...]:
        """The band in convex parts, one under each straight stretch of its line, counter-clockwise."""
        return tuple(
            ((x0, y0 - self.depth), (x1, y1 - self.depth), (x1, y1), (x0, y0))
            for (x0, y0), (x1, y1) in pairwise(self.line)
        )
