"""What is asked of a drawing, by the command or at the desk; and the drawing read so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import BinaryIO

from evencourse.cli.models.guarded_reading import MODEL, PDF, kind_of
from evencourse.cli.options.known_lengths import known_length, page_number
from evencourse.layout.drawings.drawing_import import Gathered, gather
from evencourse.layout.drawings.drawing_units import KnownLength, known_units, units_by
from evencourse.layout.drawings.first_look import Look, Wishes, look
from evencourse.layout.drawings.picks import NumberedRegion, drawn_length, read_picks
from evencourse.layout.dxf.layers import read_layers
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault, JobError, LengthError
from evencourse.layout.model.job import Job, Point
from evencourse.layout.model.lengths import parse_length
from evencourse.layout.pdf.page_import import gather_page
from evencourse.layout.pdf.page_lines import PdfPage, read_page


@dataclass(frozen=True)
class DrawingOptions:
    """Options of ``import``, as they are given."""

    layer: Sequence[str] = ()
    units: str | None = None
    datum: Sequence[str] = ()
    datum_line: Sequence[str] = ()
    tolerance: str | None = None
    cladding: str | None = None
    like: Job | None = None
    face: Sequence[str] = ()
    opening: Sequence[str] = ()
    page: str | None = None
    known: str | None = None
    between: str | None = None
    accept: bool = False


@dataclass(frozen=True)
class AskedDrawing:
    """The options, read.

    Attributes:
        wishes: what the user says of a drawing.
        page: of a PDF.
        known: a length that is known; None for none.
    """

    wishes: Wishes
    page: int = 1
    known: KnownLength | None = None


def asked(name: str, given: DrawingOptions, faults: list[Fault]) -> AskedDrawing:
    """Read the options.

    Args:
        name: of the drawing's file; ``-`` for standard input.
        given: the options.
        faults: gets what cannot be read, and options that are none of such a file.
    """
    wishes = _wishes(name, given, faults)
    if kind_of(name) == MODEL:
        own = {
            "--layer": given.layer, "--units": given.units, "--datum": given.datum,
            "--datum-line": given.datum_line, "--tolerance": given.tolerance, "--face": given.face,
            "--opening": given.opening, "--page": given.page, "--known": given.known,
            "--between": given.between,
        }  # fmt: skip
        found, wanted = (
            gettext("an option of drawings"),
            gettext("a drawing; a model says by itself what it is"),
        )
        faults += [Fault(option, found, wanted) for option, value in own.items() if value]
        return AskedDrawing(wishes)
    known = known_length(given.known, given.between, faults)
    if kind_of(name) == PDF:
        strange = {"--layer": given.layer, "--units": given.units, "--datum-line": given.datum_line}
        found, wanted = gettext("an option of a DXF"), gettext("a DXF")
        faults += [Fault(option, found, wanted) for option, one in strange.items() if one]
        return AskedDrawing(wishes, page_number(given.page, faults), known)
    if given.page:
        faults.append(Fault("--page", gettext("an option of a PDF"), gettext("a PDF")))
    if known is not None and given.units:
        faults.append(Fault("--known", gettext("a length beside --units"), gettext("one of the two")))
    return AskedDrawing(wishes, known=known)


def read_drawing(name: str, file: BinaryIO, ask: AskedDrawing) -> Look | PdfPage:
    """Read a drawing, as far as options are not needed that may be given later.

    Args:
        name: of its file.
        file: the file.
        ask: layers of a DXF, and the page of a PDF, count here.

    Raises:
        JobError: it cannot be read.
    """
    if kind_of(name) == PDF:
        return read_page(file.read(), ask.page)
    return look(file, ask.wishes)


def gathered(seen: Look | PdfPage, ask: AskedDrawing) -> Gathered:
    """Look for faces on a drawing; picks and siding do not count here.

    Args:
        seen: the drawing.
        ask: the options.

    Raises:
        JobError: no lines, or a known length that is not there.
    """
    if isinstance(seen, PdfPage):
        return gather_page(seen, ask.wishes, ask.known)
    if ask.known is None:
        return gather(seen, ask.wishes)
    faults: list[Fault] = []
    regions: tuple[NumberedRegion, ...] = ()
    if ask.known.region is not None:
        regions = gather(seen, ask.wishes).regions
    drawn = drawn_length(ask.known, regions, faults)
    units = units_by(ask.known, drawn, faults) if drawn is not None else None
    if faults:
        raise JobError(faults)
    return gather(seen, replace(ask.wishes, units=units))


def _wishes(name: str, given: DrawingOptions, faults: list[Fault]) -> Wishes:
    """The options, read; what cannot be read goes to ``faults``."""
    layers = read_layers([*given.layer, *(f"datum={one}" for one in given.datum_line)], faults)
    if given.datum and "datum" in layers:
        beside = gettext("a point beside a datum line")
        faults.append(Fault("--datum", beside, gettext("one of the two")))
    units = given.units
    if units is not None and units not in known_units():
        wanted = gettext("one of {names}", names=", ".join(known_units()))
        faults.append(Fault("--units", f'"{units[:40]}"', wanted))
        units = None
    stem = gettext("standard input") if name == "-" else Path(name).name
    words = "".join(sign if sign.isprintable() else " " for sign in stem)[:100].strip()
    return Wishes(
        layers=layers,
        accept=given.accept,
        units=units,
        datum=tuple(point for text in given.datum if (point := _point(text, faults)) is not None),
        tolerance=_tolerance(given.tolerance, faults),
        cladding=given.cladding,
        like=given.like,
        faces=read_picks("--face", given.face, faults),
        openings=read_picks("--opening", given.opening, faults),
        name=Path(words).stem.replace("_", " ") or gettext("drawing"),
        file=words or gettext("a drawing"),
    )


def _point(text: str, faults: list[Fault]) -> Point | None:
    try:
        x, y = (float(part) for part in text.split(","))
    except ValueError:
        x = y = float("nan")
    if abs(x) < 1e10 and abs(y) < 1e10:
        return (x, y)
    faults.append(Fault("--datum", f'"{text[:60]}"', gettext("X,Y in drawing units: 120,36.5")))
    return None


def _tolerance(text: str | None, faults: list[Fault]) -> float | None:
    """The tolerance [in]."""
    if text is None:
        return None
    try:
        length = parse_length(text, "in")
    except LengthError as error:
        faults.append(Fault("--tolerance", error.found, error.wanted))
        return None
    if 0 < length <= 12:
        return length
    faults.append(Fault("--tolerance", f'"{text}"', gettext("a length above zero, up to 12 in")))
    return None
