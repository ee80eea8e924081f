"""``cuts``: the cut list, piece by piece in the order of hanging, or grouped for a shop that cuts ahead."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.options import JobArgument, StarterOption

CsvOption = Annotated[
    str | None,
    typer.Option("--csv", metavar="FILE", help="Write it as CSV, a piece a line; - writes it alone."),
]


SawOption = Annotated[
    bool,
    typer.Option("--saw", help="Group alike pieces and whole lengths, for a shop that cuts ahead."),
]


def cuts(
    job: JobArgument, csv: CsvOption = None, saw: SawOption = False, starter: StarterOption = None
) -> int:
    """List every piece in the order of hanging: from which length or cut end, how long, what is left."""
    from cli.outputname import check_file
    from cli.planning import planned
    from cli.progress import Progress
    from layout.cutlist import cut_list
    from layout.errors import Fault, JobError
    from layout.pieces import pieces
    from layout.trims import trims

    faults: list[Fault] = []
    check_file("--csv", csv, ".csv", [job], faults)
    if faults:
        raise JobError(faults)
    plan = planned(job, starter)
    with Progress(2) as progress:
        progress.step("pieces and stock")
        cut = pieces(plan)
        progress.step("trim")
        found = cut_list(plan, cut, trims(plan))
    if csv is not None:
        from cli.cutstable import cuts_table
        from cli.output import write_given
        from cli.spreadsheet import csv_bytes

        write_given(csv, csv_bytes(cuts_table(found, cut, plan)))
    if csv != "-":
        from cli.cutsreport import cuts_lines
        from cli.table import show

        show(lambda on: cuts_lines(found, cut, plan, on, saw))
    return 0 if plan.clean else 1
