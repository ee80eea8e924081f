"""What can go wrong on a face, and on its pieces: facts that the crew's words are made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Caution:
    """What can go wrong on a face.

    Attributes:
        kind: ``ground``, too near under the siding; ``lower roof``, that siding ends over; ``base out of
            level``, that rips end at; ``band board``, that covers an edge; ``height`` of the work above the
            ground; ``material``, that harms or is harmed.
        length: the clearance to the ground, or the height of the work [job units].
        x: where the ground is nearest, from the left corner [job units].
        material: of the siding.
        opening: mark of the opening whose edge lies in a band board.
        edge: which edge of it.
        level: height of that edge [job units].
        board: lower and upper edge of the band board [job units].
    """

    kind: Literal["ground", "lower roof", "base out of level", "band board", "height", "material"]
    length: float | None = None
    x: float | None = None
    material: str | None = None
    opening: str | None = None
    edge: Literal["sill", "head"] | None = None
    level: float | None = None
    board: tuple[float, float] | None = None


@dataclass(frozen=True)
class PieceCaution:
    """What the crew must look out for at pieces of a face.

    Attributes:
        kind: ``loose``, a piece that has too little left for the nails; ``out of level``, courses that are
            notched or ripped and do not run level on the face.
        course_set: name of the course set.
        courses: first and last course.
        piece: id of the loose piece.
        held: id of the last piece under it that nails hold; None where there is none.
    """

    kind: Literal["loose", "out of level"]
    course_set: str
    courses: tuple[int, int]
    piece: str | None = None
    held: str | None = None
