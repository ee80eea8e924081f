"""``compare``: the same building with other siding and other starters, side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Annotated

import typer

from evencourse.cli.files.output import write_given
from evencourse.cli.files.output_name import check_file
from evencourse.cli.options.job_reading import read
from evencourse.cli.options.shared_options import JobArgument
from evencourse.cli.options.starters import read_starters
from evencourse.cli.reports.compare_report import compare_lines
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import show
from evencourse.layout.model.errors import Fault, JobError, OutputError
from evencourse.layout.model.job import Job
from evencourse.layout.results.comparison import Candidate, candidate, in_order, stand_ins
from evencourse.layout.trade.profiles import profile_names
from evencourse.render.formats.svg import svg
from evencourse.render.sheets.strip_chart import strip_rows, strip_sheet

CladdingOption = Annotated[
    list[str] | None,
    typer.Option(
        "--cladding",
        metavar="[NAME=]PROFILE",
        help="A shipped profile to try in place of the job's; NAME= for one of several claddings.",
    ),
]
AllOption = Annotated[
    bool, typer.Option("--all", help="Try every shipped profile of the family that the job has.")
]
StarterOption = Annotated[
    list[str] | None,
    typer.Option("--starter", metavar="[SET=]LENGTH", help="A starter to set beside the planner's own."),
]
SvgOption = Annotated[
    str | None,
    typer.Option("--svg", metavar="FILE", help="Write the strip charts as SVG; - for standard output alone."),
]


def compare(
    job: JobArgument,
    cladding: CladdingOption = None,
    every: AllOption = False,
    starter: StarterOption = None,
    svg: SvgOption = None,
) -> int:
    """Compare profiles and starters; show how wide the starter range is."""
    faults: list[Fault] = []
    check_file("--svg", svg, ".svg", [job], faults)
    found = read(job)
    swaps = [{}, *read_claddings(cladding or (), found, faults)]
    starters = [{}, *_starters(starter or (), found, faults)]
    if found.as_built.courses and len(swaps) + every > 1:
        wanted = "siding of which nothing is installed yet"
        faults.append(Fault("as_built, course", "courses installed", wanted))
    if faults:
        raise JobError(faults)
    if every:
        swaps += [swap for swap in stand_ins(found) if swap not in swaps]
    ways: list[Candidate] = []
    with Progress(len(swaps) * len(starters)) as progress:
        for swap in swaps:
            for heights in starters:
                progress.step(" ".join(swap.values()) or "the job's own siding")
                ways.append(candidate(found, swap, heights))
    ranked = in_order(ways)
    if svg is not None:
        _write(svg, found, ranked)
    if svg != "-":
        show(lambda on: compare_lines(found, ranked, on))
    return 0 if ways[0].plan.clean else 1


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
            wanted = " or ".join(f"{one}={profile}" for one in job.claddings)
            faults.append(Fault(place, f"{len(job.claddings)} claddings in the job", wanted))
        elif name and name not in job.claddings:
            wanted = " or ".join(f'"{one}"' for one in job.claddings)
            faults.append(Fault(place, f'cladding "{name}"', wanted))
        elif profile not in profile_names():
            near = get_close_matches(profile, profile_names(), n=3, cutoff=0.5) or list(profile_names())
            faults.append(Fault(place, f'profile "{profile}"', " or ".join(near)))
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


def _write(name: str, job: Job, ranked: Sequence[Candidate]) -> None:
    rows = strip_rows(ranked)
    if not rows:
        raise OutputError("no course set may start on more than one mark: no strip to draw; nothing written")
    write_given(name, svg(strip_sheet(job, rows)))
