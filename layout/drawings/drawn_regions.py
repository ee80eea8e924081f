"""What the regions of a drawing may be, by their shape alone: walls, openings, casings, roof edges, plans.

No layer is asked. A wall is what stands beside openings; an opening is a rectangle, an arch or a circle of a
size that openings have; courses of siding that are drawn belong to the wall. All of it is a ranking, to be
shown and corrected, and no proof: common practice, no source, as the sizes in ``layers.toml``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from evencourse.layout.drawings.drawn_outlines import alike, outline_of, within
from evencourse.layout.drawings.noding import Subdivision
from evencourse.layout.drawings.opening_shapes import is_casing, recognised, with_united_panes
from evencourse.layout.drawings.views import Blob, Region, course_strips, is_plan_wall
from evencourse.layout.dxf.layers import sizes
from evencourse.layout.model.geometry import Box, area, box_of, corners
from evencourse.layout.model.job import Point
from evencourse.layout.model.tolerance import ROUNDING

#: Most regions whose meaning is looked for: a bound on work.
MOST_REGIONS = 12_000
#: Most regions among which lower walls are looked for: a bound on work.
_MOST_WINGS = 200
#: Where beside an opening its wall is looked for [in], and at which of its heights.
_BESIDE, _HEIGHTS = (0.75, 3.0, 7.0, 16.0, 30.0), (0.2, 0.5, 0.8)


def blobs(plane: Subdivision, inch: float, tolerance: float, given: Sequence[Box] = ()) -> list[Blob]:
    """What a drawing shows, each with its regions.

    Args:
        plane: what its lines enclose.
        inch: drawing units in one inch.
        tolerance: how far a shape may be off [drawing units].
        given: boxes of openings that are known.
    """
    finder = _Finder(plane, inch, tolerance, given)
    return finder.found()


def openings_within(plane: Subdivision, wall: Sequence[Point], inch: float, tolerance: float) -> list[Region]:
    """Openings and casings among the regions inside a wall that is known."""
    finder = _Finder(plane, inch, tolerance)
    around = shapely.Polygon(wall)
    shapely.prepare(around)
    inside = [one for one in finder.parts if around.covers(one.middle)]
    inside = [one for one in inside if finder.small(one.box)]
    return finder.openings(inside, _Ground([around]))


@dataclass(frozen=True)
class _Part:
    """A polygon of the subdivision: itself, and with its holes filled."""

    polygon: shapely.Polygon
    filled: shapely.Polygon
    box: Box
    middle: shapely.Point


class _Ground:
    """Large regions in which openings may lie."""

    def __init__(self, polygons: Sequence[shapely.Polygon]) -> None:
        self.polygons = list(polygons)
        self.tree = shapely.STRtree(self.polygons)

    def at(self, points: Sequence[Point]) -> set[int]:
        """Numbers of those in which any of some points lies."""
        return set(self.tree.query(shapely.points(points), predicate="within")[1].tolist())


class _Finder:
    def __init__(self, plane: Subdivision, inch: float, tolerance: float, given: Sequence[Box] = ()) -> None:
        self.plane, self.inch, self.tolerance, self.given = plane, inch, tolerance, given
        self.size = {name: (least * inch, most * inch) for name, (least, most) in sizes().items()}
        polygons = [one for one in plane.polygons if one.area > (inch / 2) ** 2][:MOST_REGIONS]
        filled = [shapely.Polygon(one.exterior) for one in polygons]
        boxes = shapely.bounds(np.array(filled, dtype=object)).tolist() if filled else []
        middles = shapely.point_on_surface(np.array(polygons, dtype=object)) if polygons else []
        self.parts = self.without_paper(
            [
                _Part(one, whole, tuple(box), middle)
                for one, whole, box, middle in zip(polygons, filled, boxes, middles, strict=True)
            ]
        )

    def small(self, box: Box) -> bool:
        """Whether an opening can be as large."""
        (_, widest), (_, highest) = self.size["opening_width"], self.size["opening_height"]
        return box[2] - box[0] <= widest and box[3] - box[1] <= highest

    def opens(self, box: Box) -> bool:
        """Whether an opening has such a size."""
        (narrow, _), (low, _) = self.size["opening_width"], self.size["opening_height"]
        return self.small(box) and box[2] - box[0] >= narrow and box[3] - box[1] >= low

    def without_paper(self, parts: list[_Part]) -> list[_Part]:
        """The parts without the paper round a view inside a frame: no wall has a hole that is a building."""
        kept = list(parts)
        while True:
            paper = [one for one in kept if self.is_paper(one, kept)]
            if not paper:
                return kept
            gone = {id(one) for one in paper}
            kept = [one for one in kept if id(one) not in gone]

    def is_paper(self, part: _Part, parts: Sequence[_Part]) -> bool:
        for hole in part.polygon.interiors:
            x0, y0, x1, y1 = hole.bounds
            wide, tall = x1 - x0, y1 - y0
            if tall > self.size["opening_height"][1] and wide > self.size["wall_height"][0]:
                return True
            if wide <= self.size["opening_width"][1] or tall < self.size["wall_height"][0]:
                continue
            inner = [one for one in parts if one is not part and within(one.box, (x0, y0, x1, y1), 0)]
            if any(self.opens(one.box) and one.box[3] - one.box[1] < 0.8 * tall for one in inner):
                return True
        return False

    def found(self) -> list[Blob]:
        if not self.parts:
            return []
        around = shapely.get_parts(shapely.union_all([one.filled for one in self.parts]))
        tree = shapely.STRtree([one.middle for one in self.parts])
        found = []
        for part in around:
            left, low, right, high = part.bounds
            if right - left < self.size["wall_width"][0] or high - low < self.size["wall_height"][0]:
                continue
            inside = [self.parts[place] for place in sorted(tree.query(part, predicate="covers").tolist())]
            found.append(self.blob(part, inside))
        return found

    def blob(self, outline: shapely.Polygon, inside: list[_Part]) -> Blob:
        blob = Blob(self.ring(outline), any(is_plan_wall(one.polygon, self.inch) for one in inside))
        strips = course_strips([one.box for one in inside], self.inch)
        courses = {id(inside[place]) for place in strips}
        fields = [one for one in inside if id(one) in courses or not self.small(one.box)]
        fields += self.wings(inside, fields, 0.4 * outline.area)
        large = {id(one) for one in fields}
        features = [one for one in inside if id(one) not in large]
        ground = [
            *shapely.get_parts(shapely.union_all([one.polygon for one in fields if id(one) in courses]))
        ]
        ground += [one.polygon for one in fields if id(one) not in courses]
        walled = [one.bounds for one in ground if self.as_large_as_a_wall(one.bounds)]
        on_walls = [one for one in features if not walled or any(_overlap(one.box, box) for box in walled)]
        known_ground = _Ground(ground)
        openings = [
            one for one in self.openings(on_walls, known_ground) if self.in_wall(one.box, known_ground)
        ]
        holes = [one for one in openings if one.what == "opening"]
        holes += [
            Region(corners(box), "opening") for box in self.given if within(box, outline.bounds, self.inch)
        ]
        cased = [one for one in openings if one.what == "casing"]
        walls = self.walls(outline, ground, holes, features, cased)
        blob.regions += walls
        kept = [one for one in openings if any(self.stands_in(one.box, wall.box) for wall in walls)]
        blob.regions += kept
        known = [region.box for region in blob.regions]
        for one in [*ground, *(one.filled for one in features)]:
            ring = self.ring(one)
            box = box_of(ring) if ring else (0.0, 0.0, 0.0, 0.0)
            if (
                len(blob.regions) < 400
                and self.worth_a_number(box)
                and not any(alike(box, other, 2 * self.tolerance) for other in known)
            ):
                known.append(box)
                above = any(box[1] >= wall.box[3] - self.inch for wall in walls)
                blob.regions.append(Region(ring, "roof edge" if above else "region"))
        return blob

    def wings(self, inside: Sequence[_Part], fields: Sequence[_Part], most: float) -> list[_Part]:
        """Walls no larger than openings may be: they lie beside one that is larger, not within it.

        Where there is none larger, what is greater than ``most`` is the first.
        """
        known = {id(one) for one in fields}
        around = [one.polygon for one in fields]
        large = [one for one in inside if id(one) not in known and self.as_large_as_a_wall(one.box)]
        found = []
        for one in sorted(large, key=lambda one: -one.filled.area)[:_MOST_WINGS]:
            if not self.in_wall(one.box, _Ground(around)) if around else one.filled.area > most:
                found.append(one)
                around.append(one.polygon)
        return found

    def in_wall(self, box: Box, ground: _Ground) -> bool:
        """Whether there is wall at both sides of an opening, or over it and beside it."""
        if not ground.polygons:
            return True
        left, low, right, high = box
        sides = [bool(self.beside(box, side, ground)) for side in (-1, 1)]
        across = [left + share * (right - left) for share in _HEIGHTS]
        found = ground.at([(x, high + off * self.inch) for off in _BESIDE for x in across])
        over = [ground.polygons[place].bounds for place in found]
        past = self.size["casing"][1]
        return (
            all(sides)
            or any(one[1] < (low + high) / 2 for one in over)
            or (any(sides) and any(one[0] <= left - past and one[2] >= right + past for one in over))
        )

    def stands_in(self, box: Box, wall: Box) -> bool:
        """Whether an opening lies in a wall and leaves something of it over its head."""
        return (
            within(box, wall, 2 * self.tolerance)
            and box[3] < wall[3] - self.inch
            and box[2] - box[0] < wall[2] - wall[0] - self.inch
        )

    def worth_a_number(self, box: Box) -> bool:
        least = 8 * self.inch
        return box[2] - box[0] >= least and box[3] - box[1] >= least

    def openings(self, features: Sequence[_Part], ground: _Ground) -> list[Region]:
        """Openings, and casings round them: what each group shows."""
        found: list[Region] = []
        if not features:
            return found
        holes = shapely.get_parts(shapely.union_all([one.filled for one in features]))
        tree = shapely.STRtree([one.middle for one in features])
        for hole in holes:
            members = [features[place] for place in sorted(tree.query(hole, predicate="covers").tolist())]
            if not self.small(tuple(hole.bounds)):
                # Panels of a wall that are as small as openings: only what lies free in one is an opening.
                nested = self.lying_free(members)
                if nested and len(nested) < len(members):
                    found += self.openings(nested, ground)
                continue
            found += self.with_casing(hole, members, ground)
        return found

    def lying_free(self, parts: Sequence[_Part]) -> list[_Part]:
        """The parts that lie in a hole of another one."""
        tree = shapely.STRtree([one.middle for one in parts])
        free = np.zeros(len(parts), dtype=bool)
        for one in parts:
            for hole in one.polygon.interiors:
                free[tree.query(shapely.Polygon(hole), predicate="contains")] = True
        return [one for one, alone in zip(parts, free.tolist(), strict=True) if alone]

    def opening(self, polygon: shapely.Polygon) -> Region | None:
        if not self.opens(tuple(polygon.bounds)):
            return None
        ring = self.ring(polygon)
        if not ring or not recognised(ring, 2 * self.tolerance).exact:
            return None
        return Region(ring, "opening")

    def with_casing(self, hole: shapely.Polygon, members: Sequence[_Part], ground: _Ground) -> list[Region]:
        """The opening that a group shows, and the casing round it; none where it has no known shape.

        It is the group's outline when that has a known shape, else the largest shape in it. Where the next
        shape within either lies as trim does, that is the opening: where trim is narrower than sashes are,
        only when something lies in it.
        """
        board = self.size["casing"]
        united, rows = with_united_panes([one.filled for one in members], 4 * self.tolerance, board[1], board)
        shapes = [shape for one in united if (shape := self.opening(one)) is not None]
        shapes.sort(key=lambda one: -area(one.points))
        whole = self.opening(hole)
        outer = whole or (shapes[0] if shapes else None)
        if outer is None:
            return []
        shapes += [shape for one in rows if (shape := self.opening(one)) is not None]
        shapes.sort(key=lambda one: -area(one.points))
        frames = [outer] if whole is not None else [Region(self.ring(hole), "casing"), outer]
        for frame in frames:
            inner = [
                one for one in shapes
                if _lies_in(one.box, frame.box) and not alike(one.box, frame.box, self.tolerance)
            ]  # fmt: skip
            for one in inner[:1]:
                nested = any(_lies_in(other.box, one.box) for other in inner[1:])
                margin = board if nested else self.size["casing_alone"]
                tall = frame.box[3] - frame.box[1] >= self.size["door_height"][0]
                stands = tall and self.stands(frame.box, ground)
                if is_casing(frame.box, one.box, margin, self.inch, stands):
                    return [one, Region(frame.points, "casing")]
        return [outer]

    def stands(self, box: Box, ground: _Ground) -> bool:
        """Whether the wall beside an opening does not go on below it."""
        left, low, right, high = box
        off = _BESIDE[0] * self.inch
        sides = ground.at([(x, (low + high) / 2) for x in (left - off, right + off)])
        return not sides & ground.at([((left + right) / 2, low - off)])

    def walls(
        self,
        outline: shapely.Polygon,
        ground: Sequence[shapely.Polygon],
        holes: Sequence[Region],
        features: Sequence[_Part],
        cased: Sequence[Region],
    ) -> list[Region]:
        """Walls of one blob: what stands beside openings, with gables, corner boards and bands."""
        hosts: set[int] = set()
        if ground and holes:
            known = _Ground(ground)
            for hole in holes:
                hosts |= self.beside(hole.box, -1, known) | self.beside(hole.box, 1, known)
        if not hosts:
            if not ground:
                return [self.wall(outline)]
            largest = max(range(len(ground)), key=lambda place: shapely.Polygon(ground[place].exterior).area)
            hosts = {largest}
        wall = shapely.union_all(
            [
                *(shapely.Polygon(ground[place].exterior) for place in sorted(hosts)),
                *(shapely.Polygon(one.points) for one in (*holes, *cased)),
            ]
        )
        rest = [one for place, one in enumerate(ground) if place not in hosts]
        rest += [one.filled for one in features]
        bands = self.bands([ground[place] for place in sorted(hosts)], rest)
        wall = shapely.union_all([wall, *bands])
        parts = [shapely.Polygon(part.exterior) for part in shapely.get_parts(wall)]
        grown = [self.grown(part, rest) for part in parts if self.as_large_as_a_wall(part.bounds)]
        grown = grown or [shapely.Polygon(outline.exterior)]
        return [self.wall(part) for part in sorted(grown, key=lambda part: (-part.area, part.bounds))]

    def bands(
        self, storeys: Sequence[shapely.Polygon], rest: Sequence[shapely.Polygon]
    ) -> list[shapely.Polygon]:
        """Boards from end to end between two storeys, which are one wall with them."""
        found, near = [], self.inch
        for one in rest:
            left, low, right, high = one.bounds
            if high - low > self.size["band"][1] or right - left < self.size["wall_width"][0]:
                continue
            wide = [
                storey.bounds for storey in storeys
                if max(abs(storey.bounds[0] - left), abs(storey.bounds[2] - right)) <= self.size["band"][1]
            ]  # fmt: skip
            below = any(abs(bounds[3] - low) <= near for bounds in wide)
            if below and any(abs(bounds[1] - high) <= near for bounds in wide):
                found.append(shapely.Polygon(one.exterior))
        return found

    def as_large_as_a_wall(self, box: Sequence[float]) -> bool:
        wide, high = self.size["wall_width"][0], self.size["wall_height"][0]
        return box[2] - box[0] >= wide and box[3] - box[1] >= high

    def wall(self, polygon: shapely.Polygon) -> Region:
        return Region(self.ring(shapely.Polygon(polygon.exterior)), "wall")

    def beside(self, box: Box, side: int, ground: _Ground) -> set[int]:
        """Numbers of the large regions left (-1) or right (1) of an opening: the nearest."""
        left, low, right, high = box
        for off in _BESIDE:
            x = (left if side < 0 else right) + side * off * self.inch
            hit = ground.at([(x, low + share * (high - low)) for share in _HEIGHTS])
            if hit:
                return hit
        return set()

    def grown(self, wall: shapely.Polygon, rest: Sequence[shapely.Polygon]) -> shapely.Polygon:
        """A wall with what belongs to it: a gable as wide as it is, and narrow boards along it."""
        left, low, right, high = wall.bounds
        near = self.inch
        narrow = 12 * self.inch
        wide = right - left
        added = []
        for one in rest:
            x0, y0, x1, y1 = one.bounds
            inside = x0 >= left - narrow and x1 <= right + narrow and y0 >= low - near and y1 <= high + near
            at_end = abs(x1 - left) <= near or abs(x0 - right) <= near
            least = min((high - low) / 2, self.size["wall_height"][0]) if at_end else (high - low) / 2
            board = x1 - x0 <= narrow and y1 - y0 >= least and inside
            band = y1 - y0 <= narrow and abs(x1 - x0 - wide) <= near and inside
            gable = abs(y0 - high) <= near and abs(x0 - left) <= near and abs(x1 - right) <= near
            sloped = gable and one.area < 0.75 * (x1 - x0) * (y1 - y0) and y1 - y0 > narrow
            if board or band or sloped:
                added.append(shapely.Polygon(one.exterior))
        whole = shapely.union_all([wall, *added])
        parts = sorted(shapely.get_parts(whole), key=lambda part: -part.area)
        return shapely.Polygon(parts[0].exterior)

    def ring(self, polygon: shapely.Polygon) -> tuple[Point, ...]:
        return outline_of(polygon, self.plane, self.tolerance)


def _overlap(one: Box, other: Sequence[float]) -> bool:
    return one[0] < other[2] and one[2] > other[0] and one[1] < other[3] and one[3] > other[1]


def _lies_in(one: Box, other: Box) -> bool:
    """Whether a box lies in another, with some side of its own within."""
    return within(one, other, ROUNDING * max(map(abs, other))) and one != other
