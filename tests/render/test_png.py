"""Pictures of sheets: their size, and what is said where cairo is missing."""

from __future__ import annotations

import builtins
import sys
from collections.abc import Callable
from typing import Any

import pytest

import evencourse.render.formats.png
from evencourse.render.drawing.drawing import Document, Sheet, Text
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
