"""Reading one table of the job file by its schema: every value that can be read, every fault noted."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from evencourse.layout.jobfile.keys import BUILT, TABLES, Key
from evencourse.layout.model.errors import Fault, LengthError
from evencourse.layout.model.job import Units
from evencourse.layout.model.lengths import parse_length, show_length
from evencourse.layout.trade.rules import rules

Path = tuple[str | int, ...]
#: Longest name, mark or other text [characters].
LONGEST = 200
#: Most items in one list of tables.
MOST = 20_000
#: Most corners of an outline.
MOST_CORNERS = 500
#: Least size of anything [inches]: a bound that keeps sums sound, no trade rule.
LEAST_SIZE = 0.001
#: Greatest number, steepest pitch [rise over 12], and temperatures [as written] that are believed.
GREATEST, STEEPEST, COLDEST, HOTTEST = 1_000_000, 120, -100, 200
#: No price is as high.
DEAREST = 1_000_000_000
#: Tables that stand under a face.
PARTS = tuple(key.name for key in TABLES["elevation"] if key.kind == "tables")
#: Texts that are a share, a pitch and a temperature.
SHARE = r"(\d+(?:\.\d+)?) ?%"
PITCH = r"(\d+(?:\.\d+)?) ?(?:/|in|:) ?12"
TEMPERATURE = r"(-?\d+(?:\.\d+)?) ?°?([FCfc])"


@dataclass(frozen=True)
class SheetRow:
    """Where an opening stands that a CSV file holds.

    Attributes:
        owner: path of the key that names the file.
        file: its name.
        line: its line there.
    """

    owner: Path
    file: str
    line: int


@dataclass
class Reader:
    """Reads values and gathers faults.

    Attributes:
        units: the job's units.
        faults: (path, found, wanted), in the order of discovery.
        root: the whole file, for the names in places.
        gap: stands for a value that is no TOML and has been told already; None: there is none.
        file_faults: faults of a CSV file as a whole, with the path of the key that names it.
        rows: openings that stand in a CSV file, by path.
    """

    root: Mapping[str, Any]
    units: Units = "in"
    gap: str | None = None
    faults: list[tuple[Path, str, str]] = field(default_factory=list)
    file_faults: list[tuple[Path, Fault]] = field(default_factory=list)
    rows: dict[Path, SheetRow] = field(default_factory=dict)
    _faulty: dict[Path, set[str | int]] = field(default_factory=dict)

    def fault(self, path: Path, found: str, wanted: str) -> None:
        """Note a fault."""
        self.faults.append((path, found, wanted))
        self._told(path)

    def _told(self, path: Path) -> None:
        for depth, part in enumerate(path):
            self._faulty.setdefault(path[:depth], set()).add(part)

    def faulty(self, path: Path) -> frozenset[str | int]:
        """Keys of a table with a fault noted in them: what is missing there has been told already."""
        return frozenset(self._faulty.get(path, ()))

    def row_of(self, path: Path) -> SheetRow | None:
        """The row of a CSV file that a path lies in; None for the job file itself."""
        return next((self.rows[path[:n]] for n in range(len(path), 0, -1) if path[:n] in self.rows), None)

    def show(self, length: float) -> str:
        """A length for a message."""
        return show_length(length, self.units, 1 / 64 if self.units == "in" else 0.1)

    def place(self, path: Path) -> str:
        """A path in the words of the file: ``elevation "Front", opening "A", sill``.

        A course on the wall goes by its own number, not by its place in the file.
        """
        words: list[str] = []
        at: Any = self.root
        for part in path:
            try:
                at = at[part]
            except (KeyError, IndexError, TypeError):
                at = None
            if isinstance(part, int):
                shown = _called(at) or str(part + 1)
                words[-1] = f"{words[-1]} {shown}" if words else f"item {shown}"
            else:
                words.append(clean(part))
        return ", ".join(words) or "the file"

    def table(self, raw: object, name: str, path: Path) -> dict[str, Any]:
        """Values of one table: those that can be read; a faulty or missing one is left out.

        Args:
            raw: what stands there.
            name: its schema.
            path: where it stands.
        """
        whole = isinstance(raw, dict)
        if isinstance(raw, dict):
            self._unknown(raw, name, path)
        else:
            if raw != self.gap:
                self.fault(path, describe(raw), "a table")
            raw = {}
        found = {}
        for key in TABLES[name]:
            here = (*path, key.name)
            value = None
            if key.name in raw and self.gap is not None and raw[key.name] == self.gap:
                self._told(here)
            elif key.name in raw:
                value = self._value(raw[key.name], key, here)
            elif key.required and whole and key.name not in self.faulty(path):
                self.fault(here, "nothing", key.doc)
            if value is None:
                value = self._default(key)
            if value is not None:
                found[key.name] = value
        return found

    def _unknown(self, raw: Mapping[str, Any], name: str, path: Path) -> None:
        """Keys that the table does not have; the known one that was meant counts as told."""
        keys = [key.name for key in TABLES[name]]
        for unknown in raw:
            if unknown in keys or (self.gap is not None and self.gap in unknown):
                continue
            if not name and unknown in PARTS:
                self.fault(
                    (unknown,), f"[{unknown}] outside a face", f"[[elevation.{unknown}]] under its face"
                )
                continue
            near = get_close_matches(unknown[:LONGEST], keys, 1, 0.6)
            self.fault(
                (*path, unknown),
                f'the unknown key "{clean(unknown)}"',
                f'"{near[0]}"' if near else _elsewhere(unknown) or f"one of {', '.join(keys)}",
            )
            if near and near[0] not in raw:
                self._told((*path, near[0]))

    def _default(self, key: Key) -> str | float | bool | None:
        if not key.rule:
            return key.default
        table, _, name = key.rule.partition(".")
        return float(getattr(rules(), table)[name]) * (1.0 if self.units == "in" else 25.4)

    def tables(self, raw: object, path: Path) -> list[Any]:
        """Items of a list of tables."""
        if not isinstance(raw, list):
            if raw == self.gap:
                return []
            name = ".".join(str(part) for part in path if isinstance(part, str))
            double = f"[[{name}]] in double brackets, one for each"
            self.fault(path, f"[{name}]" if isinstance(raw, dict) else describe(raw), double)
            return []
        if len(raw) > MOST:
            self.fault(path, f"{len(raw)} items", f"at most {MOST}")
            return []
        return raw

    def _value(self, raw: object, key: Key, path: Path) -> Any:
        match key.kind:
            case "table" | "tables" | "prices" | "lengths" | "names":
                return raw
            case "text" | "file":
                return self.text(raw, key.doc, path)
            case "word":
                return self._word(raw, key, path)
            case "flag":
                if isinstance(raw, bool):
                    return raw
                self.fault(path, describe(raw), "true or false")
                return None
            case "number" | "count":
                return self._number(raw, key, path)
            case "share":
                return self._share(raw, path)
            case "pitch":
                return self._pitch(raw, path)
            case "temperature":
                return self._temperature(raw, path)
            case "heights":
                return self._heights(raw, path)
            case "range":
                return self._range(raw, path)
            case "points":
                return self._points(raw, path, 3)
            case "line":
                return self._points(raw, path, 2)
            case "ground":
                points = isinstance(raw, list) and any(isinstance(item, list) for item in raw)
                return self._points(raw, path, 2) if points else self._heights(raw, path)
            case _:
                return self._length(raw, key, path)

    def _length(self, raw: object, key: Key, path: Path) -> float | None:
        length = self.length(raw, path)
        if length is None:
            return None
        if key.kind == "size" and 0 < length < LEAST_SIZE * (1.0 if self.units == "in" else 25.4):
            self.fault(path, describe(raw), f"a length of {LEAST_SIZE:g} in at least")
            return None
        if length > 0 if key.kind == "size" else length >= 0 or key.kind == "length":
            return length
        self.fault(
            path, describe(raw), "a length above zero" if key.kind == "size" else "a length not below zero"
        )
        return None

    def length(self, raw: object, path: Path) -> float | None:
        """A length; None after a fault."""
        try:
            return parse_length(raw, self.units)
        except LengthError as error:
            self.fault(path, clean(error.found), error.wanted)
            return None

    def text(self, raw: object, doc: str, path: Path) -> str | None:
        """A name, a mark or other text of one line; None after a fault."""
        if not isinstance(raw, str):
            self.fault(path, describe(raw), f"a text: {doc}")
            return None
        if not raw.strip():
            self.fault(path, "an empty text", doc)
            return None
        if len(raw) > LONGEST:
            self.fault(path, f"{len(raw)} characters", f"at most {LONGEST}")
            return None
        if not raw.isprintable():
            self.fault(path, describe(raw), "a text without control characters")
            return None
        return raw.strip()

    def _word(self, raw: object, key: Key, path: Path) -> str | None:
        if raw in key.words:
            return str(raw)
        near = get_close_matches(raw[:LONGEST], key.words, 1, 0.5) if isinstance(raw, str) else []
        hint = f"; nearest is {near[0]}" if near else ""
        self.fault(path, describe(raw), ", ".join(key.words[:-1]) + f" or {key.words[-1]}{hint}")
        return None

    def _number(self, raw: object, key: Key, path: Path) -> float | None:
        if isinstance(raw, bool) or not isinstance(raw, int | float) or not abs(raw) <= GREATEST:
            self.fault(path, describe(raw), f"a number: {key.doc}")
            return None
        if raw < 0 and key.name != "cold":
            self.fault(path, describe(raw), "a number that is not negative")
            return None
        if key.kind == "count" and raw != int(raw):
            self.fault(path, describe(raw), f"a whole number: {key.doc}")
            return None
        return int(raw) if key.kind == "count" else float(raw)

    def _share(self, raw: object, path: Path) -> float | None:
        wanted = 'a share such as 0.05 or "5 %", from 0 to 1'
        if isinstance(raw, str) and (match := re.fullmatch(SHARE, raw.strip(), re.ASCII)):
            value = float(match[1]) / 100
        elif isinstance(raw, int | float) and not isinstance(raw, bool) and 0 <= raw <= 1:
            value = float(raw)
        else:
            value = -1.0
        if 0 <= value <= 1:
            return value
        self.fault(path, describe(raw), wanted)
        return None

    def _pitch(self, raw: object, path: Path) -> float | None:
        value: float | None = None
        if isinstance(raw, int | float) and not isinstance(raw, bool) and abs(raw) <= STEEPEST:
            value = float(raw)
        elif isinstance(raw, str):
            match = re.fullmatch(PITCH, raw.strip(), re.ASCII)
            value = float(match[1]) if match else None
        if value is None or not 0 < value <= STEEPEST:
            self.fault(path, describe(raw), "a rise over 12: 6/12")
            return None
        return value

    def _temperature(self, raw: object, path: Path) -> float | None:
        number, unit = raw, "F" if self.units == "in" else "C"
        if isinstance(raw, str):
            match = re.fullmatch(TEMPERATURE, raw.strip(), re.ASCII)
            number, unit = (float(match[1]), match[2].upper()) if match else (None, unit)
        if (
            isinstance(number, bool)
            or not isinstance(number, int | float)
            or not COLDEST <= number <= HOTTEST
        ):
            wanted = f'a temperature such as "55 F" or "13 C", from {COLDEST} to {HOTTEST}'
            self.fault(path, describe(raw), wanted)
            return None
        return float(number) if unit == "F" else number * 9 / 5 + 32

    def _heights(self, raw: object, path: Path) -> tuple[float, float] | None:
        if not isinstance(raw, list):
            one = self.length(raw, path)
            return None if one is None else (one, one)
        if len(raw) != 2:
            self.fault(path, f"{len(raw)} heights", "one height, or [left, right]")
            return None
        pair = [self.length(item, (*path, index)) for index, item in enumerate(raw)]
        return None if pair[0] is None or pair[1] is None else (pair[0], pair[1])

    def _range(self, raw: object, path: Path) -> tuple[float, float] | None:
        if not isinstance(raw, list) or len(raw) != 2:
            self.fault(path, describe(raw), "[lowest, highest]")
            return None
        pair = self._heights(raw, path)
        if pair is not None and pair[0] > pair[1]:
            found = f"{self.show(pair[0])} above {self.show(pair[1])}"
            self.fault(path, found, "the lowest first, then the highest")
            return None
        return pair

    def _points(self, raw: object, path: Path, least: int) -> list[tuple[float, float]] | None:
        what = "corners" if least == 3 else "points"
        if not isinstance(raw, list) or not least <= len(raw) <= MOST_CORNERS:
            few = what.removesuffix("s") if isinstance(raw, list) and len(raw) == 1 else what
            found = f"{len(raw)} {few}" if isinstance(raw, list) else describe(raw)
            self.fault(path, found, f"{least} to {MOST_CORNERS} {what} as [x, height]")
            return None
        points: list[tuple[float, float]] = []
        for index, item in enumerate(raw):
            here = (*path, index)
            if not isinstance(item, list) or len(item) != 2:
                self.fault(here, describe(item), "[x, height]")
                continue
            x, y = (self.length(value, here) for value in item)
            if x is not None and y is not None:
                points.append((x, y))
        return points if len(points) == len(raw) else None


def _called(item: object) -> str:
    """What an item of a list goes by in a message; "" when nothing in it tells it from the others."""
    if not isinstance(item, dict):
        return ""
    name = item.get("name") or item.get("mark")
    if isinstance(name, str) and name:
        return f'"{clean(name)}"'
    number, where = item.get("course"), item.get("face") or item.get("courses")
    if isinstance(number, int) and not isinstance(number, bool) and number > 0 and isinstance(where, str):
        return f'{describe(number)} of "{clean(where)}"'
    return ""


def _elsewhere(key: str) -> str:
    """Where a key of another table belongs; "" for a key that no table has."""
    owners = [name for name, keys in TABLES.items() if name and any(known.name == key for known in keys)]
    # What hangs repeats the keys of what was measured at first, which is what is meant.
    first = [name for name in owners if name not in BUILT]
    owners = first or ["as_built"] * bool(owners)
    named = " or ".join(filter(None, (", ".join(owners[:-1]), *owners[-1:])))
    return f"it in its own table, {named}" if owners else ""


def describe(raw: object) -> str:
    """A value as it stands, short."""
    if isinstance(raw, str):
        return f'"{clean(raw)}"'
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, dict):
        return "a table"
    if isinstance(raw, Sequence):
        return f"a list of {len(raw)}"
    if isinstance(raw, int) and abs(raw) >= 10**40:
        return "a number of more than 40 digits"
    return str(raw)[:40]


def clean(text: object) -> str:
    """A text for a message: control characters shown, never more than a line."""
    shown = "".join(c if c.isprintable() else f"\\x{ord(c):02x}" for c in str(text)[:61])
    return shown if len(shown) <= 60 else shown[:60] + "…"
