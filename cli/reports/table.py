"""Plain tables for the terminal: aligned, as wide as the screen, without colour when piped."""

from __future__ import annotations

import os
import shutil
import sys
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, TextIO

from evencourse.layout.language.speech import gettext

Style = Literal["plain", "strong", "faint", "good", "bad"]

_CODES: dict[Style, str] = {"plain": "", "strong": "1", "faint": "2", "good": "36", "bad": "1;31"}
_GAP = "  "
#: A column that wraps is never made narrower than this [cells].
_NARROWEST = 14


@dataclass(frozen=True)
class Column:
    """A column's heading and how its cells stand.

    Attributes:
        title: heading.
        right: cells stand to the right (figures).
        wraps: cells may run over several lines when the screen is narrow (sentences).
    """

    title: str
    right: bool = False
    wraps: bool = False


@dataclass(frozen=True)
class Cell:
    """A cell with a style; a plain string will do where none is wanted."""

    text: str
    style: Style = "plain"


@dataclass(frozen=True)
class Screen:
    """What the lines are made for.

    Attributes:
        width: cells in a line; None without limit (a pipe, a file).
        colour: styles are shown.
    """

    width: int | None = None
    colour: bool = False


def screen(stream: TextIO) -> Screen:
    """The screen behind a stream: no limit and no colour unless it is a terminal; ``NO_COLOR`` is heeded."""
    if not stream.isatty():
        return Screen()
    plain = bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb"
    return Screen(max(20, shutil.get_terminal_size().columns), not plain)


#: Joiners of letters, and the mark that ends a name read from right to left: they turn nothing round.
_KEPT = frozenset("\u200c\u200d\u200e")


def clean(text: str) -> str:
    """Text that cannot steer the terminal: controls, signs of direction and lone surrogates made visible."""
    if text.isprintable():
        return text
    return "".join(
        sign
        if sign in _KEPT or unicodedata.category(sign) not in ("Cc", "Cf", "Cs", "Zl", "Zp")
        else f"\\u{ord(sign):04x}"
        for sign in text
    )


def cells(text: str) -> int:
    """How many cells of a terminal a text takes: wide signs two, combining marks none."""
    if text.isascii():
        return len(text)
    return sum(
        0
        if sign in _KEPT or unicodedata.category(sign) in ("Mn", "Me")
        else 1 + (unicodedata.east_asian_width(sign) in "WF")
        for sign in text
    )


def styled(text: str, style: Style, on: Screen) -> str:
    """The text in a style, where the screen shows it."""
    return f"\x1b[{_CODES[style]}m{text}\x1b[0m" if on.colour and _CODES[style] else text


def wrapped(text: str, width: int | None) -> list[str]:
    """The text cut into lines between words, and within a word only when it is longer than a line."""
    if width is None or cells(text) <= width:
        return [text]
    lines: list[str] = []
    line = ""
    for word in text.split():
        joined = f"{line} {word}" if line else word
        if cells(joined) <= width:
            line = joined
            continue
        if line:
            lines.append(line)
        line = word
        while cells(line) > width:
            cut = _cut(line, width)
            lines.append(line[:cut])
            line = line[cut:]
    return [*lines, line] if line or not lines else lines


def _cut(text: str, width: int) -> int:
    """How many signs fit; at least one."""
    taken = 0
    for index, sign in enumerate(text):
        taken += cells(sign)
        if taken > width:
            return max(1, index)
    return len(text)


def table(columns: Sequence[Column], rows: Iterable[Sequence[str | Cell]], on: Screen) -> list[str]:
    """Lay rows out in columns.

    Sentences wrap when the screen is too narrow; when even that does not fit, each row becomes a small list
    of its own, a line a cell.

    Args:
        columns: at least one.
        rows: as many cells each as there are columns.
        on: what it is for.

    Returns:
        Lines without trailing blanks; the first is the heading, if any column has one. None for no rows.
    """
    body = _body(rows)
    if not body:
        return []
    widths = _widths(columns, body)
    if on.width is not None and not _narrowed(columns, widths, on.width):
        return _listed(columns, body, on)
    lines = []
    if any(column.title for column in columns):
        heading = [
            styled(_padded(column.title, width, column.right), "strong", on)
            for column, width in zip(columns, widths, strict=True)
        ]
        lines.append(_GAP.join(heading))
    for row in body:
        parts = [wrapped(cell.text, width) for cell, width in zip(row, widths, strict=True)]
        for level in range(max(map(len, parts))):
            lines.append(
                _GAP.join(
                    styled(
                        _padded(part[level] if level < len(part) else "", width, column.right), cell.style, on
                    )
                    for part, width, column, cell in zip(parts, widths, columns, row, strict=True)
                )
            )
    return [line.rstrip() for line in lines]


def table_fits(columns: Sequence[Column], rows: Iterable[Sequence[str | Cell]], on: Screen) -> bool:
    """Whether a table keeps its columns on this screen, its sentences wrapped as far as they can be."""
    return on.width is None or _narrowed(columns, _widths(columns, _body(rows)), on.width)


def _body(rows: Iterable[Sequence[str | Cell]]) -> list[list[Cell]]:
    cells_of = [[cell if isinstance(cell, Cell) else Cell(cell) for cell in row] for row in rows]
    return [[Cell(clean(cell.text), cell.style) for cell in row] for row in cells_of]


def _widths(columns: Sequence[Column], body: Sequence[Sequence[Cell]]) -> list[int]:
    return [
        max([cells(column.title), *(cells(row[index].text) for row in body)])
        for index, column in enumerate(columns)
    ]


def _narrowed(columns: Sequence[Column], widths: list[int], limit: int) -> bool:
    """Take from the wrapping columns, widest first, until the line fits; False when it cannot."""
    while (excess := sum(widths) + len(_GAP) * (len(widths) - 1) - limit) > 0:
        free = [i for i, column in enumerate(columns) if column.wraps and widths[i] > _NARROWEST]
        if not free:
            return False
        widest = max(free, key=lambda i: widths[i])
        widths[widest] -= min(excess, max(1, widths[widest] - _NARROWEST))
    return True


def _listed(columns: Sequence[Column], body: Sequence[Sequence[Cell]], on: Screen) -> list[str]:
    lines: list[str] = []
    for row in body:
        for index, (column, cell) in enumerate(zip(columns, row, strict=True)):
            lead = "- " if index == 0 else "  "
            text = cell.text
            if column.title:
                text = gettext("{heading}: {cell}", heading=column.title, cell=text)
            parts = wrapped(text, None if on.width is None else on.width - 4)
            lines += [
                (lead if level == 0 else "    ") + styled(part, cell.style, on)
                for level, part in enumerate(parts)
            ]
    return [line.rstrip() for line in lines]


def _padded(text: str, width: int, right: bool) -> str:
    blank = " " * (width - cells(text))
    return blank + text if right else text + blank


def show(lines: Callable[[Screen], Iterable[str]]) -> None:
    """Print lines made for the terminal, or for the pipe, that standard output is."""
    on = screen(sys.stdout)
    for line in lines(on):
        print(line)
