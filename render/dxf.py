"""Drawings as DXF: model space at full size in the job's units, on named layers, with real dimensions."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Sequence
from functools import cache
from typing import TYPE_CHECKING, Any

from render.drawing import (
    Block,
    Circle,
    Dimension,
    Drawing,
    Facts,
    Leader,
    Line,
    Mark,
    Path,
    Text,
)
from render.flatten import OVERSHOOT, TICK
from render.fonts import text_width
from render.pens import PENS, Pen

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Dxf
    from ezdxf.layouts.base import BaseLayout

#: Name under which facts travel as extended data.
APPLICATION = "EVENCOURSE"
#: The one text style: a stroke font that every CAD program has a stand-in for.
STYLE, STYLE_FONT = "EVENCOURSE", "txt"
#: The dimension style.
DIMSTYLE = "EVENCOURSE"
#: Colours of fills that are no ink on paper: left out, so that they hide nothing in a drafter's drawing.
_UNPRINTED = {"paper", "glass"}


def dxf(drawing: Drawing, scale: float, version: str = "R2010") -> bytes:
    """A drawing as a DXF file.

    Args:
        drawing: marks at full size, in the job's units.
        scale: paper over real size that its lettering and dashes are meant for.
        version: DXF version: R2000, R2004, R2007, R2010, R2013 or R2018.

    Returns:
        The file; the same bytes for the same drawing.
    """
    from ezdxf import units
    from ezdxf._options import options
    from ezdxf.filemanagement import new

    options.write_fixed_meta_data_for_testing = True
    document = new(version)
    metric = drawing.units == "mm"
    document.units = units.MM if metric else units.IN
    document.header["$MEASUREMENT"] = int(metric)
    document.header["$LUNITS"] = 2 if metric else 4
    document.header["$LUPREC"] = 0 if metric else 4
    mm = 1 / (scale * drawing.unit)
    document.header["$LTSCALE"] = mm
    document.header["$DIMSCALE"] = mm
    paper: Any = document.layouts.get("Layout1")
    size, margin, unit = ((420.0, 297.0), 10.0, "mm") if metric else ((17.0, 11.0), 0.4, "inch")
    paper.page_setup(size=size, margins=(margin,) * 4, units=unit)
    document.appids.add(APPLICATION)
    document.styles.add(STYLE, font=STYLE_FONT)
    _layers(document)
    _dimension_style(document, mm, metric)
    pen = _Pen(document, mm)
    pen.draw(drawing.marks, document.modelspace())
    for kind in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(kind)
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode("utf-8" if version not in ("R2000", "R2004") else "cp1252", "dxfreplace")


def _layers(document: Dxf) -> None:
    seen: dict[str, Pen] = {}
    for pen in PENS.values():
        if pen.layer not in seen:
            seen[pen.layer] = pen
    for pen in PENS.values():
        if pen.dash:
            pattern = [sum(pen.dash)] + [part if i % 2 == 0 else -part for i, part in enumerate(pen.dash)]
            if _linetype(pen) not in document.linetypes:
                document.linetypes.add(_linetype(pen), pattern, description=pen.name)
    for layer, pen in seen.items():
        document.layers.add(
            layer, color=pen.aci, lineweight=round(pen.width * 100), linetype=_linetype(pen)
        ).description = pen.note


def _linetype(pen: Pen) -> str:
    return f"EC-{pen.name.upper().replace(' ', '-')}" if pen.dash else "CONTINUOUS"


def _dimension_style(document: Dxf, mm: float, metric: bool) -> None:
    style: Any = document.dimstyles.add(DIMSTYLE)
    style.dxf.dimtxsty = STYLE
    style.dxf.dimscale = 1.0
    style.dxf.dimtxt = 2.5 * mm
    style.dxf.dimtsz = TICK * mm
    style.dxf.dimasz = 2 * TICK * mm
    style.dxf.dimexe = OVERSHOOT * mm
    style.dxf.dimexo = 1.0 * mm
    style.dxf.dimgap = 0.8 * mm
    style.dxf.dimtad = 1
    style.dxf.dimtih = 0
    style.dxf.dimtoh = 0
    style.dxf.dimlunit = 2 if metric else 4
    style.dxf.dimdec = 0 if metric else 4
    style.dxf.dimfrac = 2


class _Pen:
    """Draws marks into one document."""

    def __init__(self, document: Dxf, mm: float) -> None:
        self.document, self.mm = document, mm
        self.blocks: set[str] = set()

    def draw(self, marks: Iterable[Mark], space: BaseLayout) -> None:
        for mark in marks:
            match mark:
                case Line():
                    entity = space.add_line(mark.start, mark.end, self._look(mark.pen))
                    _facts(entity, mark.facts)
                case Path():
                    self._path(mark, space)
                case Circle():
                    if mark.pen is not None:
                        space.add_circle(mark.centre, mark.radius, self._look(mark.pen))
                    if mark.fill is not None and _printed(mark.fill):
                        hatch = space.add_hatch(color=256, dxfattribs={"layer": mark.fill.layer})
                        left = (mark.centre[0] - mark.radius, mark.centre[1], 1)
                        right = (mark.centre[0] + mark.radius, mark.centre[1], 1)
                        hatch.paths.add_polyline_path([left, right], is_closed=True)
                case Text():
                    self._text(mark, space)
                case Dimension():
                    self._dimension(mark, space)
                case Leader():
                    self._leader(mark, space)
                case Block():
                    self._block(mark, space)

    def _look(self, pen: Pen) -> dict[str, Any]:
        """Attributes of a stroke: what differs from its layer's own look is set on it."""
        look: dict[str, Any] = {"layer": pen.layer}
        first = _first_on(pen.layer)
        if pen.aci != first.aci:
            look["color"] = pen.aci
        if pen.width != first.width:
            look["lineweight"] = round(pen.width * 100)
        if pen.dash != first.dash:
            look["linetype"] = _linetype(pen)
        return look

    def _path(self, mark: Path, space: BaseLayout) -> None:
        bulges = (*mark.bulges, *([0.0] * (len(mark.points) - len(mark.bulges))))
        corners = [(x, y, bulge) for (x, y), bulge in zip(mark.points, bulges, strict=True)]
        if mark.fill is not None and _printed(mark.fill):
            hatch = space.add_hatch(color=256, dxfattribs={"layer": mark.fill.layer})
            if mark.fill.aci != _first_on(mark.fill.layer).aci:
                hatch.dxf.color = mark.fill.aci
            hatch.paths.add_polyline_path(corners, is_closed=True)
        if mark.pen is not None:
            entity = space.add_lwpolyline(corners, "xyb", close=mark.closed, dxfattribs=self._look(mark.pen))
            _facts(entity, mark.facts)

    def _text(self, mark: Text, space: BaseLayout) -> None:
        align = {"baseline": "", "middle": "MIDDLE_", "cap": "TOP_"}[mark.vertical]
        side = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}[mark.horizontal]
        from ezdxf.enums import TextEntityAlignment

        text = space.add_text(
            plain(mark.text),
            height=mark.height * self.mm,
            rotation=mark.angle,
            dxfattribs={**self._look(mark.pen), "style": STYLE, "lineweight": -1},
        )
        text.set_placement(mark.at, align=TextEntityAlignment[f"{align}{side}"])
        width = self._width_factor(mark)
        if width < 1:
            text.dxf.width = width

    def _width_factor(self, mark: Text) -> float:
        """Squeezes the stroke font, which runs wider, to the width that the sheet's font has."""
        measured = text_width(mark.text, mark.height, mark.weight)
        stroke = len(mark.text) * mark.height * _STROKE_ADVANCE
        return round(min(1.0, measured / stroke), 3) if stroke > 0 else 1.0

    def _dimension(self, mark: Dimension, space: BaseLayout) -> None:
        override: dict[str, Any] = {"dimtxt": mark.height * self.mm, "dimexo": mark.extension_gap * self.mm}
        dimension = space.add_linear_dim(
            base=mark.line,
            p1=mark.start,
            p2=mark.end,
            angle=mark.angle,
            text=plain(mark.text),
            dimstyle=DIMSTYLE,
            override=override,
            dxfattribs={"layer": mark.pen.layer},
        )
        if mark.text_at is not None:
            dimension.set_location(mark.text_at)
        dimension.render()

    def _leader(self, mark: Leader, space: BaseLayout) -> None:
        override = {"dimasz": 2.2 * self.mm, "dimldrblk": "_DOT" if mark.head == "dot" else ""}
        space.add_leader(
            [(*point, 0.0) for point in mark.points],
            dimstyle=DIMSTYLE,
            override=override,
            dxfattribs={**self._look(mark.pen), "has_arrowhead": int(mark.head != "none")},
        )

    def _block(self, mark: Block, space: BaseLayout) -> None:
        name = self._block_name(mark.name)
        definition = self.document.blocks.new(name, base_point=mark.at)
        self.draw(mark.items, definition)
        insert = space.add_blockref(name, mark.at, {"layer": _layer_of(mark.items)})
        drop = 0.0
        for tag, value in mark.attributes:
            at = (mark.at[0], mark.at[1] - drop)
            attributes = {"style": STYLE, "height": 2.5 * self.mm, "layer": "A-ANNO-TEXT"}
            label = re.sub(r"[^A-Z0-9_]", "_", tag.upper())
            definition.add_attdef(label, at, "", dxfattribs=attributes).is_invisible = True
            insert.add_attrib(label, plain(value), at, dxfattribs=attributes).is_invisible = True
            drop += 4.0 * self.mm

    def _block_name(self, wanted: str) -> str:
        stem = re.sub(r"[^A-Za-z0-9_$-]", "_", wanted)[:80] or "MARK"
        name, number = stem, 2
        while name.upper() in self.blocks:
            name, number = f"{stem}-{number}", number + 1
        self.blocks.add(name.upper())
        return name


#: Advance of the stroke font, for capitals of height 1. Value from memory.
_STROKE_ADVANCE = 1.0


def plain(text: str) -> str:
    """A text that DXF shows as it stands: no control characters, no codes."""
    shown = "".join(letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in text)
    return shown.replace("%%", "% %").replace("^", "^ ").replace("\\U+", "\\ U+").replace("\\M+", "\\ M+")


def _printed(fill: Pen) -> bool:
    return fill.name not in _UNPRINTED


@cache
def _first_on(layer: str) -> Pen:
    return next(pen for pen in PENS.values() if pen.layer == layer)


def _layer_of(items: Sequence[Mark]) -> str:
    for item in items:
        pen = getattr(item, "pen", None)
        if isinstance(pen, Pen):
            return pen.layer
    return "0"


def _facts(entity: Any, facts: Facts) -> None:
    if not facts:
        return
    tags: list[tuple[int, str | int | float]] = []
    for key, value in facts:
        tags.append((1000, key))
        if isinstance(value, str):
            tags.append((1000, plain(value)[:255]))
        elif isinstance(value, int):
            tags.append((1071, value))
        else:
            tags.append((1040, value))
    entity.set_xdata(APPLICATION, tags)
