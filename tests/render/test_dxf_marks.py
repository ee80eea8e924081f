"""Each kind of mark as a DXF entity: where it lies, how thick, how dashed (DXF reference, ENTITIES)."""

from __future__ import annotations

from typing import Any

import pytest
from ezdxf.math import area

from evencourse.render.drawing.drawing import (
    Block,
    Circle,
    Dimension,
    Drawing,
    Leader,
    Line,
    Mark,
    Path,
    Text,
)
from evencourse.render.drawing.pens import (
    DATUM,
    DIMENSION,
    GLASS,
    GREY_RULE,
    INK_FILL,
    LADDER_HEAVY,
    LEADER,
    OUTLINE,
    PAPER,
    SLIVER,
    TEXT,
)
from evencourse.render.formats.cad_set import CadSet, Model
from evencourse.render.formats.dxf import dxf
from tests.render import cad
from tests.render.cad import FEW, document, papers
from tests.samples import label

#: Quarter inch scale: 1 mm of paper is 48 / 25.4 inches.
MM = 48 / 25.4


def drawn(*marks: Mark) -> Any:
    model = Model(Drawing("Wall", "in", marks), 1 / MM, 0.0)
    return cad.read(dxf(CadSet("Marks", "", None, "in", (model,), ()))).modelspace()


def test_filled_circle_is_a_circle_and_a_hatch_of_its_area() -> None:
    space = drawn(Circle(TEXT, (10.0, 20.0), 5.0, fill=INK_FILL))
    circle = space.query("CIRCLE").first
    assert (circle.dxf.center.x, circle.dxf.center.y, circle.dxf.radius) == (10.0, 20.0, 5.0)
    (path,) = space.query("HATCH").first.paths
    assert [tuple(vertex) for vertex in path.vertices] == [(5.0, 20.0, 1.0), (15.0, 20.0, 1.0)]


def test_half_round_is_one_arc() -> None:
    """The bulge is the tangent of a quarter of the angle: 1 for a half circle."""
    space = drawn(Path(TEXT, ((0.0, 0.0), (10.0, 0.0)), closed=True, bulges=(0.0, 1.0)))
    (arc,) = [part for part in space.query("LWPOLYLINE").first.virtual_entities() if part.dxftype() == "ARC"]
    assert arc.dxf.radius == pytest.approx(5.0)
    assert (arc.dxf.end_angle - arc.dxf.start_angle) % 360 == pytest.approx(180.0)


def test_a_bar_is_a_solid_a_dented_shape_is_a_hatch() -> None:
    bar = ((0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (0.0, 2.0))
    dented = ((0.0, 0.0), (6.0, 0.0), (1.0, 1.0), (0.0, 6.0))
    space = drawn(Path(None, bar, True, fill=INK_FILL), Path(None, dented, True, fill=INK_FILL))
    assert area(space.query("SOLID").first.wcs_vertices()) == pytest.approx(12.0)
    assert len(space.query("HATCH")) == 1


def test_fills_that_are_no_ink_hide_nothing() -> None:
    box = ((0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (0.0, 2.0))
    space = drawn(Path(TEXT, box, True, fill=PAPER), Path(None, box, True, fill=GLASS))
    assert [entity.dxftype() for entity in space] == ["LWPOLYLINE"]


@pytest.mark.parametrize(
    ("vertical", "level"), [("baseline", 100.0), ("middle", 100.0 - 1.25 * MM), ("cap", 100.0 - 2.5 * MM)]
)
def test_masked_lettering_stands_where_plain_lettering_stands(vertical: Any, level: float) -> None:
    """MTEXT is placed by the middle of its capitals, TEXT by its anchor: the baselines are the same."""
    plain = drawn(Text(TEXT, (50.0, 100.0), "B 9", 2.5, "end", vertical)).query("TEXT").first
    masked = drawn(Text(TEXT, (50.0, 100.0), "B 9", 2.5, "end", vertical, ground=True)).query("MTEXT").first
    assert plain.dxf.height == masked.dxf.char_height == pytest.approx(2.5 * MM)
    assert masked.dxf.insert.y - 1.25 * MM == pytest.approx(level)
    assert masked.dxf.attachment_point == 6  # middle right
    assert masked.dxf.bg_fill == 3  # the colour of the drawing's ground
    assert (plain.dxf.halign, plain.dxf.valign) == (2, {"baseline": 0, "middle": 2, "cap": 3}[vertical])


def test_lettering_is_never_dashed_and_a_tenth_of_its_height_thick() -> None:
    """ISO 3098, lettering of type B: stroke over height 1 : 10."""
    text = drawn(Text(DATUM, (0.0, 0.0), "Datum", 5.0)).query("TEXT").first
    assert text.dxf.linetype == "Continuous"
    assert text.dxf.lineweight == 50


def test_a_pen_that_shares_a_layer_says_what_is_its_own() -> None:
    heavy = drawn(Line(LADDER_HEAVY, (0.0, 0.0), (5.0, 0.0))).query("LINE").first
    sliver = drawn(Line(SLIVER, (0.0, 0.0), (5.0, 0.0))).query("LINE").first
    assert (heavy.dxf.layer, heavy.dxf.lineweight) == ("A-ANNO-LADR", 50)
    assert (sliver.dxf.layer, sliver.dxf.color, sliver.rgb) == ("A-ANNO-SIGN", 1, None)


def test_leader_heads() -> None:
    for head, block in (("dot", "_DOT"), ("arrow", ""), ("none", None)):
        space = drawn(Leader(LEADER, ((0.0, 0.0), (10.0, 10.0)), head))  # type: ignore[arg-type]
        leader = space.query("LEADER").first
        style = space.doc.dimstyles.get(leader.dxf.dimstyle)
        assert leader.dxf.has_arrowhead == (block is not None)
        assert [tuple(vertex)[:2] for vertex in leader.vertices] == [(0.0, 0.0), (10.0, 10.0)]
        if block is not None:
            assert (style.dxf.get("dimldrblk") or "") == block


def test_plumb_dimension_by_hand() -> None:
    """From 0 to 61 inches up, its line 10 inches right of the wall, at 1/4" = 1'-0"."""
    mark = Dimension(DIMENSION, (0.0, 0.0), (0.0, 61.0), (10.0, 0.0), 90.0, "5' 1\"", extension_gap=1.0)
    space = drawn(mark)
    dimension = space.query("DIMENSION").first
    assert dimension.get_measurement() == pytest.approx(61.0)
    assert dimension.dxf.actual_measurement == pytest.approx(61.0)
    style = space.doc.dimstyles.get(dimension.dxf.dimstyle)
    assert (style.dxf.dimscale, style.dxf.dimtxt) == (pytest.approx(48.0), pytest.approx(2.5 / 25.4))
    strokes = dimension.get_geometry_block().query("LINE")
    plumb = [line for line in strokes if abs(line.dxf.start.x - line.dxf.end.x) < 1e-9]
    assert [line.dxf.start.x for line in plumb] == [pytest.approx(10.0)]
    level = [line for line in strokes if abs(line.dxf.start.y - line.dxf.end.y) < 1e-9]
    assert [(line.dxf.start.x, line.dxf.end.x) for line in level] == [
        pytest.approx((MM, 10.0 + 1.1 * MM))
    ] * 2
    ticks = [line for line in strokes if line not in plumb and line not in level]
    assert [line.dxf.end.distance(line.dxf.start) for line in ticks] == [pytest.approx(2.2 * MM)] * 2


def test_a_stretched_dimension_shows_its_new_length() -> None:
    """61 in are 5' 1"; its end pulled up to 96, a program draws 8'-0" anew from ``<>`` and the style."""
    mark = Dimension(DIMENSION, (0.0, 0.0), (0.0, 61.0), (10.0, 0.0), 90.0, "5' 1\"")
    dimension = drawn(mark).query("DIMENSION").first
    assert dimension.dxf.text == "<>"
    dimension.dxf.defpoint3 = (0.0, 96.0)
    assert dimension.get_measurement() == pytest.approx(96.0)


def test_lettering_that_is_an_attribute_is_not_drawn_twice() -> None:
    """A mark in an opening is its attribute, shown; what no lettering shows is there and hidden."""
    items = (Text(TEXT, (5.0, 5.0), "B", 2.5), Line(OUTLINE, (0.0, 0.0), (9.0, 0.0)))
    space = drawn(Block("opening B", (0.0, 0.0), items, (("MARK", "B"), ("SIZE", "36 x 48"))))
    insert = space.query("INSERT").first
    assert {one.dxf.tag: one.is_invisible for one in insert.attribs} == {"MARK": False, "SIZE": True}
    assert not space.doc.blocks.get(insert.dxf.name).query("TEXT")


@pytest.mark.long
@pytest.mark.parametrize("job", FEW, ids=label)
def test_dashes_plot_as_long_as_the_pdf_prints_them(job: Any) -> None:
    """With PSLTSCALE 0 a dash is its pattern times LTSCALE times the entity's, seen through the viewport."""
    drawing = document(job, paper="letter")
    unit = 25.4 if drawing.header["$INSUNITS"] == 1 else 1.0
    assert drawing.header["$PSLTSCALE"] == 0

    def pattern(entity: Any, seen: float) -> float:
        layer = drawing.layers.get(entity.dxf.layer)
        name = entity.dxf.linetype if entity.dxf.linetype != "BYLAYER" else layer.dxf.linetype
        whole = drawing.linetypes.get(name).pattern_tags.tags.get_first_value(40)
        return float(whole * drawing.header["$LTSCALE"] * entity.dxf.ltscale * seen)

    lines = drawing.modelspace().query("LINE[layer=='A-ELEV-DATM']")
    seen_by = []
    for layout in papers(drawing):
        (viewport,) = [view for view in layout.viewports() if view.dxf.id != 1]
        width = viewport.dxf.view_height * viewport.dxf.width / viewport.dxf.height
        left = viewport.dxf.view_center_point.x - width / 2
        scale = viewport.dxf.height / viewport.dxf.view_height
        for line in lines:
            if left <= line.dxf.start.x <= left + width:
                seen_by.append(pattern(line, scale) * unit)
        for match in layout.query("LINE[layer=='A-ANNO-MATC']"):
            assert pattern(match, 1.0) * unit == pytest.approx(sum(GREY_RULE.dash))
    assert seen_by
    assert seen_by == pytest.approx([sum(DATUM.dash)] * len(seen_by))
