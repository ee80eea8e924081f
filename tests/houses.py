"""Random houses: two storeys, gables, dormers, lean-tos, steps, doors, odd windows.

:func:`random_house` is a pure function of its seed. Every house is a valid job: openings lie inside their
walls, trims and fixtures keep clear of each other, heights and widths stand on the tape's marks.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import ceil

import shapely

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import (
    Corner,
    Elevation,
    Fixture,
    Framing,
    Job,
    Limits,
    Opening,
    OpeningKind,
    OpeningShape,
    Order,
    Point,
    Seams,
    Trim,
    Units,
    Zone,
)
from evencourse.layout.model.roof import Roof
from evencourse.layout.trade.profiles import build_cladding

PANELS = (
    "foam-double-4",
    "double-4",
    "double-4.5",
    "double-5",
    "triple-3",
    "foam-double-6",
    "single-8",
    "single-6.5",
)
BOARDS = ("bevel-8", "bevel-10", "bevel-12", "fiber-cement-7.25", "fiber-cement-8.25", "fiber-cement-9.25")
SHINGLES = ("shingle-16", "shingle-18", "shingle-24")
#: Clear wall kept between trims, and between a trim and a wall's side [inches].
CLEAR = 5.0


@dataclass
class _Wall:
    """A face while it is being furnished; inches."""

    name: str
    outline: list[Point]
    left: Corner = "outside corner"
    right: Corner = "outside corner"
    grade: tuple[float, float] | None = None
    courses: str = "main"


def random_house(seed: int) -> Job:
    """A whole house, from its seed.

    Args:
        seed: any whole number.

    Returns:
        A job of four to eight faces; about one in five is metric. Panels on somewhat more than half of the
        houses, boards on most of the others, shingles on some and in some gables.
    """
    chance = random.Random(f"house {seed}")
    units: Units = "mm" if chance.random() < 0.2 else "in"
    inch = 25.4 if units == "mm" else 1.0
    mark = 1.0 if units == "mm" else 1 / 16
    claddings, zoned = _claddings(chance, units)
    main = claddings["main"]
    trim = _trim(chance, main)
    walls = _walls(chance)
    odd = chance.choice([0.0, 0.25, 0.5])
    faces = []
    letters = iter(f"{letter}{number}" for number in ("", *range(2, 40)) for letter in "ABCDEFGHJKLMNPRSTUVW")
    for wall in walls:
        openings = _openings(chance, wall, trim, odd, letters)
        faces.append(_face(chance, wall, openings, inch, mark))
    if zoned:
        faces = [_zoned(face, zoned, inch, mark) for face in faces]
    return Job(
        name=f"House {seed}",
        units=units,
        round=mark,
        datum="a level line round the house",
        author="",
        temperature=chance.choice([None, 35.0, 55.0, 80.0]),
        claddings=claddings,
        limits=Limits(None, 0.125 * inch, 1.5 * inch, 0.5 * inch),
        framing=Framing(chance.choice([16.0, 16.0, 24.0]) * inch, chance.choice([0.0, 0.75, 8.0]) * inch),
        seams=Seams(24.0 * inch, 24.0 * inch),
        order=Order(chance.choice([0.0, 0.05])),
        elevations=tuple(faces),
    )


def _claddings(chance: random.Random, units: Units) -> tuple[dict[str, Cladding], str]:
    """The claddings, and how the walls are divided: no zones, a gable zone, or a storey zone."""
    kind = chance.random()
    main = chance.choice(PANELS if kind < 0.58 else BOARDS if kind < 0.95 else SHINGLES)
    claddings = {"main": build_cladding("main", main, {}, units)}
    if kind >= 0.95 or chance.random() > 0.3:
        return claddings, ""
    upper = chance.choice(SHINGLES + PANELS[1:4] if main in PANELS else SHINGLES + BOARDS)
    claddings["upper"] = build_cladding("upper", upper, {}, units)
    return claddings, chance.choice(["gable", "gable", "storey"])


def _trim(chance: random.Random, main: Cladding) -> Trim:
    if main.family == "panel":
        side = chance.choice([0.0, 1.0, 1.25, 2.5])
        return Trim(side, side, side)
    side = chance.choice([3.5, 4.5])
    return Trim(side + chance.choice([0.0, 0.75]), chance.choice([1.5, 2.0]), side)


def _sixteenth(value: float) -> float:
    return round(value * 16) / 16


def _between(chance: random.Random, low: float, high: float, mark: float = 1 / 16) -> float:
    return low + mark * chance.randrange(round((high - low) / mark) + 1)


def _walls(chance: random.Random) -> list[_Wall]:
    """The walls of one house, in order round it."""
    width = _between(chance, 26 * 12, 44 * 12, chance.choice([1 / 16, 0.5, 12]))
    depth = _between(chance, 20 * 12, 34 * 12, chance.choice([1 / 16, 0.5, 12]))
    base = _between(chance, -3, 2, 0.25)
    eave = base + _between(chance, 196, 222, 0.125)
    pitch = chance.choice([4, 5, 6, 7, 8, 9, 10, 12])
    fall = chance.choice([0.0, 0.0, 2.0, 6.0])
    ground = base - _between(chance, 8, 14, 0.5)
    grades = {"Front": (ground, ground - fall), "Right": (ground - fall, ground - fall)}
    grades |= {"Back": (ground - fall, ground), "Left": (ground, ground)}
    gabled = chance.choice([("Right", "Left"), ("Right", "Left"), ("Front", "Back")])
    walls = []
    for name, span in (("Front", width), ("Right", depth), ("Back", width), ("Left", depth)):
        top = _gable(chance, span, eave, pitch) if name in gabled else _eave(chance, span, eave, pitch)
        walls.append(_Wall(name, [*_base(chance, name, span, base), *top], grade=grades[name]))
    if chance.random() < 0.35:
        side = chance.choice([wall for wall in walls if wall.name in ("Right", "Left")])
        _lean_to(chance, side, base)
    if chance.random() < 0.4:
        walls += _roof_dormer(chance, eave, pitch)
    if chance.random() < 0.2:
        for wall in walls[:4]:
            wall.grade = None
    return walls


def _gable(chance: random.Random, span: float, eave: float, pitch: float) -> list[Point]:
    peak = span / 2
    if chance.random() < 0.15:
        peak = _sixteenth(span * _between(chance, 0.36, 0.64, 0.01))
    rise = peak * pitch / 12
    return [(span, eave), (peak, eave + rise), (0.0, eave)]


def _eave(chance: random.Random, span: float, eave: float, pitch: float) -> list[Point]:
    """An eave, level or out of level, with up to two wall dormers that rise from it."""
    if chance.random() < 0.12:
        return [(span, eave), (0.0, eave - chance.choice([0.5, 0.75, 1.25]))]
    points: list[Point] = [(span, eave)]
    for middle in chance.choice([(), (), (0.5,), (0.72, 0.28)]):
        half, up = _between(chance, 30, 48, 0.5), _between(chance, 18, 40, 0.5)
        x = _sixteenth(span * middle)
        points += [(x + half, eave), (x + half, eave + up), (x, eave + up + half * pitch / 12)]
        points += [(x - half, eave + up), (x - half, eave)]
    return [*points, (0.0, eave)]


def _base(chance: random.Random, name: str, span: float, base: float) -> list[Point]:
    """A level base, one out of level, or one with a step up to a slab or a terrace."""
    kind = chance.random()
    if kind < 0.1:
        return [(0.0, base), (span, base + chance.choice([-0.75, 0.5, 1.0]))]
    if kind < 0.25 and name in ("Right", "Back", "Left"):
        at = _sixteenth(span * _between(chance, 0.55, 0.8, 0.05))
        up = _between(chance, 7, 30, 0.125)
        return [(0.0, base), (at, base), (at, base + up), (span, base + up)]
    return [(0.0, base), (span, base)]


def _lean_to(chance: random.Random, wall: _Wall, base: float) -> None:
    """A lower roof that dies on the wall's right part: its base follows the roof."""
    right = wall.outline[1]
    if right[1] != base or wall.outline[0][1] != base or wall.outline[2][0] != right[0]:
        return
    span, at = right[0], _sixteenth(right[0] * _between(chance, 0.5, 0.7, 0.02))
    low, pitch = base + _between(chance, 78, 90, 0.25), chance.choice([3, 4, 5, 6])
    high = low + (span - at) * pitch / 12
    roof = [(at, low), (span, high)] if chance.random() < 0.5 else [(at, high), (span, low)]
    top = [point for point in wall.outline[2:] if point[0] < span or point[1] > max(low, high) + 12]
    if top[0][0] == span and top[0][1] > roof[1][1] + 12:
        wall.outline = [(0.0, base), (at, base), *roof, *top]


def _roof_dormer(chance: random.Random, eave: float, pitch: float) -> list[_Wall]:
    """A dormer on the roof: its front with a gable, and two cheeks that die on the roof."""
    half, foot = _between(chance, 28, 60, 0.25), eave + _between(chance, 20, 40, 0.25)
    up, slope = _between(chance, 44, 66, 0.25), max(pitch, 6)
    front = [(0.0, foot), (2 * half, foot), (2 * half, foot + up), (half, foot + up + half * pitch / 12)]
    front.append((0.0, foot + up))
    run = up * 12 / slope
    right = [(0.0, foot), (run, foot + up), (0.0, foot + up)]
    left = [(run, foot), (run, foot + up), (0.0, foot + up)]
    courses = chance.choice(["main", "dormer"])
    return [
        _Wall("Dormer front", front, courses=courses),
        _Wall("Dormer right", right, "outside corner", "butts", courses=courses),
        _Wall("Dormer left", left, "butts", "outside corner", courses=courses),
    ]


def _openings(
    chance: random.Random, wall: _Wall, trim: Trim, odd: float, letters: Iterator[str]
) -> list[Opening]:
    """Doors first, then a row of windows in each storey, then something in the gable."""
    polygon = shapely.Polygon(wall.outline)
    left, low, right, _ = polygon.bounds
    found: list[Opening] = []

    def put(opening: Opening) -> bool:
        place = shapely.Polygon(opening.trimmed)
        inside = shapely.Polygon(wall.outline).buffer(-CLEAR, join_style="mitre")
        if opening.on_base:
            drop = CLEAR + 2
            inside = (
                inside.union(shapely.affinity.translate(inside, 0, -drop)) if not inside.is_empty else inside
            )
        clear = all(place.distance(shapely.Polygon(other.trimmed)) >= CLEAR for other in found)
        if inside.is_empty or not inside.contains(place) or not clear:
            return False
        found.append(replace(opening, mark=next(letters)))
        return True

    def make(
        kind: OpeningKind, shape: OpeningShape, x: float, bottom: float, width: float, height: float,
        rise: float = 0.0, on_base: bool = False,
    ) -> Opening:  # fmt: skip
        return Opening("", kind, shape, x, bottom, width, height, rise, on_base=on_base, trim=trim)

    if wall.name.startswith("Dormer"):
        if wall.name == "Dormer front":
            width, height = _between(chance, 24, 40, 0.5), _between(chance, 28, 40, 0.5)
            put(make("window", "rectangle", _sixteenth((left + right - width) / 2), low + 10, width, height))
        return found
    base = wall.outline[0][1]
    level = wall.outline[1][1] == base
    flat = wall.outline[1][0]
    if level and chance.random() < 0.75:
        if chance.random() < 0.25 and flat > 200:
            width, height = chance.choice([96.0, 108.0, 192.0]), 84.0
            put(make("garage door", "rectangle", _between(chance, 14, max(14, flat - width - 14)), base,
                     width, height, on_base=True))  # fmt: skip
        else:
            width = chance.choice([36.0, 38.5, 64.0, 72.5])
            put(make("door", "rectangle", _between(chance, 14, max(14, flat - width - 14)), base,
                     width, 82.5, on_base=True))  # fmt: skip
    for floor in (base + 12, base + 121):
        head = floor + chance.choice([80.0, 80.5, 82.75, 84.0])
        count = round((right - left) / chance.choice([72, 90, 110, 140]))
        width, height = _between(chance, 24, 48, 0.5), _between(chance, 36, 62, 0.5)
        for index in range(count):
            wide, tall, shape, rise = width, height, "rectangle", 0.0
            if chance.random() < odd:
                wide, tall = _between(chance, 20, 72, 0.125), _between(chance, 24, 60, 0.125)
                kind = chance.random()
                if kind < 0.12:
                    shape, tall = "round", wide
                elif kind < 0.24:
                    shape, rise = "arch", min(_between(chance, 6, 12, 0.5), int(wide) / 2)
                elif kind < 0.3:
                    shape, tall, rise = "half-round", wide / 2, wide / 2
            top = head + (chance.choice([-3.0, 0.0, 0.0, 1.25, 2.0]) if odd else 0.0)
            middle = (
                left
                + (right - left) * (index + 0.5) / count
                + (_between(chance, -12, 12, 0.25) if odd else 0)
            )
            put(make("window", shape, _sixteenth(middle - wide / 2), top - tall, wide, tall, rise))  # type: ignore[arg-type]
    peak = max(wall.outline, key=lambda point: point[1])
    if peak[1] > base + 222 and chance.random() < 0.8:
        shape = chance.choice(["rectangle", "round", "triangle", "half-round"])
        width = _between(chance, 18, 36, 0.5)
        tall = {"rectangle": width * 1.25, "round": width, "triangle": width * 0.6, "half-round": width / 2}[
            shape
        ]
        tall = ceil(tall * 8) / 8 if shape != "half-round" else tall
        kind = "vent" if shape == "triangle" else chance.choice(["vent", "window"])
        put(make(kind, shape, _sixteenth(peak[0] - width / 2), _sixteenth(peak[1] - 34 - tall), width, tall,
                 tall if shape == "half-round" else 0.0))  # type: ignore[arg-type]  # fmt: skip
    return found


def _face(chance: random.Random, wall: _Wall, openings: list[Opening], inch: float, mark: float) -> Elevation:
    polygon = shapely.Polygon(wall.outline)
    left, low, right, _ = polygon.bounds
    fixtures = []
    if not wall.name.startswith("Dormer"):
        taken = [shapely.Polygon(opening.trimmed) for opening in openings]
        inside = polygon.buffer(-CLEAR, join_style="mitre")
        for kind, bottom, width, height in (
            ("S", low + 14, 4.0, 6.0), ("L", low + 70, 6.5, 8.0), ("M", low + 48, 12.0, 20.0),
        ):  # fmt: skip
            x = left + _between(chance, 10, max(10.0, right - left - 30), 0.25)
            block = chance.random() < 0.7
            box = shapely.box(x, bottom, x + width, bottom + height)
            if chance.random() < 0.4 and inside.contains(box) and all(box.distance(o) > CLEAR for o in taken):
                taken.append(box)
                fixtures.append(Fixture(f"{kind}{len(fixtures) + 1}", x, bottom, width, height, block))

    def tape(value: float) -> float:
        return round(value * inch / mark) * mark

    entrance = next((opening.middle for opening in openings if opening.kind == "door"), None)
    across = [tape(x) for x, _ in wall.outline]
    return Elevation(
        name=wall.name,
        outline=tuple((tape(x), tape(y)) for x, y in wall.outline),
        left=wall.left,
        right=wall.right,
        grade=None
        if wall.grade is None
        else tuple(zip((min(across), max(across)), map(tape, wall.grade), strict=True)),
        courses=wall.courses,
        entrance=None if entrance is None or wall.name != "Front" else tape(entrance),
        openings=tuple(_to_tape(opening, tape) for opening in openings),
        fixtures=tuple(
            Fixture(f.mark, tape(f.left), tape(f.bottom), tape(f.width), tape(f.height), f.block)
            for f in fixtures
        ),
        zones=(Zone("main"),),
    )


def _to_tape(opening: Opening, tape: Callable[[float], float]) -> Opening:
    width, height, rise = tape(opening.width), tape(opening.height), tape(opening.rise)
    if opening.shape == "round":
        height = width
    if opening.shape == "half-round":
        height = rise = width / 2
    trim = Trim(*(tape(value) for value in (opening.trim.head, opening.trim.sill, opening.trim.side)))
    left, bottom = tape(opening.left), tape(opening.bottom)
    return replace(opening, left=left, bottom=bottom, width=width, height=height, rise=rise, trim=trim)


def _zoned(face: Elevation, how: str, inch: float, mark: float) -> Elevation:
    """Another cladding above the eave of a gable, or above the first storey, with or without a band board."""
    low, high = min(y for _, y in face.outline), max(y for _, y in face.outline)
    if face.name.startswith("Dormer"):
        return replace(face, zones=(Zone("upper"),), courses="dormer")
    top = (low + 112 * inch) if how == "storey" else face.outline[-1][1]
    top = round(top / mark) * mark
    if top > high - 20 * inch:
        return face
    board = 0.0 if face.name == "Back" and how == "gable" else round(9.25 * inch / mark) * mark
    return replace(face, zones=(Zone("main", top, board), Zone("upper")))


def with_roofs(job: Job, seed: int) -> Job:
    """A house with a roof, a deck or a ledger against some of its walls: level, sloped or with a ridge.

    Args:
        job: any job.
        seed: any whole number. A band stands where it keeps off openings and fixtures; trim it may lie over.
    """
    chance = random.Random(f"roofs {seed}")
    return replace(job, elevations=tuple(_roofed(chance, face, job) for face in job.elevations))


def _roofed(chance: random.Random, face: Elevation, job: Job) -> Elevation:
    wall = shapely.Polygon(face.outline)
    left, low, right, high = wall.bounds
    holes = [shapely.Polygon(thing.outline()) for thing in (*face.openings, *face.fixtures)]
    found: list[Roof] = []

    def tape(value: float) -> float:
        return round(value / job.round) * job.round

    for _ in range(12):
        start, end = sorted(tape(left + (right - left) * chance.random()) for _ in "ab")
        level, depth = (
            tape(low + (high - low) * chance.random()),
            tape(chance.choice([3.5, 9.25, 14]) * job.inch),
        )
        rise, kind = (
            chance.choice([0.0, 0.0, 2 / 12, 6 / 12, -4 / 12]),
            chance.choice(["roof", "deck", "ledger"]),
        )
        points = [(start, level), (end, tape(level + rise * (end - start)))]
        if chance.random() < 0.25:  # a gabled porch
            middle = tape((start + end) / 2)
            points = [(start, level), (middle, tape(level + (middle - start) / 3)), (end, level)]
        if len({x for x, _ in points}) < len(points) or not wall.covers(shapely.LineString(points)):
            continue
        roof = Roof(f"P{len(found) + 1}", kind, tuple(points), depth)  # type: ignore[arg-type]
        band = shapely.Polygon(roof.outline())
        if not any(band.intersection(hole).area > 0 for hole in holes):
            holes.append(band)
            found.append(roof)
    return replace(face, roofs=tuple(found[: chance.choice([1, 1, 2])]))
