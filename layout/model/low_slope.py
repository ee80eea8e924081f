"""Bases and roofs that slope so little that courses are ripped along them: no rake is laid out there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencourse.layout.model.geometry import Point


@dataclass(frozen=True)
class ThinEnd:
    """Where a base out of level leaves a sliver of the course that it ends in.

    Attributes:
        course: number of the course.
        x: where [job units].
        strip: what shows of it there, up to the next butt line [job units].
    """

    course: int
    x: float
    strip: float


@dataclass(frozen=True)
class LowSlope:
    """A base out of level, or a side of a roof as flat, that courses are ripped along.

    Attributes:
        start: its left end [job units].
        end: its right end.
        side: ``base``, siding lies over it; ``top``, under it.
        roof: mark of the roof; None for the wall's own base.
        course_set: whose courses are ripped along it, the lowest where several are.
        overhang: how far the rips hang below the base, to cover the top of a foundation [job units].
        thin: slivers at its ends, from the left.
    """

    start: Point
    end: Point
    side: Literal["base", "top"]
    roof: str | None
    course_set: str
    overhang: float = 0.0
    thin: tuple[ThinEnd, ...] = ()

    def beside(self, left: Point, right: Point) -> bool:
        """Whether a stretch of the wall's outline lies on it."""
        low, high = sorted((self.start[1], self.end[1]))
        along = self.start[0] <= left[0] and right[0] <= self.end[0]
        return self.roof is None and along and all(low <= y <= high for _, y in (left, right))
