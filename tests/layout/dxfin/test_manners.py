"""Drawings in the manners of other programs: faces, openings and units right with no more than the picks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencourse.layout.drawings.drawing_import import Import
from evencourse.layout.drawings.picks import read_picks
from evencourse.layout.model.errors import Fault
from tests.layout.dxfin.drawings import SIDING, box, drawing, faults, outline, read
from tests.layout.dxfin.manners import HOUSE, MANNERS, SHED, a_lower_wing, plain


def found_in(result: Import) -> list[tuple[tuple[float, float], list[tuple[float, ...]]]]:
    """Width, height and openings of every face, in sixteenths of an inch."""
    assert result.job is not None
    inch = 25.4 if result.job.units == "mm" else 1.0

    def mark(*values: float) -> tuple[float, ...]:
        return tuple(round(value / inch * 16) / 16 for value in values)

    faces = []
    for face in result.job.elevations:
        xs, ys = [x for x, _ in face.outline], [y for _, y in face.outline]
        openings = [mark(o.left - min(xs), o.bottom - min(ys), o.width, o.height) for o in face.openings]
        size = mark(max(xs) - min(xs), max(ys) - min(ys))
        faces.append(((size[0], size[1]), sorted(openings)))
    return sorted(faces)


@pytest.mark.parametrize("manner", MANNERS)
def test_faces_openings_and_units_are_what_a_person_sees(manner: str) -> None:
    seen = MANNERS[manner]()
    told: list[Fault] = []
    wishes = replace(
        SIDING,
        units=seen.units,
        faces=read_picks("--face", seen.faces_picked, told),
        openings=read_picks("--opening", seen.openings_picked, told),
    )
    assert told == []
    expected = sorted(
        ((float(w), float(h)), sorted(tuple(map(float, one)) for one in holes))
        for (w, h), holes in seen.faces
    )
    assert found_in(read(seen.document, wishes)) == expected


@pytest.mark.parametrize("manner", ["wrong header units", "no units, metres", "old polylines, no units"])
def test_sizes_of_openings_say_which_units_are_meant(manner: str) -> None:
    seen = MANNERS[manner]()
    shown = read(seen.document, make_job=False)
    assert shown.scale.name == seen.units
    assert any(f"add --units {seen.units}" in note for note in shown.understood.notes)
    (fault,) = [one for one in faults(seen.document) if "--units" in one.wanted]
    assert f"--units {seen.units}" in fault.wanted or f"perhaps {seen.units}" in fault.wanted


def test_doors_are_told_from_windows_by_where_they_stand() -> None:
    document = drawing()
    outline(document.modelspace(), box(0, 0, 480, 120), "0")
    for left, low, width, height in ((20, 0, 36, 80), (100, 30, 36, 80), (200, 0, 112, 84), (400, 0, 30, 40)):
        outline(document.modelspace(), box(left, low, width, height), "0")
    (face,) = read(document).job.elevations  # type: ignore[union-attr]
    assert [one.kind for one in face.openings] == ["door", "window", "garage door", "window"]


def test_a_plan_and_a_section_are_no_faces_until_they_are_picked() -> None:
    shown = read(MANNERS["sheet with plan"]().document, make_job=False)
    views = [(one.number, one.shape.what, one.shape.taken) for one in shown.regions]
    assert [(what, taken) for _, what, taken in views[:2]] == [("face", True)] * 2
    assert {(what, taken) for _, what, taken in views[2:4]} == {("plan", False), ("section", False)}
    assert {face.name for face in shown.understood.elevations} == {"Front", "Alzado norte"}


def test_a_plan_on_layers_of_walls_is_told() -> None:
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 360, 300), "A-WALL")
    outline(space, box(40, 0, 36, 6), "A-GLAZ")
    space.add_text("FLOOR PLAN", height=9).set_placement((100, -20))
    (fault,) = faults(document)
    assert "1 that may be a plan" in fault.found
    assert "--face" in fault.found
    document.modelspace().add_text("REAR ELEVATION", height=9).set_placement((100, -12))
    assert read(document).job.elevations[0].name == "Rear"  # type: ignore[union-attr]


def test_a_sentence_is_no_title_of_a_view() -> None:
    document = drawing()
    plain(document.modelspace(), (0, 0), SHED)
    note = "Heights from: laser line, 40 in above the top of the foundation"
    document.modelspace().add_text(note, height=4).set_placement((0, -20))
    assert len(read(document).job.elevations) == 1  # type: ignore[union-attr]
    document.modelspace().add_text("FOUNDATION PLAN", height=9).set_placement((0, -20))
    assert "1 that may be a plan" in faults(document)[0].found


def test_regions_side_by_side_unite_to_one_face() -> None:
    """Two storeys of which only the lower has windows, an offset of 24 in between them."""
    document = drawing()
    space = document.modelspace()
    plain(space, (0, 0), SHED)
    outline(space, box(24, 96, 96, 90), "0")
    shown = read(document, make_job=False)
    (upper,) = [one.number for one in shown.regions if one.shape.points[0] == (24, 96)]
    picks = read_picks("--face", [f"1+{upper}=Tower"], [])
    (face,) = read(document, replace(SIDING, faces=picks)).job.elevations  # type: ignore[union-attr]
    assert face.name == "Tower"
    assert len(face.outline) == 8
    assert max(y for _, y in face.outline) == 186
    assert len(face.openings) == 2


def test_a_hole_and_its_casing_are_both_numbered_and_the_casing_is_told() -> None:
    document = MANNERS["casings, a rail in them"]().document
    shown = read(document, make_job=False)
    (told,) = [note for note in shown.understood.notes if "casing" in note]
    assert told.startswith("what lies round 4 openings is their casing")
    (number,) = [one.number for one in shown.regions if one.shape.points[0] == (26.5, 28.5)]
    picks = read_picks("--opening", [str(number)], [])
    (face,) = read(document, replace(SIDING, openings=picks)).job.elevations  # type: ignore[union-attr]
    assert [(one.width, one.height) for one in face.openings] == [(43, 55)]


def test_a_second_outline_close_within_an_opening_is_told() -> None:
    """2 in inside: a sash, or a hole within brick molding; nothing tells which."""
    document = drawing()
    space = document.modelspace()
    for one in ((0, 0, 360, 108), (30, 32, 36, 48), (32, 34, 32, 44), (100, 32, 36, 48)):
        outline(space, box(*one), "0")
    shown = read(document, make_job=False)
    assert [(one.left, one.width) for one in shown.understood.elevations[0].openings] == [(30, 36), (100, 36)]
    (told,) = [note for note in shown.understood.notes if "sash" in note]
    assert "in an opening (LWPOLYLINE" in told
    (inner,) = [one for one in shown.regions if one.shape.points[0] == (32, 34)]
    assert inner.shape.what == "region"


def test_panes_side_by_side_unite_to_one_opening_of_a_kind() -> None:
    document = MANNERS["butt-jointed casings"]().document
    shown = read(document, make_job=False)
    panes = [one.number for one in shown.regions if one.shape.points[0] in ((30, 32), (30, 56))]
    panes = [number for number in panes if shown.regions[number - 1].shape.what == "region"]
    far = next(one.number for one in shown.regions if one.shape.points[0] == (240, 56))
    told: list[Fault] = []
    picks = read_picks("--opening", [f"{panes[0]}+{panes[1]}=A,garage-door"], told)
    assert told == []
    (face,) = read(document, replace(SIDING, openings=picks)).job.elevations  # type: ignore[union-attr]
    (opening,) = face.openings
    assert (opening.mark, opening.kind, opening.width, opening.height) == ("A", "garage door", 36, 48)
    apart = read_picks("--opening", [f"{panes[0]}+{far}"], told)
    (fault,) = faults(document, replace(SIDING, openings=apart))
    assert "lie apart" in fault.found


def test_a_region_picked_twice_is_asked_back() -> None:
    document = drawing()
    plain(document.modelspace(), (0, 0), SHED)
    for option, field in (("--face", "faces"), ("--opening", "openings")):
        picks = read_picks(option, ["2=A" if field == "openings" else "1=A"] * 2, [])
        (fault,) = faults(document, replace(SIDING, **{field: picks}))
        assert (fault.place, "picked 2 times" in fault.found) == (option, True)


@pytest.mark.parametrize(("given", "kind"), [("garage-door", "garage door"), ("Door", "door")])
def test_a_picked_kind_is_read_as_the_layer_s_role_is_written(given: str, kind: str) -> None:
    document = drawing()
    plain(document.modelspace(), (0, 0), SHED)
    picks = read_picks("--opening", [f"2={given}"], [])
    (face,) = read(document, replace(SIDING, openings=picks)).job.elevations  # type: ignore[union-attr]
    assert face.openings[0].kind == kind


def test_a_wing_without_openings_is_listed_and_numbered() -> None:
    shown = read(a_lower_wing(True, 0).document, make_job=False)
    (wing,) = [one for one in shown.unused if "as large as a wall" in one.why]
    assert wing.source.at == (300, 0)
    assert any(one.shape.points[:2] == ((300, 0), (500, 0)) for one in shown.regions)


@pytest.mark.parametrize("layer", ["0", "Misc"])
def test_an_outline_in_a_wall_on_a_layer_without_a_role_is_listed(layer: str) -> None:
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, *HOUSE[0]), "WALL")
    outline(space, box(30, 32, 36, 48), "WINDOW")
    outline(space, box(32, 34, 32, 44), layer)  # its sash says nothing more
    outline(space, box(100, 32, 36, 48), layer)
    (spare,) = read(document).unused
    assert (spare.source.layer, spare.source.at) == (layer, (100, 32))
    assert "--opening" in spare.why


def test_sloping_ground_across_a_wall_is_listed() -> None:
    (line,) = read(MANNERS["ground across a door"]().document).unused
    assert "as the ground is drawn" in line.why


def test_numbers_do_not_change_with_what_is_picked() -> None:
    document = MANNERS["sheet with plan"]().document
    whole = read(document, make_job=False).regions
    picks = read_picks("--face", ["2"], [])
    assert read(document, replace(SIDING, faces=picks), make_job=False).regions == whole
    (face,) = read(document, replace(SIDING, faces=picks)).job.elevations  # type: ignore[union-attr]
    assert len(face.openings) in (len(HOUSE[1]), 8)
