"""``takeoff``: what to order, as tables, as CSV and as a workbook; for one job, or for many together."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from evencourse.cli.options.shared_options import JobsArgument, StarterOption, WorkersOption

if TYPE_CHECKING:
    from evencourse.cli.reports.spreadsheet import Sheet
    from evencourse.cli.reports.table import Screen
    from evencourse.cli.street.street_order_report import Taken
    from evencourse.layout.model.course_plan import Plan

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
    from evencourse.cli.files.output_name import check_file
    from evencourse.cli.options.choices import read_share
    from evencourse.cli.options.planning import planned
    from evencourse.cli.reports.progress import Progress
    from evencourse.cli.street.several_jobs import check_street, read_workers
    from evencourse.layout.model.errors import Fault, JobError

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
    from evencourse.layout.order.job_order import takeoff as taken
    from evencourse.layout.order.siding_quantities import cutting_bounds
    from evencourse.layout.pieces.all_pieces import pieces
    from evencourse.layout.pieces.heap_cost import heap_cost

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
        from evencourse.cli.reports.order_tables import order_tables

        _write(csv, xlsx, order_tables(found, bounds, plan))
    if "-" not in (csv, xlsx):
        from evencourse.cli.reports.table import show
        from evencourse.cli.reports.take_off_report import takeoff_lines

        show(lambda on: takeoff_lines(found, bounds, heap, plan, on))
    return 0 if plan.clean else 1


def _with_spare(plan: Plan, share: float | None) -> Plan:
    from dataclasses import replace

    if share is None:
        return plan
    return replace(plan, job=replace(plan.job, order=replace(plan.job.order, spare=share)))


def _write(csv: str | None, xlsx: str | None, tables: Sequence[Sheet]) -> None:
    """The first table as CSV, all of them as a workbook; all bytes are made before a file is touched."""
    from evencourse.cli.files.output import write_given
    from evencourse.cli.reports.spreadsheet import csv_bytes, xlsx_bytes

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

    from evencourse.cli.reports.table import screen, show
    from evencourse.cli.street.several_jobs import exit_code, over_jobs
    from evencourse.cli.street.street_order_report import job_lines, street_lines, street_tables
    from evencourse.cli.street.street_summary import summary_lines
    from evencourse.cli.street.workers import Done
    from evencourse.layout.order.street_order import street_order

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
    from evencourse.cli.options.job_reading import read
    from evencourse.cli.reports.order_tables import order_table
    from evencourse.cli.reports.take_off_report import order_lines, order_notes
    from evencourse.cli.street.street_order_report import Taken
    from evencourse.cli.street.street_summary import summary
    from evencourse.layout.courses.planner import plan
    from evencourse.layout.order.job_order import takeoff as taken
    from evencourse.layout.order.street_order import JobOrder
    from evencourse.layout.pieces.all_pieces import pieces
    from evencourse.render.words.piece_words import item_words

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
