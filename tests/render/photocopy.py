"""A sheet as an office copier leaves it, and what of it can still be read.

The page is printed by PDFium at 150 dots per inch and every dot is made black or white. Strokes are looked
for where the PDF has them; figures are read back by comparing their dots with those of all ten figures of the
font, drawn by FreeType: nothing of our own drawing code takes part.
"""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from math import hypot

import numpy as np
import pypdfium2
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont
from pypdfium2 import raw

from evencourse.render.drawing.font_files import Weight, font_file
from tests.render.sheetcheck import MM, Stroke, read_pdf

DPI, THRESHOLD = 150, 0.6
#: Lines lighter than this are texture, which a copier may lose (0 to 255).
TEXTURE = 180
#: The least share of a stroke that is found again; the closest dashes leave two thirds of a line.
_THERE = 0.6
#: Templates are drawn so much larger, and tried at so many places in a dot.
_FINER = 8

Dots = NDArray[np.bool_]


def copied(data: bytes, page: int) -> Dots:
    """A page of a PDF, its dots black or not, the uppermost row first."""
    with pypdfium2.PdfDocument(data) as document:
        grey = document[page].render(scale=DPI / 72).to_pil().convert("L")
    return np.asarray(grey) < THRESHOLD * 255


def lost_strokes(data: bytes, page: int, dots: Dots) -> list[Stroke]:
    """Strokes that are no longer there, as far as they are no texture and nothing was painted over them."""
    found = read_pdf(data)[page]
    near = _grown(dots)
    per = DPI / 25.4
    white = [fill for fill in found.fills if min(fill.colour) >= TEXTURE]
    covers = np.array([(fill.order, *_reach(fill.points)) for fill in white]).reshape(-1, 5)
    lost = []
    for stroke in found.strokes:
        if min(stroke.colour) >= TEXTURE:
            continue
        (x0, y0), (x1, y1) = stroke.start, stroke.end
        count = max(2, int(hypot(x1 - x0, y1 - y0) * per))
        at = (np.arange(count) + 0.5) / count
        xs, ys = x0 + (x1 - x0) * at, y0 + (y1 - y0) * at
        later = covers[
            (covers[:, 0] > stroke.order)
            & (covers[:, 1] < max(x0, x1) + 0.3)
            & (covers[:, 3] > min(x0, x1) - 0.3)
            & (covers[:, 2] < max(y0, y1) + 0.3)
            & (covers[:, 4] > min(y0, y1) - 0.3)
        ]
        seen = np.ones(count, dtype=bool)
        for _, left, low, right, high in later:
            seen &= ~((xs > left - 0.3) & (xs < right + 0.3) & (ys > low - 0.3) & (ys < high + 0.3))
        if not seen.any():
            continue
        columns = np.clip((xs * per).astype(int), 0, dots.shape[1] - 1)
        rows = np.clip(((found.height - ys) * per).astype(int), 0, dots.shape[0] - 1)
        if near[rows, columns][seen].mean() < _THERE:
            lost.append(stroke)
    return lost


def _reach(points: tuple[tuple[float, float], ...]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _grown(dots: Dots) -> Dots:
    high, wide = dots.shape
    padded = np.pad(dots, 1)
    shifted = [padded[y : y + high, x : x + wide] for y in range(3) for x in range(3)]
    found: Dots = np.any(shifted, axis=0)
    return found


def misread(data: bytes, page: int, dots: Dots) -> list[tuple[str, str, float, float]]:
    """Figures that are taken for another one: which, for which, and where [mm from the lower left corner]."""
    per = DPI / 25.4
    high = dots.shape[0] / per
    wrong = []
    for figure, weight, cap, left, bottom in _figures(data, page):
        x, y = left * per, (high - bottom) * per
        column, row = int(np.floor(x)), int(np.floor(y))
        shapes = _shapes(weight, round(cap, 2))
        top = row - shapes.shape[-2] + 3

        def taken_for(*starts: int, rows: tuple[int, ...] = (top,), shapes: Dots = shapes) -> str:
            tall, wide = shapes.shape[-2:]
            crops = (dots[row : row + tall, at : at + wide] for row in rows for at in starts)
            differ = np.min([(shapes ^ crop).sum(axis=(-2, -1)).min(axis=1) for crop in crops], axis=0)
            return str(int(differ.argmin()))

        best = taken_for(column - 1)
        if best != figure:  # the text layer gives some origins a few dots off
            best = taken_for(*range(column - 4, column + 4), rows=(top - 1, top, top + 1))
        if best != figure:
            wrong.append((figure, best, left, bottom))
    return wrong


def _figures(data: bytes, page: int) -> Iterator[tuple[str, Weight, float, float, float]]:
    """Every level figure of a page: which, its weight, height of capitals, left end and baseline [mm]."""
    with pypdfium2.PdfDocument(data) as document:
        held = document[page]  # as long as its text is read
        words = raw.FPDFText_LoadPage(held)
        for index in range(raw.FPDFText_CountChars(words)):
            code = raw.FPDFText_GetUnicode(words, index)
            if not ord("0") <= code <= ord("9") or abs(raw.FPDFText_GetCharAngle(words, index)) > 0.01:
                continue
            x, y = ctypes.c_double(), ctypes.c_double()
            raw.FPDFText_GetCharOrigin(words, index, x, y)
            matrix = raw.FS_MATRIX()
            raw.FPDFText_GetMatrix(words, index, matrix)
            name, flags = ctypes.create_string_buffer(128), ctypes.c_int()
            raw.FPDFText_GetFontInfo(words, index, name, 128, flags)
            weight: Weight = "bold" if b"Bold" in name.value else "regular"
            cap = raw.FPDFText_GetFontSize(words, index) * hypot(matrix.c, matrix.d) * 0.7 * MM
            yield chr(code), weight, cap, x.value * MM, y.value * MM
        raw.FPDFText_ClosePage(words)
        held.close()


@cache
def _shapes(weight: Weight, cap: float) -> Dots:
    """Dots of all ten figures at one size: by figure, by its place within a dot, by row, by column."""
    size = cap / 0.7 * DPI / 25.4
    font = ImageFont.truetype(BytesIO(font_file(weight)), size * _FINER)
    wide, tall = int(size * 0.55) + 4, int(size * 0.75) + 6
    found = []
    for figure in "0123456789":
        places = []
        for right in range(_FINER):
            for down in range(_FINER):
                picture = Image.new("L", (wide * _FINER, tall * _FINER), 255)
                at = (_FINER + right, (tall - 3) * _FINER + down)
                ImageDraw.Draw(picture).text(at, figure, fill=0, font=font, anchor="ls")
                blocks = np.asarray(picture).reshape(tall, _FINER, wide, _FINER).mean(axis=(1, 3))
                places.append(blocks < THRESHOLD * 255)
        found.append(places)
    return np.array(found)
