"""Commands over several jobs at once: their words, their work, and how they end."""

from __future__ import annotations

import os
import sys
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from evencourse.cli.files.file_names import safe_stem
from evencourse.cli.options.job_reading import ReadingError
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import clean, show
from evencourse.cli.street.engines import ClusterError, Engine
from evencourse.cli.street.parcel import Parcel, parcel
from evencourse.cli.street.street_summary import summary_lines
from evencourse.cli.street.workers import Done, Failing, told
from evencourse.layout.language.speech import ENGLISH, gettext, ngettext, speaking, spoken
from evencourse.layout.model.errors import EvencourseError, Fault

if TYPE_CHECKING:
    from evencourse.cli.street.whole_street import Street

Kept = TypeVar("Kept")
Value = TypeVar("Value")


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
        found = ngettext("{count} job", "{count} jobs", len(jobs))
        wanted = gettext("one job: its heights are from that building's datum")
        faults.append(Fault("--starter", found, wanted))
    seen: dict[str, str] = {}
    for job in jobs:
        if job == "-":
            faults.append(Fault("JOBS", gettext("- among several jobs"), gettext("files, or - alone")))
            continue
        try:
            place = os.path.normcase(os.path.realpath(job))
        except ValueError:  # a path with a NUL in it; told when it is read
            place = job
        if place in seen:
            found = gettext('the same file as "{file}"', file=seen[place])
            faults.append(Fault(gettext('job "{file}"', file=job), found, gettext("each job once")))
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
            found = gettext('"{name}" as the name of what is written, as for "{file}"', name=name, file=other)
            wanted = gettext("files with different names")
            faults.append(Fault(gettext('job "{file}"', file=job), found, wanted))
    return tuple(names)


def over_jobs(
    work: Callable[[Parcel], Value],
    jobs: Sequence[str],
    engine: Engine,
    settle: Callable[[int, Value], Kept],
    stands: Callable[[int, Parcel], Kept | None] | None = None,
) -> list[Done[Kept]]:
    """Do the work on every job, with a bar on the terminal; then tell the faults of those that failed.

    Args:
        work: see ``evencourse.cli.street.workers.in_workers``.
        jobs: the job files as the user named them.
        engine: who does it.
        settle: given the index of a job and what the work gave, here in this process: writes what is to be
            written, and returns what is to be kept.
        stands: what is kept of a job whose work is done already, None for any other; left out where what is
            done does not stay done.

    Raises:
        ClusterError: as the engine does; when jobs were done by then it says how many, and how to go on.
        KeyboardInterrupt: with the same said.
    """
    found: dict[int, Done[Kept]] = {}
    sent: list[tuple[int, Parcel]] = []

    def note(index: int, one: Done[Kept]) -> None:
        found[index] = one
        failed = sum(each.broken for each in found.values())
        label = jobs[index]
        if failed:
            label = ngettext("{job} ({count} failed)", "{job} ({count} failed)", failed, job=label)
        progress.step(label)

    def settled(index: int, value: Value) -> Done[Kept]:
        try:
            return Done(settle(index, value))
        except EvencourseError as error:
            return Done(None, told(error), "unwritten")

    def done(number: int, one: Done[Value]) -> None:
        index = sent[number][0]
        kept = Done[Kept](None, one.faults, one.failing) if one.value is None else settled(index, one.value)
        note(index, kept)

    def so_far() -> str:
        whole = sum(not each.broken for each in found.values())
        failed = len(found) - whole
        counts = {"done": whole, "jobs": len(jobs), "left": len(jobs) - len(found)}
        words = gettext("{done} of {jobs} jobs done, {left} not", **counts)
        if failed:
            words = gettext(
                "{done} of {jobs} jobs done, {failed} failed, {left} not", failed=failed, **counts
            )
        if stands is None:
            return gettext("{jobs_done}; run the same command again", jobs_done=words)
        return gettext(
            "{jobs_done}; run the same command again with --changed to do the others", jobs_done=words
        )

    def tell_so_far() -> None:
        known = sorted(found)
        _tell_failed([jobs[index] for index in known], [found[index] for index in known], stands is not None)

    try:
        with Progress(len(jobs), bar=True) as progress:
            for index, job in enumerate(jobs):
                try:
                    one = parcel(job)
                except EvencourseError as error:
                    note(
                        index,
                        Done(None, told(error), "unread" if isinstance(error, ReadingError) else "broken"),
                    )
                    continue
                if stands is not None and (kept := stands(index, one)) is not None:
                    note(index, Done(kept))
                else:
                    sent.append((index, one))
            engine.run(work, [one for _, one in sent], done, progress.say)
    except KeyboardInterrupt as stopped:
        tell_so_far()
        raise KeyboardInterrupt(gettext("interrupted: {jobs_done}", jobs_done=so_far())) from stopped
    except ClusterError as error:
        if error.begun:
            tell_so_far()
            words = gettext("{reason}: {jobs_done}", reason=error, jobs_done=so_far())
            raise ClusterError(words, begun=True) from error
        raise
    results = [found[index] for index in range(len(jobs))]
    _tell_failed(jobs, results, stands is not None)
    return results


def _tell_failed(jobs: Sequence[str], results: Sequence[Done[Kept]], changed: bool) -> None:
    """Every fault with its file, then how many failed, and what to do where it is no fault of the job."""
    sys.stdout.flush()
    for job, each in zip(jobs, results, strict=True):
        for line in each.faults:
            print(clean(f"{job}: {line}"), file=sys.stderr)
    counts = Counter(one.failing for one in results if one.broken)
    if counts:
        failed = ", ".join(_failed_words(counts))
        if counts.total() == 1:
            print(gettext("{failed}; nothing of it written", failed=failed), file=sys.stderr)
        else:
            print(gettext("{failed}; nothing of them written", failed=failed), file=sys.stderr)
        if counts["ended"]:
            words = gettext("run the same command again to try what was ended from outside once more")
            if changed:
                words = gettext(
                    "run the same command again with --changed to try what was ended from outside once more"
                )
            print(words, file=sys.stderr)
        sys.stderr.flush()


def _failed_words(counts: Counter[Failing]) -> Iterator[str]:
    """How many jobs failed, by how."""
    if count := counts["broken"]:
        yield ngettext("{count} job is broken", "{count} jobs are broken", count)
    if count := counts["unread"]:
        yield ngettext("{count} job file cannot be read", "{count} job files cannot be read", count)
    if count := counts["ended"]:
        yield ngettext("{count} job's process was ended", "{count} jobs' processes were ended", count)
    if count := counts["unwritten"]:
        yield ngettext("{count} job could not be written", "{count} jobs could not be written", count)


def in_english(jobs: Sequence[str], found: Sequence[Done[Value]]) -> Sequence[Done[Value]]:
    """What became of the jobs, for a file: the faults of those that failed in English, whatever is spoken.

    Args:
        jobs: the job files as the user named them.
        found: what became of them.
    """
    if spoken() is ENGLISH:
        return found
    with speaking(ENGLISH.code):
        return [
            one if one.value is not None else replace(one, faults=_faults(job) or one.faults)
            for job, one in zip(jobs, found, strict=True)
        ]


def _faults(job: str) -> tuple[str, ...]:
    """What is wrong with a job file."""
    try:
        parcel(job).job()
    except EvencourseError as error:
        return told(error)
    return ()


def exit_code(broken: bool, all_clean: bool) -> int:
    """2 when a job is broken, else 1 when one is not clean, else 0."""
    return 2 if broken else 0 if all_clean else 1


def removed_lines(removed: Sequence[Path]) -> Iterator[str]:
    """What of an earlier run was taken away."""
    return (clean(gettext("{file}: of an earlier run, taken away", file=path)) for path in removed)


def summed_up(jobs: Sequence[str], street: Street, output: str) -> int:
    """Show the table of all jobs and what was written; the exit code."""
    found = street.jobs
    whole = [one.value for one in found if one.value is not None]
    show(lambda on: summary_lines(jobs, found, on))
    files = sum(one.files for one in whole if not one.unchanged)
    same = sum(one.unchanged for one in whole)
    if files:
        print(clean(ngettext("{count} file in {folder}", "{count} files in {folder}", files, folder=output)))
    for line in removed_lines(street.removed):
        print(line)
    for path in street.stale:
        print(clean(gettext("{file}: of an earlier run, not of this job as it is now", file=path)))
    if same:
        words = ngettext(
            "{count} job is unchanged, with the files that were there",
            "{count} jobs are unchanged, with the files that were there",
            same,
        )
        print(words)
    return exit_code(len(whole) < len(found), all(one.clean for one in whole))
