"""Reading one table of the job file by its schema: every value that can be read, every fault noted."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from evencourse.layout.jobfile.job_values import SPOKEN, called, clean, describe, either, seen
from evencourse.layout.jobfile.keys import BUILT, TABLES, Key
from evencourse.layout.language.speech import gettext, ngettext
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
        missing: paths of them at which nothing stands.
        root: the whole file, for the names in places.
        gap: stands for a value that is no TOML and has been told already; None: there is none.
        file_faults: faults of a CSV file as a whole, with the path of the key that names it.
        rows: openings that stand in a CSV file, by path.
    """

    root: Mapping[str, Any]
    units: Units = "in"
    gap: str | None = None
    faults: list[tuple[Path, str, str]] = field(default_factory=list)
    missing: set[Path] = field(default_factory=set)
    file_faults: list[tuple[Path, Fault]] = field(default_factory=list)
    rows: dict[Path, SheetRow] = field(default_factory=dict)
    _faulty: dict[Path, set[str | int]] = field(default_factory=dict)

    def fault(self, path: Path, found: str, wanted: str) -> None:
        """Note a fault; that of an empty text is that nothing stands there."""
        if found == '""':
            self.missing.add(path)
        self.faults.append((path, found, wanted))
        self._told(path)

    def lack(self, path: Path, wanted: str, found: str = "") -> None:
        """Note that nothing stands where something must."""
        self.missing.add(path)
        self.fault(path, found or gettext("nothing"), wanted)

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
        """A length for a message, as a job file may have it: with a point for the decimal."""
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
                shown = called(at) or str(part + 1)
                words[-1:] = [f"{words[-1]} {shown}" if words else gettext("item {number}", number=shown)]
            else:
                words.append(clean(part))
        return ", ".join(words) or gettext("the file")

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
                self.fault(path, describe(raw), gettext("a table"))
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
                self.lack(here, gettext(key.doc))
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
                found = gettext("{table} outside a face", table=f"[{unknown}]")
                inside = gettext("{table} under its face", table=f"[[elevation.{unknown}]]")
                self.fault((unknown,), found, inside)
                continue
            near = get_close_matches(unknown[:LONGEST], keys, 1, 0.6)
            self.fault(
                (*path, unknown),
                gettext('the unknown key "{key}"', key=clean(unknown)),
                f'"{near[0]}"'
                if near
                else _elsewhere(unknown) or gettext("one of {names}", names=", ".join(keys)),
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
            double = gettext("{table} in double brackets, one for each", table=f"[[{name}]]")
            self.fault(path, f"[{name}]" if isinstance(raw, dict) else describe(raw), double)
            return []
        if len(raw) > MOST:
            found = gettext("{count} items", count=len(raw))
            self.fault(path, found, gettext("at most {count}", count=MOST))
            return []
        return raw

    def _value(self, raw: object, key: Key, path: Path) -> Any:
        match key.kind:
            case "table" | "tables" | "prices" | "lengths" | "names":
                return raw
            case "text" | "file":
                return self.text(raw, gettext(key.doc), path)
            case "word":
                return self._word(raw, key, path)
            case "flag":
                if isinstance(raw, bool):
                    return raw
                self.fault(path, describe(raw), gettext("true or false"))
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
            self.fault(
                path, describe(raw), gettext("a length of {length} in at least", length=f"{LEAST_SIZE:g}")
            )
            return None
        if length > 0 if key.kind == "size" else length >= 0 or key.kind == "length":
            return length
        above, from_zero = gettext("a length above zero"), gettext("a length not below zero")
        self.fault(path, describe(raw), above if key.kind == "size" else from_zero)
        return None

    def length(self, raw: object, path: Path) -> float | None:
        """A length; None after a fault."""
        try:
            return parse_length(raw, self.units)
        except LengthError as error:
            self.fault(path, clean(error.found), error.wanted)
            return None

    def text(self, raw: object, doc: str, path: Path) -> str | None:
        """A name, a mark or other text of one line; None after a fault.

        Args:
            raw: what stands there.
            doc: what is wanted, in the language that is spoken.
            path: where it stands.
        """
        if not isinstance(raw, str):
            self.fault(path, describe(raw), gettext("a text: {meaning}", meaning=doc))
            return None
        if not seen(raw):
            self.fault(path, gettext("an empty text"), doc)
            return None
        if len(raw) > LONGEST:
            found = gettext("{count} characters", count=len(raw))
            self.fault(path, found, gettext("at most {count}", count=LONGEST))
            return None
        if not all(sign.isprintable() or sign in SPOKEN for sign in raw):
            self.fault(path, describe(raw), gettext("a text without control characters"))
            return None
        return raw.strip()

    def _word(self, raw: object, key: Key, path: Path) -> str | None:
        if raw in key.words:
            return str(raw)
        near = get_close_matches(raw[:LONGEST], key.words, 1, 0.5) if isinstance(raw, str) else []
        wanted = either((", ".join(key.words[:-1]), key.words[-1]))
        if near:
            wanted = gettext("{words}; nearest is {nearest}", words=wanted, nearest=near[0])
        self.fault(path, describe(raw), wanted)
        return None

    def _number(self, raw: object, key: Key, path: Path) -> float | None:
        if isinstance(raw, bool) or not isinstance(raw, int | float) or not abs(raw) <= GREATEST:
            self.fault(path, describe(raw), gettext("a number: {meaning}", meaning=gettext(key.doc)))
            return None
        if raw < 0 and key.name != "cold":
            self.fault(path, describe(raw), gettext("a number that is not negative"))
            return None
        if key.kind == "count" and raw != int(raw):
            self.fault(path, describe(raw), gettext("a whole number: {meaning}", meaning=gettext(key.doc)))
            return None
        return int(raw) if key.kind == "count" else float(raw)

    def _share(self, raw: object, path: Path) -> float | None:
        if isinstance(raw, str) and (match := re.fullmatch(SHARE, raw.strip(), re.ASCII)):
            value = float(match[1]) / 100
        elif isinstance(raw, int | float) and not isinstance(raw, bool) and 0 <= raw <= 1:
            value = float(raw)
        else:
            value = -1.0
        if 0 <= value <= 1:
            return value
        self.fault(path, describe(raw), gettext('a share such as 0.05 or "5 %", from 0 to 1'))
        return None

    def _pitch(self, raw: object, path: Path) -> float | None:
        value: float | None = None
        if isinstance(raw, int | float) and not isinstance(raw, bool) and abs(raw) <= STEEPEST:
            value = float(raw)
        elif isinstance(raw, str):
            match = re.fullmatch(PITCH, raw.strip(), re.ASCII)
            value = float(match[1]) if match else None
        if value is None or not 0 < value <= STEEPEST:
            self.fault(path, describe(raw), gettext("a rise over 12: 6/12"))
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
            wanted = gettext(
                'a temperature such as "55 F" or "13 C", from {coldest} to {hottest}',
                coldest=COLDEST,
                hottest=HOTTEST,
            )
            self.fault(path, describe(raw), wanted)
            return None
        return float(number) if unit == "F" else number * 9 / 5 + 32

    def _heights(self, raw: object, path: Path) -> tuple[float, float] | None:
        if not isinstance(raw, list):
            one = self.length(raw, path)
            return None if one is None else (one, one)
        if len(raw) != 2:
            found = ngettext("{count} heights", "{count} heights", len(raw))
            self.fault(path, found, gettext("one height, or [left, right]"))
            return None
        pair = [self.length(item, (*path, index)) for index, item in enumerate(raw)]
        return None if pair[0] is None or pair[1] is None else (pair[0], pair[1])

    def _range(self, raw: object, path: Path) -> tuple[float, float] | None:
        if not isinstance(raw, list) or len(raw) != 2:
            self.fault(path, describe(raw), gettext("[lowest, highest]"))
            return None
        pair = self._heights(raw, path)
        if pair is not None and pair[0] > pair[1]:
            found = gettext("{one} above {other}", one=self.show(pair[0]), other=self.show(pair[1]))
            self.fault(path, found, gettext("the lowest first, then the highest"))
            return None
        return pair

    def _points(self, raw: object, path: Path, least: int) -> list[tuple[float, float]] | None:
        if not isinstance(raw, list) or not least <= len(raw) <= MOST_CORNERS:
            found, (low, high) = describe(raw), (least, MOST_CORNERS)
            if least == 3:
                wanted = gettext("{least} to {most} corners as [x, height]", least=low, most=high)
                if isinstance(raw, list):
                    found = ngettext("{count} corner", "{count} corners", len(raw))
            else:
                wanted = gettext("{least} to {most} points as [x, height]", least=low, most=high)
                if isinstance(raw, list):
                    found = ngettext("{count} point", "{count} points", len(raw))
            self.fault(path, found, wanted)
            return None
        points: list[tuple[float, float]] = []
        for index, item in enumerate(raw):
            here = (*path, index)
            if not isinstance(item, list) or len(item) != 2:
                self.fault(here, describe(item), gettext("[x, height]"))
                continue
            x, y = (self.length(value, here) for value in item)
            if x is not None and y is not None:
                points.append((x, y))
        return points if len(points) == len(raw) else None


def _elsewhere(key: str) -> str:
    """Where a key of another table belongs; "" for a key that no table has."""
    owners = [name for name, keys in TABLES.items() if name and any(known.name == key for known in keys)]
    # What hangs repeats the keys of what was measured at first, which is what is meant.
    first = [name for name in owners if name not in BUILT]
    owners = first or ["as_built"] * bool(owners)
    named = filter(None, (", ".join(owners[:-1]), *owners[-1:]))
    return gettext("it in its own table, {tables}", tables=either(named)) if owners else ""
