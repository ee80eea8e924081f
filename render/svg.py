"""A sheet as SVG: true to size, text as text, the font's used glyphs inside."""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterable, Iterator
from functools import cache
from typing import TYPE_CHECKING, Any

from render.drawing import Point, Sheet, Weight
from render.flatten import Disc, Layer, Lettering, Painted, Shape, flatten
from render.fonts import FALLBACKS, FAMILY, FONT_SIZE_RATIO, font_path, shown, text_width
from render.pens import Pen

if TYPE_CHECKING:
    import svgwrite

#: What the sheets nearly always need; more is added to the embedded font when a text has it.
_COMMON = "".join(map(chr, range(32, 127))) + "°×·–—‘’“”…½¼¾′″"
_UNSAFE = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def svg(sheet: Sheet, *, portable: bool = True) -> bytes:
    """One sheet as an SVG file.

    Args:
        sheet: what is drawn.
        portable: the file leaves the house: the font's used glyphs are embedded and every text keeps its
            measured width where the font is absent all the same. False for a program that has the font.

    Returns:
        UTF-8; the same bytes for the same sheet.
    """
    import svgwrite

    width, height = sheet.paper
    drawing = svgwrite.Drawing(
        size=(f"{_n(width)}mm", f"{_n(height)}mm"), viewBox=f"0 0 {_n(width)} {_n(height)}", debug=False
    )
    layers = flatten(sheet)
    drawing.add(drawing.rect((0, 0), (_n(width), _n(height)), fill="#ffffff"))
    drawing.set_desc(title=_safe(sheet.title))
    if portable:
        drawing.defs.add(drawing.style(_font_faces(_letters(layers))))
    family = ", ".join(f"'{name}'" if " " in name else name for name in (FAMILY, *FALLBACKS))
    root = drawing.g(
        font_family=family,
        fill="none",
        stroke_linecap="round",
        stroke_linejoin="round",
        style="font-kerning:none;font-variant-ligatures:none;white-space:pre",
    )
    for number, layer in enumerate(layers):
        group = root
        if layer.window is not None:
            left, bottom, right, top = layer.window
            clip = drawing.clipPath(id=f"window{number}")
            clip.add(drawing.rect((_n(left), _n(height - top)), (_n(right - left), _n(top - bottom))))
            drawing.defs.add(clip)
            group = drawing.g(clip_path=f"url(#window{number})")
            root.add(group)
        for element in _elements(drawing, layer.items, height, portable):
            group.add(element)
    drawing.add(root)
    out = io.StringIO()
    drawing.write(out)
    return out.getvalue().encode()


def _elements(
    drawing: svgwrite.Drawing, items: Iterable[Painted], height: float, portable: bool
) -> Iterator[Any]:
    """Elements in painting order; neighbouring strokes of one pen become one path."""
    pen: Pen | None = None
    strokes: list[str] = []

    def flush() -> Iterator[Any]:
        if strokes and pen is not None:
            yield drawing.path(d=" ".join(strokes), **_stroke(pen))
            strokes.clear()

    for item in items:
        if isinstance(item, Shape) and item.fill is None and item.pen is not None:
            if item.pen is not pen:
                yield from flush()
                pen = item.pen
            strokes.append(_data(item, height))
            continue
        yield from flush()
        if isinstance(item, Shape):
            paint = _stroke(item.pen) if item.pen else {}
            yield drawing.path(d=_data(item, height), **paint, fill=_colour(item.fill))
        elif isinstance(item, Disc):
            paint = _stroke(item.pen) if item.pen else {}
            centre = (_n(item.centre[0]), _n(height - item.centre[1]))
            yield drawing.circle(centre, _n(item.radius), **paint, fill=_colour(item.fill))
        else:
            yield _text(drawing, item, height, portable)
    yield from flush()


def _text(drawing: svgwrite.Drawing, item: Lettering, height: float, portable: bool) -> Any:
    x, y = _n(item.at[0]), _n(height - item.at[1])
    text = shown(_safe(item.text))
    more: dict[str, Any] = {}
    if item.horizontal != "start":
        more["text_anchor"] = item.horizontal
    if item.weight == "bold":
        more["font_weight"] = "bold"
    if item.angle:
        more["transform"] = f"rotate({_n(-item.angle)} {x} {y})"
    if portable and text:
        more["textLength"] = _n(text_width(text, item.height, item.weight))
    return drawing.text(
        text, insert=(x, y), font_size=_n(item.height * FONT_SIZE_RATIO), fill=_colour(item.pen), **more
    )


def _stroke(pen: Pen) -> dict[str, Any]:
    paint: dict[str, Any] = {"stroke": _colour(pen), "stroke_width": _n(pen.width)}
    if pen.dash:
        paint["stroke_dasharray"] = " ".join(_n(part) for part in pen.dash)
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


def _colour(pen: Pen | None) -> str:
    return "none" if pen is None else "#{:02x}{:02x}{:02x}".format(*pen.colour)


def _n(value: float) -> str:
    """A number with at most three decimals, and no minus zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _safe(text: str) -> str:
    """A text that XML can hold: other characters are shown as a box."""
    return _UNSAFE.sub("\N{REPLACEMENT CHARACTER}", text)


def _letters(layers: Iterable[Layer]) -> tuple[tuple[Weight, str], ...]:
    used: dict[Weight, set[str]] = {}
    for layer in layers:
        for item in layer.items:
            if isinstance(item, Lettering):
                used.setdefault(item.weight, set()).update(shown(_safe(item.text)))
    return tuple((weight, "".join(sorted(used[weight] - set(_COMMON)))) for weight in sorted(used))


@cache
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


@cache
def _subset(weight: Weight, more: str) -> bytes:
    """The glyphs of the common characters and some more, as WOFF."""
    from fontTools.subset import Options, Subsetter, load_font, save_font

    options = Options(flavor="woff", recalc_timestamp=False, layout_features=[], hinting=False)
    font = load_font(str(font_path(weight)), options)
    subsetter = Subsetter(options)
    subsetter.populate(text=_COMMON + more)
    subsetter.subset(font)
    out = io.BytesIO()
    save_font(font, out, options)
    return out.getvalue()
