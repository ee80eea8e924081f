"""A sheet as a picture, for a phone, a mail or a page of documentation."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile
from functools import cache
from html import escape
from pathlib import Path
from types import ModuleType

from evencourse.layout.model.errors import EvencourseError
from evencourse.render.drawing.drawing import Sheet
from evencourse.render.drawing.font_files import Weight, font_file
from evencourse.render.formats.svg import svg


class CairoMissingError(EvencourseError):
    """The system library that draws pictures is not installed."""

    def __init__(self) -> None:
        super().__init__(
            "a PNG picture needs the cairo library: install the package libcairo2 on Debian and Ubuntu, "
            "cairo with Homebrew on macOS, or the GTK 3 runtime (libcairo-2.dll) on Windows; SVG, PDF and "
            "DXF need none"
        )


def png(sheet: Sheet, dpi: float = 150.0) -> bytes:
    """A sheet as a picture.

    Args:
        sheet: what is drawn.
        dpi: dots per inch of paper.

    Raises:
        CairoMissingError: the system has no cairo.
    """
    cairosvg = _cairosvg()
    # else every letter's advance is rounded to whole dots, and lines run out of their columns
    drawn = svg(sheet, portable=False).replace(b"<svg ", b'<svg text-rendering="geometricPrecision" ', 1)
    data: bytes = cairosvg.svg2png(bytestring=drawn, dpi=96, scale=dpi / 96, background_color="#ffffff")
    return data


def _cairosvg() -> ModuleType:
    """cairosvg, with the packaged font made known to fontconfig before cairo is loaded."""
    _know_font()
    try:
        import cairosvg
    except OSError as error:
        raise CairoMissingError from error
    # cairosvg smooths such letters by colour stripes of a screen, which come out as rags on a white picture
    cairosvg.surface.TEXT_ANTIALIAS["geometricPrecision"] = cairosvg.surface.cairo.ANTIALIAS_GRAY
    module: ModuleType = cairosvg
    return module


@cache
def _know_font() -> None:
    """Name a folder of the sheets' font to fontconfig, before cairo is loaded; nothing is left behind.

    Only the font that comes with the install is named, so that a sheet looks the same on every machine.
    """
    folder = Path(tempfile.mkdtemp(prefix="evencourse-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    weights: tuple[Weight, ...] = ("regular", "bold")
    for weight in weights:
        (folder / f"{weight}.ttf").write_bytes(font_file(weight))
    config = folder / "fonts.conf"
    config.write_text(
        '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>'
        f"<dir>{escape(str(folder))}</dir><cachedir>{escape(str(folder))}</cachedir></fontconfig>",
        encoding="utf-8",
    )
    os.environ["FONTCONFIG_FILE"] = str(config)
