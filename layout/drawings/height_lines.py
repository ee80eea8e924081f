"""Lines that tell heights on a drawing: the datum, and the ground."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from evencourse.layout.drawings.drawn_outlines import MOST
from evencourse.layout.dxf.dxf_content import Unused
from evencourse.layout.dxf.dxf_entities import Curve, Source
from evencourse.layout.dxf.dxf_geometry import place_words, points_of
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.geometry import Box, box_of
from evencourse.layout.model.job import Point

if TYPE_CHECKING:
    from evencourse.layout.drawings.drawn_faces import DrawnFace

#: Most sloping lines among which the ground is looked for: a bound on work.
_MOST_SLOPING = 60


@dataclass(frozen=True)
class Level:
    """A line that may be a datum or the ground.

    Attributes:
        points: from left to right [drawing units].
        source: where it stands.
    """

    points: tuple[Point, ...]
    source: Source


def levels(curves: Sequence[Curve], tolerance: float, level: bool, unused: list[Unused]) -> list[Level]:
    """Lines from left to right; only level ones where a level is wanted."""
    found = []
    for curve in curves[:MOST]:
        points = points_of(curve.parts, tolerance)
        if points[0][0] > points[-1][0]:
            points.reverse()
        _, low, _, high = box_of(points)
        rising = all(b[0] >= a[0] - tolerance for a, b in pairwise(points))
        plumb = points[0][0] == points[-1][0] and (level or len(points) > 2)
        if curve.closed or not rising or (level and high - low > tolerance) or plumb:
            why = gettext("not level") if level else gettext("not a line along the ground")
            unused.append(Unused(curve.source, why))
            continue
        found.append(Level(tuple(points), curve.source))
    return found if level else _joined(found, tolerance)


def _joined(pieces: Sequence[Level], tolerance: float) -> list[Level]:
    """Lines that go on where another one ends as one line: the ground is often drawn in single lines.

    A step is a plumb line between two others, drawn up or down.
    """

    def meet(one: Point, other: Point) -> bool:
        return max(abs(one[0] - other[0]), abs(one[1] - other[1])) <= tolerance

    found: list[Level] = []
    left = sorted(pieces, key=lambda one: one.points)
    while left:
        line = left.pop(0)
        place: int | None = 0
        while place is not None:
            place = None
            for index, piece in enumerate(left):
                end, points = line.points[-1], piece.points
                if points[0][0] == points[-1][0] and meet(points[-1], end):
                    points = points[::-1]
                if meet(points[0], end):
                    place, line = index, Level((*line.points, *points[1:]), line.source)
                    del left[index]
                    break
        found.append(line)
    return found


def across_walls(curves: Sequence[Curve], tolerance: float, least: float) -> list[Curve]:
    """Lines of sloping ground that run across what stands on it, past both its ends: they bound nothing.

    A line on which as many others end bounds what they enclose, and is none of these.

    Args:
        curves: lines and arcs of a drawing.
        tolerance: ends nearer than this meet [drawing units].
        least: how wide a wall is at least [drawing units].
    """
    strokes = [points_of(curve.parts, tolerance) for curve in curves]
    boxes = np.array([box_of(points) for points in strokes]).reshape(-1, 4)
    wide, high = boxes[:, 2] - boxes[:, 0], boxes[:, 3] - boxes[:, 1]
    sloping = np.flatnonzero((wide >= least) & (high > tolerance) & (high < wide)).tolist()
    found = []
    for place in sloping if len(sloping) <= _MOST_SLOPING else ():
        points = strokes[place]
        line = points if points[0][0] <= points[-1][0] else points[::-1]
        if curves[place].closed or any(b[0] <= a[0] for a, b in pairwise(line)):
            continue
        near = (boxes[:, 3] >= boxes[place, 1] - tolerance) & (boxes[:, 1] <= boxes[place, 3] + tolerance)
        near &= (boxes[:, 2] >= boxes[place, 0]) & (boxes[:, 0] <= boxes[place, 2])
        near[place] = False
        others = [(strokes[other], curves[other].closed) for other in np.flatnonzero(near).tolist()]
        if _runs_across(line, others, tolerance):
            found.append(curves[place])
    return found


def _runs_across(
    line: Sequence[Point], others: Sequence[tuple[Sequence[Point], bool]], tolerance: float
) -> bool:
    """Whether a line crosses others in the lowest third of them, past both their ends; few end on it."""
    left, right = line[0][0], line[-1][0]
    crossed, ending = [], 0
    for points, closed in others:
        offs = [y - _height_at(line, x) for x, y in points if left < x < right]
        ends = [(x, y) for x, y in (points[0], points[-1]) if left < x < right and not closed]
        if any(abs(y - _height_at(line, x)) <= 2 * tolerance for x, y in ends):
            ending += 1
        elif offs and min(offs) < -2 * tolerance and max(offs) > 2 * tolerance:
            crossed.append(box_of(points))
    if len(crossed) <= ending:
        return False
    x0, y0 = min(box[0] for box in crossed), min(box[1] for box in crossed)
    x1, y1 = max(box[2] for box in crossed), max(box[3] for box in crossed)
    highest = max(_height_at(line, x0), _height_at(line, x1))
    return left < x0 and x1 < right and highest <= y0 + (y1 - y0) / 3


def level_of(box: Box, data: Sequence[Level]) -> Level | None:
    """The datum line of a wall, from its box: the nearest above, below or across it; else of all."""
    left, low, right, high = box

    def off(line: Level) -> tuple[bool, float, float]:
        x0, x1, y = line.points[0][0], line.points[-1][0], line.points[0][1]
        aside = max(0.0, left - x1, x0 - right)
        return (aside > 0, max(0.0, low - y, y - high), aside)

    return min(data, key=off, default=None)


@dataclass(frozen=True)
class Datum:
    """Where the datum of a drawing lies.

    Attributes:
        heights: of it, one for each face [drawing units].
        words: what it is.
        notes: what a person should know of it.
    """

    heights: tuple[float, ...]
    words: str
    notes: tuple[str, ...] = ()


def datum_of(
    faces: Sequence[DrawnFace],
    names: Sequence[str],
    data: Sequence[Level],
    points: Sequence[Point],
    by_line: bool,
) -> Datum:
    """The datum: what the user says, the marks at the left corners, datum lines, else the lowest corners.

    Args:
        faces: of the drawing.
        names: of them.
        data: lines on datum layers.
        points: that the user gives; each face takes the nearest.
        by_line: lines go before the marks.
    """
    if points:
        words = gettext("the point chosen on the drawing")
        if len(points) > 1:
            words = gettext("the points chosen on the drawing, the nearest for each face")
        return Datum(tuple(min(points, key=lambda one: _off(face, one))[1] for face in faces), words)
    origins = [face.origin for face in faces if face.origin is not None]
    if len(origins) == len(faces) and not by_line:
        words = gettext("the marks at the left corners on the drawing")
        return Datum(tuple(origin.at[1] for origin in origins), words)
    if data:
        lines = [level_of(face.outline.box, data) for face in faces]
        seen = dict.fromkeys(str(line.source) for line in lines if line is not None)
        layers = dict.fromkeys(line.source.layer for line in lines if line is not None)
        words = gettext("the line on layer {layers} of the drawing", layers=", ".join(layers))
        note = gettext("datum: {lines}", lines="; ".join(seen))
        return Datum(tuple(line.points[0][1] if line is not None else 0.0 for line in lines), words, (note,))
    return _lowest_corners(faces, names)


def _lowest_corners(faces: Sequence[DrawnFace], names: Sequence[str]) -> Datum:
    """Of each row of faces its first one's lowest corner."""
    heights, notes = [], []
    row: DrawnFace | None = None
    for face, name in zip(faces, names, strict=True):
        _, low, _, high = face.outline.box
        if row is None or low >= row.outline.box[3] or high <= row.outline.box[1]:
            row = face
            corner = min(face.outline.points, key=lambda point: (point[1], point[0]))
            notes.append(
                gettext(
                    'datum: no line on a datum layer, so the lowest left corner of "{face}", at {place}',
                    face=name,
                    place=place_words(corner),
                )
            )
        heights.append(min(y for _, y in row.outline.points))
    return Datum(tuple(heights), gettext("lowest left corner of the first wall"), tuple(notes))


def _off(face: DrawnFace, point: Point) -> tuple[float, float]:
    left, low, right, high = face.outline.box
    return (max(0.0, left - point[0], point[0] - right), max(0.0, low - point[1], point[1] - high))


def ground_of(box: Box, grounds: Sequence[Level]) -> tuple[Point, ...] | None:
    """Points of the ground along a wall, from its box; None when no line spans most of it."""
    left, low, right, high = box
    best: tuple[float, tuple[Point, ...]] | None = None
    for line in grounds:
        x0, x1 = line.points[0][0], line.points[-1][0]
        if min(x1, right) - max(x0, left) < 0.9 * (right - left):
            continue
        pair = (_height_at(line.points, left), _height_at(line.points, right))
        off = abs((pair[0] + pair[1]) / 2 - low)
        if off <= high - low and max(pair) < (low + high) / 2 and (best is None or off < best[0]):
            between = [point for point in line.points if left < point[0] < right]
            best = (off, ((left, pair[0]), *between, (right, pair[1])))
    return None if best is None else best[1]


def _height_at(points: Sequence[Point], x: float) -> float:
    """Height of a line at an x; at its end beyond it."""
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if x0 <= x <= x1 and x1 > x0:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]
