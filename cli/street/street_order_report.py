"""One order for several jobs: as a table for the terminal, and as tables for files."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from evencourse.cli.reports.order_tables import figure
from evencourse.cli.reports.spreadsheet import SheetTable, Value
from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped
from evencourse.cli.reports.take_off_report import money
from evencourse.layout.order.street_order import JobOrder, StreetItem, StreetOrder
from evencourse.render.words.piece_words import (
    NOT_INCLUDED,
    bundle_words,
    figure_words,
    quantity_words,
)
from evencourse.render.words.plan_words import counted

if TYPE_CHECKING:
    from evencourse.cli.street.street_summary import Summary
    from evencourse.cli.street.workers import Done

#: Decimals of money.
_MONEY = 2


@dataclass(frozen=True)
class Taken:
    """The take-off of one of several jobs, as it comes back from its process.

    Attributes:
        name: of the job.
        summary: the job in a few figures.
        order: what it takes.
        lines: its order for the terminal.
        table: its order for files.
    """

    name: str
    summary: Summary
    order: JobOrder
    lines: tuple[str, ...]
    table: SheetTable


def job_lines(jobs: Sequence[str], found: Sequence[Done[Taken]], on: Screen) -> Iterator[str]:
    """Every job's own order.

    Args:
        jobs: names of the job files.
        found: what became of them.
        on: what it is for.
    """
    for job, one in zip(jobs, found, strict=True):
        if one.value is not None:
            name = f"{job}: {one.value.name}" if one.value.name else job
            yield styled(clean(name), "strong", on)
            yield from one.value.lines
            yield ""


def street_lines(order: StreetOrder, jobs: int, on: Screen) -> Iterator[str]:
    """The order for all jobs, line by line, and what to know about it.

    Args:
        order: the sum.
        jobs: how many jobs are in it.
        on: what it is for.
    """
    yield styled(f"All jobs together: {jobs}", "strong", on)
    priced = order.total is not None
    rows: list[list[str | Cell]] = []
    for one in order.items:
        row: list[str | Cell] = [
            Cell(quantity_words(one.item), "good"),
            one.words,
            _reckoned(one),
            figure_words(one.apart),
        ]
        if priced:
            row += [money(one.item.price), money(one.item.cost)]
        rows.append(row)
    columns = [
        Column("Order", right=True),
        Column("what", wraps=True),
        Column("basis", wraps=True),
        Column("job by job", right=True),
    ]
    if priced:
        columns += [Column("price", right=True), Column("cost", right=True)]
        rows.append([*[""] * 5, Cell(f"{order.currency}{money(order.total)}", "strong")])
    yield from table(columns, rows, on)
    yield ""
    words = (
        "Each job's extra is added to its counts, and the sum is rounded up once. Job by job is what they "
        "take when each orders on its own. Every job is cut from its own stock lengths."
    )
    yield from wrapped(words, on.width)
    for name in order.prices_differ:
        yield from wrapped(clean(f"The jobs' prices for {name} differ; no cost is given."), on.width)
    if priced:
        without = sum(one.item.price is None for one in order.items)
        if without:
            yield f"{counted(without, 'line has', 'lines have')} no price."
    yield from wrapped(NOT_INCLUDED, on.width)


def _reckoned(one: StreetItem) -> str:
    """The basis of a quantity: ``54 in 3 jobs, 56.7 with extra, 24 to a carton: 2.36``."""
    item = one.item
    units = {
        "square": " squares",
        "m²": " m²",
        "lb": " nails",
        "kg": " nails",
        "board": f" strip{'' if item.count == 1 else 's'}",
    }
    unit = units.get(item.unit, "")
    words = f"{figure_words(item.count)}{unit} in {one.jobs} job{'' if one.jobs == 1 else 's'}"
    if one.wanted - item.count > 1e-9:
        words += f", {figure_words(one.wanted)} with extra"
    if item.unit == "carton":
        words += f", {item.per:g} to a carton: {figure_words(one.wanted / item.per)}"
    elif item.unit == "board":
        words += f", {item.per:g} ripped from a board: {figure_words(one.wanted / item.per)}"
    elif item.unit in ("lb", "kg"):
        words += f", {item.per:.0f} to a {'pound' if item.unit == 'lb' else 'kilogram'}"
    elif item.unit in ("square", "m²"):
        words += f"; {bundle_words(item)}"
    return words


def street_tables(
    order: StreetOrder, jobs: Sequence[str], found: Sequence[Done[Taken]]
) -> tuple[SheetTable, SheetTable, SheetTable]:
    """Sheets ``Order`` (of all jobs together), ``Job by job`` and ``Jobs``.

    Args:
        order: the sum.
        jobs: names of the job files.
        found: what became of them. A broken one is named in every sheet: what it takes is not in the sum.
    """
    return _sum(order, jobs, found), _each(jobs, found), _jobs(jobs, found)


def _broken(jobs: Sequence[str], found: Sequence[Done[Taken]]) -> Iterator[tuple[str, str]]:
    for job, one in zip(jobs, found, strict=True):
        if one.value is None:
            yield job, f"broken: {'; '.join(one.faults)}"


def _sum(order: StreetOrder, jobs: Sequence[str], found: Sequence[Done[Taken]]) -> SheetTable:
    columns = (
        "item", "what", "quantity", "unit", "count", "with extra", "per unit", "jobs", "job by job",
        "minimum possible", "price", "cost",
    )  # fmt: skip
    rows: list[tuple[Value, ...]] = [
        (
            one.item.item,
            one.words,
            figure(one.item.quantity),
            one.item.unit,
            figure(one.item.count),
            figure(one.wanted),
            figure(one.item.per),
            one.jobs,
            figure(one.apart),
            one.item.bound,
            figure(one.item.price),
            figure(one.item.cost, _MONEY),
        )
        for one in order.items
    ]
    if order.total is not None:
        blank: tuple[Value, ...] = (None,) * (len(columns) - 3)
        rows.append(("total", order.currency or None, *blank, figure(order.total, _MONEY)))
    rest: tuple[Value, ...] = (None,) * (len(columns) - 2)
    rows += [("not in the total", job, *rest) for job, _ in _broken(jobs, found)]
    return SheetTable("Order", columns, tuple(rows))


def _each(jobs: Sequence[str], found: Sequence[Done[Taken]]) -> SheetTable:
    whole = [(job, one.value) for job, one in zip(jobs, found, strict=True) if one.value is not None]
    first = whole[0][1]
    columns = ("file", "job", "units", *(_in_its_units(title, first) for title in first.table.columns))
    rows: list[tuple[Value, ...]] = [
        (job, taken.name or None, taken.order.units, *row) for job, taken in whole for row in taken.table.rows
    ]
    blank: tuple[Value, ...] = (None,) * (len(columns) - 2)
    rows += [(job, fault, *blank) for job, fault in _broken(jobs, found)]
    return SheetTable("Job by job", columns, tuple(rows))


def _in_its_units(title: str, taken: Taken) -> str:
    """A heading that holds for inch and metric jobs alike."""
    named = title.removesuffix(f" {taken.order.units}")
    return title if named == title else f"{named} in its units"


def _jobs(jobs: Sequence[str], found: Sequence[Done[Taken]]) -> SheetTable:
    columns = (
        "file", "job", "flush", "notch", "sliver", "must-meet edges or limits missed", "stock lengths",
        "waste", "faults",
    )  # fmt: skip
    rows: list[tuple[Value, ...]] = []
    for job, one in zip(jobs, found, strict=True):
        if one.value is None:
            rows.append((job, *[None] * 7, "; ".join(one.faults)))
            continue
        figures = one.value.summary
        rows.append(
            (
                job,
                one.value.name or None,
                figures.flush,
                figures.notches,
                figures.slivers,
                figures.missed,
                figures.bars,
                figure(1 - figures.shown / figures.bought) if figures.bars else None,
                None,
            )
        )
    return SheetTable("Jobs", columns, tuple(rows))
