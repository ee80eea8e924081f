"""``--page``, ``--known`` and ``--between``: a page of a PDF, and the length that sets its scale."""

from __future__ import annotations

import re

from evencourse.layout.drawings.drawing_units import KnownLength
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault, LengthError
from evencourse.layout.model.job import Units
from evencourse.layout.model.lengths import parse_length
from evencourse.layout.pdf.page_import import ends_of


def page_number(text: str | None, faults: list[Fault]) -> int:
    """A page's number from 1; the first where none is given."""
    if text is None or re.fullmatch(r"[1-9]\d{0,5}", text.strip()):
        return int(text or 1)
    faults.append(Fault("--page", f'"{text[:40]}"', gettext("the number of a page, from 1")))
    return 1


def known_length(known: str | None, between: str | None, faults: list[Fault]) -> KnownLength | None:
    """The length that is known, and where it is drawn; None where none is given.

    A length with mm, cm or m makes a metric job, any other one in inches.
    """
    if known is None and between is None:
        return None
    if known is None or between is None:
        if known is None:
            option, wanted = "--known", gettext("a length, beside the other option")
        else:
            option, wanted = "--between", gettext("where it is drawn, beside the other option")
        faults.append(Fault(option, gettext("nothing"), wanted))
        return None
    units: Units = "mm" if re.search(r"\d ?(?:mm|cm|m)\b", known) else "in"
    place = ends_of(between)
    if place is None:
        wanted = gettext("a region's number, or two points X,Y,X,Y [points of a page, units of a DXF]")
        faults.append(Fault("--between", f'"{between[:60]}"', wanted))
    try:
        length = parse_length(known, units)
    except LengthError as error:
        faults.append(Fault("--known", error.found, error.wanted))
        return None
    if length <= 0:
        faults.append(Fault("--known", f'"{known[:40]}"', gettext("a length above zero")))
    if place is None or length <= 0:
        return None
    if isinstance(place, int):
        return KnownLength(length, units, region=place)
    return KnownLength(length, units, ends=place)
