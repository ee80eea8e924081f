"""Where the faces of a job stand in a building model."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from evencourse.layout.model.job import Elevation, Job, Point
from evencourse.layout.wall.walk import goes_round, turn_of

#: Between faces that stand side by side [in]: enough to tell them apart.
_APART = 40.0


@dataclass(frozen=True)
class FacePlace:
    """Where a face stands.

    Attributes:
        origin: its left corner at the datum: x, y level and z up [job units].
        along: its direction to the right, seen from outside, as a part of x and of y.
    """

    origin: tuple[float, float, float]
    along: Point

    @property
    def out(self) -> Point:
        """Away from the wall, as a part of x and of y."""
        return self.along[1], -self.along[0]


def face_places(job: Job) -> tuple[FacePlace, ...]:
    """Where every face stands.

    A face of a building model stands where the model has it (``on_plan``). Where one of the faces does not
    say, all are put up as the walk goes round the building, with square corners; where that does not close
    either, side by side. A face that is not in the walk stands before the first one, apart from the building.
    """
    height = job.model_datum or 0.0
    ends = [face.on_plan for face in job.elevations]
    known = [pair for pair in ends if pair is not None]
    if len(known) == len(ends):
        return tuple(FacePlace((*start, height), _direction(start, end)) for start, end in known)
    round_ = goes_round(job.elevations)
    places = []
    at, along, apart = (0.0, 0.0), (1.0, 0.0), (0.0, -3 * _APART * job.inch)
    for face in job.elevations:
        if round_ and face.turn == "not in walk":
            places.append(FacePlace((*apart, height), (1.0, 0.0)))
            apart = (apart[0] + _width(face) + _APART * job.inch, apart[1])
            continue
        places.append(FacePlace((*at, height), along))
        width = _width(face) + (0.0 if round_ else _APART * job.inch)
        at = (at[0] + width * along[0], at[1] + width * along[1])
        if round_:
            turn = {"left": 1.0, "right": -1.0}.get(turn_of(face) or "straight", 0.0)
            along = (-turn * along[1], turn * along[0]) if turn else along
    return tuple(places)


def _direction(start: Point, end: Point) -> Point:
    long = hypot(end[0] - start[0], end[1] - start[1])
    return (end[0] - start[0]) / long, (end[1] - start[1]) / long


def _width(face: Elevation) -> float:
    return max(x for x, _ in face.outline) - min(x for x, _ in face.outline)
