"""The order: what to buy and on what basis, and what each course of shingles covers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.siding_quantities import ShingleCourse, Siding
from evencourse.render.sheets.table_sheet import Section, SheetCell, SheetColumn, Table
from evencourse.render.words.piece_words import (
    INSTALLED,
    NOT_INCLUDED,
    doubled_words,
    extra_words,
    quantity_words,
    rounding_words,
)
from evencourse.render.words.plan_words import course_name, show
from evencourse.render.words.result import Result

_COLUMNS = (
    SheetColumn("Quantity", "end"),
    SheetColumn("What, and how it was counted", wraps=True),
)
_MONEY = (SheetColumn("Price", "end"), SheetColumn("Cost", "end"))


def order_table(result: Result) -> Table:
    """The order of a job.

    Args:
        result: the finished result of a job.
    """
    plan, found = result.plan, result.material.order
    priced = found.total is not None
    columns = (*_COLUMNS, *_MONEY) if priced else _COLUMNS
    sections = [_order(found, result.instructions.items)]
    sections += [_courses(plan, one) for one in found.siding if one.courses]
    filled = tuple(
        Section(section.heading, tuple(_filled(row, len(columns)) for row in section.rows), section.note)
        for section in sections
    )
    return Table(columns, filled, dense=True)


def order_note(result: Result) -> str:
    """What the order holds and does not."""
    words = f"{NOT_INCLUDED} Each quantity is rounded up once, at the end."
    return f"{INSTALLED} {words}" if result.plan.job.as_built.courses else words


def _filled(row: Sequence[SheetCell], count: int) -> tuple[SheetCell, ...]:
    return (*row, *(SheetCell() for _ in range(count - len(row))))


def _order(found: TakeOff, names: Sequence[str]) -> Section:
    rows: list[tuple[SheetCell, ...]] = []
    for item, name in zip(found.items, names, strict=True):
        quantity, reckoned = quantity_words(item), rounding_words(item, found.spare)
        row = (
            SheetCell(quantity, weight="bold"),
            SheetCell(name if reckoned == quantity else f"{name}: {reckoned}"),
        )
        money = (
            (SheetCell(_money(item.price)), SheetCell(_money(item.cost))) if found.total is not None else ()
        )
        rows.append((*row, *money))
    if found.total is not None:
        total = SheetCell(f"{found.currency}{_money(found.total)}", weight="bold")
        rows.append((SheetCell(), SheetCell("all lines with a price", weight="bold"), SheetCell(), total))
    return Section("Order", tuple(rows), extra_words(found.spare))


def _money(value: float | None) -> str:
    return "" if value is None else f"{value:,.2f}"


def _courses(plan: Plan, one: Siding) -> Section:
    rows = tuple(_course_rows(plan, one.courses))
    return Section(f"Courses of {one.cladding.label}", rows, "all runs; exposure where it changes")


def _course_rows(plan: Plan, courses: Sequence[ShingleCourse]) -> Iterator[tuple[SheetCell, ...]]:
    """Every course with its width, neighbors that are alike in one row; its exposure where another begins."""

    def alike(course: ShingleCourse) -> tuple[str, str, str, str]:
        exposure, width = show(plan.job, course.exposure), show(plan.job, course.width)
        return course.course_set, exposure, width, doubled_words(course, plan.job)

    before = ""
    for (name, exposure, width, doubled), group in groupby(courses, alike):
        first, *more = (course_name(plan.course_sets[name], course.number) for course in group)
        words = [f"courses {first} to {more[-1]}, each" if more else f"course {first}"]
        words += [f"exposure {exposure}" if exposure != before else "", f"laid {doubled}" if doubled else ""]
        before = exposure
        yield (SheetCell(width, weight="bold"), SheetCell(", ".join(filter(None, words))))
