"""What can be handed out: its name on the button, what is added to the job's name, its media type."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evencourse.layout.language.speech import noop


@dataclass(frozen=True)
class HandOutKind:
    """A kind of file.

    Attributes:
        label: what it is, in English.
        ending: what follows the job's name in its name.
        media: its media type.
    """

    label: str
    ending: str
    media: str


_WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
KINDS: Mapping[str, HandOutKind] = {
    "sheets": HandOutKind(noop("Crew set"), ".pdf", "application/pdf"),
    "page": HandOutKind(noop("Page for the phone"), ".html", "text/html"),
    "pole": HandOutKind(noop("Story pole, full size"), "-pole.pdf", "application/pdf"),
    "order": HandOutKind(noop("Order, CSV"), "-order.csv", "text/csv"),
    "workbook": HandOutKind(noop("Order, workbook"), ".xlsx", _WORKBOOK),
    "cuts": HandOutKind(noop("Cut list, CSV"), "-cuts.csv", "text/csv"),
    "dxf": HandOutKind(noop("Drawings, DXF"), ".dxf", "image/vnd.dxf"),
    "plan": HandOutKind(noop("Plan file, JSON"), ".json", "application/json"),
}
