"""What a drafter changed of a job, put into its file: comments stay, and all that was not changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from evencourse.cli.jobs.job_edits import Edit, EditError, edited
from evencourse.cli.jobs.job_edits import Path as Place
from evencourse.cli.jobs.text_changes import tables_of
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.errors import JobError
from evencourse.layout.model.job import Elevation, Job

#: Lists of tables in the table of a face.
_PARTS = ("opening", "fixture", "roof", "zone")


def brought_back(text: str, other: str, folder: Path | None) -> str:
    """A job file that says the same job as another one.

    Args:
        text: the job file that was drawn.
        other: the job file of the drawing that came back, as ``job_text`` writes it.
        folder: of the job file.

    Returns:
        The file with single values changed; the other file where these do not come to the same job.

    Raises:
        JobError: a fault in one of them.
    """
    before, after = parse_job(text, folder), parse_job(other)
    if before == after:
        return text
    try:
        outcome = edited(text, list(_edits(tables_of(text) or {}, tables_of(other) or {}, before, after)))
        return outcome if parse_job(outcome, folder) == after else other
    except (EditError, JobError):
        return other


def _edits(old: Mapping[str, Any], new: Mapping[str, Any], before: Job, after: Job) -> Iterator[Edit]:
    """Edits of the faces, those that are gone last, from the end."""
    faces = {face.name: face for face in before.elevations}
    tables = {face["name"]: face for face in new["elevation"]}
    places = {face["name"]: number for number, face in enumerate(old["elevation"])}
    for face in after.elevations:
        if face.name not in faces:
            yield Edit("add", ("elevation",), tables[face.name])
        elif face != faces[face.name]:
            place = ("elevation", places[face.name])
            yield from _values(place, old["elevation"][places[face.name]], tables[face.name])
            yield from _parts(
                place, old["elevation"][places[face.name]], tables[face.name], faces[face.name], face
            )
    for name in sorted(set(faces) - set(tables), key=lambda name: -places[name]):
        yield Edit("remove", ("elevation", places[name]))


def _parts(
    place: Place, old: Mapping[str, Any], new: Mapping[str, Any], before: Elevation, after: Elevation
) -> Iterator[Edit]:
    for kind, mine, yours in (
        ("opening", before.openings, after.openings),
        ("fixture", before.fixtures, after.fixtures),
        ("roof", before.roofs, after.roofs),
    ):
        was, now = ({one.mark: one for one in some} for some in (mine, yours))
        listed, fresh = old.get(kind, []), {one["mark"]: one for one in new.get(kind, [])}
        places = {one["mark"]: number for number, one in enumerate(listed)}
        for mark in now:
            if mark not in places:
                yield Edit("add", (*place, kind), fresh[mark])
            elif now[mark] != was.get(mark):
                yield from _values((*place, kind, places[mark]), listed[places[mark]], fresh[mark])
        for mark in sorted(set(places) - set(now), key=lambda mark: -places[mark]):
            yield Edit("remove", (*place, kind, places[mark]))


def _values(place: Place, old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Edit]:
    """Values of one table as another has them; lists of tables are left aside."""
    for key in dict.fromkeys((*old, *new)):
        mine, yours = old.get(key), new.get(key)
        if key in _PARTS or mine == yours:
            continue
        if isinstance(mine, dict) or isinstance(yours, dict):
            yield from _values((*place, key), mine or {}, yours or {})
        else:
            yield Edit("set", (*place, key), yours)
