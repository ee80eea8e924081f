"""What can go wrong on a face, and on its pieces: facts that the crew's words are made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencourse.layout.model.roof import RoofKind

CautionKind = Literal[
    "ground", "lower roof", "base out of level", "thin end", "roof", "sloped roof", "band board",
    "no siding", "strip", "height", "wall height", "material",
]  # fmt: skip


@dataclass(frozen=True)
class Caution:
    """What can go wrong on a face.

    Attributes:
        kind: ``ground``, too near under the siding; ``lower roof``, that siding ends over; ``base out of
            level``, that rips follow; ``thin end``, a sliver at an end of such a base; ``roof`` (or a deck, a
            ledger), that wants flashing first; ``sloped roof``, that wants step flashing; ``band board``,
            that covers an edge; ``no siding`` along a must-meet edge; ``strip``, that
            begins a course but has no wall behind its nails; ``height`` of the work over the ground;
            ``wall height`` over the wall's foot where no ground was measured; ``material``, that harms or is
            harmed.
        length: clearance to the ground or to a roof, how far rips hang below their base, what shows at a thin
            end, how far the first course hangs below the wall, or height of the work [job units].
        x: where the ground is nearest, where the thin end is, or where a strip has no wall [job units].
        to_x: to where it has none [job units].
        material: of the siding.
        roof: what kind of roof.
        mark: of the roof, or of the opening whose edge no siding meets.
        edge: which edge of the opening.
        level: height of that edge [job units].
        board: lower and upper edge of the band board [job units].
        course: of the lowest zone's courses, the one that is thin there.
    """

    kind: CautionKind
    length: float | None = None
    x: float | None = None
    to_x: float | None = None
    material: str | None = None
    roof: RoofKind | None = None
    mark: str | None = None
    edge: Literal["sill", "head"] | None = None
    level: float | None = None
    board: tuple[float, float] | None = None
    course: int | None = None


@dataclass(frozen=True)
class PieceCaution:
    """What the crew must look out for at pieces of a face.

    Attributes:
        kind: ``loose``, a piece that has too little left for the nails; ``narrow``, courses that no piece is
            cut for, as it could not be held; ``tight``, panels that cannot be bent in between two verticals;
            ``out of level``, courses that are notched or ripped and do not
            run level on the face.
        course_set: name of the course set.
        courses: every one with a narrow strip; first and last of those out of level or in a tight
            place; a loose piece's own and the last one that nails hold.
        piece: id of the loose piece.
        held: id of the last piece under it that nails hold; None where there is none.
        left: where a narrow strip or a tight place begins [job units].
        width: how wide it is [job units].
        open_top: a course goes over a tight place, so that its pieces can be slid down before.
    """

    kind: Literal["loose", "narrow", "tight", "out of level"]
    course_set: str
    courses: tuple[int, ...]
    piece: str | None = None
    held: str | None = None
    left: float = 0.0
    width: float = 0.0
    open_top: bool = False
