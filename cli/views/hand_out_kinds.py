"""What can be handed out: its name on the button, what is added to the job's name, its media type."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class HandOutKind:
    """A kind of file.

    Attributes:
        label: what it is.
        ending: what follows the job's name in its name.
        media: its media type.
    """

    label: str
    ending: str
    media: str


_WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
KINDS: Mapping[str, HandOutKind] = {
    "sheets": HandOutKind("Crew set", ".pdf", "application/pdf"),
    "page": HandOutKind("Page for the phone", ".html", "text/html"),
    "pole": HandOutKind("Story pole, full size", "-pole.pdf", "application/pdf"),
    "order": HandOutKind("Order, CSV", "-order.csv", "text/csv"),
    "workbook": HandOutKind("Order, workbook", ".xlsx", _WORKBOOK),
    "cuts": HandOutKind("Cut list, CSV", "-cuts.csv", "text/csv"),
    "dxf": HandOutKind("Drawings, DXF", ".dxf", "image/vnd.dxf"),
    "plan": HandOutKind("Plan file, JSON", ".json", "application/json"),
}
