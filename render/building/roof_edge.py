"""What stands round the siding of a face: posts or boards at its corners, the roof edge with its shadow."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.geometry import corners
from evencourse.layout.model.job import Corner, Job, Point
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.trade.materials import materials
from evencourse.render.building.wall_face import clad_outline
from evencourse.render.drawing.drawing import Line, Mark, Path
from evencourse.render.drawing.pens import FASCIA, PAPER, SHADE, TRIM

#: From the roof edge to the shadow under it [mm].
_SHADOW = 0.6


def post_width(job: Job, corner: Corner) -> float:
    """How far the trim at a corner stands outside the measured wall [job units]; 0 where it stands inside."""
    if corner == "butts" or job.corner_trim.at(corner) > 0:
        return 0.0
    return float(materials()["section"]["post"]["face"]) * job.inch


def corner_posts(plan: Plan, face: ElevationPlan) -> Iterator[Mark]:
    """The post or board at each corner, to size: beside the wall, or on it where widths are measured bare."""
    outline, job = clad_outline(plan, face), plan.job
    xs = [x for x, _ in outline]
    ends = ((min(xs), face.elevation.left, -1.0), (max(xs), face.elevation.right, 1.0))
    for x, corner, away in ends:
        wide = post_width(job, corner) * away or -job.corner_trim.at(corner) * away
        heights = [y for at, y in outline if abs(at - x) <= SAME]
        if wide and len(heights) > 1:
            left, right = sorted((x, x + wide))
            yield Path(TRIM, corners((left, min(heights), right, max(heights))), closed=True, fill=PAPER)


def roof_edge(plan: Plan, face: ElevationPlan, mm: float) -> Iterator[Mark]:
    """The fascia over every top of the wall, and the shadow that falls from it.

    The job says nothing of roofs: depth and overhang are drawn as they are common.
    """
    for band in fascia_bands(plan.job, face):
        yield Path(FASCIA, band, closed=True, fill=PAPER)
    for line in _tops(face):
        shade = _beside(line, -_SHADOW * mm)
        for start, end in pairwise(shade):
            yield Line(SHADE, start, end)


def fascia_depth(job: Job) -> float:
    """How high a fascia is drawn [job units]."""
    return float(materials()["section"]["fascia"]["depth"]) * job.inch


def fascia_bands(job: Job, face: ElevationPlan) -> Iterator[tuple[Point, ...]]:
    """What the fascias cover."""
    for line in roof_lines(job, face):
        yield (*line, *reversed(_beside(line, fascia_depth(job))))


def roof_lines(job: Job, face: ElevationPlan) -> Iterator[tuple[Point, ...]]:
    """Undersides of roof edges, from right to left, out past the wall where it ends at an outside corner."""
    xs = [x for x, _ in face.elevation.outline]
    out = float(materials()["section"]["fascia"]["overhang"]) * job.inch
    for line in _tops(face):
        points = list(line)
        if abs(points[0][0] - max(xs)) <= SAME and face.elevation.right == "outside corner":
            points[0] = _on(points[1], points[0], out)
        if abs(points[-1][0] - min(xs)) <= SAME and face.elevation.left == "outside corner":
            points[-1] = _on(points[-2], points[-1], out)
        yield tuple(points)


def _tops(face: ElevationPlan) -> Iterator[tuple[Point, ...]]:
    """Tops of the wall that follow each other without a step, each from right to left."""
    outline = face.elevation.outline
    sides = list(zip(outline, (*outline[1:], outline[0]), strict=True))
    first = next(at for at, (start, end) in enumerate(sides) if end[0] >= start[0] - SAME)
    line: list[Point] = []
    for start, end in (*sides[first:], *sides[:first], sides[first]):
        if end[0] < start[0] - SAME:
            line = [*(line or [start]), end]
        elif line:
            yield tuple(line)
            line = []


def _beside(line: Sequence[Point], off: float) -> tuple[Point, ...]:
    """A line so far outside another one that runs from right to left, mitred where this turns."""
    normals = []
    for (x0, y0), (x1, y1) in pairwise(line):
        long = hypot(x1 - x0, y1 - y0)
        normals.append(((y1 - y0) / long, (x0 - x1) / long))
    found = []
    for at, (x, y) in enumerate(line):
        one, other = normals[max(0, at - 1)], normals[min(at, len(normals) - 1)]
        share = off / (1.0 + one[0] * other[0] + one[1] * other[1])
        found.append((x + (one[0] + other[0]) * share, y + (one[1] + other[1]) * share))
    return tuple(found)


def _on(start: Point, end: Point, far: float) -> Point:
    """A point so far beyond the end of a straight line."""
    long = hypot(end[0] - start[0], end[1] - start[1])
    return end[0] + (end[0] - start[0]) / long * far, end[1] + (end[1] - start[1]) / long * far
