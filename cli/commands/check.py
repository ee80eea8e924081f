"""``check``: read a job, find its faults, and say what was understood."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from functools import partial, reduce

from evencourse.cli.options.job_reading import read
from evencourse.cli.options.shared_options import JobsArgument
from evencourse.cli.reports.face_table import face_cells, face_columns
from evencourse.cli.reports.table import Column, Screen, clean, show, styled, table, wrapped
from evencourse.cli.street.several_jobs import check_street, exit_code
from evencourse.cli.street.workers import told
from evencourse.layout.courses.course_sets import groups
from evencourse.layout.courses.crept import crept_courses
from evencourse.layout.language.speech import decimals, gettext, ngettext, pgettext
from evencourse.layout.model.errors import EvencourseError, Fault, JobError
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.trade.plausible import odd_values
from evencourse.render.words.as_built_words import crept_words
from evencourse.render.words.plan_words import cladding_words
from evencourse.render.words.plan_words import show as tape
from evencourse.render.words.starter_range import range_words
from evencourse.render.words.walk_words import walk_words

#: Most odd measures that are listed: more have one cause.
_MOST_ODD = 20


def check(jobs: JobsArgument) -> int:
    """Find every fault in a job, or say what it holds."""
    faults: list[Fault] = []
    check_street(jobs, None, faults)
    if faults:
        raise JobError(faults)
    if len(jobs) == 1:
        found = read(jobs[0])
        show(lambda on: _lines(found, on))
        return 0
    broken = 0
    for number, job in enumerate(jobs):
        show(partial(_named, job, bool(number)))
        try:
            show(partial(_lines, read(job)))
        except EvencourseError as error:
            broken += 1
            sys.stdout.flush()
            for line in told(error):
                print(clean(f"{job}: {line}"), file=sys.stderr, flush=True)
    return exit_code(broken > 0, True)


def _named(job: str, space: bool, on: Screen) -> Iterator[str]:
    """The name of a job file over what is said of it."""
    if space:
        yield ""
    yield styled(clean(job), "strong", on)


def _lines(job: Job, on: Screen) -> Iterator[str]:
    title = ngettext(
        "{job}: {count} face, no faults",
        "{job}: {count} faces, no faults",
        len(job.elevations),
        job=job.name or gettext("Job without a name"),
    )
    yield styled(clean(title), "strong", on)
    yield from wrapped(clean(_units(job)), on.width)
    yield ""
    cladding = Column(pgettext("column of faces", "Cladding"), wraps=True)
    columns = face_columns(job.elevations, [cladding, Column(pgettext("column of faces", "Courses"))])
    yield from table(columns, [_face(job, elevation) for elevation in job.elevations], on)
    yield ""
    claddings = [
        [
            name,
            cladding_words(cladding),
            f"{_exposure(job, name)}",
            tape(job, cladding.length) if cladding.length else pgettext("stock length", "random"),
        ]
        for name, cladding in job.claddings.items()
    ]
    columns = [
        Column(pgettext("column of claddings", "Cladding")),
        Column(pgettext("column of claddings", "Profile"), wraps=True),
        Column(pgettext("column of claddings", "Exposure")),
        Column(pgettext("column of claddings", "Length"), right=True),
    ]
    yield from table(columns, claddings, on)
    yield ""
    yield from _starters(job, on)
    if job.as_built:
        yield ""
        yield from _built(job, on)
    odd = [
        gettext(
            "{place}, {key}: found {length}; {usual}",
            place=one.place,
            key=one.name,
            length=tape(job, one.length),
            usual=one.usual,
        )
        for one in odd_values(job)
    ]
    odd += walk_words(job)
    if odd:
        yield ""
        yield styled(gettext("No faults, but check these figures:"), "strong", on)
    for one in odd[:_MOST_ODD]:
        yield from wrapped(clean(one), on.width)
    if len(odd) > _MOST_ODD:
        more = len(odd) - _MOST_ODD
        yield ngettext("and {count} more", "and {count} more", more)


def _units(job: Job) -> str:
    """In what lengths are told, and from where heights are."""
    if job.units == "in":
        return gettext(
            "lengths in inches, read to {mark}; heights from the datum: {datum}",
            mark=tape(job, job.round),
            datum=job.datum_words,
        )
    return gettext(
        "lengths in mm, read to {mark} mm; heights from the datum: {datum}",
        mark=decimals(f"{job.round:g}"),
        datum=job.datum_words,
    )


def _starters(job: Job, on: Screen) -> Iterator[str]:
    """Where the starter of every course set may lie, and what sets it."""
    rows = []
    for name, group in groups(job).items():
        found = range_words(job, group)
        low, high = tape(job, found.low), tape(job, found.high)
        rows.append([name, low if low != high else pgettext("starter line", "fixed"), high, found.why])
    columns = [
        Column(gettext("Starter limits")),
        Column(pgettext("column of starter limits", "From"), right=True),
        Column(pgettext("column of starter limits", "To"), right=True),
        Column(pgettext("column of starter limits", "Why"), wraps=True),
    ]
    yield from table(columns, rows, on)


def _built(job: Job, on: Screen) -> Iterator[str]:
    """What hangs already, which of it hangs beyond its exposures, and which openings were found elsewhere."""
    columns = [
        Column(pgettext("column of installed courses: face", "Installed")),
        Column(pgettext("column of installed courses: course set", "Courses")),
        Column(pgettext("column of installed courses: number", "Course"), right=True),
        Column(pgettext("column of installed courses: height at the left", "Left"), right=True),
        Column(pgettext("column of installed courses: height at the right", "Right"), right=True),
    ]
    rows = [
        [line.face, line.courses, str(line.course), tape(job, line.left), tape(job, line.right)]
        for line in job.as_built.courses
    ]
    yield from table(columns, rows, on)
    for one in crept_courses(job):
        words = gettext("No fault, but {face}: {courses}", face=one.face, courses=crept_words(one, job))
        yield from wrapped(clean(words), on.width)
    again = ", ".join(f"{found.face} {found.opening.mark}" for found in job.as_built.openings)
    if again:
        yield from wrapped(clean(gettext("Measured again: {openings}", openings=again)), on.width)


def _face(job: Job, face: Elevation) -> list[str]:
    names = [zone.cladding for zone in face.zones]
    clad = reduce(lambda low, high: gettext("{lower}, then {upper}", lower=low, upper=high), names)
    return face_cells(face, job.elevations, lambda length: tape(job, length), [clad, face.courses])


def _exposure(job: Job, name: str) -> str:
    cladding = job.claddings[name]
    if cladding.fixed:
        return tape(job, cladding.exposure)
    return gettext(
        "{least} to {most}", least=tape(job, cladding.exposure_min), most=tape(job, cladding.exposure_max)
    )
