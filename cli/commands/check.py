"""``check``: read a job, find its faults, and say what was understood."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.cli.options.job_reading import read
from evencourse.cli.options.shared_options import JobArgument
from evencourse.cli.reports.face_table import face_cells, face_columns
from evencourse.cli.reports.table import Column, Screen, clean, show, styled, table, wrapped
from evencourse.layout.courses.course_sets import groups
from evencourse.layout.courses.crept import crept_courses
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.trade.plausible import odd_values
from evencourse.render.words.as_built_words import crept_words
from evencourse.render.words.plan_words import show as tape
from evencourse.render.words.starter_range import range_words
from evencourse.render.words.walk_words import walk_words

#: Most odd measures that are listed: more have one cause.
_MOST_ODD = 20


def check(job: JobArgument) -> int:
    """Find every fault in a job, or say what it holds."""
    found = read(job)
    show(lambda on: _lines(found, on))
    return 0


def _lines(job: Job, on: Screen) -> Iterator[str]:
    faces = "1 face" if len(job.elevations) == 1 else f"{len(job.elevations)} faces"
    units = (
        f"inches, read to {tape(job, job.round)}" if job.units == "in" else f"mm, read to {job.round:g} mm"
    )
    yield styled(clean(f"{job.name or 'Job without a name'}: {faces}, no faults"), "strong", on)
    yield from wrapped(clean(f"lengths in {units}; heights from the datum: {job.datum}"), on.width)
    yield ""
    columns = face_columns(job.elevations, [Column("Cladding", wraps=True), Column("Courses")])
    yield from table(columns, [_face(job, elevation) for elevation in job.elevations], on)
    yield ""
    claddings = [
        [
            name,
            cladding.label,
            f"{_exposure(job, name)}",
            tape(job, cladding.length) if cladding.length else "random",
        ]
        for name, cladding in job.claddings.items()
    ]
    yield from table(
        [Column("Cladding"), Column("Profile", wraps=True), Column("Exposure"), Column("Length", right=True)],
        claddings,
        on,
    )
    yield ""
    yield from _starters(job, on)
    if job.as_built:
        yield ""
        yield from _built(job, on)
    odd = [f"{one.place}, {one.name}: found {tape(job, one.length)}; {one.usual}" for one in odd_values(job)]
    odd += walk_words(job)
    if odd:
        yield ""
        yield styled("No faults, but check these figures:", "strong", on)
    for one in odd[:_MOST_ODD]:
        yield from wrapped(clean(one), on.width)
    if len(odd) > _MOST_ODD:
        yield f"and {len(odd) - _MOST_ODD} more"


def _starters(job: Job, on: Screen) -> Iterator[str]:
    """Where the starter of every course set may lie, and what sets it."""
    rows = []
    for name, group in groups(job).items():
        found = range_words(job, group)
        low, high = tape(job, found.low), tape(job, found.high)
        rows.append([name, low if low != high else "fixed", high, found.why])
    columns = [Column("Starter limits"), Column("From", right=True), Column("To", right=True)]
    yield from table([*columns, Column("Why", wraps=True)], rows, on)


def _built(job: Job, on: Screen) -> Iterator[str]:
    """What hangs already, which of it hangs beyond its exposures, and which openings were found elsewhere."""
    columns = [Column("Installed"), Column("Courses"), Column("Course", right=True)]
    columns += [Column("Left", right=True), Column("Right", right=True)]
    rows = [
        [line.face, line.courses, str(line.course), tape(job, line.left), tape(job, line.right)]
        for line in job.as_built.courses
    ]
    yield from table(columns, rows, on)
    for one in crept_courses(job):
        yield from wrapped(clean(f"No fault, but {one.face}: {crept_words(one, job)}"), on.width)
    again = ", ".join(f"{found.face} {found.opening.mark}" for found in job.as_built.openings)
    if again:
        yield from wrapped(clean(f"Measured again: {again}"), on.width)


def _face(job: Job, face: Elevation) -> list[str]:
    clad = ", then ".join(zone.cladding for zone in face.zones)
    return face_cells(face, job.elevations, lambda length: tape(job, length), [clad, face.courses])


def _exposure(job: Job, name: str) -> str:
    cladding = job.claddings[name]
    if cladding.fixed:
        return tape(job, cladding.exposure)
    return f"{tape(job, cladding.exposure_min)} to {tape(job, cladding.exposure_max)}"
