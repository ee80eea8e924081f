"""The clad wall of a face: its shape, and where each course's lines run on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from evencourse.layout.model.course_plan import CourseSet, ElevationPlan, Plan, ZonePlan
from evencourse.layout.model.geometry import spans_outside
from evencourse.layout.model.job import Elevation, Job, Point
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.wall.clad_area import base_line, overhang
from evencourse.layout.wall.roofs import roof_holes
from evencourse.layout.wall.sides import Side, crossings, held_off, hung_over

Run = tuple[float, float]


@dataclass(frozen=True)
class Course:
    """One course on one face.

    Attributes:
        course_set: the course set it belongs to.
        number: its number, from 1 at the bottom of its zone.
        foot: height of its butt line [job units].
        exposure: butt line to butt line [job units].
        runs: x from and to where its butt line shows [job units].
        faces: the same for each line between the faces of one panel: height and runs.
        top: height where its zone ends, or its head when lower [job units].
        own: its butt line from corner to corner where the face has it elsewhere than its set; None otherwise.
        measured: it hangs and was measured.
    """

    course_set: CourseSet
    number: int
    foot: float
    exposure: float
    runs: tuple[Run, ...]
    faces: tuple[tuple[float, tuple[Run, ...]], ...]
    top: float
    own: tuple[Point, Point] | None = None
    measured: bool = False

    def height_at(self, x: float) -> float:
        """Height of its butt line on this face at x [job units]."""
        if self.own is None:
            return self.foot
        (x0, y0), (x1, y1) = self.own
        return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def lowest_set(plan: Plan, face: ElevationPlan) -> CourseSet:
    """The course set of a face's lowest zone."""
    return plan.course_sets[face.zones[0].course_set]


def clad_outline(plan: Plan, face: ElevationPlan) -> tuple[Point, ...]:
    """The wall's outline as siding has it: down to the starter line where it hangs over a base, and clear of
    a roof that it dies on.

    Rules: as ``evencourse.layout.wall.clad_area.clad_region``.
    """
    course_set = lowest_set(plan, face)
    starter, outline = course_set.lines.starter, face.elevation.outline
    points: list[Point] = []
    for start, end in zip(outline, (*outline[1:], outline[0]), strict=True):
        side = Side(start, end, True)
        line = base_line(face, side)
        if line is None and not side.level and hung_over(side, starter, course_set.cladding, plan.job.inch):
            line = starter
        if end[0] > start[0] and line is not None:
            points += [(start[0], line), (end[0], line)]
        elif end[0] > start[0]:
            clear = held_off(side, course_set.cladding) - overhang(face, side)
            points += [(start[0], start[1] + clear), (end[0], end[1] + clear)]
        else:
            points += [start, end]
    kept = [point for point, before in zip(points, [points[-1], *points], strict=False) if point != before]
    return tuple(kept)


def holes(job: Job, elevation: Elevation) -> tuple[tuple[Point, ...], ...]:
    """What siding stops at: openings with their trim, roofs with what is kept clear of them, and fixtures."""
    found = [opening.trimmed for opening in elevation.openings]
    return (*found, *roof_holes(job, elevation), *(item.outline() for item in elevation.fixtures))


def runs(outline: Sequence[Point], gaps: Sequence[Sequence[Point]], height: float) -> tuple[Run, ...]:
    """Where a level line just above a height runs on a wall, its holes left out."""
    marks = crossings(outline, height)
    found = list(zip(marks[::2], marks[1::2], strict=True))
    for gap in gaps:
        edges = crossings(gap, height)
        found = spans_outside(found, zip(edges[::2], edges[1::2], strict=True))
    near = SAME * max(1.0, abs(height))
    return tuple((low, high) for low, high in found if high - low > near)


def courses(plan: Plan, face: ElevationPlan) -> Iterator[Course]:
    """Every course that shows on a face, zone by zone from the bottom up."""
    outline, gaps = clad_outline(plan, face), holes(plan.job, face.elevation)
    near = SAME * plan.job.inch
    highest = max(y for _, y in outline)
    corners = min(x for x, _ in face.elevation.outline), max(x for x, _ in face.elevation.outline)
    built = {(line.course_set, line.course): line for line in face.built}
    for zone in face.zones:
        course_set = plan.course_sets[zone.course_set]
        butts, count = course_set.lines.butt_lines, course_set.cladding.faces
        top = min(zone.top, highest)
        for number, (foot, head) in enumerate(pairwise(butts), start=1):
            if head <= zone.bottom + near or foot >= top - near:
                continue
            shown = runs(outline, gaps, foot + near) if foot >= zone.bottom - near else ()
            between = []
            for index in range(1, count):
                height = foot + (head - foot) * index / count
                if zone.bottom < height < top:
                    between.append((height, runs(outline, gaps, height + near)))
            if shown or foot < zone.bottom or _shows(outline, foot, min(head, top)):
                line = built.get((course_set.name, number))
                own = ((corners[0], line.left), (corners[1], line.right)) if line else None
                yield Course(
                    course_set, number, foot, head - foot, shown, tuple(between), min(head, top), own,
                    line is not None and line.measured,
                )  # fmt: skip


def _shows(outline: Sequence[Point], foot: float, head: float) -> bool:
    return bool(crossings(outline, (foot + head) / 2))


def band_boards(face: ElevationPlan) -> Iterator[tuple[ZonePlan, tuple[tuple[Point, ...], ...]]]:
    """Zones that end under a band board, with the board's outlines between the openings."""
    outline, gaps = face.elevation.outline, tuple(opening.trimmed for opening in face.elevation.openings)
    for zone in face.zones[:-1]:
        height = zone.zone.trim
        if height <= 0:
            continue
        near = SAME * height
        low = runs(outline, gaps, zone.top + near)
        high = runs(outline, gaps, zone.top + height - near)
        if len(high) != len(low):
            high = low = runs(outline, gaps, zone.top + height / 2)
        foot, head = zone.top, zone.top + height
        yield (
            zone,
            tuple(
                ((a[0], foot), (a[1], foot), (b[1], head), (b[0], head))
                for a, b in zip(low, high, strict=True)
            ),
        )
