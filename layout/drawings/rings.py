"""Lines and arcs whose ends nearly meet, joined into closed rings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, hypot

import shapely

from evencourse.layout.dxf.dxf_geometry import near
from evencourse.layout.model.geometry import area, box_of
from evencourse.layout.model.job import Point
from evencourse.layout.model.tolerance import BESIDE, ROUNDING

#: Most lines that may meet in branches in one figure, and most crossings there: bounds on work.
MOST_BRANCHED, MOST_CROSSINGS = 2_000, 20_000


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
    """Strokes that follow one another and do not close.

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


def join(strokes: Sequence[Sequence[Point]], tolerance: float) -> tuple[list[Ring], list[Strand]]:
    """Rings and open strands from strokes in any order and direction.

    Args:
        strokes: each at least two points.
        tolerance: ends nearer than this meet.

    Returns:
        Rings without repeated points, and what does not close. Where two straight strokes nearly meet, their
        corner is where their lines cross; else halfway between the ends. Where strokes branch, the ring is
        the outside of all that they enclose.
    """
    nodes = _nodes(strokes, tolerance)
    kept: dict[int, tuple[int, int]] = {}
    rings: list[Ring] = []
    strands: list[Strand] = []
    seen = set()

    def close(points: list[Point], members: tuple[int, ...]) -> None:
        ring = _ring(points, members, tolerance)
        rings.extend(ring)
        if not ring:
            strands.append(Strand(tuple(points), members))

    for number, (start, end) in enumerate(nodes):
        points = strokes[number]
        if start == end:
            left, low, right, high = box_of(points)
            if len(points) > 2 and max(right - left, high - low) > 3 * tolerance:
                close(_meet_ends(points), (number,))
            continue
        straight = (min(start, end), max(start, end), 2) if len(points) == 2 else None
        if straight is not None:
            if straight in seen:
                continue
            seen.add(straight)
        kept[number] = (start, end)
    for members in _figures(kept):
        ends: dict[int, list[int]] = {}
        for number in members:
            for node in kept[number]:
                ends.setdefault(node, []).append(number)
        if max(len(meeting) for meeting in ends.values()) > 2:
            found, left_over = _branched(strokes, kept, members, tolerance)
            rings += found
            strands += left_over
            continue
        order, closed = _walk(kept, ends, members)
        runs = [list(strokes[n]) if forth else list(strokes[n])[::-1] for n, forth in order]
        numbers = tuple(n for n, _ in order)
        if closed:
            close(_corners(runs, True, tolerance), numbers)
        else:
            strands.append(Strand(tuple(_corners(runs, False, tolerance)), numbers))
    return rings, strands


def clean(points: Sequence[Point], least: float) -> list[Point]:
    """A ring without points that lie on the one before them."""
    kept: list[Point] = []
    for point in points:
        if not kept or not near(kept[-1], point, least):
            kept.append(point)
    while len(kept) > 1 and near(kept[0], kept[-1], least):
        kept.pop()
    return kept


def without_level_points(points: Sequence[Point], deviation: float) -> list[Point]:
    """A ring without points that lie on the line between their neighbours, within a deviation."""
    kept = list(points)
    place = 0
    misses = 0
    while len(kept) > 3 and misses < len(kept):
        before, here, after = kept[place - 1], kept[place], kept[(place + 1) % len(kept)]
        run, rise = after[0] - before[0], after[1] - before[1]
        size = hypot(run, rise)
        off = abs(run * (here[1] - before[1]) - rise * (here[0] - before[0]))
        along = run * (here[0] - before[0]) + rise * (here[1] - before[1])
        if size > 0 and off <= deviation * size and 0 <= along <= size * size:
            del kept[place]
            place, misses = place % len(kept), 0
        else:
            place, misses = (place + 1) % len(kept), misses + 1
    return kept


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


def _figures(kept: dict[int, tuple[int, int]]) -> list[list[int]]:
    """Strokes that hang together, figure by figure, in the order of their first stroke."""
    at: dict[int, list[int]] = {}
    for number, nodes in kept.items():
        for node in nodes:
            at.setdefault(node, []).append(number)
    found, done = [], set()
    for first in kept:
        if first in done:
            continue
        members, waiting = [], [first]
        done.add(first)
        while waiting:
            number = waiting.pop()
            members.append(number)
            for node in kept[number]:
                for other in at.pop(node, ()):
                    if other not in done:
                        done.add(other)
                        waiting.append(other)
        found.append(sorted(members))
    return found


def _walk(
    kept: dict[int, tuple[int, int]], ends: dict[int, list[int]], members: Sequence[int]
) -> tuple[list[tuple[int, bool]], bool]:
    """Strokes of an unbranched figure in order, each forth or back; whether they close."""
    open_nodes = [node for node, meeting in ends.items() if len(meeting) == 1]
    node = open_nodes[0] if open_nodes else kept[members[0]][0]
    order: list[tuple[int, bool]] = []
    used: set[int] = set()
    while True:
        following = next((number for number in ends[node] if number not in used), None)
        if following is None:
            return order, not open_nodes
        used.add(following)
        start, end = kept[following]
        order.append((following, start == node))
        node = end if start == node else start


def _corners(runs: list[list[Point]], closed: bool, tolerance: float) -> list[Point]:
    """The points of runs that nearly meet, with one corner where two of them do."""
    count = len(runs)
    for place in range(count if closed else count - 1):
        one, other = runs[place], runs[(place + 1) % count]
        corner = _corner(one[-2], one[-1], other[0], other[1], tolerance)
        one[-1] = other[0] = corner
    return [point for place, run in enumerate(runs) for point in (run if place == 0 else run[1:])]


def _corner(before: Point, end: Point, start: Point, after: Point, tolerance: float) -> Point:
    """Where a line from ``before`` to ``end`` meets one from ``start`` to ``after``."""
    if end == start:
        return end
    ax, ay = end[0] - before[0], end[1] - before[1]
    bx, by = after[0] - start[0], after[1] - start[1]
    cross = ax * by - ay * bx
    if abs(cross) > 0.02 * hypot(ax, ay) * hypot(bx, by):
        along = ((start[0] - before[0]) * by - (start[1] - before[1]) * bx) / cross
        point = (before[0] + along * ax, before[1] + along * ay)
        if near(point, end, 2 * tolerance) and near(point, start, 2 * tolerance):
            return point
    return ((end[0] + start[0]) / 2, (end[1] + start[1]) / 2)


def _meet_ends(points: Sequence[Point]) -> list[Point]:
    """A stroke whose own ends nearly meet, with one corner there."""
    if points[0] == points[-1]:
        return list(points[:-1])
    gap = hypot(points[0][0] - points[-1][0], points[0][1] - points[-1][1])
    corner = _corner(points[-2], points[-1], points[0], points[1], gap)
    return [corner, *points[1:-1]]


def _ring(points: Sequence[Point], members: tuple[int, ...], tolerance: float) -> list[Ring]:
    left, low, right, high = box_of(points)
    size = max(right - left, high - low)
    kept = without_level_points(clean(points, ROUNDING * max(1.0, size)), BESIDE * max(1.0, size))
    if len(kept) < 3 or min(right - left, high - low) <= tolerance:
        return []
    if area(kept) < 0:
        kept.reverse()
    return [Ring(tuple(from_lower_left(kept)), members)]


def from_lower_left(points: Sequence[Point]) -> list[Point]:
    """A ring that begins at the leftmost of its lowest points, those a hundredth of its height higher too."""
    low, high = min(y for _, y in points), max(y for _, y in points)
    lowest = [index for index, (_, y) in enumerate(points) if y <= low + (high - low) / 100]
    first = min(lowest, key=lambda index: points[index])
    return [*points[first:], *points[:first]]


def _branched(
    strokes: Sequence[Sequence[Point]],
    kept: dict[int, tuple[int, int]],
    members: Sequence[int],
    tolerance: float,
) -> tuple[list[Ring], list[Strand]]:
    """The outside of a figure whose strokes branch."""
    if len(members) > MOST_BRANCHED:
        return [], [Strand(tuple(strokes[members[0]]), tuple(members))]
    ends: dict[int, list[Point]] = {}
    for number in members:
        for node, point in zip(kept[number], (strokes[number][0], strokes[number][-1]), strict=True):
            ends.setdefault(node, []).append(point)
    middle = {node: _usual(points) for node, points in ends.items()}
    lines = [
        shapely.LineString([middle[kept[number][0]], *strokes[number][1:-1], middle[kept[number][1]]])
        for number in members
    ]
    if len(shapely.STRtree(lines).query(lines, predicate="crosses")[0]) > 2 * MOST_CROSSINGS:
        return [], [Strand(tuple(strokes[members[0]]), tuple(members))]
    enclosed = shapely.union_all(shapely.get_parts(shapely.polygonize([shapely.union_all(lines)])))
    rings: list[Ring] = []
    for polygon in shapely.get_parts(enclosed):
        outside = list(polygon.exterior.coords)[:-1]
        for ring in _ring(outside, tuple(members), tolerance):
            rings.append(Ring(ring.points, ring.members, divided=True))
    if rings:
        return rings, []
    return [], [Strand(tuple(strokes[members[0]]), tuple(members))]


def _usual(points: Sequence[Point]) -> Point:
    """The place that most ends of a meeting have; halfway between the farthest where all differ."""
    counted = max(set(points), key=lambda point: (points.count(point), point))
    if points.count(counted) > 1:
        return counted
    left, low, right, high = box_of(points)
    return ((left + right) / 2, (low + high) / 2)
