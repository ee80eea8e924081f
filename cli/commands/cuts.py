"""``cuts``: the cut list, piece by piece in order of installation, or grouped for a shop that cuts ahead."""

from __future__ import annotations

from typing import Annotated

import typer

from evencourse.cli.files.output import write_given
from evencourse.cli.files.output_name import check_file
from evencourse.cli.options.choices import read_language
from evencourse.cli.options.planning import planned
from evencourse.cli.options.shared_options import JobArgument, LanguageOption, StarterOption
from evencourse.cli.reports.cuts_report import cuts_lines
from evencourse.cli.reports.cuts_table import cuts_table
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.spreadsheet import csv_bytes
from evencourse.cli.reports.table import show
from evencourse.layout.language.speech import gettext, noop, speaking, spoken
from evencourse.layout.model.errors import Fault, JobError

CsvOption = Annotated[
    str | None,
    typer.Option("--csv", metavar="FILE", help=noop("Write it as CSV, a piece a line; - writes it alone.")),
]


SawOption = Annotated[
    bool,
    typer.Option("--saw", help=noop("Group alike pieces and whole lengths, for a shop that cuts ahead.")),
]


def cuts(
    job: JobArgument,
    csv: CsvOption = None,
    saw: SawOption = False,
    starter: StarterOption = None,
    lang: LanguageOption = None,
) -> int:
    """List every piece in order of installation: from which length or cutoff, how long, what is left."""
    faults: list[Fault] = []
    language = read_language(lang, faults)
    check_file("--csv", csv, ".csv", [job], faults)
    if faults:
        raise JobError(faults)
    found = planned(job, starter)
    with Progress(1) as progress:
        progress.step(gettext("pieces and stock"))
        _ = found.material.cuts  # worked out here, while the step is shown
    if csv is not None:
        write_given(csv, csv_bytes(cuts_table(found)))
    if csv != "-":
        with speaking(language or found.job.language or spoken().code):
            show(lambda on: cuts_lines(found, on, saw))
    return 0 if found.plan.clean else 1
