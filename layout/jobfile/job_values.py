"""Values as a job file writes them: texts, lengths as a tape reads them, temperatures."""

from __future__ import annotations

import re
from fractions import Fraction

from evencourse.layout.model.job import Units

#: The finest part of an inch that is written as a fraction; anything else is a decimal in full.
FINEST = 64
#: Lengths that may be in feet and inches are so from here up [in].
FEET_FROM = 24


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
