"""The tables of faces and of openings that ``check`` and ``import`` show: sizes and what is on them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from evencourse.cli.reports.table import Column
from evencourse.layout.language.speech import decimals, pgettext
from evencourse.layout.model.lengths import show_length

if TYPE_CHECKING:
    from evencourse.layout.model.job import Elevation, Opening, Units
    from evencourse.layout.model.roof import Roof


def face_columns(faces: Sequence[Elevation], more: Sequence[Column]) -> list[Column]:
    """Columns of the table.

    Args:
        faces: the rows; a column of roofs is there when one of them has any.
        more: what the command adds.
    """
    return [
        Column(pgettext("column of faces", "Face")),
        Column(pgettext("column of faces", "Width"), right=True),
        Column(pgettext("column of faces", "Lowest"), right=True),
        Column(pgettext("column of faces", "Highest"), right=True),
        Column(pgettext("column of faces", "Openings"), wraps=True),
        Column(pgettext("column of faces", "Fixtures"), wraps=True),
        *([Column(pgettext("column of faces", "Roofs"), wraps=True)] if _roofed(faces) else []),
        *more,
    ]


def opening_columns(source: str) -> list[Column]:
    """Columns of a table of openings.

    Args:
        source: heading of the last one: where each was found.
    """
    return [
        Column(pgettext("column of openings", "Mark")),
        Column(pgettext("column of openings", "Kind")),
        Column(pgettext("column of openings", "Shape")),
        Column(pgettext("column of openings", "Left"), right=True),
        Column(pgettext("column of openings", "Bottom"), right=True),
        Column(pgettext("column of openings", "Width"), right=True),
        Column(pgettext("column of openings", "Height"), right=True),
        Column(source, wraps=True),
    ]


def opening_cells(one: Opening, tape: Callable[[float], str], source: str) -> list[str]:
    """A row of that table."""
    sizes = (one.left, one.bottom, one.width, one.height)
    return [one.mark, _kind(one), _shape(one), *map(tape, sizes), source]


def _kind(one: Opening) -> str:
    words = {
        "window": pgettext("kind of opening", "window"),
        "door": pgettext("kind of opening", "door"),
        "garage door": pgettext("kind of opening", "garage door"),
        "vent": pgettext("kind of opening", "vent"),
        "other": pgettext("kind of opening", "other"),
    }
    return words[one.kind]


def _shape(one: Opening) -> str:
    words = {
        "rectangle": pgettext("shape of an opening", "rectangle"),
        "round": pgettext("shape of an opening", "round"),
        "half-round": pgettext("shape of an opening", "half-round"),
        "arch": pgettext("shape of an opening", "arch"),
        "triangle": pgettext("shape of an opening", "triangle"),
    }
    return words[one.shape]


def roof_kind(roof: Roof) -> str:
    """What stands against the wall: ``roof``, ``deck`` or ``ledger``."""
    words = {
        "roof": pgettext("against a wall", "roof"),
        "deck": pgettext("against a wall", "deck"),
        "ledger": pgettext("against a wall", "ledger"),
    }
    return words[roof.kind]


def fine_tape(units: Units) -> Callable[[float], str]:
    """Shows lengths that nobody measured with a tape: to 1/64 in or 0.1 mm."""
    return lambda length: decimals(show_length(length, units, 1 / 64 if units == "in" else 0.1))


def _roofed(faces: Sequence[Elevation]) -> bool:
    return any(face.roofs for face in faces)


def face_cells(
    face: Elevation, faces: Sequence[Elevation], tape: Callable[[float], str], more: Sequence[str]
) -> list[str]:
    """A row of the table.

    Args:
        face: the face.
        faces: all rows of the table.
        tape: shows a length.
        more: what the command adds.
    """
    roofs = ", ".join(f"{roof.mark} ({roof_kind(roof)})" for roof in face.roofs)
    across, up = [x for x, _ in face.outline], [y for _, y in face.outline]
    return [
        face.name,
        tape(max(across) - min(across)),
        tape(min(up)),
        tape(max(up)),
        ", ".join(opening.mark for opening in face.openings) or pgettext("openings of a face", "none"),
        ", ".join(fixture.mark for fixture in face.fixtures) or pgettext("fixtures of a face", "none"),
        *([roofs or pgettext("roofs against a face", "none")] if _roofed(faces) else []),
        *more,
    ]
