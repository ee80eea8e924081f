"""``sheets``: the whole set of a job as one PDF; of one job, or of many at once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from evencourse.cli.files.output import Output, write_folder, write_given
from evencourse.cli.files.output_name import check_file, check_folder
from evencourse.cli.options.choices import read_date, read_list, read_paper, read_revision, usual_paper
from evencourse.cli.options.job_reading import read
from evencourse.cli.options.planning import planned
from evencourse.cli.options.shared_options import (
    DateOption,
    JobsArgument,
    PaperOption,
    RevisionOption,
    StarterOption,
    WorkersOption,
)
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import clean
from evencourse.cli.street.several_jobs import check_street, output_names, over_jobs, read_workers, summed_up
from evencourse.cli.street.street_summary import Summary, summary
from evencourse.layout.model.errors import Fault, JobError
from evencourse.render.border.stamp import Stamp
from evencourse.render.crew_set.sheet_set import PARTS, sheet_set
from evencourse.render.formats.pdf import pdf
from evencourse.render.words.result import Result, result

FileOption = Annotated[
    str,
    typer.Option(
        "--output",
        "-o",
        metavar="FILE",
        help="The PDF; - is standard output. For several jobs the folder of their PDFs.",
        show_default=False,
    ),
]


OnlyOption = Annotated[
    str | None,
    typer.Option("--only", metavar="PARTS", help=f"Print a part of the set: some of {','.join(PARTS)}."),
]
EdgesOption = Annotated[
    bool, typer.Option("--all-edges", help="Add the schedule of every edge with its cut.")
]
TemplatesOption = Annotated[
    bool, typer.Option("--templates", help="Add the templates of the rakes at full size.")
]


@dataclass(frozen=True)
class SheetOptions:
    """A paper (None for the usual one), date and revision to print, the parts wanted, and what is added."""

    paper: str | None
    day: str | None
    revision: str = ""
    only: tuple[str, ...] = PARTS
    all_edges: bool = False
    templates: bool = False


def sheets(
    jobs: JobsArgument,
    output: FileOption,
    paper: PaperOption = None,
    date: DateOption = None,
    revision: RevisionOption = None,
    starter: StarterOption = None,
    workers: WorkersOption = None,
    only: OnlyOption = None,
    all_edges: EdgesOption = False,
    templates: TemplatesOption = False,
) -> int:
    """Bind cover, details, faces with their pieces, trims, rakes and order into one PDF a job."""
    faults: list[Fault] = []
    wanted = SheetOptions(
        read_paper(paper, faults),
        read_date(date, faults),
        read_revision(revision, faults),
        PARTS if only is None else read_list("--only", only, PARTS, faults),
        all_edges,
        templates,
    )
    number = read_workers(workers, faults)
    check_street(jobs, starter, faults)
    names = output_names(jobs, faults)
    if len(jobs) > 1 and output == "-":
        faults.append(Fault("--output", "- for several jobs", "a folder"))
    elif len(jobs) > 1:
        check_folder(output, faults)
    else:
        check_file("--output", output, ".pdf", jobs, faults)
    if faults:
        raise JobError(faults)
    if len(jobs) > 1:
        tasks = [(job, Path(output), name) for job, name in zip(jobs, names, strict=True)]
        return summed_up(jobs, over_jobs(partial(bind_one, wanted), jobs, tasks, number), output)
    found = planned(jobs[0], starter)
    with Progress(3) as progress:
        progress.step("cutting the pieces")
        _ = found.material.pieces  # cut here, while the step is shown
        data = _bound(found, wanted, progress)[0]
    write_given(output, data)
    if output != "-":
        print(clean(output))
    return 0 if found.plan.clean else 1


def bind_one(wanted: SheetOptions, task: tuple[str, Path, str]) -> Summary:
    """Bind the set of one of several jobs, in a process of its own.

    Args:
        wanted: paper and date.
        task: the job file, the folder for its PDF, and the PDF's name without suffix.
    """
    source, folder, name = task
    found = result(read(source))
    data, count = _bound(found, wanted, Progress(1))
    write_folder(folder, [Output(f"{name}.pdf", data)])
    return summary(found, count, 1)


def _bound(found: Result, wanted: SheetOptions, progress: Progress) -> tuple[bytes, int]:
    """The set as PDF, and how many sheets it has."""
    progress.step("laying out the sheets")
    name = wanted.paper or usual_paper(found.job.units)
    stamp = Stamp(wanted.day, wanted.revision, found.fingerprint)
    document = sheet_set(found, name, stamp, wanted.only, wanted.all_edges, wanted.templates)
    if not document.sheets:
        raise JobError([Fault("--only", "only rakes, and the job has none", "a part with something on it")])
    progress.step("PDF")
    return pdf(document), len(document.sheets)
