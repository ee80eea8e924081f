"""Every layout of a row of pieces, tick by tick: whether one keeps the rules that were relaxed.

Written from the rules, not from the search: what a row covers, and the seams of the courses that hang before
it, are read from the finished pieces. On a grid of ticks every place of a seam is tried:

    start  |······x1·········x2······|  end       x: where the piece on the right begins
           |=====]==|                             a piece ends a lap past the next one's x (boards: a joint
                 |=========]==|                   before it), is no longer than a stock length and none is
                           |=========|            shorter than the shortest that the job allows

A tick is reached with k seams when some tick that is reached with k - 1 lies one piece to its left.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.piece import FacePieces, Piece, Seam
from tests.layout.piececheck import BESIDE, BOARD_COURSES, ONE_LINE, PANEL_COURSES

#: Rules that are wanted, not binding: how far seams of neighbouring courses are apart, and no seam in a rake.
SOFT = frozenset({"apart", "raked"})
#: An eave out of level by less is no rake: 1/4 in 12.
LEVEL = 0.25 / 12
#: Ticks in an inch; what a layout must keep a rule by, so that no rounding decides.
TICKS, MARGIN = 1024, 3

Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class Row:
    """Pieces from an end of a run, or from a fixture's seam, to the next, and the seams between them."""

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]

    @property
    def course(self) -> int:
        return self.pieces[0].course


def rows(hung: FacePieces) -> list[Row]:
    """Every row of a face that has seams."""
    by_id = {piece.id: piece for piece in hung.pieces}
    after = {seam.left: seam for seam in hung.seams if seam.fixture is None}
    begun = {seam.right for seam in after.values()}
    found = []
    for piece in hung.pieces:
        if piece.id in after and piece.id not in begun:
            pieces, seams = [piece], []
            while pieces[-1].id in after:
                seams.append(after[pieces[-1].id])
                pieces.append(by_id[seams[-1].right])
            found.append(Row(tuple(pieces), tuple(seams)))
    return found


def untrue(plan: Plan, cut: Pieces) -> tuple[list[str], int]:
    """Rows that a layout exists for which keeps more rules than theirs, and how many relaxed rules there are.

    A rule is relaxed truly when no layout of the row keeps it and breaks no other than the row does; one that
    binds when none does even if all that are only wanted are relaxed.
    """
    wrong, relaxed = [], 0
    for face, hung in zip(plan.elevations, cut.faces, strict=True):
        for row in rows(hung):
            grid = Grid(plan, face, hung, row)
            broken = grid.broken()
            relaxed += len(broken)
            where = f"{hung.face}, course {row.course} from {row.pieces[0].id}"
            for rule in sorted(broken):
                if grid.layout(broken - {rule}):
                    wrong.append(f"{where}: a layout keeps {rule}")
            if broken - SOFT and grid.layout(SOFT):
                wrong.append(f"{where}: a layout keeps what binds, this one breaks {sorted(broken - SOFT)}")
    return wrong, relaxed


class Grid:
    """Every tick of one row.

    Args:
        plan: for the rules of the job.
        face: the row is on.
        hung: its pieces.
        row: the row.
    """

    def __init__(self, plan: Plan, face: ElevationPlan, hung: FacePieces, row: Row) -> None:
        self.row, self.inch = row, plan.job.inch
        self.tick = self.inch / TICKS
        first = row.seams[0]
        cladding = plan.job.claddings[row.pieces[0].cladding]
        self.length, self.panel = cladding.length, cladding.family == "panel"
        self.shortest = min(plan.job.seams.shortest, cladding.length / 2)
        #: What a piece reaches past where the next one begins.
        self.over = row.pieces[0].end - row.pieces[1].start
        self.start, self.end = row.pieces[0].start, row.pieces[-1].end
        count = int((self.end - self.start) / self.tick) + 1
        self.x = self.start + self.tick * np.arange(count)
        entrance = face.elevation.entrance
        if not self.panel:
            self.line = self.x + self.over / 2
        elif entrance is None:
            self.line = self.x + (self.over if first.front == "left" else 0.0)
        else:
            self.line = self.x + np.where(self.x < entrance, 0.0, self.over)
        self.shut = {"opening": list(self._openings(plan, face)), "raked": list(self._rakes())}
        away = PANEL_COURSES if self.panel else BOARD_COURSES
        near = [
            (abs(row.course - seam.course), seam.x)
            for seam in hung.seams
            if seam.course_set == first.course_set
            and 1 <= abs(row.course - seam.course) <= away
            and (seam.course < row.course or seam.fixture is not None)
        ]
        one_line, apart = ONE_LINE * self.inch, plan.job.seams.apart
        self.shut["line"] = [(x - one_line, x + one_line) for _, x in near]
        self.shut["apart"] = [(x - apart, x + apart) for courses, x in near if courses == 1]
        self.framing = plan.job.framing

    def _openings(self, plan: Plan, face: ElevationPlan) -> Iterator[tuple[float, float]]:
        low = min(piece.bottom for piece in self.row.pieces) - plan.job.limits.tolerance
        high = max(piece.top for piece in self.row.pieces) + plan.job.limits.tolerance
        beside = BESIDE * self.inch
        for opening in face.elevation.openings:
            xs = [x for x, _ in opening.trimmed]
            if opening.sill <= high and opening.head >= low:
                yield min(xs) - beside, max(xs) + beside
        for item in face.elevation.fixtures:
            if item.block and item.bottom <= high and item.top >= low:
                yield item.left - beside, item.right + beside

    def _rakes(self) -> Iterator[tuple[float, float]]:
        for piece in self.row.pieces:
            for ring in (piece.polygon, *piece.holes):
                for (x, y), (u, v) in zip(ring, (*ring[1:], ring[0]), strict=True):
                    run, rise = abs(u - x), abs(v - y)
                    if run > 1e-6 and rise > 1e-6 and rise > LEVEL * run:
                        yield min(x, u), max(x, u)

    def _off_studs(self, line: float) -> float:
        """How far a line is from the nearest stud [job units]."""
        off = (line - self.framing.offset) % self.framing.spacing
        return min(off, self.framing.spacing - off)

    def broken(self) -> frozenset[str]:
        """The rules that the row itself breaks, against what hangs before it."""
        found = set[str]()
        near = 2 * self.tick
        for seam in self.row.seams:
            for rule, spans in self.shut.items():
                if any(low + near < seam.x < high - near for low, high in spans):
                    found.add(rule)
            if not self.panel and self._off_studs(seam.x) > near:
                found.add("stud")
        if min(piece.length for piece in self.row.pieces) < self.shortest - near:
            found.add("shortest")
        return frozenset(found)

    def layout(self, relaxed: Collection[str]) -> bool:
        """Whether some layout, of however many pieces, keeps every rule but some.

        Args:
            relaxed: those that need not be kept.
        """
        margin = MARGIN * self.tick
        free = np.ones(len(self.x), dtype=bool)
        for rule, spans in self.shut.items():
            if rule not in relaxed:
                for low, high in spans:
                    free &= (self.line <= low - margin) | (self.line >= high + margin)
        if not self.panel and "stud" not in relaxed:
            off = (self.line - self.framing.offset) % self.framing.spacing
            free &= np.minimum(off, self.framing.spacing - off) <= 0.5 * self.tick
        least = margin if "shortest" in relaxed else self.shortest + margin
        most = self.length - margin
        reached = free & self._one_piece(self.x + self.over - self.start, least, most)
        last = self._one_piece(self.end - self.x, least, most)
        while reached.any():
            if (reached & last).any():
                return True
            reached = free & self._further(reached, least - self.over, most - self.over)
        return False

    def _one_piece(self, length: npt.NDArray[np.float64], least: float, most: float) -> Mask:
        return (length >= least) & (length <= most)

    def _further(self, reached: Mask, least: float, most: float) -> Mask:
        """Ticks with one that is reached so far to their left."""
        count = np.concatenate(([0], np.cumsum(reached)))
        at = np.arange(len(reached))
        near, far = (round(reach / self.tick) for reach in (least, most))
        return count[np.maximum(at - near + 1, 0)] > count[np.maximum(at - far, 0)]
