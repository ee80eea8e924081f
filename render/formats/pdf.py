"""A document as one PDF: true to size, text that can be searched, and no clock in it.

It is written directly, without a system library, so that the same document gives the same bytes everywhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from math import atan, ceil, cos, radians, sin, tan

from evencourse.render.drawing.drawing import Document, Sheet, Weight
from evencourse.render.drawing.flatten import Disc, Group, Layer, Lettering, Painted, Shape, flatten, letters
from evencourse.render.drawing.fonts import FONT_SIZE_RATIO
from evencourse.render.drawing.pens import Pen
from evencourse.render.formats.pdf_file import File, Name, Ref, Value, number
from evencourse.render.formats.pdf_font import embed, outlines

#: Name that the file gives for the program that made it.
PRODUCER = "evencourse"

_POINTS = 72 / 25.4
#: Longest side of a page in its own units (ISO 32000-1, annex C).
_LONGEST = 14400
_FONTS: dict[Weight, str] = {"regular": "F1", "bold": "F2"}
#: Control points of a quarter circle: 4/3 * tan(angle / 4) for 90 degrees.
_QUARTER = 0.5522847498


@dataclass(frozen=True)
class _Mark:
    """A bookmark, and those that hang under it."""

    title: str
    page: Ref
    under: tuple[_Mark, ...] = ()


def pdf(document: Document) -> bytes:
    """A document as one PDF file.

    Args:
        document: sheets and what a reader's program shows of them.

    Returns:
        The file; the same bytes for the same document. Every sheet has its bookmark and its page label; the
        text can be searched and copied; a reader's program is asked not to scale when it prints. The only
        date in it is the document's own.

    References:
        ISO 32000-1 (PDF 1.7).
    """
    file = File()
    root, pages, outline = file.reserve(), file.reserve(), file.reserve()
    flat = [flatten(sheet) for sheet in document.sheets]
    fonts: dict[str, Value] = {
        _FONTS[weight]: embed(file, weight, used) for weight, used in sorted(letters(chain(*flat)).items())
    }
    resources = file.add({"Font": fonts})
    refs = [
        _page(file, sheet, layers, pages, resources)
        for sheet, layers in zip(document.sheets, flat, strict=True)
    ]
    file.put(pages, {"Type": Name("Pages"), "Kids": refs, "Count": len(refs)})
    _bookmarks(file, outline, document, refs)
    catalog: dict[str, Value] = {
        "Type": Name("Catalog"),
        "Pages": pages,
        "Outlines": outline,
        "PageMode": Name("UseOutlines" if len(refs) > 1 else "UseNone"),
        "PageLabels": {"Nums": _labels(document)},
        "Lang": document.language,
        "ViewerPreferences": {"DisplayDocTitle": True, "PrintScaling": Name("None")},
    }
    file.put(root, catalog)
    facts: dict[str, Value] = {
        "Title": document.title,
        "Author": document.author,
        "Subject": document.subject,
        "Keywords": ", ".join(document.keywords),
        "Creator": PRODUCER,
        "Producer": PRODUCER,
    }
    if document.date:
        facts["CreationDate"] = f"D:{document.date.replace('-', '')}"
    return file.bytes(root, file.add({key: value for key, value in facts.items() if value}))


def _page(file: File, sheet: Sheet, layers: Iterable[Layer], pages: Ref, resources: Ref) -> Ref:
    width, height = (side * _POINTS for side in sheet.paper)
    unit = max(1, ceil(max(width, height) / _LONGEST))
    content = "\n".join(_Painter(_POINTS / unit).layers(layers))
    page: dict[str, Value] = {
        "Type": Name("Page"),
        "Parent": pages,
        "MediaBox": [0, 0, width / unit, height / unit],
        "Resources": resources,
        "Contents": file.stream(content.encode("ascii")),
    }
    if unit > 1:
        page["UserUnit"] = unit
    return file.add(page)


def _bookmarks(file: File, outline: Ref, document: Document, pages: list[Ref]) -> None:
    """A bookmark a sheet; those of a chapter with several sheets hang, closed, under its own."""
    chapters: list[tuple[str, list[_Mark]]] = []
    for sheet, page in zip(document.sheets, pages, strict=True):
        if not sheet.chapter or not chapters or chapters[-1][0] != sheet.chapter:
            chapters.append((sheet.chapter, []))
        chapters[-1][1].append(_Mark(sheet.title, page))
    marks = [
        _Mark(chapter, sheets[0].page, tuple(sheets)) if len(sheets) > 1 else sheets[0]
        for chapter, sheets in chapters
    ]
    file.put(outline, {"Type": Name("Outlines"), **_hung(file, outline, marks), "Count": len(marks)})


def _hung(file: File, parent: Ref, marks: Sequence[_Mark]) -> dict[str, Value]:
    """Hang bookmarks under another, or under the outline; what that one has to say of them."""
    if not marks:
        return {}
    items = [file.reserve() for _ in marks]
    for index, (item, mark) in enumerate(zip(items, marks, strict=True)):
        entry: dict[str, Value] = {
            "Title": mark.title,
            "Parent": parent,
            "Dest": [mark.page, Name("Fit")],
            **_hung(file, item, mark.under),
        }
        if mark.under:
            entry["Count"] = -len(mark.under)
        if index:
            entry["Prev"] = items[index - 1]
        if index + 1 < len(items):
            entry["Next"] = items[index + 1]
        file.put(item, entry)
    return {"First": items[0], "Last": items[-1]}


def _labels(document: Document) -> list[Value]:
    labels: list[Value] = []
    for index, sheet in enumerate(document.sheets):
        labels += [index, {"P": sheet.label or str(index + 1)}]
    return labels


class _Painter:
    """Writes the content of one page; keeps what is set, and strokes that can still go into one path."""

    def __init__(self, scale: float) -> None:
        self._scale = scale
        self._out = ["1 J 1 j"]
        self._pen: Pen | None = None
        self._fill = ""
        self._open = False

    def layers(self, layers: Iterable[Layer]) -> list[str]:
        """Operators that paint layers over each other."""
        for layer in layers:
            if layer.window is None:
                self._items(layer.items)
                continue
            left, bottom, right, top = layer.window
            self._end()
            self._out.append(f"q {self._box(left, bottom, right, top)} W n")
            self._items(layer.items)
            self._end()
            self._out.append("Q")
            self._pen, self._fill = None, ""
        self._end()
        return self._out

    def _items(self, items: Iterable[Painted]) -> None:
        for item in items:
            match item:
                case Group():
                    self._items(item.items)
                case Lettering():
                    self._text(item)
                case Shape() if item.fill is None and item.pen is not None:
                    self._take(item.pen)
                    self._out.append(self._path(item))
                    self._open = True
                case Shape():
                    self._filled(item.pen, item.fill, self._path(item))
                case Disc():
                    self._filled(item.pen, item.fill, self._circle(item))

    def _n(self, *values: float) -> str:
        return " ".join(number(value * self._scale) for value in values)

    def _box(self, left: float, bottom: float, right: float, top: float) -> str:
        return f"{self._n(left, bottom, right - left, top - bottom)} re"

    def _end(self) -> None:
        """Stroke what is open."""
        if self._open:
            self._out.append("S")
            self._open = False

    def _take(self, pen: Pen) -> None:
        """Set the stroke of a pen."""
        held = self._pen
        if held is pen:
            return
        self._end()
        if held is None or held.colour != pen.colour:
            self._out.append(_colour(pen, "G", "RG"))
        if held is None or held.width != pen.width:
            self._out.append(f"{self._n(pen.width)} w")
        if (held.dash if held else None) != pen.dash:
            # Round ends would eat the gaps.
            self._out.append(f"[{self._n(*pen.dash)}] 0 d {0 if pen.dash else 1} J")
        self._pen = pen

    def _ink(self, pen: Pen) -> None:
        """Set the colour that fills."""
        colour = _colour(pen, "g", "rg")
        if colour != self._fill:
            self._out.append(colour)
            self._fill = colour

    def _filled(self, pen: Pen | None, fill: Pen | None, path: str) -> None:
        self._end()
        if fill is not None:
            self._ink(fill)
        if pen is not None:
            self._take(pen)
        paint = "n" if pen is None and fill is None else "S" if fill is None else "f" if pen is None else "B"
        self._out.append(f"{path} {paint}")

    def _path(self, shape: Shape) -> str:
        points = shape.points
        parts = [f"{self._n(*points[0])} m"]
        count = len(points) if shape.closed else len(points) - 1
        for index in range(count):
            end = points[(index + 1) % len(points)]
            bulge = shape.bulges[index] if index < len(shape.bulges) else 0.0
            if bulge:
                parts += self._arc(points[index], end, bulge)
            elif index < len(points) - 1:
                parts.append(f"{self._n(*end)} l")
        if shape.closed:
            parts.append("h")
        return " ".join(parts)

    def _arc(self, start: tuple[float, float], end: tuple[float, float], bulge: float) -> Iterator[str]:
        """An arc as curves of at most a right angle each."""
        (x0, y0), (x1, y1) = start, end
        # The centre lies off the chord's middle, to the left of it for less than half a circle.
        off = (1 - bulge * bulge) / (4 * bulge)
        cx, cy = (x0 + x1) / 2 - off * (y1 - y0), (y0 + y1) / 2 + off * (x1 - x0)
        count = 1 + (abs(bulge) > 0.41421) + 2 * (abs(bulge) > 1)
        turn = 4 * atan(bulge) / count
        reach = 4 / 3 * tan(turn / 4)
        x, y = x0 - cx, y0 - cy
        for _ in range(count):
            nx, ny = x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)
            first, second = (x - reach * y, y + reach * x), (nx + reach * ny, ny - reach * nx)
            yield (
                self._n(cx + first[0], cy + first[1], cx + second[0], cy + second[1], cx + nx, cy + ny) + " c"
            )
            x, y = nx, ny

    def _circle(self, disc: Disc) -> str:
        (x, y), r = disc.centre, disc.radius
        k = _QUARTER * r
        parts = [f"{self._n(x + r, y)} m"]
        ux, uy = 1, 0
        for _ in range(4):
            vx, vy = -uy, ux
            first = (x + r * ux + k * vx, y + r * uy + k * vy)
            second = (x + r * vx + k * ux, y + r * vy + k * uy)
            parts.append(f"{self._n(*first, *second, x + r * vx, y + r * vy)} c")
            ux, uy = vx, vy
        return " ".join([*parts, "h"])

    def _text(self, item: Lettering) -> None:
        self._end()
        self._ink(item.pen)
        glyphs = outlines(item.weight).glyphs
        shown = "".join(f"{glyphs[ord(letter)]:04X}" for letter in item.text)
        # The size goes into the matrix: readers that look at the matrix alone see how high the text is.
        size, turn = item.height * FONT_SIZE_RATIO, radians(item.angle)
        along, up = size * cos(turn), size * sin(turn)
        matrix = self._n(along, up, -up, along, *item.start)
        self._out.append(f"BT /{_FONTS[item.weight]} 1 Tf {matrix} Tm <{shown}> Tj ET")


def _colour(pen: Pen, grey: str, colour: str) -> str:
    """Grey is set as grey, so that a printer takes black ink for it alone."""
    red, green, blue = (f"{part / 255:.3f}".rstrip("0").rstrip(".") for part in pen.colour)
    return f"{red} {grey}" if red == green == blue else f"{red} {green} {blue} {colour}"
