"""Faces that another job file has, added to a job: at the end of its file, under names that are free."""

from __future__ import annotations

import copy
import re
from dataclasses import replace
from itertools import count
from pathlib import Path

from evencourse.cli.jobs.job_edits import Edit, edited
from evencourse.cli.jobs.text_changes import tables_of
from evencourse.layout.jobfile.job_draft import check_end
from evencourse.layout.jobfile.job_file import job_of_tables
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.as_built import AsBuilt
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Job

#: How the table of a face begins.
_FACE = "[[elevation]]\n"
_NUMBERED = re.compile(r"(.*?) ?(\d+)")


def without_faces(text: str, folder: Path | None) -> Job:
    """What a job file says besides its faces, which need not be whole: units, siding, trim, limits.

    Args:
        text: the whole file.
        folder: the file's.

    Raises:
        JobError: every fault in it.
    """
    tables = copy.deepcopy(dict(tables_of(text) or {}))
    if not tables:
        wanted = gettext("a job file, mended in a text editor")
        raise JobError([Fault(gettext("the job file"), gettext("no TOML"), wanted)])
    for name in ("openings", "as_built"):
        tables.pop(name, None)
    if isinstance(order := tables.get("order"), dict):
        order.pop("faces", None)
    face = {"name": "Face", "width": "10'", "base": 0, "eave": "8'"}
    if isinstance(several := tables.get("claddings"), dict) and several:
        face["cladding"] = next(iter(several))
    tables["elevation"] = [face]
    return replace(job_of_tables(tables, folder), elevations=(), as_built=AsBuilt())


def with_faces(text: str, other: str) -> tuple[str, tuple[str, ...]]:
    """A job file with the faces of another at its end.

    Args:
        text: the whole file.
        other: a job file as ``job_text`` writes it, in the same units.

    Returns:
        The file, and the names that the faces have in it.

    Raises:
        JobError: nothing can be added at its end.
        EditError: a name cannot be written into it.
    """
    tables, added = tables_of(text) or {}, tables_of(other) or {}
    whole = f"{text.rstrip()}\n\n{other[other.index(_FACE) :]}"
    check_end(whole, gettext("the job file"))
    taken = [str(face.get("name")) for face in tables.get("elevation", ()) if isinstance(face, dict)]
    begun = len(taken)
    edits = []
    for number, face in enumerate(added["elevation"], begun):
        name = _free(face["name"], taken)
        if name != face["name"]:
            edits.append(Edit("set", ("elevation", number, "name"), name))
        taken.append(name)
    return (edited(whole, edits) if edits else whole), tuple(taken[begun:])


def _free(name: str, taken: list[str]) -> str:
    if name not in taken:
        return name
    numbered = _NUMBERED.fullmatch(name)
    stem, first = (numbered[1], int(numbered[2])) if numbered else (name, 1)
    return next(one for number in count(first + 1) if (one := f"{stem} {number}") not in taken)
