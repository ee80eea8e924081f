"""The take-off: what to order and on what basis, areas by face, siding with its waste, shingles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.siding_quantities import ShingleCourse, Siding, in_squares
from evencourse.render.sheets.table_sheet import LARGE, Section, SheetCell, SheetColumn, Table
from evencourse.render.words.piece_words import (
    INSTALLED,
    NOT_INCLUDED,
    extra_words,
    quantity_words,
    rounding_words,
)
from evencourse.render.words.plan_words import counted, course_name, measured, show
from evencourse.render.words.result import Result

TITLE = "Take-off"
_COLUMNS = (
    SheetColumn("Quantity", "end", height=LARGE),
    SheetColumn("What", wraps=True),
    SheetColumn("Basis", wraps=True),
)
_MONEY = (SheetColumn("Price", "end"), SheetColumn("Cost", "end"))


def take_off_table(result: Result, air: float) -> Table:
    """The take-off of a job.

    Args:
        result: the finished result of a job.
        air: above and below a row's lettering [mm].
    """
    plan, found = result.plan, result.material.order
    priced = found.total is not None
    columns = (*_COLUMNS, *_MONEY) if priced else _COLUMNS
    sections = [_order(found, result.instructions.items), _areas(plan, found)]
    if any(one.bars for one in found.siding):
        sections.append(_siding(plan, found))
    sections += [_courses(plan, one) for one in found.siding if one.courses]
    filled = tuple(
        Section(section.heading, tuple(_filled(row, len(columns)) for row in section.rows), section.note)
        for section in sections
    )
    return Table(TITLE, columns, filled, air=air)


def take_off_note(result: Result) -> str:
    """What the order holds and does not."""
    return f"{INSTALLED} {NOT_INCLUDED}" if result.plan.job.as_built.courses else NOT_INCLUDED


def _filled(row: Sequence[SheetCell], count: int) -> tuple[SheetCell, ...]:
    return (*row, *(SheetCell() for _ in range(count - len(row))))


def _order(found: TakeOff, names: Sequence[str]) -> Section:
    rows: list[tuple[SheetCell, ...]] = []
    for item, name in zip(found.items, names, strict=True):
        quantity, reckoned = quantity_words(item), rounding_words(item, found.spare)
        row = (
            SheetCell(quantity, weight="bold"),
            SheetCell(name),
            SheetCell("" if reckoned == quantity else reckoned),
        )
        money = (
            (SheetCell(_money(item.price)), SheetCell(_money(item.cost))) if found.total is not None else ()
        )
        rows.append((*row, *money))
    if found.total is not None:
        total = SheetCell(f"{found.currency}{_money(found.total)}", weight="bold")
        rows.append(
            (SheetCell(), SheetCell("all lines with a price", weight="bold"), SheetCell(), SheetCell(), total)
        )
    note = f"{extra_words(found.spare)}; each quantity is rounded up once, at the end"
    return Section("Order", tuple(rows), note)


def _money(value: float | None) -> str:
    return "" if value is None else f"{value:,.2f}"


def _areas(plan: Plan, found: TakeOff) -> Section:
    job = plan.job
    unit = "squares" if job.units == "in" else "m²"

    def row(name: str, gross: float, openings: float, bands: float, net: float) -> tuple[SheetCell, ...]:
        words = f"{in_squares(job, gross):.2f} less openings {in_squares(job, openings):.2f}"
        if bands > 0:
            words += f", band boards {in_squares(job, bands):.2f}"
        return (SheetCell(f"{in_squares(job, net):.2f}", weight="bold"), SheetCell(name), SheetCell(words))

    rows = [row(area.face, area.gross, area.openings, area.bands, area.net) for area in found.areas]
    if len(rows) > 1:
        sums = (
            sum(area.gross for area in found.areas),
            sum(area.openings for area in found.areas),
            sum(area.bands for area in found.areas),
            sum(area.net for area in found.areas),
        )
        rows.append(row("all faces", *sums))
    return Section("Areas to cover", tuple(rows), f"in {unit}" + (" of 100 sq ft" if unit != "m²" else ""))


def _siding(plan: Plan, found: TakeOff) -> Section:
    rows = tuple(_siding_row(plan, one) for one in found.siding if one.bars)
    return Section(
        "Siding and its waste", rows, "waste is the share of the siding bought that does not show on the wall"
    )


def _siding_row(plan: Plan, one: Siding) -> tuple[SheetCell, ...]:
    words = (
        f"minimum possible {one.bound}; waste {100 * one.waste:.1f} %, minimum "
        f"{100 * one.waste_bound:.1f} %; area + 10 %: {one.by_thumb}"
    )
    length = measured(plan.job, one.cladding.length)
    stock = f"pcs, {length}: {counted(one.pieces, 'piece')} of {one.cladding.label}"
    return (SheetCell(str(one.bars), weight="bold"), SheetCell(stock), SheetCell(words))


def _courses(plan: Plan, one: Siding) -> Section:
    rows = tuple(_course_rows(plan, one.courses))
    return Section(f"Courses of {one.cladding.label}", rows, "all runs")


def _course_rows(plan: Plan, courses: Sequence[ShingleCourse]) -> Iterator[tuple[SheetCell, ...]]:
    for course in courses:
        words = f"exposure {show(plan.job, course.exposure)}" + ("; laid double" if course.doubled else "")
        name = course_name(plan.course_sets[course.course_set], course.number)
        yield (
            SheetCell(show(plan.job, course.width), weight="bold"),
            SheetCell(f"course {name}"),
            SheetCell(words),
        )
