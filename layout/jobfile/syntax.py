"""TOML that does not parse: every line that is wrong, and what can still be read round it."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from typing import Any

from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.errors import Fault

#: Most parts of a dotted key that is read.
DEEPEST = 100
#: Most lines that are told, and the largest text in which more than the first is looked for: a bound on work.
MOST, LARGEST = 50, 300_000
#: Most of a line that is shown [characters].
_SHOWN = 60
#: Stands for a value that could not be read.
_GAP = "\ue000gap\ue000"
#: What is wanted instead, for the catalogues, by the beginning of the parser's message.
_WANTED = {
    "Invalid value": noop("a number, or a text in quotes"),
    "Illegal character '\\n'": noop("a quote at the end of the text"),
    "Unterminated string": noop("three quotes again at the end of the text that is begun here"),
    "Expected newline": noop(
        'one value and nothing after it; a text stands in quotes, and a " inside it as \\"'
    ),
    "Expected '='": noop("an = between the key and its value"),
    "Expected ']]'": noop("]] at the end of a [[table]]"),
    "Expected ']'": noop("] at the end of a [table]"),
    "Invalid statement": noop("a key = value, a [table] or a comment after #"),
    "Invalid initial character": noop("a key of letters, digits, _ and -, or in quotes; no comma before a }"),
    "Cannot overwrite": noop("each key once in its table"),
    "Cannot declare": noop("each table once; [[double brackets]] for one of several"),
    "Cannot mutate": noop("each table once; [[double brackets]] for one of several"),
    "Cannot redefine": noop("each table once; [[double brackets]] for one of several"),
    "Unclosed array": noop("a comma or a ] : the list that was begun here or above has no end"),
    "Unclosed inline table": noop("a comma or a } : the table that was begun here has no end"),
    "Duplicate inline table key": noop("each key once in its table"),
    "Unescaped '\\'": noop("\\\\ for a backslash"),
}  # fmt: skip
#: A value that begins with a quote for readers.
_CURLED = re.compile(r"[^=#]*=\s*[\[{]?\s*[“”„‟«»]")
#: Messages after which nothing below can be trusted.
_RUNNING_ON = ("Unclosed array", "Unclosed inline", "Unterminated", "Expected \"'''\"")


@dataclass(frozen=True)
class Parsed:
    """A TOML text as far as it can be read.

    Attributes:
        tables: what was read; None when too little of it can be.
        faults: lines that are no TOML.
        gap: stands in ``tables`` for what could not be read; None without faults.
        text: what was read in the end, line by line like the file.
    """

    tables: dict[str, Any] | None
    faults: list[Fault] = field(default_factory=list)
    gap: str | None = None
    text: str = ""


def parse(text: str) -> Parsed:
    """Read a TOML text; past a line that is wrong when it is clear where the next one begins.

    Args:
        text: the whole file.

    Returns:
        Its tables and the lines that are wrong, each told once.
    """
    if deep := _deep_key(text):
        found = gettext("a key of more than {count} parts", count=DEEPEST)
        return Parsed(None, [Fault(gettext("the file"), found, gettext("a job file"), deep)])
    rows: list[str] | None = None
    faults: list[Fault] = []
    mended: dict[int, int] = {}
    while True:
        try:
            mended_text = text if rows is None else "\n".join(rows)
            return Parsed(tomllib.loads(mended_text), faults, _GAP if faults else None, mended_text)
        except RecursionError:
            found = gettext("tables or lists nested too deeply")
            return Parsed(None, [Fault(gettext("the file"), found, gettext("a job file"))])
        except tomllib.TOMLDecodeError as error:
            message = str(error)
        except ValueError:
            found = gettext("a number that cannot be read")
            return Parsed(None, [*faults, Fault(gettext("the file"), found, gettext("a TOML file"))])
        rows = text.split("\n") if rows is None else rows
        at = re.search(r" \(at line (\d+), column \d+\)$", message)
        line = int(at[1]) if at else _last_line(message, text)
        if line not in mended:
            faults.append(_fault(message, line, text))
        runs_on = at is None or message.startswith(_RUNNING_ON)
        if runs_on or len(text) > LARGEST or len(faults) >= MOST or _GAP in text:
            return Parsed(None, faults)
        mended[line] = mended.get(line, 0) + 1
        if mended[line] > 2:
            return Parsed(None, faults)
        rows[line - 1] = _mended(rows[line - 1], line, mended[line], message)


def _last_line(message: str, text: str) -> int:
    """Line of a fault that the parser meets at the end of the text: of an endless text, or the last."""
    begun = max(text.rfind('"""'), text.rfind("'''")) if message.startswith("Unterminated") else -1
    return text.count("\n", 0, begun if begun >= 0 else len(text.rstrip())) + 1


def _fault(message: str, line: int, text: str) -> Fault:
    row = text.split("\n", line)[line - 1].strip()
    shown = "".join(c if c.isprintable() else f"\\x{ord(c):02x}" for c in row[: _SHOWN + 1])
    shown = shown if len(shown) <= _SHOWN else shown[:_SHOWN] + "…"
    place, end = gettext("the file"), gettext("the end of the file")
    if _CURLED.match(row):
        wanted = gettext('straight quotes, " and not “ or ”: a word processor curls them')
        return Fault(place, shown, wanted, line)
    for beginning, known in _WANTED.items():
        if message.startswith(beginning):
            return Fault(place, shown or end, gettext(known), line)
    if "character" in message:
        return Fault(place, shown, gettext("no control characters"), line)
    return Fault(place, shown or end, gettext("a line of TOML"), line)


def _mended(row: str, line: int, times: int, message: str) -> str:
    """A line in place of one that is wrong: the same table or key, without its value."""
    spare = f'"{_GAP}{line}"'
    header = re.match(r"\s*(\[\[?)\s*([\w.-]+)", row, re.ASCII)
    if header and times == 1 and not message.startswith("Cannot"):
        return f"{header[1]}{header[2]}{']' * len(header[1])}"
    if row.lstrip().startswith("["):
        return f"[[{spare}]]"
    key = re.match(r"\s*([\w-]+)", row, re.ASCII)
    if key and times == 1 and not message.startswith("Cannot"):
        # A word without its quotes, or with one of them, is plain enough to go on with.
        word = re.match(r'\s*[\w-]+\s*=\s*"?([A-Za-z][\w. -]*?)"?\s*(?:#.*)?$', row, re.ASCII)
        return f'{key[1]} = "{word[1] if word else _GAP}"'
    return f'{spare} = "{_GAP}"'


def _deep_key(text: str) -> int | None:
    """Line of a dotted key of very many parts: reading one takes time with the square of its parts."""
    for run in re.finditer(r"[^\n=,\[\]{}#]{200,}", text):
        if len(re.findall(r"[^\s.][ \t]*\.[ \t]*(?=[^\s.])", run[0])) > DEEPEST:
            return text.count("\n", 0, run.start()) + 1
    return None
