"""One entity of a DXF file as lines, lettering or a block's place.

What each group code means: the DXF reference (value from memory), checked against ezdxf in the tests.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from math import pi

from evencourse.layout.dxf.cad_library import load_cad
from evencourse.layout.dxf.dxf_geometry import BEHIND, Affine, Chain, Conic, Part, bulged, place_words, turned
from evencourse.layout.dxf.dxf_records import Record
from evencourse.layout.dxf.dxf_texts import decoded, lettering, paragraph
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.job import Point
from evencourse.layout.model.tolerance import PARALLEL, ROUNDING, SAME

#: Coordinates beyond this are no building's [drawing units].
FARTHEST = 1e10
#: Two heights above the paper nearer than this are one [drawing units].
_LEVEL = SAME


class EntityError(Exception):
    """An entity that cannot be used.

    Attributes:
        found: what is the matter with it.
        broken: the entity is damaged, not only of a kind that is no use.
    """

    def __init__(self, found: str, broken: bool = False) -> None:
        super().__init__(found)
        self.found, self.broken = found, broken


@dataclass(frozen=True, slots=True)
class Source:
    """Where something stands in the drawing.

    Attributes:
        kind: entity type.
        layer: its layer.
        handle: its handle; empty when it has none.
        at: a point on it, in the drawing's own coordinates; in its block's for what a block holds.
    """

    kind: str
    layer: str
    handle: str
    at: Point

    def __str__(self) -> str:
        """As the listing of what could not be used names it."""
        return gettext("{thing} at {place}", thing=self.on_layer(), place=place_words(self.at))

    def on_layer(self) -> str:
        """Without its place."""
        thing = f"{self.kind} {self.handle}" if self.handle else self.kind
        return gettext('{thing} on layer "{layer}"', thing=thing, layer=self.layer)


@dataclass(frozen=True, slots=True)
class Curve:
    """Lines and arcs that follow one another.

    Attributes:
        parts: in order.
        closed: the last end joins the first.
        source: where it stands.
    """

    parts: tuple[Part, ...]
    closed: bool
    source: Source


@dataclass(frozen=True, slots=True)
class DxfLabel:
    """Lettering, its first line.

    Attributes:
        text: what it says.
        height: of its capitals [drawing units].
        source: where it stands.
    """

    text: str
    height: float
    source: Source


@dataclass(frozen=True, slots=True)
class Insert:
    """A block's place.

    Attributes:
        block: its name.
        placing: from the block's coordinates, its base point at the origin, to where it stands.
        copies: shifts of its rows and columns, before the placing's turn.
        attributes: tag and value.
        source: where it stands.
    """

    block: str
    placing: Affine
    copies: tuple[Point, ...]
    attributes: Mapping[str, str]
    source: Source


Item = Curve | DxfLabel | Insert


class Tags:
    """A record's values by group code."""

    def __init__(self, record: Record, codec: str) -> None:
        self.record, self.codec = record, codec

    def text(self, code: int, default: str = "") -> str:
        """First text of a code, decoded."""
        codes = self.record.codes
        return decoded(self.record.values[codes.index(code)], self.codec) if code in codes else default

    def number(self, code: int, default: float = 0.0) -> float:
        """First number of a code."""
        codes = self.record.codes
        return _number(self.record.values[codes.index(code)]) if code in codes else default

    def count(self, code: int, default: int = 0) -> int:
        """First whole number of a code."""
        return int(self.number(code, default))

    def point(self, code: int, default: Point = (0.0, 0.0)) -> Point:
        """First point of a code and the one ten higher."""
        return (self.number(code, default[0]), self.number(code + 10, default[1]))

    def pairs(self) -> Iterator[tuple[int, object]]:
        """Every code with its value, in order."""
        yield from zip(self.record.codes, self.record.values, strict=True)

    def layer(self) -> str:
        """The entity's layer."""
        return self.text(8, "0").strip() or "0"

    def source(self, at: Point) -> Source:
        """The entity's place."""
        return Source(self.record.kind[:40], self.layer()[:200], self.text(5).strip()[:40], at)


def _number(value: object) -> float:
    try:
        number = float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError):
        found = gettext('"{text}" where a number belongs', text=str(value)[:30])
        raise EntityError(found, broken=True) from None
    if not abs(number) <= 1e300:
        raise EntityError(gettext("the coordinate {number}", number=number), broken=True)
    return number


def _placed(number: float) -> float:
    if not abs(number) <= FARTHEST:
        raise EntityError(gettext("the coordinate {number}", number=f"{number:.3g}"), broken=True)
    return number


def read_entity(tags: Tags) -> Item:
    """An entity as lines, lettering or a block's place.

    Args:
        tags: a record of a kind in :data:`READERS`; a POLYLINE's vertices are handled by
            :class:`evencourse.layout.dxf.dxf_content.DxfContent`.

    Raises:
        EntityError: it lies out of the drawing's plane, is empty or damaged.
    """
    return READERS[tags.record.kind](tags)


def _plane(tags: Tags) -> Affine | None:
    """From the entity's own coordinates to the drawing's: as seen from the front, or from behind."""
    normal = (tags.number(210), tags.number(220), tags.number(230, 1.0))
    if abs(normal[0]) > _LEVEL or abs(normal[1]) > _LEVEL or not normal[2]:
        raise EntityError(gettext("not in the drawing's plane"))
    return BEHIND if normal[2] < 0 else None


def _level(*heights: float) -> None:
    if max(heights) - min(heights) > _LEVEL:
        raise EntityError(gettext("not in the drawing's plane"))


def _curve(tags: Tags, parts: list[Part], closed: bool, behind: Affine | None, at: Point) -> Curve:
    if behind is not None:
        parts, at = [part.moved(behind) for part in parts], behind.point(at)
    _placed(at[0]), _placed(at[1])
    return Curve(tuple(parts), closed, tags.source(at))


def _line(tags: Tags) -> Curve:
    _level(tags.number(30), tags.number(31))
    start, end = tags.point(10), tags.point(11)
    _placed(end[0]), _placed(end[1])
    if start == end:
        raise EntityError(gettext("a line without length"))
    return _curve(tags, [Chain((start, end))], False, None, start)


def _circle(tags: Tags) -> Curve:
    behind = _plane(tags)
    centre, radius = tags.point(10), _placed(tags.number(40))
    if radius <= 0:
        raise EntityError(gettext("no radius"))
    start, end = 0.0, 2 * pi
    if tags.record.kind == "ARC":
        start, end = tags.number(50) * pi / 180, tags.number(51, 360.0) * pi / 180
        start, end = start % (2 * pi), end % (2 * pi)
        if end <= start + PARALLEL:
            end += 2 * pi
    part = Conic(centre, (radius, 0.0), (0.0, radius), start, end)
    return _curve(tags, [part], tags.record.kind == "CIRCLE", behind, centre)


def _ellipse(tags: Tags) -> Curve:
    behind = _plane(tags)
    centre, major, ratio = tags.point(10), tags.point(11), tags.number(40, 1.0)
    _level(0.0, tags.number(31))
    hand = -1.0 if behind is not None else 1.0
    _placed(major[0]), _placed(major[1]), _placed(ratio)
    if not (major[0] or major[1]) or not ratio:
        raise EntityError(gettext("no radius"))
    start, end = tags.number(41) % (2 * pi), tags.number(42, 2 * pi)
    sweep = (end - start) % (2 * pi)
    closed = sweep < ROUNDING or sweep > 2 * pi - ROUNDING
    minor = (-major[1] * ratio * hand, major[0] * ratio * hand)
    part = Conic(centre, major, minor, start, start + (2 * pi if closed else sweep))
    return _curve(tags, [part], closed, None, centre)


def _lwpolyline(tags: Tags) -> Curve:
    behind = _plane(tags)
    corners: list[tuple[float, float, float]] = []
    x = y = bulge = 0.0
    seen = False
    for code, value in tags.pairs():
        if code == 10:
            if seen:
                corners.append((x, y, bulge))
            x, y, bulge, seen = _placed(_number(value)), 0.0, 0.0, True
        elif code == 20 and seen:
            y = _placed(_number(value))
        elif code == 42 and seen:
            bulge = _number(value)
    if seen:
        corners.append((x, y, bulge))
    return polyline(tags, corners, bool(tags.count(70) & 1), behind)


def polyline(
    tags: Tags, corners: list[tuple[float, float, float]], closed: bool, behind: Affine | None
) -> Curve:
    """A polyline from its corners and bulges."""
    points = [(_placed(x), _placed(y)) for x, y, _ in corners]
    while closed and len(points) > 1 and points[0] == points[-1]:
        points.pop()
    if len(points) < 2:
        raise EntityError(gettext("a polyline without length"))
    after = [*points[1:], points[0]] if closed else points[1:]
    sides = zip(points, after, corners, strict=False)
    parts = [bulged(start, end, corner[2]) for start, end, corner in sides if start != end]
    if not parts:
        raise EntityError(gettext("a polyline without length"))
    return _curve(tags, parts, closed, behind, points[0])


def polyline_of(tags: Tags, vertices: list[Tags]) -> Curve:
    """A POLYLINE with its VERTEX records."""
    flags = tags.count(70)
    if flags & (16 | 64):
        raise EntityError(gettext("a mesh"))
    behind = None if flags & 8 else _plane(tags)
    kept = [vertex for vertex in vertices if not vertex.count(70) & 16]
    if flags & 8 and kept:
        _level(*(vertex.number(30) for vertex in kept))
    corners = [(*vertex.point(10), vertex.number(42)) for vertex in kept]
    return polyline(tags, corners, bool(flags & 1), behind)


def _spline(tags: Tags) -> Curve:
    import numpy as np

    load_cad()
    from ezdxf.math import BSpline, fit_points_to_cad_cv

    degree, closed = tags.count(71, 3), bool(tags.count(70) & 1)
    columns: dict[int, list[float]] = {code: [] for code in (10, 20, 30, 11, 21, 31, 40, 41)}
    for code, value in tags.pairs():
        if code in columns:
            columns[code].append(_placed(_number(value)))
    _level(*(columns[30] or [0.0]))
    _level(*(columns[31] or [0.0]))
    control = list(zip(columns[10], columns[20], strict=False))
    fit = list(zip(columns[11], columns[21], strict=False))
    if max(len(control), len(fit)) > 2000:
        raise EntityError(gettext("a spline of more than 2000 points"))
    try:
        if len(control) > degree >= 1:
            knots, weights = columns[40] or None, columns[41] or None
            spline = BSpline(control, order=degree + 1, knots=knots, weights=weights)
        elif len(fit) > 1:
            spline = fit_points_to_cad_cv(fit)
        else:
            raise EntityError(gettext("a spline without points"))
        span = np.ptp(np.array(control or fit), axis=0).max()
        if not span > 0:
            raise EntityError(gettext("a spline without length"))
        points = [(float(p.x), float(p.y)) for p in spline.flattening(span * 1e-4, segments=4)]
    except EntityError:
        raise
    except (ArithmeticError, ValueError, IndexError, RuntimeError) as error:
        raise EntityError(gettext("a spline that has no shape"), broken=True) from error
    if len(points) < 2 or not all(abs(x) < FARTHEST and abs(y) < FARTHEST for x, y in points):
        raise EntityError(gettext("a spline that has no shape"), broken=True)
    return _curve(tags, [Chain(tuple(points))], closed, None, points[0])


def _text(tags: Tags) -> DxfLabel:
    mirrored = _plane(tags)
    at = tags.point(11) if (tags.count(72) or tags.count(73)) and 11 in tags.record.codes else tags.point(10)
    at = mirrored.point(at) if mirrored is not None else at
    _placed(at[0]), _placed(at[1])
    return DxfLabel(lettering(tags.text(1))[:200], tags.number(40), tags.source(at))


def _mtext(tags: Tags) -> DxfLabel:
    at = tags.point(10)
    _placed(at[0]), _placed(at[1])
    words = "".join(decoded(value, tags.codec) for code, value in tags.pairs() if code == 3)
    text = paragraph((words + tags.text(1))[:4000])[:200]
    return DxfLabel(text, tags.number(40), tags.source(at))


def _insert(tags: Tags) -> Insert:
    behind = _plane(tags)
    at = tags.point(10)
    scale = (_placed(tags.number(41, 1.0)), _placed(tags.number(42, 1.0)))
    if not scale[0] or not scale[1]:
        raise EntityError(gettext("a block at scale 0"))
    turn = turned(tags.number(50))
    placing = Affine(1, 0, 0, 1, _placed(at[0]), _placed(at[1])).after(
        turn.after(Affine(scale[0], 0.0, 0.0, scale[1]))
    )
    columns, rows = max(1, tags.count(70, 1)), max(1, tags.count(71, 1))
    if columns * rows > 10_000:
        found = gettext("a block in {columns} columns and {rows} rows", columns=columns, rows=rows)
        raise EntityError(found)
    steps = (tags.number(44), tags.number(45))
    copies = tuple(
        turn.vector((_placed(column * steps[0]), _placed(row * steps[1])))
        for row in range(rows)
        for column in range(columns)
    )
    if behind is not None:
        placing, copies = behind.after(placing), tuple(behind.vector(copy) for copy in copies)
        at = behind.point(at)
    return Insert(tags.text(2), placing, copies, {}, tags.source(at))


#: How each kind of entity is read.
READERS: dict[str, Callable[[Tags], Item]] = {
    "LINE": _line,
    "ARC": _circle,
    "CIRCLE": _circle,
    "ELLIPSE": _ellipse,
    "LWPOLYLINE": _lwpolyline,
    "SPLINE": _spline,
    "TEXT": _text,
    "MTEXT": _mtext,
    "INSERT": _insert,
}
