"""A job in the making: the part that is whole already can be planned and drawn, the rest has faults."""

from __future__ import annotations

import copy
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from evencourse.layout.jobfile.job_file import job_of_tables, parse_job
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Job

Keys = tuple[str | int, ...]
#: How often what has a fault is left out before nothing is drawn: leaving out one thing may spoil another.
_TRIES = 6
#: What of a face can be left out, and keys without which it still has its shape.
_PARTS = ("opening", "fixture", "roof")
_SPARE = ("weight", "grade", "entrance", "turn", "left", "right")


@dataclass(frozen=True)
class WholePart:
    """What can be read of a job file.

    Attributes:
        job: the part that is whole; None when no face is.
        faults: all of the job file's, in its order.
        faces: for every face of ``job`` its index in the job file.
        tables: the job file's tables; None when it is no TOML.
    """

    job: Job | None
    faults: tuple[Fault, ...]
    faces: tuple[int, ...]
    tables: dict[str, Any] | None


def whole_part(text: str, base: Path | None) -> WholePart:
    """Read as much of a job file as can be planned.

    Args:
        text: the whole file.
        base: the folder that a CSV file of openings is looked for in.
    """
    try:
        tables = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        return WholePart(None, _faults(text, base), (), None)
    try:
        # Lines are told of faults alone: what has none is not parsed twice.
        return sound_part(tables, base)
    except JobError:
        faults = _faults(text, base)
    kept, told = copy.deepcopy(tables), faults
    faces = list(range(len(_faces(kept))))
    for _ in range(_TRIES):
        _leave_out(kept, faces, told)
        if not faces:
            break
        try:
            job = job_of_tables(copy.deepcopy(kept), base)
        except JobError as error:
            told = error.faults
        else:
            return WholePart(job, faults, tuple(faces), tables)
    return WholePart(None, faults, (), tables)


def sound_part(tables: dict[str, Any], base: Path | None) -> WholePart:
    """A job without a fault, read from the plain tables of its file, which stay as they are.

    Raises:
        JobError: it has faults; where in the text they stand is not known here.
    """
    job = job_of_tables(copy.deepcopy(tables), base)
    return WholePart(job, (), tuple(range(len(job.elevations))), tables)


def in_hand(whole: WholePart, face: int) -> int | None:
    """Index in the part that is whole of a face of the job file; None when the face is not in it."""
    return whole.faces.index(face) if face in whole.faces else None


def _faults(text: str, base: Path | None) -> tuple[Fault, ...]:
    """Every fault in a job file, with its line."""
    try:
        parse_job(text, base)
    except JobError as error:
        return error.faults
    return ()


def _faces(tables: dict[str, Any]) -> list[Any]:
    faces = tables.get("elevation")
    return faces if isinstance(faces, list) else []


def _leave_out(tables: dict[str, Any], faces: list[int], faults: tuple[Fault, ...]) -> None:
    """Take away what has a fault: an opening, a fixture or a roof; a face; or a key of the job."""
    parts: set[tuple[int, str, int]] = set()
    whole: set[int] = set()
    for fault in faults:
        match fault.path:
            case ("elevation", int(face), str(kind), int(number), *_) if kind in _PARTS:
                parts.add((face, kind, number))
            case ("elevation", int(face), str(key), *_) if key in _SPARE:
                _faces(tables)[face].pop(key, None)
            case ("elevation", int(face), *_):
                whole.add(face)
            case ("as_built", *_):
                tables.pop("as_built", None)
            case (("trim" | "limits" | "framing" | "seams" | "order") as table, *_):
                tables.pop(table, None)
            case ("job", ("round" | "temperature" | "datum" | "author" | "name") as key, *_):
                _mend(tables, str(key))
            case _:
                pass
    for face, part, number in sorted(parts, reverse=True):
        if face not in whole and number < len(_faces(tables)[face].get(part, ())):
            del _faces(tables)[face][part][number]
    for face in sorted(whole, reverse=True):
        del _faces(tables)[face], faces[face]


def _mend(tables: dict[str, Any], key: str) -> None:
    own = tables.setdefault("job", {})
    if isinstance(own, dict):
        own.pop(key, None)
        if key == "name":
            own["name"] = gettext("Job without a name")
