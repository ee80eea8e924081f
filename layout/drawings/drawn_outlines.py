"""Closed outlines of a drawing's layers: of walls, and of what stands on them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import shapely

from evencourse.layout.drawings.drawn_roofs import ROOF_KINDS
from evencourse.layout.drawings.noding import Strand, Subdivision, join
from evencourse.layout.drawings.ring_points import clean, from_lower_left, without_level_points
from evencourse.layout.dxf.block_placing import PlacedBlock
from evencourse.layout.dxf.dxf_content import Unused
from evencourse.layout.dxf.dxf_entities import Curve, DxfLabel, Source
from evencourse.layout.dxf.dxf_geometry import holds, points_of
from evencourse.layout.dxf.layers import KINDS, Roles, kind_of_block, words_of
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.geometry import Box, area, box_of, corners
from evencourse.layout.model.job import Point
from evencourse.layout.model.tolerance import BESIDE, ROUNDING

#: Words in the tags of attributes that carry a mark, the first that is there.
MARKS = ("mark", "tag", "number", "no", "id")
#: Most outlines of one role that are compared with one another, and most corners of an opening's outline:
#: bounds on work.
MOST, MOST_CORNERS = 2_000, 2_000


@dataclass(frozen=True)
class Outline:
    """A closed outline.

    Attributes:
        points: counter-clockwise [drawing units].
        source: where its first line stands.
        role: what its layer holds.
        divided: lines within it were left out.
        joined: it was joined from several lines.
    """

    points: tuple[Point, ...]
    source: Source
    role: str
    divided: bool = False
    joined: bool = False

    @cached_property
    def box(self) -> Box:
        """Left, bottom, right, top."""
        return box_of(self.points)


@dataclass(frozen=True)
class Thing:
    """Something that stands on a wall: an opening or a fixture.

    Attributes:
        points: its outline, counter-clockwise; of its box when it has none.
        source: where it stands.
        role: a kind of opening, or ``fixture``.
        attributes: of its block.
        labels: lettering in its block.
        note: why its box stands for it; empty when its outline is closed.
        block: name of its block; empty when it is none.
    """

    points: tuple[Point, ...]
    source: Source
    role: str
    attributes: dict[str, str]
    labels: tuple[DxfLabel, ...] = ()
    note: str = ""
    block: str = ""

    @cached_property
    def box(self) -> Box:
        """Left, bottom, right, top."""
        return box_of(self.points)

    @property
    def centre(self) -> Point:
        """Middle of its box."""
        left, low, right, high = self.box
        return ((left + right) / 2, (low + high) / 2)

    @property
    def mark(self) -> str:
        """The mark that its attributes say; empty when they say none."""
        said = [(words_of(tag), value) for tag, value in self.attributes.items() if value]
        return next((value for word in MARKS for words, value in said if word in words), "")


def outlines(
    curves: Sequence[Curve], role: str, tolerance: float, deviation: float
) -> tuple[list[Outline], list[tuple[Strand, Source]]]:
    """Closed outlines of curves, and the strands that do not close.

    A closed polyline that runs counter-clockwise keeps its corners as drawn; any other outline begins at its
    lower left corner.
    """
    found: list[Outline] = []
    open_curves: list[Curve] = []
    flat: list[tuple[Strand, Source]] = []
    for curve in curves:
        if not curve.closed:
            open_curves.append(curve)
            continue
        drawn = points_of(curve.parts, deviation)
        points = _closed(drawn, tolerance)
        if points is not None:
            found.append(Outline(points, curve.source, role))
        else:
            flat.append((Strand(tuple(drawn), ()), curve.source))
    strokes = [points_of(curve.parts, deviation) for curve in open_curves]
    rings, strands = join(strokes, tolerance)
    for ring in rings:
        first = open_curves[min(ring.members)]
        joined = len(ring.members) > 1
        found.append(Outline(ring.points, first.source, role, ring.divided, joined))
    return found, [*flat, *((strand, open_curves[min(strand.members)].source) for strand in strands)]


def _closed(points: Sequence[Point], tolerance: float) -> tuple[Point, ...] | None:
    left, low, right, high = box_of(points)
    kept = clean(points, ROUNDING * max(1.0, right - left, high - low))
    if len(kept) < 3 or min(right - left, high - low) <= tolerance:
        return None
    return tuple(kept) if area(kept) >= 0 else tuple(from_lower_left(kept[::-1]))


def apart(
    found: Sequence[Outline], tolerance: float, unused: list[Unused]
) -> tuple[list[Outline], list[Outline]]:
    """Outlines that lie in no other, and those that do; the second of two alike goes to ``unused``."""
    order = sorted(found, key=lambda one: -area(one.points))
    outer: list[Outline] = []
    inner: list[Outline] = []
    for one in order:
        around = next((other for other in outer if lies_in(one, other, tolerance)), None)
        if around is None:
            outer.append(one)
        elif alike(one.box, around.box, tolerance) and _same_area(one, around, tolerance):
            why = gettext("drawn a second time over {other}", other=around.source)
            unused.append(Unused(one.source, why))
        else:
            inner.append(one)
    places = {id(one): place for place, one in enumerate(found)}
    return sorted(outer, key=lambda one: places[id(one)]), sorted(inner, key=lambda one: places[id(one)])


def _same_area(one: Outline, other: Outline, tolerance: float) -> bool:
    left, low, right, high = one.box
    return abs(area(one.points) - area(other.points)) <= 2 * tolerance * (right - left + high - low)


def outline_of(polygon: shapely.Polygon, plane: Subdivision, tolerance: float) -> tuple[Point, ...]:
    """The corners of a region, counter-clockwise from its lower left one; none of one without size."""
    points = [(float(x), float(y)) for x, y in polygon.exterior.coords][:-1]
    left, low, right, high = box_of(points)
    size = max(1.0, right - left, high - low)
    kept = without_level_points(clean(points, ROUNDING * size), BESIDE * size, plane.placed, tolerance)
    if len(kept) < 3:
        return ()
    return tuple(from_lower_left(kept if area(kept) > 0 else kept[::-1]))


def alike(one: Box, other: Box, tolerance: float) -> bool:
    """Whether two boxes are the same within a tolerance."""
    return all(abs(a - b) <= tolerance for a, b in zip(one, other, strict=True))


def within(one: Box, other: Box, tolerance: float) -> bool:
    """Whether a box lies in another, within a tolerance."""
    return (
        one[0] >= other[0] - tolerance
        and one[1] >= other[1] - tolerance
        and one[2] <= other[2] + tolerance
        and one[3] <= other[3] + tolerance
    )


def lies_in(one: Outline, other: Outline, tolerance: float) -> bool:
    """Whether an outline lies in another, or is the same."""
    if not within(one.box, other.box, tolerance):
        return False
    left, low, right, high = one.box
    return alike(one.box, other.box, tolerance) or holds(other.points, ((left + right) / 2, (low + high) / 2))


def things_of(group: PlacedBlock, roles: Roles, tolerance: float, deviation: float) -> list[Thing]:
    """An opening or a fixture from a block; none when it shows nothing.

    Its outline is the outermost closed one: of what stands on layers of openings where there is any, else of
    all that is not on a layer to be ignored. Several beside one another are one thing when the block's name
    or its attributes say that it is one, else as many things as there are outlines.
    """
    held = [role for curve in group.curves for role in roles.of(curve.source.layer).roles]
    own = role_of_group(group.block, group.attributes.items(), group.source.layer, roles)
    role = own or next((one for one in held if one in (*KINDS, "fixture")), "opening")
    single = bool(group.attributes or kind_of_block(group.block))
    curves = [curve for curve in group.curves if "ignore" not in roles.of(curve.source.layer).roles]
    named = [curve for curve in curves if set(roles.of(curve.source.layer).roles) & {*KINDS, "fixture"}]
    attributes = dict(group.attributes)

    def thing(points: Sequence[Point], note: str) -> Thing:
        labels = tuple(group.labels)
        return Thing(tuple(points), group.source, role, attributes, labels, note, group.block)

    every: list[Point] = []
    for some in (named, curves):
        rings, strands = outlines(some, role, tolerance, deviation)
        outer, _ = apart(rings[:MOST], tolerance, [])
        if len(outer) == 1 or (outer and not single):
            return [with_few_corners(thing(ring.points, "")) for ring in outer]
        if outer:
            points = [point for ring in outer for point in ring.points]
            note = gettext("the box round {count} outlines beside one another", count=len(outer))
            return [thing(corners(box_of(points)), note)]
        every = every or [point for strand, _ in strands for point in strand.points]
    if len(every) < 2:
        return []
    left, low, right, high = box_of(every)
    if right - left <= tolerance or high - low <= tolerance:
        return []
    note = gettext("the box round lines that close to no outline")
    return [thing(corners((left, low, right, high)), note)]


def with_few_corners(thing: Thing) -> Thing:
    """The thing, or its box when its outline has very many corners."""
    if len(thing.points) <= MOST_CORNERS:
        return thing
    note = gettext("the box round an outline of {count} corners", count=len(thing.points))
    return replace(thing, points=corners(thing.box), note=note)


def role_of_group(block: str, attributes: Iterable[tuple[str, str]], layer: str, roles: Roles) -> str:
    """What a block on a wall is: what its attribute ``KIND`` says, else its name, else its layer.

    Returns:
        A kind of opening as a role, ``fixture``, a kind of roof, or "" when nothing says what it is.
    """
    said = dict(attributes)
    kind = said.get("KIND", "").strip().casefold()
    by_kind = {value: role for role, value in KINDS.items()} | {"fixture": "fixture"}
    if kind in by_kind:
        return by_kind[kind]
    if kind in ROOF_KINDS:
        return kind
    held = [role for role in roles.of(layer).roles if role in (*KINDS, "fixture")]
    if "ignore" in roles.of(layer).roles:
        return ""
    by_name = kind_of_block(block)
    if by_name and (not held or by_name != "opening"):
        return by_name
    return held[0] if held and "wall" not in roles.of(layer).roles else by_name
