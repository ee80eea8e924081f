"""Entities of a STEP physical file (ISO 10303-21), numbered as they come."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import NAMESPACE_OID, uuid5

#: Digits of a global id, in their order (the IFC schema, IfcGloballyUniqueId: a base 64 of its own).
_DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"
_SPACE = uuid5(NAMESPACE_OID, "evencourse")
#: Decimals of a number: a millionth of a millimetre or an inch.
_DECIMALS = 6


class Word(str):
    """A word that stands as it is: an enumeration, a reference, ``$`` for nothing, ``*`` for derived."""


NOTHING, DERIVED = Word("$"), Word("*")
Value = Word | str | float | int | Sequence["Value"]


class StepFile:
    """A file in the making."""

    def __init__(self) -> None:
        self._lines: list[str] = []

    def add(self, kind: str, *values: Value) -> Word:
        """An entity; its reference."""
        self._lines.append(f"#{len(self._lines) + 1}={kind.upper()}({','.join(map(shown, values))});")
        return Word(f"#{len(self._lines)}")

    def text(self, schema: str, view: str, name: str, stamp: str, author: str) -> str:
        """The whole file.

        Args:
            schema: its FILE_SCHEMA.
            view: the model view that it keeps to.
            name: its own name.
            stamp: a day and a time of ISO 8601.
            author: who measured; may be empty.
        """
        program = "evencourse"
        header = [
            "ISO-10303-21;",
            "HEADER;",
            f"FILE_DESCRIPTION({shown((f'ViewDefinition [{view}]',))},'2;1');",
            f"FILE_NAME({shown(name)},{shown(stamp)},{shown((author,))},(''),"
            f"{shown(program)},{shown(program)},'');",
            f"FILE_SCHEMA(({shown(schema)}));",
            "ENDSEC;",
            "DATA;",
        ]
        return "\n".join([*header, *self._lines, "ENDSEC;", "END-ISO-10303-21;", ""])


def shown(value: Value) -> str:
    """A value as it stands in the file.

    Example:
        >>> shown(2.5), shown(3.0), shown("it's"), shown((Word("#1"), 4))
        ('2.5', '3.', "'it''s'", '(#1,4)')
    """
    if isinstance(value, Word):
        return str(value)
    if isinstance(value, str):
        return f"'{_signs(value)}'"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        return f"{round(value, _DECIMALS) + 0.0:.{_DECIMALS}f}".rstrip("0")
    return f"({','.join(map(shown, value))})"


def _signs(text: str) -> str:
    """Signs beyond ASCII by their number (ISO 10303-21, 6.4.3.3)."""
    parts = []
    for sign in text:
        code = ord(sign)
        if 32 <= code < 127:
            parts.append({"'": "''", "\\": "\\\\"}.get(sign, sign))
        elif code < 0x10000:
            parts.append(f"\\X2\\{code:04X}\\X0\\")
        else:
            parts.append(f"\\X4\\{code:08X}\\X0\\")
    return "".join(parts)


def typed(kind: str, value: Value) -> Word:
    """A value with its type beside it, as a property has it."""
    return Word(f"{kind.upper()}({shown(value)})")


def global_id(*names: str) -> str:
    """The global id of what has these names: always the same.

    A UUID of version 5 (RFC 9562) in the 22 digits of IFC.
    """
    number = uuid5(_SPACE, "\n".join(names)).int
    digits = []
    for _ in range(22):
        number, digit = divmod(number, 64)
        digits.append(_DIGITS[digit])
    return "".join(reversed(digits))
