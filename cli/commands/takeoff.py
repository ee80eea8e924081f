"""``takeoff``: what to order, as tables, as CSV and as a workbook; for one job, or for many together."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from functools import partial
from typing import Annotated

import typer

from evencourse.cli.files.output import write_together
from evencourse.cli.files.output_name import check_file, look_at_file
from evencourse.cli.options.choices import read_language, read_share
from evencourse.cli.options.planning import planned, with_spare
from evencourse.cli.options.shared_options import (
    AuthorityOption,
    CertificateOption,
    ClusterOption,
    JobsArgument,
    KeyOption,
    LanguageOption,
    StarterOption,
    WorkersOption,
)
from evencourse.cli.reports.order_tables import order_table, order_tables
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.spreadsheet import SheetTable, csv_bytes, xlsx_bytes
from evencourse.cli.reports.table import Screen, screen, show
from evencourse.cli.reports.take_off_report import order_lines, order_notes, takeoff_lines
from evencourse.cli.street.asked_engine import read_engine
from evencourse.cli.street.engines import Engine
from evencourse.cli.street.parcel import Parcel
from evencourse.cli.street.several_jobs import check_street, exit_code, in_english, over_jobs
from evencourse.cli.street.street_order_report import Taken, job_lines, street_lines, street_tables
from evencourse.cli.street.street_summary import summary, summary_lines
from evencourse.cli.street.workers import Done
from evencourse.layout.language.speech import gettext, noop, speaking, spoken
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.order.street_order import JobOrder, street_order
from evencourse.render.words.result import result

CsvOption = Annotated[
    str | None,
    typer.Option(
        "--csv", metavar="FILE", help=noop("Write the order as CSV; - writes it to standard output.")
    ),
]
XlsxOption = Annotated[
    str | None,
    typer.Option("--xlsx", metavar="FILE", help=noop("Write order, areas, siding and trim as a workbook.")),
]
SpareOption = Annotated[
    str | None,
    typer.Option("--spare", metavar="SHARE", help=noop('Extra added to every quantity: 0.05 or "5 %".')),
]


def takeoff(
    jobs: JobsArgument,
    csv: CsvOption = None,
    xlsx: XlsxOption = None,
    spare: SpareOption = None,
    starter: StarterOption = None,
    workers: WorkersOption = None,
    cluster: ClusterOption = None,
    tls_ca: AuthorityOption = None,
    tls_cert: CertificateOption = None,
    tls_key: KeyOption = None,
    lang: LanguageOption = None,
) -> int:
    """List what to order: siding, trim, nails, furring; for several jobs each and all together."""
    faults: list[Fault] = []
    share, language = read_share("--spare", spare, faults), read_language(lang, faults)
    engine = read_engine(workers, cluster, (tls_ca, tls_cert, tls_key), jobs, faults)
    check_street(jobs, starter, faults)
    check_file("--csv", csv, ".csv", jobs, faults)
    check_file("--xlsx", xlsx, ".xlsx", jobs, faults)
    if csv is not None and csv == xlsx:
        faults.append(Fault("--xlsx", f'"{xlsx}"', gettext("another file than --csv")))
    if faults:
        raise JobError(faults)
    for name in (csv, xlsx):
        look_at_file(name)
    if len(jobs) > 1:
        with speaking(language or spoken().code):
            return _street(jobs, csv, xlsx, share, engine)
    found = planned(jobs[0], starter, share)
    with Progress(3) as progress:  # each is worked out here, while its step is shown
        progress.step(gettext("pieces, stock and what to order"))
        _ = found.material.order
        progress.step(gettext("the minimum for these cuts"))
        _ = found.material.bounds
        progress.step(gettext("what it costs to keep few cutoffs"))
        _ = found.material.heap
    if csv is not None or xlsx is not None:
        _write(csv, xlsx, order_tables(found))
    if "-" not in (csv, xlsx):
        with speaking(language or found.job.language or spoken().code):
            show(lambda on: takeoff_lines(found, on))
    return 0 if found.plan.clean else 1


def _write(csv: str | None, xlsx: str | None, tables: Sequence[SheetTable]) -> None:
    """The first table as CSV, all of them as a workbook; both files or neither."""
    files: list[tuple[str, bytes]] = []
    if csv is not None:
        files.append((csv, csv_bytes(tables[0])))
    if xlsx is not None:
        files.append((xlsx, xlsx_bytes(tables)))
    write_together(files)


def _street(jobs: list[str], csv: str | None, xlsx: str | None, share: float | None, engine: Engine) -> int:
    """The take-off of several jobs, each and all together."""
    found = over_jobs(
        partial(take_one, share, spoken().code, screen(sys.stdout)), jobs, engine, lambda index, taken: taken
    )
    whole = [one.value for one in found if one.value is not None]
    order = street_order([one.order for one in whole])
    if whole:
        _write(csv, xlsx, street_tables(order, jobs, in_english(jobs, found)))
    if "-" not in (csv, xlsx):
        if whole:
            show(lambda on: job_lines(jobs, found, on))
            show(lambda on: street_lines(order, whole, on))
            print()
        figures = [Done(one.value.summary if one.value else None, one.faults, one.failing) for one in found]
        show(lambda on: summary_lines(jobs, figures, on, sheets=False))
    return exit_code(len(whole) < len(found), all(one.summary.clean for one in whole))


def take_one(share: float | None, language: str, on: Screen, one: Parcel) -> Taken:
    """The take-off of one of several jobs, in another process or on another machine.

    Args:
        share: spare added to every quantity; None for the job's own.
        language: code of the one that its lines are in.
        on: what its lines are for.
        one: the job.
    """
    found = result(with_spare(one.job(), share))
    job, order = found.job, found.material.order
    with speaking("en"):
        english = found.instructions.items
    with speaking(language):
        said = dict(zip(english, found.instructions.items, strict=True))
        lines = (*order_lines(found, on), *order_notes(found, on))
    return Taken(
        name=job.name,
        summary=summary(found),
        order=JobOrder(job.units, order.items, english, order.spare, order.currency),
        said=said,
        lines=lines,
        table=order_table(found),
    )
