"""A sheet as SVG: true to size, text as text, the font's used glyphs inside."""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING, Any

import svgwrite
from fontTools.subset import Options, Subsetter, load_font, save_font

from evencourse.render.drawing.drawing import Facts, Point, Sheet, Weight
from evencourse.render.drawing.flatten import Disc, Group, Layer, Lettering, Painted, Shape, flatten, letters
from evencourse.render.drawing.fonts import FALLBACKS, FAMILY, FONT_SIZE_RATIO, font_file
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
    width, height = sheet.paper
    drawing = svgwrite.Drawing(
        size=(f"{_n(width)}mm", f"{_n(height)}mm"), viewBox=f"0 0 {_n(width)} {_n(height)}", debug=False
    )
    drawing.attribs["role"] = "graphics-document document"
    drawing.set_desc(title=_safe(sheet.title), desc=_description(sheet))
    layers = flatten(sheet)
    if portable:
        drawing.defs.add(drawing.style(_font_faces(_letters(layers))))
    drawing.add(drawing.rect((0, 0), (_n(width), _n(height)), fill="#ffffff"))
    root = drawing.g(
        font_family=_FAMILIES,
        fill="none",
        stroke_linecap="round",
        stroke_linejoin="round",
        style="font-kerning:none;font-variant-ligatures:none;white-space:pre",
    )
    root.attribs["xml:space"] = "preserve"
    for number, layer in enumerate(layers):
        group = root
        if layer.window is not None:
            left, bottom, right, top = layer.window
            clip = drawing.clipPath(id=f"window-{_slug(sheet.title)}-{number}")
            clip.add(drawing.rect((_n(left), _n(height - top)), (_n(right - left), _n(top - bottom))))
            drawing.defs.add(clip)
            group = root.add(drawing.g(clip_path=clip.get_funciri()))
        for element in _elements(drawing, layer.items, height, portable):
            group.add(element)
    drawing.add(root)
    out = io.StringIO()
    drawing.write(out)
    return out.getvalue().encode()


def _description(sheet: Sheet) -> str:
    """What the sheet shows, for a reader that cannot see it."""
    parts = [f"{view.drawing.name}, scale 1:{_n(1 / view.scale)}" for view in sheet.views]
    paper = f"paper {_n(sheet.paper[0])} x {_n(sheet.paper[1])} mm"
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


def _elements(
    drawing: svgwrite.Drawing, items: Iterable[Painted], height: float, portable: bool
) -> Iterator[Any]:
    """A group for every run of one style, in painting order."""
    for _, run in groupby(items, _style):
        first, *others = run
        if isinstance(first, Group):
            group = drawing.g()
            group.attribs["data-block"] = _safe(first.name)
            _state(group, first.facts)
            for element in _elements(drawing, first.items, height, portable):
                group.add(element)
        elif isinstance(first, Lettering):
            group = drawing.g(fill=_colour(first.pen), font_size=_n(first.height * FONT_SIZE_RATIO))
            if first.weight == "bold":
                group.attribs["font-weight"] = "bold"
            group.attribs["data-layer"] = first.pen.layer
            for item in (first, *others):
                if isinstance(item, Lettering):
                    group.add(_text(drawing, item, height, portable))
        else:
            group = drawing.g(**_paint(first.pen, first.fill))
            pen = first.pen or first.fill
            if pen is not None:
                group.attribs["data-layer"] = pen.layer
            for element in _shapes(drawing, (first, *others), height):
                group.add(element)
        yield group


def _shapes(drawing: svgwrite.Drawing, items: Iterable[Painted], height: float) -> Iterator[Any]:
    """Elements of one style; strokes without facts that follow each other become one path."""
    strokes: list[str] = []
    for item in items:
        if isinstance(item, Shape) and item.fill is None and not item.facts:
            strokes.append(_data(item, height))
            continue
        if strokes:
            yield drawing.path(d="".join(strokes))
            strokes = []
        if isinstance(item, Shape):
            path = drawing.path(d=_data(item, height))
            _state(path, item.facts)
            yield path
        elif isinstance(item, Disc):
            centre = (_n(item.centre[0]), _n(height - item.centre[1]))
            yield drawing.circle(centre, _n(item.radius))
    if strokes:
        yield drawing.path(d="".join(strokes))


def _text(drawing: svgwrite.Drawing, item: Lettering, height: float, portable: bool) -> Any:
    x, y = _n(item.at[0]), _n(height - item.at[1])
    more: dict[str, Any] = {}
    if item.horizontal != "start":
        more["text_anchor"] = item.horizontal
    if item.angle:
        more["transform"] = f"rotate({_n(-item.angle)} {x} {y})"
    if portable:
        more["textLength"] = _n(item.width)
        more["lengthAdjust"] = "spacingAndGlyphs"
    return drawing.text(item.text, insert=(x, y), **more)


def _state(element: Any, facts: Facts) -> None:
    """Put facts on an element, under names that XML allows."""
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
