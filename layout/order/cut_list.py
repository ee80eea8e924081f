"""The cut list: pieces in the order of hanging, alike ones together; and every bar for the saw."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job, Point
from evencourse.layout.model.lengths import round_length
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.order.trim_runs import TrimRun
from evencourse.layout.order.trims import TrimBars
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.piece import End, Notch, Piece

Hand = Literal["left", "right"]


@dataclass(frozen=True)
class CutLine:
    """Pieces of one face that are alike.

    Attributes:
        piece: the first of them that is hung.
        marks: of all of them, in the order of hanging.
        bars: numbers of the stock lengths they are cut from, likewise; none for shingles.
    """

    piece: Piece
    marks: tuple[str, ...]
    bars: tuple[int, ...]

    @property
    def count(self) -> int:
        """How many."""
        return len(self.marks)


@dataclass(frozen=True)
class FaceCuts:
    """The pieces of one face.

    Attributes:
        face: name of the elevation.
        lines: by the first of each that is hung.
    """

    face: str
    lines: tuple[CutLine, ...]


@dataclass(frozen=True)
class Bar:
    """One panel or board, and what is cut from it.

    Attributes:
        number: counted through the job.
        cuts: in the order of cutting.
        left_over: [job units].
    """

    number: int
    cuts: tuple[Piece, ...]
    left_over: float


@dataclass(frozen=True)
class StockCuts:
    """All bars of one cladding.

    Attributes:
        cladding: its name.
        stock: length of a bar [job units].
        kerf: what the saw takes at a cut [job units].
        bars: by number.
    """

    cladding: str
    stock: float
    kerf: float
    bars: tuple[Bar, ...]


@dataclass(frozen=True)
class TrimCut:
    """One piece of trim.

    Attributes:
        run: where it goes.
        length: [job units].
        part: which piece of its run, from 1: the lower or the left one first.
        parts: pieces of its run.
    """

    run: TrimRun
    length: float
    part: int
    parts: int


@dataclass(frozen=True)
class TrimBar:
    """One length of trim, and what is cut from it.

    Attributes:
        number: counted through its kind and size.
        cuts: in the order of cutting.
        left_over: [job units].
    """

    number: int
    cuts: tuple[TrimCut, ...]
    left_over: float


@dataclass(frozen=True)
class TrimCuts:
    """All bars of one trim.

    Attributes:
        kind: which trim.
        size: width of a board, thickness of furring; 0 for the rest [job units].
        stock: length of a bar [job units].
        lap: of one piece over the next at a joint [job units].
        bars: by number.
    """

    kind: str
    size: float
    stock: float
    lap: float
    bars: tuple[TrimBar, ...]


@dataclass(frozen=True)
class CutList:
    """Everything that is cut.

    Attributes:
        faces: in the order of the job.
        stock: by cladding: panels and boards for the saw.
        trims: by kind and size.
    """

    faces: tuple[FaceCuts, ...]
    stock: tuple[StockCuts, ...]
    trims: tuple[TrimCuts, ...]


def cut_list(plan: Plan, pieces: Pieces, trims: Sequence[TrimBars]) -> CutList:
    """The cut list of a job.

    Args:
        plan: course lines and faces.
        pieces: of the same plan.
        trims: likewise, as ``evencourse.layout.order.trims.trims`` gives them.
    """
    by_mark = {piece.id: piece for piece in pieces.all()}
    return CutList(
        tuple(FaceCuts(face.face, _lines(plan.job, face.pieces)) for face in pieces.faces),
        tuple(
            StockCuts(name, cutting.stock, cutting.kerf, tuple(_bars(pieces, name, by_mark)))
            for name, cutting in pieces.stock.items()
        ),
        tuple(_trim(trim) for trim in trims),
    )


def faces_in_turn(plan: Plan, pieces: Pieces) -> Iterator[tuple[str, tuple[Piece, ...]]]:
    """Faces with their pieces, both in the order of hanging.

    Args:
        plan: whose job says the order of faces.
        pieces: of the same plan.
    """
    first = {name: at for at, name in enumerate(plan.job.order.faces)}
    for face in sorted(pieces.faces, key=lambda face: first.get(face.face, len(first))):
        yield face.face, tuple(sorted(face.pieces, key=lambda piece: piece.order))


def alike(job: Job, piece: Piece) -> tuple[object, ...]:
    """What two pieces must share to be cut alike.

    Args:
        job: for its tape.
        piece: any piece.

    Returns:
        A key: cladding, length, both ends (shape, slope, what is square below and above it), notches and rip,
        every length on the tape's nearest mark. A piece with a curve must share its whole outline, too.
        Heights across the piece are differences of heights on the tape, as on the sheets. What an end meets
        does not count: any end may be the one under a lap.
    """
    mark = job.round
    curved = any(notch.curved for notch in piece.notches) or "curve" in (
        piece.left_end.shape,
        piece.right_end.shape,
    )
    outline = (
        tuple((_marks(x - piece.left, mark), _up(piece, y, mark)) for x, y in piece.polygon) if curved else ()
    )
    kept = tuple(
        (rip.edge, *(_marks(rip_on_tape(piece, height, mark), mark) for height in (rip.left, rip.right)))
        for rip in piece.rips
    )
    return (
        piece.cladding,
        _marks(piece.length, mark),
        _end(piece, "left", mark),
        _end(piece, "right", mark),
        tuple(_notch(piece, notch, mark) for notch in piece.notches),
        kept,
        outline,
    )


def up_on_tape(piece: Piece, height: float, mark: float) -> float:
    """How far up a piece a height lies, as the tape shows it: both heights rounded, then one less the other.

    Args:
        piece: any piece.
        height: from the datum [job units].
        mark: finest mark of the tape [job units].
    """
    return round_length(height, mark) - round_length(piece.bottom, mark)


def rip_on_tape(piece: Piece, height: float, mark: float) -> float:
    """How far up from the uncut bottom a rip lies, as the tape shows it.

    Args:
        piece: a ripped piece.
        height: one of its rip's two [job units].
        mark: finest mark of the tape [job units].
    """
    return round_length(piece.foot + height, mark) - round_length(piece.foot, mark)


def square_on_tape(piece: Piece, hand: Hand, mark: float) -> tuple[float, float]:
    """What stays square of an end that is cut to a slope, below the slope and above it, as the tape shows it.

    Args:
        piece: any piece.
        hand: which of its ends.
        mark: finest mark of the tape [job units].

    Returns:
        Heights [job units], both 0 for a square end and for one that slopes from butt to top.
    """
    end = piece.left_end if hand == "left" else piece.right_end
    heights = [y for side in _slopes(piece, end, hand) for _, y in side]
    if not heights:
        return 0.0, 0.0
    low, high, top = (up_on_tape(piece, height, mark) for height in (min(heights), max(heights), piece.top))
    return low, top - high


def _slopes(piece: Piece, end: End, hand: Hand) -> Iterator[tuple[Point, Point]]:
    """The sides of a piece's outline that its end slopes along."""
    if end.shape == "square":
        return
    near = SAME
    upward = 1 if hand == "right" else -1  # counter-clockwise, the right end is walked up
    for (x0, y0), (x1, y1) in pairwise((*piece.polygon, piece.polygon[0])):
        leans = abs(x1 - x0) > near and upward * (y1 - y0) > near
        out = max(piece.right - min(x0, x1) if hand == "right" else max(x0, x1) - piece.left, 0.0)
        along = (
            end.shape == "curve" or abs(abs(y1 - y0) * end.over - abs(x1 - x0) * end.up) <= near * end.over
        )
        if leans and along and out <= end.over + near:
            yield (x0, y0), (x1, y1)


def _marks(length: float, mark: float) -> int:
    return round(round_length(length, mark) / mark)


def _up(piece: Piece, height: float, mark: float) -> int:
    return round(up_on_tape(piece, height, mark) / mark)


def _end(piece: Piece, hand: Hand, mark: float) -> tuple[object, ...]:
    end = piece.left_end if hand == "left" else piece.right_end
    square = tuple(round(height / mark) for height in square_on_tape(piece, hand, mark))
    return (end.shape, _marks(end.up, mark), _marks(end.over, mark), end.long, *square)


def _notch(piece: Piece, notch: Notch, mark: float) -> tuple[object, ...]:
    across = tuple(_up(piece, height, mark) for height in notch_heights(piece, notch))
    return (notch.edge, _marks(notch.left, mark), _marks(notch.width, mark), *across, notch.curved)


def notch_heights(piece: Piece, notch: Notch) -> tuple[float, float]:
    """Lower and upper height of a notch from the datum [job units]."""
    if notch.edge == "bottom":
        return piece.bottom, piece.bottom + notch.depth
    return piece.bottom + notch.rest, piece.bottom + notch.rest + notch.depth


def in_steps(piece: Piece, mark: float) -> list[list[Notch]]:
    """The notches of a piece from the left, those that are the steps of one cut-out together.

    Args:
        piece: any piece.
        mark: finest mark of the tape [job units].
    """
    found: list[list[Notch]] = []
    for notch in piece.notches:
        before = next((row for row in found if _follows(row[-1], notch, mark)), None)
        if before is None:
            found.append([notch])
        else:
            before.append(notch)
    return found


def _follows(notch: Notch, following: Notch, mark: float) -> bool:
    """Whether a notch begins where the one before it ends, in the same edge."""
    ends = abs(notch.left + notch.width - following.left) < mark / 2
    return ends and notch.edge == following.edge != "inside"


def _lines(job: Job, found: Sequence[Piece]) -> tuple[CutLine, ...]:
    groups: dict[tuple[object, ...], list[Piece]] = {}
    for piece in sorted(found, key=lambda piece: piece.order):
        groups.setdefault(alike(job, piece), []).append(piece)
    return tuple(
        CutLine(
            group[0],
            tuple(piece.id for piece in group),
            tuple(piece.stock for piece in group if piece.stock is not None),
        )
        for group in groups.values()
    )


def _bars(pieces: Pieces, name: str, by_mark: Mapping[str, Piece]) -> Iterator[Bar]:
    cutting = pieces.stock[name]
    for number, marks in pieces.bars[name]:
        cuts = tuple(by_mark[mark] for mark in marks)
        used = sum(piece.length + cutting.kerf for piece in cuts)
        yield Bar(number, cuts, max(0.0, cutting.stock - used))


def _trim(trim: TrimBars) -> TrimCuts:
    cutting = trim.cutting
    parts: dict[int, int] = {}
    named: list[tuple[int, int]] = []
    for piece in cutting.pieces:
        parts[piece.run] = parts.get(piece.run, 0) + 1
        named.append((piece.run, parts[piece.run]))
    bars = tuple(
        TrimBar(
            number + 1,
            tuple(
                TrimCut(
                    trim.runs[named[index][0]],
                    cutting.pieces[index].length,
                    named[index][1],
                    parts[named[index][0]],
                )
                for index in members
            ),
            cutting.left_over(number),
        )
        for number, members in enumerate(cutting.bars)
    )
    return TrimCuts(trim.kind, trim.size, cutting.stock, cutting.lap, bars)
