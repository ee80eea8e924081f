"""Pictures of sheets: their size, and what is said where cairo is missing."""

from __future__ import annotations

import builtins
import io
import sys
from collections.abc import Callable
from typing import Any

import pytest
from fontTools.ttLib import TTFont
from PIL import Image

import evencourse.render.formats.png
from evencourse.render.drawing.drawing import Document, Sheet, Text
from evencourse.render.drawing.font_files import font_file
from evencourse.render.drawing.pens import TEXT
from evencourse.render.formats.pdf import pdf
from evencourse.render.formats.png import CairoMissingError, png
from evencourse.render.formats.svg import svg
from tests.tools import missing

SHEET = Sheet("One", (100.0, 80.0), marks=(Text(TEXT, (20.0, 40.0), "course 11"),))


@pytest.fixture
def no_cairo(monkeypatch: pytest.MonkeyPatch) -> None:
    """The system library is missing: cairosvg then fails with OSError while it is imported."""
    imported: Callable[..., Any] = builtins.__import__

    def without(name: str, *more: Any, **named: Any) -> Any:
        if name.split(".", maxsplit=1)[0] in {"cairosvg", "cairocffi"}:
            raise OSError('no library called "cairo-2" was found')
        return imported(name, *more, **named)

    for module in [name for name in sys.modules if name.split(".")[0] in {"cairosvg", "cairocffi"}]:
        monkeypatch.delitem(sys.modules, module)
    monkeypatch.setattr(builtins, "__import__", without)
    monkeypatch.setattr(evencourse.render.formats.png, "_know_font", lambda: None)


@pytest.mark.usefixtures("no_cairo")
def test_without_cairo_the_package_is_named() -> None:
    with pytest.raises(CairoMissingError, match="libcairo2"):
        png(SHEET)


@pytest.mark.usefixtures("no_cairo")
def test_without_cairo_svg_and_pdf_are_made_all_the_same() -> None:
    assert b"course 11" in svg(SHEET)
    assert pdf(Document("One", (SHEET,))).startswith(b"%PDF-")


def test_a_picture_has_the_dots_that_are_asked_for() -> None:
    """100 x 80 mm at 254 dots per inch."""
    try:
        head = png(SHEET, 254.0)[:24]
    except CairoMissingError as error:
        missing(str(error))
    assert head.startswith(b"\x89PNG")
    assert int.from_bytes(head[16:20], "big") == pytest.approx(1000, abs=1)
    assert int.from_bytes(head[20:24], "big") == pytest.approx(800, abs=1)


def test_a_line_is_as_wide_as_the_font_says() -> None:
    """Oracle: the advances in the font file, by fontTools; to 6 dots: the ends' bearings are white."""
    words = "Wear eye and ear protection at the saw; nail it loose so that it can move all along"
    line = Sheet("One", (200.0, 80.0), marks=(Text(TEXT, (20.0, 40.0), words),))
    try:
        picture = Image.open(io.BytesIO(png(line, 200.0))).convert("L")
    except CairoMissingError as error:
        missing(str(error))
    ink = picture.point([255 if grey < 128 else 0 for grey in range(256)]).getbbox()
    assert ink is not None
    font = TTFont(io.BytesIO(font_file("regular")))
    letters, advances = font.getBestCmap(), font["hmtx"].metrics
    across = sum(advances[letters[ord(letter)]][0] for letter in words) / font["head"].unitsPerEm
    size = 2.5 * font["head"].unitsPerEm / font["OS/2"].sCapHeight  # capitals are 2.5 mm high
    assert ink[2] - ink[0] == pytest.approx(across * size * 200 / 25.4, abs=6)
