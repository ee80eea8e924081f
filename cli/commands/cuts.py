"""``cuts``: the cut list, piece by piece in the order of hanging, or grouped for a shop that cuts ahead."""

from __future__ import annotations

from typing import Annotated

import typer

from evencourse.cli.options.shared_options import JobArgument, StarterOption

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
    from evencourse.cli.files.output_name import check_file
    from evencourse.cli.options.planning import planned
    from evencourse.cli.reports.progress import Progress
    from evencourse.layout.model.errors import Fault, JobError
    from evencourse.layout.order.cut_list import cut_list
    from evencourse.layout.order.trims import trims
    from evencourse.layout.pieces.all_pieces import pieces

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
        from evencourse.cli.files.output import write_given
        from evencourse.cli.reports.cuts_table import cuts_table
        from evencourse.cli.reports.spreadsheet import csv_bytes

        write_given(csv, csv_bytes(cuts_table(found, cut, plan)))
    if csv != "-":
        from evencourse.cli.reports.cuts_report import cuts_lines
        from evencourse.cli.reports.table import show

        show(lambda on: cuts_lines(found, cut, plan, on, saw))
    return 0 if plan.clean else 1
