"""A sheet as SVG: true to size, text as text, the font's used glyphs inside."""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

import svgwrite
from fontTools.subset import Options, Subsetter, load_font, save_font

from evencourse.layout.language.speech import decimals, gettext
from evencourse.render.drawing.drawing import Facts, Point, Sheet, Weight
from evencourse.render.drawing.flatten import (
    Disc,
    Group,
    Layer,
    Lettering,
    Painted,
    Shape,
    flatten,
    in_parts,
    letters,
)
from evencourse.render.drawing.font_files import FALLBACKS, FAMILY, FONT_SIZE_RATIO, font_file
from evencourse.render.drawing.other_scripts import Stroke
from evencourse.render.drawing.pens import Pen

if TYPE_CHECKING:
    import svgwrite

#: What the sheets nearly always need; more is added to the embedded font when a text has it.
_COMMON = "".join(map(chr, range(32, 127))) + "°×·–—‘’“”…½¼¾′″"
#: Embedded fonts that are kept: some ten kilobytes each.
_KEPT = 32
_FORBIDDEN = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_FAMILIES = ", ".join(f"'{name}'" if " " in name else name for name in (FAMILY, *FALLBACKS))


def svg(sheet: Sheet, *, portable: bool = True) -> bytes:
    """One sheet as an SVG file.

    Sizes are millimetres of paper. Every group carries its layer in ``data-layer``; a mark with facts carries
    them in ``data-`` attributes; openings are groups with theirs.

    Args:
        sheet: what is drawn.
        portable: the file leaves the house: the font's used glyphs are embedded and every text keeps its
            measured width where the font is absent all the same. False for a program that has the font.

    Returns:
        UTF-8; the same bytes for the same sheet.
    """
    use = _Use(measured=portable)
    drawing = _drawn(sheet, use)
    if portable:
        drawing.defs.add(drawing.style(_font_faces(_letters(flatten(sheet)))))
    out = io.StringIO()
    drawing.write(out)
    return out.getvalue().encode()


def svg_inside(sheet: Sheet, name: str) -> str:
    """One sheet as an element of an HTML page: true to size, without facts, fonts and styles of its own.

    Args:
        sheet: what is drawn.
        name: begins every identifier in it; no two elements of a page share it.
    """
    root = _drawn(sheet, _Use(measured=True, inside=name)).get_xml()
    for attribute in ("xmlns", "xmlns:ev", "xmlns:xlink", "baseProfile", "version"):
        root.attrib.pop(attribute, None)
    return ElementTree.tostring(root, encoding="unicode")


@dataclass(frozen=True)
class _Use:
    """What a drawing is for.

    Attributes:
        measured: every text keeps its measured width where the font is absent.
        inside: what begins identifiers of an element of a page; None for a file.
    """

    measured: bool
    inside: str | None = None


def _drawn(sheet: Sheet, use: _Use) -> svgwrite.Drawing:
    width, height = sheet.paper
    drawing = svgwrite.Drawing(
        size=(f"{_n(width)}mm", f"{_n(height)}mm"), viewBox=f"0 0 {_n(width)} {_n(height)}", debug=False
    )
    drawing.attribs["role"] = "graphics-document document"
    drawing.set_desc(title=_safe(sheet.title), desc=_description(sheet))
    drawing.add(drawing.rect((0, 0), (_n(width), _n(height)), fill="#ffffff"))
    root = drawing.g(font_family=_FAMILIES, fill="none", stroke_linecap="round", stroke_linejoin="round")
    if use.inside is None:
        root.attribs["style"] = "font-kerning:none;font-variant-ligatures:none;white-space:pre"
    root.attribs["xml:space"] = "preserve"
    named = _slug(sheet.title) if use.inside is None else use.inside
    for number, layer in enumerate(flatten(sheet)):
        group = root
        if layer.window is not None:
            left, bottom, right, top = layer.window
            clip = drawing.clipPath(id=f"window-{named}-{number}")
            clip.add(drawing.rect((_n(left), _n(height - top)), (_n(right - left), _n(top - bottom))))
            drawing.defs.add(clip)
            group = root.add(drawing.g(clip_path=clip.get_funciri()))
        for element in _elements(drawing, layer.items, height, use):
            group.add(element)
    drawing.add(root)
    return drawing


def _description(sheet: Sheet) -> str:
    """What the sheet shows, for a reader that cannot see it."""
    parts = [
        gettext("{drawing}, scale 1:{ratio}", drawing=view.drawing.name, ratio=decimals(_n(1 / view.scale)))
        for view in sheet.views
    ]
    width, height = (decimals(_n(side)) for side in sheet.paper)
    paper = gettext("paper {width} x {height} mm", width=width, height=height)
    return _safe("; ".join([*dict.fromkeys(parts), paper]))


def _style(item: Painted) -> tuple[object, ...]:
    """Items of one style that follow each other share a group."""
    match item:
        case Lettering():
            return ("text", item.pen, item.height, item.weight)
        case Group():
            return ("group", id(item))
        case _:
            return ("shape", item.pen, item.fill)


def _elements(drawing: svgwrite.Drawing, items: Iterable[Painted], height: float, use: _Use) -> Iterator[Any]:
    """A group for every run of one style, in painting order."""
    for _, run in groupby(items, _style):
        first, *others = run
        if isinstance(first, Group):
            group = drawing.g()
            _state(group, (("block", first.name), *first.facts), use)
            for element in _elements(drawing, first.items, height, use):
                group.add(element)
        elif isinstance(first, Lettering):
            group = drawing.g(fill=_colour(first.pen), font_size=_n(first.height * FONT_SIZE_RATIO))
            if first.weight == "bold":
                group.attribs["font-weight"] = "bold"
            _state(group, (("layer", first.pen.layer),), use)
            for item in (first, *others):
                if isinstance(item, Lettering):
                    for part, strokes in in_parts(item):
                        for element in _text(drawing, part, strokes, height, use):
                            group.add(element)
        else:
            group = drawing.g(**_paint(first.pen, first.fill))
            pen = first.pen or first.fill
            if pen is not None:
                _state(group, (("layer", pen.layer),), use)
            for element in _shapes(drawing, (first, *others), height, use):
                group.add(element)
        yield group


def _shapes(drawing: svgwrite.Drawing, items: Iterable[Painted], height: float, use: _Use) -> Iterator[Any]:
    """Elements of one style; strokes without facts that follow each other become one path."""
    strokes: list[str] = []
    for item in items:
        if isinstance(item, Shape) and item.fill is None and not (item.facts and use.inside is None):
            strokes.append(_data(item, height))
            continue
        if strokes:
            yield drawing.path(d="".join(strokes))
            strokes = []
        if isinstance(item, Shape):
            path = drawing.path(d=_data(item, height))
            _state(path, item.facts, use)
            yield path
        elif isinstance(item, Disc):
            centre = (_n(item.centre[0]), _n(height - item.centre[1]))
            yield drawing.circle(centre, _n(item.radius))
    if strokes:
        yield drawing.path(d="".join(strokes))


def _text(
    drawing: svgwrite.Drawing, item: Lettering, strokes: tuple[Stroke, ...], height: float, use: _Use
) -> Iterator[Any]:
    """A text, or one in another script: its outlines, with the text unseen over them."""
    x, y = _n(item.at[0]), _n(height - item.at[1])
    more: dict[str, Any] = {}
    if item.angle:
        more["transform"] = f"rotate({_n(-item.angle)} {x} {y})"
    if strokes:
        data = "".join(
            f"{step}{' '.join(_n(one) for point in points for one in point)}" for step, points in strokes
        )
        place = f"translate({x} {y}) rotate({_n(-item.angle)}) scale({_n(item.height)} {_n(-item.height)})"
        yield drawing.path(d=data, transform=place)
        more["fill_opacity"] = 0
    if item.horizontal != "start":
        more["text_anchor"] = item.horizontal
    if use.measured:
        more["textLength"] = _n(item.width)
        more["lengthAdjust"] = "spacingAndGlyphs"
    yield drawing.text(_safe(item.text), insert=(x, y), **more)


def _state(element: Any, facts: Facts, use: _Use) -> None:
    """Put facts on an element of a file, under names that XML allows."""
    if use.inside is not None:
        return
    for name, value in facts:
        said = f"{value:.6g}" if isinstance(value, float) else _safe(str(value))
        element.attribs[f"data-{_slug(name)}"] = said


def _paint(pen: Pen | None, fill: Pen | None) -> dict[str, Any]:
    paint: dict[str, Any] = {}
    if fill is not None:
        paint["fill"] = _colour(fill)
    if pen is not None:
        paint |= {"stroke": _colour(pen), "stroke_width": _n(pen.width)}
        if pen.dash:
            # Round ends would eat the gaps.
            paint |= {"stroke_dasharray": " ".join(_n(part) for part in pen.dash), "stroke_linecap": "butt"}
    return paint


def _data(shape: Shape, height: float) -> str:
    points = shape.points
    parts = [f"M{_n(points[0][0])} {_n(height - points[0][1])}"]
    count = len(points) if shape.closed else len(points) - 1
    for index in range(count):
        start, end = points[index], points[(index + 1) % len(points)]
        bulge = shape.bulges[index] if index < len(shape.bulges) else 0.0
        if bulge:
            parts.append(_arc(start, end, bulge, height))
        elif index < len(points) - 1:
            parts.append(f"L{_n(end[0])} {_n(height - end[1])}")
    if shape.closed:
        parts.append("Z")
    return "".join(parts)


def _arc(start: Point, end: Point, bulge: float, height: float) -> str:
    chord = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
    large, sweep = int(abs(bulge) > 1), int(bulge < 0)
    return f"A{_n(radius)} {_n(radius)} 0 {large} {sweep} {_n(end[0])} {_n(height - end[1])}"


def _colour(pen: Pen) -> str:
    return "#{:02x}{:02x}{:02x}".format(*pen.colour)


def _n(value: float) -> str:
    """A number with at most three decimals, and no minus zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _safe(text: str) -> str:
    """A text that XML can hold: what it cannot is shown as lacking."""
    return _FORBIDDEN.sub("\N{REPLACEMENT CHARACTER}", text)


def _slug(name: str) -> str:
    return re.sub("[^a-z0-9]+", "-", name.lower()).strip("-") or "x"


def _letters(layers: Iterable[Layer]) -> tuple[tuple[Weight, str], ...]:
    """Characters beyond the common ones, by weight."""
    used = letters(layers)
    return tuple((weight, "".join(sorted(used[weight] - set(_COMMON)))) for weight in sorted(used))


@lru_cache(maxsize=_KEPT)
def _font_faces(letters: tuple[tuple[Weight, str], ...]) -> str:
    rules = []
    for weight, more in letters:
        data = base64.b64encode(_subset(weight, more)).decode("ascii")
        number = 700 if weight == "bold" else 400
        rules.append(
            f"@font-face{{font-family:'{FAMILY}';font-weight:{number};"
            f"src:url(data:font/woff;base64,{data}) format('woff')}}"
        )
    return "".join(rules)


@lru_cache(maxsize=_KEPT)
def _subset(weight: Weight, more: str) -> bytes:
    """The glyphs of the common characters and some more, as WOFF."""
    options = Options(flavor="woff", recalc_timestamp=False, layout_features=[], hinting=False)
    out = io.BytesIO()
    with load_font(io.BytesIO(font_file(weight)), options) as font:
        subsetter = Subsetter(options)
        subsetter.populate(text=_COMMON + more)
        subsetter.subset(font)
        save_font(font, out, options)
    return out.getvalue()
