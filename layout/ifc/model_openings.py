"""Openings of a face: holes of the model that go through its outside surface."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from evencourse.layout.ifc.model_solids import BuildingModel, Solid
from evencourse.layout.ifc.solid_slices import plumb_cut, polygons
from evencourse.layout.ifc.wall_planes import ModelFace
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.job import OpeningKind

#: A hole counts when it is there so far behind the surface: a niche from inside does not reach it [m].
_SKIN = -0.008
#: Smaller holes are none [m2].
_LEAST = 0.01
#: A window or a door without a hole of its own stands so far in its wall, or out of it, at most [m].
_DEEP, _PROUD = -0.5, 0.15
#: A gap between a door and the wall beside it, at most [m].
_FRAME = 0.12
#: Openings that share more than this of the smaller one are one.
_SAME = 0.5


@dataclass(frozen=True)
class ModelOpening:
    """A hole in a face.

    Attributes:
        shape: its outline along the wall and up [m].
        kind: what it is.
        name: its name in the model.
        source: what it is called in messages.
    """

    shape: shapely.Polygon
    kind: OpeningKind
    name: str
    source: str


def openings_of(face: ModelFace, model: BuildingModel) -> tuple[shapely.Polygon, list[ModelOpening]]:
    """The outline of a face, and what is open in it from left to right.

    Args:
        face: a face.
        model: the model.
    """
    left, _, right, _ = face.shape.bounds
    near = [
        (solid, placed)
        for solid in model.of("hole", "window", "door")
        if (solid.kind != "hole" or solid.wall in face.walls)
        and (placed := face.plane.placed(solid))[:, 0].max() > left
        and placed[:, 0].min() < right
    ]
    found: list[ModelOpening] = []
    free: list[tuple[Solid, shapely.Polygon]] = []
    for solid, placed in near:
        if solid.kind == "hole":
            for part in polygons(plumb_cut(solid, placed, _SKIN)):
                found += _within(face.shape, part, solid)
            continue
        (x0, out0, y0), (x1, out1, y1) = placed.min(axis=0), placed.max(axis=0)
        if out1 > _DEEP and out0 < _PROUD and out1 - out0 < x1 - x0:
            free.append((solid, shapely.box(x0, y0, x1, y1)))
    outline = shapely.Polygon(face.shape.exterior)
    for ring in face.shape.interiors:
        hole = shapely.Polygon(ring)
        if hole.area > _LEAST:
            found.append(_named(hole, free))
    for solid, box in free:
        notch = _doorway(outline, box) if solid.kind == "door" else None
        if notch is not None:
            outline = shapely.union_all([outline, notch], grid_size=1e-5)
            found.append(ModelOpening(notch, solid.opens, solid.name, solid.source))
        elif box.intersection(outline).area > 0.8 * box.area:
            found += _within(outline, box, solid)
    return outline, sorted(_alone(found, face), key=lambda one: (one.shape.bounds[0], one.shape.bounds[1]))


def _within(wall: BaseGeometry, shape: shapely.Polygon, solid: Solid) -> Iterator[ModelOpening]:
    inside = shapely.intersection(shape, shapely.Polygon(wall.exterior), grid_size=1e-5)
    for part in polygons(inside):
        if part.area > _LEAST:
            yield ModelOpening(shapely.Polygon(part.exterior), solid.opens, solid.name, solid.source)


def _named(hole: shapely.Polygon, free: Sequence[tuple[Solid, shapely.Polygon]]) -> ModelOpening:
    """A hole in the body of a wall, called after the window or door that stands in it."""
    inside = [(box.intersection(hole).area / box.area, solid) for solid, box in free if box.area]
    share, solid = max(inside, key=lambda one: one[0], default=(0.0, None))
    if solid is None or share < _SAME:
        return ModelOpening(hole, "other", "", gettext("a hole in the wall's body"))
    return ModelOpening(hole, solid.opens, solid.name, solid.source)


def _doorway(outline: shapely.Polygon, box: shapely.Polygon) -> shapely.Polygon | None:
    """The part that a wall's body leaves out for a door, from its base up; None where there is none."""
    x0, y0, x1, y1 = box.bounds
    around = shapely.box(x0 - _FRAME, y0, x1 + _FRAME, y1 + _FRAME)
    for part in polygons(around.difference(outline)):
        left, _, right, top = part.bounds
        if part.intersection(box).area < 0.8 * box.area:
            continue
        closed = left > around.bounds[0] + 0.001 and right < around.bounds[2] - 0.001
        return part if closed and top < around.bounds[3] - 0.001 else None
    return None


def _alone(openings: Sequence[ModelOpening], face: ModelFace) -> list[ModelOpening]:
    """Openings clear of each other: of two that are one the larger, and the larger of two that overlap."""
    kept: list[ModelOpening] = []
    for one in sorted(openings, key=lambda one: -one.shape.area):
        over = [(one.shape.intersection(other.shape).area, other) for other in kept]
        area, other = max(over, key=lambda pair: pair[0], default=(0.0, one))
        if area < _LEAST / 10:
            kept.append(one)
        elif area < _SAME * one.shape.area:
            face.notes.append(
                gettext("{thing} lies over {other}: left out", thing=one.source, other=other.source)
            )
    return kept
