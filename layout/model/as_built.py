"""What is on the wall already, and what was found elsewhere. Plain frozen values, lengths in job units."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from evencourse.layout.model.job import Opening


@dataclass(frozen=True)
class BuiltCourse:
    """A butt line that is on the wall, as measured on one face [job units].

    Attributes:
        face: the face's name.
        courses: the course set's name.
        course: number of the course whose bottom it is, from 1.
        left: its height at the left corner.
        right: its height at the right corner.
    """

    face: str
    courses: str
    course: int
    left: float
    right: float


@dataclass(frozen=True)
class FoundOpening:
    """An opening that was found elsewhere than it was measured at first.

    Attributes:
        face: the face's name.
        opening: the opening as found; its mark tells which.
    """

    face: str
    opening: Opening


@dataclass(frozen=True)
class AsBuilt:
    """What is on the wall already, and what was measured again.

    Attributes:
        courses: butt lines that hang, in the order of the file.
        openings: openings found elsewhere.
    """

    courses: tuple[BuiltCourse, ...] = ()
    openings: tuple[FoundOpening, ...] = ()

    def of(self, courses: str) -> tuple[BuiltCourse, ...]:
        """The butt lines of one course set that hang."""
        return tuple(line for line in self.courses if line.courses == courses)

    def __bool__(self) -> bool:
        """Whether there is anything."""
        return bool(self.courses or self.openings)
