"""What is on the wall already, and what was found elsewhere. Plain frozen values, lengths in job units."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

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
class FaceLine:
    """A butt line of one face that is not where its course set has it, or that was measured there.

    Attributes:
        course_set: name of its course set.
        course: number of the course whose bottom it is.
        left: its height at the left corner [job units].
        right: its height at the right corner [job units].
        measured: it hangs there and was measured.
    """

    course_set: str
    course: int
    left: float
    right: float
    measured: bool


@dataclass(frozen=True)
class Levelling:
    """How one end of a face is brought back to the lines of its course set.

    Attributes:
        course_set: name of the course set.
        side: which end.
        course: number of the last course measured there.
        off: how far its butt line lies above the course set's; negative below [job units].
        shares: what the exposure of each next course, from that one on, is less there than elsewhere;
            negative more [job units].
        left_over: what no course can take up [job units].
    """

    course_set: str
    side: Literal["left", "right"]
    course: int
    off: float
    shares: tuple[float, ...]
    left_over: float


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


@dataclass(frozen=True)
class CarriedOn:
    """What a course set that hangs in part was planned again from.

    Attributes:
        hung: number of the last course on the wall.
        planned: the butt lines as they were planned before anything hung [job units].
    """

    hung: int
    planned: tuple[float, ...]
