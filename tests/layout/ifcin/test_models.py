"""Models in, faces out: by the numbers with which the models were made.

Every expected figure is one that was given to ifcopenshell, or a sum of such.
"""

from __future__ import annotations

from math import cos, hypot, pi, sin
from pathlib import Path

import pytest

from evencourse.layout.ifc.ifc_reading import read_model
from evencourse.layout.ifc.model_import import ModelFound, understand_model
from evencourse.layout.ifc.model_wishes import ModelWishes
from evencourse.layout.model.job import Elevation
from evencourse.layout.wall.walk import goes_round, opened
from tests.layout.ifcin.buildings import BOX, METRES, Building, Unit, gable_house

#: Five millimetres, in the units of a job.
NEAR = {"mm": 5.0, "in": 5.0 / 25.4}


def understood(building: Building, path: Path) -> ModelFound:
    return understand_model(read_model(building.written(path / "a.ifc")), ModelWishes("double-4", name="a"))


def face(found: ModelFound, name: str) -> Elevation:
    return next(one for one in found.elevations if one.name == name)


def width(one: Elevation) -> float:
    return max(x for x, _ in one.outline)


def corners(one: Elevation, *wanted: tuple[float, float], near: float = 0.02) -> None:
    assert len(one.outline) == len(wanted), one.outline
    for point in wanted:
        assert min(hypot(point[0] - x, point[1] - y) for x, y in one.outline) <= near, (point, one.outline)


@pytest.mark.parametrize(
    ("unit", "schema"), [("mm", "IFC2X3"), ("m", "IFC4"), ("ft", "IFC4"), ("in", "IFC2X3"), ("mm", "IFC4X3")]
)
def test_a_box_with_a_window_and_a_door(unit: Unit, schema: str, tmp_path: Path) -> None:
    size = 0.001 / METRES[unit]  # model units in one millimetre
    building = Building(unit, schema)
    building.storey("Ground floor", 150 * size)
    south, east, *_ = building.ring_of_walls(
        [(x * size, y * size) for x, y in BOX], 150 * size, 2700 * size, 200 * size
    )
    building.hole(
        south, 1200 * size, 900 * size, 1500 * size, 1300 * size, "IfcWindow", "A", (-9 * size, 999 * size)
    )
    building.hole(east, 2000 * size, 0, 1000 * size, 2100 * size, "IfcDoor", deep=(-9 * size, 999 * size))
    found = understood(building, tmp_path)
    units = "in" if unit in ("ft", "in") else "mm"
    assert found.units == units
    mm, near = (1.0 if units == "mm" else 1 / 25.4), NEAR[units]
    # The walk begins at the face with a door, the storey's floor is the datum.
    assert [one.name for one in found.elevations] == ["East", "North", "West", "South"]
    assert [width(one) for one in found.elevations] == pytest.approx([5000 * mm, 8000 * mm] * 2, abs=near)
    for one in found.elevations:
        corners(one, (0, 0), (width(one), 0), (width(one), 2700 * mm), (0, 2700 * mm), near=near)
        assert (one.left, one.right) == ("outside corner", "outside corner")
    (window,), (door,) = face(found, "South").openings, face(found, "East").openings
    assert (window.mark, window.kind, door.mark, door.kind, door.on_base) == (
        "A",
        "window",
        "D1",
        "door",
        True,
    )
    numbers = (window.left, window.bottom, window.width, window.height)
    assert numbers == pytest.approx([1200 * mm, 900 * mm, 1500 * mm, 1300 * mm], abs=near)
    numbers = (door.left, door.bottom, door.width, door.height)
    assert numbers == pytest.approx([2000 * mm, 0, 1000 * mm, 2100 * mm], abs=near)
    assert found.job is not None and found.job.datum == 'floor "Ground floor" of the model'


def test_an_l_shape_is_walked_round_with_one_inside_corner(tmp_path: Path) -> None:
    building = Building()
    ring = [(0, 0), (9000, 0), (9000, 4000), (4000, 4000), (4000, 7000), (0, 7000)]
    building.ring_of_walls(ring, 0, 2500, 250)
    building.wall((0, 4000), (4000, 4000), 0, 2500, 120)  # a partition: no side of it is outdoors
    found = understood(building, tmp_path)
    faces = found.elevations
    assert [(one.name, width(one)) for one in faces] == [
        ("South", 9000), ("East 1", 4000), ("North 1", 5000),
        ("East 2", 3000), ("North 2", 4000), ("West", 7000),
    ]  # fmt: skip
    inside = [
        (one.name, end) for one in faces for end in ("left", "right") if getattr(one, end) == "inside corner"
    ]
    assert inside == [("North 1", "right"), ("East 2", "left")]
    assert goes_round(faces)
    assert opened(faces, 25.4) == ()


def test_walls_that_end_on_their_middle_lines_are_brought_to_the_corner(tmp_path: Path) -> None:
    building = Building()
    for start, end in zip(BOX, [*BOX[1:], BOX[0]], strict=True):
        building.wall(start, end, 0, 2500, 300)
    found = understood(building, tmp_path)
    assert [width(one) for one in found.elevations] == pytest.approx([8300, 5300] * 2)
    assert all(one.right == "outside corner" for one in found.elevations)


ROOF = [(-400, 2100), (2500, 5000), (5400, 2100), (5400, 2350), (2500, 5250), (-400, 2350)]


@pytest.mark.parametrize(
    ("clipped", "top", "note"),
    [
        (True, 6000, ""),
        (False, 2500, "filled up to the roof as a gable"),
        (False, 5600, "cut off under it"),
    ],
)
def test_a_gable_is_found_clipped_missing_and_too_high(
    clipped: bool, top: float, note: str, tmp_path: Path
) -> None:
    building = Building()
    gable_house(building, clipped, top)
    building.roof(ROOF, -300, 8300)
    found = understood(building, tmp_path)
    assert [one.name for one in found.elevations] == ["South", "East", "North", "West"]
    for name in ("East", "West"):
        corners(face(found, name), (0, 0), (5000, 0), (5000, 2500), (2500, 5000), (0, 2500), near=0.5)
    for name in ("South", "North"):
        corners(face(found, name), (0, 0), (8000, 0), (8000, 2500), (0, 2500), near=0.5)
    assert [note in one for one in found.notes if 'face "East"' in one] == ([True] if note else [])


def test_a_gable_without_a_roof_has_no_inside(tmp_path: Path) -> None:
    building = Building()
    gable_house(building, True, 6000)
    found = understood(building, tmp_path)
    assert len(found.elevations) == 4
    corners(face(found, "East"), (0, 0), (5000, 0), (5000, 2500), (2500, 5000), (0, 2500), near=0.5)


def test_storeys_are_one_face_over_the_edge_of_a_floor_and_a_set_back_one_is_not(tmp_path: Path) -> None:
    """The upper storey stands 2 m back in the east; a floor 250 mm thick parts the walls."""
    building = Building()
    building.storey("Low", 0)
    building.storey("High", 2750)
    building.ring_of_walls(BOX, 0, 2500, 200)
    building.ring_of_walls([(0, 0), (6000, 0), (6000, 5000), (0, 5000)], 2750, 2400, 200)
    found = understood(building, tmp_path)
    assert [one.name for one in found.elevations] == ["South", "East 1", "North", "West", "East 2"]
    corners(face(found, "South"), (0, 0), (8000, 0), (8000, 2500), (6000, 2500), (6000, 5150), (0, 5150))
    corners(face(found, "North"), (0, 0), (8000, 0), (8000, 5150), (2000, 5150), (2000, 2500), (0, 2500))
    corners(face(found, "West"), (0, 0), (5000, 0), (5000, 5150), (0, 5150))
    corners(face(found, "East 2"), (0, 2750), (5000, 2750), (5000, 5150), (0, 5150))
    assert [one.turn for one in found.elevations] == [None, None, None, None, "not in walk"]
    assert goes_round(found.elevations) and opened(found.elevations, 25.4) == ()


def test_the_ground_is_the_terrain_and_what_lies_below_is_cut_off(tmp_path: Path) -> None:
    """The ground rises from -500 in the south to 500 in the north, as 1000 over 5000."""
    building = Building()
    building.storey("Floor", 0)
    building.ring_of_walls(BOX, -300, 2800, 200)
    building.terrain([(-5000, -3000), (10000, -3000), (10000, 1500), (-5000, -1500)], -9000, 20000)
    found = understood(building, tmp_path)
    south, east = face(found, "South"), face(found, "East")
    # 100 mm in front of the wall: 20 mm lower in the south; half a millimetre off is the simplified line
    assert south.grade is not None and [y for _, y in south.grade] == pytest.approx([-520, -520], abs=1)
    corners(south, (0, -300), (8000, -300), (8000, 2500), (0, 2500))
    assert east.grade is not None
    assert east.grade[0] == pytest.approx((0, -500), abs=1) and east.grade[-1] == pytest.approx(
        (5000, 500), abs=1
    )
    # -300 is met where the ground is as high: 200 / 1000 of 5000 from the south corner
    corners(east, (0, -300), (1000, -300), (5000, 500), (5000, 2500), (0, 2500), near=1)
    assert any("goes on below the ground" in note for note in found.notes)


def test_footings_are_no_faces_and_a_niche_inside_is_no_opening(tmp_path: Path) -> None:
    building = Building()
    building.ring_of_walls([(-100, -100), (8100, -100), (8100, 5100), (-100, 5100)], -800, 800, 400)
    south, east, *_ = building.ring_of_walls(BOX, 0, 2500, 200)
    inner = building.wall((3000, 200), (3000, 4800), 0, 2500, 100)
    building.hole(south, 2000, 800, 1000, 1000, deep=(-300, -120))  # the side of the room, 80 mm deep
    building.hole(inner, 1000, 0, 900, 2000, "IfcDoor", "inner", (-500, 500))
    building.hole(east, 500, 700, 600, 900, deep=(-500, 500))  # filled with nothing
    found = understood(building, tmp_path)
    assert [len(one.openings) for one in found.elevations] == [0, 1, 0, 0]
    assert [min(y for _, y in one.outline) for one in found.elevations] == [0] * 4
    (hole,) = face(found, "East").openings
    assert (hole.mark, hole.kind, hole.left, hole.bottom) == ("O1", "other", 500, 700)


def test_shapes_of_openings_and_garage_doors(tmp_path: Path) -> None:
    building = Building()
    south, *_ = building.ring_of_walls(BOX, 0, 2500, 200)
    building.hole(south, 500, 1000, 1000, 1000, "IfcWindow", ring=[(0, 0), (1000, 0), (500, 700)])
    building.hole(south, 2000, 0, 2400, 2100, "IfcDoor", "Garage door")
    found = understood(building, tmp_path)
    vent, door = face(found, "South").openings
    assert (vent.shape, vent.width, vent.height) == ("triangle", 1000, 700)
    assert (door.kind, door.mark, door.on_base) == ("garage door", "GD1", True)


def test_true_north_names_the_faces(tmp_path: Path) -> None:
    """North lies along x: the face that looks along -y looks west of south by a quarter turn."""
    building = Building()
    building.ring_of_walls(BOX, 0, 2500, 200)
    building.context.TrueNorth = building.make("IfcDirection", (1.0, 0.0))
    found = understood(building, tmp_path)
    # 8000 wide looks along -y: with north along +x that is east
    assert [(one.name, width(one)) for one in found.elevations] == [
        ("East", 8000), ("North", 5000), ("West", 8000), ("South", 5000),
    ]  # fmt: skip


def test_a_model_turned_and_far_from_zero_is_the_same_house(tmp_path: Path) -> None:
    """Turned by 30 degrees and moved by hundreds of kilometres, as surveyors' coordinates are."""
    building = Building()
    gable_house(building, True, 6000)
    building.building.ObjectPlacement.RelativePlacement = building.axes((4.1e8, 5.3e8, 0), 0.5235987755982988)
    found = understood(building, tmp_path)
    assert [width(one) for one in found.elevations] == pytest.approx([8000, 5000] * 2, abs=0.1)
    assert max(y for _, y in found.elevations[1].outline) == pytest.approx(5000, abs=0.5)
    assert found.elevations[0].on_plan is None and "from its zero" in " ".join(found.notes)


def test_what_another_job_says_is_kept(tmp_path: Path) -> None:
    building = Building()
    south, *_ = building.ring_of_walls(BOX, 0, 2500, 200)
    building.hole(south, 1000, 800, 900, 1200, "IfcWindow", "A")
    first = understood(building, tmp_path)
    text = first.text.replace('profile = "double-4"', 'profile = "bevel-8"').replace(
        'mark = "A"', 'mark = "A"\n  head_edge = "must"'
    )
    from evencourse.layout.jobfile.job_file import parse_job

    model = read_model(tmp_path / "a.ifc")
    again = understand_model(model, ModelWishes(None, parse_job(text), "b", "b.ifc"))
    assert again.job is not None and again.job.claddings["main"].profile == "bevel-8"
    assert face(again, "South").openings[0].head_edge == "must"


def test_a_porch_roof_is_a_band_with_wall_below_it(tmp_path: Path) -> None:
    """A slab of 200 mm, level, 2 m deep before the south wall and over no part of the house."""
    building = Building()
    building.ring_of_walls(BOX, 0, 4000, 200)
    building.roof([(-2000, 2500), (0, 2500), (0, 2700), (-2000, 2700)], 1500, 4500)
    found = understood(building, tmp_path)
    south = face(found, "South")
    corners(south, (0, 0), (8000, 0), (8000, 4000), (0, 4000))
    (porch,) = south.roofs
    assert (porch.mark, porch.line, porch.depth) == ("P1", ((1500, 2700), (4500, 2700)), 200)


def test_the_attic_of_a_wing_covers_the_wall_behind_it(tmp_path: Path) -> None:
    """A wing 3 m wide under a gable roof of 45 degrees before the south wall; siding begins over its roof.

    The roof is a slab with 250 mm plumb, its underside from 2500 at the wing's eaves to 4000 at its ridge.
    """
    building = Building()
    building.ring_of_walls(BOX, 0, 6000, 200)
    for x in (2000, 4800):
        building.wall((x + 100, 0), (x + 100, -3000), 0, 2500, 200)
    building.wall((5000, -2900), (2000, -2900), 0, 2500, 200)
    ring = [(2000, 2500), (3500, 4000), (5000, 2500), (5000, 2750), (3500, 4250), (2000, 2750)]
    out, along = (
        building.make("IfcDirection", (0.0, -1.0, 0.0)),
        building.make("IfcDirection", (1.0, 0.0, 0.0)),
    )
    at = building.make("IfcAxis2Placement3D", building.make("IfcCartesianPoint", (0.0, 0.0, 0.0)), out, along)
    solid = building.extruded(building.ring(ring), 3200, at)
    building.rooted(
        "IfcSlab", Name="roof", PredefinedType="ROOF",
        ObjectPlacement=building.placed(None, (0, 0, 0)), Representation=building.body(solid),
    )  # fmt: skip
    found = understood(building, tmp_path)
    south = next(one for one in found.elevations if width(one) == 8000 and one.name.startswith("South"))
    corners(
        south,
        (0, 0), (2000, 0), (2000, 2750), (3500, 4250), (5000, 2750),
        (5000, 0), (8000, 0), (8000, 6000), (0, 6000),
    )  # fmt: skip


def test_a_front_of_glass_closes_the_building_and_is_no_face(tmp_path: Path) -> None:
    """No wall in the south, but a window as wide as the house, 50 mm clear of the ground."""
    building = Building()
    for start, end in zip(BOX[1:], [*BOX[2:], BOX[0]], strict=True):
        building.wall(start, end, 0, 2500, 200, left=200)
    pane = building.extruded(building.ring([(200, 60), (7800, 60), (7800, 120), (200, 120)]), 2450)
    place = building.placed(building.building.ObjectPlacement, (0, 0, 50))
    building.rooted("IfcWindow", Name="front", ObjectPlacement=place, Representation=building.body(pane))
    found = understood(building, tmp_path)
    assert sorted(width(one) for one in found.elevations) == [200, 200, 5000, 5000, 8000]
    ends = {one.name: (one.left, one.right) for one in found.elevations if width(one) == 200}
    assert sorted(ends.values()) == [("butts", "outside corner"), ("outside corner", "butts")]


def test_a_wall_on_a_curve_is_told_and_left_out(tmp_path: Path) -> None:
    """A half round bay of 3 m in the east, of twenty straight pieces, stands in the place of that wall."""
    building = Building()
    for start, end in ((BOX[0], BOX[1]), (BOX[2], BOX[3]), (BOX[3], BOX[0])):
        building.wall(start, end, 0, 2500, 200, left=200)

    def arc(radius: float) -> list[tuple[float, float]]:
        turns = [pi * (number / 20 - 0.5) for number in range(21)]
        return [(8000 + radius * cos(turn), 2500 + radius * sin(turn)) for turn in turns]

    body = building.extruded(building.ring([*arc(2500), *reversed(arc(2300))]), 2500)
    place = building.placed(building.building.ObjectPlacement, (0, 0, 0))
    building.rooted("IfcWall", Name="bay", ObjectPlacement=place, Representation=building.body(body))
    found = understood(building, tmp_path)
    assert sorted(width(one) for one in found.elevations) == [5000, 8000, 8000]
    assert [note.partition(" #")[0] for note in found.notes if "curve" in note] == ["IfcWall"]
