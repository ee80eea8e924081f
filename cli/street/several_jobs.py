"""Commands over several jobs at once: their words, their work, and how they end."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable, Sequence
from importlib.util import find_spec
from pathlib import Path
from typing import TypeVar

from evencourse.cli.files.file_names import safe_stem
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import clean, show
from evencourse.cli.street.engines import Cluster, Engine, ThisMachine
from evencourse.cli.street.parcel import Parcel, parcel
from evencourse.cli.street.street_summary import Summary, summary_lines
from evencourse.cli.street.workers import Done, told
from evencourse.layout.model.errors import EvencourseError, Fault

Kept = TypeVar("Kept")
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


def read_engine(
    workers: str | None,
    cluster: str | None,
    tls: tuple[str | None, str | None, str | None],
    jobs: Sequence[str],
    faults: list[Fault],
) -> Engine:
    """Who does the work: the processes of this machine, or a cluster.

    Args:
        workers: what ``--jobs`` was given.
        cluster: what ``--cluster`` was given.
        tls: what ``--tls-ca``, ``--tls-cert`` and ``--tls-key`` were given.
        jobs: the job files as the user named them.
        faults: what is wrong is added to them.
    """
    number = read_workers(workers, faults)
    options = ("--tls-ca", "--tls-cert", "--tls-key")
    given = [(option, file) for option, file in zip(options, tls, strict=True) if file is not None]
    if cluster is None:
        faults += [Fault(option, f'"{file}" without --cluster', "--cluster, too") for option, file in given]
        return ThisMachine(number)
    if workers is not None:
        faults.append(Fault("--jobs", f'"{workers}" with --cluster', "one of them: the cluster has its own"))
    if len(jobs) == 1:
        faults.append(Fault("--cluster", "1 job", "several jobs"))
    if find_spec("distributed") is None:
        faults.append(Fault("--cluster", "no Dask installed here", "pip install 'evencourse[cluster]'"))
    address = cluster if "://" in cluster else f"tcp://{cluster}"
    if not re.fullmatch(r"(tcp|tls)://[^\s/]+:\d{1,5}/?", address):
        faults.append(Fault("--cluster", f'"{cluster}"', "HOST:PORT of a scheduler, or tls://HOST:PORT"))
    if address.startswith("tls:") and len(given) < len(options):
        faults.append(Fault("--cluster", f'"{cluster}"', "--tls-ca, --tls-cert and --tls-key, too"))
    for option, file in given:
        if not Path(file).is_file():
            faults.append(Fault(option, f'"{file}", which is no file', "a file of PEM text"))
    return Cluster(address, *tls)


def over_jobs(
    work: Callable[[Parcel], Value],
    jobs: Sequence[str],
    engine: Engine,
    settle: Callable[[int, Value], Kept],
    stands: Callable[[int, Parcel], Kept | None] = lambda index, one: None,
) -> list[Done[Kept]]:
    """Do the work on every job, with a bar on the terminal; then tell the faults of the broken ones.

    Args:
        work: see ``evencourse.cli.street.workers.in_workers``.
        jobs: the job files as the user named them.
        engine: who does it.
        settle: given the index of a job and what the work gave, here in this process: writes what is to be
            written, and returns what is to be kept.
        stands: what is kept of a job whose work is done already; None for any other.
    """
    found: dict[int, Done[Kept]] = {}
    sent: list[tuple[int, Parcel]] = []

    def note(index: int, one: Done[Kept]) -> None:
        found[index] = one
        broken = sum(each.broken for each in found.values())
        progress.step(jobs[index] + (f" ({broken} broken)" if broken else ""))

    def settled(index: int, value: Value) -> Done[Kept]:
        try:
            return Done(settle(index, value))
        except EvencourseError as error:
            return Done(None, told(error))

    def done(number: int, one: Done[Value]) -> None:
        index = sent[number][0]
        note(index, Done(None, one.faults) if one.value is None else settled(index, one.value))

    with Progress(len(jobs), bar=True) as progress:
        for index, job in enumerate(jobs):
            try:
                one = parcel(job)
            except EvencourseError as error:
                note(index, Done(None, told(error)))
                continue
            if (kept := stands(index, one)) is not None:
                note(index, Done(kept))
            else:
                sent.append((index, one))
        engine.run(work, [one for _, one in sent], done)
    results = [found[index] for index in range(len(jobs))]
    sys.stdout.flush()
    for job, each in zip(jobs, results, strict=True):
        for line in each.faults:
            print(clean(f"{job}: {line}"), file=sys.stderr)
    broken = sum(one.broken for one in results)
    if broken:
        count = "1 job is" if broken == 1 else f"{broken} jobs are"
        print(f"{count} broken; nothing of {'it' if broken == 1 else 'them'} written", file=sys.stderr)
        sys.stderr.flush()
    return results


def exit_code(broken: bool, all_clean: bool) -> int:
    """2 when a job is broken, else 1 when one is not clean, else 0."""
    return 2 if broken else 0 if all_clean else 1


def summed_up(jobs: Sequence[str], found: Sequence[Done[Summary]], output: str) -> int:
    """Show the table of all jobs and what was written; the exit code."""
    whole = [one.value for one in found if one.value is not None]
    show(lambda on: summary_lines(jobs, found, on))
    files = sum(one.files for one in whole if not one.unchanged)
    same = sum(one.unchanged for one in whole)
    if files:
        print(clean(f"{files} file{'' if files == 1 else 's'} in {output}"))
    if same:
        print(f"{same} job{' is' if same == 1 else 's are'} unchanged, with the files that were there")
    return exit_code(len(whole) < len(found), all(one.clean for one in whole))
