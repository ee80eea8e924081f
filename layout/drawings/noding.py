"""Lines of a drawing noded and polygonized: what they enclose, whichever way they were drawn.

Ends that nearly meet are one node; an end that nearly lies on another line lies on it (a T-junction); lines
that cross are cut there. What is enclosed then are the faces of the planar subdivision (``shapely``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor, hypot

import numpy as np
import shapely

from evencourse.layout.drawings.ring_points import clean, from_lower_left, without_level_points
from evencourse.layout.dxf.dxf_geometry import near
from evencourse.layout.model.geometry import area, box_of
from evencourse.layout.model.job import Point
from evencourse.layout.model.tolerance import BESIDE, ROUNDING

#: Most straight pieces that are noded at once, and most pairs of them that cross: bounds on work.
MOST_PIECES, MOST_CROSSINGS = 60_000, 20_000
#: Where more pieces than this are noded, most pairs that cross before ends are set on one another.
_MANY, _MOST_BEFORE = 2_000, 80_000
#: Pieces whose crossings are looked for at once: a bound on memory.
_AT_ONCE = 50
#: Most figures whose own strokes are looked for: a bound on work.
_MOST_FIGURES = 2_500


@dataclass(frozen=True)
class Ring:
    """A closed outline, counter-clockwise.

    Attributes:
        points: its corners.
        members: numbers of the strokes that it is made of.
        divided: lines within it were left out.
    """

    points: tuple[Point, ...]
    members: tuple[int, ...]
    divided: bool = False


@dataclass(frozen=True)
class Strand:
    """Strokes that follow one another and enclose nothing.

    Attributes:
        points: from end to end.
        members: numbers of its strokes.
    """

    points: tuple[Point, ...]
    members: tuple[int, ...]

    @property
    def gap(self) -> float:
        """How far its ends lie apart."""
        (x0, y0), (x1, y1) = self.points[0], self.points[-1]
        return hypot(x1 - x0, y1 - y0)


@dataclass(frozen=True)
class Subdivision:
    """What strokes enclose.

    Attributes:
        polygons: faces of the plane between the strokes, each without what lies in its holes.
        strokes: the strokes with their ends at their nodes; None for one that has no length.
        placed: points that were set on a stroke because another one ends there.
        overfull: there was too much to node; nothing was.
    """

    polygons: tuple[shapely.Polygon, ...]
    strokes: tuple[tuple[Point, ...] | None, ...]
    placed: frozenset[Point]
    overfull: bool = False


def subdivide(strokes: Sequence[Sequence[Point]], tolerance: float) -> Subdivision:
    """The faces of the plane between strokes in any order and direction.

    Args:
        strokes: each at least two points.
        tolerance: ends nearer to one another, or to a stroke, than this meet [as the points].

    Returns:
        Where two straight strokes nearly meet, their corner is where their lines cross.
    """
    moved = _at_nodes(strokes, tolerance)
    kept = [(number, stroke) for number, stroke in enumerate(moved) if stroke is not None]
    count = sum(len(stroke) - 1 for _, stroke in kept)
    if not kept or count > MOST_PIECES:
        return Subdivision((), tuple(moved), frozenset(), count > MOST_PIECES)
    pieces = _Pieces(kept, tolerance)
    if count > _MANY and _crossings(shapely.linestrings(pieces.ends), _MOST_BEFORE) > _MOST_BEFORE:
        return Subdivision((), tuple(moved), frozenset(), overfull=True)
    placed = pieces.set_ends(moved)
    lines = shapely.linestrings(np.unique(pieces.cut(), axis=0))
    if _crossings(lines, MOST_CROSSINGS) > MOST_CROSSINGS:
        return Subdivision((), tuple(moved), placed, overfull=True)
    found = shapely.get_parts(shapely.polygonize(shapely.get_parts(shapely.union_all(lines))))
    return Subdivision(tuple(found), tuple(moved), placed)


def join(strokes: Sequence[Sequence[Point]], tolerance: float) -> tuple[list[Ring], list[Strand]]:
    """Outlines round all that strokes enclose, figure by figure, and the strands that enclose nothing.

    Args:
        strokes: each at least two points.
        tolerance: as for :func:`subdivide`.

    Returns:
        Rings without repeated points. Figures that do not touch are apart, one in another, too.
    """
    plane = subdivide(strokes, tolerance)
    numbers = [number for number, stroke in enumerate(plane.strokes) if stroke is not None]
    if plane.overfull:
        return [], [Strand(tuple(strokes[numbers[0]]), tuple(numbers))]
    lines = np.array([shapely.LineString(plane.strokes[number]) for number in numbers], dtype=object)
    tree = shapely.STRtree(lines)
    reach = max(tolerance, ROUNDING)
    rings: list[Ring] = []
    figures = _figures(plane.polygons)
    if len(figures) > _MOST_FIGURES:
        tree = shapely.STRtree(lines[:1])
    for figure in figures:
        around = shapely.union_all([shapely.Polygon(one.exterior) for one in figure])
        edges = shapely.union_all([one.boundary for one in figure])
        shapely.prepare(edges)
        on = np.sort(tree.query(edges, predicate="dwithin", distance=reach))
        ends = shapely.points(shapely.get_coordinates(lines[on]))
        far = np.zeros(len(on), dtype=bool)
        owner = np.repeat(np.arange(len(on)), shapely.get_num_points(lines[on]))
        np.logical_or.at(far, owner, ~shapely.dwithin(ends, edges, reach))
        along = on[~far]
        for part in shapely.get_parts(around):
            points = _ring(list(part.exterior.coords)[:-1], plane.placed, tolerance)
            if points:
                own = along[shapely.dwithin(lines[along], part, reach)]
                members = tuple(numbers[place] for place in own) or (numbers[0],)
                rings.append(Ring(points, members, len(figure) > 1))
    rings.sort(key=lambda ring: ring.members)
    used = {number for ring in rings for number in ring.members}
    return rings, _strands(plane, [number for number in numbers if number not in used])


def _ring(points: Sequence[Point], placed: frozenset[Point], tolerance: float) -> tuple[Point, ...]:
    """Corners of an outline, counter-clockwise from its lower left one; none of one without size."""
    left, low, right, high = box_of(points)
    size = max(1.0, right - left, high - low)
    kept = without_level_points(clean(points, ROUNDING * size), BESIDE * size, placed, tolerance)
    if len(kept) < 3 or min(right - left, high - low) <= tolerance:
        return ()
    if area(kept) < 0:
        kept.reverse()
    return tuple(from_lower_left(kept))


def _at_nodes(strokes: Sequence[Sequence[Point]], tolerance: float) -> list[tuple[Point, ...] | None]:
    """The strokes with their ends where those that nearly meet them end, too."""
    nodes = _nodes(strokes, tolerance)
    meeting: dict[int, list[tuple[int, bool]]] = {}
    for number, (start, end) in enumerate(nodes):
        if start != end:
            meeting.setdefault(start, []).append((number, True))
            meeting.setdefault(end, []).append((number, False))
    where = {
        node: _corner_of([_ending(strokes[n], first) for n, first in m], tolerance)
        for node, m in meeting.items()
    }
    moved: list[tuple[Point, ...] | None] = []
    for points, (start, end) in zip(strokes, nodes, strict=True):
        if start != end:
            moved.append((where[start], *points[1:-1], where[end]))
            continue
        left, low, right, high = box_of(points)
        whole = len(points) > 2 and max(right - left, high - low) > 3 * tolerance
        moved.append(_closed(points) if whole else None)
    return moved


def _ending(stroke: Sequence[Point], first: bool) -> tuple[Point, Point]:
    """The last straight piece of a stroke, towards one of its ends."""
    return (stroke[1], stroke[0]) if first else (stroke[-2], stroke[-1])


def _corner_of(endings: Sequence[tuple[Point, Point]], tolerance: float) -> Point:
    """Where ends meet: where the lines of two cross, else where most end, else in the middle."""
    places = [end for _, end in endings]
    if len(endings) == 2:
        (before, end), (after, start) = endings
        return _corner(before, end, start, after, tolerance)
    counted = max(set(places), key=lambda point: (places.count(point), point))
    if places.count(counted) > 1 or len(places) == 1:
        return counted
    left, low, right, high = box_of(places)
    return ((left + right) / 2, (low + high) / 2)


def _corner(before: Point, end: Point, start: Point, after: Point, tolerance: float) -> Point:
    """Where a line from ``before`` to ``end`` meets one from ``start`` to ``after``."""
    if end == start:
        return end
    point = _crossing(before, end, start, after)
    if point is not None and near(point, end, 2 * tolerance) and near(point, start, 2 * tolerance):
        return point
    return ((end[0] + start[0]) / 2, (end[1] + start[1]) / 2)


def _crossing(before: Point, end: Point, start: Point, after: Point) -> Point | None:
    """Where two lines cross; None where they are as good as parallel."""
    ax, ay = end[0] - before[0], end[1] - before[1]
    bx, by = after[0] - start[0], after[1] - start[1]
    cross = ax * by - ay * bx
    if abs(cross) <= 0.02 * hypot(ax, ay) * hypot(bx, by):
        return None
    along = ((start[0] - before[0]) * by - (start[1] - before[1]) * bx) / cross
    return (before[0] + along * ax, before[1] + along * ay)


def _closed(points: Sequence[Point]) -> tuple[Point, ...]:
    """A stroke whose own ends nearly meet, with one corner there."""
    if points[0] == points[-1]:
        return tuple(points)
    gap = hypot(points[0][0] - points[-1][0], points[0][1] - points[-1][1])
    corner = _corner(points[-2], points[-1], points[0], points[1], gap)
    return (corner, *points[1:-1], corner)


def _nodes(strokes: Sequence[Sequence[Point]], tolerance: float) -> list[tuple[int, int]]:
    """The places where ends meet, two for each stroke."""
    ends = [end for stroke in strokes for end in (stroke[0], stroke[-1])]
    leader = list(range(len(ends)))

    def lead(number: int) -> int:
        while leader[number] != number:
            leader[number] = leader[leader[number]]
            number = leader[number]
        return number

    cells: dict[tuple[int, int], list[int]] = {}
    size = max(tolerance, ROUNDING)
    for number, (x, y) in enumerate(ends):
        column, row = floor(x / size), floor(y / size)
        for other_column in (column - 1, column, column + 1):
            for other_row in (row - 1, row, row + 1):
                for other in cells.get((other_column, other_row), ()):
                    if near(ends[other], (x, y), tolerance):
                        leader[lead(number)] = lead(other)
        mates = cells.setdefault((column, row), [])
        if len(mates) < 64:
            mates.append(number)
    return [(lead(2 * index), lead(2 * index + 1)) for index in range(len(strokes))]


class _Pieces:
    """Straight pieces of strokes, and the points at which each is cut because another stroke ends there."""

    def __init__(self, strokes: Sequence[tuple[int, Sequence[Point]]], tolerance: float) -> None:
        self.ends = np.array([pair for _, stroke in strokes for pair in pairwise(stroke)])
        self.tolerance = max(tolerance, ROUNDING)
        self.cuts: dict[int, list[Point]] = {}
        self.at: dict[Point, list[tuple[int, int]]] = {}
        for place, (start, end) in enumerate(self.ends):
            self.at.setdefault((float(start[0]), float(start[1])), []).append((place, 0))
            self.at.setdefault((float(end[0]), float(end[1])), []).append((place, 1))

    def set_ends(self, moved: list[tuple[Point, ...] | None]) -> frozenset[Point]:
        """Set every end that nearly lies on another piece on it; of strokes, too."""
        ends = list(dict.fromkeys(end for stroke in moved if stroke for end in (stroke[0], stroke[-1])))
        lines = shapely.linestrings(self.ends)
        tree = shapely.STRtree(lines)
        points = shapely.points(np.array(ends))
        who, on = tree.query(points, predicate="dwithin", distance=self.tolerance)
        goes: dict[Point, Point] = {}
        for number, piece in zip(who.tolist(), on.tolist(), strict=True):
            end = ends[number]
            (ax, ay), (bx, by) = self.ends[piece].tolist()
            if near((ax, ay), end, self.tolerance) or near((bx, by), end, self.tolerance):
                continue
            place = goes.get(end, end)
            if len(self.at[end]) == 1 and end not in goes:
                own, side = self.at[end][0]
                before = self.ends[own][1 - side].tolist()
                place = _on(end, (before[0], before[1]), (ax, ay), (bx, by), self.tolerance)
                self.ends[own][side] = place
                goes[end] = place
            self.cuts.setdefault(piece, []).append(place)
        for number, stroke in enumerate(moved):
            if stroke and (stroke[0] in goes or stroke[-1] in goes):
                first, last = goes.get(stroke[0], stroke[0]), goes.get(stroke[-1], stroke[-1])
                moved[number] = (first, *stroke[1:-1], last)
        return frozenset(point for points in self.cuts.values() for point in points)

    def cut(self) -> np.ndarray:
        """Every piece, cut: two ends each, the lesser first."""
        whole = np.array([place for place in range(len(self.ends)) if place not in self.cuts], dtype=int)
        parts: list[tuple[Point, Point]] = []
        for place, points in self.cuts.items():
            start, end = (tuple(one) for one in self.ends[place].tolist())
            chain = sorted({*points, start, end}, key=lambda at: hypot(at[0] - start[0], at[1] - start[1]))
            parts += list(pairwise(chain))
        found = self.ends[whole]
        if parts:
            found = np.concatenate([found, np.array(parts)])
        swap = (found[:, 0, 0] > found[:, 1, 0]) | (
            (found[:, 0, 0] == found[:, 1, 0]) & (found[:, 0, 1] > found[:, 1, 1])
        )
        found[swap] = found[swap][:, ::-1]
        apart: np.ndarray = (found[:, 0] != found[:, 1]).any(axis=1)
        return np.asarray(found[apart])


def _on(end: Point, before: Point, start: Point, other: Point, tolerance: float) -> Point:
    """Where a line that ends near a piece meets it: on its own way, else at the foot of its perpendicular."""
    point = _crossing(before, end, start, other)
    if point is not None and near(point, end, 2 * tolerance):
        return point
    run, rise = other[0] - start[0], other[1] - start[1]
    share = ((end[0] - start[0]) * run + (end[1] - start[1]) * rise) / (run * run + rise * rise)
    return (start[0] + share * run, start[1] + share * rise)


def _crossings(lines: np.ndarray, most: int) -> int:
    """How many pairs of pieces cross; counted no further than it takes to be too many."""
    tree, count = shapely.STRtree(lines), 0
    for first in range(0, len(lines), _AT_ONCE):
        count += len(tree.query(lines[first : first + _AT_ONCE], predicate="crosses")[0])
        if count > 2 * most:
            break
    return count // 2


def _figures(polygons: Sequence[shapely.Polygon]) -> list[list[shapely.Polygon]]:
    """Polygons whose outsides hang together: what lies in a hole of another one is apart."""
    leader = list(range(len(polygons)))

    def lead(number: int) -> int:
        while leader[number] != number:
            leader[number] = leader[leader[number]]
            number = leader[number]
        return number

    at: dict[tuple[float, ...], int] = {}
    for number, polygon in enumerate(polygons):
        for point in polygon.exterior.coords:
            if point in at:
                leader[lead(number)] = lead(at[point])
            else:
                at[point] = number
    groups: dict[int, list[shapely.Polygon]] = {}
    for number, polygon in enumerate(polygons):
        groups.setdefault(lead(number), []).append(polygon)
    return list(groups.values())


def _strands(plane: Subdivision, left: Sequence[int]) -> list[Strand]:
    """What is left of the strokes, joined where they follow one another."""
    if not left:
        return []
    lines = [shapely.LineString(plane.strokes[number]) for number in left]
    tree = shapely.STRtree(lines)
    strands = []
    for part in shapely.get_parts(shapely.line_merge(shapely.MultiLineString(lines))):
        within = tree.query(part, predicate="covers")
        points = tuple((float(x), float(y)) for x, y in part.coords)
        strands.append(Strand(points, tuple(sorted(left[place] for place in within)) or (left[0],)))
    return sorted(strands, key=lambda strand: strand.members)
