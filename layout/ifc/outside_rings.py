"""Which sides of the walls lie outside: outlines of the building at every height, as stretches of wall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from evencourse.layout.ifc.model_solids import BuildingModel, Solid
from evencourse.layout.ifc.solid_slices import grown, level_cut, polygons
from evencourse.layout.model.job import Corner, Point

#: Gaps between walls no wider than this are closed [m].
GAP = 0.12
#: A notch at an outside corner with sides no longer than this: the model's walls end short of each other [m].
NOTCH = 0.3
#: Heights nearer than this count as one [m].
_LEVEL = 0.01
#: Most heights at which a building is cut: a bound on work.
_MOST_LEVELS = 80
#: A corner this far off the line of its neighbours at most is none [m].
_STRAIGHT = 0.001
#: Outlines smaller than this are no walls [m2].
_SMALL = 0.005


@dataclass(frozen=True)
class Strip:
    """A stretch of the building's outline between two heights, the building on its left.

    Attributes:
        start: left end, seen from outside, as x and y [m].
        end: right end.
        low: where it begins [m].
        high: where it ends.
        left: the corner at its left end.
        right: the corner at its right end.
        filled: how far a notch at the left and at the right end was filled [m].
    """

    start: Point
    end: Point
    low: float
    high: float
    left: Corner
    right: Corner
    filled: tuple[float, float]

    @property
    def length(self) -> float:
        """Along the wall [m]."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])


@dataclass(frozen=True)
class Rings:
    """A building's outlines.

    Attributes:
        strips: stretches at every height.
        footprint: the area that the building covers at any height.
    """

    strips: tuple[Strip, ...]
    footprint: BaseGeometry


def outside(walls: Sequence[Solid], model: BuildingModel) -> Rings:
    """The outlines of a building, between every two heights at which a wall begins or ends.

    What lies inside an outline is inside: rooms, and walls between them. A roof closes what stands under it.

    Args:
        walls: the walls that stand above the ground.
        model: what else closes them.
    """
    closing, roofs = model.of("infill", "window", "door"), model.of("roof")
    cuts: list[tuple[float, float, float, list[BaseGeometry]]] = []
    for low, high in pairwise(_levels(walls)):
        shadows = [_shadow(solid, low, high) for solid in closing if solid.low < high and low < solid.high]
        for at in _inner(low, high):
            parts = [level_cut(wall, at) for wall in walls if wall.low < at < wall.high]
            cuts.append((low, high, at, [*parts, *shadows]))
    footprint = shapely.union_all([filled for *_, parts in cuts for filled in _filled(parts)])
    strips = []
    for low, high, at, parts in cuts:
        over = [footprint.intersection(level_cut(roof, at)) for roof in roofs if roof.low < at < roof.high]
        strips += [strip for outline in _filled([*parts, *over]) for strip in _strips(outline, low, high)]
    return Rings(tuple(strips), footprint)


def _shadow(solid: Solid, low: float, high: float) -> BaseGeometry:
    """What closes a wall between two heights: a door or a window has gaps at its foot and its head."""
    low, high = max(low, solid.low), min(high, solid.high)
    return shapely.union_all([level_cut(solid, low + share * (high - low)) for share in (0.01, 0.5)])


def _levels(walls: Sequence[Solid]) -> list[float]:
    heights = np.unique(np.concatenate([np.round(wall.points[:, 2], 5) for wall in walls]))
    found: list[float] = []
    for height in heights.tolist():
        if not found or height - found[-1] > _LEVEL:
            found.append(height)
    if len(found) > _MOST_LEVELS:
        few = np.linspace(0, len(found) - 1, _MOST_LEVELS).round().astype(int)
        found = [found[place] for place in few]
    return found


def _inner(low: float, high: float) -> tuple[float, float]:
    """Just above the lower and just below the upper height: a gable is widest below."""
    in_by = min(0.0002, (high - low) / 10)
    return low + in_by, high - in_by


def _filled(parts: Sequence[BaseGeometry]) -> list[shapely.Polygon]:
    """Outlines of what is cut at a height, gaps closed and everything inside filled."""
    whole = shapely.union_all(parts)
    if whole.is_empty:
        return []
    # Filled while the gaps are closed: walls that meet in a point alone would part again.
    wide = grown(whole, GAP / 2)
    inside = [shapely.Polygon(part.exterior) for part in polygons(wide)]
    joined = grown(shapely.union_all(inside), -GAP / 2)
    return [shapely.Polygon(part.exterior) for part in polygons(joined) if part.area > _SMALL]


def _strips(outline: shapely.Polygon, low: float, high: float) -> Iterator[Strip]:
    ring = straightened([(x, y) for x, y in shapely.orient_polygons(outline).exterior.coords[:-1]])
    corners, filled = _without_notches(ring)
    count = len(corners)
    if count < 3:
        return
    turns: list[Corner] = [
        "outside corner" if _turn(corners[place - 1], corners[place], corners[(place + 1) % count]) > 0
        else "inside corner"
        for place in range(count)
    ]  # fmt: skip
    for place in range(count):
        after = (place + 1) % count
        ends = (filled[place][1], filled[after][0])
        yield Strip(corners[place], corners[after], low, high, turns[place], turns[after], ends)


def straightened(ring: Sequence[Point]) -> list[Point]:
    """A ring without corners that lie on the line of their neighbours."""
    corners = list(ring)
    place = 0
    while len(corners) > 3 and place < len(corners):
        a, b, c = corners[place - 1], corners[place], corners[(place + 1) % len(corners)]
        length = hypot(c[0] - a[0], c[1] - a[1])
        if length <= _STRAIGHT or abs(_turn(a, b, c)) / length <= _STRAIGHT:
            del corners[place]
            place = max(0, place - 1)
        else:
            place += 1
    return corners


def _without_notches(ring: Sequence[Point]) -> tuple[list[Point], list[tuple[float, float]]]:
    """Fill notches at outside corners, where two walls of the model end on their middle lines.

    Returns:
        Corners, and how far the sides before and after each were made longer [m].
    """
    corners = list(ring)
    filled = [(0.0, 0.0)] * len(corners)
    place = 0
    while len(corners) > 5 and place < len(corners):
        count = len(corners)
        before, a, b, c, after = (corners[(place + step) % count] for step in (-1, 0, 1, 2, 3))
        short = max(hypot(b[0] - a[0], b[1] - a[1]), hypot(c[0] - b[0], c[1] - b[1])) <= NOTCH
        notch = _turn(before, a, b) > 0 and _turn(a, b, c) < 0 and _turn(b, c, after) > 0
        meet = _crossing(before, a, c, after) if short and notch else None
        if meet is None or hypot(meet[0] - b[0], meet[1] - b[1]) > 2 * NOTCH:
            place += 1
            continue
        longer = (hypot(meet[0] - a[0], meet[1] - a[1]), hypot(meet[0] - c[0], meet[1] - c[1]))
        corners[place], filled[place] = meet, longer
        for gone in sorted(((place + 1) % count, (place + 2) % count), reverse=True):
            del corners[gone], filled[gone]
        place = 0
    return corners, filled


def _crossing(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Where the line from a on through b meets the one from d on through c, beyond both; None if nowhere."""
    run, rise, other, up = b[0] - a[0], b[1] - a[1], c[0] - d[0], c[1] - d[1]
    base = run * up - rise * other
    if abs(base) <= 0.1 * hypot(run, rise) * hypot(other, up):
        return None
    share = ((d[0] - a[0]) * up - (d[1] - a[1]) * other) / base
    also = ((d[0] - a[0]) * rise - (d[1] - a[1]) * run) / base
    return (a[0] + share * run, a[1] + share * rise) if share >= 1 and also >= 1 else None


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
