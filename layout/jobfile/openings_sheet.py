"""Openings from a CSV file beside the job file: one row an opening, the header in the job file's words."""

from __future__ import annotations

import csv
import io
import tomllib
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from pathlib import Path as FilePath
from typing import Any

from evencourse.layout.jobfile.job_values import clean, describe
from evencourse.layout.jobfile.keys import COLUMNS
from evencourse.layout.jobfile.table_reader import MOST, Path, Reader, SheetRow
from evencourse.layout.language.speech import gettext, ngettext, noop
from evencourse.layout.model.errors import Fault

#: Largest CSV file that is read [bytes].
LARGEST = 16_000_000
#: Column that says which face a row belongs to, when one file holds the openings of all.
FACE = "elevation"
#: What stands between cells: the header decides, its own words hold none of these.
_APART = (",", ";", "\t")
#: What is wanted of quotes, for the catalogues.
_QUOTES = noop("a quoted cell that ends, with quotes inside it doubled")


#: Where CSV files are looked for: a folder, files by their names, or nowhere.
Beside = FilePath | Mapping[str, bytes] | None


def named_sheets(text: str) -> tuple[str, ...]:
    """The CSV files of openings that a job file names; none when it is no TOML."""
    if "openings" not in text and "\\" not in text:
        return ()
    try:
        raw = tomllib.loads(text)
    except (ValueError, RecursionError):
        return ()
    faces = raw.get("elevation")
    tables = [raw, *(faces if isinstance(faces, list) else ())]
    names = [table.get("openings") for table in tables if isinstance(table, dict)]
    return tuple(dict.fromkeys(name for name in names if isinstance(name, str) and "\0" not in name))


def add_openings(reader: Reader, raw: dict[str, Any], base: Beside) -> None:
    """Put the rows of CSV files among the openings of their faces, as if they stood in the job file.

    Args:
        reader: gathers the faults, and where each row stands.
        raw: the file's tables; its faces get the openings.
        base: the job file's folder, which a CSV file must not lie outside of, or the files that lie in it.
            None: there is none.
    """
    listed = raw.get("elevation")
    faces = {
        index: face
        for index, face in enumerate(listed if isinstance(listed, list) else ())
        if isinstance(face, dict)
    }
    _add(reader, raw.get("openings"), ("openings",), base, faces, None)
    for index, face in faces.items():
        _add(reader, face.get("openings"), ("elevation", index, "openings"), base, faces, index)


def _add(
    reader: Reader,
    name: object,
    owner: Path,
    base: Beside,
    faces: Mapping[int, dict[str, Any]],
    face: int | None,
) -> None:
    """The rows of one file; a name that is none is told where the job file is read."""
    if not isinstance(name, str) or name == reader.gap or not name.strip() or not name.isprintable():
        return
    text = _text(reader, name, owner, base)
    shown = clean(name)
    by_name = {str(one.get("name", "")).strip(): index for index, one in reversed(list(faces.items()))}
    for line, cells in _rows(reader, text, owner, shown, face is None):
        target = face
        if target is None:
            wanted = cells.pop(FACE, "")
            target = by_name.get(wanted)
            if target is None:
                near = get_close_matches(wanted, by_name, 1, 0.5)
                names = ", ".join(map(clean, by_name))
                hint = f'"{near[0]}"' if near else gettext("one of {names}", names=names)
                found = describe(wanted) if wanted else gettext("nothing")
                fault = Fault(f"{shown}, {FACE}", found, hint, line, missing=not wanted)
                reader.file_faults.append((owner, fault))
                continue
        openings = faces[target].setdefault("opening", [])
        if isinstance(openings, list):
            reader.rows["elevation", target, "opening", len(openings)] = SheetRow(owner, shown, line)
            openings.append(_table(cells))


def _table(cells: Mapping[str, str]) -> dict[str, Any]:
    """A row as the table of an opening: trim columns in a table of their own."""
    trim = {key.removeprefix("trim_"): cell for key, cell in cells.items() if key.startswith("trim_")}
    own: dict[str, Any] = {key: cell for key, cell in cells.items() if not key.startswith("trim_")}
    return own | ({"trim": trim} if trim else {})


def _text(reader: Reader, name: str, owner: Path, base: Beside) -> str:
    """The file's text; empty after a fault."""
    wanted = gettext("the name of a CSV file in the job file's folder")
    no_file = gettext("{name}, which is no file there", name=describe(name))

    def refuse(found: str, line: int | None = None, wanted: str = wanted) -> str:
        place = reader.place(owner) if line is None else clean(name)
        if line is None:
            reader.fault(owner, found, wanted)
        else:
            reader.file_faults.append((owner, Fault(place, found, wanted, line)))
        return ""

    if base is None:
        found = gettext("{name}, and a job that lies in no folder", name=describe(name))
        return refuse(found, wanted=gettext("a job read from its file"))
    try:
        if isinstance(base, Mapping):
            if name not in base:
                return refuse(no_file)
            data = base[name]
        else:
            folder = base.resolve()
            path = (folder / name).resolve()
            if not path.is_relative_to(folder):
                return refuse(gettext("{name}, outside that folder", name=describe(name)))
            if not path.is_file():
                return refuse(no_file)
            if path.stat().st_size > LARGEST:
                found = gettext("a file of {count} bytes", count=path.stat().st_size)
                return refuse(found, wanted=gettext("at most {count}", count=LARGEST))
            data = path.read_bytes()
    except (OSError, ValueError, RuntimeError) as error:
        if isinstance(error, OSError) and error.strerror:
            reason = error.strerror[:1].lower() + error.strerror[1:]
        else:
            reason = gettext("it cannot be looked for")
        return refuse(f"{describe(name)}: {reason}")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = gettext("byte {byte}", byte=f"0x{data[error.start]:02x}")
        return refuse(found, line, gettext("a text file in UTF-8: CSV UTF-8 in a spreadsheet"))


def _rows(
    reader: Reader, text: str, owner: Path, name: str, with_face: bool
) -> Iterator[tuple[int, dict[str, str]]]:
    """Line and filled cells of every row that can be read."""

    def fault(line: int, place: str, found: str, wanted: str) -> None:
        reader.file_faults.append((owner, Fault(place, found, wanted, line)))

    first = next(iter(text.splitlines()), "")
    apart = max(_APART, key=first.count)
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=apart, strict=True)
    header: list[str] = []
    known = (FACE, *COLUMNS) if with_face else COLUMNS
    end = count = 0
    while True:
        start = end + 1
        try:
            cells = [cell.strip() for cell in next(rows)]
        except StopIteration:
            break
        except csv.Error as error:
            fault(start, name, clean(error), gettext(_QUOTES))
            return
        end = rows.line_num
        if not any(cells):
            continue
        if not header:
            header = [cell.lower() for cell in cells]
            if not _header(header, known, name, start, fault):
                return
            continue
        count += 1
        if count > MOST:
            fault(
                start,
                name,
                gettext("more than {count} rows", count=MOST),
                gettext("at most {count}", count=MOST),
            )
            return
        if len(cells) > len(header) and any(cells[len(header) :]):
            found = ngettext("{count} cells", "{count} cells", len(cells))
            fault(start, name, found, gettext("{count}, as in the header", count=len(header)))
            continue
        row = {key: cell for key, cell in zip(header, cells, strict=False) if cell}
        if over := next((key for key, cell in row.items() if key != "mark" and "\n" in cell), None):
            # An inch mark left alone in a quoted cell ends it, or hides its end: whole rows lie in one cell.
            found = gettext("a cell that goes on in the next line")
            fault(start, f"{name}, {over}", found, gettext(_QUOTES))
            continue
        yield start, row
    if text and not header:
        wanted = gettext("a header of {columns}", columns=", ".join(known))
        fault(1, name, gettext("no header"), wanted)


def _header(header: list[str], known: tuple[str, ...], name: str, line: int, fault: Any) -> bool:
    """Whether the header can be worked with; everything that is wrong with it is told at once."""
    good = True
    for index, column in enumerate(header):
        if column in header[:index]:
            good = False
            found = gettext("a second column of that name")
            fault(line, f"{name}, {clean(column)}", found, gettext("each column once"))
        elif column not in known:
            good = False
            near = get_close_matches(column, known, 1, 0.6)
            wanted = f'"{near[0]}"' if near else gettext("one of {names}", names=", ".join(known))
            fault(line, name, gettext('the unknown column "{column}"', column=clean(column)), wanted)
    if FACE in known and FACE not in header:
        good = False
        fault(line, name, gettext("no column {column}", column=FACE), gettext("the face of each opening"))
    return good
