"""The job file: TOML in, a job out, or every fault in it at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from os import PathLike
from pathlib import Path
from typing import Any

from evencourse.layout.jobfile.as_built_keys import read_built
from evencourse.layout.jobfile.cladding_tables import read_claddings
from evencourse.layout.jobfile.face_tables import read_faces
from evencourse.layout.jobfile.geometry_checks import limit_faults
from evencourse.layout.jobfile.job_values import describe
from evencourse.layout.jobfile.json_schema import job_schema
from evencourse.layout.jobfile.key_lines import line_of, lines
from evencourse.layout.jobfile.openings_sheet import Beside, add_openings
from evencourse.layout.jobfile.order_keys import read_names, read_order
from evencourse.layout.jobfile.syntax import parse
from evencourse.layout.jobfile.table_reader import Reader
from evencourse.layout.language.speech import LANGUAGES, gettext, noop
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import CornerTrim, Framing, Job, Limits, Seams, Trim, Units
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.trade.rules import rules

#: Largest job file that is read [characters].
LARGEST = 16_000_000
#: Marks of a tape, in words too: halves down to sixty-fourths or decimals; whole and part millimetres.
MARKS = {
    "in": (
        (1, 1 / 2, 1 / 4, 1 / 8, 1 / 16, 1 / 32, 1 / 64, 0.1, 0.05, 0.02, 0.01),
        noop("1, 1/2 to 1/64, or 0.1 to 0.01"),
    ),
    "mm": ((0.1, 0.2, 0.5, 1, 2, 5, 10), noop("0.1, 0.2, 0.5, 1, 2, 5 or 10")),
}


def read_job(path: str | PathLike[str]) -> Job:
    """The job in a file; a CSV file of openings is looked for beside it.

    Raises:
        JobError: every fault in it, in the order of the file.
        OSError, UnicodeDecodeError: the file cannot be read.
    """
    file = Path(path)
    return parse_job(file.read_text(encoding="utf-8-sig"), file.parent)


def parse_job(text: str, base: Beside = None) -> Job:
    """The job in a text.

    Args:
        text: TOML, as ``evencourse guide job`` describes it.
        base: folder in which a CSV file of openings is looked for, or such files by their names; None where
            there is none.

    Returns:
        The job, lengths in its units.

    Raises:
        JobError: every fault in it, in the order of the file, each with its place and line.
    """
    if len(text) > LARGEST:
        found = gettext("{count} characters", count=len(text))
        raise JobError([Fault(gettext("the file"), found, gettext("at most {count}", count=LARGEST))])
    parsed = parse(text)
    if parsed.tables is None:
        raise JobError(sorted(parsed.faults, key=lambda fault: fault.line or 0))
    reader = Reader(parsed.tables, gap=parsed.gap)
    if _names_csv(parsed.tables):
        add_openings(reader, parsed.tables, base)
    job = _job(reader, parsed.tables)
    if reader.faults or reader.file_faults or parsed.faults or job is None:
        raise JobError(_in_order(reader, parsed.text, parsed.faults))
    return job


def job_of_tables(tables: dict[str, Any], base: Path | None = None) -> Job:
    """The job in tables that were read already, as :func:`parse_job`.

    Raises:
        JobError: every fault in them, each with its place and path, none with a line.
    """
    reader = Reader(tables)
    if _names_csv(tables):
        add_openings(reader, tables, base)
    job = _job(reader, tables)
    if reader.faults or reader.file_faults or job is None:
        raise JobError(_in_order(reader, "", []))
    return job


def schema() -> dict[str, Any]:
    """The job file as a JSON Schema (draft 2020-12), for editors that check TOML while it is typed.

    It holds what one key alone can say: what it is, what it may be, whether it must be there. What keys say
    together (an opening inside its wall, limits that leave an exposure) only reading the job tells.
    """
    return job_schema()


def mark_fault(mark: float, written: object, units: Units) -> Fault | None:
    """What is wrong with the finest mark of a tape; None for a mark that tapes have.

    Args:
        mark: [``units``].
        written: as it stands.
        units: the job's.
    """
    marks, known = MARKS[units]
    if any(abs(mark - one) <= ROUNDING for one in marks):
        return None
    return Fault("round", describe(written), gettext("a mark of the tape: {marks}", marks=gettext(known)))


#: Studs stand no closer than they are thick at the very least [in]: common practice, no source.
LEAST_STUDS = 0.5


def _names_csv(raw: Mapping[str, Any]) -> bool:
    """Whether the job keeps openings in a file of their own."""
    faces = raw.get("elevation")
    return "openings" in raw or any(
        isinstance(face, dict) and "openings" in face for face in (faces if isinstance(faces, list) else ())
    )


def _in_order(reader: Reader, text: str, syntax: list[Fault]) -> list[Fault]:
    """Faults in the order of the job file; those of a CSV file at the key that names it, in its own order."""
    where = lines(text)
    placed = [((fault.line or 0, 0), fault) for fault in syntax]
    for path, found, wanted in reader.faults:
        place, missing = reader.place(path), path in reader.missing
        if (row := reader.row_of(path)) is None:
            line = line_of(path, where)
            placed.append(((line or 0, 0), Fault(place, found, wanted, line, path, missing)))
        else:
            fault = Fault(f"{row.file}, {place}", found, wanted, row.line, path, missing)
            placed.append(((line_of(row.owner, where) or 0, row.line), fault))
    for owner, fault in reader.file_faults:
        placed.append(((line_of(owner, where) or 0, fault.line or 0), fault))
    return list(dict.fromkeys(fault for _, fault in sorted(placed, key=lambda item: item[0])))


def _job(reader: Reader, raw: Mapping[str, Any]) -> Job | None:
    units = raw["job"].get("units") if isinstance(raw.get("job"), dict) else None
    reader.units = "mm" if units == "mm" else "in"
    top = reader.table(raw, "", ())
    own = reader.table(top.get("job", {}), "job", ("job",)) if "job" in top else {}
    mark = own.get("round", rules().round[reader.units])
    if "round" in own and "units" not in reader.faulty(("job",)):
        written = raw["job"]["round"]
        if reader.units == "mm" and isinstance(written, str) and "/" in written:
            # A fraction is a mark of an inch tape: it says nothing of the millimetres of this job.
            mark = rules().round["mm"]
        elif (wrong := mark_fault(mark, written, reader.units)) is not None:
            reader.fault(("job", "round"), wrong.found, wrong.wanted)
    claddings = read_claddings(reader, top)
    trims = reader.table(top.get("trim", {}), "trim", ("trim",))
    corner_trim = CornerTrim(trims.pop("outside_corner"), trims.pop("inside_corner"))
    limits = Limits(**{"starter": None} | reader.table(top.get("limits", {}), "limits", ("limits",)))
    framing = Framing(**reader.table(top.get("framing", {}), "framing", ("framing",)))
    seams = Seams(**reader.table(top.get("seams", {}), "seams", ("seams",)))
    faces = read_faces(reader, top, claddings, Trim(**trims))
    order = read_order(reader, top, [face.name for face in faces])
    limit_faults(reader, limits, claddings, faces)
    crew = read_names(reader, own.get("crew_languages", []), ("job", "crew_languages"), LANGUAGES, "language")
    job = Job(
        name=own.get("name", ""),
        units=reader.units,
        round=mark,
        datum=own.get("datum", ""),
        author=own.get("author", ""),
        temperature=own.get("temperature"),
        claddings=claddings,
        limits=limits,
        framing=framing,
        seams=seams,
        order=order,
        elevations=faces,
        corner_trim=corner_trim,
        model_datum=own.get("model_datum"),
        language=own.get("language", ""),
        crew_languages=crew,
    )
    if framing.spacing < LEAST_STUDS * job.inch and "spacing" not in reader.faulty(("framing",)):
        least = reader.show(LEAST_STUDS * job.inch)
        wanted = gettext("studs {spacing} apart at least, center to center", spacing=least)
        reader.fault(("framing", "spacing"), reader.show(framing.spacing), wanted)
    for face in faces:
        left, right = job.ends(face)
        if left >= right:
            found = gettext('corner trim as wide as all of "{face}"', face=face.name)
            wide = corner_trim.outside_corner >= corner_trim.inside_corner
            key = "outside_corner" if wide else "inside_corner"
            reader.fault(("trim", key), found, gettext("some wall between"))
    as_built = read_built(reader, top, job)
    return replace(job, as_built=as_built) if faces and "job" in top else None
