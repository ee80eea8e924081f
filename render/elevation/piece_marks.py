"""The mark of every piece on the wall: in the piece, over a run that begins in line, or on a leader."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import pairwise

from evencourse.layout.pieces.piece import FacePieces
from evencourse.render.drawing.crowd import Crowd
from evencourse.render.drawing.drawing import Leader, Line, Mark, Point, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.placement import Box, Occupied
from evencourse.render.elevation.piece_runs import (
    DOT,
    Panes,
    led,
    led_run,
    plumb_run,
    run_marks,
)
from evencourse.render.elevation.shown_piece import (
    ShownPiece,
    dots,
    in_line,
    in_turn,
    inside,
    mark_size,
    over_butts,
    seen_piece,
    set_mark,
)

#: Marks that may find no place: with more the wall is drawn too small, and the rest are not even tried.
HOPELESS = 4
#: A wall with more leaders than this is drawn too small: they are not even tried.
_MOST_LED = 18
#: A piece with less room than this beside its mark is narrow [mm].
_NARROW = 9.0
#: What seams keep clear [mm].
_CLEAR = 0.15


@dataclass(frozen=True)
class PieceMarks:
    """The marks of a face's pieces.

    Attributes:
        marks: what is drawn.
        missing: marks of the pieces that found no place.
        told: marks of the others.
    """

    marks: tuple[Mark, ...]
    missing: tuple[str, ...]
    told: frozenset[str] = frozenset()


class PieceMarking:
    """The marks of a face's pieces, without the face's letters, at their left ends.

    A mark stands in its piece where the course is high enough. Where it is not, pieces of courses that follow
    each other and begin in line are told by the first and the last, with a line between the two; a single one
    stands over its butt lines beside its seam; one that is narrow stands on a leader, at last in an opening.

    Narrow pieces are marked first, before whatever else can stand aside (:meth:`narrow`), the others after it
    (:meth:`others`).

    Args:
        hung: the pieces of a face.
        mm: drawing units in one millimetre of paper.
        taken: what is occupied, the wall's outline among its lines; what narrow pieces take is added.
        window: what is shown of the wall; None for all of it.
        air: what is free round the wall, where marks are led that have no room on it; None for nothing.
        cuts: along match lines, what no mark covers.
        shades: the shadow under the eave, which leaders cross only where they must.
        patient: every mark is tried, however many have found no place.
    """

    def __init__(
        self,
        hung: FacePieces,
        mm: float,
        taken: Occupied,
        window: Box | None = None,
        air: Box | None = None,
        cuts: Sequence[Box] = (),
        shades: Sequence[tuple[Point, Point]] = (),
        patient: bool = False,
    ) -> None:
        self._patient = patient
        self._mm, self._taken, self._window, self._air = mm, taken, window, air
        self._crowd = Crowd()
        self._crowd.shell(*taken.lines)
        self._crowd.letters_off(*cuts)
        self._crowd.shades += shades
        self._panes = Panes(taken.panes, mm)
        self._crowd.bar(*taken.bars)
        clear = _CLEAR * mm
        self._crowd.letters_off(*(Box(s.x - clear, s.bottom, s.x + clear, s.top) for s in hung.seams))
        self._left = [one for piece in hung.pieces if (one := seen_piece(piece, window)) is not None]
        self._seen = frozenset(one.piece.id for one in self._left)
        self._marks: list[Mark] = []
        self._known = 0

    def _learn(self) -> None:
        """Keep clear of what was placed since."""
        self._crowd.take(*self._taken.boxes[self._known :])
        self._known = len(self._taken.boxes)

    def narrow(self, first: Collection[str] = ()) -> None:
        """Mark the pieces that have room for little else, and keep the ends of those too narrow for that.

        Args:
            first: marks of pieces that are marked now, before anything else stands on the wall.
        """
        self._learn()
        mm, left, ends = self._mm, [], []
        for one in self._left:
            if one.right - one.left > mark_size(one.text, mm)[0] + _NARROW * mm:
                left.append(one)
                continue
            spot = inside(one, mm, self._crowd)
            if spot is not None:
                self._marks += set_mark(one.text, spot, mm, self._crowd)
                self._taken.take(spot)
                self._known += 1
                continue
            left.append(one)
            x, half = dots(one, mm)[0], DOT * mm
            ends.append(Box(x - half, one.middle - half, x + half, one.middle + half))
        self._left = left
        before = len(self._marks)
        lost = set(self._lead([one for one in left if one.piece.id in first]))
        self._left = [one for one in left if one.piece.id not in first or one.piece.id in lost]
        for mark in self._marks[before:]:
            if isinstance(mark, Leader):
                self._taken.lines += pairwise(mark.points)
            elif isinstance(mark, Line):
                self._taken.lines.append((mark.start, mark.end))
            elif isinstance(mark, Text):
                self._taken.take(_covered(mark, mm))
        self._taken.take(*ends)
        self._known = len(self._taken.boxes)  # the crowd knows the marks, and the ends are for leaders

    def others(self, first: Collection[str] = ()) -> PieceMarks:
        """Mark all the others.

        Args:
            first: marks of pieces that choose their places before the others do.
        """
        self._learn()
        mm, crowd = self._mm, self._crowd
        left: list[ShownPiece] = []
        lost = self._lead([one for one in self._left if one.piece.id in first])
        for one in self._left:
            if one.piece.id in first:
                continue
            spot = inside(one, mm, crowd)
            if spot is None:
                left.append(one)
            else:
                self._marks += set_mark(one.text, spot, mm, crowd)
        single: list[ShownPiece] = []
        for group in in_line(left, mm):
            marks, rest = run_marks(group, mm, crowd)
            self._marks += marks
            single += rest
        led: list[ShownPiece] = []
        for one in single:
            spot = over_butts(one, mm, crowd)
            if spot is None:
                led.append(one)
            else:
                self._marks += set_mark(one.text, spot, mm, crowd)
        few = self._patient or sum(1 for _ in in_line(led, mm)) <= _MOST_LED
        lost += self._lead(led) if few else [one.piece.id for one in led]
        return PieceMarks(tuple(self._marks), tuple(lost), self._seen.difference(lost))

    def _lead(self, pieces: Sequence[ShownPiece]) -> list[str]:
        """Mark pieces on leaders; which of them found no place."""
        mm, crowd = self._mm, self._crowd
        lost: list[ShownPiece] = []
        hopeless = 0
        for group in in_line(pieces, mm):
            marks = self._run(group)
            self._marks += marks
            before = len(lost)
            for one in () if marks else group:
                if hopeless > HOPELESS and not self._patient:
                    lost.append(one)
                    continue
                spot = inside(one, mm, crowd)
                single = list(set_mark(one.text, spot, mm, crowd)) if spot is not None else []
                single = single or led(one, mm, crowd, self._window, self._air)
                self._marks += single
                lost += [] if single else [one]
            hopeless += len(lost) > before
        still: list[str] = []
        for group in in_turn(lost):
            marks = (plumb_run(group, mm, crowd) or self._panes.run(group, crowd)) if len(group) > 1 else []
            self._marks += marks
            for one in () if marks else group:
                single = self._panes.single(one, crowd)
                self._marks += single
                still += [] if single else [one.piece.id]
        return still

    def _run(self, group: Sequence[ShownPiece]) -> list[Mark]:
        """One mark for pieces that begin in line."""
        mm, crowd = self._mm, self._crowd
        if len(group) < 2:
            return []
        return (
            led_run(group, mm, crowd, self._window)
            or plumb_run(group, mm, crowd)
            or self._panes.run(group, crowd)
        )


def _covered(mark: Text, mm: float) -> Box:
    """What a mark covers, level or plumb."""
    wide, tall = text_width(mark.text, mark.height) * mm, mark.height * mm
    x, y = mark.at
    if mark.angle:
        return Box(x - tall / 2, y - wide / 2, x + tall / 2, y + wide / 2)
    return Box(x, y, x + wide, y + tall)
