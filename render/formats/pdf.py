"""A document as one PDF: true to size, text that can be searched, and no clock in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from io import BytesIO
from itertools import groupby
from math import atan, atan2, cos, degrees, dist, radians, sin, tau
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFInfo, PDFString, PDFZCompress
from reportlab.pdfbase.pdfmetrics import getFont, registerFont
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject
from reportlab.pdfgen.pdfgeom import bezierArc

from evencourse.layout.model.tolerance import SAME
from evencourse.render.drawing.drawing import Document, Point, Sheet, Weight
from evencourse.render.drawing.flatten import Disc, Group, Layer, Lettering, Painted, Shape, flatten, in_parts
from evencourse.render.drawing.font_files import FONT_SIZE_RATIO, face, font_file
from evencourse.render.drawing.other_scripts import Stroke, seen_order
from evencourse.render.drawing.papers import MM_PER_INCH, PDF_LONGEST
from evencourse.render.drawing.pens import Pen

#: Name that the file gives for the program that made it.
PRODUCER = "evencourse"

_POINTS = 72 / MM_PER_INCH
#: Decimals of a coordinate: 0.01 pt is 0.0035 mm.
_DECIMALS = 2
#: Ends of a stroke, and what is inside a path (ISO 32000-1, tables 54 and 59).
_BUTT, _ROUND, _NON_ZERO = 0, 1, 1
#: Text that is filled, and text that is not painted (table 106).
_SEEN, _UNSEEN = 0, 3


def pdf(document: Document) -> bytes:
    """A document as one PDF file.

    Args:
        document: sheets and what a reader's program shows of them.

    Returns:
        The file; the same bytes for the same document. Every sheet has its bookmark and its page label; the
        text can be searched and copied; a reader's program is asked not to scale when it prints. The only
        date in it is the document's own.

    Raises:
        ValueError: a sheet is longer than :data:`evencourse.render.drawing.papers.PDF_LONGEST`.

    References:
        ISO 32000-1 (PDF 1.7).
    """
    for sheet in document.sheets:
        if max(sheet.paper) > PDF_LONGEST + SAME:
            raise ValueError(
                f"a page of a PDF is {PDF_LONGEST:g} mm long at most, not {max(sheet.paper):g} mm"
            )
    out = BytesIO()
    # Whatever a machine can set for the library is given here: its settings must not reach the file.
    canvas = Canvas(
        out,
        pageCompression=0,
        invariant=1,
        pdfVersion=(1, 7),
        initialFontName=_font("regular"),
        lang=document.language,
    )
    # The library's own compression writes pages as text, a quarter longer.
    canvas._doc.defaultStreamFilters = [PDFZCompress]
    canvas._doc.info = _Facts(document)
    if len(document.sheets) > 1:
        canvas.showOutline()
    for _, run in groupby(enumerate(document.sheets), lambda each: each[1].chapter or each[0]):
        sheets = list(run)
        several = len(sheets) > 1
        for number, sheet in sheets:
            if several and number == sheets[0][0]:
                _bookmark(canvas, f"chapter {number}", sheet.chapter, 0)
            _bookmark(canvas, f"sheet {number}", sheet.title, int(several))
            canvas.addPageLabel(number, prefix=_said(sheet.label or str(number + 1)))
            _page(canvas, sheet)
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.save()
    return out.getvalue()


class _Facts(PDFInfo):  # type: ignore[misc]
    """What the file says of itself: what is known and nothing else. The library's own has a date always."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        facts = {
            "Title": document.title,
            "Author": document.author,
            "Subject": document.subject,
            "Keywords": ", ".join(document.keywords),
            "Creator": PRODUCER,
            "Producer": PRODUCER,
            "CreationDate": f"D:{document.date.replace('-', '')}" if document.date else "",
        }
        self._facts = {key: _said(value) for key, value in facts.items() if value}

    def digest(self, md5object: Any) -> None:
        """Add the facts to what the file's identifier is made from."""
        md5object.update(repr(self._facts).encode())

    def format(self, document: Any) -> bytes:
        """The dictionary as the file holds it."""
        facts = PDFDictionary({key: PDFString(value) for key, value in self._facts.items()})
        return bytes(facts.format(document))


def _said(text: str) -> str:
    """A text that a file can hold: half a surrogate pair stands for no character."""
    return text.encode("utf-16", "replace").decode("utf-16")


@cache
def _font(weight: Weight) -> str:
    """Make a weight of the packaged font known to the library, under the name returned."""
    name, measures = f"sheet-{weight}", face(weight)
    font = TTFont(name, BytesIO(font_file(weight)), asciiReadable=False, shapable=False)
    # Readers sort text into lines by these; the library takes figures that are too low for accents.
    em = measures.units_per_em
    font.face.ascent, font.face.descent = measures.ascent * 1000 / em, measures.descent * 1000 / em
    registerFont(font)
    return name


def _bookmark(canvas: Canvas, key: str, title: str, level: int) -> None:
    """A bookmark of the page at hand; sheets of one chapter hang, closed, under the chapter's own."""
    canvas.bookmarkPage(key)
    canvas.addOutlineEntry(_said(title), key, level, closed=True)


def _page(canvas: Canvas, sheet: Sheet) -> None:
    canvas.setPageSize(_points(*sheet.paper))
    canvas.setLineJoin(_ROUND)
    painter = _Painter(canvas)
    for layer in flatten(sheet):
        painter.layer(layer)
    canvas.showPage()


def _points(*millimetres: float) -> tuple[float, ...]:
    return tuple(round(value * _POINTS, _DECIMALS) for value in millimetres)


class _Painter:
    """Paints one page; keeps what is set, and strokes of one pen that can still go into one path."""

    def __init__(self, canvas: Canvas) -> None:
        self._canvas = canvas
        self._pen: Pen | None = None
        self._ink: Pen | None = None
        self._strokes: PDFPathObject | None = None

    def layer(self, layer: Layer) -> None:
        """Paint a layer over what is there."""
        if layer.window is None:
            self._items(layer.items)
            self._end()
            return
        left, bottom, right, top = layer.window
        window = self._canvas.beginPath()
        window.rect(*_points(left, bottom, right - left, top - bottom))
        self._canvas.saveState()
        self._canvas.clipPath(window, stroke=0)
        self._items(layer.items)
        self._end()
        self._canvas.restoreState()
        self._pen = self._ink = None

    def _items(self, items: Iterable[Painted]) -> None:
        for item in items:
            match item:
                case Group():
                    self._items(item.items)
                case Lettering():
                    self._lettering(item)
                case Shape() if item.fill is None and item.pen is not None:
                    self._take(item.pen)
                    if self._strokes is None:
                        self._strokes = self._canvas.beginPath()
                    _outline(self._strokes, item)
                case Shape() | Disc():
                    self._filled(item)

    def _end(self) -> None:
        """Stroke what is open."""
        if self._strokes is not None:
            self._canvas.drawPath(self._strokes)
            self._strokes = None

    def _take(self, pen: Pen) -> None:
        """Set the stroke of a pen."""
        held = self._pen
        if held is pen:
            return
        self._end()
        if held is None or held.colour != pen.colour:
            _colour(pen, self._canvas.setStrokeGray, self._canvas.setStrokeColorRGB)
        if held is None or held.width != pen.width:
            self._canvas.setLineWidth(*_points(pen.width))
        if held is None or held.dash != pen.dash:
            self._canvas.setDash(_points(*pen.dash))
            # Round ends would eat the gaps.
            self._canvas.setLineCap(_BUTT if pen.dash else _ROUND)
        self._pen = pen

    def _dip(self, pen: Pen) -> None:
        """Set the colour that fills."""
        if self._ink is None or self._ink.colour != pen.colour:
            _colour(pen, self._canvas.setFillGray, self._canvas.setFillColorRGB)
            self._ink = pen

    def _filled(self, item: Shape | Disc) -> None:
        self._end()
        if item.fill is not None:
            self._dip(item.fill)
        if item.pen is not None:
            self._take(item.pen)
        path = self._canvas.beginPath()
        if isinstance(item, Shape):
            _outline(path, item)
        else:
            (x, y), r = item.centre, item.radius
            path.moveTo(*_points(x + r, y))
            _arc(path, item.centre, r, 0.0, tau)
            path.close()
        self._canvas.drawPath(
            path, stroke=item.pen is not None, fill=item.fill is not None, fillMode=_NON_ZERO
        )

    def _lettering(self, item: Lettering) -> None:
        self._end()
        self._dip(item.pen)
        for part, strokes in in_parts(item):
            if strokes:
                self._outlined(part, strokes)
            else:
                self._text(part, part.text, 1.0)

    def _text(self, item: Lettering, said: str, wider: float, mode: int = _SEEN) -> None:
        """Set a text where an item stands, so many times as wide as it is."""
        # The size goes into the matrix: readers that look at the matrix alone see how high the text is.
        size, turn = item.height * FONT_SIZE_RATIO, radians(item.angle)
        along, up = size * cos(turn), size * sin(turn)
        text = self._canvas.beginText()
        text.setTextTransform(*_points(along * wider, up * wider, -up, along, *item.start))
        text.setFont(_font(item.weight), 1)
        text.setTextRenderMode(mode)
        text.textOut(said)
        text.setTextRenderMode(_SEEN)
        self._canvas.drawText(text)

    def _outlined(self, item: Lettering, strokes: tuple[Stroke, ...]) -> None:
        """Paint outlines; what they say is lettered over them, unseen, for whoever searches or copies."""
        turn = radians(item.angle)
        along, up = item.height * cos(turn), item.height * sin(turn)
        (left, low), path = item.start, self._canvas.beginPath()
        take = {"M": path.moveTo, "L": path.lineTo, "C": path.curveTo, "Z": path.close}
        for step, points in strokes:
            placed = ((left + x * along - y * up, low + x * up + y * along) for x, y in points)
            take[step](*(value for point in placed for value in _points(*point)))
        self._canvas.drawPath(path, stroke=False, fill=True, fillMode=_NON_ZERO)
        font = getFont(_font(item.weight))
        # In the order of the eye, as readers expect it; the library tells no sign beyond four digits.
        said = "".join(letter for letter in seen_order(item.text) if " " <= letter <= "\uffff")
        for letter in said:
            font.face.charToGlyph.setdefault(ord(letter), font.face.charToGlyph[ord(" ")])
        wide = item.height * FONT_SIZE_RATIO * font.stringWidth(said, 1)
        if wide > 0:
            self._text(item, said, item.width / wide, _UNSEEN)


def _outline(path: PDFPathObject, shape: Shape) -> None:
    points = shape.points
    path.moveTo(*_points(*points[0]))
    count = len(points) if shape.closed else len(points) - 1
    for index in range(count):
        start, end = points[index], points[(index + 1) % len(points)]
        bulge = shape.bulges[index] if index < len(shape.bulges) else 0.0
        if bulge:
            # The centre lies off the chord's middle, to the left of it for less than half a circle.
            off = (1 - bulge * bulge) / (4 * bulge)
            x = (start[0] + end[0]) / 2 - off * (end[1] - start[1])
            y = (start[1] + end[1]) / 2 + off * (end[0] - start[0])
            _arc(path, (x, y), dist(start, (x, y)), atan2(start[1] - y, start[0] - x), 4 * atan(bulge))
        elif index < len(points) - 1:
            path.lineTo(*_points(*end))
    if shape.closed:
        path.close()


def _arc(path: PDFPathObject, centre: Point, radius: float, start: float, turn: float) -> None:
    """An arc from where the path is, counter-clockwise [radians]."""
    (x, y), r = centre, radius
    for curve in bezierArc(x - r, y - r, x + r, y + r, degrees(start), degrees(turn)):
        path.curveTo(*_points(*curve[2:]))


def _colour(pen: Pen, grey: Callable[[float], None], colour: Callable[[float, float, float], None]) -> None:
    """Grey is set as grey, so that a printer takes black ink for it alone."""
    red, green, blue = (round(part / 255, 3) for part in pen.colour)
    if red == green == blue:
        grey(red)
    else:
        colour(red, green, blue)
