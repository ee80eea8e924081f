"""A page of a PDF: its lines with their widths, and its lettering, in points from the lower left corner."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from evencourse.layout.dxf.cad_library import load_cad
from evencourse.layout.dxf.dxf_entities import Curve, DxfLabel, Source
from evencourse.layout.dxf.dxf_geometry import Affine, Chain
from evencourse.layout.language.speech import gettext, pgettext
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Point

if TYPE_CHECKING:
    import pypdfium2

#: Most straight pieces and most lettering of a page; deepest nesting of forms; largest file [bytes].
MOST_PIECES, MOST_WORDS, DEEPEST, LARGEST = 60_000, 5_000, 12, 200_000_000
#: Points farther off the page than this are no line of it [pt].
_FAR = 20_000.0
#: How far chords may lie off a curve [pt].
_FLAT = 0.02


@dataclass(frozen=True)
class PageLine:
    """A line of a page.

    Attributes:
        curve: where it runs [pt].
        width: of its stroke [pt].
    """

    curve: Curve
    width: float


@dataclass
class PdfPage:
    """A page.

    Attributes:
        number: from 1.
        count: pages of the document.
        lines: its solid strokes.
        labels: its lettering, a line each.
        pictures: pictures on it.
        overfull: it has more lines than are read.
    """

    number: int
    count: int
    lines: list[PageLine] = field(default_factory=list)
    labels: list[DxfLabel] = field(default_factory=list)
    pictures: int = 0
    overfull: bool = False


def read_page(data: bytes, number: int) -> PdfPage:
    """A page of a document.

    Args:
        data: a PDF file.
        number: of the page, from 1.

    Raises:
        JobError: no PDF, locked, damaged, or without such a page.
    """
    import pypdfium2
    from pypdfium2 import raw

    if len(data) > LARGEST:
        given = gettext("a PDF of {count} bytes", count=len(data))
        raise JobError(
            [Fault(gettext("the drawing"), given, gettext("one of at most {count}", count=LARGEST))]
        )
    try:
        document = pypdfium2.PdfDocument(data)
        count = len(document)
    except pypdfium2.PdfiumError as error:
        given = gettext("a PDF that cannot be read: {reason}", reason=error)
        wanted = gettext("a PDF that opens without a password, and is whole")
        raise JobError([Fault(gettext("the drawing"), given, wanted)]) from error
    if not 1 <= number <= count:
        raise JobError([Fault("--page", str(number), gettext("a page from 1 to {count}", count=count))])
    try:
        page = document[number - 1]
        found = PdfPage(number, count)
        width, height = page.get_mediabox()[2:]
        turn = _TURNS[raw.FPDFPage_GetRotation(page) % 4](width, height)
        _Reader(found, raw).take(page, turn)
        _letter(found, page, turn)
    except pypdfium2.PdfiumError as error:
        damage = gettext("damaged: {reason}", reason=error)
        raise JobError([Fault(_page(number), damage, gettext("a whole PDF"))]) from error
    finally:
        document.close()
    return found


#: From the page's own coordinates to those of the page as it is seen, by quarter turns to the right.
_TURNS = (
    lambda width, height: Affine(),
    lambda width, height: Affine(0, -1, 1, 0, 0, width),
    lambda width, height: Affine(-1, 0, 0, -1, width, height),
    lambda width, height: Affine(0, 1, -1, 0, height, 0),
)


def _page(number: int) -> str:
    """What is said of a page; where a DXF has layers, it stands for one."""
    return gettext("page {number}", number=number)


class _Reader:
    def __init__(self, found: PdfPage, raw: Any) -> None:
        self.found, self.raw, self.pieces = found, raw, 0

    def take(self, page: pypdfium2.PdfPage, turn: Affine) -> None:
        """Every stroke of a page, those in forms too."""
        waiting: list[tuple[Any, Affine, int]] = [(None, turn, 0)]
        while waiting:
            form, by, depth = waiting.pop()
            for one in page.get_objects(max_depth=1, form=form):
                if one.type == self.raw.FPDF_PAGEOBJ_FORM and depth < DEEPEST:
                    waiting.append((one, by.after(_matrix(one)), depth + 1))
                elif one.type == self.raw.FPDF_PAGEOBJ_IMAGE:
                    self.found.pictures += 1
                elif one.type == self.raw.FPDF_PAGEOBJ_PATH:
                    self.path(one, by.after(_matrix(one)))
                    if self.found.overfull:
                        return

    def path(self, one: Any, by: Affine) -> None:
        fill, stroke, width = ctypes.c_int(), ctypes.c_int(), ctypes.c_float()
        self.raw.FPDFPath_GetDrawMode(one, fill, stroke)
        if not stroke.value or self.raw.FPDFPageObj_GetDashCount(one) > 0:
            return  # fills are no lines; dashed ones are hidden edges, centre lines, the datum
        self.raw.FPDFPageObj_GetStrokeWidth(one, width)
        seen = width.value * abs(by.a * by.d - by.b * by.c) ** 0.5
        for points, closed in self.outlines(one):
            moved = tuple(by.point(point) for point in points)
            if len(set(moved)) < 2 or not all(abs(x) < _FAR and abs(y) < _FAR for x, y in moved):
                continue
            self.pieces += len(moved)
            if self.pieces > MOST_PIECES:
                self.found.overfull = True
                self.found.lines.clear()
                return
            source = Source(pgettext("on a page of a PDF", "line"), _page(self.found.number), "", moved[0])
            self.found.lines.append(PageLine(Curve((Chain(moved),), closed, source), seen))

    def outlines(self, path: Any) -> Iterator[tuple[list[Point], bool]]:
        """The strokes of a path, and whether each is closed."""
        raw = self.raw
        points: list[Point] = []
        bend: list[Point] = []
        x, y = ctypes.c_float(), ctypes.c_float()
        for number in range(raw.FPDFPath_CountSegments(path)):
            segment = raw.FPDFPath_GetPathSegment(path, number)
            raw.FPDFPathSegment_GetPoint(segment, x, y)
            kind, at = raw.FPDFPathSegment_GetType(segment), (x.value, y.value)
            if kind == raw.FPDF_SEGMENT_MOVETO:
                if len(points) > 1:
                    yield points, False
                points, bend = [at], []
            elif kind == raw.FPDF_SEGMENT_LINETO:
                points.append(at)
            elif kind == raw.FPDF_SEGMENT_BEZIERTO:
                bend.append(at)
                if len(bend) == 3 and points:
                    points += _bent(points[-1], bend)
                    bend = []
            if raw.FPDFPathSegment_GetClose(segment) and len(points) > 1:
                yield points, True
                points = points[:1]
        if len(points) > 1:
            yield points, False


def _matrix(one: Any) -> Affine:
    found = one.get_matrix()
    return Affine(found.a, found.b, found.c, found.d, found.e, found.f)


def _bent(start: Point, bend: list[Point]) -> list[Point]:
    """Points along a Bezier curve after its start."""
    load_cad()
    from ezdxf.math import Bezier4P, Vec2

    curve = Bezier4P([Vec2(point) for point in (start, *bend)])
    try:
        return [(point.x, point.y) for point in curve.flattening(_FLAT, segments=4)][1:200]
    except (ArithmeticError, ValueError, RecursionError):
        return [bend[-1]]


def _letter(found: PdfPage, page: pypdfium2.PdfPage, turn: Affine) -> None:
    """The lettering of a page, line by line."""
    text = page.get_textpage()
    for number in range(min(text.count_rects(), MOST_WORDS)):
        left, low, right, high = text.get_rect(number)
        words = " ".join(text.get_text_bounded(left, low, right, high).split())[:200]
        if words:
            at = turn.point(((left + right) / 2, (low + high) / 2))
            source = Source(pgettext("on a page of a PDF", "text"), _page(found.number), "", at)
            found.labels.append(DxfLabel(words, high - low, source))
