"""Courses that hang beyond what their siding allows: laps that came out short, courses nearer than the least.

What hangs is a fact. It is planned on from, and told: a lap shorter than the maker wants can let water in,
and whether it may stay is the maker's to say.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from evencourse.layout.courses.course_sets import groups
from evencourse.layout.courses.starter_line import starter_range
from evencourse.layout.model.as_built import BuiltCourse
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import CourseSet, ElevationPlan
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import SAME


@dataclass(frozen=True)
class Crept:
    """Courses of one face whose exposure lies beyond the least or the greatest, at the worse of its corners.

    Attributes:
        face: the face's name.
        course_set: the name of their course set.
        prefix: put before the numbers of its courses.
        cladding: what hangs there.
        first: number of the first of the courses.
        last: number of the last one.
        exposure: what they show, on the average [job units].
        beyond: how much that is over the greatest exposure, and so how much each lap is short; negative:
            under the least [job units].
    """

    face: str
    course_set: str
    prefix: str
    cladding: Cladding
    first: int
    last: int
    exposure: float
    beyond: float


def crept(
    cladding: Cladding,
    prefix: str,
    built: Sequence[BuiltCourse],
    starter: tuple[float, float],
    mark: float,
) -> Iterator[Crept]:
    """What hangs beyond its siding's exposures on one face.

    Args:
        cladding: what hangs.
        prefix: put before the numbers of its courses.
        built: the lines of one course set measured on one face.
        starter: lowest and highest that butt line 1 can lie where it was not measured [job units].
        mark: the finest mark of the tape: two heights read to it may be that much nearer, or farther
            apart [job units].

    Yields:
        From the bottom up; for panels, which interlock, nothing. Rule: the exposure between the least and the
        greatest of the cladding (sources in ``claddings.toml``).
    """
    if cladding.fixed or not built:
        return
    there = (built[0].face, built[0].courses)
    lines = [(line.course, line.left, line.right) for line in sorted(built, key=lambda line: line.course)]
    stretches: list[tuple[int, int, tuple[float, ...], tuple[float, ...]]] = []
    if lines[0][0] > 1:
        course, left, right = lines[0]
        stretches.append(
            (1, course, (left - starter[1], right - starter[1]), (left - starter[0], right - starter[0]))
        )
    for (below, *feet), (above, *heads) in pairwise(lines):
        apart = tuple(head - foot for head, foot in zip(heads, feet, strict=True))
        stretches.append((below, above, apart, apart))
    for below, above, least, most in stretches:
        courses = above - below
        over = max(least) / courses - cladding.exposure_max
        under = min(most) / courses - cladding.exposure_min
        slack = (1 + SAME) * mark / courses
        if over > slack:
            exposure = cladding.exposure_max + over
            yield Crept(*there, prefix, cladding, below, above - 1, exposure, over)
        if under < -slack:
            exposure = cladding.exposure_min + under
            yield Crept(*there, prefix, cladding, below, above - 1, exposure, under)


def crept_there(job: Job, face: ElevationPlan, course_sets: Mapping[str, CourseSet]) -> Iterator[Crept]:
    """The same for a face as planned: from the starter that its courses were carried on from."""
    for zone in face.zones:
        found, name = course_sets[zone.course_set], face.elevation.name
        built = [line for line in job.as_built.of(zone.course_set) if line.face == name]
        starter = found.lines.starter
        yield from crept(found.cladding, found.prefix, built, (starter, starter), job.round)


def crept_courses(job: Job) -> Iterator[Crept]:
    """The same for a whole job before it is planned: by course set, then by face.

    Where course 1 was not measured it may lie anywhere in its range; what is beyond from all of it counts.
    """
    for name, group in groups(job).items():
        cladding = job.claddings[group.zone.cladding]
        faces = [member[0] for member in group.members]
        allowed = starter_range(job, cladding, faces, group.bottom, group.zone.starter)
        for face in dict.fromkeys(face.name for face in faces):
            built = [line for line in job.as_built.of(name) if line.face == face]
            yield from crept(cladding, group.prefix, built, (allowed.low, allowed.high), job.round)
