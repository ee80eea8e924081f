"""Plain values out of dataclasses, as JSON holds them, and the JSON Schema of what comes out.

A class is stored as an object with a key for each field, in the order of the fields; a new field is stored
without another word. A table says only what differs (:class:`Differs`). Types are taken from the hints, so
that a float is a float whatever number library it comes from; descriptions are taken from the docstrings.
"""

from __future__ import annotations

import re
import types
import typing
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from inspect import cleandoc
from operator import attrgetter
from typing import Any, Literal, Union

Json = dict[str, Any]
#: Where a key's value comes from: fields and properties joined by dots, or a function with a return type.
Source = str | Callable[[Any], Any]

_PLAIN: dict[Any, tuple[Callable[[Any], Any], str]] = {
    # A float has no sign on its zero: the same length is stored alike whichever way it was reckoned.
    float: (lambda value: float(value) + 0.0, "number"),
    int: (int, "integer"),
    bool: (bool, "boolean"),
    str: (str, "string"),
}


@dataclass(frozen=True)
class Differs:
    """How a class is stored otherwise than field by field.

    Attributes:
        first: keys that stand first, in this order; each a name, or ``(key, source)``. What a source begins
            with is not stored once more.
        left_out: fields that are not stored.
        may_lack: keys that are left out when there is nothing in them.
        spread: fields whose own keys stand among those of the class; none of them where the field is None.
    """

    first: tuple[str | tuple[str, Source], ...] = ()
    left_out: frozenset[str] = frozenset()
    may_lack: frozenset[str] = frozenset()
    spread: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Key:
    """One key of an object: where its value comes from, the type of it, and what it means."""

    name: str
    value: Callable[[Any], Any]
    hint: Any
    meaning: str
    may_lack: bool = False


class Encoding:
    """Encodes values, and says the schema of what it makes of a class.

    Args:
        table: what differs, by class. A NamedTuple that stands in it is an object, any other is a list.
    """

    def __init__(self, table: Mapping[type, Differs]) -> None:
        self._table = table
        self._keys = cache(self._find_keys)
        self._encoder = cache(self._make_encoder)

    def encode(self, value: Any) -> Any:
        """A dataclass as a dictionary of plain values.

        Raises:
            TypeError: a field has a type that has no place in JSON.
        """
        return self._object(type(value), value)

    def schema(self, kind: type) -> Json:
        """The JSON Schema (2020-12) of a class's objects: a reference to its name in ``$defs``."""
        return {"$ref": f"#/$defs/{kind.__name__}"}

    def definitions(self, *kinds: type) -> Json:
        """The schema of some classes and of every class in them, by name."""
        found: dict[str, Json] = {}
        left = list(kinds)
        while left:
            kind = left.pop(0)
            if kind.__name__ not in found:
                keys = list(self._keys(kind))
                spread = list(self._spread(kind))
                left += [each for key in (*keys, *spread) for each in self._classes(key.hint)]
                found[kind.__name__] = {
                    "type": "object",
                    "description": cleandoc(kind.__doc__ or "").partition("\n\n")[0].replace("\n", " "),
                    "properties": {key.name: self._property(key) for key in (*keys, *spread)},
                    "required": [key.name for key in keys if not key.may_lack],
                }
        return dict(sorted(found.items()))

    def _object(self, kind: type, value: Any) -> Json:
        found: Json = {}
        for key in self._keys(kind):
            stored = self._encoder(key.hint)(key.value(value))
            if stored or not key.may_lack:
                found[key.name] = stored
        for name in self._differs(kind).spread:
            if (inner := getattr(value, name)) is not None:
                found |= self.encode(inner)
        return found

    def _differs(self, kind: type) -> Differs:
        return self._table.get(kind, Differs())

    def _find_keys(self, kind: type) -> tuple[_Key, ...]:
        differs = self._differs(kind)
        first = [(one, one) if isinstance(one, str) else one for one in differs.first]
        taken = {source.partition(".")[0] for _, source in first if isinstance(source, str)}
        taken |= differs.left_out | set(differs.spread)
        names = [field.name for field in fields(kind)] if is_dataclass(kind) else kind._fields  # type: ignore[attr-defined]
        every: list[tuple[str, Source]] = [*first, *((name, name) for name in names if name not in taken)]
        return tuple(self._key(kind, name, source, name in differs.may_lack) for name, source in every)

    def _key(self, kind: type, name: str, source: Source, may_lack: bool) -> _Key:
        if not isinstance(source, str):
            hint = typing.get_type_hints(source)["return"]
            return _Key(name, source, hint, cleandoc(source.__doc__ or ""), may_lack)
        hint, meaning = kind, ""
        for part in source.split("."):
            hint, meaning = _attribute(hint, part)
        return _Key(name, attrgetter(source), hint, meaning, may_lack)

    def _spread(self, kind: type) -> Iterator[_Key]:
        for name in self._differs(kind).spread:
            for inner in self._classes(_attribute(kind, name)[0]):
                yield from self._keys(inner)

    def _is_object(self, hint: Any) -> bool:
        return isinstance(hint, type) and (is_dataclass(hint) or hint in self._table)

    def _classes(self, hint: Any) -> list[type]:
        """The classes that are stored as objects in values of a type."""
        if self._is_object(hint):
            return [hint]
        inside = _named_hints(hint) or typing.get_args(hint)
        return [each for one in inside if not isinstance(one, str) for each in self._classes(one)]

    def _make_encoder(self, hint: Any) -> Callable[[Any], Any]:
        origin, inside = typing.get_origin(hint), _named_hints(hint) or typing.get_args(hint)
        if self._is_object(hint):
            return lambda value: self._object(hint, value)
        if hint in _PLAIN:
            return _PLAIN[hint][0]
        if origin is Literal:
            return _PLAIN[type(inside[0])][0]
        if origin in (Union, types.UnionType):
            return self._union_encoder(inside)
        if origin in (dict, Mapping):
            each = self._encoder(inside[1])
            return lambda value: {str(name): each(one) for name, one in value.items()}
        if inside and (len(inside) == 1 or inside[1] is Ellipsis):
            each = self._encoder(inside[0])
            return lambda value: [each(one) for one in value]
        if inside:
            every = [self._encoder(one) for one in inside]
            return lambda value: [encoder(one) for encoder, one in zip(every, value, strict=True)]
        raise TypeError(f"{hint} has no place in JSON")

    def _union_encoder(self, kinds: Sequence[Any]) -> Callable[[Any], Any]:
        """One of several classes, or one kind of plain value; or None."""
        given = [kind for kind in kinds if kind is not type(None)]
        if all(self._is_object(kind) for kind in given):
            return lambda value: None if value is None else self.encode(value)
        each = self._encoder(given[0])
        return lambda value: None if value is None else each(value)

    def _property(self, key: _Key) -> Json:
        meaning = key.meaning.replace("``", "").replace("None", "null")
        described = {"description": meaning} if meaning else {}
        return {**self._hint_schema(key.hint), **described}

    def _hint_schema(self, hint: Any) -> Json:
        origin, inside = typing.get_origin(hint), _named_hints(hint) or typing.get_args(hint)
        if self._is_object(hint):
            return self.schema(hint)
        if hint in _PLAIN:
            return {"type": _PLAIN[hint][1]}
        if hint is type(None):
            return {"type": "null"}
        if origin is Literal:
            return {"enum": list(inside)}
        if origin in (Union, types.UnionType):
            return {"anyOf": [self._hint_schema(one) for one in inside]}
        if origin in (dict, Mapping):
            return {"type": "object", "additionalProperties": self._hint_schema(inside[1])}
        if len(inside) == 1 or inside[1] is Ellipsis:
            return {"type": "array", "items": self._hint_schema(inside[0])}
        every = [self._hint_schema(one) for one in inside]
        return {"type": "array", "prefixItems": every, "items": False, "minItems": len(every)}


def _named_hints(hint: Any) -> tuple[Any, ...]:
    """The types of a NamedTuple's values; none for anything else."""
    named = isinstance(hint, type) and issubclass(hint, tuple) and hasattr(hint, "_fields")
    return tuple(_hints(hint).values()) if named else ()


@cache
def _hints(kind: type) -> dict[str, Any]:
    return typing.get_type_hints(kind)


def _attribute(kind: Any, name: str) -> tuple[Any, str]:
    """The type of a field or a property of a class, and what its docstring says of it."""
    found = getattr(kind, name, None)
    if isinstance(found, property) and found.fget is not None:
        return typing.get_type_hints(found.fget)["return"], " ".join((found.__doc__ or "").split())
    return _hints(kind)[name], _meanings(kind).get(name, "")


@cache
def _meanings(kind: type) -> dict[str, str]:
    """What a docstring's ``Attributes:`` say, by field; ``a: b: words`` says the same of both."""
    section = cleandoc(kind.__doc__ or "").partition("Attributes:\n")[2]
    found: dict[str, str] = {}
    for entry in re.findall(r"^ {4}(\S.*(?:\n {8}.*)*)", section, re.MULTILINE):
        words = " ".join(entry.split())
        named = re.match(r"(?:\w+: )+", words)
        for name in named[0].split(": ")[:-1] if named else ():
            found[name] = words[len(named[0]) :] if named else ""
    return found
