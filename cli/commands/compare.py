"""``compare``: the same building with other siding and other starters, side by side; one job or many."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from evencourse.cli.files.output import Output, write_folder, write_given
from evencourse.cli.files.output_name import check_file, check_folder, look_at_file, look_at_folder
from evencourse.cli.options.job_reading import read
from evencourse.cli.options.planning import question
from evencourse.cli.options.shared_options import (
    AuthorityOption,
    CertificateOption,
    ClusterOption,
    JobsArgument,
    KeyOption,
    WorkersOption,
)
from evencourse.cli.options.starters import read_starters
from evencourse.cli.reports.compare_report import compare_lines
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import Screen, screen, show
from evencourse.cli.street.asked_engine import read_engine
from evencourse.cli.street.engines import Engine
from evencourse.cli.street.parcel import Parcel
from evencourse.cli.street.several_jobs import check_street, exit_code, output_names, over_jobs
from evencourse.cli.street.street_comparison import Compared, compared_lines, way
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import gettext, ngettext, noop, speaking
from evencourse.layout.model.errors import Fault, JobError, OutputError
from evencourse.layout.model.job import Job
from evencourse.layout.results.comparison import Candidate, candidate, in_order, installed, stand_ins
from evencourse.layout.trade.profiles import profile_names
from evencourse.render.formats.svg import svg as svg_bytes
from evencourse.render.sheets.strip_chart import strip_rows, strip_sheet

CladdingOption = Annotated[
    list[str] | None,
    typer.Option(
        "--cladding",
        metavar="[NAME=]PROFILE",
        help=noop("A shipped profile to try in place of the job's; NAME= for one of several claddings."),
    ),
]
AllOption = Annotated[
    bool, typer.Option("--all", help=noop("Try every shipped profile of the family that the job has."))
]
StarterOption = Annotated[
    list[str] | None,
    typer.Option(
        "--starter", metavar="[SET=]LENGTH", help=noop("A starter to set beside the planner's own.")
    ),
]
SvgOption = Annotated[
    str | None,
    typer.Option(
        "--svg",
        metavar="FILE",
        help=noop("Write the strip charts as SVG; - for standard output alone; of several jobs a folder."),
    ),
]


@dataclass(frozen=True)
class Tried:
    """What is compared.

    Attributes:
        claddings: what ``--cladding`` was given.
        every: every shipped profile of the family, too.
        starters: what ``--starter`` was given.
        charts: strip charts are drawn.
    """

    claddings: tuple[str, ...]
    every: bool
    starters: tuple[str, ...]
    charts: bool


def compare(
    jobs: JobsArgument,
    cladding: CladdingOption = None,
    every: AllOption = False,
    starter: StarterOption = None,
    svg: SvgOption = None,
    workers: WorkersOption = None,
    cluster: ClusterOption = None,
    tls_ca: AuthorityOption = None,
    tls_cert: CertificateOption = None,
    tls_key: KeyOption = None,
) -> int:
    """Compare profiles and starters; show how wide the starter range is; of several jobs each and all."""
    faults: list[Fault] = []
    engine = read_engine(workers, cluster, (tls_ca, tls_cert, tls_key), jobs, faults)
    check_street(jobs, starter, faults)
    names = output_names(jobs, faults)
    if len(jobs) > 1 and svg == "-":
        faults.append(Fault("--svg", gettext("- for several jobs"), gettext("a folder")))
    elif len(jobs) > 1 and svg is not None:
        check_folder(svg, faults, "--svg")
    else:
        check_file("--svg", svg, ".svg", jobs, faults)
    if faults:
        raise JobError(faults)
    if svg is not None and len(jobs) > 1:
        look_at_folder(svg)
    else:
        look_at_file(svg)
    wanted = Tried(tuple(cladding or ()), every, tuple(starter or ()), svg is not None)
    if len(jobs) > 1:
        return _street(jobs, names, wanted, svg, engine)
    job = read(jobs[0])
    question(job, jobs[0])
    ranked = _ranked(job, wanted)
    if svg is not None:
        chart = _chart(job, ranked)
        if chart is None:
            raise OutputError(
                gettext("no course set may start on more than one mark: no strip to draw; nothing written")
            )
        write_given(svg, chart)
    if svg != "-":
        show(lambda on: compare_lines(job, ranked, on))
    return 0 if _own(ranked).plan.clean else 1


def _street(jobs: Sequence[str], names: Sequence[str], wanted: Tried, svg: str | None, engine: Engine) -> int:
    """Several jobs, each and all together."""

    def settle(index: int, one: Compared) -> Compared:
        if svg is not None and one.svg is not None:
            write_folder(Path(svg), [Output(f"{names[index]}.svg", one.svg)])
        return one

    found = over_jobs(partial(compare_one, wanted, screen(sys.stdout)), jobs, engine, settle)
    whole = [one.value for one in found if one.value is not None]
    show(lambda on: compared_lines(jobs, found, on))
    return exit_code(len(whole) < len(found), all(one.clean for one in whole))


def compare_one(wanted: Tried, on: Screen, one: Parcel) -> Compared:
    """Compare one of several jobs, in another process or on another machine.

    Args:
        wanted: what is compared.
        on: what its lines are for.
        one: the job.
    """
    job = one.job()
    ranked = _ranked(job, wanted)
    return Compared(
        lines=tuple(compare_lines(job, ranked, on)),
        ways=tuple(way(each) for each in ranked),
        units=job.units,
        clean=_own(ranked).plan.clean,
        svg=_chart(job, ranked) if wanted.charts else None,
    )


def _own(ranked: Sequence[Candidate]) -> Candidate:
    """The job as it stands: its own siding, and the planner's starters."""
    return next(one for one in ranked if one.own and not one.starters)


def _ranked(job: Job, wanted: Tried) -> tuple[Candidate, ...]:
    """The job with every siding and every starter that are asked for, best first."""
    faults: list[Fault] = []
    swaps = [{}, *read_claddings(wanted.claddings, job, faults)]
    starters = [{}, *_starters(wanted.starters, job, faults)]
    if job.as_built.courses and len(swaps) + wanted.every > 1:
        faults.append(installed())
    if faults:
        raise JobError(faults)
    if wanted.every:
        swaps += [swap for swap in stand_ins(job) if swap not in swaps]
    ways: list[Candidate] = []
    with Progress(len(swaps) * len(starters)) as progress:
        for swap in swaps:
            for heights in starters:
                progress.step(" ".join(swap.values()) or gettext("the job's own siding"))
                ways.append(candidate(job, swap, heights))
    return in_order(ways)


def _chart(job: Job, ranked: Sequence[Candidate]) -> bytes | None:
    """The strip charts, in the job's language; None when no course set may start on more than one mark."""
    with speaking(job.language):
        rows = strip_rows(ranked)
        return svg_bytes(strip_sheet(job, rows)) if rows else None


def read_claddings(words: Sequence[str], job: Job, faults: list[Fault]) -> list[Mapping[str, str]]:
    """Profiles that take the place of the job's claddings; faults are gathered, not raised.

    Args:
        words: ``PROFILE`` for the job's only cladding, or ``NAME=PROFILE`` for one of several.
        job: for its claddings.
        faults: words that name no cladding or no profile are added here.
    """
    swaps: list[Mapping[str, str]] = []
    for word in words:
        name, _, profile = word.rpartition("=")
        place = f'--cladding "{word}"'
        if not name and len(job.claddings) > 1:
            found = ngettext(
                "{count} cladding in the job", "{count} claddings in the job", len(job.claddings)
            )
            faults.append(Fault(place, found, either(f"{one}={profile}" for one in job.claddings)))
        elif name and name not in job.claddings:
            found = gettext('cladding "{name}"', name=name)
            faults.append(Fault(place, found, either(f'"{one}"' for one in job.claddings)))
        elif profile not in profile_names():
            near = get_close_matches(profile, profile_names(), n=3, cutoff=0.5) or list(profile_names())
            faults.append(Fault(place, gettext('profile "{name}"', name=profile), either(near)))
        else:
            swap = {name or next(iter(job.claddings)): profile}
            if swap not in swaps:
                swaps.append(swap)
    return swaps


def _starters(words: Sequence[str], job: Job, faults: list[Fault]) -> list[Mapping[str, float]]:
    """Each starter on its own; faults are gathered, not raised."""
    starters: list[Mapping[str, float]] = []
    for word in words:
        try:
            wanted = read_starters([word], job)
        except JobError as error:
            faults += error.faults
            continue
        if wanted not in starters:
            starters.append(wanted)
    return starters
