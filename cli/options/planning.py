"""From what the user typed to the plan: the start of every command that needs one."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import replace

from evencourse.cli.options.job_reading import read
from evencourse.cli.options.starters import read_starters
from evencourse.cli.options.tape_errors import read_error
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import clean
from evencourse.layout.courses.certainty import certainty, robust_starters
from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.job import Job
from evencourse.layout.trade.plausible import odd_values
from evencourse.render.words.result import Result, result
from evencourse.render.words.walk_words import walk_words


def planned(source: str, starters: Sequence[str] | None = None, spare: float | None = None) -> Result:
    """Read a job and plan it.

    Args:
        source: path of the job file; ``-`` for standard input.
        starters: what ``--starter`` was given.
        spare: share added to every quantity of the order; None for the job's own.

    Raises:
        EvencourseError: the job or a starter cannot be read.
    """
    return planned_job(with_spare(read(source), spare), starters, source)


def planned_job(job: Job, starters: Sequence[str] | None = None, source: str = "JOB") -> Result:
    """Plan a job.

    Args:
        job: what was measured.
        starters: what ``--starter`` was given.
        source: path of the job file, told where a figure in it is to be checked.

    Raises:
        EvencourseError: a starter cannot be read.
    """
    question(job, source)
    with Progress(2) as progress:
        wanted = read_starters(starters or (), job)
        progress.step(gettext("course lines of {job}", job=job.name))
        return result(job, wanted)


def unlikely_figures(job: Job) -> int:
    """How many figures of a job ``check`` asks back."""
    return len([*odd_values(job), *walk_words(job)])


def question(job: Job, source: str) -> None:
    """Say on standard error how many figures of a job are unlikely, and which command lists them.

    Args:
        job: what was measured.
        source: path of the job file.
    """
    if count := unlikely_figures(job):
        words = ngettext(
            "{count} unlikely figure: {command}",
            "{count} unlikely figures: {command}",
            count,
            command=f"evencourse check {source}",
        )
        print(clean(words), file=sys.stderr)


def with_spare(job: Job, spare: float | None) -> Job:
    """The job with another spare share for its order; None leaves its own."""
    return job if spare is None else replace(job, order=replace(job.order, spare=spare))


def planned_surely(
    source: str, starters: Sequence[str] | None = None, error: str | None = None, robust: bool = False
) -> Result:
    """Read a job, plan it, and find out how sure the plan is.

    Args:
        source: path of the job file; ``-`` for standard input.
        starters: what ``--starter`` was given.
        error: what ``--error`` was given; None asks for no certainty.
        robust: choose the starters that hold up best against the error.

    Raises:
        EvencourseError: the job, a starter or the error cannot be read.
    """
    with Progress(3) as progress:
        job = read(source)
        question(job, source)
        wanted = read_starters(starters or (), job)
        off = read_error(error, robust, starters or (), job)
        if off is not None and robust:
            progress.step(gettext("starters of {job} that hold up", job=job.name))
            wanted = robust_starters(job, off)
        progress.step(gettext("course lines of {job}", job=job.name))
        found = result(job, wanted)
        if off is None:
            return found
        progress.step(gettext("how sure they are"))
        best = result(job).plan if robust else None
        return replace(found, certainty=certainty(found.plan, off, best))
