"""Values as a job file writes them: texts, lengths as a tape reads them, temperatures; and as messages do."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import reduce

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.job import Units

#: The finest part of an inch that is written as a fraction; anything else is a decimal in full.
FINEST = 64
#: Lengths that may be in feet and inches are so from here up [in].
FEET_FROM = 24
#: Joiners that some scripts are spelt with, and spaces where no line breaks.
SPOKEN = frozenset("\u200c\u200d\u00a0\u202f")
#: Signs that are letters or marks by their class, and show nothing.
_BLANK = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u180b\u180c\u180d\u180f\u2800\u3164\uffa0")


def text(value: str, ascii_only: bool = False) -> str:
    """A TOML text.

    Args:
        value: any text.
        ascii_only: write every sign that is not plain ASCII, and the backslash, by its number: for carriers
            with codes of their own.
    """
    out = []
    for sign in value:
        number = ord(sign)
        if sign == '"' or (sign == "\\" and not ascii_only):
            out.append(f"\\{sign}")
        elif not sign.isprintable() or (ascii_only and (number > 126 or sign == "\\")):
            out.append(f"\\u{number:04X}" if number < 0x10000 else f"\\U{number:08X}")
        else:
            out.append(sign)
    return '"' + "".join(out) + '"'


def key(name: str, ascii_only: bool = False) -> str:
    """A TOML key: bare where it can be."""
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else text(name, ascii_only)


def number(value: float) -> str:
    """A number with every digit that it has; whole ones without a point."""
    return str(int(value)) if value == int(value) and abs(value) < 1e15 else repr(float(value))


def length(value: float, units: Units, feet: bool = False) -> str:
    """A length that reads back as exactly this value.

    Args:
        value: [``units``].
        units: the job's units.
        feet: feet and inches from one foot up; else inches alone.

    Returns:
        In inches a tape's fraction in quotes where the value is a whole number of sixty-fourths; else the
        number with every digit. Millimetres are bare numbers.
    """
    parts = value * FINEST
    if units == "mm" or parts != int(parts):
        return number(value)
    size = Fraction(int(abs(parts)), FINEST)
    sign = "-" if value < 0 else ""
    if feet and size >= FEET_FROM:
        inches = f" {_inches(size % 12)}" if size % 12 else ""
        return f'"{sign}{size // 12}\'{inches}"'
    return f'"{sign}{_inches(size)}"'


def _inches(size: Fraction) -> str:
    whole, over = divmod(size, 1)
    if not over:
        return str(whole)
    return f"{whole}-{over}" if whole else str(over)


def temperature(value: float, units: Units) -> str:
    """A temperature [F] that reads back as exactly this value; in C where a metric job wrote it so."""
    celsius = round((value - 32) * 5 / 9, 6)
    if units == "mm" and celsius * 9 / 5 + 32 == value:
        return f'"{number(celsius)} C"'
    return f'"{number(value)} F"'


def describe(raw: object) -> str:
    """A value as it stands, short."""
    if isinstance(raw, str):
        return f'"{clean(raw)}"'
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, dict):
        return gettext("a table")
    if isinstance(raw, Sequence):
        return gettext("a list of {count}", count=len(raw))
    if isinstance(raw, int) and abs(raw) >= 10**40:
        return gettext("a number of more than {count} digits", count=40)
    return str(raw)[:40]


def seen(text: str) -> str:
    """What is seen of a name, spelt as Unicode composes it: names that differ in nothing else are alike.

    Args:
        text: a name or a mark.
    """
    shown = " ".join(text.split())
    unseen = (
        one in _BLANK or unicodedata.category(one) == "Cf" or "\ufe00" <= one <= "\ufe0f" for one in shown
    )
    kept = "".join(one for one, gone in zip(shown, unseen, strict=True) if not gone)
    composed = unicodedata.normalize("NFC", kept).strip()
    return composed if any(unicodedata.category(one)[0] != "M" for one in composed) else ""


def clean(text: object) -> str:
    """A text for a message: control characters shown, never more than a line."""
    shown = "".join(c if c.isprintable() else f"\\x{ord(c):02x}" for c in str(text)[:61])
    return shown if len(shown) <= 60 else shown[:60] + "…"


def called(item: object) -> str:
    """What an item of a list goes by in a message; "" when nothing in it tells it from the others."""
    if not isinstance(item, dict):
        return ""
    name = item.get("name") or item.get("mark")
    if isinstance(name, str) and name:
        return f'"{clean(name)}"'
    number, where = item.get("course"), item.get("face") or item.get("courses")
    if isinstance(number, int) and not isinstance(number, bool) and number > 0 and isinstance(where, str):
        return gettext('{number} of "{face}"', number=describe(number), face=clean(where))
    return ""


def either(words: Iterable[str]) -> str:
    """One of several: ``window or door``; of more than two, those before the last may be joined already."""
    return reduce(lambda one, other: gettext("{one} or {other}", one=one, other=other), words)
