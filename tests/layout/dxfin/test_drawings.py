"""Drawings as drafters make them: what becomes of their walls, openings, units and datum.

The house that most of them show: a wall of 240 by 96 at 100, 50 with one window, 36 by 48, 60 in from the
left corner and 31 above the wall's foot.
"""

from __future__ import annotations

import json
import subprocess
from dataclasses import replace
from math import asin, cos, pi, sin, tan
from pathlib import Path

import pytest

from evencourse.layout.drawings.first_look import Wishes
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.job import Elevation, Trim
from tests.layout.dxfin.drawings import (
    SIDING,
    box,
    drawing,
    faults,
    house,
    lines,
    outline,
    read,
    sides,
    why,
    written,
)
from tests.tools import tool

WALL = ((0.0, 0.0), (240.0, 0.0), (240.0, 96.0), (0.0, 96.0))


def only(found: object) -> Elevation:
    (face,) = found.job.elevations  # type: ignore[attr-defined]
    return face


def with_layers(*given: str) -> Wishes:
    from evencourse.layout.dxf.layers import read_layers

    return replace(SIDING, layers=read_layers(given, []))


def test_outline_and_window_from_standard_layers() -> None:
    found = read(house())
    face = only(found)
    assert face.name == "Face 1"
    assert face.outline == WALL
    (window,) = face.openings
    assert (window.mark, window.kind, window.shape) == ("W1", "window", "rectangle")
    assert (window.left, window.bottom, window.width, window.height) == (60, 31, 36, 48)
    assert found.unused == ()
    assert parse_job(found.text) == found.job


def test_the_same_from_single_lines_that_nearly_meet() -> None:
    document = drawing()
    ends = [((x + 0.02, y), (u, v - 0.01)) for (x, y), (u, v) in sides(box(100, 50, 240, 96))]
    lines(document.modelspace(), ends, "Walls")
    lines(document.modelspace(), sides(box(160, 81, 36, 48)), "Windows")
    face = only(read(document))
    drawn = [value for point in face.outline for value in point]
    assert drawn == pytest.approx([value for point in WALL for value in point], abs=0.05)
    assert face.openings[0].width == 36


@pytest.mark.parametrize("version", ["R12", "R2000", "R2010", "R2018"])
def test_every_version_and_the_binary_form_read_alike(version: str) -> None:
    document = drawing(version=version)
    space = document.modelspace()
    space.add_polyline2d(box(0, 0, 240, 96), close=True, dxfattribs={"layer": "A-WALL"})
    space.add_polyline2d(box(60, 31, 36, 48), close=True, dxfattribs={"layer": "A-GLAZ"})
    wishes = replace(SIDING, units="in")
    assert read(written(document), wishes).text == read(written(document, binary=True), wishes).text
    assert only(read(document, wishes)).outline == WALL


@pytest.mark.parametrize(
    ("code", "factor", "units"),
    [(1, 1, "in"), (2, 1 / 12, "in"), (4, 25.4, "mm"), (5, 2.54, "mm"), (6, 0.0254, "mm")],
)
def test_units_come_from_the_header(code: int, factor: float, units: str) -> None:
    document = drawing(code)
    outline(document.modelspace(), [(x * factor, y * factor) for x, y in WALL], "A-WALL")
    job = read(document).job
    assert job is not None
    assert job.units == units
    expected = 240 if units == "in" else 6096
    assert job.elevations[0].outline[1] == (expected, 0)


def test_a_drawing_without_units_asks_for_them() -> None:
    document = house()
    document.header["$INSUNITS"] = 0
    document.header["$MEASUREMENT"] = 0
    (fault,) = faults(document)
    assert (fault.found, fault.wanted) == ("no units in the header", "--units in, ft, mm, cm, m, perhaps in")
    assert only(read(document, replace(SIDING, units="in"))).outline == WALL


def test_wrong_units_are_not_believed() -> None:
    """240 millimetres is no wall, and 240 metres is none either."""
    document = house()
    document.header["$INSUNITS"] = 4
    (fault,) = faults(document)
    assert "a widest wall of 240 mm in a drawing in millimetres (by the header)" in fault.found
    document.header["$INSUNITS"] = 6
    (fault,) = faults(document)
    assert "--units" in fault.wanted


def test_shapes_from_bulges_arcs_and_circles() -> None:
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 400, 120), "A-WALL")
    space.add_circle((50, 60), 12, {"layer": "A-GLAZ"})
    outline(space, [(90, 30, 0), (120, 30, 0), (120, 60, 1), (90, 60, 0)], "A-GLAZ")  # half-round
    # An arch of 9 over 30: the bulge is rise over half the width.
    outline(space, [(150, 30), (180, 30), (180, 60, 9 / 15), (150, 60, 0)], "A-GLAZ")
    outline(space, [(210, 30), (252, 30), (231, 44)], "VENTS")
    lines(space, [((300, 30), (330, 30)), ((330, 30), (330, 60)), ((300, 60), (300, 30))], "A-GLAZ")
    space.add_arc((315, 60), 15, 0, 180, dxfattribs={"layer": "A-GLAZ"})
    face = only(read(document))
    assert [(one.shape, one.left, one.width, one.height, one.rise) for one in face.openings] == [
        ("round", 38, 24, 24, 0),
        ("half-round", 90, 30, 45, 15),
        ("arch", 150, 30, 39, 9),
        ("triangle", 210, 42, 14, 0),
        ("half-round", 300, 30, 45, 15),
    ]
    assert [one.kind for one in face.openings] == ["window", "window", "window", "vent", "window"]


def test_an_odd_shape_has_its_box_and_a_note() -> None:
    document = house()
    outline(document.modelspace(), [(250, 90), (280, 100), (270, 120), (240, 110)], "A-GLAZ")
    found = read(document)
    odd = only(found).openings[1]
    assert (odd.left, odd.bottom, odd.width, odd.height) == (140, 40, 40, 30)
    assert any("neither rectangle, round" in note and odd.mark in note for note in found.understood.notes)
    assert f'mark = "{odd.mark}"  # neither rectangle' in found.text


def window_block(document: object) -> None:
    """A window as blocks hold one: frame, sash and glass bars, on layer 0."""
    block = document.blocks.new("WINDOW", base_point=(18, 0))  # type: ignore[attr-defined]
    outline(block, box(0, 0, 36, 48), "0")
    outline(block, box(2, 2, 32, 44), "0")
    lines(block, [((18, 2), (18, 46)), ((2, 24), (34, 24))], "0")
    block.add_attdef("MARK", (18, 24), "")


def test_blocks_stand_for_one_opening_each_and_carry_its_mark() -> None:
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 400, 120), "A-WALL")
    window_block(document)
    for x, mark, look in (
        (50, "A", {}),
        (150, "B", {"xscale": -1}),
        (250, "C", {"xscale": 0.5, "yscale": 1.25}),
        (350, "D", {"rotation": 180, "yscale": -1, "xscale": -1}),
    ):
        space.add_blockref("WINDOW", (x, 30), {"layer": "A-GLAZ", **look}).add_attrib("MARK", mark, (x, 50))
    face = only(read(document))
    assert [(one.mark, one.left, one.bottom, one.width, one.height) for one in face.openings] == [
        ("A", 32, 30, 36, 48), ("B", 132, 30, 36, 48), ("C", 241, 30, 18, 60), ("D", 332, 30, 36, 48),
    ]  # fmt: skip


def test_a_whole_elevation_in_one_block_is_taken_apart() -> None:
    document = drawing()
    window_block(document)
    front = document.blocks.new("FRONT")
    outline(front, box(0, 0, 240, 96), "A-WALL")
    front.add_blockref("WINDOW", (78, 31), {"layer": "A-GLAZ"})
    document.modelspace().add_blockref("FRONT", (1000, 2000), {"layer": "0"})
    face = only(read(document))
    assert face.outline == WALL
    assert (face.openings[0].left, face.openings[0].bottom, face.openings[0].width) == (60, 31, 36)


def test_windows_gathered_in_one_block_are_as_many_windows() -> None:
    """On its own layers, or placed on that of windows; a block that is called a window is one."""
    for layer, name, inner, expected in (
        ("0", "STUFF", "A-GLAZ", [20, 80]), ("A-GLAZ", "STUFF", "0", [20, 80]),
        ("0", "TWIN WINDOW", "0", [20]),
    ):  # fmt: skip
        document = drawing()
        outline(document.modelspace(), box(0, 0, 240, 96), "A-WALL")
        block = document.blocks.new(name)
        for x in (20, 80):
            outline(block, box(x, 30, 36, 48), inner)
        document.modelspace().add_blockref(name, (0, 0), {"layer": layer})
        face = only(read(document))
        assert [one.left for one in face.openings] == expected
        assert {one.kind for one in face.openings} == {"window"}
    assert face.openings[0].width == 96


def test_kind_from_block_layer_and_attribute() -> None:
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 600, 120), "A-WALL")
    for name in ("GARAGE-DOOR", "LOUVER", "THING"):
        outline(document.blocks.new(name), box(0, 0, 60, 80), "0")
    space.add_blockref("GARAGE-DOOR", (20, 0), {"layer": "OPENINGS"})
    space.add_blockref("LOUVER", (120, 20), {"layer": "OPENINGS"})
    space.add_blockref("THING", (220, 20), {"layer": "OPENINGS"})
    space.add_blockref("THING", (320, 20), {"layer": "A-DOOR"})
    space.add_blockref("THING", (420, 20), {"layer": "0"}).add_attrib("KIND", "Vent", (0, 0))
    face = only(read(document))
    assert [one.kind for one in face.openings] == ["garage door", "vent", "other", "door", "vent"]
    assert [one.on_base for one in face.openings] == [True, False, False, False, False]


def test_a_door_stands_on_a_stepped_base() -> None:
    """The base steps up 20 at x = 120; the door there starts at the upper base, within the tolerance."""
    document = drawing()
    space = document.modelspace()
    outline(space, [(0, 0), (120, 0), (120, 20), (240, 20), (240, 120), (0, 120)], "A-WALL")
    outline(space, box(150, 20.03, 36, 80), "A-DOOR")
    found = read(document)
    (door,) = only(found).openings
    assert (door.on_base, door.bottom, door.height) == (True, 20, pytest.approx(80.03))
    assert "sill" not in found.text


def test_faces_side_by_side_and_one_above_another_with_their_titles() -> None:
    document = drawing()
    space = document.modelspace()
    for x, y, title in ((0, 0, "FRONT ELEVATION"), (400, 0, "Left side"), (0, 300, "NORTH GABLE")):
        outline(space, box(x, y, 240, 96), "A-WALL")
        space.add_text(title, height=8, dxfattribs={"layer": "A-ANNO-TEXT"}).set_placement((x + 60, y - 30))
        space.add_text("SEE WALL SECTION AT RIGHT SIDE OF SHEET", height=2).set_placement((x + 60, y - 5))
        space.add_text('SCALE 1/4" = 1\'-0"', height=4).set_placement((x + 60, y - 40))
    found = read(document)
    assert [face.name for face in found.job.elevations] == ["North gable", "Front", "Left side"]  # type: ignore[union-attr]
    assert all(face.outline == WALL for face in found.job.elevations)  # type: ignore[union-attr]


def test_faces_are_named_by_their_layers() -> None:
    document = drawing()
    outline(document.modelspace(), box(0, 0, 240, 96), "FRONT-WALL")
    outline(document.modelspace(), box(300, 0, 240, 96), "REAR-WALL")
    assert [face.name for face in read(document).job.elevations] == ["Front", "Rear"]  # type: ignore[union-attr]


def test_marks_from_lettering_and_repeated_marks() -> None:
    """Type marks repeat on a drawing; a job wants every mark once on a face."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 400, 96), "A-WALL")
    for x in (50, 150, 250):
        outline(space, box(x, 30, 36, 48), "A-GLAZ")
        space.add_mtext(r"{\fArial|b0;A}\P3068", {"layer": "TAGS"}).set_location((x + 18, 54))
    found = read(document)
    assert [one.mark for one in only(found).openings] == ["A", "A-2", "A-3"]
    assert sum("a second" in note for note in found.understood.notes) == 2


def test_datum_by_line_by_point_and_by_the_corner() -> None:
    document = house()
    found = read(document)
    assert only(found).outline[0] == (0, 0)
    assert any("no line on a datum layer" in note and "100, 50" in note for note in found.understood.notes)
    assert only(read(document, replace(SIDING, datum=((0.0, 86.0),)))).outline[0] == (0, -36)
    document.modelspace().add_line((90, 80), (350, 80), {"layer": "DATUM"})
    found = read(document)
    assert only(found).outline[0] == (0, -30)
    assert only(found).openings[0].bottom == 1
    assert found.job is not None
    assert found.job.datum == "the line on layer DATUM of the drawing"


def test_each_row_of_faces_has_its_own_datum_line() -> None:
    document = drawing()
    space = document.modelspace()
    for y in (0, 500):
        outline(space, box(0, y, 240, 96), "A-WALL")
        space.add_line((-10, y + 30), (250, y + 30), {"layer": "DATUM"})
    assert [face.outline[0] for face in read(document).job.elevations] == [(0, -30), (0, -30)]  # type: ignore[union-attr]


def test_ground_line_and_fixtures() -> None:
    document = house()
    space = document.modelspace()
    space.add_line((90, 40), (350, 27), {"layer": "GRADE"})  # falls 1 in 20
    outline(space, box(300, 60, 4, 6), "FIXTURES")
    face = only(read(document))
    (left, right) = face.grade or ()
    assert (left, right) == ((0, pytest.approx(-10.5)), (240, pytest.approx(-22.5)))
    (spigot,) = face.fixtures
    assert (spigot.mark, spigot.left, spigot.bottom, spigot.width, spigot.height) == ("F1", 200, 10, 4, 6)


def test_a_band_on_a_layer_of_roofs_is_a_roof_and_any_other_shape_is_told() -> None:
    """The wall's left end lies at x = 100, its datum at y = 50: 60 in wide at 40, 7 in deep."""
    document = house()
    space = document.modelspace()
    outline(space, box(220, 83, 60, 7), "A-ELEV-ROOF")
    outline(space, ((110, 110), (150, 110), (130, 130)), "A-ELEV-ROOF")
    found = read(document)
    (roof,) = only(found).roofs
    assert (roof.kind, roof.line, roof.depth) == ("roof", ((120, 40), (180, 40)), 7)
    assert any("is no band of one depth: left out" in note for note in found.understood.notes)


@pytest.mark.parametrize("step", [((220, 40), (220, 10)), ((220, 10), (220, 40))])
def test_ground_in_single_lines_may_step(step: tuple[tuple[int, int], tuple[int, int]]) -> None:
    """The wall's left end lies at x = 100, its datum at y = 50: down by 30 after 120."""
    document = house()
    for start, end in (((220, 10), (400, 10)), step, ((90, 40), (220, 40))):
        document.modelspace().add_line(start, end, {"layer": "GRADE"})
    assert only(read(document)).grade == ((0, -10), (120, -10), (120, -40), (240, -40))


def test_ground_between_marks_is_told_to_a_sixty_fourth() -> None:
    """From -9 to -13 over 440: at 40 and 280 of its length -9 - 4/11 = -9.3636 and -9 - 28/11 = -11.5454."""
    document = house()
    document.modelspace().add_line((60, 41), (500, 37), {"layer": "GRADE"})
    assert only(read(document)).grade == ((0, -599 / 64), (240, -739 / 64))


def test_what_is_of_no_use_is_told_with_its_place() -> None:
    document = house()
    space = document.modelspace()
    outline(space, box(1000, 50, 36, 48), "A-GLAZ")
    space.add_line((120, 60), (320, 60), {"layer": "A-WALL"})
    space.add_point((5, 6), {"layer": "A-WALL"})
    outline(space, box(160, 81, 36, 48), "A-GLAZ")
    outline(space, box(200, 60, 20, 20), "A-WALL")
    found = read(document)
    assert sorted(why(found)) == [
        "LINE A-WALL: a line on a layer of walls that closes to no outline",
        f"LWPOLYLINE A-GLAZ: drawn a second time over {found.understood.things['Face 1', 'W1']}",
        "LWPOLYLINE A-GLAZ: outside every wall",
        "LWPOLYLINE A-WALL: an outline inside a wall, on a layer of walls",
        "POINT A-WALL: of no use for an outline",
    ]
    point = next(one.source for one in found.unused if one.source.kind == "POINT")
    assert point.at == (5, 6)
    assert point.handle


def test_hidden_layers_and_paper_space_are_left_out() -> None:
    document = house()
    outline(document.modelspace(), box(250, 60, 20, 20), "OLD-WINDOWS")
    document.layers.add("OLD-WINDOWS").off()
    outline(document.paperspace(), box(0, 0, 500, 500), "A-WALL")
    assert len(only(read(document)).openings) == 1
    named = with_layers("window=A-GLAZ", "window=OLD-WINDOWS")
    assert len(only(read(document, named)).openings) == 2


def test_one_layer_can_hold_walls_and_openings() -> None:
    document = house("0", "0")
    for wishes in (SIDING, with_layers("wall=0", "window=0")):
        face = only(read(document, wishes))
        assert face.outline == WALL
        assert face.openings[0].width == 36


def test_a_layer_whose_name_may_mean_another_thing_is_looked_at_by_its_shapes() -> None:
    """A window's tag on a layer that may be walls is no wall; --yes takes the layer for what it may be."""
    document = house("ELEVATION")
    outline(document.modelspace(), box(500, 50, 40, 60), "ELEVATION")
    assert only(read(document)).outline == WALL
    for wishes in (replace(SIDING, accept=True), with_layers("wall=ELEVATION")):
        job = read(document, wishes).job
        assert job is not None
        assert len(job.elevations) == 2


def test_layers_that_the_drawing_does_not_have_are_told() -> None:
    found = faults(house(), with_layers("wall=A-WAL"))
    assert found[0].found == '"wall=A-WAL", which the drawing does not have'
    assert '"A-WALL"' in found[0].wanted


def test_a_curved_gable_is_cut_into_chords() -> None:
    """A segment of rise 40 over 240: radius 200, and half its angle a: it holds r²(a - sin a cos a)."""
    document = drawing()
    outline(document.modelspace(), [(0, 0), (240, 0), (240, 96, 40 / 120), (0, 96, 0)], "A-WALL")
    face = only(read(document))
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in sides(face.outline)) / 2
    radius = (120**2 + 40**2) / (2 * 40)
    half = asin(120 / radius)
    segment = radius**2 * (half - sin(half) * cos(half))
    assert area == pytest.approx(240 * 96 + segment, rel=2e-4)
    assert max(y for _, y in face.outline) == pytest.approx(136)


def test_a_job_it_is_like_gives_what_a_drawing_does_not_say() -> None:
    first = read(house())
    assert first.job is not None
    face = replace(
        first.job.elevations[0],
        name="Street",
        left="butts",
        weight=3.0,
        openings=(
            replace(first.job.elevations[0].openings[0], trim=Trim(4, 2, 3), head_edge="must", left=5.0),
        ),
    )
    like = replace(first.job, name="Old job", elevations=(face,))
    found = read(house(), replace(SIDING, cladding=None, like=like))
    assert found.job is not None
    assert found.job.name == "Old job"
    street = only(found)
    assert (street.name, street.left, street.weight) == ("Street", "butts", 3.0)
    assert street.openings[0].trim == Trim(4, 2, 3)
    assert street.openings[0].head_edge == "must"
    assert street.openings[0].left == 60  # what is drawn holds


def test_a_job_in_other_units_than_the_drawing_names_the_cure() -> None:
    like = read(house()).job
    document = house()
    document.header["$INSUNITS"] = 4
    told = [fault for fault in faults(document, replace(SIDING, like=like)) if fault.place == "--like"]
    assert [fault.found for fault in told] == [
        "a job in inches, and a drawing in millimetres (by the header)"
    ]
    assert "--units in" in told[0].wanted


def test_a_face_that_a_drafter_renamed_is_told() -> None:
    first = read(house()).job
    assert first is not None
    like = replace(first, elevations=(replace(first.elevations[0], name="Street"),))
    document = house()
    document.modelspace().add_text("ROAD ELEVATION", height=9).set_placement((150, 30))
    notes = read(document, replace(SIDING, cladding=None, like=like)).understood.notes
    assert 'face "Street": named so, not "Road" as drawn, because its wall is alike' in notes


def test_every_fault_at_once() -> None:
    document = drawing(0)
    space = document.modelspace()
    outline(space, box(0, 0, 240, 96)[:3], "A-WALL", closed=False)
    found = faults(document, Wishes(layers={"door": ["X"]}))
    assert [fault.place.partition(" ")[0] for fault in found] == ["--layer", "the", "LWPOLYLINE", "the"]


def test_the_same_drawing_gives_the_same_job_file() -> None:
    data = written(house())
    assert read(data).text == read(data).text
    assert read(data).text.startswith("# From house.dxf, drawn in inches.\n")


def test_tangent_of_a_quarter_is_the_bulge() -> None:
    """A half circle has the bulge tan(180/4) = 1, as used above."""
    assert tan(pi / 4) == pytest.approx(1)


def test_a_drawing_that_another_program_wrote(tmp_path: Path) -> None:
    """GDAL's writer: a gable wall, a window and a datum line; its header says no units that can be used."""
    shapes = {
        "A-WALL": [[0, 0], [240, 0], [240, 96], [120, 156], [0, 96], [0, 0]],
        "A-GLAZ": [[60, 31], [96, 31], [96, 79], [60, 79], [60, 31]],
        "DATUM": [[-10, 30], [260, 30]],
    }
    features = [
        {
            "type": "Feature",
            "properties": {"Layer": layer},
            "geometry": {"type": "LineString", "coordinates": points},
        }
        for layer, points in shapes.items()
    ]
    source, target = tmp_path / "a.json", tmp_path / "a.dxf"
    source.write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    subprocess.run([tool("ogr2ogr"), "-f", "DXF", str(target), str(source)], check=True)
    face = only(read(target.read_bytes(), replace(SIDING, units="in")))
    assert face.outline == ((0, -30), (240, -30), (240, 66), (120, 126), (0, 66))
    assert [(one.left, one.bottom, one.width, one.height) for one in face.openings] == [(60, 1, 36, 48)]
