"""What differs between two texts of a job, face by face."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from evencourse.layout.language.speech import gettext

#: Most changes of one face that are listed.
MOST = 12
#: Tables of the texts that were read or written last, and of how many.
_tables_at_hand: dict[str, Mapping[str, Any]] = {}
_AT_HAND = 4


@dataclass(frozen=True)
class Changed:
    """What changed on one face, or in what holds for the whole job.

    Attributes:
        face: its name; empty for the job.
        changes: a line each: ``opening A, width: 36 -> 38``.
    """

    face: str
    changes: tuple[str, ...]


def text_changes(before: str, after: str) -> tuple[Changed, ...]:
    """What a person would want to know who still sees the text before.

    Args:
        before: a job file's text.
        after: a later one.
    """
    old, new = tables_of(before), tables_of(after)
    if old is None or new is None:
        words = gettext("the job file was changed outside, and is no TOML now or was none before")
        return (Changed("", (words,)),)
    found = []
    rest = [{key: value for key, value in one.items() if key != "elevation"} for one in (old, new)]
    if job := tuple(_differences(rest[0], rest[1], "")):
        found.append(Changed("", job[:MOST]))
    faces = [_by_name(one.get("elevation"), "name") for one in (old, new)]
    for name in dict.fromkeys((*faces[0], *faces[1])):
        if name not in faces[1]:
            found.append(Changed(name, (gettext("the face was taken away"),)))
        elif name not in faces[0]:
            found.append(Changed(name, (gettext("a new face"),)))
        elif lines := tuple(_differences(faces[0][name], faces[1][name], "")):
            found.append(Changed(name, lines[:MOST]))
    return tuple(found)


def tables_of(text: str) -> Mapping[str, Any] | None:
    """The tables of a text, to be read and not changed; None when it is no TOML."""
    try:
        return _tables_at_hand[text]
    except KeyError:
        pass
    try:
        tables = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        return None
    keep_tables(text, tables)
    return tables


def keep_tables(text: str, tables: Mapping[str, Any]) -> None:
    """Have the tables of a text at hand when they are asked for next: nobody changes them any more."""
    _tables_at_hand[text] = tables
    while len(_tables_at_hand) > _AT_HAND:
        _tables_at_hand.pop(next(iter(_tables_at_hand)), None)


def _by_name(items: object, key: str) -> dict[str, Any]:
    named = items if isinstance(items, list) else []
    return {
        str(item.get(key, number + 1) if isinstance(item, dict) else number + 1): item
        for number, item in enumerate(named)
    }


def _differences(old: object, new: object, where: str) -> Iterator[str]:
    if old == new:
        return
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        for key in dict.fromkeys((*old, *new)):
            yield from _differences(old.get(key), new.get(key), f"{where}, {key}" if where else str(key))
    elif _tables(old) or _tables(new):
        mine, yours = _by_name(old, "mark"), _by_name(new, "mark")
        for name in dict.fromkeys((*mine, *yours)):
            place = f"{where} {name}".strip()
            if name not in yours:
                yield gettext("{place}: taken away", place=place)
            elif name not in mine:
                yield gettext("{place}: new", place=place)
            else:
                yield from _differences(mine[name], yours[name], place)
    else:
        yield f"{where}: {_shown(old)} → {_shown(new)}"


def _tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(item, dict) for item in value)


def _shown(value: object) -> str:
    if value is None:
        return gettext("nothing")
    if isinstance(value, list):
        return ", ".join(map(_shown, value))[:60]
    return str(value)[:60]
