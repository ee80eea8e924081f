"""What ``import`` tells of a building model: the faces, what is in them, and what a person should know."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

from evencourse.cli.reports.face_table import face_cells, face_columns
from evencourse.cli.reports.table import Column, Screen, clean, styled, table, wrapped
from evencourse.layout.model.lengths import show_length

if TYPE_CHECKING:
    from evencourse.layout.ifc.model_import import ModelFound
    from evencourse.layout.model.job import Elevation, Opening, Units

_THING = [
    Column("Mark"),
    Column("Kind"),
    Column("Shape"),
    Column("Left", right=True),
    Column("Bottom", right=True),
    Column("Width", right=True),
    Column("Height", right=True),
    Column("In the model", wraps=True),
]


def model_lines(found: ModelFound, whole: bool) -> Callable[[Screen], Iterable[str]]:
    """Faces in walking order, and notes.

    Args:
        found: what was understood.
        whole: every opening, too.
    """
    faces = found.elevations

    def tape(length: float) -> str:
        return _tape(length, found.units)

    def lines(on: Screen) -> Iterator[str]:
        for line in found.head:
            yield from wrapped(clean(line), on.width)
        yield ""
        columns = face_columns(faces, [Column("Left end"), Column("Right end")])
        yield from table(
            columns, [face_cells(face, faces, tape, [face.left, face.right]) for face in faces], on
        )
        if whole:
            for face in faces:
                if face.openings:
                    yield from ("", styled(clean(face.name), "strong", on))
                    yield from table(_THING, [_thing(found, face, one) for one in face.openings], on)
        if found.notes:
            yield ""
            for note in found.notes:
                yield from wrapped(clean(note), on.width)

    return lines


def _tape(length: float, units: Units) -> str:
    return show_length(length, units, 1 / 64 if units == "in" else 0.1)


def _thing(found: ModelFound, face: Elevation, one: Opening) -> list[str]:
    sizes = (one.left, one.bottom, one.width, one.height)
    return [
        one.mark,
        one.kind,
        one.shape,
        *(_tape(size, found.units) for size in sizes),
        found.things[face.name, one.mark],
    ]
