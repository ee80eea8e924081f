"""A document as PDF: each sheet drawn by cairo from its SVG, then bound into one file without a clock."""

from __future__ import annotations

import atexit
import io
import os
import shutil
import sys
import tempfile
from functools import cache
from html import escape
from pathlib import Path
from types import ModuleType

from layout.errors import EvencourseError
from render.drawing import Document, Sheet
from render.fonts import font_path
from render.svg import svg

#: Name that the file gives for the program that made it.
PRODUCER = "evencourse"


class CairoMissingError(EvencourseError):
    """The system library that draws PDF is not installed."""

    def __init__(self) -> None:
        super().__init__(
            "PDF needs the cairo library: install the package libcairo2 on Debian and Ubuntu, cairo with "
            "Homebrew on macOS, or the GTK 3 runtime (libcairo-2.dll) on Windows; --only svg,dxf needs none"
        )


def pdf(document: Document) -> bytes:
    """A document as one PDF file.

    Args:
        document: sheets and what a reader's program shows of them.

    Returns:
        The file; the same bytes for the same document. Every sheet has its bookmark and its page label; the
        text can be searched and copied; the only date in it is the document's own.

    Raises:
        CairoMissingError: the system has no cairo.
    """
    import pypdf
    from pypdf.generic import BooleanObject, DictionaryObject, NameObject, TextStringObject

    writer = pypdf.PdfWriter()
    for sheet in document.sheets:
        page = pypdf.PdfReader(io.BytesIO(_page(sheet))).pages[0]
        writer.add_page(page)
        writer.add_outline_item(title=sheet.title, page_number=len(writer.pages) - 1)
    for number, sheet in enumerate(document.sheets):
        writer.set_page_label(number, number, prefix=sheet.label or str(number + 1))
    facts = {
        "/Title": document.title,
        "/Author": document.author,
        "/Subject": document.subject,
        "/Keywords": ", ".join(document.keywords),
        "/Producer": PRODUCER,
        "/Creator": PRODUCER,
    }
    if document.date:
        facts["/CreationDate"] = f"D:{document.date.replace('-', '')}"
    writer.metadata = None
    writer.add_metadata({key: value for key, value in facts.items() if value})
    root = writer.root_object
    root[NameObject("/Lang")] = TextStringObject(document.language)
    root[NameObject("/ViewerPreferences")] = DictionaryObject(
        {NameObject("/DisplayDocTitle"): BooleanObject(True)}
    )
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def png(sheet: Sheet, dpi: float = 150.0) -> bytes:
    """A sheet as a picture.

    Args:
        sheet: what is drawn.
        dpi: dots per inch of paper.

    Raises:
        CairoMissingError: the system has no cairo.
    """
    cairosvg = _cairosvg()
    data: bytes = cairosvg.svg2png(
        bytestring=svg(sheet, portable=False), dpi=96, scale=dpi / 96, background_color="#ffffff"
    )
    return data


def _page(sheet: Sheet) -> bytes:
    data: bytes = _cairosvg().svg2pdf(bytestring=svg(sheet, portable=False))
    return data


def _cairosvg() -> ModuleType:
    """cairosvg, with the packaged font made known to fontconfig before cairo is loaded."""
    _know_font()
    try:
        import cairosvg
    except OSError as error:
        raise CairoMissingError from error
    return sys.modules[cairosvg.__name__]


@cache
def _know_font() -> None:
    """Name the packaged font's folder to fontconfig, before cairo is loaded; nothing is left behind.

    Only the font that comes with the install is named, so that a sheet looks the same on every machine.
    """
    folder = Path(tempfile.mkdtemp(prefix="evencourse-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    config = folder / "fonts.conf"
    config.write_text(
        '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>'
        f"<dir>{escape(str(font_path().parent))}</dir><cachedir>{escape(str(folder))}</cachedir></fontconfig>",
        encoding="utf-8",
    )
    os.environ["FONTCONFIG_FILE"] = str(config)
