"""Judges finished sheets: reads a PDF with PDFium, in painting order, and lists what hinders reading.

Nothing of our own model is used: lettering is measured by the ink that PDFium finds, lines by their strokes.
"""

from __future__ import annotations

import ctypes
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import hypot

import pypdfium2
from pypdfium2 import raw

MM = 25.4 / 72
#: OS/2 sCapHeight over unitsPerEm of the font in the file.
CAP = 0.700
#: Strokes from here on are heavy [mm].
HEAVY = 0.34
#: Strokes from here on are a wall's outline [mm].
OUTLINE = 0.69
#: Grey of a leader, and how wide it is drawn [mm].
LEADER_GREY, LEADER_WIDTH = 90, 0.25
#: Overlaps smaller than this are the reader's noise [mm].
SLACK = 0.08

Point = tuple[float, float]
Quad = tuple[Point, Point, Point, Point]


@dataclass(frozen=True)
class Fault:
    """One thing that hinders reading.

    Attributes:
        kind: what is wrong.
        page: number of the page, from 1.
        what: the texts or lines concerned.
        where: a point of it [mm from the lower left corner].
    """

    kind: str
    page: int
    what: str
    where: Point

    def __str__(self) -> str:
        return f"page {self.page}: {self.kind}: {self.what} at {self.where[0]:.1f}, {self.where[1]:.1f}"


@dataclass(frozen=True)
class Lettering:
    """A run of lettering: the quadrilateral round its ink, its height, and when it was painted."""

    text: str
    quad: Quad
    cap: float
    order: int


@dataclass(frozen=True)
class Stroke:
    """A straight piece of a stroked line."""

    start: Point
    end: Point
    width: float
    colour: tuple[int, int, int]
    order: int
    path: tuple[int, int]


@dataclass(frozen=True)
class Fill:
    """A filled shape without holes: its corners."""

    points: tuple[Point, ...]
    colour: tuple[int, int, int]
    order: int


@dataclass
class Page:
    """What PDFium finds on a page [mm]."""

    width: float
    height: float
    letterings: list[Lettering] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    fills: list[Fill] = field(default_factory=list)


def read_pdf(data: bytes) -> list[Page]:
    """Every page of a PDF, in millimetres of paper."""
    document = pypdfium2.PdfDocument(data)
    try:
        return [_read(page) for page in document]
    finally:
        document.close()


def _read(page: pypdfium2.PdfPage) -> Page:
    width, height = page.get_size()
    found = Page(width * MM, height * MM)
    words = raw.FPDFText_LoadPage(page)
    counter = iter(range(10**9))

    def walk(count: int, get: Callable[[int], object]) -> None:
        for index in range(count):
            item, order = get(index), next(counter)
            kind = raw.FPDFPageObj_GetType(item)
            if kind == raw.FPDF_PAGEOBJ_FORM:
                walk(
                    raw.FPDFFormObj_CountObjects(item),
                    lambda at, item=item: raw.FPDFFormObj_GetObject(item, at),
                )
            elif kind == raw.FPDF_PAGEOBJ_TEXT:
                found.letterings.extend(_lettering(item, words, order, _window(item)))
            elif kind == raw.FPDF_PAGEOBJ_PATH:
                _path(item, order, found, _window(item))

    walk(raw.FPDFPage_CountObjects(page), lambda at: raw.FPDFPage_GetObject(page, at))
    raw.FPDFText_ClosePage(words)
    return found


def _window(item: object) -> tuple[float, float, float, float]:
    """The rectangle that an object is clipped to [mm]."""
    clip = raw.FPDFPageObj_GetClipPath(item)
    left = bottom = -1e9
    right = top = 1e9
    for path in range(max(0, raw.FPDFClipPath_CountPaths(clip))):
        points = []
        for index in range(raw.FPDFClipPath_CountPathSegments(clip, path)):
            segment = raw.FPDFClipPath_GetPathSegment(clip, path, index)
            points.append(_point(segment))
        if points:
            left, right = max(left, min(x for x, _ in points)), min(right, max(x for x, _ in points))
            bottom, top = max(bottom, min(y for _, y in points)), min(top, max(y for _, y in points))
    return left * MM, bottom * MM, right * MM, top * MM


def _point(segment: object) -> Point:
    x, y = ctypes.c_float(), ctypes.c_float()
    raw.FPDFPathSegment_GetPoint(segment, x, y)
    return x.value, y.value


def _matrix(item: object) -> Callable[[Point], Point]:
    m = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(item, m)
    return lambda p: ((m.a * p[0] + m.c * p[1] + m.e) * MM, (m.b * p[0] + m.d * p[1] + m.f) * MM)


def _lettering(
    item: object, words: object, order: int, window: tuple[float, float, float, float]
) -> Iterator[Lettering]:
    length = raw.FPDFTextObj_GetText(item, words, None, 0)
    buffer = (ctypes.c_ushort * (length // 2 + 1))()
    raw.FPDFTextObj_GetText(item, words, buffer, length)
    text = bytes(buffer).decode("utf-16-le").split("\0")[0].strip()
    bounds = raw.FS_QUADPOINTSF()
    if not text or not raw.FPDFPageObj_GetRotatedBounds(item, bounds):
        return
    quad = tuple((getattr(bounds, f"x{k}") * MM, getattr(bounds, f"y{k}") * MM) for k in (1, 2, 3, 4))
    xs, ys = [x for x, _ in quad], [y for _, y in quad]
    if max(xs) < window[0] or min(xs) > window[2] or max(ys) < window[1] or min(ys) > window[3]:
        return
    size, m = ctypes.c_float(), raw.FS_MATRIX()
    raw.FPDFTextObj_GetFontSize(item, size)
    raw.FPDFPageObj_GetMatrix(item, m)
    yield Lettering(text, quad, size.value * hypot(m.c, m.d) * CAP * MM, order)  # type: ignore[arg-type]


def _path(item: object, order: int, found: Page, window: tuple[float, float, float, float]) -> None:
    mode, stroked = ctypes.c_int(), ctypes.c_int()
    raw.FPDFPath_GetDrawMode(item, mode, stroked)
    to = _matrix(item)
    pieces: list[list[Point]] = []
    curve: list[Point] = []
    for index in range(raw.FPDFPath_CountSegments(item)):
        segment = raw.FPDFPath_GetPathSegment(item, index)
        point, kind = to(_point(segment)), raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_MOVETO:
            pieces.append([point])
        elif kind == raw.FPDF_SEGMENT_LINETO:
            pieces[-1].append(point)
        else:
            curve.append(point)
            if len(curve) == 3:
                pieces[-1] += _bezier(pieces[-1][-1], *curve)
                curve = []
        if raw.FPDFPathSegment_GetClose(segment):
            pieces[-1].append(pieces[-1][0])
    if mode.value:
        colour = _colour(item, raw.FPDFPageObj_GetFillColor)
        found.fills += [Fill(tuple(piece), colour, order) for piece in pieces if len(piece) > 2]
    if stroked.value:
        width = ctypes.c_float()
        raw.FPDFPageObj_GetStrokeWidth(item, width)
        colour = _colour(item, raw.FPDFPageObj_GetStrokeColor)
        for number, piece in enumerate(pieces):
            for start, end in pairwise(piece):
                seen = _clip(start, end, window)
                if seen is not None:
                    found.strokes.append(Stroke(*seen, width.value * MM, colour, order, (order, number)))


def _colour(item: object, get: Callable[..., object]) -> tuple[int, int, int]:
    parts = [ctypes.c_uint() for _ in range(4)]
    get(item, *parts)
    return parts[0].value, parts[1].value, parts[2].value


def _bezier(a: Point, b: Point, c: Point, d: Point, steps: int = 6) -> list[Point]:
    found = []
    for k in range(1, steps + 1):
        t = k / steps
        s = 1 - t
        found.append(
            tuple(s**3 * a[i] + 3 * s * s * t * b[i] + 3 * s * t * t * c[i] + t**3 * d[i] for i in (0, 1))
        )
    return found  # type: ignore[return-value]


def _clip(start: Point, end: Point, window: tuple[float, float, float, float]) -> tuple[Point, Point] | None:
    near, far = 0.0, 1.0
    for begin, step, low, high in (
        (start[0], end[0] - start[0], window[0], window[2]),
        (start[1], end[1] - start[1], window[1], window[3]),
    ):
        if abs(step) < 1e-12:
            if not low <= begin <= high:
                return None
            continue
        first, second = sorted(((low - begin) / step, (high - begin) / step))
        near, far = max(near, first), min(far, second)
    if near >= far:
        return None
    at = [(start[0] + (end[0] - start[0]) * t, start[1] + (end[1] - start[1]) * t) for t in (near, far)]
    return at[0], at[1]


def check_pdf(data: bytes | Sequence[Page], margin: float, smallest: float = 2.5) -> list[Fault]:
    """Everything that hinders reading in a finished PDF.

    Args:
        data: the PDF, or its pages where they are read already.
        margin: nothing lies nearer to the paper's edge [mm].
        smallest: least height of capitals [mm].

    Returns:
        Text over text, text or line outside the margin, lettering that is too small, text on a heavy line
        without knocked-out ground, lettering that a ground painted later hides, leaders that cross a heavy
        line or each other; page by page.
    """
    faults = []
    for number, page in enumerate(read_pdf(data) if isinstance(data, bytes) else data, start=1):
        faults += list(_texts(page, number, margin, smallest))
        faults += list(_over_heavy(page, number))
        faults += list(_painted_over(page, number))
        faults += list(_leaders(page, number))
    return faults


def _texts(page: Page, number: int, margin: float, smallest: float) -> Iterator[Fault]:
    edge = margin - 2 * SLACK
    frame = (edge, edge, page.width - edge, page.height - edge)
    ordered = sorted(page.letterings, key=lambda item: min(x for x, _ in item.quad))
    bounds = [_bounds(item.quad) for item in ordered]
    for index, item in enumerate(ordered):
        _, bottom, right, top = bounds[index]
        if item.cap < smallest - 0.02:
            yield Fault("too small", number, f"{item.text!r} {item.cap:.2f} mm", item.quad[0])
        if not all(frame[0] <= x <= frame[2] and frame[1] <= y <= frame[3] for x, y in item.quad):
            yield Fault("outside the margin", number, repr(item.text), item.quad[0])
        for other, (left, low, _, high) in zip(ordered[index + 1 :], bounds[index + 1 :], strict=True):
            if left > right:
                break
            if low <= top and high >= bottom and meet(item.quad, other.quad):
                yield Fault("text over text", number, f"{item.text!r} and {other.text!r}", item.quad[0])
    for stroke in page.strokes:
        for x, y in (stroke.start, stroke.end):
            if not (frame[0] <= x <= frame[2] and frame[1] <= y <= frame[3]):
                yield Fault("line outside the margin", number, f"{stroke.width:.2f} mm", (x, y))


def _over_heavy(page: Page, number: int) -> Iterator[Fault]:
    heavy = [stroke for stroke in page.strokes if stroke.width >= HEAVY]
    ribbons = [(stroke, ribbon, _bounds(ribbon)) for stroke in heavy for ribbon in (_ribbon(stroke),)]
    white = [fill for fill in page.fills if min(fill.colour) >= 230]
    for item in page.letterings:
        left, bottom, right, top = _bounds(item.quad)
        for stroke, ribbon, (low_x, low_y, high_x, high_y) in ribbons:
            if low_x > right or high_x < left or low_y > top or high_y < bottom:
                continue
            if not meet(item.quad, ribbon):
                continue
            hidden = any(
                stroke.order < fill.order < item.order and _covers(fill.points, item.quad) for fill in white
            )
            if not hidden:
                yield Fault("text on a heavy line", number, repr(item.text), item.quad[0])
                break


def _painted_over(page: Page, number: int) -> Iterator[Fault]:
    white = [
        (fill.order, fill.points, _bounds(fill.points)) for fill in page.fills if min(fill.colour) >= 230
    ]
    for item in page.letterings:
        left, bottom, right, top = _bounds(item.quad)
        for order, points, (low_x, low_y, high_x, high_y) in white:
            if order < item.order or low_x > right or high_x < left or low_y > top or high_y < bottom:
                continue
            if meet(points, item.quad):
                yield Fault("lettering painted over", number, repr(item.text), item.quad[0])
                break


def _bounds(quad: Sequence[Point]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in quad], [y for _, y in quad]
    return min(xs), min(ys), max(xs), max(ys)


def _covers(points: Sequence[Point], quad: Quad) -> bool:
    """Whether a filled shape lies under the whole of a text (its rim aside)."""
    return meet(points[:4], quad) and all(_inside(points, _toward(corner, quad)) for corner in quad)


def _toward(corner: Point, quad: Quad) -> Point:
    middle = (sum(x for x, _ in quad) / 4, sum(y for _, y in quad) / 4)
    return corner[0] + (middle[0] - corner[0]) * 0.25, corner[1] + (middle[1] - corner[1]) * 0.25


def _inside(points: Sequence[Point], at: Point) -> bool:
    found = False
    for (x0, y0), (x1, y1) in zip(points, (*points[1:], points[0]), strict=True):
        if (y0 <= at[1]) != (y1 <= at[1]) and at[0] < x0 + (x1 - x0) * (at[1] - y0) / (y1 - y0):
            found = not found
    return found


def _leaders(page: Page, number: int) -> Iterator[Fault]:
    grey = (LEADER_GREY,) * 3
    leaders = [
        stroke for stroke in page.strokes if stroke.colour == grey and abs(stroke.width - LEADER_WIDTH) < 0.02
    ]
    # The butt line of a change of exposure is level and no heavier than trim: the eye follows a slanting
    # leader over it, and the dot tells the piece. What bounds wall, opening and trim stops the eye.
    thick = [stroke for stroke in page.strokes if stroke.width >= HEAVY]
    heavy = [stroke for stroke in thick if not _butt_line(stroke)]
    outlines: dict[tuple[int, int], list[Point]] = {}
    for stroke in thick:
        outlines.setdefault(stroke.path, []).extend((stroke.start, stroke.end))
    rims = {path: _bounds(points) for path, points in outlines.items() if len(points) >= 8}
    for index, leader in enumerate(leaders):
        # One that is led out of the wall crosses its outline, and with it corner posts and roof edge; one
        # that is led into an opening, where nothing else stands, its frame and trim.
        out = any(stroke.width >= OUTLINE and cross(leader, stroke) for stroke in heavy)
        into = {path for path, rim in rims.items() if _holds(rim, leader.start) or _holds(rim, leader.end)}
        for stroke in heavy:
            if not out and stroke.path not in into and cross(leader, stroke):
                yield Fault("leader crosses a heavy line", number, f"{stroke.width:.2f} mm", leader.start)
        for other in leaders[index + 1 :]:
            if other.path != leader.path and cross(leader, other):
                yield Fault("leaders cross", number, "", leader.start)


def _butt_line(stroke: Stroke) -> bool:
    """Whether a line is level, lighter than an opening's, and no side of a small thing [mm]."""
    return (
        abs(stroke.start[1] - stroke.end[1]) < SLACK
        and stroke.width < 0.4
        and abs(stroke.start[0] - stroke.end[0]) > 4.0
    )


def _holds(rim: tuple[float, float, float, float], at: Point) -> bool:
    return rim[0] < at[0] < rim[2] and rim[1] < at[1] < rim[3]


def cross(one: Stroke, other: Stroke) -> bool:
    """Whether two strokes cross, their ends aside."""

    def side(p: Point, q: Point, r: Point) -> float:
        return ((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])) / max(
            1e-9, hypot(q[0] - p[0], q[1] - p[1])
        )

    a, b, c, d = one.start, one.end, other.start, other.end
    sides = (side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b))
    if min(abs(value) for value in sides) < SLACK:
        return False
    return sides[0] * sides[1] < 0 and sides[2] * sides[3] < 0


def _ribbon(stroke: Stroke) -> Quad:
    (x0, y0), (x1, y1) = stroke.start, stroke.end
    length = max(1e-9, hypot(x1 - x0, y1 - y0))
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    half = stroke.width / 2
    return (
        (x0 - uy * half, y0 + ux * half),
        (x1 - uy * half, y1 + ux * half),
        (x1 + uy * half, y1 - ux * half),
        (x0 + uy * half, y0 - ux * half),
    )


def meet(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two convex quadrilaterals share more than a rim."""
    for quad in (one, other):
        for (x0, y0), (x1, y1) in zip(quad, (*quad[1:], quad[0]), strict=True):
            length = hypot(x1 - x0, y1 - y0)
            if length < 1e-9:
                continue
            nx, ny = (y1 - y0) / length, (x0 - x1) / length
            mine = [x * nx + y * ny for x, y in one]
            theirs = [x * nx + y * ny for x, y in other]
            if max(mine) <= min(theirs) + SLACK or max(theirs) <= min(mine) + SLACK:
                return False
    return True
