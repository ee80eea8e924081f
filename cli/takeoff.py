"""``takeoff``: what to order, as tables, as CSV and as a workbook; for one job, or for many together."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from cli.options import JobsArgument, StarterOption, WorkersOption

if TYPE_CHECKING:
    from cli.spreadsheet import Sheet
    from cli.streetorderreport import Taken
    from cli.table import Screen
    from layout.plan import Plan

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
    jobs: JobsArgument,
    csv: CsvOption = None,
    xlsx: XlsxOption = None,
    spare: SpareOption = None,
    starter: StarterOption = None,
    workers: WorkersOption = None,
) -> int:
    """List what to order: siding, trim, nails, furring; for several jobs each and all together."""
    from cli.choices import read_share
    from cli.outputname import check_file
    from cli.planning import planned
    from cli.progress import Progress
    from cli.street import check_street, read_workers
    from layout.errors import Fault, JobError

    faults: list[Fault] = []
    share = read_share("--spare", spare, faults)
    number = read_workers(workers, faults)
    check_street(jobs, starter, faults)
    check_file("--csv", csv, ".csv", jobs, faults)
    check_file("--xlsx", xlsx, ".xlsx", jobs, faults)
    if csv is not None and csv == xlsx:
        faults.append(Fault("--xlsx", f'"{xlsx}"', "another file than --csv"))
    if faults:
        raise JobError(faults)
    if len(jobs) > 1:
        return _street(jobs, csv, xlsx, share, number)
    plan = _with_spare(planned(jobs[0], starter), share)
    from layout.heapcost import heap_cost
    from layout.pieces import pieces
    from layout.siding import cutting_bounds
    from layout.takeoff import takeoff as taken

    with Progress(4) as progress:
        progress.step("pieces and stock")
        cut = pieces(plan)
        progress.step("what to order")
        found = taken(plan, cut)
        progress.step("what no cutting can beat")
        bounds = cutting_bounds(cut)
        progress.step("what the heap costs")
        heap = heap_cost(plan, cut)
    if csv is not None or xlsx is not None:
        from cli.ordertables import order_tables

        _write(csv, xlsx, order_tables(found, bounds, plan))
    if "-" not in (csv, xlsx):
        from cli.table import show
        from cli.takeoffreport import takeoff_lines

        show(lambda on: takeoff_lines(found, bounds, heap, plan, on))
    return 0 if plan.clean else 1


def _with_spare(plan: Plan, share: float | None) -> Plan:
    from dataclasses import replace

    if share is None:
        return plan
    return replace(plan, job=replace(plan.job, order=replace(plan.job.order, spare=share)))


def _write(csv: str | None, xlsx: str | None, tables: Sequence[Sheet]) -> None:
    """The first table as CSV, all of them as a workbook; all bytes are made before a file is touched."""
    from cli.output import write_given
    from cli.spreadsheet import csv_bytes, xlsx_bytes

    files: list[tuple[str, bytes]] = []
    if csv is not None:
        files.append((csv, csv_bytes(tables[0])))
    if xlsx is not None:
        files.append((xlsx, xlsx_bytes(tables)))
    for name, data in files:
        write_given(name, data)


def _street(jobs: list[str], csv: str | None, xlsx: str | None, share: float | None, workers: int) -> int:
    """The take-off of several jobs, each and all together."""
    import sys
    from functools import partial

    from cli.street import exit_code, over_jobs
    from cli.streetorderreport import job_lines, street_lines, street_tables
    from cli.streetsummary import summary_lines
    from cli.table import screen, show
    from cli.workers import Done
    from layout.streetorder import street_order

    found = over_jobs(partial(take_one, share, screen(sys.stdout)), jobs, jobs, workers)
    whole = [one.value for one in found if one.value is not None]
    order = street_order([one.order for one in whole])
    if whole:
        _write(csv, xlsx, street_tables(order, jobs, found))
    if "-" not in (csv, xlsx):
        if whole:
            show(lambda on: job_lines(jobs, found, on))
            show(lambda on: street_lines(order, len(whole), on))
            print()
        figures = [Done(one.value.summary if one.value else None, one.faults) for one in found]
        show(lambda on: summary_lines(jobs, figures, on, sheets=False))
    return exit_code(len(whole) < len(found), all(one.summary.clean for one in whole))


def take_one(share: float | None, on: Screen, source: str) -> Taken:
    """The take-off of one of several jobs, in a process of its own.

    Args:
        share: spare added to every quantity; None for the job's own.
        on: what its lines are for.
        source: the job file.
    """
    from cli.ordertables import order_table
    from cli.reading import read
    from cli.streetorderreport import Taken
    from cli.streetsummary import summary
    from cli.takeoffreport import order_lines, order_notes
    from layout.pieces import pieces
    from layout.planner import plan
    from layout.streetorder import JobOrder
    from layout.takeoff import takeoff as taken
    from render.cutwords import item_words

    made = _with_spare(plan(read(source)), share)
    cut, job = pieces(made), made.job
    found = taken(made, cut)
    words = tuple(item_words(item, job) for item in found.items)
    return Taken(
        name=job.name,
        summary=summary(made, cut),
        order=JobOrder(job.units, found.items, words, found.spare, found.currency),
        lines=(*order_lines(found, job, on), *order_notes(found, job, on)),
        table=order_table(found, job),
    )
