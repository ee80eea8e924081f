"""The tables of faces and of openings that ``check`` and ``import`` show: sizes and what is on them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from evencourse.cli.reports.table import Column
from evencourse.layout.model.lengths import show_length

if TYPE_CHECKING:
    from evencourse.layout.model.job import Elevation, Opening, Units


def face_columns(faces: Sequence[Elevation], more: Sequence[Column]) -> list[Column]:
    """Columns of the table.

    Args:
        faces: the rows; a column of roofs is there when one of them has any.
        more: what the command adds.
    """
    return [
        Column("Face"),
        Column("Width", right=True),
        Column("Lowest", right=True),
        Column("Highest", right=True),
        Column("Openings", wraps=True),
        Column("Fixtures", wraps=True),
        *([Column("Roofs", wraps=True)] if _roofed(faces) else []),
        *more,
    ]


def opening_columns(source: str) -> list[Column]:
    """Columns of a table of openings.

    Args:
        source: heading of the last one: where each was found.
    """
    sizes = [Column(name, right=True) for name in ("Left", "Bottom", "Width", "Height")]
    return [Column("Mark"), Column("Kind"), Column("Shape"), *sizes, Column(source, wraps=True)]


def opening_cells(one: Opening, tape: Callable[[float], str], source: str) -> list[str]:
    """A row of that table."""
    sizes = (one.left, one.bottom, one.width, one.height)
    return [one.mark, one.kind, one.shape, *map(tape, sizes), source]


def fine_tape(units: Units) -> Callable[[float], str]:
    """Shows lengths that nobody measured with a tape: to 1/64 in or 0.1 mm."""
    return lambda length: show_length(length, units, 1 / 64 if units == "in" else 0.1)


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
    roofs = ", ".join(f"{roof.mark} ({roof.kind})" for roof in face.roofs) or "none"
    across, up = [x for x, _ in face.outline], [y for _, y in face.outline]
    return [
        face.name,
        tape(max(across) - min(across)),
        tape(min(up)),
        tape(max(up)),
        ", ".join(opening.mark for opening in face.openings) or "none",
        ", ".join(fixture.mark for fixture in face.fixtures) or "none",
        *([roofs] if _roofed(faces) else []),
        *more,
    ]
