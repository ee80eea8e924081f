"""What ``import`` tells: what each layer was taken for, the faces found, and what was of no use."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import reduce
from typing import TYPE_CHECKING

from evencourse.cli.reports.face_table import (
    face_cells,
    face_columns,
    fine_tape,
    opening_cells,
    opening_columns,
    roof_kind,
)
from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped
from evencourse.layout.language.speech import gettext, ngettext, pgettext

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
            holds = _both(layer.role.roles)
            if not holds or (layer.role.roles == ("ignore",) and not layer.doubtful):
                (ignored if holds else idle).append(layer)
                continue
            why = layer.role.why
            if layer.hidden and not layer.given:
                why = gettext("{why}, but off or frozen: left out", why=why)
            if layer.doubtful:
                why = gettext("{why}, so it is not taken for it: --layer or --yes does", why=why)
            role = Cell(f"{holds} ?" if layer.doubtful else holds, "bad" if layer.doubtful else "plain")
            rows.append([layer.name, role, why, str(layer.count)])
        columns = [
            Column(pgettext("column of layers", "Layer")),
            Column(pgettext("column of layers", "Holds")),
            Column(gettext("Because of"), wraps=True),
            Column(pgettext("column of layers", "Lines"), right=True),
        ]
        yield from table(columns, rows, on)
        if idle:
            yield from wrapped(clean(gettext("no role: {layers}", layers=_some(idle))), on.width)
        if ignored:
            yield from wrapped(clean(gettext("not read: {layers}", layers=_some(ignored))), on.width)
        yield ""

    return lines


def _both(roles: Sequence[str]) -> str:
    """What a layer holds, in the words of ``--layer``."""
    return reduce(lambda one, other: gettext("{one} and {other}", one=one, other=other), roles or [""])


def _some(layers: Sequence[LayerUse]) -> str:
    """Layers in one line, the first of them by name."""
    names = ", ".join(
        gettext("{layer} ({count}, off)", layer=layer.name, count=layer.count)
        if layer.hidden
        else f"{layer.name} ({layer.count})"
        for layer in layers[:_LAYERS]
    )
    if (more := len(layers) - _LAYERS) > 0:
        return ngettext("{layers} and {count} more", "{layers} and {count} more", more, layers=names)
    return names


def found_lines(found: Import, whole: bool) -> Lines:
    """Faces, notes and what was of no use.

    Args:
        found: what was understood.
        whole: every opening and roof, and every place of what was of no use.
    """

    def lines(on: Screen) -> Iterator[str]:
        faces = found.understood.elevations
        columns = face_columns(faces, [Column(gettext("Drawn as"), wraps=True)])
        yield from table(columns, [_face(found, face) for face in faces], on)
        if whole:
            for face in faces:
                if face.openings or face.roofs:
                    yield from ("", styled(clean(face.name), "strong", on))
                    yield from table(opening_columns(gettext("Drawn as")), _things(found, face), on)
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
            roof_kind(roof),
            pgettext("shape of a roof", "sloped")
            if len({y for _, y in roof.line}) > 1
            else pgettext("shape of a roof", "level"),
            *map(tape, (roof.left, low, roof.right - roof.left, roof.top - low)),
            str(found.understood.things[face.name, roof.mark]),
        ]


def _unused(unused: Iterable[Unused], whole: bool, on: Screen) -> Iterator[str]:
    yield styled(gettext("Not used:"), "strong", on)
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
            words = gettext("{thing}: {why}", thing=one.source, why=why)
            if len(alike) > 1 and not whole:
                words = ngettext(
                    "{thing_and_why}, and {count} alike",
                    "{thing_and_why}, and {count} alike",
                    len(alike) - 1,
                    thing_and_why=words,
                )
            yield words
            shown += 1
            if shown >= (1000 if whole else _PLACES):
                yield gettext("… and more") if whole else gettext("… and more; --show lists them")
                return
