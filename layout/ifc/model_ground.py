"""The ground along a face, from the model's terrain or the height that its site says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from evencourse.layout.ifc.model_solids import Solid
from evencourse.layout.ifc.solid_slices import plumb_cut, polygons
from evencourse.layout.ifc.wall_planes import ModelFace
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.job import Point

#: The ground is looked at so far in front of a wall [m].
_BEFORE = 0.1
#: A point of the ground is left out when it lies this near the line of its neighbours [m].
_EVEN = 0.005


def ground_along(face: ModelFace, terrain: Sequence[Solid], height: float | None) -> tuple[Point, ...]:
    """The ground in points along the wall and up, from its left to its right end; none where it is not known.

    Args:
        face: a face.
        terrain: surfaces of the ground.
        height: a level ground, where there is no terrain [m].
    """
    left, right = face.ends
    cuts = [plumb_cut(one, face.plane.placed(one), _BEFORE) for one in terrain]
    area = shapely.union_all([cut for cut in cuts if not cut.is_empty])
    if area.is_empty:
        return () if height is None else ((left, height), (right, height))
    places = sorted(
        {
            left,
            right,
            *(
                x
                for part in polygons(area)
                for ring in (part.exterior, *part.interiors)
                for x, _ in ring.coords
                if left < x < right
            ),
        }
    )
    low, high = area.bounds[1] - 1, area.bounds[3] + 1
    points = []
    for x in places:
        at = min(max(x, left + 1e-4), right - 1e-4)
        up = shapely.LineString([(at, low), (at, high)]).intersection(area)
        if up.is_empty:
            return ()
        points.append((x, float(up.bounds[3])))
    line = shapely.LineString(points).simplify(_EVEN)
    return tuple((float(x), float(y)) for x, y in line.coords)


def above_ground(face: ModelFace, ground: Sequence[Point]) -> list[ModelFace]:
    """A face without what lies under the ground."""
    if not ground:
        return [face]
    left, low, right, _ = face.shape.bounds
    deep = min(low, *(y for _, y in ground)) - 1
    earth = shapely.Polygon(
        [(left - 1, deep), (left - 1, ground[0][1]), *ground, (right + 1, ground[-1][1]), (right + 1, deep)]
    )
    if face.shape.intersection(earth).area < 0.001:
        return [face]
    rest: BaseGeometry = shapely.difference(face.shape, earth, grid_size=1e-5)
    notes = [*face.notes, gettext("its wall goes on below the ground: cut off there")]
    return [replace(face, shape=part, notes=notes) for part in polygons(rest)]
