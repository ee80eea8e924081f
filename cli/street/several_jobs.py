"""Commands over several jobs at once: their words, their work, and how they end."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from evencourse.cli.files.file_names import safe_stem
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import clean, show
from evencourse.cli.street.street_summary import Summary, summary_lines
from evencourse.cli.street.workers import in_workers
from evencourse.layout.model.errors import Fault

if TYPE_CHECKING:
    from evencourse.cli.street.workers import Done

Item = TypeVar("Item")
Value = TypeVar("Value")

#: More processes than this are a slip of the finger.
_MOST = 512


def cores() -> int:
    """How many processes can run at once here."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def read_workers(text: str | None, faults: list[Fault]) -> int:
    """How many jobs are worked at at once: as many as there are cores when nothing is said."""
    if text is None:
        return cores()
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    if not 1 <= number <= _MOST:
        faults.append(Fault("--jobs", f'"{text}"', f"a number of jobs at once, from 1 to {_MOST}"))
    return number


def check_street(jobs: Sequence[str], starter: Sequence[str] | None, faults: list[Fault]) -> None:
    """What several jobs cannot have: standard input among them, one of them twice, a starter for all.

    Args:
        jobs: the job files as the user named them; one alone has no fault.
        starter: what ``--starter`` was given.
        faults: what is wrong is added to them.
    """
    if len(jobs) == 1:
        return
    if starter:
        found = f"{len(jobs)} jobs"
        faults.append(Fault("--starter", found, "one job: its heights are from that building's datum"))
    seen: dict[str, str] = {}
    for job in jobs:
        if job == "-":
            faults.append(Fault("JOBS", "- among several jobs", "files, or - alone"))
            continue
        try:
            place = os.path.normcase(os.path.realpath(job))
        except ValueError:  # a path with a NUL in it; told when it is read
            place = job
        if place in seen:
            faults.append(Fault(f'job "{job}"', f'the same file as "{seen[place]}"', "each job once"))
        else:
            seen[place] = job


def output_names(jobs: Sequence[str], faults: list[Fault]) -> tuple[str, ...]:
    """What each job's output is called below the user's folder: its file's name without the suffix.

    The name is known before a job is read, and two houses of one street may well bear one name inside.

    Args:
        jobs: the job files as the user named them.
        faults: names that two jobs would share are added to them.
    """
    names = [safe_stem(Path(job).stem) for job in jobs]
    taken: dict[str, str] = {}
    for job, name in zip(jobs, names, strict=True):
        other = taken.setdefault(name.casefold(), job)
        if other != job:
            found = f'"{name}" as the name of what is written, as for "{other}"'
            faults.append(Fault(f'job "{job}"', found, "files with different names"))
    return tuple(names)


def over_jobs(
    work: Callable[[Item], Value], jobs: Sequence[str], items: Sequence[Item], workers: int
) -> list[Done[Value]]:
    """Do the work on every job, with a bar on the terminal; then tell the faults of the broken ones.

    Args:
        work: see ``evencourse.cli.street.workers.in_workers``.
        jobs: the job files as the user named them.
        items: what to work at, one a job.
        workers: how many at once.
    """
    broken = 0

    def done(index: int, one: Done[Value]) -> None:
        nonlocal broken
        broken += one.broken
        progress.step(jobs[index] + (f" ({broken} broken)" if broken else ""))

    with Progress(len(jobs), bar=True) as progress:
        found = in_workers(work, items, workers, done)
    sys.stdout.flush()
    for job, one in zip(jobs, found, strict=True):
        for line in one.faults:
            print(clean(f"{job}: {line}"), file=sys.stderr)
    if broken:
        count = "1 job is" if broken == 1 else f"{broken} jobs are"
        print(f"{count} broken; nothing of {'it' if broken == 1 else 'them'} written", file=sys.stderr)
        sys.stderr.flush()
    return found


def exit_code(broken: bool, all_clean: bool) -> int:
    """2 when a job is broken, else 1 when one is not clean, else 0."""
    return 2 if broken else 0 if all_clean else 1


def summed_up(jobs: Sequence[str], found: Sequence[Done[Summary]], output: str) -> int:
    """Show the table of all jobs and what was written; the exit code."""
    whole = [one.value for one in found if one.value is not None]
    show(lambda on: summary_lines(jobs, found, on))
    files = sum(one.files for one in whole)
    if files:
        print(clean(f"{files} file{'' if files == 1 else 's'} in {output}"))
    return exit_code(len(whole) < len(found), all(one.clean for one in whole))
