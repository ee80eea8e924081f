"""Faces and openings of a drawing whose layers do not say what is on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import shapely

from evencourse.layout.drawings.drawing_units import UnitScale
from evencourse.layout.drawings.drawn_outlines import Outline, Thing, outline_of, within
from evencourse.layout.drawings.drawn_regions import blobs, openings_within
from evencourse.layout.drawings.noding import Subdivision, subdivide
from evencourse.layout.drawings.opening_shapes import is_casing
from evencourse.layout.drawings.views import Blob, Region, kind_of_opening, kind_of_view, swings_of
from evencourse.layout.dxf.dxf_content import Unused
from evencourse.layout.dxf.dxf_entities import Curve, DxfLabel, Source
from evencourse.layout.dxf.dxf_geometry import points_of
from evencourse.layout.dxf.layers import sizes
from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.geometry import Box, box_of
from evencourse.layout.model.job import Point
from evencourse.layout.model.tolerance import SAME


@dataclass(frozen=True)
class DrawnShape:
    """A region of a drawing that can be picked.

    Attributes:
        points: its outline [drawing units].
        what: ``face``, ``opening``, ``casing``, ``roof edge``, ``region``, or the kind of a view: ``plan``.
        taken: it is part of what was understood.
        source: where its first line stands.
        note: why it is what it is, in words.
    """

    points: tuple[Point, ...]
    what: str
    taken: bool
    source: Source
    note: str = ""


@dataclass
class ByShape:
    """What shapes alone say of a drawing.

    Attributes:
        walls: outlines of faces.
        things: openings in them.
        shapes: what else can be picked.
        notes: what a person should know.
        unused: what may be a wall or an opening, and was not taken.
    """

    walls: list[Outline] = field(default_factory=list)
    things: list[Thing] = field(default_factory=list)
    shapes: list[DrawnShape] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    unused: list[Unused] = field(default_factory=list)


class DrawnLines:
    """The lines of a drawing whatever their layer, and what they enclose.

    Args:
        curves: lines and arcs.
        tolerance: ends nearer than this meet [drawing units].
        deviation: how far a chord may lie off an arc [drawing units].
    """

    def __init__(self, curves: Sequence[Curve], tolerance: float, deviation: float) -> None:
        self.curves, self.tolerance = curves, tolerance
        self.strokes = [stroke(curve, deviation) for curve in curves]

    @cached_property
    def plane(self) -> Subdivision:
        """What the lines enclose."""
        return subdivide(self.strokes, self.tolerance)

    @cached_property
    def boxes(self) -> list[Box]:
        """Boxes of the rectangles among the regions [drawing units]."""
        found = []
        for one in self.plane.polygons:
            box = one.exterior.bounds
            if len(one.exterior.coords) < 40 and shapely.Polygon(one.exterior).area > 0.97 * _area(box):
                found.append(box)
        return found

    @cached_property
    def all_boxes(self) -> list[Box]:
        """Boxes of all regions, and of all that hangs together [drawing units]."""
        filled = [shapely.Polygon(one.exterior) for one in self.plane.polygons]
        whole = shapely.get_parts(shapely.union_all(filled))
        return [tuple(one.bounds) for one in (*filled, *whole)]

    def source(self, points: Sequence[Point]) -> Source:
        """Where the first line along an outline stands."""
        ring = shapely.Polygon(points).exterior
        tree, near = self._tree, 2 * self.tolerance + SAME * max(1.0, *map(abs, ring.bounds))
        on = sorted(tree.query(ring, predicate="dwithin", distance=near).tolist())
        lines = self.lines
        best = next(
            (n for n in on if max(ring.distance(shapely.Point(c)) for c in lines[n].coords[:50]) <= near),
            None,
        )
        place = best if best is not None else (on[0] if on else 0)
        return self.curves[place].source

    @cached_property
    def lines(self) -> list[shapely.LineString]:
        """The curves."""
        return [shapely.LineString(stroke) for stroke in self.strokes]

    @cached_property
    def _tree(self) -> shapely.STRtree:
        return shapely.STRtree(self.lines)


def faces_by_shape(
    lines: DrawnLines, labels: Sequence[DxfLabel], scale: UnitScale, given: Sequence[Thing]
) -> ByShape:
    """Faces, openings and all regions that can be picked.

    Args:
        lines: of the drawing.
        labels: its lettering.
        scale: its units.
        given: openings that layers and blocks tell.
    """
    inch = scale.inch / scale.factor
    out = ByShape()
    if lines.plane.overfull:
        out.notes.append(
            gettext("too many lines to look for faces by their shape: name the layers with --layer")
        )
        return out
    swings = swings_of(lines.curves, inch)
    kinds = []
    for blob in blobs(lines.plane, inch, lines.tolerance, [one.box for one in given]):
        kinds.append((blob, *kind_of_view(blob, labels, swings, lines.source(blob.outline).layer, inch)))
    chosen = [
        kind == "elevation" and bool(blob.of("opening") or _holding(blob, given)) for blob, kind, _ in kinds
    ]
    if not any(chosen):
        alone = [n for n, (blob, kind, _) in enumerate(kinds) if kind == "elevation" and _stands(blob)]
        chosen = [number in alone[:1] and len(alone) == 1 for number in range(len(kinds))]
    for (blob, kind, why), taken in zip(kinds, chosen, strict=True):
        _take(out, lines, blob, kind, why, taken, given, inch)
    out.notes += _casing_notes(out) + _sash_notes(out, inch)
    out.unused += _beside(out, inch)
    return out


def walls_by_edges(lines: DrawnLines, of_walls: Sequence[Curve], scale: UnitScale) -> list[Outline]:
    """Walls whose lines other lines close: the ground, a roof, a column.

    Args:
        lines: of the drawing, those of walls among them.
        of_walls: lines on layers of walls.
        scale: the drawing's units.

    Returns:
        What the regions make up that lie for the most part along lines of walls.
    """
    inch, near = scale.inch / scale.factor, 2 * lines.tolerance
    numbers = {id(curve) for curve in of_walls}
    own = [line for curve, line in zip(lines.curves, lines.lines, strict=True) if id(curve) in numbers]
    tree = shapely.STRtree(own)
    kept = []
    for polygon in lines.plane.polygons:
        edge = polygon.exterior
        along = [own[place] for place in tree.query(edge, predicate="dwithin", distance=near)]
        if (
            along
            and shapely.intersection(edge, shapely.union_all(along).buffer(near)).length > 0.45 * edge.length
        ):
            kept.append(shapely.Polygon(edge))
    parts = shapely.get_parts(shapely.union_all(kept)) if kept else []
    least = sizes()["wall_height"][0] * inch
    found = []
    for part in sorted(parts, key=lambda one: -one.area):
        left, low, right, high = part.bounds
        if right - left >= least and high - low >= least:
            points = outline_of(part, lines.plane, lines.tolerance)
            found.append(Outline(points, lines.source(points), "wall", joined=True))
    return found


def openings_by_shape(
    lines: DrawnLines, walls: Sequence[Outline], scale: UnitScale, taken: bool, given: Sequence[Thing]
) -> ByShape:
    """Openings of walls that layers tell, from lines on other layers."""
    inch = scale.inch / scale.factor
    out = ByShape()
    if lines.plane.overfull:
        return out
    for wall in walls[:50]:
        for region in openings_within(lines.plane, wall.points, inch, lines.tolerance):
            free = not _overlaps(region.box, given)
            _put(out, lines, region, wall.box, taken and free, inch)
            if free and not taken and region.what == "opening":
                hint = gettext(
                    "--svg PICTURE numbers it for --opening, and --layer window=NAME takes its layer"
                )
                why = gettext(
                    "an outline as large as an opening, on a layer that says nothing: not taken; {hint}",
                    hint=hint,
                )
                out.unused.append(Unused(lines.source(region.points), why))
    out.notes += _casing_notes(out) + _sash_notes(out, inch)
    return out


def _take(
    out: ByShape,
    lines: DrawnLines,
    blob: Blob,
    kind: str,
    why: str,
    taken: bool,
    given: Sequence[Thing],
    inch: float,
) -> None:
    walls = [wall for wall in blob.of("wall") if wall.points]
    if not taken and kind != "elevation":
        source = lines.source(blob.outline)
        out.shapes.append(DrawnShape(blob.outline, kind, False, source, why))
        return
    for number, wall in enumerate(walls):
        used = taken and (number == 0 or any(_in(one.box, wall.box) for one in blob.of("opening")))
        source = lines.source(wall.points)
        if used:
            out.walls.append(Outline(wall.points, source, "wall"))
        else:
            out.shapes.append(DrawnShape(wall.points, "face", False, source, why))
    for region in blob.regions:
        if region.what == "wall":
            continue
        on = next((wall.box for wall in walls if _in(region.box, wall.box)), None)
        use = taken and region.what == "opening" and on is not None and not _overlaps(region.box, given)
        _put(out, lines, region, on or blob.box, use, inch)


def _casing_notes(out: ByShape) -> list[str]:
    """What is said of casings that are drawn round openings."""
    holes = [one.box for one in out.things]
    cased = [
        shape.source for shape in out.shapes
        if shape.what == "casing" and any(_in(hole, box_of(shape.points)) for hole in holes)
    ]  # fmt: skip
    if not cased:
        return []
    return [
        ngettext(
            "what lies round an opening is its casing ({place}): the hole is within it; {hint}",
            "what lies round {count} openings is their casing (the first: {place}): the hole is within it; "
            "{hint}",
            len(cased),
            place=cased[0],
            hint=gettext("--svg PICTURE numbers both, for --opening"),
        )
    ]


def _sash_notes(out: ByShape, inch: float) -> list[str]:
    """What is said of outlines close within openings: a sash, or a hole within narrow casing."""
    least, most = (one * inch for one in sizes()["sash"])
    inner = [box_of(shape.points) for shape in out.shapes if shape.what == "region"]
    close = [
        thing.source
        for thing in out.things
        if any(is_casing(thing.box, box, (least, most), inch / 2, False) for box in inner)
    ]
    if not close:
        return []
    return [
        ngettext(
            "a second outline close within the first in an opening ({place}) is taken for a sash; if the "
            "outer one is casing, {hint}",
            "a second outline close within the first in {count} openings (the first: {place}) is taken for "
            "a sash; if the outer one is casing, {hint}",
            len(close),
            place=close[0],
            hint=gettext("--opening takes the inner; --svg PICTURE numbers both"),
        )
    ]


def _beside(out: ByShape, inch: float) -> list[Unused]:
    """Regions as large as a wall that stand beside one, on its base, and were not taken."""
    wide, high = (sizes()[name][0] * inch for name in ("wall_width", "wall_height"))
    near = sizes()["band"][1] * inch
    hint = gettext("--svg PICTURE numbers it for --face, and 1+N unites two")
    why = gettext(
        "a region as large as a wall, beside a face and on its base, without openings: not taken; {hint}",
        hint=hint,
    )
    found = []
    for shape in out.shapes:
        left, low, right, top = box_of(shape.points)
        if shape.what not in ("face", "region") or right - left < wide or top - low < high:
            continue
        if any(
            abs(low - wall.box[1]) <= near and (left >= wall.box[2] - near or right <= wall.box[0] + near)
            for wall in out.walls
        ):
            found.append(Unused(shape.source, why))
    return found


def _put(out: ByShape, lines: DrawnLines, region: Region, wall: Box, taken: bool, inch: float) -> None:
    source = lines.source(region.points)
    what = region.what
    note = ""
    if what == "opening":
        note = kind_of_opening(region.box, wall[1], inch)
    if taken:
        out.things.append(Thing(region.points, source, note, {}))
    else:
        out.shapes.append(DrawnShape(region.points, what, False, source, note))


def stroke(curve: Curve, deviation: float) -> list[Point]:
    """The points of a curve, the first again at the end of one that is closed."""
    points = points_of(curve.parts, deviation)
    return [*points, points[0]] if curve.closed and points[0] != points[-1] else points


def _holding(blob: Blob, given: Sequence[Thing]) -> bool:
    return any(_in(one.box, blob.box) for one in given)


def _in(one: Box, other: Box) -> bool:
    near = 0.001 * (other[3] - other[1])
    return within(one, other, near)


def _stands(blob: Blob) -> bool:
    """Whether a blob has a level base and a plumb end, as a wall has."""
    left, low, right, high = blob.box
    ring = blob.outline
    near = 0.01 * (high - low)
    sides = list(zip(ring, [*ring[1:], ring[0]], strict=True))
    level = sum(abs(b[0] - a[0]) for a, b in sides if max(a[1], b[1]) <= low + near)
    plumb = (
        max(abs(b[1] - a[1]) for a, b in sides if abs(b[0] - a[0]) <= near / 4)
        if any(abs(b[0] - a[0]) <= near / 4 for a, b in sides)
        else 0.0
    )
    return level >= 0.3 * (right - left) and plumb >= 0.2 * (high - low)


def _overlaps(box: Box, given: Sequence[Thing]) -> bool:
    return any(
        box[0] < one.box[2] and box[2] > one.box[0] and box[1] < one.box[3] and box[3] > one.box[1]
        for one in given
    )


def _area(box: Sequence[float]) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])
