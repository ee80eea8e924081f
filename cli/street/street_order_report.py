"""One order for several jobs: as a table for the terminal, and as tables for files."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from evencourse.cli.reports.order_tables import figure
from evencourse.cli.reports.spreadsheet import SheetTable, Value
from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped
from evencourse.cli.reports.take_off_report import money
from evencourse.layout.language.speech import gettext, ngettext, pgettext
from evencourse.layout.order.order_items import Item
from evencourse.layout.order.street_order import JobOrder, StreetItem, StreetOrder
from evencourse.render.words.piece_words import (
    NOT_INCLUDED,
    bundle_words,
    figure_words,
    quantity_words,
)

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
        order: what it takes, in English.
        said: what its lines are in the language that is spoken, by their English words.
        lines: its order for the terminal.
        table: its order for files.
    """

    name: str
    summary: Summary
    order: JobOrder
    said: Mapping[str, str]
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
            title = job
            if one.value.name:
                title = gettext("{file}: {job}", file=job, job=one.value.name)
            yield styled(clean(title), "strong", on)
            yield from one.value.lines
            yield ""


def street_lines(order: StreetOrder, jobs: Sequence[Taken], on: Screen) -> Iterator[str]:
    """The order for all jobs, line by line, and what to know about it.

    Args:
        order: the sum.
        jobs: those that are in it.
        on: what it is for.
    """
    yield styled(gettext("All jobs together: {count}", count=len(jobs)), "strong", on)
    said = {english: words for job in jobs for english, words in job.said.items()}
    priced = order.total is not None
    rows: list[list[str | Cell]] = []
    for one in order.items:
        row: list[str | Cell] = [
            Cell(quantity_words(one.item), "good"),
            said[one.words],
            _reckoned(one),
            figure_words(one.apart),
        ]
        if priced:
            row += [money(one.item.price), money(one.item.cost)]
        rows.append(row)
    columns = [
        Column(pgettext("column of the order", "Order"), right=True),
        Column(pgettext("column of the order", "what"), wraps=True),
        Column(pgettext("column of the order", "basis"), wraps=True),
        Column(gettext("job by job"), right=True),
    ]
    if priced:
        columns.append(Column(pgettext("column of the order", "price"), right=True))
        columns.append(Column(pgettext("column of the order", "cost"), right=True))
        rows.append([*[""] * 5, Cell(f"{order.currency}{money(order.total)}", "strong")])
    yield from table(columns, rows, on)
    yield ""
    words = gettext(
        "Each job's extra is added to its counts, and the sum is rounded up once. Job by job is what they "
        "take when each orders on its own. Every job is cut from its own stock lengths."
    )
    yield from wrapped(words, on.width)
    for name in order.prices_differ:
        words = gettext("The jobs' prices for {item} differ; no cost is given.", item=said[name])
        yield from wrapped(clean(words), on.width)
    if priced:
        without = sum(one.item.price is None for one in order.items)
        if without:
            yield ngettext("{count} line has no price.", "{count} lines have no price.", without)
    yield from wrapped(gettext(NOT_INCLUDED), on.width)


def _reckoned(one: StreetItem) -> str:
    """The basis of a quantity: ``54 in 3 jobs, 56.7 with extra, 24 to a carton: 2.36``."""
    item = one.item
    words = ngettext("{amount} in {count} job", "{amount} in {count} jobs", one.jobs, amount=_amount(item))
    if one.wanted - item.count > 1e-9:
        words = gettext("{basis}, {wanted} with extra", basis=words, wanted=figure_words(one.wanted))
    units, per = figure_words(one.wanted / item.per), f"{item.per:g}"
    if item.unit == "carton":
        return gettext("{basis}, {per} to a carton: {cartons}", basis=words, per=per, cartons=units)
    if item.unit == "board":
        return gettext("{basis}, {per} ripped from a board: {boards}", basis=words, per=per, boards=units)
    if item.unit == "lb":
        return gettext("{basis}, {nails} to a pound", basis=words, nails=f"{item.per:.0f}")
    if item.unit == "kg":
        return gettext("{basis}, {nails} to a kilogram", basis=words, nails=f"{item.per:.0f}")
    if item.unit in ("square", "m²"):
        return gettext("{basis}; {bundles}", basis=words, bundles=bundle_words(item))
    return words


def _amount(item: Item) -> str:
    """What all jobs take of an item, in what it is counted in: ``54``, ``3 strips``, ``5.2 squares``."""
    figures = figure_words(item.count)
    if item.unit == "square":
        return gettext("{amount} squares", amount=figures)
    if item.unit == "m²":
        return gettext("{area} m²", area=figures)
    if item.unit in ("lb", "kg"):
        return gettext("{amount} nails", amount=figures)
    if item.unit == "board":
        return ngettext("{amount} strip", "{amount} strips", round(item.count), amount=figures)
    return figures


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
