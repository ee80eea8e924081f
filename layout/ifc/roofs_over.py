"""Faces and roofs: walls end under the roof over them and over one below, gables are filled up to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from evencourse.layout.ifc.model_solids import Solid
from evencourse.layout.ifc.solid_slices import plumb_cut, polygons
from evencourse.layout.ifc.wall_planes import ModelFace, lines
from evencourse.layout.language.speech import gettext

#: A roof that lies over the wall and over the room behind it, so far in, is the wall's own [m].
_AT_WALL, _BEHIND = -0.0001, -0.6
#: A roof that begins just before the wall leans against it; a lower part of the building stands so far before
#: the wall where its attic covers it [m].
_BEFORE, _FRONT = 0.02, 0.3
#: Less than this of a wall above its roof is the model's rounding [m2].
_ROUNDING = 0.02
#: More than this share of a wall above a roof is a storey, and the roof another one's.
_STOREY = 0.35
#: A gap between wall and roof that is higher than this somewhere is a gable, and one that is lower at the
#: wall's ends is none [m].
_GABLE, _SEAT = 0.3, 0.45


def under_roofs(
    faces: Sequence[ModelFace], roofs: Sequence[Solid], footprint: BaseGeometry
) -> list[ModelFace]:
    """Faces as their roofs and those of lower parts leave them.

    Args:
        faces: as the walls of the model have them.
        roofs: of the whole model.
        footprint: the area that the building covers.
    """
    under = [part for face in faces for part in _under(face, roofs)]
    return [part for face in under for part in _over(face, roofs, footprint)]


def _over(face: ModelFace, roofs: Sequence[Solid], footprint: BaseGeometry) -> list[ModelFace]:
    """A face without what lower roofs cover: an attic where a lower part stands before it, else a band."""
    left, low, right, _ = face.shape.bounds
    shape: BaseGeometry = face.shape
    bands: list[shapely.Polygon] = []
    for roof in roofs:
        placed = face.plane.placed(roof)
        if placed[:, 0].min() > right or placed[:, 0].max() < left:
            continue
        before, behind = (plumb_cut(roof, placed, out) for out in (_BEFORE, _BEHIND))
        if before.is_empty or not behind.is_empty or before.intersection(shape).area < _ROUNDING:
            continue
        covered = affinity.scale(
            _upwards(affinity.scale(before, 1, -1, origin=(0, 0)), -low), 1, -1, origin=(0, 0)
        )
        ends = [face.plane.on_plan(along) for along in (left, right)]
        (dx, dy) = face.plane.along
        line = shapely.LineString([(x + _FRONT * dy, y - _FRONT * dx) for x, y in ends])
        inside = [
            shapely.box(
                face.plane.at(part.coords[0])[0],
                low - 1,
                face.plane.at(part.coords[-1])[0],
                before.bounds[3] + 1,
            )
            for part in lines(line.intersection(footprint))
        ]
        attic = covered.intersection(shapely.union_all(inside))
        bands += polygons(shapely.intersection(before.difference(attic), shape, grid_size=1e-5))
        shape = shapely.difference(shape, attic, grid_size=1e-5)
    parts = polygons(shape)
    return [
        replace(
            face, shape=part, roofs=tuple(band for band in bands if band.intersection(part).area > _ROUNDING)
        )
        for part in parts
    ]


def _under(face: ModelFace, roofs: Sequence[Solid]) -> list[ModelFace]:
    bands = []
    left, right = face.ends
    for roof in roofs:
        placed = face.plane.placed(roof)
        if placed[:, 0].min() > right or placed[:, 0].max() < left:
            continue
        band, behind = (plumb_cut(roof, placed, out) for out in (_AT_WALL, _BEHIND))
        if not band.is_empty and not behind.is_empty:
            bands.append(band)
    if not bands:
        return [face]
    band = shapely.union_all(bands)
    over = _upwards(band, face.shape.bounds[3])
    shape: BaseGeometry = face.shape
    notes = list(face.notes)
    above = shape.intersection(over).area
    if _ROUNDING < above < _STOREY * shape.area:
        shape = shape.difference(over)
        notes.append(gettext("the wall runs past its roof in the model: cut off under it"))
    gable = _gable(face, over, band.bounds[3])
    if gable is not None:
        shape = shapely.union_all([shape, gable], grid_size=1e-5)
        notes.append(gettext("no wall between eave and roof in the model: filled up to the roof as a gable"))
    return [replace(face, shape=part, notes=notes) for part in polygons(shape)]


def _upwards(band: BaseGeometry, top: float) -> BaseGeometry:
    """A roof's band, and all that lies above it."""
    rise = max(top, band.bounds[3]) + 1 - band.bounds[1]
    parts: list[BaseGeometry] = [band, affinity.translate(band, 0, rise)]
    for part in polygons(band):
        ring = list(part.exterior.coords)
        for (xa, ya), (xb, yb) in pairwise(ring):
            if abs(xa - xb) > 1e-6:
                parts.append(shapely.Polygon([(xa, ya), (xb, yb), (xb, yb + rise), (xa, ya + rise)]))
    return shapely.union_all(parts, grid_size=1e-5)


def _gable(face: ModelFace, over: BaseGeometry, high: float) -> BaseGeometry | None:
    """What is open between a wall with a level top and its roof, ``high`` at most; None where no gable is."""
    left, _, right, top = face.shape.bounds
    level = [x for x, y in face.shape.exterior.coords if abs(y - top) <= 0.002]
    if min(level) - left > 0.01 or right - max(level) > 0.01:
        return None
    if high <= top:
        return None
    open_ = shapely.box(left, top, right, high).difference(over)
    if open_.is_empty or open_.bounds[3] > high - 1e-4:
        return None  # the roof does not lie over the whole wall
    parts = [part for part in polygons(open_) if part.bounds[1] <= top + 0.002]
    if len(parts) != 1 or parts[0].bounds[3] - top <= _GABLE:
        return None
    ends = [y - top for x, y in parts[0].exterior.coords if min(x - left, right - x) <= 0.002]
    return parts[0] if max(ends, default=0.0) <= _SEAT else None
