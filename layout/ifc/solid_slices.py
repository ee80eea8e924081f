"""Cuts through the surfaces of a model: level ones and plumb ones along a wall."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from evencourse.layout.ifc.model_solids import Solid

#: Decimals [m] of a cut's corners, so that triangles side by side meet: a thousandth of a millimetre.
_DECIMALS = 6
#: A cut through a corner is moved by this much [m].
_BESIDE = 3.1e-6

Points = NDArray[np.float64]


def level_cut(solid: Solid, height: float) -> BaseGeometry:
    """The area of a solid at a height, as x and y [m]."""
    return _cut(solid.points, solid.triangles, 2, height)


def plumb_cut(solid: Solid, placed: Points, out: float) -> BaseGeometry:
    """The area of a solid in a plumb plane, along the wall and up [m].

    Args:
        solid: the solid.
        placed: its corners along the wall, out of the wall, and up, as ``WallPlane.placed`` gives them.
        out: how far out of the wall the cut lies; negative into it.
    """
    return _cut(placed, solid.triangles, 1, out)


def _cut(points: Points, triangles: NDArray[np.int64], axis: int, at: float) -> BaseGeometry:
    low, high = points[:, axis].min(), points[:, axis].max()
    if not low < at < high:
        return shapely.MultiPolygon()
    while np.abs(points[:, axis] - at).min() < 1e-7:
        at += _BESIDE
    ends = _segments(points, triangles, axis, at)
    if not len(ends):
        return shapely.MultiPolygon()
    lines = shapely.linestrings(ends)
    cells = shapely.polygonize([shapely.union_all(lines)])
    kept = [cell for cell in cells.geoms if _inside(cell.representative_point(), ends)]
    return shapely.union_all(kept)


def _segments(points: Points, triangles: NDArray[np.int64], axis: int, at: float) -> Points:
    """Where triangles cross a plane: two ends each, without those that are no longer than the grid."""
    others = [0, 1, 2]
    others.remove(axis)
    off = points[:, axis] - at
    crossing = triangles[(off[triangles].max(axis=1) > 0) & (off[triangles].min(axis=1) < 0)]
    if not len(crossing):
        return np.empty((0, 2, 2))
    found = []
    for first, second in ((0, 1), (1, 2), (2, 0)):
        a, b = crossing[:, first], crossing[:, second]
        # Always from the side below, so that both triangles at an edge find the same point.
        a, b = np.where(off[a] < off[b], a, b), np.where(off[a] < off[b], b, a)
        apart = off[a] - off[b]
        share = off[a] / np.where(apart == 0, 1.0, apart)
        place = points[a][:, others] + share[:, None] * (points[b][:, others] - points[a][:, others])
        found.append(np.where(((off[a] < 0) & (off[b] > 0))[:, None], place, np.nan))
    stacked = np.stack(found, axis=1)
    kept = ~np.isnan(stacked[:, :, 0])
    ends = np.round(stacked[kept].reshape(-1, 2, 2), _DECIMALS) + 0.0
    longer: Points = ends[np.abs(ends[:, 0] - ends[:, 1]).max(axis=1) > 0]
    return longer


def _inside(point: shapely.Point, ends: Points) -> bool:
    """Whether a point lies inside, by how often a level line from it meets the cut."""
    x, y = point.x, point.y
    (xa, ya), (xb, yb) = ends[:, 0].T, ends[:, 1].T
    across = (ya <= y) != (yb <= y)
    at = xa[across] + (y - ya[across]) * (xb[across] - xa[across]) / (yb[across] - ya[across])
    return int((at > x).sum()) % 2 == 1


def closed(shape: BaseGeometry, gap: float) -> BaseGeometry:
    """An area with its gaps closed, its straight sides and corners where they were.

    Args:
        shape: the area.
        gap: gaps no wider than this are closed [m].
    """
    return grown(grown(shape, gap / 2), -gap / 2)


def grown(shape: BaseGeometry, by: float) -> BaseGeometry:
    """An area with all its sides moved out, corners kept; in where ``by`` is negative [m]."""
    # The library divides by the angle of corners, straight ones, too.
    with np.errstate(divide="ignore", invalid="ignore"):
        return shape.buffer(by, join_style="mitre")


def polygons(shape: BaseGeometry) -> list[shapely.Polygon]:
    """The areas of a shape, lines and points left out."""
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, shapely.Polygon) and not part.is_empty]
