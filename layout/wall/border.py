"""Where siding ends and what it ends against: every stretch of its border that takes trim."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot
from typing import Literal

import shapely

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.geometry import area
from evencourse.layout.model.job import Corner, Elevation, Opening, Point
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.trade.rules import out_of_level
from evencourse.layout.wall.clad_area import clad_region
from evencourse.layout.wall.roofs import roof_holes
from evencourse.layout.wall.sides import base_steps

Place = Literal[
    "starter", "base", "eave", "rake", "under band", "outside corner", "inside corner", "butts", "step",
    "head", "sill", "side", "slope", "curve", "over roof", "under roof", "beside roof",
]  # fmt: skip
Hand = Literal["left", "right"]
#: Places along a roof, a deck or a ledger.
ROOFS: frozenset[Place] = frozenset({"over roof", "under roof", "beside roof"})
Ring = Sequence[tuple[float, float]]


@dataclass(frozen=True)
class BorderStretch:
    """One unbroken stretch of the border of what siding covers.

    Attributes:
        face: index of its elevation in the plan.
        zone: index of its zone on that elevation.
        place: what it is: ``starter`` (along the butt line of a first course), ``base`` (a base or a roof
            that siding is cut along), ``eave``, ``rake``, ``under band``, a corner, ``butts`` (trim, another
            wall), ``step`` (the plumb side of a step), or a part of an opening: ``head``, ``sill``, ``side``,
            ``slope`` (a triangle's), ``curve``; or along a roof, a deck or a ledger against the wall: ``over
            roof``, ``under roof``, ``beside roof`` (its plumb end).
        opening: mark of the opening; None for the wall's own border.
        hand: which end of the siding it is, which half of a gable; None where it runs along it.
        length: along the border [job units].
        start: where it begins, siding on its left [job units].
        end: where it ends.
        roof: mark of the roof, deck or ledger; None elsewhere.
    """

    face: int
    zone: int
    place: Place
    opening: str | None
    hand: Hand | None
    length: float
    start: Point
    end: Point
    roof: str | None = None


def stretches(plan: Plan) -> tuple[BorderStretch, ...]:
    """Every stretch of the border of every zone, in an order that the job sets.

    Args:
        plan: course lines and faces.

    Rules: the border is that of ``evencourse.layout.wall.clad_area.clad_region``; a top edge no steeper than
    ``limits.eave_pitch_max`` is an eave. Round blocks there is none: a block brings its own flange (common
    practice, no source).
    """
    return tuple(
        found
        for index, face in enumerate(plan.elevations)
        for found in _sorted(face, _Face(plan, index, face).walk())
    )


def _sorted(face: ElevationPlan, border: Iterable[BorderStretch]) -> list[BorderStretch]:
    """Zone by zone: the wall's own border, then opening by opening; from the left, from the bottom."""
    marks = {opening.mark: at for at, opening in enumerate(face.elevation.openings)}
    return sorted(border, key=lambda found: _order(marks, found))


def _order(marks: Mapping[str, int], found: BorderStretch) -> tuple[float, ...]:
    opening = -1 if found.opening is None else marks[found.opening]
    left, low = (min(pair) for pair in zip(found.start, found.end, strict=True))
    return (found.zone, opening, round(left, 6), round(low, 6), round(found.length, 6))


class _Face:
    """One face whose border is being walked."""

    def __init__(self, plan: Plan, index: int, face: ElevationPlan) -> None:
        self.plan, self.index, self.face = plan, index, face
        self.wall: Elevation = face.elevation
        inch = plan.job.inch
        self.near = plan.job.limits.tolerance + 1e-5 * inch
        self.fine = SAME * inch
        self.left, self.right = plan.job.ends(self.wall)
        self.steps = list(base_steps(self.wall.outline))
        points = self.wall.outline
        self.plumb = [a[0] for a, b in zip(points, (*points[1:], points[0]), strict=True) if a[0] == b[0]]
        self.holes = [(hole, _Outline(hole.trimmed)) for hole in self.wall.openings]
        self.by_left = sorted((outline.left, at) for at, (_, outline) in enumerate(self.holes))
        self.widest = max((outline.right - outline.left for _, outline in self.holes), default=0.0)
        self.doors = [hole for hole in self.wall.openings if hole.on_base]
        bands = zip(self.wall.roofs, roof_holes(plan.job, self.wall), strict=True)
        self.roofs = [(roof.mark, _Outline(band)) for roof, band in bands]
        self.blocks = [_Outline(fixture.outline()) for fixture in self.wall.fixtures if fixture.block]

    def walk(self) -> Iterator[BorderStretch]:
        region = clad_region(self.plan.job, self.face, self.plan.course_sets)
        for zone, band in enumerate(self.face.zones):
            part = region
            if len(self.face.zones) > 1:
                low = -1e9 if zone == 0 else band.bottom
                high = 1e9 if zone == len(self.face.zones) - 1 else band.top
                part = shapely.intersection(region, shapely.box(self.left - 1, low, self.right + 1, high))
            for polygon in shapely.get_parts(part):
                if shapely.get_type_id(polygon) != shapely.GeometryType.POLYGON or polygon.is_empty:
                    continue
                yield from self._ring(zone, shapely.get_coordinates(polygon.exterior).tolist(), True)
                for hole in polygon.interiors:
                    yield from self._ring(zone, shapely.get_coordinates(hole).tolist(), False)

    def _ring(self, zone: int, ring: Ring, outer: bool) -> Iterator[BorderStretch]:
        """The stretches of one ring, siding on the left of its direction of travel."""
        if (area(ring) > 0) != outer:
            ring = ring[::-1]
        # Begun where something long begins: what is tiny goes with what comes before it.
        longest = max(range(len(ring) - 1), key=lambda i: abs(ring[i][0] - ring[i + 1][0]))
        ring = self._begun([*ring[longest:-1], *ring[: longest + 1]])
        found: list[BorderStretch] = []
        for (x0, y0), (x1, y1) in pairwise(ring):
            length = hypot(x1 - x0, y1 - y0)
            if length <= self.fine:
                continue
            if found and (length <= self.near or self._held_off((x0, y0), (x1, y1))):
                last = found[-1]
                if hypot(last.end[0] - x0, last.end[1] - y0) <= self.fine:
                    found[-1] = replace(last, length=last.length + length, end=(x1, y1))
                    continue
            place, mark, hand = self._meets(zone, (x0, y0), (x1, y1))
            if place is None:
                continue
            opening, roof = (None, mark) if place in ROOFS else (mark, None)
            here = BorderStretch(self.index, zone, place, opening, hand, length, (x0, y0), (x1, y1), roof)
            if found and _joins(found[-1], here):
                found[-1] = _joined(found[-1], here)
            else:
                found.append(here)
        if len(found) > 1 and _joins(found[-1], found[0]):
            found[0] = _joined(found.pop(), found[0])
        yield from (stretch for stretch in found if stretch.length > self.near or len(found) == 1)

    def _begun(self, ring: Ring) -> Ring:
        """A ring whose edges begin at their corners: what is tiny and straight on goes with what comes after.

        Beside a flush edge that is a little off its line a side begins with so much: else the edge that ends
        there would be longer by it.
        """
        found = [ring[-1]]
        for at in range(len(ring) - 2, 0, -1):
            if not self._runs_on(ring[at - 1], ring[at], found[-1]):
                found.append(ring[at])
        return [*found, ring[0]][::-1]

    def _runs_on(self, before: Point, here: Point, after: Point) -> bool:
        ax, ay, bx, by = here[0] - before[0], here[1] - before[1], after[0] - here[0], after[1] - here[1]
        length = hypot(bx, by)
        straight = abs(ax * by - ay * bx) <= self.fine * length and ax * bx + ay * by > 0
        return hypot(ax, ay) <= self.near < length and straight

    def _meets(self, zone: int, start: Point, end: Point) -> tuple[Place | None, str | None, Hand | None]:
        """What an edge of the border is: its place, the mark of its opening or its roof, its end."""
        dx, dy = end[0] - start[0], end[1] - start[1]
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        plumb, level = abs(dx) <= self.fine, abs(dy) <= self.fine
        hand: Hand | None = ("right" if dy > 0 else "left") if plumb else None
        zones = self.face.zones
        if level and dx < 0 and zone < len(zones) - 1 and abs(middle[1] - zones[zone].top) <= self.near:
            return "under band", None, None
        starter = self.plan.course_sets[zones[zone].course_set].lines.starter
        if level and dx > 0 and zone > 0 and abs(middle[1] - max(zones[zone].bottom, starter)) <= self.near:
            return "starter", None, None
        opening = self._hole(middle)
        if opening is None and level and dx > 0 and self._begins(middle, starter):
            return "starter", None, None
        if opening is None and plumb:
            opening = next((hole for hole in self.doors if self._under(hole, start, end)), None)
        if opening is not None:
            return self._part(opening, plumb, level, dx), opening.mark, hand
        roof = next((mark for mark, outline in self.roofs if outline.meets(middle, self.near)), None)
        if roof is not None:
            return "beside roof" if plumb else "over roof" if dx > 0 else "under roof", roof, hand
        if any(outline.meets(middle, self.near) for outline in self.blocks):
            return None, None, None
        if plumb:
            return self._corner(middle[0], start, end, dy > 0), None, hand
        if dx > 0:
            return "base", None, None
        if out_of_level(dy, dx):
            return "eave", None, None
        return "rake", None, "left" if dy < 0 else "right"

    def _hole(self, point: Point) -> Opening | None:
        """The first opening that siding at a point runs along."""
        first = bisect_left(self.by_left, (point[0] - self.near - self.widest,))
        last = bisect_right(self.by_left, (point[0] + self.near, len(self.holes)))
        for at in sorted(at for _, at in self.by_left[first:last]):
            hole, outline = self.holes[at]
            if outline.meets(point, self.near):
                return hole
        return None

    def _begins(self, middle: Point, starter: float) -> bool:
        """Whether the first course begins there: on the starter line, or on the line of another base."""
        lines = [
            base.line
            for base in self.face.bases
            if base.result != "rip" and base.left < middle[0] < base.right
        ]
        return any(abs(middle[1] - line) <= self.near for line in (starter, *lines))

    def _held_off(self, start: Point, end: Point) -> bool:
        """Whether a plumb edge is only what keeps the siding off a roof, at the roof's lower end."""
        if abs(start[0] - end[0]) > self.fine or any(abs(start[0] - x) <= self.near for x in self.plumb):
            return False
        clearance = self.plan.course_sets[self.face.zones[0].course_set].cladding.roof_clearance
        return abs(start[1] - end[1]) <= clearance + self.near and any(
            abs(start[0] - x) <= self.near for x, _ in self.wall.outline
        )

    def _under(self, opening: Opening, start: Point, end: Point) -> bool:
        """Whether a plumb edge is the side of a door where siding hangs below its base."""
        beside = any(abs(start[0] - x) <= self.near for x, _ in opening.trimmed)
        return beside and max(start[1], end[1]) <= opening.sill + self.near

    def _part(self, opening: Opening, plumb: bool, level: bool, dx: float) -> Place:
        if plumb:
            return "side"
        if opening.shape == "triangle" and not level:
            return "slope"
        if opening.shape in ("round", "arch", "half-round") and not (level and self._flat(opening, dx)):
            return "curve"
        return "head" if dx > 0 else "sill"

    @staticmethod
    def _flat(opening: Opening, dx: float) -> bool:
        """Whether a level edge along a curved opening is its straight sill, no chord of its arc."""
        return dx < 0 and opening.shape != "round"

    def _corner(self, x: float, start: Point, end: Point, right: bool) -> Place:
        low, high = min(start[1], end[1]), max(start[1], end[1])
        word: Corner = self.wall.right if right else self.wall.left
        if abs(x - (self.right if right else self.left)) > self.near:
            for place, bottom, top in self.steps:
                if abs(place - x) <= self.near and bottom <= high + self.near and top >= low - self.near:
                    return "step"
        return word


class _Outline:
    """An outline that siding may run along, with the box round it.

    Args:
        points: counter-clockwise, the first not repeated.
    """

    def __init__(self, points: Sequence[Point]) -> None:
        self.sides = list(zip(points, (*points[1:], points[0]), strict=True))
        xs, ys = [x for x, _ in points], [y for _, y in points]
        self.left, self.right, self.low, self.high = min(xs), max(xs), min(ys), max(ys)

    def meets(self, point: Point, near: float) -> bool:
        """Whether a point lies on it, or nearly."""
        x, y = point
        if not (self.left - near <= x <= self.right + near and self.low - near <= y <= self.high + near):
            return False
        return any(_distance(point, a, b) <= near for a, b in self.sides)


def _joins(before: BorderStretch, after: BorderStretch) -> bool:
    """Whether one stretch goes on as the next: the same part, and straight on unless it is curved."""
    if (before.place, before.opening, before.roof, before.hand) != (
        after.place, after.opening, after.roof, after.hand
    ):  # fmt: skip
        return False
    if hypot(before.end[0] - after.start[0], before.end[1] - after.start[1]) > SAME:
        return False
    if before.place == "curve":
        return True
    ax, ay = before.end[0] - before.start[0], before.end[1] - before.start[1]
    bx, by = after.end[0] - after.start[0], after.end[1] - after.start[1]
    return abs(ax * by - ay * bx) <= SAME * hypot(ax, ay) * hypot(bx, by)


def _joined(before: BorderStretch, after: BorderStretch) -> BorderStretch:
    return replace(before, length=before.length + after.length, end=after.end)


def _distance(point: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = dx * dx + dy * dy
    share = 0.0 if size == 0 else ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / size
    share = min(1.0, max(0.0, share))
    return hypot(point[0] - a[0] - share * dx, point[1] - a[1] - share * dy)
