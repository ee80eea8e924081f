"""Random houses as models and back: every face and opening within 5 mm of the numbers they were made with."""

from __future__ import annotations

import random
from math import cos, pi, sin
from pathlib import Path

import pytest

from evencourse.layout.ifc.ifc_reading import read_model
from evencourse.layout.ifc.model_import import understand_model
from evencourse.layout.ifc.model_wishes import ModelWishes
from evencourse.layout.wall.walk import goes_round, opened
from tests.layout.ifcin.buildings import METRES, Building, Point, Unit

#: Millimetres that a figure may be off.
NEAR = 5.0


@pytest.mark.long
@pytest.mark.parametrize("seed", range(30))
def test_a_random_house_comes_back(seed: int, tmp_path: Path) -> None:
    """Rectangles, L and T shapes of one or two storeys, turned any way, in any unit and version.

    All numbers are in millimetres until they are given to the model in its unit.
    """
    luck = random.Random(seed)
    unit: Unit = luck.choice(("m", "mm", "ft", "in"))
    size = 0.001 / METRES[unit]
    ring = _ring(luck)
    heights = [float(luck.randint(2200, 3200)) for _ in range(luck.randint(1, 2))]
    floor, thick = float(luck.randint(0, 400)), float(luck.randint(120, 400))
    building = Building(unit, luck.choice(("IFC2X3", "IFC4", "IFC4X3")))
    turned = luck.uniform(0, 2 * pi)
    place = building.axes((luck.uniform(-9e4, 9e4) * size, luck.uniform(-9e4, 9e4) * size, 0), turned)
    building.building.ObjectPlacement.RelativePlacement = place
    faces: list[dict[str, object]] = [{"width": _far(a, b), "holes": set()} for a, b in _sides(ring)]
    base = 0.0
    for height in heights:
        building.storey(f"Floor {base:.0f}", base * size)
        corners = [(x * size, y * size) for x, y in ring]
        walls = building.ring_of_walls(corners, base * size, height * size, thick * size)
        for number, (wall, (a, b)) in enumerate(zip(walls, _sides(ring), strict=True)):
            along = 400.0
            while along < _far(a, b) - 2500 and luck.random() < 0.8:
                wide, high = float(luck.randint(500, 1900)), float(luck.randint(400, 1300))
                sill = float(luck.randint(300, 800))
                at = (along * size, sill * size, wide * size, high * size)
                building.hole(wall, *at, "IfcWindow", deep=(-50 * size, 2000 * size))
                holes = faces[number]["holes"]
                assert isinstance(holes, set)
                holes.add((along, base + sill, wide, high))
                along += wide + luck.randint(200, 2000)
        base += height + floor
    top = base - floor
    model = read_model(building.written(tmp_path / "a.ifc"))
    found = understand_model(model, ModelWishes("double-4", name="a"))
    assert found.job is not None
    mm = 1.0 if found.units == "mm" else 25.4
    seen = [
        (
            max(x for x, _ in face.outline) * mm,
            max(y for _, y in face.outline) * mm,
            sorted((o.left * mm, o.bottom * mm, o.width * mm, o.height * mm) for o in face.openings),
        )
        for face in found.elevations
    ]
    wanted = [(face["width"], top, sorted(face["holes"])) for face in faces]  # type: ignore[call-overload]
    assert len(seen) == len(wanted)
    shifts = [number for number in range(len(seen)) if _alike(seen, wanted[number:] + wanted[:number])]
    assert shifts, (seen, wanted)
    assert goes_round(found.elevations)
    assert opened(found.elevations, found.job.inch) == ()
    # The first face, seen from outside, where the model put it: turned with the building.
    plan = found.elevations[0].on_plan
    assert plan is not None
    (x0, y0), (x1, y1) = plan
    a, b = _sides(ring)[shifts[0]]
    across, up = (b[0] - a[0]) / _far(a, b), (b[1] - a[1]) / _far(a, b)
    wide = seen[0][0] / mm
    assert (x1 - x0) / wide == pytest.approx(across * cos(turned) - up * sin(turned), abs=1e-3)
    assert (y1 - y0) / wide == pytest.approx(across * sin(turned) + up * cos(turned), abs=1e-3)


def _ring(luck: random.Random) -> list[Point]:
    """Corners counter-clockwise: a rectangle, an L or a T."""
    wide, deep = luck.randint(7000, 16000), luck.randint(6000, 11000)
    match luck.randrange(3):
        case 0:
            ring = [(0, 0), (wide, 0), (wide, deep), (0, deep)]
        case 1:
            x, y = luck.randint(3000, wide - 2500), luck.randint(2500, deep - 2500)
            ring = [(0, 0), (wide, 0), (wide, y), (x, y), (x, deep), (0, deep)]
        case _:
            x, y = luck.randint(1500, 2500), luck.randint(1500, 4000)
            ring = [
                (0, 0),
                (wide, 0),
                (wide, deep),
                (wide - x, deep),
                (wide - x, deep + y),
                (x, deep + y),
                (x, deep),
                (0, deep),
            ]
    return [(float(x), float(y)) for x, y in ring]


def _sides(ring: list[Point]) -> list[tuple[Point, Point]]:
    return list(zip(ring, [*ring[1:], ring[0]], strict=True))


def _far(a: Point, b: Point) -> float:
    return abs(b[0] - a[0]) + abs(b[1] - a[1])


def _alike(
    seen: list[tuple[float, float, list[tuple[float, ...]]]], wanted: list[tuple[object, ...]]
) -> bool:
    """Whether all figures of faces in this order are near enough."""
    for (width, top, holes), (wide, high, there) in zip(seen, wanted, strict=True):
        assert isinstance(there, list)
        pairs = [(width, wide), (top, high)]
        if len(holes) != len(there):
            return False
        pairs += [
            pair for one, other in zip(holes, there, strict=True) for pair in zip(one, other, strict=True)
        ]
        if any(abs(one - other) > NEAR for one, other in pairs):  # type: ignore[operator]
            return False
    return True
