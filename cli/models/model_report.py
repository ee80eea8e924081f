"""What ``import`` tells of a building model: the faces, what is in them, and what a person should know."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

from evencourse.cli.reports.face_table import (
    face_cells,
    face_columns,
    fine_tape,
    opening_cells,
    opening_columns,
)
from evencourse.cli.reports.table import Column, Screen, clean, styled, table, wrapped
from evencourse.layout.language.speech import gettext, pgettext

if TYPE_CHECKING:
    from evencourse.layout.ifc.model_import import ModelFound
    from evencourse.layout.model.job import Corner


def model_lines(found: ModelFound, whole: bool) -> Callable[[Screen], Iterable[str]]:
    """Faces in walking order, and notes.

    Args:
        found: what was understood.
        whole: every opening, too.
    """
    faces, tape = found.elevations, fine_tape(found.units)

    def lines(on: Screen) -> Iterator[str]:
        for line in found.head:
            yield from wrapped(clean(line), on.width)
        yield ""
        columns = face_columns(faces, [Column(gettext("Left end")), Column(gettext("Right end"))])
        yield from table(
            columns,
            [face_cells(face, faces, tape, [_corner(face.left), _corner(face.right)]) for face in faces],
            on,
        )
        if whole:
            for face in faces:
                if face.openings:
                    yield from ("", styled(clean(face.name), "strong", on))
                    rows = [
                        opening_cells(one, tape, found.things[face.name, one.mark]) for one in face.openings
                    ]
                    yield from table(opening_columns(gettext("In the model")), rows, on)
        if found.notes:
            yield ""
            for note in found.notes:
                yield from wrapped(clean(note), on.width)

    return lines


def _corner(end: Corner) -> str:
    if end == "outside corner":
        return gettext("outside corner")
    return gettext("inside corner") if end == "inside corner" else pgettext("end of a face", "butts")
