"""Small edits to a job file's text: a value set, a table added or taken away; comments stay as they are."""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, InlineTable, Table

from evencourse.cli.jobs.text_changes import keep_tables
from evencourse.layout.jobfile.keys import TABLES, Key
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import EvencourseError

Path = tuple[str | int, ...]
#: Values that an edit may write.
Value = str | int | float | bool | list[Any] | dict[str, Any] | None
#: Longest text of one value [characters], deepest path, and most items of a list.
LONGEST, DEEPEST, MOST = 400, 7, 500
#: Tables that are written in braces on one line.
_IN_BRACES = ("gable", "opening trim")
#: Kinds of keys that hold more than a value.
_TABLES = ("table", "tables", "prices", "lengths", "names")
#: Documents whose text is known, with their plain tables, taken out by whoever changes them.
_documents: dict[str, tuple[tomlkit.TOMLDocument, dict[str, Any]]] = {}
_KEPT = 8
_WHOLE = re.compile(r"-?\d+", re.ASCII)
_NUMBER = re.compile(r"-?\d+\.\d+", re.ASCII)


class EditError(EvencourseError):
    """An edit that the job file cannot take: it was not made."""


@dataclass(frozen=True)
class Edit:
    """One change.

    Attributes:
        kind: ``set`` a value (None takes the key away), ``add`` a table to a list, ``remove`` one from it,
            ``copy`` one and put the copy after it.
        path: keys and indices, as in the job file.
        value: what is set or added.
    """

    kind: Literal["set", "add", "remove", "copy"]
    path: Path
    value: Value = None


def edited(text: str, edits: Sequence[Edit]) -> str:
    """A job file's text after some edits, all of them or none.

    The outcome is compared with the same edits made on the plain tables: a writer of TOML that loses or moves
    a value is found out before anything is written.

    Args:
        text: the whole file.
        edits: in order.

    Raises:
        EditError: an edit does not fit the file, or the file is no TOML.
    """
    try:
        # Who types a figure edits the text that the key before has left: it is not parsed again for each.
        known = _documents.pop(text, None)
        document, plain = known or (tomlkit.parse(text), tomllib.loads(text))
    except (TOMLKitError, tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        words = gettext(
            "the job file is no TOML, and can only be mended in a text editor: {error}", error=_short(error)
        )
        raise EditError(words) from error
    for edit in edits:
        check_edit(edit)
        _apply(document, edit, _toml)
        _apply(plain, edit, copy.deepcopy)
    outcome = tomlkit.dumps(document)
    try:
        again = tomllib.loads(outcome)
    except (tomllib.TOMLDecodeError, ValueError) as error:
        words = gettext("this cannot be written into the file as it stands: {error}", error=_short(error))
        raise EditError(words) from error
    if again != plain:
        raise EditError(
            gettext("this cannot be written into the file as it stands; change it in a text editor")
        )
    if len(_documents) >= _KEPT:
        _documents.clear()
    _documents[outcome] = document, plain
    keep_tables(outcome, again)
    return outcome


def tables_after(tables: Mapping[str, Any], edits: Sequence[Edit]) -> dict[str, Any]:
    """Plain tables after some edits; those given stay as they are.

    Raises:
        EditError: an edit does not fit them.
    """
    after = copy.deepcopy(dict(tables))
    for edit in edits:
        check_edit(edit)
        _apply(after, edit, copy.deepcopy)
    return after


def check_edit(edit: Edit) -> None:
    """Refuse an edit of something that no job file has.

    Raises:
        EditError: no such key, a value of the wrong make, or one of a size that no job needs.
    """
    path = edit.path
    if not 1 <= len(path) <= DEEPEST:
        raise EditError("no such place in a job file")
    key = key_at(path)
    listed = key.kind == "tables"
    if edit.kind == "set":
        inside = len(path) > 1 and key.kind in ("prices", "lengths") and path[-1] != key.name
        if (key.kind in _TABLES and not inside) or not _sound(edit.value):
            raise EditError(f"{path[-1]}: no value that can be set")
    elif not listed or (edit.kind == "add") == isinstance(path[-1], int):
        raise EditError(f"{path[-1]}: no list of tables")
    elif edit.kind == "add" and not (isinstance(edit.value, dict) and _sound(edit.value)):
        raise EditError(f"{path[-1]}: no table that can be added")


def key_at(path: Path) -> Key:
    """The key of the job file that a path leads to.

    Raises:
        EditError: there is none.
    """
    table, key = "", None
    rest = list(path)
    while rest:
        part = rest.pop(0)
        if isinstance(part, int):
            if key is None or not 0 <= part < 20_000:
                raise EditError("no such place in a job file")
            continue
        if table == "claddings":
            table = "cladding"
            continue
        key = next((one for one in TABLES.get(table, ()) if one.name == part), None)
        if key is None:
            raise EditError(f"{str(part)[:40]}: no such key in a job file")
        if key.kind in ("prices", "lengths") and rest:
            return key
        table = "claddings" if part == "claddings" else key.items
    if key is None:
        raise EditError("no such place in a job file")
    return key


def as_written(key: Key, text: str, before: object = None) -> Value:
    """What somebody typed into a field, as the job file has it; a text that is no such value stays a text.

    Args:
        key: the key that the field is for.
        text: as typed; empty takes the key away.
        before: what stands there: a bare number stays one.
    """
    said = text.strip()
    if not said:
        return None
    if key.kind == "flag":
        return {"true": True, "false": False}.get(said, said)
    bare = key.kind in ("number", "count", "share") or (
        isinstance(before, int | float) and not isinstance(before, bool)
    )
    if bare and _WHOLE.fullmatch(said) and len(said) < 15:
        return int(said)
    if bare and _NUMBER.fullmatch(said) and len(said) < 15:
        return float(said)
    return said


def at(tables: Mapping[str, Any], path: Path) -> Any:
    """What stands at a path of a job's tables; None when nothing does."""
    here: Any = tables
    for part in path:
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            return None
    return here


def _sound(value: object, depth: int = 0) -> bool:
    if isinstance(value, str):
        return len(value) <= LONGEST and (value.isprintable() or not value)
    if isinstance(value, bool) or value is None:
        return True
    if isinstance(value, int | float):
        return abs(value) < 1e15
    if depth < 4 and isinstance(value, list):
        return len(value) <= MOST and all(_sound(item, depth + 1) for item in value)
    if depth < 4 and isinstance(value, dict):
        return len(value) <= 40 and all(
            len(key) <= 40 and _sound(item, depth + 1) for key, item in value.items()
        )
    return False


def _apply(root: Any, edit: Edit, made: Any) -> None:
    """Make one edit, on a document or on plain tables."""
    *above, last = edit.path
    here = root
    for part, after in zip(above, edit.path[1:], strict=True):
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError) as error:
            if isinstance(part, int) or isinstance(after, int) or edit.kind == "remove":
                raise EditError(gettext("this is no longer in the job file")) from error
            here[part] = made({}) if made is copy.deepcopy else _table(key_at(_upto(edit.path, part)))
            here = here[part]
    try:
        if edit.kind == "set":
            _set(here, last, edit.value, made)
            if edit.value is None and not here and above and key_at(tuple(above)).items in _IN_BRACES:
                del at(root, tuple(above[:-1]))[above[-1]]
        elif edit.kind == "add":
            _add(here, last, edit.value, made, edit.path)
        elif edit.kind == "remove":
            del here[last]
        else:
            _copy(here, last, edit.value, made)
    except (KeyError, IndexError, TypeError, TOMLKitError) as error:
        raise EditError(gettext("this is no longer in the job file")) from error


def _upto(path: Path, part: str | int) -> Path:
    return path[: path.index(part) + 1]


def _set(here: Any, last: str | int, value: Value, made: Any) -> None:
    if value is None:
        if last in here:
            del here[last]
        return
    here[last] = made(value)


def _add(here: Any, last: str | int, value: Any, made: Any, path: Path) -> None:
    within = sum(isinstance(part, str) for part in path) - 1
    if made is copy.deepcopy:
        here.setdefault(last, []).append(copy.deepcopy(value))
        return
    if last not in here:
        here.append(last, tomlkit.aot())
    here[last].append(_item_table(value, within))


def _copy(here: Any, last: str | int, changes: Any, made: Any) -> None:
    assert isinstance(last, int)
    plain = here[last].unwrap() if isinstance(here, AoT) else copy.deepcopy(here[last])
    plain.update(changes or {})
    if made is copy.deepcopy:
        here.insert(last + 1, plain)
    else:
        here.insert(last + 1, _item_table(plain, 0))


def _item_table(values: Mapping[str, Any], depth: int) -> Any:
    """A table of a list, written out: lists of tables in it as such, small tables in braces."""
    table: Any = tomlkit.table()
    for name, value in values.items():
        if isinstance(value, list) and value and isinstance(value[0], dict):
            listed = tomlkit.aot()
            for item in value:
                listed.append(_item_table(item, depth + 1))
            table.append(name, listed)
        else:
            table.append(name, _toml(value))
    if depth:
        table.indent(2 * depth)
    else:
        table.trivia.indent = "\n"  # a face stands off the one before
    return table


def _toml(value: Any) -> Any:
    if isinstance(value, dict):
        found = tomlkit.inline_table()
        for name, item in value.items():
            found.append(name, _toml(item))
        return found
    if isinstance(value, list):
        array = tomlkit.array()
        for item in value:
            array.append(_toml(item))
        return array
    return tomlkit.item(value)


def _table(key: Key) -> Table | InlineTable:
    """An empty table for a key: small ones in braces."""
    return tomlkit.inline_table() if key.items in _IN_BRACES else tomlkit.table()


def _short(error: Exception) -> str:
    return str(error).splitlines()[0][:120]
