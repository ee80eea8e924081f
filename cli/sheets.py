"""``sheets``: the whole set of a job as one PDF."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.options import DateOption, JobArgument, PaperOption, StarterOption

FileOption = Annotated[
    str,
    typer.Option("--output", "-o", metavar="FILE", help="The PDF; - is standard output.", show_default=False),
]


def sheets(
    job: JobArgument,
    output: FileOption,
    paper: PaperOption = None,
    date: DateOption = None,
    starter: StarterOption = None,
) -> int:
    """Bind cover, elevations, schedules, rakes, cut list and take-off into one PDF."""
    from cli.choices import read_date, read_paper, usual_paper
    from cli.output import write_given
    from cli.planning import planned
    from cli.progress import Progress
    from cli.table import clean
    from layout.errors import Fault, JobError

    faults: list[Fault] = []
    chosen = read_paper(paper, faults)
    day = read_date(date, faults)
    if faults:
        raise JobError(faults)
    plan = planned(job, starter)
    from render.pdf import pdf
    from render.sheetset import sheet_set

    with Progress(2) as progress:
        progress.step("laying out the sheets")
        document = sheet_set(plan, chosen or usual_paper(plan.job.units), day)
        progress.step("PDF")
        data = pdf(document)
    write_given(output, data)
    if output != "-":
        print(clean(output))
    return 0 if plan.clean else 1
