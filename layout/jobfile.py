"""The job file: TOML in, a job out, or every fault in it at once."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from difflib import get_close_matches
from pathlib import Path as FilePath
from typing import Any

from layout._checks import outline_faults, wall_faults, zone_faults
from layout._cladding_tables import read_claddings
from layout._orderkeys import read_order
from layout._reader import Path, Reader, describe
from layout._shapes import read_gable, read_opening, shorthand
from layout.cladding import Cladding
from layout.errors import Fault, JobError
from layout.job import Elevation, Fixture, Framing, Job, Limits, Opening, Point, Seams, Trim, Zone
from layout.rules import rules

#: Largest job file that is read [characters].
LARGEST = 16_000_000
#: Most parts of a dotted key that is read.
DEEPEST = 100
#: Most of a reader's message that is passed on [characters].
_LONGEST_MESSAGE = 160
#: Finest and coarsest mark of a tape that are believed, in words too: a bound on work, no trade rule.
MARKS = {"in": (1 / 128, 1.0, "1/128 to 1"), "mm": (0.2, 25.0, "0.2 to 25")}


def read_job(path: FilePath) -> Job:
    """The job in a file.

    Raises:
        JobError: every fault in it, in the order of the file.
        OSError, UnicodeDecodeError: the file cannot be read.
    """
    return parse_job(path.read_text(encoding="utf-8-sig"))


def parse_job(text: str) -> Job:
    """The job in a text.

    Args:
        text: TOML as described in the README.

    Returns:
        The job, lengths in its units.

    Raises:
        JobError: every fault in it, in the order of the file, each with its place and line.
    """
    if len(text) > LARGEST:
        raise JobError([Fault("the file", f"{len(text)} characters", f"at most {LARGEST}")])
    if deep := _deep_key(text):
        raise JobError([Fault("the file", f"a key of more than {DEEPEST} parts", "a job file", deep)])
    try:
        raw = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        raise JobError([_syntax(error)]) from error
    reader = Reader(raw)
    job = _job(reader, raw)
    if reader.faults or job is None:
        raise JobError(_faults(reader, text))
    return job


def _deep_key(text: str) -> int | None:
    """Line of a dotted key of very many parts: reading one takes time with the square of its parts."""
    for run in re.finditer(r"[^\n=,\[\]{}#]{200,}", text):
        if len(re.findall(r"[^\s.][ \t]*\.[ \t]*(?=[^\s.])", run[0])) > DEEPEST:
            return text.count("\n", 0, run.start()) + 1
    return None


def _syntax(error: Exception) -> Fault:
    if isinstance(error, RecursionError):
        return Fault("the file", "tables or lists nested too deeply", "a job file")
    if not isinstance(error, tomllib.TOMLDecodeError):
        return Fault("the file", "a number that cannot be read", "a TOML file")
    message = str(error)
    at = re.search(r" \(at line (\d+), column \d+\)", message)
    found = message.replace(at[0], "") if at else message.replace(" (at end of document)", " at the end")
    found = re.sub(r"\('(.*?)',?\)", lambda key: '"' + key[1].replace("', '", ".") + '"', found)
    found = found.removeprefix("Found ")
    if len(found) > _LONGEST_MESSAGE:
        found = found[:_LONGEST_MESSAGE] + "…"
    return Fault("the file", found[:1].lower() + found[1:], "a TOML file", int(at[1]) if at else None)


def _faults(reader: Reader, text: str) -> list[Fault]:
    from layout._locate import line_of, lines

    where = lines(text)
    found = [
        Fault(reader.place(path), found, wanted, line_of(path, where))
        for path, found, wanted in reader.faults
    ]
    return sorted(dict.fromkeys(found), key=lambda fault: fault.line or 0)


def _job(reader: Reader, raw: Mapping[str, Any]) -> Job | None:
    units = raw["job"].get("units") if isinstance(raw.get("job"), dict) else None
    reader.units = "mm" if units == "mm" else "in"
    top = reader.table(raw, "", ())
    own = reader.table(top.get("job", {}), "job", ("job",)) if "job" in top else {}
    values = rules()
    inch = 1.0 if reader.units == "in" else 25.4
    mark = own.get("round", values.round[reader.units])
    finest, coarsest, between = MARKS[reader.units]
    if not finest <= mark <= coarsest:
        reader.fault(("job", "round"), describe(raw["job"]["round"]), f"a mark from {between}")
    claddings = read_claddings(reader, top)
    trim = _trim(reader, top.get("trim", {}), "trim", ("trim",), _default_trim(inch))
    limits = _limits(reader, top, inch)
    framing = reader.table(top.get("framing", {}), "framing", ("framing",))
    seams = reader.table(top.get("seams", {}), "seams", ("seams",))
    order = read_order(reader, top)
    faces = _elevations(reader, top, claddings, trim)
    if not faces:
        return None
    return Job(
        name=own.get("name", ""),
        units=reader.units,
        round=mark,
        datum=own.get("datum", "level line round the building"),
        author=own.get("author", ""),
        temperature=own.get("temperature"),
        claddings=claddings,
        limits=limits,
        framing=Framing(
            framing.get("spacing", values.framing["spacing"] * inch),
            framing.get("offset", values.framing["offset"] * inch),
        ),
        seams=Seams(
            seams.get("shortest", values.seams["shortest"] * inch),
            seams.get("apart", values.seams["apart"] * inch),
        ),
        order=order,
        elevations=faces,
    )


def _default_trim(inch: float) -> Trim:
    trim = rules().trim
    return Trim(trim["head"] * inch, trim["sill"] * inch, trim["side"] * inch)


def _trim(reader: Reader, raw: object, name: str, path: Path, default: Trim) -> Trim:
    found = reader.table(raw, name, path)
    for key, value in list(found.items()):
        if value < 0:
            reader.fault((*path, key), reader.show(value), "a width that is not negative")
            del found[key]
    return Trim(
        found.get("head", default.head), found.get("sill", default.sill), found.get("side", default.side)
    )


def _limits(reader: Reader, top: Mapping[str, Any], inch: float) -> Limits:
    found = reader.table(top.get("limits", {}), "limits", ("limits",))
    values = rules().limits
    for key in ("tolerance", "strip_min", "jump"):
        if found.get(key, 0) < 0:
            reader.fault(("limits", key), reader.show(found[key]), "a length that is not negative")
            del found[key]
    return Limits(
        starter=found.get("starter"),
        tolerance=found.get("tolerance", values["tolerance"] * inch),
        strip_min=found.get("strip_min", values["strip_min"] * inch),
        jump=found.get("jump", values["jump"] * inch),
    )


def _elevations(
    reader: Reader, top: Mapping[str, Any], claddings: Mapping[str, Cladding], trim: Trim
) -> tuple[Elevation, ...]:
    faces: list[Elevation] = []
    seen: dict[str, int] = {}
    for index, raw in enumerate(reader.tables(top.get("elevation", []), ("elevation",))):
        path: Path = ("elevation", index)
        found = reader.table(raw, "elevation", path)
        if not isinstance(raw, dict):
            continue
        name = found.get("name", f"face {index + 1}")
        if name in seen:
            reader.fault((*path, "name"), f'a second face "{name}"', "a name of its own")
        seen[name] = index
        face = _elevation(reader, found, name, path, claddings, trim)
        if face is not None:
            faces.append(face)
    if top.get("elevation") == []:
        reader.fault(("elevation",), "no face", "[[elevation]], one for each face")
    return tuple(faces)


def _elevation(
    reader: Reader,
    found: Mapping[str, Any],
    name: str,
    path: Path,
    claddings: Mapping[str, Cladding],
    trim: Trim,
) -> Elevation | None:
    outline: tuple[Point, ...] | None
    if "outline" in found or "outline" in reader.faulty(path):
        both = [key for key in ("width", "base", "eave", "gable") if key in found]
        if both:
            reader.fault((*path, "outline"), f"an outline beside {', '.join(both)}", "one of the two")
        corners = found.get("outline")
        outline = None if corners is None else outline_faults(reader, corners, (*path, "outline"))
        if "gable" in found:
            read_gable(reader, found["gable"], (*path, "gable"))
    else:
        corners = shorthand(reader, found, path)
        outline = None if corners is None else outline_faults(reader, corners, path)
    zones = _zones(reader, found, path, claddings)
    openings = _openings(reader, found, path, outline, trim)
    fixtures = _fixtures(reader, found, path)
    weight = found.get("weight", 1.0)
    if weight > 1000:
        reader.fault((*path, "weight"), f"{weight:g}", "a weight up to 1000")
    zone_faults(reader, outline, zones)
    wall_faults(reader, outline, openings, fixtures)
    if outline is None:
        return None
    return Elevation(
        name=name,
        outline=outline,
        left=found.get("left", "outside corner"),
        right=found.get("right", "outside corner"),
        grade=found.get("grade"),
        weight=weight,
        courses=found.get("courses", "main"),
        entrance=found.get("entrance"),
        openings=tuple(opening for _, opening in openings),
        fixtures=tuple(fixture for _, fixture in fixtures),
        zones=tuple(zone for _, zone in zones),
    )


def _zones(
    reader: Reader, found: Mapping[str, Any], path: Path, claddings: Mapping[str, Cladding]
) -> list[tuple[Path, Zone]]:
    def known(name: str, where: Path) -> str:
        if name in claddings or not claddings:
            return name
        near = get_close_matches(name, claddings, 1, 0.4)
        reader.fault(where, describe(name), f'"{near[0]}"' if near else f"one of {', '.join(claddings)}")
        return next(iter(claddings), "main")

    if "zone" not in found:
        name = found.get("cladding")
        if name is None and len(claddings) > 1 and "cladding" not in reader.root:
            reader.fault((*path, "cladding"), "nothing", f"one of {', '.join(claddings)}, or zones")
        name = known(name, (*path, "cladding")) if name is not None else next(iter(claddings), "main")
        return [((*path, "zone"), Zone(name))]
    if "cladding" in found:
        reader.fault((*path, "cladding"), "a cladding beside zones", "one of the two")
    zones = []
    for index, raw in enumerate(reader.tables(found["zone"], (*path, "zone"))):
        here = (*path, "zone", index)
        zone = reader.table(raw, "zone", here)
        name = (
            known(zone["cladding"], (*here, "cladding")) if "cladding" in zone else next(iter(claddings), "")
        )
        band = zone.get("trim", 0.0)
        if band < 0:
            reader.fault((*here, "trim"), reader.show(band), "a height that is not negative")
            band = 0.0
        zones.append((here, Zone(name, zone.get("top"), band, zone.get("starter"), zone.get("courses"))))
    return zones or [((*path, "zone"), Zone(next(iter(claddings), "main")))]


def _openings(
    reader: Reader, found: Mapping[str, Any], path: Path, outline: tuple[Point, ...] | None, trim: Trim
) -> list[tuple[Path, Opening]]:
    openings: list[tuple[Path, Opening]] = []
    marks: set[str] = set()
    for index, raw in enumerate(reader.tables(found.get("opening", []), (*path, "opening"))):
        here = (*path, "opening", index)
        values = reader.table(raw, "opening", here)
        if not isinstance(raw, dict):
            continue
        own = trim
        if "trim" in values:
            own = _trim(reader, values["trim"], "opening trim", (*here, "trim"), trim)
        opening = read_opening(reader, values, here, outline, own)
        if opening is not None:
            openings.append((here, opening))
        _mark(reader, values, here, marks)
    return openings


def _fixtures(reader: Reader, found: Mapping[str, Any], path: Path) -> list[tuple[Path, Fixture]]:
    fixtures: list[tuple[Path, Fixture]] = []
    marks: set[str] = set()
    for index, raw in enumerate(reader.tables(found.get("fixture", []), (*path, "fixture"))):
        here = (*path, "fixture", index)
        values = reader.table(raw, "fixture", here)
        _mark(reader, values, here, marks)
        if {"left", "bottom", "width", "height"} <= set(values):
            fixture = Fixture(
                values.get("mark", str(index + 1)),
                values["left"],
                values["bottom"],
                values["width"],
                values["height"],
                values.get("block", True),
            )
            fixtures.append((here, fixture))
    return fixtures


def _mark(reader: Reader, values: Mapping[str, Any], path: Path, marks: set[str]) -> None:
    mark = values.get("mark")
    if mark is None:
        return
    if mark in marks:
        reader.fault((*path, "mark"), f'a second "{mark}"', "a mark of its own on this face")
    marks.add(mark)
