"""Each sheet drawn twice: our SVG by resvg, our PDF by PDFium. Neither is cairo, and neither is ours.

Every dark spot of the one picture has ink within one pixel in the other, at 100 dots an inch: lines,
lettering and fills lie where they lie in the other format within 0.25 mm.
"""

from __future__ import annotations

import atexit
import io
import shutil
import tempfile
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, get_args

import numpy as np
import pypdfium2
import pytest
from numpy.typing import NDArray

from evencourse.render.drawing.drawing import Document, Sheet
from evencourse.render.drawing.font_files import Weight, font_file
from evencourse.render.formats.pdf import pdf
from evencourse.render.formats.svg import svg
from tests.samples import SAMPLES, each_sample, faces_of

resvg: Any = pytest.importorskip("resvg_py", reason="resvg-py is not installed")
image: Any = pytest.importorskip("PIL.Image", reason="Pillow is not installed")

DOTS = 100
#: Darker than this is ink; whatever is darker than white by a fifth may answer for it: edges are softened.
DARK, INK = 160, 200
Grey = NDArray[np.uint8]


@cache
def sheets(path: Path) -> tuple[Sheet, ...]:
    return tuple(sheet for face in faces_of(path, "tabloid") for sheet in face)


@cache
def font_files() -> list[str]:
    """The sheets' font as files: resvg takes no font from a document."""
    folder = Path(tempfile.mkdtemp())
    atexit.register(shutil.rmtree, folder)
    for weight in get_args(Weight):
        (folder / f"{weight}.ttf").write_bytes(font_file(weight))
    return [str(path) for path in sorted(folder.iterdir())]


def by_resvg(sheet: Sheet) -> Grey:
    picture = resvg.svg_to_bytes(
        svg_string=svg(sheet).decode(),
        dpi=DOTS,
        background="#ffffff",
        skip_system_fonts=True,
        font_files=font_files(),
    )
    return np.asarray(image.open(io.BytesIO(bytes(picture))).convert("L"))


def by_pdfium(sheet: Sheet) -> Grey:
    page = pypdfium2.PdfDocument(pdf(Document("One", (sheet,))))[0]
    return np.asarray(page.render(scale=DOTS / 72).to_pil().convert("L"))


def lacking(one: Grey, other: Grey) -> int:
    """Dark pixels of one picture with no ink within a pixel in the other."""
    ink = np.pad(other < INK, 1)
    high, wide = other.shape
    near = np.any([ink[y : y + high, x : x + wide] for y in range(3) for x in range(3)], axis=0)
    return int(((one < DARK) & ~near).sum())


@each_sample
def test_both_formats_put_the_same_ink_on_the_paper(path: Path) -> None:
    for sheet in sheets(path)[:2]:
        drawn, printed = by_resvg(sheet), by_pdfium(sheet)
        assert drawn.shape == printed.shape
        assert (drawn < DARK).sum() > 10_000
        assert (lacking(drawn, printed), lacking(printed, drawn)) == (0, 0)


def test_a_mark_more_is_seen() -> None:
    (sheet, *_) = sheets(SAMPLES[0])
    short = replace(sheet, marks=sheet.marks[:-1])
    assert lacking(by_resvg(sheet), by_pdfium(short)) > 20
    assert lacking(by_pdfium(sheet), by_resvg(short)) > 20


def test_a_sheet_half_a_millimetre_off_is_seen() -> None:
    drawn = by_resvg(sheets(SAMPLES[0])[0])
    assert lacking(drawn, np.roll(by_pdfium(sheets(SAMPLES[0])[0]), 2, axis=1)) > 1000
