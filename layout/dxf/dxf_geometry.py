"""Straight parts, arcs and free curves, moved, scaled and mirrored, and as points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import acos, atan, atan2, ceil, cos, hypot, pi, sin

from evencourse.layout.model.job import Point
from evencourse.layout.model.tolerance import ROUNDING

#: Least and greatest number of chords in a full turn.
_LEAST, _MOST = 32, 512
#: Where places begin that are told to the tenth, without an exponent.
_FAR = 1e6


@dataclass(frozen=True, slots=True)
class Affine:
    """A map of the plane: ``x' = a x + c y + e``, ``y' = b x + d y + f``."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def point(self, point: Point) -> Point:
        """Where a point goes."""
        x, y = point
        return (self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def vector(self, vector: Point) -> Point:
        """Where a direction goes: without the shift."""
        x, y = vector
        return (self.a * x + self.c * y, self.b * x + self.d * y)

    def after(self, first: Affine) -> Affine:
        """The map that does ``first``, then this."""
        a, b = self.vector((first.a, first.b))
        c, d = self.vector((first.c, first.d))
        e, f = self.point((first.e, first.f))
        return Affine(a, b, c, d, e, f)


#: The mirror of an entity that is seen from behind (extrusion 0, 0, -1).
BEHIND = Affine(-1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def turned(degrees: float) -> Affine:
    """A turn, counter-clockwise; exact for quarter turns."""
    quarter, rest = divmod(degrees % 360.0, 90.0)
    if rest == 0:
        cosine, sine = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    else:
        angle = degrees * pi / 180
        cosine, sine = cos(angle), sin(angle)
    return Affine(cosine, sine, -sine, cosine, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Chain:
    """Straight lines from point to point."""

    points: tuple[Point, ...]

    def moved(self, by: Affine) -> Chain:
        """The chain under a map."""
        return Chain(tuple(by.point(point) for point in self.points))

    def flattened(self, deviation: float) -> list[Point]:
        """Its points."""
        return list(self.points)


@dataclass(frozen=True, slots=True)
class Conic:
    """A part of a circle or an ellipse: ``centre + u cos t + v sin t`` for t from ``start`` to ``end``."""

    centre: Point
    u: Point
    v: Point
    start: float
    end: float

    def moved(self, by: Affine) -> Conic:
        """The arc under a map: again one of this form."""
        return Conic(by.point(self.centre), by.vector(self.u), by.vector(self.v), self.start, self.end)

    def at(self, t: float) -> Point:
        """The point at a parameter."""
        cosine, sine = cos(t), sin(t)
        return (
            self.centre[0] + self.u[0] * cosine + self.v[0] * sine,
            self.centre[1] + self.u[1] * cosine + self.v[1] * sine,
        )

    def flattened(self, deviation: float) -> list[Point]:
        """Points on it: both ends, its leftmost, rightmost, highest and lowest point, and between them.

        Args:
            deviation: greatest distance of a chord from the arc, where the number of chords allows it.
        """
        radius = max(hypot(*self.u), hypot(*self.v))
        turn = 2 * acos(max(-1.0, 1 - deviation / radius)) if radius > deviation else pi
        count = min(_MOST, max(_LEAST, ceil(2 * pi / max(turn, ROUNDING))))
        low, high = min(self.start, self.end), max(self.start, self.end)
        marks = {low, high}
        for axis in (0, 1):
            first = atan2(self.v[axis], self.u[axis])
            turns = ceil((low - first) / pi)
            while first + turns * pi < high:
                marks.add(first + turns * pi)
                turns += 1
        ends = _apart(sorted(marks), ROUNDING)
        order = [low]
        for before, after in pairwise(ends):
            steps = max(1, ceil(count * (after - before) / (2 * pi) - ROUNDING))
            order += [before + (after - before) * step / steps for step in range(1, steps + 1)]
        points = [self.at(t) for t in order]
        return points if self.start <= self.end else points[::-1]


def _apart(values: Sequence[float], least: float) -> list[float]:
    kept = [values[0]]
    for value in values[1:]:
        if value - kept[-1] > least:
            kept.append(value)
    return kept


Part = Chain | Conic


def bulged(start: Point, end: Point, bulge: float) -> Part:
    """A side of a polyline: straight, or the arc of its bulge.

    Args:
        start: where it begins.
        end: where it ends.
        bulge: tangent of a quarter of the arc's angle, positive to the left (counter-clockwise).
    """
    chord = hypot(end[0] - start[0], end[1] - start[1])
    if abs(bulge) < ROUNDING or chord == 0:
        return Chain((start, end))
    angle = 4 * atan(bulge)
    height = chord / 2 * (1 - bulge * bulge) / (2 * bulge)  # of the centre over the chord, to the left
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    centre = (
        middle[0] - (end[1] - start[1]) / chord * height,
        middle[1] + (end[0] - start[0]) / chord * height,
    )
    u = (start[0] - centre[0], start[1] - centre[1])
    return Conic(centre, u, (-u[1], u[0]), 0.0, angle)


def points_of(parts: Sequence[Part], deviation: float) -> list[Point]:
    """The points of parts that follow one another, a shared end once."""
    found: list[Point] = []
    for part in parts:
        points = part.flattened(deviation)
        if found and near(found[-1], points[0], ROUNDING * (1 + abs(points[0][0]) + abs(points[0][1]))):
            points = points[1:]
        found += points
    return found


def place_words(point: Point) -> str:
    """A point of a drawing as it is told: in full, however far from the origin a site lies."""
    return ", ".join(f"{one:.6g}" if abs(one) < _FAR else f"{one:.1f}".removesuffix(".0") for one in point)


def near(one: Point, other: Point, distance: float) -> bool:
    """Whether two points lie within a distance."""
    return hypot(one[0] - other[0], one[1] - other[1]) <= distance


def holds(ring: Sequence[Point], point: Point) -> bool:
    """Whether a point lies in a ring."""
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y0 <= y) != (y1 <= y) and x < x0 + (x1 - x0) * (y - y0) / (y1 - y0):
            inside = not inside
    return inside
