"""What ``import`` tells: what each layer was taken for, the faces found, and what was of no use."""

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
from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped

if TYPE_CHECKING:
    from evencourse.layout.drawings.drawing_import import Import
    from evencourse.layout.drawings.first_look import LayerUse, Look
    from evencourse.layout.dxf.dxf_content import Unused
    from evencourse.layout.model.job import Elevation

Lines = Callable[[Screen], Iterable[str]]
#: Most layers without a role that are listed, and most places of what was of no use.
_LAYERS, _PLACES = 12, 12


def layer_lines(seen: Look) -> Lines:
    """What each layer holds, before it is used."""

    def lines(on: Screen) -> Iterator[str]:
        rows: list[list[str | Cell]] = []
        idle: list[LayerUse] = []
        ignored: list[LayerUse] = []
        for layer in seen.layers:
            holds = " and ".join(layer.role.roles)
            if not holds or (layer.role.roles == ("ignore",) and not layer.doubtful):
                (ignored if holds else idle).append(layer)
                continue
            why = layer.role.why + (
                ", but off or frozen: left out" if layer.hidden and not layer.given else ""
            )
            role = Cell(f"{holds} ?" if layer.doubtful else holds, "bad" if layer.doubtful else "plain")
            why += ", so it is not taken for it: --layer or --yes does" if layer.doubtful else ""
            rows.append([layer.name, role, why, str(layer.count)])
        columns = [
            Column("Layer"),
            Column("Holds"),
            Column("Because of", wraps=True),
            Column("Lines", right=True),
        ]
        yield from table(columns, rows, on)
        for words, some in (("no role", idle), ("not read", ignored)):
            off = {True: ", off", False: ""}
            names = [f"{layer.name} ({layer.count}{off[layer.hidden]})" for layer in some[:_LAYERS]]
            more = f" and {len(some) - _LAYERS} more" if len(some) > _LAYERS else ""
            if names:
                yield from wrapped(clean(f"{words}: {', '.join(names)}{more}"), on.width)
        yield ""

    return lines


def found_lines(found: Import, whole: bool) -> Lines:
    """Faces, notes and what was of no use.

    Args:
        found: what was understood.
        whole: every opening and roof, and every place of what was of no use.
    """

    def lines(on: Screen) -> Iterator[str]:
        faces = found.understood.elevations
        columns = face_columns(faces, [Column("Drawn as", wraps=True)])
        yield from table(columns, [_face(found, face) for face in faces], on)
        if whole:
            for face in faces:
                if face.openings or face.roofs:
                    yield from ("", styled(clean(face.name), "strong", on))
                    yield from table(opening_columns("Drawn as"), _things(found, face), on)
        notes = found.understood.notes
        if notes:
            yield ""
            for note in notes:
                yield from wrapped(clean(note), on.width)
        if found.unused:
            yield ""
            yield from _unused(found.unused, whole, on)

    return lines


def _face(found: Import, face: Elevation) -> list[str]:
    drawn = str(found.understood.faces[face.name])
    return face_cells(face, found.understood.elevations, fine_tape(found.scale.units), [drawn])


def _things(found: Import, face: Elevation) -> Iterator[list[str]]:
    tape = fine_tape(found.scale.units)
    for opening in face.openings:
        yield opening_cells(opening, tape, str(found.understood.things[face.name, opening.mark]))
    for roof in face.roofs:
        low = min(y for _, y in roof.outline())
        yield [
            roof.mark,
            roof.kind,
            "sloped" if len({y for _, y in roof.line}) > 1 else "level",
            *map(tape, (roof.left, low, roof.right - roof.left, roof.top - low)),
            str(found.understood.things[face.name, roof.mark]),
        ]


def _unused(unused: Iterable[Unused], whole: bool, on: Screen) -> Iterator[str]:
    yield styled("Not used:", "strong", on)
    for words in unused_words(unused, whole):
        yield from wrapped(clean(words), on.width)


def unused_words(unused: Iterable[Unused], whole: bool) -> Iterator[str]:
    """What was of no use, alike things together: the first of them with its place, or all.

    Args:
        unused: what was of no use.
        whole: every place.
    """
    groups: dict[tuple[str, str, str], list[Unused]] = {}
    for one in unused:
        groups.setdefault((one.source.layer, one.source.kind, one.why), []).append(one)
    shown = 0
    for (_, _, why), alike in groups.items():
        for one in alike if whole else alike[:1]:
            more = f", and {len(alike) - 1} alike" if len(alike) > 1 and not whole else ""
            yield f"{one.source}: {why}{more}"
            shown += 1
            if shown >= (1000 if whole else _PLACES):
                yield "… and more; --show lists them" if not whole else "… and more"
                return
