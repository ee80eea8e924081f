"""Outside surfaces of walls, one plane each: what of a plane is wall, storey over storey."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import pairwise
from math import hypot

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from evencourse.layout.ifc.model_solids import Solid
from evencourse.layout.ifc.outside_rings import Strip, straightened
from evencourse.layout.ifc.solid_slices import Points, closed, polygons
from evencourse.layout.model.job import Point

#: Surfaces that stand out no more than this from each other are one face: plaster, a step in a slab [m].
FLUSH = 0.025
#: A floor's edge, or the gap that it leaves between two storeys' walls, is no higher than this [m].
FLOOR = 0.6
#: Straight walls and their returns look no more ways than this, opposite ones counted once.
_WAYS = 6
#: How far the sine of two directions may be off for one plane.
_PARALLEL = 0.002
#: Faces smaller than this are left out [m2, m].
LEAST_AREA, LEAST_WIDTH = 0.1, 0.1
#: Grid of plane geometry [m].
_GRID = 1e-5


@dataclass
class WallPlane:
    """A plumb plane that walls of the building end in.

    Attributes:
        origin: a point of it, as x and y [m].
        along: its direction to the right, seen from outside.
        strips: stretches of the building's outline that lie in it.
    """

    origin: Point
    along: Point
    strips: list[Strip] = field(default_factory=list)

    def placed(self, solid: Solid) -> Points:
        """A solid's corners along the wall to the right, out of it, and up [m]."""
        (x0, y0), (dx, dy) = self.origin, self.along
        x, y = solid.points[:, 0] - x0, solid.points[:, 1] - y0
        return np.column_stack((x * dx + y * dy, x * dy - y * dx, solid.points[:, 2]))

    def at(self, point: Point) -> tuple[float, float]:
        """A point of the plan along the wall and out of it [m]."""
        (x0, y0), (dx, dy) = self.origin, self.along
        x, y = point[0] - x0, point[1] - y0
        return x * dx + y * dy, x * dy - y * dx

    def on_plan(self, along: float) -> Point:
        """A point of the plane as x and y [m]."""
        return self.origin[0] + along * self.along[0], self.origin[1] + along * self.along[1]


@dataclass
class ModelFace:
    """One outside face.

    Attributes:
        plane: the plane that it lies in.
        shape: its outline along the wall and up, holes of the model in it [m].
        walls: global ids of the walls that it belongs to.
        notes: what a person should know of it.
        roofs: bands of roofs that lean against it, with wall below them.
    """

    plane: WallPlane
    shape: shapely.Polygon
    walls: frozenset[str]
    notes: list[str] = field(default_factory=list)
    roofs: tuple[shapely.Polygon, ...] = ()

    @cached_property
    def ends(self) -> tuple[float, float]:
        """Its left and right end along the wall [m]."""
        along = [x for x, _ in straightened(list(self.shape.exterior.coords[:-1]))]
        return min(along), max(along)


def planes(strips: Sequence[Strip]) -> list[WallPlane]:
    """Stretches of outline by the plane that they lie in, the longest first."""
    found: list[WallPlane] = []
    for strip in sorted(strips, key=lambda one: (-one.length, one.start, one.low)):
        if strip.length < LEAST_WIDTH / 2:
            continue
        along = (
            (strip.end[0] - strip.start[0]) / strip.length,
            (strip.end[1] - strip.start[1]) / strip.length,
        )
        for plane in found:
            (ax, ay), (bx, by) = plane.along, along
            if ax * bx + ay * by < 0 or abs(ax * by - ay * bx) > _PARALLEL:
                continue
            if max(abs(plane.at(strip.start)[1]), abs(plane.at(strip.end)[1])) <= FLUSH:
                plane.strips.append(strip)
                break
        else:
            found.append(WallPlane(strip.start, along, [strip]))
    return found


def curved(wall: Solid) -> bool:
    """Whether a wall runs on a curve: its plumb surfaces look more ways than those of straight walls do."""
    corners = wall.points[wall.triangles]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normal, axis=1)
    plumb = (size > 1e-6) & (np.abs(normal[:, 2]) < 0.01 * size)
    ways = np.degrees(np.arctan2(normal[plumb, 1], normal[plumb, 0])).round() % 180
    return len(np.unique(ways)) > _WAYS


def faces_of(plane: WallPlane, walls: Sequence[Solid]) -> Iterator[ModelFace]:
    """Faces in a plane: surfaces of walls where the outline runs, joined over floors and at corners."""
    shown = [
        shapely.box(plane.at(strip.start)[0], strip.low, plane.at(strip.end)[0], strip.high)
        for strip in plane.strips
    ]
    mask = shapely.union_all(shown, grid_size=_GRID)
    surfaces: list[BaseGeometry] = []
    owners: list[tuple[BaseGeometry, str]] = []
    for wall in walls:
        surface = _surface(plane, wall)
        if not surface.is_empty:
            surfaces.append(surface)
            owners.append((surface, wall.wall))
    if not surfaces:
        return
    surface = shapely.union_all(surfaces, grid_size=_GRID)
    clear = shapely.intersection(surface, mask, grid_size=_GRID)
    # Slits between walls that end a hair short of each other are no edges of siding.
    clear = closed(clear, FLUSH)
    whole = _over_floors(polygons(clear))
    whole = shapely.union_all([whole, *_corner_fills(plane, polygons(whole))], grid_size=_GRID)
    for shape in polygons(whole):
        owned = frozenset(wall for one, wall in owners if one.intersection(shape).area > LEAST_AREA / 10)
        yield ModelFace(plane, shape, owned)


def lines(shape: BaseGeometry) -> list[shapely.LineString]:
    """The straight parts of a shape."""
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, shapely.LineString) and not part.is_empty]


def _surface(plane: WallPlane, wall: Solid) -> BaseGeometry:
    """What of a wall's surface lies in the plane."""
    placed = plane.placed(wall)
    if placed[:, 1].min() > FLUSH or placed[:, 1].max() < -FLUSH:
        return shapely.MultiPolygon()
    corners = placed[wall.triangles]
    flat = np.abs(corners[:, :, 1]).max(axis=1) <= FLUSH + 0.003
    corners = corners[flat]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normal, axis=1)
    good = (size > 1e-9) & (np.abs(normal[:, 1]) > 0.99 * size)
    if not good.any():
        return shapely.MultiPolygon()
    return shapely.union_all(shapely.polygons(corners[good][:, :, [0, 2]]), grid_size=_GRID)


def _over_floors(parts: Sequence[shapely.Polygon]) -> BaseGeometry:
    """Storeys joined where a floor's edge parts them: from a level top to a level bottom close above it."""
    fills = []
    for below in parts:
        for left, right, height, up in _level_sides(below):
            if not up:
                continue
            for above in parts:
                for start, end, base, top in _level_sides(above):
                    if not top and 0 < base - height <= FLOOR and min(right, end) - max(left, start) > 0.01:
                        fills.append(shapely.box(max(left, start), height, min(right, end), base))
    return shapely.union_all([*parts, *fills], grid_size=_GRID)


def _level_sides(shape: shapely.Polygon) -> Iterator[tuple[float, float, float, bool]]:
    """Level sides of an outline: left, right, height, and whether the wall lies below them."""
    ring = list(shapely.orient_polygons(shape).exterior.coords)
    for (xa, ya), (xb, yb) in pairwise(ring):
        if abs(ya - yb) <= 0.001 and abs(xa - xb) > 0.01:
            yield min(xa, xb), max(xa, xb), (ya + yb) / 2, xb < xa


def _corner_fills(plane: WallPlane, parts: Sequence[shapely.Polygon]) -> Iterator[BaseGeometry]:
    """What a wall that ends short of its corner lacks there."""
    for strip in plane.strips:
        for side, long in enumerate(strip.filled):
            if not long:
                continue
            corner = plane.at(strip.end if side else strip.start)[0]
            inner = corner - long if side else corner + long
            for part in parts:
                at = part.bounds[2 if side else 0]
                if abs(at - inner) > 0.002:
                    continue
                ends = [y for x, y in part.exterior.coords if abs(x - at) <= 0.002]
                yield shapely.box(min(at, corner), min(ends), max(at, corner), max(ends))


def one_sided(faces: Sequence[ModelFace]) -> list[ModelFace]:
    """Faces without the backs of walls that show a little of themselves: over a flat roof, under no roof.

    Where both sides of a wall lie outside, the larger face stays; a wall that stands free shows both alike.
    """
    found = []
    for face in faces:
        shape: BaseGeometry = face.shape
        for other in faces:
            (ax, ay), (bx, by) = face.plane.along, other.plane.along
            apart = face.plane.at(other.plane.origin)[1]
            if ax * bx + ay * by > -0.99 or not -0.8 < apart < -0.02 or not face.walls & other.walls:
                continue
            if face.shape.area > 0.8 * other.shape.area:
                continue
            back = shapely.transform(
                other.shape,
                lambda points, other=other, face=face: np.column_stack(
                    ([face.plane.at(other.plane.on_plan(u))[0] for u in points[:, 0]], points[:, 1])
                ),
            )
            shape = shape.difference(back.buffer(0.05))
        found += [replace(face, shape=part) for part in polygons(shape)]
    return found


def large_enough(faces: Sequence[ModelFace]) -> list[ModelFace]:
    """Faces that siding can cover."""
    return [
        face for face in faces if face.shape.area >= LEAST_AREA and face.ends[1] - face.ends[0] >= LEAST_WIDTH
    ]


def distance(one: Point, other: Point) -> float:
    """Between two points of the plan [m]."""
    return hypot(one[0] - other[0], one[1] - other[1])
