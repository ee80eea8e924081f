"""The values of one piece: its outline on the wall, its ends, notches and rip, and where it is cut from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencourse.layout.model.caution import PieceCaution
from evencourse.layout.model.job import Point
from evencourse.layout.pieces.seam_rules import Rule

EndShape = Literal["square", "rake", "curve"]
Meets = Literal["channel", "trim", "seam"]
NotchEdge = Literal["top", "bottom", "inside"]


@dataclass(frozen=True)
class End:
    """One end of a piece.

    Attributes:
        shape: square, cut to a rake, or cut to a curve.
        meets: what it runs into: a channel or a post, trim, or the next piece.
        gap: gap taken off there [job units].
        up: height of the slope [job units]; 0 for a square end. A board's slope over a lower roof goes on
            across its lap.
        over: how far the slope runs along the wall [job units]; 0 for a square end.
        long: whether the long point is at the bottom (a gable) or at the top (a roof below); "" when square.
    """

    shape: EndShape
    meets: Meets
    gap: float = 0.0
    up: float = 0.0
    over: float = 0.0
    long: Literal["", "bottom", "top"] = ""


@dataclass(frozen=True)
class Notch:
    """A part cut out of a piece, in four numbers, all along or across it as it lies on the saw table.

    A cut-out in steps is a notch for each of them, side by side.

    Attributes:
        edge: the edge it is cut from; ``inside`` for a hole.
        left: from the piece's left end to the notch [job units].
        width: along the piece [job units].
        depth: from the edge of what shows into the piece, of a notch in its hidden lap or hem alone from the
            uncut top; height of a hole [job units].
        right: from the notch to the piece's right end [job units].
        rest: what is left of the piece above or below it [job units].
        curved: it is cut to a curve or a slope inside these numbers.
    """

    edge: NotchEdge
    left: float
    width: float
    depth: float
    right: float
    rest: float
    curved: bool


@dataclass(frozen=True)
class Rip:
    """A cut along the whole piece.

    Attributes:
        edge: the edge that is cut away.
        left: how far up from the uncut bottom the cut lies, at the left end: what is kept of a piece cut at
            its top, what comes off one cut at its bottom [job units].
        right: the same at the right end; another one when the eave is out of level.
    """

    edge: Literal["top", "bottom"]
    left: float
    right: float


@dataclass(frozen=True)
class Piece:
    """One piece of siding as it hangs.

    Attributes:
        id: mark: the face's letters, the course with its zone's prefix, the number from the left.
        face: name of the elevation.
        course_set: name of its course set.
        cladding: name of its cladding.
        course: number of its course.
        left: x where it begins to show [job units].
        right: x where it ends [job units].
        bottom: its lowest height [job units].
        top: its highest height.
        polygon: outline of what shows of it on the wall, counter-clockwise.
        holes: outlines of blocks inside it, clockwise.
        length: from long point to long point, end gaps taken off and laps added: what is cut from stock; for
            a run of shingles the width it covers [job units].
        short: from short point to short point, likewise.
        start: end: x from and to where it lies, laps under its neighbours included [job units].
        left_end: its left end.
        right_end: its right end.
        notches: from left to right.
        rips: cut along it, at its bottom, its top or both.
        exposure: of its course [job units].
        foot: height of its course's butt line: its bottom before it is cut [job units].
        stock: number of the stock length it is cut from; None for shingles.
        cut: which cut of that length it is, from 1; 0 for shingles.
        order: when it is hung, from 1 on each face.
        held: nails still hold it.
        source: ``new``, or the id of the piece whose cutoff it is cut from; None for shingles.
        leaves: the cutoff that is kept when it is cut, to be used later; 0 for nothing [job units].
        thrown: what is thrown away instead [job units].
    """

    id: str
    face: str
    course_set: str
    cladding: str
    course: int
    left: float
    right: float
    bottom: float
    top: float
    polygon: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...]
    length: float
    short: float
    start: float
    end: float
    left_end: End
    right_end: End
    notches: tuple[Notch, ...]
    rips: tuple[Rip, ...]
    exposure: float
    foot: float
    stock: int | None
    cut: int
    order: int
    held: bool
    source: str | None
    leaves: float
    thrown: float


@dataclass(frozen=True)
class Seam:
    """A seam between two neighbouring pieces.

    Attributes:
        x: its visible line [job units].
        bottom: where it begins [job units].
        top: where it ends.
        left: mark of the piece on its left.
        right: mark of the piece on its right.
        front: which of them lies in front; ``butt`` for boards.
        lap: how far one lies over the other; 0 for boards [job units].
        course_set: name of its course set.
        course: number of its course.
        fixture: mark of the fixture without a block that it serves; None for none.
    """

    x: float
    bottom: float
    top: float
    left: str
    right: str
    front: Literal["left", "right", "butt"]
    lap: float
    course_set: str
    course: int
    fixture: str | None


@dataclass(frozen=True)
class GaveWay:
    """A rule about seams that gave way, and where.

    Attributes:
        rule: which.
        face: name of the elevation.
        course_set: name of its course set.
        course: number of the course.
        x: where [job units].
        width: of the run that was to be covered [job units].
        marks: openings or fixtures that are there.
    """

    rule: Rule | Literal["fixture"]
    face: str
    course_set: str
    course: int
    x: float
    width: float
    marks: tuple[str, ...] = ()


@dataclass(frozen=True)
class FacePieces:
    """Everything that hangs on one face.

    Attributes:
        face: name of the elevation.
        pieces: by zone and course from the bottom up, from the left.
        seams: likewise.
        gave_way: rules that gave way.
        cautions: what the crew must look out for.
        tight: where panels cannot be bent in between two verticals, and how to hang them there.
    """

    face: str
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    gave_way: tuple[GaveWay, ...]
    cautions: tuple[PieceCaution, ...]
    tight: tuple[PieceCaution, ...] = ()
