"""A stretch of siding that is hung as one, the stock it is cut from, and the rules for its seams."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf

from evencourse.layout.pieces.seam_rules import Rule

#: Codes of ends of one stock lie above its number times this: an end's code less its stock's is its length.
CODES = 1 << 40


@dataclass(frozen=True)
class Stock:
    """The lengths that one cladding is cut from, and its rules [ticks].

    The size of a piece is its length and one cut of the saw; a length holds sizes up to its capacity.

    Attributes:
        code: what is added to the length of an end, so that ends of several stocks lie on one heap.
        capacity: of a new length.
        step: what one more seam takes: a lap, or less a joint, and a cut.
        shortest: shortest piece beside a seam.
        unseamed: a stretch no longer than this has no seam.
        extra: seams that a longer one may have beyond the fewest.
        apart: seams of neighbouring courses apart.
        in_line: seams nearer than this are in line.
        courses_between: courses that must lie between two seams in line.
        lap: of one panel over the next.
        joint: gap at a butt joint.
        kerf: of the saw.
        on_studs: joints lie on studs.
        scale: ticks in one job unit.
    """

    code: int
    capacity: int
    step: int = 0
    shortest: int = 0
    unseamed: int = 0
    extra: int = 0
    apart: int = 0
    in_line: int = 0
    courses_between: int = 0
    lap: int = 0
    joint: int = 0
    kerf: int = 0
    on_studs: bool = False
    scale: float = 1.0

    @property
    def relaxed(self) -> int:
        """Shortest piece beside a seam where that rule has to be relaxed: more than a lap [ticks]."""
        return max(self.shortest // 4, self.step + 1)


@dataclass(frozen=True)
class Stretch:
    """A run, or a part of one between seams that fixtures ask for.

    Seams are known by the x where the right piece begins: the same x as their visible line when that piece
    lies in front, a lap to the left of it when it lies behind, half a joint to its right between boards.

    Attributes:
        run: index of its run.
        stock: what it is cut from.
        face: zone: course: where it hangs.
        left: x where its first piece begins [job units].
        right: x where its last piece ends [job units].
        fixture: mark of the fixture at its right end; None for none.
        start: x where its first piece begins [ticks].
        end: x where its last piece ends, and one cut of the saw [ticks].
        low: high: least and greatest x where a seam may lie [ticks].
        entrance: x that seams face away from [ticks].
        spans: where no seam should lie, and why [ticks].
        points: the only places where a joint may lie, for boards on studs [ticks].
        fixed: seams that fixtures ask for in courses near by: how many courses away, and their line [ticks].
        turned: all places are mirrored, left for right, for it hangs from its right end.
    """

    run: int
    stock: Stock
    face: int
    zone: int
    course: int
    left: float
    right: float
    fixture: str | None
    start: int
    end: int
    low: int
    high: int
    entrance: float
    spans: tuple[tuple[int, int, Rule], ...]
    points: tuple[int, ...]
    fixed: tuple[tuple[int, int], ...] = ()
    turned: bool = False

    @property
    def size(self) -> int:
        """What it takes of a length in one piece [ticks]."""
        return self.end - self.start

    def from_its_end(self) -> Stretch:
        """Mirrored, left for right, where it hangs from its right end: all of it lies beyond an entrance.

        Start and end stay; a seam is then where the piece on the left ends, which hangs last and in front.
        """
        if self.stock.on_studs or self.entrance > self.low:
            return self
        return replace(
            self,
            low=self.mirror(self.high),
            high=self.mirror(self.low),
            entrance=inf,
            spans=tuple(
                (self.mirror_line(high), self.mirror_line(low), rule) for low, high, rule in self.spans
            ),
            fixed=tuple((away, self.mirror_line(line)) for away, line in self.fixed),
            turned=True,
        )

    def mirror(self, seam: int) -> int:
        """A seam in the mirror [ticks]."""
        return self.start + self.end - self.stock.step - seam

    def mirror_line(self, line: int) -> int:
        """The line of a seam in the mirror [ticks]."""
        return self.start + self.end - self.stock.step + self.stock.lap - line

    def line(self, seam: int) -> int:
        """Visible line of a seam [ticks]."""
        if self.turned:
            return self.mirror_line(seam)
        if self.stock.on_studs:
            return seam - self.stock.joint // 2
        return seam if seam < self.entrance else seam + self.stock.lap

    def in_turn(self, seams: Sequence[int]) -> Sequence[int]:
        """Indices of its pieces in the order of hanging: from the left, but behind before in front.

        Args:
            seams: from the left [ticks].
        """
        count = len(seams) + 1
        first = count if self.stock.on_studs else bisect_left(seams, self.entrance)
        return range(count) if first >= len(seams) else (*range(first), *range(count - 1, first - 1, -1))
