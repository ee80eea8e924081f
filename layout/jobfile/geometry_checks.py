"""Geometry that a job must satisfy: outlines, things in their wall, zones one above another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from evencourse.layout.jobfile.job_values import clean
from evencourse.layout.jobfile.table_reader import Path, Reader
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.geometry import area, box_of
from evencourse.layout.model.geometry import corners as box_corners
from evencourse.layout.model.job import Elevation, Fixture, Limits, Opening, Point, Zone
from evencourse.layout.model.roof import Roof
from evencourse.layout.model.tolerance import PARALLEL, SAME

#: What a starter line leaves below the top of its wall at least [inches]: a bound on work, no trade rule.
STARTER_ROOM = 1.0
#: How far below the lowest base a starter line may be asked for [inches]: a bound on work, no trade rule.
STARTER_REACH = 48.0
#: Things on a wall, for the catalogues, by the table that they are in.
_THINGS = {
    "opening": noop('opening "{mark}"'),
    "fixture": noop('fixture "{mark}"'),
    "roof": noop('roof "{mark}"'),
}


def outline_faults(reader: Reader, points: Sequence[Point], path: Path) -> tuple[Point, ...] | None:
    """An outline counter-clockwise and without repeated points; None after a fault."""
    corners = list(points)
    if len(corners) > 1 and _same(corners[0], corners[-1]):
        corners.pop()
    for index, (here, after) in enumerate(_pairs(corners)):
        if _same(here, after):
            reader.fault((*path, index), gettext("two corners in one place"), gettext("corners that differ"))
            return None
    sides = list(_pairs(corners))
    for index, first in enumerate(sides):
        for other in range(index + 1, len(sides)):
            beside = other == index + 1 or (index == 0 and other == len(sides) - 1)
            if _meet(first, sides[other], beside):
                found = gettext(
                    "side {one} crossing or touching side {other}", one=index + 1, other=other + 1
                )
                reader.fault(path, found, gettext("an outline that does not cross itself"))
                return None
    turned = area(corners)
    if abs(turned) <= SAME:
        reader.fault(path, gettext("an outline without area"), gettext("corners round a wall"))
        return None
    leftmost = min(x for x, _ in corners)
    if abs(leftmost) > SAME:
        found = gettext("its leftmost corner at {x}", x=reader.show(leftmost))
        reader.fault(path, found, gettext("x measured from the left corner, which lies at 0"))
        return None
    return tuple(corners if turned > 0 else reversed(corners))


@dataclass(frozen=True)
class _Thing:
    """An opening or a fixture with its outlines, for checks."""

    path: Path
    mark: str
    hole: tuple[Point, ...]
    trimmed: tuple[Point, ...]
    box: tuple[float, float, float, float]


def wall_faults(
    reader: Reader,
    outline: Sequence[Point] | None,
    openings: Sequence[tuple[Path, Opening]],
    fixtures: Sequence[tuple[Path, Fixture]],
) -> None:
    """Openings and fixtures outside their wall, over one another, or a fixture in the trim of an opening.

    Openings may touch, and their trims overlap: windows that share a casing are one hole for the siding.
    Without an outline (it has a fault of its own) only those over one another are found.
    """
    things = []
    for path, opening in openings:
        things.append(_thing(path, opening.mark, opening.outline(), opening.trimmed))
    for path, fixture in fixtures:
        things.append(_thing(path, fixture.mark, fixture.outline(), fixture.outline()))
    if outline is not None:
        _outside(reader, outline, things)
    # One whose size is at fault, which is told, lies over others or not: nobody knows.
    sized = [thing for thing in things if not {"width", "height"} & reader.faulty(thing.path)]
    for one, other in _overlapping(sized):
        name = _called(str(one.path[-2]), one.mark)
        if _collide(one.hole, other.hole):
            wanted = gettext("openings and fixtures clear of each other")
            reader.fault(other.path, gettext("it lies over {thing}", thing=name), wanted)
        elif "fixture" in (one.path[-2], other.path[-2]) and _collide(one.trimmed, other.trimmed):
            found = gettext("it runs into the trim of {thing}", thing=name)
            reader.fault(other.path, found, gettext("room for both"))


def _called(kind: str, mark: str) -> str:
    return gettext(_THINGS[kind], mark=clean(mark))


def roof_faults(
    reader: Reader,
    outline: Sequence[Point] | None,
    roofs: Sequence[tuple[Path, Roof]],
    openings: Sequence[tuple[Path, Opening]],
    fixtures: Sequence[tuple[Path, Fixture]],
) -> None:
    """Roofs, decks and ledgers whose line leaves their wall, or that lie over something else on it.

    A roof may touch an opening, and lie over its trim.
    """
    things: list[tuple[str, tuple[tuple[Point, ...], ...]]] = []
    things += [(_called("opening", opening.mark), (opening.outline(),)) for _, opening in openings]
    things += [(_called("fixture", item.mark), (item.outline(),)) for _, item in fixtures]
    for path, roof in roofs:
        off = [point for point in roof.line if outline is not None and not _holds(outline, point)]
        for x, y in off[:1]:
            found = gettext(
                "a point off the wall, {across} across and {height} high",
                across=reader.show(x),
                height=reader.show(y),
            )
            reader.fault((*path, "line"), found, gettext("points on its wall, from left to right"))
        for name, parts in things:
            if any(_collide(mine, yours) for mine in roof.parts() for yours in parts):
                found = gettext("it lies over {thing}", thing=name)
                reader.fault(path, found, gettext("a band of wall with nothing else in it"))
        things.append((_called("roof", roof.mark), roof.parts()))


def _outside(reader: Reader, outline: Sequence[Point], things: Sequence[_Thing]) -> None:
    after = [*outline[1:], *outline[:1]]
    convex = all(
        _turn(a, b, c) >= 0 for (a, b), c in zip(_pairs(outline), [*after[1:], *after[:1]], strict=True)
    )
    wall = [reader.show(side) for side in box_of(outline)]
    wanted = gettext(
        "inside its wall ({left} to {right} across, {low} to {high} high)",
        left=wall[0],
        low=wall[1],
        right=wall[2],
        high=wall[3],
    )
    for thing in things:
        box = box_of(thing.hole)
        left, low, right, high = box
        if (convex and all(_holds(outline, point) for point in box_corners(box))) or _inside(
            thing.hole, outline
        ):
            continue
        found = gettext(
            "{left} to {right} across, {low} to {high} high",
            left=reader.show(left),
            right=reader.show(right),
            low=reader.show(low),
            high=reader.show(high),
        )
        reader.fault(thing.path, found, wanted)


def zone_faults(reader: Reader, outline: Sequence[Point] | None, zones: Sequence[tuple[Path, Zone]]) -> None:
    """Zones that do not rise, stand above the wall, or end where they should not."""
    bottom, high = float("-inf"), float("inf")
    if outline is not None:
        bottom, high = min(y for _, y in outline), max(y for _, y in outline)
    lowest = bottom
    for index, (path, zone) in enumerate(zones):
        last = index == len(zones) - 1
        if outline is not None:
            top = high if zone.top is None else min(high, zone.top)
            _starter_faults(reader, (*path, "starter"), zone.starter, lowest, top)
        if last:
            if zone.top is not None:
                wanted = gettext("no top: the last zone runs to the top")
                reader.fault((*path, "top"), reader.show(zone.top), wanted)
            continue
        if zone.top is None:
            if "top" not in reader.faulty(path):
                reader.lack((*path, "top"), gettext("the height where this cladding ends"))
            continue
        if zone.top >= high - SAME:
            wanted = gettext("below the wall's highest point, {height}", height=reader.show(high))
            reader.fault((*path, "top"), reader.show(zone.top), wanted)
        elif zone.top <= bottom + SAME:
            wanted = gettext("above {height}, where the zone begins", height=reader.show(bottom))
            reader.fault((*path, "top"), reader.show(zone.top), wanted)
        elif zone.top + zone.trim >= high - SAME:
            wanted = gettext("a band board that ends below the wall's top")
            reader.fault((*path, "trim"), reader.show(zone.trim), wanted)
        else:
            bottom = zone.top + zone.trim


def limit_faults(
    reader: Reader, limits: Limits, claddings: Mapping[str, Cladding], faces: Sequence[Elevation]
) -> None:
    """Limits that no course lines can keep to, or that all of them do."""
    show = reader.show
    if claddings and not {"cladding", "claddings"} & reader.faulty(()):
        least = min(cladding.exposure_min for cladding in claddings.values())
        most = min(cladding.exposure_max for cladding in claddings.values())
        if limits.tolerance >= least / 2:
            wanted = gettext("less than {length}, half the least exposure", length=show(least / 2))
            reader.fault(("limits", "tolerance"), show(limits.tolerance), wanted)
        if limits.strip_min >= most:
            wanted = gettext("less than the greatest exposure, {length}", length=show(most))
            reader.fault(("limits", "strip_min"), show(limits.strip_min), wanted)
    if faces:
        low = min(y for face in faces for _, y in face.outline)
        high = min(first_top(face) for face in faces)
        _starter_faults(reader, ("limits", "starter"), limits.starter, low, high)


def first_top(face: Elevation) -> float:
    """Where the lowest cladding of a face ends [job units]."""
    high = max(y for _, y in face.outline)
    top = face.zones[0].top
    return high if top is None else min(high, top)


def _starter_faults(
    reader: Reader, path: Path, starter: tuple[float, float] | None, low: float, high: float
) -> None:
    """A starter line far below the lowest base, or no course's room below the top of what it starts."""
    low -= STARTER_REACH * (1.0 if reader.units == "in" else 25.4)
    high -= STARTER_ROOM * (1.0 if reader.units == "in" else 25.4)
    if starter is not None and not low <= starter[0] <= starter[1] < high:
        found = gettext("{low} to {high}", low=reader.show(starter[0]), high=reader.show(starter[1]))
        wanted = gettext(
            "a starter line near the base, from {low} to {high}",
            low=reader.show(low),
            high=reader.show(high),
        )
        reader.fault(path, found, wanted)


def _thing(path: Path, mark: str, hole: tuple[Point, ...], trimmed: tuple[Point, ...]) -> _Thing:
    return _Thing(path, mark, hole, trimmed, box_of(trimmed))


def _overlapping(things: Sequence[_Thing]) -> Iterator[tuple[_Thing, _Thing]]:
    """Pairs whose boxes overlap, by a sweep along the wall or up it; the later in the file second.

    The sweep goes the way in which fewer lie side by side. It ends after very many pairs.
    """
    along = min((0, 1), key=lambda axis: _crowding(things, axis))
    across = 1 - along
    order = sorted(range(len(things)), key=lambda index: things[index].box[along])
    active: list[int] = []
    found: list[tuple[int, int]] = []
    for index in order:
        box = things[index].box
        active = [other for other in active if things[other].box[along + 2] > box[along] + SAME]
        for other in active:
            over = things[other].box
            if over[across] < box[across + 2] - SAME and over[across + 2] > box[across] + SAME:
                found.append((min(index, other), max(index, other)))
        if len(found) > 1000:
            break
        active.append(index)
    for one, other in sorted(found):
        yield things[one], things[other]


def _crowding(things: Sequence[_Thing], axis: int) -> float:
    """How many lie side by side on average, seen along an axis (0 along the wall, 1 up it)."""
    if not things:
        return 0.0
    low, high = min(thing.box[axis] for thing in things), max(thing.box[axis + 2] for thing in things)
    return sum(thing.box[axis + 2] - thing.box[axis] for thing in things) / (high - low)


def _collide(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two convex outlines overlap: no side of either separates them."""
    for shape in (one, other):
        for (x0, y0), (x1, y1) in _pairs(shape):
            nx, ny = y1 - y0, x0 - x1
            size = (nx * nx + ny * ny) ** 0.5
            mine = [(x * nx + y * ny) / size for x, y in one]
            yours = [(x * nx + y * ny) / size for x, y in other]
            if max(mine) <= min(yours) + SAME or max(yours) <= min(mine) + SAME:
                return False
    return True


def _inside(hole: Sequence[Point], outline: Sequence[Point]) -> bool:
    """Whether a convex hole lies in a wall: its corners do, and no side of the wall runs through it."""
    if any(_through(hole, start, end) for start, end in _pairs(outline)):
        return False
    return all(_holds(outline, point) for point in hole)


def _through(convex: Sequence[Point], start: Point, end: Point) -> bool:
    """Whether a line from start to end runs inside a convex counter-clockwise outline, off its sides."""
    enter, leave = 0.0, 1.0
    run, rise = end[0] - start[0], end[1] - start[1]
    for (x0, y0), (x1, y1) in _pairs(convex):
        size = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        nx, ny = (y0 - y1) / size, (x1 - x0) / size
        inward = nx * run + ny * rise
        depth = nx * (start[0] - x0) + ny * (start[1] - y0) - SAME
        if abs(inward) <= PARALLEL:
            if depth <= 0:
                return False
        elif inward > 0:
            enter = max(enter, -depth / inward)
        else:
            leave = min(leave, -depth / inward)
        if enter >= leave:
            return False
    return True


def _holds(outline: Sequence[Point], point: Point) -> bool:
    """Whether a point lies in a polygon or on it."""
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in _pairs(outline):
        run, rise = x1 - x0, y1 - y0
        size = run * run + rise * rise
        share = min(1.0, max(0.0, ((x - x0) * run + (y - y0) * rise) / size))
        if (x - x0 - share * run) ** 2 + (y - y0 - share * rise) ** 2 <= SAME * SAME:
            return True
        if (y0 <= y) != (y1 <= y) and x < x0 + run * (y - y0) / rise:
            inside = not inside
    return inside


def _meet(first: tuple[Point, Point], second: tuple[Point, Point], beside: bool) -> bool:
    """Whether two sides cross or touch; neighbours may share their corner, but not fold back."""
    a, b = first
    c, d = second
    if beside:
        shared, one, other = (b, a, d) if _same(b, c) else (a, b, c)
        ahead = (one[0] - shared[0]) * (other[0] - shared[0]) + (one[1] - shared[1]) * (other[1] - shared[1])
        return ahead > 0 and abs(_turn(shared, one, other)) <= SAME
    if max(a[0], b[0]) < min(c[0], d[0]) - SAME or max(c[0], d[0]) < min(a[0], b[0]) - SAME:
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) - SAME or max(c[1], d[1]) < min(a[1], b[1]) - SAME:
        return False
    return _turn(a, b, c) * _turn(a, b, d) <= 0 and _turn(c, d, a) * _turn(c, d, b) <= 0


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _pairs(points: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    return zip(points, (*points[1:], points[0]), strict=True)


def _same(one: Point, other: Point) -> bool:
    return abs(one[0] - other[0]) <= SAME and abs(one[1] - other[1]) <= SAME
