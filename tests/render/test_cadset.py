"""The CAD file of a job: what ezdxf's auditor, GDAL and a plot through the viewports find in it."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
import shapely
from ezdxf.math import Vec3

from evencourse.cli.guide.guide_pages import page_text
from evencourse.layout.courses.planner import plan
from evencourse.layout.model.job import Elevation, Opening
from evencourse.layout.model.lengths import parse_length, show_length
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.render.border.stamp import Stamp
from evencourse.render.building.wall_face import courses
from evencourse.render.drawing.drawing import Sheet, Text
from evencourse.render.drawing.flatten import Group, Painted, Shape, flatten
from evencourse.render.drawing.papers import paper
from evencourse.render.formats.cad_set import Version, cad_set
from evencourse.render.formats.dxf import dxf
from evencourse.render.sheets.elevation_sheets import job_sheets
from evencourse.render.words.result import Result
from tests.render import cad
from tests.render.cad import (
    FEW,
    JOBS,
    TEN_FEET,
    document,
    every_sheet,
    facts,
    made,
    papers,
    plotted,
    told,
    written,
)
from tests.render.readback import gdal_features
from tests.samples import ROOT, SAMPLES, faces_of, label, planned, result, sample
from tests.tools import tool

each_job = pytest.mark.parametrize("job", JOBS, ids=label)
each_sample = pytest.mark.parametrize("job", SAMPLES, ids=label)
each_set = pytest.mark.parametrize(
    ("job", "size"),
    [*((job, "tabloid") for job in JOBS), *((job, "letter") for job in FEW)],
    ids=lambda value: value if isinstance(value, str) else label(value),
)
Job = Path | int


@pytest.mark.parametrize(
    ("job", "version"),
    [*((job, "R2010") for job in JOBS), *((job, "R2000") for job in FEW)],
    ids=lambda value: value if isinstance(value, str) else label(value),
)
def test_the_auditor_finds_nothing(job: Job, version: Version) -> None:
    auditor = document(job, version).audit()
    assert not auditor.errors
    assert not auditor.fixes


# Model space


@each_job
def test_faces_stand_side_by_side_on_one_datum(job: Job) -> None:
    walls = told(document(job).modelspace().query("LWPOLYLINE"), "face")
    elevations = planned(job).job.elevations
    step = 100 if planned(job).job.units == "mm" else 12
    assert [data["face"] for _, data in walls] == [face.name for face in elevations]
    past = float("-inf")
    for (wall, _), face in zip(walls, elevations, strict=True):
        points = [(x, y) for x, y, *_ in wall.get_points()]
        shift = points[0][0] - face.outline[0][0]
        assert abs(shift / step - round(shift / step)) < 1e-9  # whole feet, whole decimetres
        for (x, y), (x0, y0) in zip(points, face.outline, strict=True):
            assert (x - shift, y) == pytest.approx((x0, y0), abs=1e-6)
        assert min(x for x, _ in points) > past
        past = max(x for x, _ in points)
    crosses = document(job).modelspace().query("INSERT[layer=='A-ANNO-NPLT']")
    assert [cross.get_attrib_text("FACE") for cross in crosses] == [face.name for face in elevations]
    assert {cross.dxf.insert.y for cross in crosses} == {0.0}


@each_job
def test_courses_are_lines_that_a_script_can_find(job: Job) -> None:
    found = planned(job)
    lines = [
        ((entity.dxf.start.y, entity.dxf.end.y), data)
        for entity, data in told(document(job).modelspace().query("LINE"), "exposure")
    ]
    wanted = [course for face in found.elevations for course in courses(found, face)]
    runs = [(course, run) for course in wanted for run in course.runs]
    assert len(lines) == len(runs)
    for (heights, data), (course, run) in zip(lines, runs, strict=True):
        assert heights == pytest.approx([course.height_at(x) for x in run], abs=1e-6)
        assert data["set"] == course.course_set.name
        assert data["number"] == course.number
        assert data["exposure"] == pytest.approx(course.exposure, abs=1e-9)
    assert "EVENCOURSE" in document(job).appids


def _marked(job: Job) -> dict[str, Any]:
    blocks = [block for block in document(job).modelspace().query("INSERT") if block.has_attrib("MARK")]
    holes = [block for block in blocks if block.get_attrib_text("KIND") != "fixture"]
    return {block.get_attrib_text("MARK"): block for block in holes}


@each_job
def test_openings_are_blocks_that_say_their_size_head_and_sill(job: Job) -> None:
    found = planned(job).job
    openings: list[tuple[Elevation, Opening]] = [
        (face, hole) for face in found.elevations for hole in face.openings
    ]
    blocks = _marked(job)
    for _, hole in openings:
        block, half = blocks[hole.mark], found.round / 2 + 1e-9
        said = {attribute.dxf.tag: attribute.dxf.text for attribute in block.attribs}
        sizes = [parse_length(part, found.units) for part in said["SIZE"].split(" x ")]
        assert sizes == pytest.approx([hole.width, hole.height], abs=half)
        assert parse_length(said["HEAD"], found.units) == pytest.approx(hole.head, abs=half)
        if not hole.on_base:
            assert parse_length(said["SILL"], found.units) == pytest.approx(hole.sill, abs=half)
        data = facts(block)
        assert (data["width"], data["height"], data["head"]) == (hole.width, hole.height, hole.head)
        assert block.dxf.insert.y == pytest.approx(hole.bottom, abs=1e-6)
        assert block.dxf.layer == ("A-DOOR" if "door" in hole.kind else "A-GLAZ")


@each_job
def test_curved_openings_are_true_arcs(job: Job) -> None:
    for face in planned(job).job.elevations:
        for hole in face.openings:
            if hole.shape in ("rectangle", "triangle"):
                continue
            block = _marked(job)[hole.mark]
            outline = block.block().query(f"LWPOLYLINE[layer=='{block.dxf.layer}']").first
            assert any(bulge for *_, bulge in outline.get_points())
            # The chords of the planner's outline have their corners on the arc.
            radius = [
                segment.dxf.radius for segment in outline.virtual_entities() if segment.dxftype() == "ARC"
            ]
            rise = hole.rise or hole.height / 2
            assert radius[0] == pytest.approx(((hole.width / 2) ** 2 + rise**2) / (2 * rise), rel=1e-9)
            path = Vec3.list([(x, y) for x, y, *_ in outline.get_points()])
            lift = block.dxf.insert - Vec3(hole.left, hole.bottom)
            low = min(point.x for point in path) + block.dxf.insert.x - lift.x
            assert low == pytest.approx(hole.left, abs=1e-9)


@each_job
def test_pieces_are_closed_outlines_on_a_layer_that_is_off(job: Job) -> None:
    layer = document(job).layers.get("A-ELEV-PIEC")
    assert layer.is_off()
    outlines = told(document(job).modelspace().query("LWPOLYLINE[layer=='A-ELEV-PIEC']"), "piece")
    found = list(pieces(planned(job)).all())
    assert len(outlines) == len(found)
    for (outline, data), piece in zip(outlines, found, strict=True):
        assert outline.closed
        assert (data["piece"], data["number"]) == (piece.id, piece.course)
        points = [(x, y) for x, y, *_ in outline.get_points()]
        shift = points[0][0] - piece.polygon[0][0]
        for (x, y), (x0, y0) in zip(points, piece.polygon, strict=True):
            assert (x - shift, y) == pytest.approx((x0, y0), abs=1e-6)


@each_set
def test_dimensions_measure_themselves_and_show_what_the_tape_reads(job: Job, size: str) -> None:
    """What ezdxf measures, times DIMLFAC, rounded to DIMRND, is what the picture says where ``<>`` stands.

    On whole faces as on parts of one, which have real dimensions on their paper.
    """
    found = planned(job).job
    drawing = document(job, paper=size)
    dimensions = [one for layout in drawing.layouts for one in layout.query("DIMENSION")]
    alive = 0
    for dimension in dimensions:
        style = drawing.dimstyles.get(dimension.dxf.dimstyle)
        measured = dimension.get_measurement() * style.dxf.dimlfac
        assert measured == pytest.approx(dimension.dxf.actual_measurement, abs=1e-6)
        assert style.dxf.dimrnd == found.round
        (words,) = dimension.get_geometry_block().query("MTEXT")
        if "<>" in dimension.dxf.text:
            alive += 1
            tape = show_length(round(measured / found.round) * found.round, found.units, found.round)
            assert words.plain_text() == dimension.dxf.text.replace("<>", tape)
        else:
            said = parse_length(dimension.dxf.text.split("  ")[-1], found.units)
            assert abs(said - measured) <= found.round + 1e-6
    assert len(dimensions) > 2
    assert alive >= 0.9 * len(dimensions)


@each_sample
def test_units_and_dimension_styles_are_those_of_the_job(job: Job) -> None:
    """DXF reference: $INSUNITS 1 inches, 4 millimetres; $MEASUREMENT 0 English; DIMLUNIT 4 architectural."""
    metric = planned(job).job.units == "mm"
    drawing = document(job)
    assert drawing.header["$INSUNITS"] == (4 if metric else 1)
    assert drawing.header["$MEASUREMENT"] == int(metric)
    assert drawing.header["$LUNITS"] == (2 if metric else 4)
    used = {dimension.dxf.dimstyle for dimension in drawing.query("DIMENSION")}
    for name in used:
        assert drawing.dimstyles.get(name).dxf.dimlunit == (2 if metric else 4)


@each_sample
def test_notes_are_paragraphs_whose_lines_lie_where_the_sheet_has_them(job: Job) -> None:
    """DXF reference, MTEXT: line spacing is factor x 5/3 x height of the capitals."""
    unit = made(job).unit
    sheets = every_sheet(job)
    for layout, sheet in zip(papers(document(job)), sheets, strict=True):
        wanted = [mark for mark in sheet.marks if isinstance(mark, Text)]
        read = [(text.dxf.text, text.get_placement()[1].y * unit) for text in layout.query("TEXT")]
        for paragraph in layout.query("MTEXT"):
            step = paragraph.dxf.char_height * 5 / 3 * paragraph.dxf.line_spacing_factor * unit
            lines = paragraph.plain_text(split=True)
            assert len(lines) > 1
            read += [(line, paragraph.dxf.insert.y * unit - step * row) for row, line in enumerate(lines)]
        for mark in wanted:  # a paragraph hangs from the capitals of its first line
            rise = {"cap": 0.0, "middle": mark.height / 2}.get(mark.vertical, mark.height)
            heights = [height for line, height in read if line == mark.text]
            assert any(abs(height - mark.at[1] - up) < 1e-6 for height in heights for up in (0.0, rise))


# GDAL


@each_job
def test_gdal_reads_the_same_layers_counts_and_coordinates(job: Job, tmp_path: Path) -> None:
    program = tool("ogr2ogr")
    file = tmp_path / "job.dxf"
    file.write_bytes(written(job))
    seen: dict[str, list[dict[str, Any]]] = {}
    for feature in gdal_features(program, file):
        seen.setdefault(feature["properties"]["EntityHandle"], []).append(feature)
    counted: Counter[str] = Counter()
    # GDAL reads the section of entities, which holds model space and the paper of the active layout.
    for space in (document(job).modelspace(), papers(document(job))[0]):
        for entity in space.query("LINE LWPOLYLINE SOLID TEXT"):
            (feature,) = seen[entity.dxf.handle]
            assert feature["properties"]["Layer"] == entity.dxf.layer
            counted[entity.dxf.layer] += 1
            read = feature["geometry"]["coordinates"]
            match entity.dxftype():
                case "LINE":
                    wanted = [entity.dxf.start, entity.dxf.end]
                case "LWPOLYLINE":
                    wanted = [Vec3(x, y) for x, y, *_ in entity.get_points()]
                    wanted += wanted[:1] if entity.closed else []
                case "TEXT":
                    read = [read]
                    _, at, _ = entity.get_placement()
                    wanted = [at]
                case _:
                    read = read[0]
                    wanted = entity.wcs_vertices(close=True)
            assert len(read) == len(wanted)
            for point, place in zip(read, wanted, strict=True):
                assert point[:2] == pytest.approx([place.x, place.y], abs=1e-6)
    assert counted["A-ELEV-OTLN"] == len(planned(job).elevations)
    assert counted["A-ELEV-PIEC"] >= len(list(pieces(planned(job)).all()))
    assert {*counted} > {"A-ELEV-CRSE", "A-ELEV-STRT", "A-ANNO-LADR", "A-ANNO-TTLB"}


# Paper space


@each_set
def test_every_sheet_is_a_layout_with_one_locked_viewport(job: Job, size: str) -> None:
    found = planned(job)
    sheets = every_sheet(job, size)
    layouts = papers(document(job, paper=size))
    assert len(layouts) == len(sheets)
    unit = 25.4 if found.job.units == "in" else 1.0
    for layout, sheet in zip(layouts, sheets, strict=True):
        (viewport,) = [view for view in layout.viewports() if view.dxf.id != 1]
        assert viewport.dxf.flags & 16384  # DXF reference, VIEWPORT: locked
        shown = viewport.dxf.height / viewport.dxf.view_height
        assert shown == pytest.approx(sheet.views[0].scale, rel=1e-9)
        page = layout.dxf_layout.dxf
        assert (page.paper_width, page.paper_height) == pytest.approx(sheet.paper)  # always millimetres
        assert (page.limmax[0] * unit, page.limmax[1] * unit) == pytest.approx(sheet.paper)
        assert (page.scale_numerator, page.scale_denominator) == (1, 1)
        assert page.plot_paper_units == (0 if unit != 1.0 else 1)
        assert page.current_style_sheet == "monochrome.ctb"
        assert page.plot_layout_flags & 32  # DXF reference, PLOTSETTINGS: plot by plot styles
        assert page.plot_layout_flags & 128  # DXF reference, PLOTSETTINGS: print line weights
        title = layout.query("INSERT").first
        said = {attribute.dxf.tag: attribute.dxf.text for attribute in title.attribs}
        assert said["JOB"] == found.job.name
        assert said["SHEET"] == sheet.label
        assert layout.name.partition(" ")[0] == sheet.label
        assert said["UNITS"] == ("feet and inches" if unit != 1.0 else "mm")


@pytest.mark.long
@pytest.mark.parametrize(
    ("size", "name"),
    [
        ("letter", "ANSI_A_(11.00_x_8.50_Inches)"),
        ("tabloid", "ANSI_B_(17.00_x_11.00_Inches)"),
        ("ARCH D", "ARCH_D_(36.00_x_24.00_Inches)"),
        ("A3", "ISO_A3_(16.54_x_11.69_Inches)"),
    ],
)
def test_papers_bear_the_names_that_plotters_know(size: str, name: str) -> None:
    assert papers(document(SAMPLES[0], paper=size))[0].dxf_layout.dxf.paper_size == name


def _face(text: str) -> Result:
    from evencourse.layout.jobfile.job_file import parse_job

    return Result(plan(parse_job(text)))


def test_ten_feet_of_wall_plot_as_ten_feet_at_the_scale_of_the_sheet() -> None:
    found = _face(TEN_FEET)
    sheets = job_sheets(found, "letter")
    drawing = cad.read(dxf(cad_set(found, sheets)))
    xs = [x for x, _ in plotted(drawing, papers(drawing)[0])["A-ELEV-OTLN"]]
    assert sheets[0][0].views[0].scale == 1 / 24  # 1/2" = 1'-0"
    assert max(xs) - min(xs) == pytest.approx(5.0, abs=1e-9)  # ten half inches


@pytest.mark.long
@pytest.mark.parametrize("job", FEW, ids=label)
def test_layouts_plot_where_the_pdf_prints(job: Job) -> None:
    """Wall, courses, trim and ladder: the same box on the paper, within two hundredths of a millimetre."""
    found = planned(job)
    unit = 25.4 if found.job.units == "in" else 1.0
    sheets = every_sheet(job)
    for layout, sheet in zip(papers(document(job)), sheets, strict=True):
        lines = plotted(document(job), layout)
        for layer in (
            "A-ELEV-OTLN",
            "A-ELEV-CRSE",
            "A-ELEV-BAND",
            "A-ELEV-STRT",
            "A-ANNO-LADR",
            "A-ELEV-TRIM",
        ):
            shapes = [shape for shape in shapes_of(sheet) if shape.pen and shape.pen.layer == layer]
            if not shapes or any(shape.bulges for shape in shapes):
                continue  # the corners of an arc are not its ends
            paths = [(*shape.points, *shape.points[: int(shape.closed)]) for shape in shapes]
            window = sheet.views[layer == "A-ANNO-LADR"].window  # the ladder stands beside what is cut
            printed = shapely.MultiLineString(paths).intersection(shapely.box(*window))
            ours = [(x * unit, y * unit) for x, y in lines[layer]]
            assert shapely.MultiPoint(ours).bounds == pytest.approx(printed.bounds, abs=0.02)


def shapes_of(sheet: Sheet) -> list[Shape]:
    items: list[Painted] = [item for part in flatten(sheet) for item in part.items]
    shapes = []
    while items:
        item = items.pop()
        if isinstance(item, Group):
            items += item.items
        elif isinstance(item, Shape):
            shapes.append(item)
    return shapes


@pytest.mark.long
def test_lettering_of_a_part_lies_on_its_paper_and_that_of_the_whole_face_is_frozen_there() -> None:
    job = sample("walk-out")
    drawing = document(job, paper="letter")
    parts = [layout for layout in papers(drawing) if "part" in layout.name]
    assert len(parts) >= 2
    for layout in parts:
        (viewport,) = [view for view in layout.viewports() if view.dxf.id != 1]
        assert {"A-ANNO-DIMS", "A-ANNO-TEXT", "A-ANNO-LADR", "A-ANNO-NOTE"} <= {*viewport.frozen_layers}
        assert not [
            layer
            for layer in viewport.frozen_layers
            if not layer.startswith("A-ANNO-") and layer != "A-ELEV-PIDN"
        ]
        assert layout.query("DIMENSION")
    whole = next(layout for layout in papers(drawing) if "part" not in layout.name)
    assert not [one for one in whole if one.dxf.layer == "A-ANNO-DIMS"]
    assert len(drawing.modelspace().query("DIMENSION")) > 20


# The whole file


@pytest.mark.long
def test_r2000_holds_nothing_that_r2000_lacks() -> None:
    """True colours (420), their names (430), transparency (440) came with R2004; masks (90, 63, 45 of MTEXT)
    and DIMTFILL with R2007 (DXF reference)."""
    for job in FEW:
        text = written(job, "R2000").decode("cp1252")
        groups = list(zip(text.split("\n")[::2], text.split("\n")[1::2], strict=False))
        assert ("  9", "$CUSTOMPROPERTYTAG") not in groups
        assert "AC1015" in text[:200]
        assert not [value for code, value in groups if code.strip() in ("420", "430", "440")]
        assert all(not entity.dxf.hasattr("bg_fill") for entity in document(job, "R2000").query("MTEXT"))


@pytest.mark.long
def test_no_clock_no_machine_no_chance_in_a_file(tmp_path: Path) -> None:
    """Another process, another hash seed, another user, another day: the same bytes."""
    code = (
        "import sys; from pathlib import Path\n"
        "from tests.render.cad import FEW, written\n"
        "data = (written(FEW[-1], version) for version in ('R2000', 'R2010'))\n"
        "Path(sys.argv[1]).write_bytes(b''.join(data))\n"
    )
    found = []
    for seed, user in (("1", "one"), ("77", "two")):
        file = tmp_path / seed
        subprocess.run(
            [sys.executable, "-c", code, str(file)],
            env={**os.environ, "PYTHONHASHSEED": seed, "USER": user, "LOGNAME": user, "TZ": f"UTC{seed[0]}"},
            cwd=ROOT,
            check=True,
            timeout=120,
        )
        found.append(file.read_bytes())
    assert found[0] == found[1]
    assert not re.search(rb"ezdxf|/tmp|\.pc3|\bone\b user", found[0], re.IGNORECASE)


def test_a_date_in_the_file_is_the_one_that_was_given() -> None:
    found = result(SAMPLES[0])
    sheets = job_sheets(found, "tabloid", Stamp("2025-03-14"))
    data = dxf(cad_set(found, sheets, date="2025-03-14"))
    # Julian date of that midnight: 2000-01-01 12:00 is 2451545.0 (IAU), and 9203.5 days lie between.
    assert re.search(rb"\$TDCREATE\s+40\s+2460748\.5\s", data)
    drawing = cad.read(data)
    assert "2025-03-14" in {attribute.dxf.text for attribute in drawing.query("INSERT")[-1].attribs}


def test_one_face_alone_stands_at_its_own_origin() -> None:
    found = result(SAMPLES[0])
    drawing = cad.read(dxf(cad_set(found, faces_of(SAMPLES[0]), faces=[1])))
    ((wall, data),) = told(drawing.modelspace().query("LWPOLYLINE"), "face")
    assert data["face"] == found.job.elevations[1].name
    assert wall.get_points()[0][:2] == pytest.approx(found.job.elevations[1].outline[0], abs=1e-9)


@each_sample
def test_what_is_no_line_of_the_siding_lies_on_no_layer_of_it(job: Job) -> None:
    """Boards have no lines between faces; hatching of the ground has its own layer; no line is a point."""
    drawing, found = document(job), planned(job)
    space = drawing.modelspace()
    faces = space.query('LINE[layer=="A-ELEV-FACE"]')
    panels = any(one.cladding.faces > 1 for one in found.course_sets.values())
    assert bool(faces) is panels
    low = min(height for face in found.elevations for _, height in face.elevation.outline)
    assert all(line.dxf.start.y > low - 1 for line in faces)
    assert len(space.query('LINE[layer=="A-ELEV-PATT"]')) > 5
    holders = [space, *(drawing.blocks.get(one.dxf.name) for one in space.query("INSERT"))]
    lines = [line for holder in holders for line in holder.query("LINE")]
    assert all((line.dxf.end - line.dxf.start).magnitude > 1e-6 for line in lines)


@pytest.mark.long
def test_every_layer_stands_in_the_table_of_the_guide() -> None:
    """Discipline, major and minor group as in the US National CAD Standard: A-ELEV-OTLN."""
    row = re.compile(r"^\| `(A-[A-Z-]+)` \| [^|]+ \| ([\d.]+) \|", re.MULTILINE)
    table = {name: float(width) for name, width in row.findall(page_text("cad"))}
    seen = set()
    for job in JOBS:
        drawing = document(job, paper="letter" if job in FEW else "tabloid")
        layers = {layer.dxf.name: layer for layer in drawing.layers}
        used = {entity.dxf.layer for entity in drawing.entitydb.values() if entity.dxf.hasattr("layer")}
        assert {*layers} == {*used, "0", "Defpoints"}
        assert {*layers} - {"0", "Defpoints"} <= {*table}
        for name in {*layers} - {"0", "Defpoints"}:
            assert re.fullmatch(r"A(-[A-Z]{4}){1,2}", name)
            assert layers[name].dxf.lineweight == table[name] * 100
            assert layers[name].description
            seen.add(name)
    # The second language's own is looked at where two are drawn (test_second_language).
    assert seen == {*table} - {"A-ANNO-LANG"}


@pytest.mark.long
def test_metric_and_inch_papers_are_in_the_units_of_the_job() -> None:
    for job in SAMPLES:
        unit = made(job).unit
        assert papers(document(job))[0].dxf_layout.dxf.limmax[0] * unit == pytest.approx(
            paper("tabloid").width
        )
