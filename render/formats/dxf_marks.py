"""Marks of the neutral drawing as DXF entities."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import cos, hypot, radians, sin
from typing import Any

from evencourse.layout.model.tolerance import ROUNDING
from evencourse.render.drawing.drawing import (
    Block,
    Circle,
    Dimension,
    Facts,
    Leader,
    Line,
    Mark,
    Path,
    Point,
    Text,
)
from evencourse.render.drawing.flatten import OVERSHOOT, TEXT_GAP, TICK
from evencourse.render.drawing.pens import TEXT, Pen
from evencourse.render.formats.cad_set import UNPRINTED
from evencourse.render.formats.dxf_document import APPID, BOLD_STYLE, STYLE, NewDxf, line_weight
from evencourse.render.formats.dxf_paragraphs import Paragraph, paragraphs
from evencourse.render.formats.dxf_space import Space
from evencourse.render.formats.dxf_text import for_mtext, for_text, plain

_HORIZONTAL = {"start": 0, "middle": 1, "end": 2}
_VERTICAL = {"baseline": 0, "middle": 2, "cap": 3}
_SHIFT_TO_MIDDLE = {"baseline": 0.5, "middle": 0.0, "cap": -0.5}
_RISE_TO_CAP = {"baseline": 1.0, "middle": 0.5, "cap": 0.0}
#: Line spacing of MTEXT at factor 1, over the height of its capitals (DXF reference, MTEXT, group code 44).
_LINE_SPACING = 5 / 3
_INT_32 = 2**31
_XDATA_LENGTH = 240
_INVISIBLE = 1
#: Distance of hidden attributes, which stand below each other [mm of paper].
_LINE = 4.0
#: A mask is as large as its lettering: where courses are narrow it must not cover that of its neighbours.
_MASK = 1.0
#: Stroke of lettering in stroke fonts, over its height (ISO 3098, type B).
_STROKE = 0.1


class Writer:
    """Writes marks into one DXF document."""

    def __init__(self, target: NewDxf) -> None:
        self.target = target
        self.title_blocks: dict[object, str] = {}

    def write(self, marks: Sequence[Mark], space: Space) -> None:
        """Write marks in painting order; dimensions last, whose lettering masks what it stands on."""
        for mark in paragraphs(marks, space):
            match mark:
                case Line():
                    self._line(mark, space)
                case Path():
                    self._path(mark, space)
                case Circle():
                    self._circle(mark, space)
                case Text():
                    self._text(mark, space)
                case Paragraph():
                    self._paragraph(mark, space)
                case Leader():
                    self._leader(mark, space)
                case Block():
                    self._block(mark, space)
        for mark in marks:
            if isinstance(mark, Dimension):
                self._dimension(mark, space)

    def _line(self, line: Line, space: Space) -> None:
        entity = space.layout.add_line(
            space.at(line.start), space.at(line.end), dxfattribs=self.target.look(line.pen, space.mm)
        )
        _tell(entity, line.facts)

    def _path(self, path: Path, space: Space) -> None:
        points = [space.at(point) for point in path.points]
        bulges = path.bulges or (0.0,) * len(points)
        vertices = [(x, y, bulge) for (x, y), bulge in zip(points, bulges, strict=True)]
        if path.fill is not None:
            self._fill(path.fill, vertices, space)
        if path.pen is not None:
            look = self.target.look(path.pen, space.mm)
            _tell(
                space.layout.add_lwpolyline(vertices, format="xyb", close=path.closed, dxfattribs=look),
                path.facts,
            )

    def _circle(self, circle: Circle, space: Space) -> None:
        (x, y), radius = space.at(circle.centre), circle.radius * space.scale
        if circle.fill is not None:
            self._fill(circle.fill, [(x - radius, y, 1.0), (x + radius, y, 1.0)], space)
        if circle.pen is not None:
            look = self.target.look(circle.pen, space.mm)
            _tell(space.layout.add_circle((x, y), radius, dxfattribs=look), circle.facts)

    def _fill(self, pen: Pen, vertices: Sequence[tuple[float, float, float]], space: Space) -> None:
        if pen in UNPRINTED:
            return
        look = self._ink(pen, space)
        if len(vertices) in (3, 4) and not any(bulge for _, _, bulge in vertices) and _convex(vertices):
            corners = [(x, y) for x, y, _ in vertices]
            if len(corners) == 4:
                corners[2], corners[3] = corners[3], corners[2]
            space.layout.add_solid(corners, dxfattribs=look)
            return
        colour = look.pop("color", 256)
        hatch = space.layout.add_hatch(color=colour, dxfattribs=look)
        hatch.paths.add_polyline_path(vertices, is_closed=True)

    def _text(self, text: Text, space: Space) -> None:
        if text.ground:
            self._masked(text, space)
        elif text.text.strip():
            space.layout.add_text(for_text(text.text), dxfattribs=self._lettering(text, space))

    def _paragraph(self, paragraph: Paragraph, space: Space) -> None:
        first = paragraph.lines[0]
        x, y = space.at(first.at)
        rise = _RISE_TO_CAP[first.vertical] * first.height * space.mm
        space.layout.add_mtext(
            "\\P".join(for_mtext(line.text) for line in paragraph.lines),
            dxfattribs={
                **self._hand(first, space),
                "char_height": first.height * space.mm,
                "insert": (x, y + rise),
                "attachment_point": 1 + _HORIZONTAL[first.horizontal],
                "line_spacing_style": 2,  # exact
                "line_spacing_factor": paragraph.leading / (first.height * _LINE_SPACING),
            },
        )

    def _ink(self, pen: Pen, space: Space) -> dict[str, Any]:
        """The look of fills and lettering, which is never dashed."""
        look = self.target.look(pen, space.mm)
        if pen.dash:
            look["linetype"] = "Continuous"
            look.pop("ltscale", None)
        return look

    def _hand(self, text: Text, space: Space) -> dict[str, Any]:
        """The look of lettering: its colour, font and stroke."""
        return {
            **self._ink(text.pen, space),
            "style": BOLD_STYLE if text.weight == "bold" else STYLE,
            "lineweight": line_weight(_STROKE * text.height),
        }

    def _lettering(self, text: Text, space: Space) -> dict[str, Any]:
        """What TEXT, ATTRIB and ATTDEF have in common."""
        at = space.at(text.at)
        attributes = {
            **self._hand(text, space),
            "height": text.height * space.mm,
            "insert": at,
            "rotation": text.angle,
        }
        horizontal, vertical = _HORIZONTAL[text.horizontal], _VERTICAL[text.vertical]
        if horizontal or vertical:
            attributes |= {"halign": horizontal, "valign": vertical, "align_point": at}
        return attributes

    def _masked(self, text: Text, space: Space) -> None:
        """MTEXT, which can mask what lies under it."""
        turn = radians(text.angle)
        up = _SHIFT_TO_MIDDLE[text.vertical] * text.height * space.mm
        x, y = space.at(text.at)
        entity = space.layout.add_mtext(
            for_mtext(text.text),
            dxfattribs={
                **self._hand(text, space),
                "char_height": text.height * space.mm,
                "insert": (x - up * sin(turn), y + up * cos(turn)),
                "rotation": text.angle,
                "attachment_point": 4 + _HORIZONTAL[text.horizontal],
            },
        )
        if self.target.modern:
            entity.set_bg_color("canvas", scale=_MASK)

    def _dimension(self, dim: Dimension, space: Space) -> None:
        """A dimension that measures itself, with its picture.

        A program that draws it anew, because a drafter has stretched it, shows the new length. Only where the
        tape's mark is not the rounded length (heights are rounded from the datum, so that a sum does not
        drift) does it keep its text.
        """
        picture = self.target.doc.blocks.new_anonymous_block(type_char="D")
        inner = Space(picture, space.mm)
        turn = radians(dim.angle)
        along, across = (cos(turn), sin(turn)), (-sin(turn), cos(turn))
        start, end, line = space.at(dim.start), space.at(dim.end), space.at(dim.line)

        def on_line(point: Point) -> Point:
            off = (line[0] - point[0]) * across[0] + (line[1] - point[1]) * across[1]
            return (point[0] + off * across[0], point[1] + off * across[1])

        feet = (on_line(start), on_line(end))
        look = self.target.look(dim.pen, space.mm)
        for one, other in _strokes(dim, (start, end), feet, space.mm):
            picture.add_line(one, other, dxfattribs=look)
        if dim.text_at is not None:
            centre = space.at(dim.text_at)
        else:
            lift = (TEXT_GAP + dim.height / 2) * space.mm
            centre = (
                (feet[0][0] + feet[1][0]) / 2 + across[0] * lift,
                (feet[0][1] + feet[1][1]) / 2 + across[1] * lift,
            )
        self._masked(
            Text(dim.pen, centre, dim.text, dim.height, "middle", "middle", dim.text_angle, ground=True),
            inner,
        )
        for point in (start, end, feet[1]):
            picture.add_point(point, dxfattribs={"layer": "Defpoints"})
        measured = abs((dim.end[0] - dim.start[0]) * along[0] + (dim.end[1] - dim.start[1]) * along[1])
        space.layout.new_entity(
            "DIMENSION",
            {
                **look,
                "dimtype": 32 | (128 if dim.text_at is not None else 0),
                "defpoint": feet[1],
                "defpoint2": start,
                "defpoint3": end,
                "angle": dim.angle,
                **({"text_rotation": dim.text_angle} if dim.text_angle != dim.angle else {}),
                "text": for_mtext(self.target.tape.measuring(dim.text, measured)),
                "text_midpoint": centre,
                "attachment_point": 5,
                "actual_measurement": measured,
                "dimstyle": self.target.dim_style(space.mm, dim.height, length_factor=1 / space.scale),
                "geometry": picture.name,
            },
        )

    def _leader(self, leader: Leader, space: Space) -> None:
        entity = space.layout.new_entity(
            "LEADER",
            {
                **self.target.look(leader.pen, space.mm),
                "dimstyle": self.target.dim_style(space.mm, 2.5, leader.head),
                "has_arrowhead": int(leader.head != "none"),
                "annotation_type": 3,
                "has_hookline": 0,
            },
        )
        entity.set_vertices([space.at(point) for point in leader.points])

    def _block(self, block: Block, space: Space) -> None:
        """A block with attributes.

        Lettering that shows an attribute's value becomes that attribute: a mark or a title block can be
        changed where it is read. What is not shown is there all the same, hidden. Title blocks of sheets that
        differ in nothing but what they say are one block.
        """
        items = list(block.items)
        shown: dict[str, Text] = {}
        for tag, value in block.attributes:
            words = [item for item in items if isinstance(item, Text) and not item.ground]
            text = next((item for item in words if item.text == value), None)
            if text is not None:
                items.remove(text)
                shown[tag] = text
        corner = space.at(block.at)
        sheet = dict(block.attributes).get("SHEET")
        known = (tuple(items), corner, tuple(tag for tag, _ in block.attributes)) if sheet else None
        word = self.title_blocks.get(known) if known else None
        if word is None:
            word = self.target.block_name(block.name.removesuffix(sheet or "").strip())
            if known is not None:
                self.title_blocks[known] = word
            self._define(word, block, items, shown, space)
        insert = space.layout.add_blockref(word, corner, dxfattribs={"layer": _block_layer(block)})
        _tell(insert, block.facts)
        for tag, text, flags in _attributes(block, shown, space):
            look = {**self._lettering(text, space), **flags}
            insert.add_attrib(tag, for_text(text.text), space.at(text.at), dxfattribs=look)

    def _define(
        self, word: str, block: Block, items: Sequence[Mark], shown: Mapping[str, Text], space: Space
    ) -> None:
        definition = self.target.doc.blocks.new(word)
        corner = space.at(block.at)
        inside = replace(
            space, layout=definition, shift=(space.shift[0] - corner[0], space.shift[1] - corner[1])
        )
        self.write(items, inside)
        for tag, text, flags in _attributes(block, shown, space):
            look = {**self._lettering(text, inside), **flags, "prompt": plain(tag)}
            definition.add_attdef(tag, inside.at(text.at), for_text(text.text), dxfattribs=look)


def _attributes(
    block: Block, shown: Mapping[str, Text], space: Space
) -> Iterator[tuple[str, Text, dict[str, int]]]:
    """Attributes with their lettering and their flags: hidden ones stand under each other."""
    for row, (tag, value) in enumerate(block.attributes):
        below = (block.at[0], block.at[1] - _LINE * row * space.mm / space.scale)
        flags = {} if tag in shown else {"flags": _INVISIBLE}
        yield _tag(tag), shown.get(tag, Text(TEXT, below, value)), flags


def _strokes(
    dim: Dimension, ends: tuple[Point, Point], feet: tuple[Point, Point], mm: float
) -> Iterator[tuple[Point, Point]]:
    """Extension lines, dimension line and oblique ticks."""
    for point, foot in zip(ends, feet, strict=True):
        far = hypot(foot[0] - point[0], foot[1] - point[1])
        if far > dim.extension_gap * mm * (1 + ROUNDING):
            one = ((foot[0] - point[0]) / far, (foot[1] - point[1]) / far)
            gap, past = dim.extension_gap * mm, far + OVERSHOOT * mm
            yield (
                (point[0] + one[0] * gap, point[1] + one[1] * gap),
                (point[0] + one[0] * past, point[1] + one[1] * past),
            )
    yield feet
    slope = radians(dim.angle + 45)
    dx, dy = TICK * mm * cos(slope), TICK * mm * sin(slope)
    for x, y in feet:
        yield ((x - dx, y - dy), (x + dx, y + dy))


def _convex(vertices: Sequence[tuple[float, float, float]]) -> bool:
    """Whether a closed outline turns the same way at every corner."""
    count = len(vertices)
    turns = []
    for index in range(count):
        (x0, y0, _), (x1, y1, _), (x2, y2, _) = (vertices[(index + step) % count] for step in range(3))
        turns.append((x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1))
    return min(turns) >= 0 or max(turns) <= 0


def _block_layer(block: Block) -> str:
    """The layer of the block's heaviest mark: what it is."""
    pens = [item.pen for item in block.items if isinstance(item, Line | Path | Circle) and item.pen]
    return max(pens, key=lambda pen: pen.width).layer if pens else TEXT.layer


def _tag(tag: str) -> str:
    return re.sub(r"[^A-Z0-9_-]", "_", tag.upper())


def _tell(entity: Any, facts: Facts) -> None:
    """Facts as extended data: a name, then its value."""
    if not facts:
        return
    tags: list[tuple[int, str | float | int]] = []
    for key, value in facts:
        tags.append((1000, key))
        if isinstance(value, str):
            tags.append((1000, _cut(plain(value))))
        elif isinstance(value, int) and abs(value) < _INT_32:
            tags.append((1071, value))
        else:
            tags.append((1040, float(value)))
    entity.set_xdata(APPID, tags)


def _cut(text: str) -> str:
    """As much of a text as extended data holds, in bytes."""
    return text.encode()[:_XDATA_LENGTH].decode(errors="ignore")
