"""``page``: the plan as one page for the phone."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.options import JobArgument, StarterOption

FileOption = Annotated[
    str,
    typer.Option(
        "--output", "-o", metavar="FILE", help="The page; - writes it to standard output.", show_default=False
    ),
]


def page(job: JobArgument, output: FileOption, starter: StarterOption = None) -> int:
    """Make one page for the phone: cuts, pieces, a starter to move, ticks."""
    from cli.output import write_given
    from cli.outputname import check_file
    from cli.planning import planned
    from cli.table import clean
    from layout.errors import Fault, JobError

    faults: list[Fault] = []
    check_file("--output", output, ".html", [job], faults)
    if faults:
        raise JobError(faults)
    found = planned(job, starter)
    from render.page import page

    write_given(output, page(found).encode())
    if output != "-":
        print(clean(output))
    return 0 if found.clean else 1
