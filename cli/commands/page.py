"""``page``: the plan as one page for the phone."""

from __future__ import annotations

from typing import Annotated

import typer

from evencourse.cli.files.output import write_given
from evencourse.cli.files.output_name import check_file
from evencourse.cli.options.choices import read_language, read_paper, usual_paper
from evencourse.cli.options.planning import planned
from evencourse.cli.options.shared_options import JobArgument, LanguageOption, PaperOption, StarterOption
from evencourse.cli.reports.table import clean
from evencourse.layout.language.speech import noop, speaking
from evencourse.layout.model.errors import Fault, JobError
from evencourse.render.page.phone_page import phone_page

FileOption = Annotated[
    str,
    typer.Option(
        "--output",
        "-o",
        metavar="FILE",
        help=noop("The page; - writes it to standard output."),
        show_default=False,
    ),
]


def page(
    job: JobArgument,
    output: FileOption,
    paper: PaperOption = None,
    starter: StarterOption = None,
    lang: LanguageOption = None,
) -> int:
    """Make one page for the phone: cuts, pieces, a starter to move, check marks."""
    faults: list[Fault] = []
    chosen, language = read_paper(paper, faults), read_language(lang, faults)
    check_file("--output", output, ".html", [job], faults)
    if faults:
        raise JobError(faults)
    found = planned(job, starter)
    with speaking(language or found.job.language):
        data = phone_page(found, chosen or usual_paper(found.job.units)).encode()
    write_given(output, data)
    if output != "-":
        print(clean(output))
    return 0 if found.plan.clean else 1
