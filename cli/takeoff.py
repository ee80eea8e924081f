"""``takeoff``: what to order, as tables, as CSV and as a workbook."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.options import JobArgument, StarterOption

CsvOption = Annotated[
    str | None,
    typer.Option("--csv", metavar="FILE", help="Write the order as CSV; - writes it to standard output."),
]
XlsxOption = Annotated[
    str | None,
    typer.Option("--xlsx", metavar="FILE", help="Write order, areas, siding and trim as a workbook."),
]
SpareOption = Annotated[
    str | None,
    typer.Option("--spare", metavar="SHARE", help='Share added to every quantity: 0.05 or "5 %".'),
]


def takeoff(
    job: JobArgument,
    csv: CsvOption = None,
    xlsx: XlsxOption = None,
    spare: SpareOption = None,
    starter: StarterOption = None,
) -> int:
    """List what to order: siding, trim, nails, furring."""
    from dataclasses import replace

    from cli.choices import read_share
    from cli.output import write_given
    from cli.planning import planned
    from cli.progress import Progress
    from layout.errors import Fault, JobError
    from layout.pieces import pieces
    from layout.siding import cutting_bounds
    from layout.takeoff import takeoff as taken

    faults: list[Fault] = []
    share = read_share("--spare", spare, faults)
    if csv is not None and csv == xlsx:
        faults.append(Fault("--xlsx", f'"{xlsx}"', "another file than --csv"))
    if faults:
        raise JobError(faults)
    plan = planned(job, starter)
    if share is not None:
        plan = replace(plan, job=replace(plan.job, order=replace(plan.job.order, spare=share)))
    with Progress(3) as progress:
        progress.step("pieces and stock")
        cut = pieces(plan)
        progress.step("what to order")
        found = taken(plan, cut)
        progress.step("what no cutting can beat")
        bounds = cutting_bounds(cut)
    files: list[tuple[str, bytes]] = []
    if csv is not None or xlsx is not None:
        from cli.ordertables import order_tables
        from cli.spreadsheet import csv_bytes, xlsx_bytes

        tables = order_tables(found, bounds, plan)
        if csv is not None:
            files.append((csv, csv_bytes(tables[0])))
        if xlsx is not None:
            files.append((xlsx, xlsx_bytes(tables)))
    for name, data in files:
        write_given(name, data)
    if "-" not in (csv, xlsx):
        from cli.table import show
        from cli.takeoffreport import takeoff_lines

        show(lambda on: takeoff_lines(found, bounds, plan, on))
    return 0 if plan.clean else 1
