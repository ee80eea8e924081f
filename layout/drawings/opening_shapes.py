"""What shape an opening has: from a closed ring to a rectangle, a circle, an arch or a triangle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot

import shapely

from evencourse.layout.model.geometry import Box, area, box_of
from evencourse.layout.model.job import Opening, OpeningShape, Point
from evencourse.layout.model.tolerance import SAME

#: Most panes of one row that are united: a bound on work.
_MOST_PANES = 400
#: Most springing heights tried for one arch: a bound on work.
_MOST_SPRINGINGS = 200


@dataclass(frozen=True)
class FoundShape:
    """The shape of an opening.

    Attributes:
        shape: in the words of the job file; ``rectangle`` for the box round a shape that is none of them.
        box: left, bottom, right, top.
        rise: of an arch above its springing.
        exact: the ring has this shape; else the box stands for it.
    """

    shape: OpeningShape
    box: Box
    rise: float = 0.0
    exact: bool = True


def recognised(ring: Sequence[Point], tolerance: float) -> FoundShape:
    """The shape of a ring.

    Args:
        ring: counter-clockwise; arcs cut into chords.
        tolerance: how far its sides may lie off the shape [as the points].
    """
    box = box_of(ring)
    left, low, right, high = box
    width, height = right - left, high - low
    if _is_rectangle(ring, box, tolerance):
        return FoundShape("rectangle", box)
    if _is_triangle(ring, box, tolerance):
        return FoundShape("triangle", box)
    if abs(width - height) <= tolerance and _on_circle(
        _with_middles(ring), ((left + right) / 2, (low + high) / 2), (width + height) / 4, tolerance
    ):
        return FoundShape("round", box)
    rise = _arch_rise(ring, box, tolerance)
    half = _arch_off(ring, box, width / 2) if height >= width / 2 - tolerance else float("inf")
    # An arch of almost half the width is a half-round only when it fits that about as well.
    rough = float("inf") if rise is None else max(2 * _arch_off(ring, box, rise), SAME * width)
    if half <= rough and _fits_arch(ring, box, width / 2, tolerance):
        return FoundShape("half-round", box, width / 2)
    if rise is not None:
        return FoundShape("arch", box, rise)
    return FoundShape("rectangle", box, exact=False)


def finished(found: Opening, like: Opening | None) -> Opening:
    """An opening as found whose sizes fit its shape, and that lies as the same one of another job does.

    Args:
        found: its sizes each by itself.
        like: the same opening of a job that says what a drawing or a model does not; None for none.
    """
    height, rise = found.height, found.rise
    if found.shape == "round":
        height = found.width
    elif found.shape == "half-round":
        rise = found.width / 2
        height = max(height, rise)
    elif found.shape == "arch":
        rise = min(rise, found.width / 2, height)
    found = replace(found, height=height, rise=rise)
    if like is not None:
        found = replace(found, head_edge=like.head_edge, sill_edge=like.sill_edge, trim=like.trim)
    return replace(found, sill_edge="ignore") if found.on_base else found


def with_united_panes(
    parts: Sequence[shapely.Polygon], step: float, board: float, between: tuple[float, float]
) -> tuple[list[shapely.Polygon], list[shapely.Polygon]]:
    """What an opening is divided into, with the rows, columns and grids that it makes up.

    Boards at the ends of a row or a column are trim and belong to none.

    Args:
        parts: panes and boards, each without holes [drawing units].
        step: heights nearer than this are the same.
        board: what is narrower, and three times as long, is a board.
        between: how wide the casing may be that windows of one row share, least and most.

    Returns:
        The parts and what panes that touch make up; and boxes round panes as far apart as trim is wide.
    """

    def key(low: float, high: float) -> tuple[int, int]:
        return round(low / step), round(high / step)

    known = {(*key(b[0], b[2]), *key(b[1], b[3])): one for one in parts for b in [one.bounds]}
    boxes: list[shapely.Polygon] = []
    for _ in range(2):
        fresh = []
        for along in (0, 1):
            rows: dict[tuple[int, int], list[shapely.Polygon]] = {}
            for one in known.values():
                rows.setdefault(key(one.bounds[1 - along], one.bounds[3 - along]), []).append(one)
            for row in rows.values():
                inner = _without_end_boards(row, along, board) if 1 < len(row) <= _MOST_PANES else []
                if len(inner) > 1:
                    fresh += shapely.get_parts(shapely.union_all(inner)).tolist()
                    boxes += _apart_by(inner, between) if along == 0 else []
        for one in fresh:
            b = one.bounds
            known.setdefault((*key(b[0], b[2]), *key(b[1], b[3])), one)
    return list(known.values()), boxes


def _without_end_boards(row: Sequence[shapely.Polygon], along: int, board: float) -> list[shapely.Polygon]:
    kept = sorted(row, key=lambda one: (one.bounds[along], one.bounds[2 + along]))

    def is_board(one: shapely.Polygon) -> bool:
        wide = one.bounds[2 + along] - one.bounds[along]
        long = one.bounds[3 - along] - one.bounds[1 - along]
        return bool(wide <= board and long >= 3 * wide)

    while kept and is_board(kept[0]):
        kept.pop(0)
    while kept and is_board(kept[-1]):
        kept.pop()
    return kept


def _apart_by(row: Sequence[shapely.Polygon], between: tuple[float, float]) -> list[shapely.Polygon]:
    """The box round windows of one row that share a casing; none where they do not."""
    gaps = [b.bounds[0] - a.bounds[2] for a, b in pairwise(row)]
    if not all(between[0] <= gap <= between[1] for gap in gaps):
        return []
    x0, y0, x1, y1 = shapely.total_bounds(row)
    return [shapely.box(x0, y0, x1, y1)]


def is_casing(outer: Box, inner: Box, margin: tuple[float, float], near: float, stands: bool) -> bool:
    """Whether a ring lies round a hole as trim does: as far off at both sides, over it, and below if at all.

    Args:
        outer: box of the ring.
        inner: box of the hole.
        margin: how wide trim is, least and most [as the boxes].
        near: how far both sides may differ.
        stands: the ring stands on the wall's base, and so must the hole.
    """
    least, most = margin
    left, right, top = inner[0] - outer[0], outer[2] - inner[2], outer[3] - inner[3]
    below = inner[1] - outer[1]
    if abs(left - right) > near or not all(least <= one <= most for one in (left, right, top)):
        return False
    return abs(below) <= near / 8 or (not stands and near <= below <= most)


def _is_rectangle(ring: Sequence[Point], box: Box, tolerance: float) -> bool:
    left, low, right, high = box
    corners = ((left, low), (right, low), (right, high), (left, high))
    if not all(any(hypot(x - a, y - b) <= tolerance for x, y in ring) for a, b in corners):
        return False
    off = max(min(x - left, right - x, y - low, high - y) for x, y in ring)
    missing = (right - left) * (high - low) - abs(area(ring))
    return off <= tolerance and missing <= tolerance * (right - left + high - low)


def _is_triangle(ring: Sequence[Point], box: Box, tolerance: float) -> bool:
    """An equal-sided one on a level base, as the job file has it."""
    left, low, right, high = box
    corners = ((left, low), (right, low), ((left + right) / 2, high))
    if not all(any(hypot(x - a, y - b) <= tolerance for x, y in ring) for a, b in corners):
        return False
    return all(min(_off(point, a, b) for a, b in _sides(corners)) <= tolerance for point in ring)


def _sides(corners: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(zip(corners, [*corners[1:], corners[0]], strict=True))


def _off(point: Point, start: Point, end: Point) -> float:
    """Distance of a point from a side."""
    run, rise = end[0] - start[0], end[1] - start[1]
    size = run * run + rise * rise
    share = ((point[0] - start[0]) * run + (point[1] - start[1]) * rise) / size if size else 0.0
    share = min(1.0, max(0.0, share))
    return hypot(point[0] - start[0] - share * run, point[1] - start[1] - share * rise)


def _with_middles(points: Sequence[Point]) -> list[Point]:
    return [*points, *(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in _sides(points))]


def _on_circle(points: Sequence[Point], centre: Point, radius: float, tolerance: float) -> bool:
    return all(abs(hypot(x - centre[0], y - centre[1]) - radius) <= tolerance for x, y in points)


def _arch_rise(ring: Sequence[Point], box: Box, tolerance: float) -> float | None:
    """The rise of the arch on which the corners lie best; None when the ring is no arch."""
    left, _, right, high = box
    beside = sorted({high - y for x, y in ring if min(x - left, right - x) <= tolerance and y < high})
    rises = [rise for rise in beside if tolerance < rise <= (right - left) / 2 + tolerance]
    few = rises[: min(_MOST_SPRINGINGS, 200_000 // len(ring))]
    best = min(few, key=lambda rise: _arch_off(ring, box, rise), default=None)
    return best if best is not None and _fits_arch(ring, box, best, tolerance) else None


def _fits_arch(ring: Sequence[Point], box: Box, rise: float, tolerance: float) -> bool:
    return _arch_off(_with_middles(ring), box, rise) <= tolerance


def _arch_off(points: Sequence[Point], box: Box, rise: float) -> float:
    """How far points, and the lower corners from the nearest of them, lie off an arch of this rise."""
    left, low, right, high = box
    half, spring = (right - left) / 2, high - rise
    if half <= 0 or rise <= 0:
        return float("inf")
    radius = (half * half + rise * rise) / (2 * rise)
    centre = ((left + right) / 2, high - radius)
    off = 0.0
    for x, y in points:
        beside = min(x - left, right - x)
        if y > spring:
            arc = abs(hypot(x - centre[0], y - centre[1]) - radius)
            off = max(off, min(arc, hypot(beside, y - spring)))
        else:
            off = max(off, min(beside, y - low))
    for corner in ((left, low), (right, low)):
        off = max(off, min(hypot(x - corner[0], y - corner[1]) for x, y in points))
    return off
