"""Broken and hostile drawings: a clear fault or a correct result, never a trace, never without end.

The heavy ones run in a process of their own that may not take more than 1 GiB.
"""

from __future__ import annotations

import io
import random
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from math import cos, pi, sin
from pathlib import Path
from typing import Any

import pytest

from evencourse.layout.drawings.first_look import Wishes
from evencourse.layout.model.errors import JobError
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

WALL = ((0.0, 0.0), (240.0, 0.0), (240.0, 96.0), (0.0, 96.0))
HOUSE = written(house())
INCHES = replace(SIDING, units="in")


def entities(*groups: object) -> bytes:
    """A file of an ENTITIES section alone, from codes and values."""
    pairs = ["0", "SECTION", "2", "ENTITIES", *(str(group) for group in groups), "0", "ENDSEC", "0", "EOF"]
    return ("\n".join(pairs) + "\n").encode("latin-1")


def line(layer: str, *values: object, handle: str = "A1") -> list[object]:
    codes = (10, 20, 11, 21)
    pairs = [part for code, value in zip(codes, values, strict=True) for part in (code, value)]
    return [0, "LINE", 5, handle, 8, layer, *pairs]


def wall_lines() -> list[object]:
    """The wall as four lines."""
    return [part for a, b in sides(list(WALL)) for part in line("A-WALL", *a, *b)]


def only_fault(source: Any, wishes: Wishes = INCHES) -> str:
    (fault,) = faults(source, wishes)
    return str(fault)


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (b"", "an empty file"),
        (b"Dear drafter,\nplease find the elevation below.\n" * 9, '"Dear drafter,"'),
        (b"AC1032" + bytes(500), "a DWG file"),
        (b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 9, "bytes that are no text, 89 50 4e 47"),
        (b"PK\x03\x04\x14\x00\x08\x08" + bytes(99), "bytes that are no text"),
        ("  0\nSECTION\n".encode("utf-16"), "text in UTF-16"),
        (b"[job]\nname = 'x'\n", '"[job]"'),
        (b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n", "ends in the middle"),
        (b"  0\nEOF\n", "no SECTION with entities"),
        (b"\n" * 1000, "an empty or unreadable line"),
        (b"0" * 3_000_000, "a line of more than"),
        (b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n  8\nA\n 1x\n3\n  0\nEOF\n", '"1x"'),
    ],
    ids=lambda value: None if isinstance(value, bytes) else value[:20],
)  # fmt: skip
def test_what_is_no_dxf_is_told(data: bytes, found: str) -> None:
    assert found in only_fault(data)


def test_a_file_cut_off_anywhere_is_told() -> None:
    whole = HOUSE.rstrip().removesuffix(b"EOF").rstrip()
    for end in range(100, len(whole), 997):
        assert "ends in the middle" in only_fault(HOUSE[:end]) or "group code" in only_fault(HOUSE[:end])


def test_a_binary_file_cut_off_anywhere_is_told() -> None:
    data = written(house(), binary=True)
    for end in range(100, len(data) - 4, 997):
        assert "drawing" in only_fault(data[:end])


def test_damaged_bytes_never_leave_a_trace() -> None:
    """300 copies of the house, each with some bytes changed: a fault, or the house, or part of it."""
    chance = random.Random(7)
    for binary in (False, True):
        data = written(house(), binary)
        for _ in range(150):
            broken = bytearray(data)
            for _ in range(chance.randint(1, 12)):
                broken[chance.randrange(len(broken))] = chance.randrange(256)
            try:
                read(bytes(broken), INCHES)
            except JobError as error:
                assert error.faults


@pytest.mark.parametrize("value", ["nan", "inf", "-inf", "1e999", "1e300", "12.3.4", "", "1,5", "0x10"])
def test_coordinates_that_are_no_numbers_are_told_with_the_entity(value: str) -> None:
    data = entities(*line("A-WALL", 0, 0, value, 0), *wall_lines())
    fault = faults(data, INCHES)[0]
    assert fault.place.startswith('LINE A1 on layer "A-WALL"')
    assert fault.line == 5


def test_damage_on_layers_that_do_not_matter_does_not_matter() -> None:
    walls = wall_lines()
    assert (
        read(entities(*line("A-ANNO-DIMS", "x", 0, 0, 0), *walls), INCHES).job.elevations[0].outline == WALL
    )  # type: ignore[union-attr]


def test_a_house_far_from_the_origin_is_the_same_house() -> None:
    document = drawing()
    outline(document.modelspace(), box(4e6, -7e6, 240, 96), "A-WALL")
    outline(document.modelspace(), box(4e6 + 60, -7e6 + 31, 36.25, 48), "A-GLAZ")
    face = read(document).job.elevations[0]  # type: ignore[union-attr]
    assert face.outline == WALL
    assert (face.openings[0].left, face.openings[0].width) == (60, 36.25)


def test_places_far_from_the_origin_are_told_in_full() -> None:
    document = drawing()
    outline(document.modelspace(), box(2.1e7, 1.8e8, 240, 96), "A-WALL")
    outline(document.modelspace(), box(2.1e7 + 60.25, 1.8e8 + 31, 36, 48), "A-GLAZ")
    understood = read(document).understood
    (source,) = understood.things.values()
    assert str(source).endswith("at 21000060.2, 180000031")
    assert any("at 21000000, 180000000" in note for note in understood.notes)


def test_a_damaged_line_on_a_layer_that_says_nothing_is_listed() -> None:
    data = entities(*line("0", "nan", 0, 5, 0), *("0" if one == "A-WALL" else one for one in wall_lines()))
    found = read(data, INCHES)
    assert [one.why for one in found.unused] == ["the coordinate nan"]


def test_open_ends_name_the_tolerance_that_lets_them_meet() -> None:
    """Every side of a wall and of a window ends 1/8 in short of the next: twice the usual tolerance."""
    document = drawing()
    for ring in (box(0, 0, 240, 96), box(60, 31, 36, 48)):
        for (x, y), (u, v) in sides(ring):
            run, rise = (u > x) - (u < x), (v > y) - (v < y)
            document.modelspace().add_line((x, y), (u - run / 8, v - rise / 8))
    assert "ends lie apart; --tolerance 1/8 lets them meet" in only_fault(document)
    face = read(document, replace(SIDING, tolerance=1 / 8)).job.elevations[0]  # type: ignore[union-attr]
    assert len(face.openings) == 1


def test_a_layer_that_is_not_read_and_speaks_of_walls_is_named() -> None:
    document = drawing()
    outline(document.modelspace(), box(0, 0, 240, 96), "WALL CONSTRUCTION")
    outline(document.modelspace(), box(60, 31, 36, 48), "DOOR")
    assert '--layer "wall=WALL CONSTRUCTION" takes it' in only_fault(document)


def test_lines_on_paper_alone_are_counted() -> None:
    document = drawing()
    document.blocks.new("ARROW").add_line((0, 0), (1, 1))
    outline(document.layout("Layout1"), box(0, 0, 30, 8), "0")
    assert "found no line in model space; wanted elevations there: 1 line" in only_fault(document)


def test_coordinates_beyond_any_site_are_told() -> None:
    document = drawing()
    outline(document.modelspace(), box(1e12, 0, 240, 96), "A-WALL")
    assert "the coordinate 1e+12" in only_fault(document)


def test_open_outlines_are_told_with_both_ends() -> None:
    document = drawing()
    outline(document.modelspace(), [(0, 0), (240, 0), (240, 96), (3, 96)], "A-WALL", closed=False)
    fault = only_fault(document)
    assert "does not close: from 0, 0 to 3, 96" in fault
    assert "--tolerance" in fault


def test_an_outline_that_crosses_itself_is_told() -> None:
    document = drawing()
    outline(document.modelspace(), [(0, 0), (240, 0), (0, 96), (240, 96)], "A-WALL")
    assert "crossing or touching" in only_fault(document)
    assert "LWPOLYLINE" in only_fault(document)
    document = drawing()
    lines(document.modelspace(), sides([(0, 0), (240, 0), (0, 96), (240, 110)]), "A-WALL")
    faces = read(document).job.elevations  # type: ignore[union-attr]
    assert [len(face.outline) for face in faces] == [3, 3]  # what single lines enclose is on both sides


def test_outlines_drawn_twice_count_once() -> None:
    document = house()
    outline(document.modelspace(), box(100, 50, 240, 96), "A-WALL")
    outline(document.modelspace(), box(100, 50, 240, 96)[::-1], "A-WALL")
    found = read(document)
    assert len(found.job.elevations) == 1  # type: ignore[union-attr]
    assert [line.partition(": ")[2][:20] for line in why(found)] == ["drawn a second time "] * 2


def test_things_without_size_are_told() -> None:
    document = house()
    space = document.modelspace()
    outline(space, [(130, 60), (130, 60), (130, 60)], "A-GLAZ")
    outline(space, [(130, 60), (140, 60), (150, 60)], "A-GLAZ")
    space.add_line((1, 1), (1, 1), {"layer": "A-WALL"})
    found = read(document)
    assert len(found.job.elevations[0].openings) == 1  # type: ignore[union-attr]
    assert len(found.unused) >= 2


def test_a_wall_without_area_is_no_wall() -> None:
    document = drawing()
    outline(document.modelspace(), [(0, 0), (240, 0), (120, 0)], "A-WALL")
    assert "no closed outline on a layer of walls" in only_fault(document)


def test_a_model_in_space_is_no_elevation() -> None:
    document = drawing()
    space = document.modelspace()
    corners = [(0, 0, 0), (240, 0, 0), (240, 0, 96), (0, 0, 96)]
    space.add_polyline3d(corners, close=True, dxfattribs={"layer": "A-WALL"})
    space.add_3dface([(0, 0, 0), (240, 0, 0), (240, 0, 96)], dxfattribs={"layer": "A-WALL"})
    assert "no closed outline" in only_fault(document)


def nested(names: list[str], times: int) -> Any:
    """Blocks one in another, each ``times`` in the next; the last holds a line."""
    document = drawing()
    outline(document.modelspace(), box(0, 0, 240, 96), "A-WALL")
    for name, inner in zip(names, [*names[1:], ""], strict=True):
        block = document.blocks.new(name)
        block.add_line((0, 0), (1, 1), {"layer": "0"})
        for _ in range(times if inner else 0):
            block.add_blockref(inner, (0, 0))
    document.modelspace().add_blockref(names[0], (0, 0), {"layer": "A-WALL"})
    return document


def test_blocks_that_hold_themselves_are_told() -> None:
    document = nested(["A", "B", "C"], 1)
    document.blocks.get("C").add_blockref("A", (0, 0))
    assert 'a block that holds itself: "A" in "C" in "B" in "A"' in only_fault(document)


def test_a_block_bomb_is_told() -> None:
    """Ten in ten in ten …: 10 to the 9th lines."""
    assert "blocks come to more than" in only_fault(nested([f"B{k}" for k in range(10)], 10))


def test_blocks_nested_very_deep_are_told() -> None:
    assert "more than 32 blocks in one another" in only_fault(nested([f"B{k}" for k in range(900)], 1))


def test_rows_and_columns_without_end_are_told() -> None:
    document = nested(["A"], 1)
    document.modelspace()[1].dxf.row_count = 30_000
    document.modelspace()[1].dxf.column_count = 30_000
    assert any("30000 columns and 30000 rows" in one for one in why(read(document)))


def test_missing_and_empty_blocks_are_told() -> None:
    document = house()
    document.blocks.new("EMPTY")
    for name in ("EMPTY", "NOWHERE"):
        document.modelspace().add_blockref(name, (120, 60), {"layer": "A-GLAZ"})
    assert why(read(document)) == [
        "INSERT A-GLAZ: a block without lines",
        "INSERT A-GLAZ: a block that the file does not hold",
    ]


def test_mirrored_blocks_are_where_they_are_drawn() -> None:
    """The block reaches 30 to the right of its base point: mirrored, 30 to the left."""
    document = drawing()
    outline(document.modelspace(), box(0, 0, 400, 96), "A-WALL")
    outline(document.blocks.new("W"), box(0, 0, 30, 40), "0")
    document.modelspace().add_blockref("W", (100, 30), {"layer": "A-GLAZ", "xscale": -1})
    document.modelspace().add_blockref("W", (-200, 30), {"layer": "A-GLAZ", "extrusion": (0, 0, -1)})
    document.modelspace().add_blockref("W", (300, 80), {"layer": "A-GLAZ", "yscale": -1})
    openings = read(document).job.elevations[0].openings  # type: ignore[union-attr]
    assert [(one.left, one.bottom) for one in openings] == [(70, 30), (170, 30), (300, 40)]


def test_openings_outside_and_across_the_wall() -> None:
    document = house()
    outline(document.modelspace(), box(330, 60, 36, 20), "A-GLAZ")  # the wall ends at 340
    outline(document.modelspace(), box(900, 60, 36, 20), "A-GLAZ")
    fault = only_fault(document)
    assert 'opening "W2" (LWPOLYLINE' in fault
    assert "inside its wall" in fault


def test_openings_over_one_another_are_told() -> None:
    document = house()
    outline(document.modelspace(), box(180, 90, 36, 48), "A-GLAZ")
    assert 'lies over opening "W1"' in only_fault(document)


@pytest.mark.parametrize("page", ["ANSI_9999", "", "utf8", "../../etc", "ANSI_932", "\x00"])
def test_unknown_code_pages_are_read_all_the_same(page: str) -> None:
    text = HOUSE.replace(b"AC1024", b"AC1015").replace(b"ANSI_1252", page.encode())
    found = read(text.replace(b"A-GLAZ", b"WINDOWS \xe9\xff\x81"), INCHES)
    assert len(found.job.elevations[0].openings) == 1  # type: ignore[union-attr]


@pytest.mark.parametrize("code", [0, -1, 3, 21, 9999, 10**12])
def test_units_that_no_elevation_has_are_told(code: int) -> None:
    data = HOUSE.replace(b"$INSUNITS\n 70\n1\n", b"$INSUNITS\n 70\n%d\n" % code)
    assert data != HOUSE or code == 1
    assert "--units" in only_fault(data, SIDING)


def test_a_file_of_entities_alone_is_read() -> None:
    walls = wall_lines()
    assert read(entities(*walls), INCHES).job.elevations[0].outline == WALL  # type: ignore[union-attr]
    assert "no units in the header" in only_fault(entities(*walls), SIDING)


def test_line_ends_of_every_system_are_read() -> None:
    for end in (b"\r\n", b"\r"):
        assert read(HOUSE.replace(b"\n", end)).text == read(HOUSE).text
    assert read(b"\xef\xbb\xbf" + HOUSE).text == read(HOUSE).text


def test_names_of_any_length_and_kind_make_a_job_that_reads() -> None:
    document = house()
    space = document.modelspace()
    space.add_text("FRONT " * 500 + '\x07\u202e"]\n[job]', height=9).set_placement((200, 40))
    space.add_text("'\"\\", height=9).set_placement((178, 100))
    found = read(document)
    assert found.job is not None
    assert len(found.job.elevations[0].name) <= 80
    assert found.job.elevations[0].openings[0].mark == "'\"\\"


@pytest.mark.parametrize("record", ["[job]\nname = 3\n", "\x00", "x = [" * 5000, "[job]\nunits = 'mm'\n"])
def test_a_carried_job_that_cannot_be_read_is_left_out(record: str) -> None:
    lines = [part for one in record.split("\n") for part in (1, one)]
    walls = wall_lines()
    carried = [0, "ENDSEC", 0, "SECTION", 2, "OBJECTS", 0, "XRECORD", 1, "evencourse job file", *lines]
    found = read(entities(*walls, *carried), INCHES)
    assert "cannot be read" in found.understood.notes[0]
    assert found.job is not None


def test_curves_without_a_shape_are_told() -> None:
    bad: list[list[object]] = [
        [0, "CIRCLE", 8, "A-GLAZ", 10, 5, 20, 5, 40, -3],
        [0, "ELLIPSE", 8, "A-GLAZ", 10, 5, 20, 5, 11, 0, 21, 0, 40, 1],
        [0, "SPLINE", 8, "A-GLAZ", 71, 3, 10, 1, 20, 2],
        [0, "SPLINE", 8, "A-GLAZ", 71, 3, *([40, 0] * 8), *([10, 1, 20, 1] * 4)],
        [0, "SPLINE", 8, "A-GLAZ", 71, 3, *(part for k in range(9) for part in (10, k, 20, k * k)), 40, 5],
        [0, "LWPOLYLINE", 8, "A-GLAZ", 90, 1, 10, 1, 20, 1],
        [0, "INSERT", 8, "A-GLAZ", 2, "X", 41, 0],
        [0, "POLYLINE", 8, "A-GLAZ", 70, 1, 0, "SEQEND"],
        [0, "POLYLINE", 8, "A-GLAZ", 70, 64, 0, "VERTEX", 10, 1, 20, 1, 0, "SEQEND"],
    ]
    walls = wall_lines()
    for one in bad:
        try:
            found = read(entities(*one, *walls), INCHES)
            assert len(found.unused) == 1
        except JobError as error:
            assert error.faults[0].place.startswith(str(one[1]))


#: Heavy drawings, each a writer of its lines, and what comes of it.
def many_lines(layer: str, count: int) -> Iterator[str]:
    for k in range(count):
        x, y = k % 997, k // 997
        yield f"  0\nLINE\n  8\n{layer}\n 10\n{x}\n 20\n{y}\n 11\n{x + 5}\n 21\n{y + 3}\n"


def many_boxes(layer: str, count: int) -> Iterator[str]:
    for k in range(count):
        x, y = k % 100 * 2.3, k // 100 * 0.9
        corners = "".join(f" 10\n{a}\n 20\n{b}\n" for a, b in box(x, y, 2, 0.5))
        yield f"  0\nLWPOLYLINE\n  8\n{layer}\n 70\n1\n{corners}"


def one_polyline(count: int) -> Iterator[str]:
    yield "  0\nLWPOLYLINE\n  8\nA-WALL\n 70\n1\n"
    for k in range(count):
        yield f" 10\n{200 * cos(2 * pi * k / count)}\n 20\n{200 * sin(2 * pi * k / count)}\n"


def many_texts(count: int) -> Iterator[str]:
    for k in range(count):
        yield f"  0\nTEXT\n  8\nTAGS\n 10\n{k % 240}\n 20\n{k % 96}\n 40\n3\n  1\nA{k}\n"


def every_corner_to_every_other(count: int) -> Iterator[str]:
    places = [(120 + 100 * cos(2 * pi * k / count), 50 + 40 * sin(2 * pi * k / count)) for k in range(count)]
    for k, (x, y) in enumerate(places):
        for a, b in places[k + 1 :]:
            yield f"  0\nLINE\n  8\nA-WALL\n 10\n{x}\n 20\n{y}\n 11\n{a}\n 21\n{b}\n"


def many_blocks(count: int) -> Iterator[str]:
    for k in range(count):
        yield f"  0\nINSERT\n  8\nPLANTS\n  2\nTREE\n 10\n{k % 240}\n 20\n{k % 96}\n"


def many_layers(count: int) -> Iterator[str]:
    for k in range(count):
        yield from many_lines(f"X{k}", 1)


HEAVY: dict[str, tuple[Callable[[], Iterator[str]], str]] = {
    "lines elsewhere": (lambda: many_lines("HATCHING", 120_000), "1 face"),
    "lines on a wall": (lambda: many_lines("A-WALL", 120_000), "more than 100000 entities"),
    "lines on a wall that are kept": (lambda: many_lines("A-WALL", 20_000), "fault"),
    "walls": (lambda: many_boxes("A-WALL", 1_500), "1500 walls with 6000 corners"),
    "windows": (lambda: many_boxes("A-GLAZ", 2_100), "2100 outlines on layers of the role window"),
    "one polyline": (lambda: one_polyline(130_000), "corners"),
    "one longer polyline": (lambda: one_polyline(450_000), "more values than that in one LWPOLYLINE"),
    "a web of walls": (lambda: every_corner_to_every_other(40), "no closed outline"),
    "blocks elsewhere": (lambda: many_blocks(120_000), "1 face"),
    "layers": (lambda: many_layers(30_000), "more than 20000 layers"),
    "lettering": (lambda: many_texts(50_000), "1 face"),
}

PROGRAM = """
import resource, sys
resource.setrlimit(resource.RLIMIT_AS, (2**30, 2**30))
from evencourse.layout.drawings.first_look import Wishes, look
from evencourse.layout.drawings.drawing_import import understand
from evencourse.layout.model.errors import JobError
wishes = Wishes(units="in", cladding="double-4", name="House")
try:
    with open(sys.argv[1], "rb") as file:
        found = understand(look(file, wishes), wishes)
    print(len(found.job.elevations), "face", len(found.unused))
except JobError as error:
    print("fault", len(error.faults), error.faults[0])
"""


@pytest.mark.long
@pytest.mark.parametrize("name", HEAVY)
def test_heavy_drawings_end_within_a_gibibyte(name: str, tmp_path: Path) -> None:
    make, expected = HEAVY[name]
    path = tmp_path / "heavy.dxf"
    with path.open("w") as file:
        file.write("  0\nSECTION\n  2\nENTITIES\n")
        if "wall" not in name and "polyline" not in name:
            file.write(
                "  0\nLWPOLYLINE\n  8\nA-WALL\n 70\n1\n" + "".join(f" 10\n{x}\n 20\n{y}\n" for x, y in WALL)
            )
        for text in make():
            file.write(text)
        file.write("  0\nENDSEC\n  0\nEOF\n")
    ended = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(path)], capture_output=True, text=True, check=False, timeout=60
    )
    assert ended.stderr == ""
    assert expected in ended.stdout


def test_a_reader_that_gives_bytes_one_by_one_is_read() -> None:
    class Slow(io.BytesIO):
        def read(self, size: int | None = -1, /) -> bytes:
            return super().read(min(size or 1, 65))

    from evencourse.layout.drawings.drawing_import import understand
    from evencourse.layout.drawings.first_look import look

    assert understand(look(Slow(HOUSE), SIDING), SIDING).text == read(HOUSE).text
