"""The order: what to buy and on what basis, and what each course of shingles covers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from evencourse.layout.language.speech import beside, decimals, gettext, pgettext, spoken
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.siding_quantities import ShingleCourse, Siding
from evencourse.render.sheets.table_sheet import Section, SheetCell, SheetColumn, Table, in_both
from evencourse.render.words.piece_words import (
    INSTALLED,
    NOT_INCLUDED,
    doubled_words,
    extra_words,
    quantity_words,
    rounding_words,
)
from evencourse.render.words.plan_words import cladding_words, course_name, show
from evencourse.render.words.result import Result


def order_table(result: Result) -> Table:
    """The order of a job.

    Args:
        result: the finished result of a job.
    """
    plan, found = result.plan, result.material.order
    columns = in_both(_priced if found.total is not None else _columns)
    sections = [_order(found, result.instructions.items, result.instructions.in_all)]
    sections += [_courses(plan, one) for one in found.siding if one.courses]
    filled = tuple(
        replace(section, rows=tuple(_filled(row, len(columns)) for row in section.rows))
        for section in sections
    )
    return Table(columns, filled, dense=True)


def _columns() -> tuple[SheetColumn, ...]:
    return (
        SheetColumn(gettext("Quantity"), "end"),
        SheetColumn(gettext("What, and how it was counted"), wraps=True),
    )


def _priced() -> tuple[SheetColumn, ...]:
    return (
        *_columns(),
        SheetColumn(pgettext("of one unit", "Price"), "end"),
        SheetColumn(pgettext("of a whole quantity", "Cost"), "end"),
    )


def _heading() -> str:
    return gettext("Order")


def order_note(result: Result) -> str:
    """What the order holds and does not."""
    words = [gettext(NOT_INCLUDED), gettext("Each quantity is rounded up once, at the end.")]
    if result.plan.job.as_built.courses:
        words.insert(0, gettext(INSTALLED))
    return " ".join(words)


def _filled(row: Sequence[SheetCell], count: int) -> tuple[SheetCell, ...]:
    return (*row, *(SheetCell() for _ in range(count - len(row))))


def _order(found: TakeOff, names: Sequence[str], in_all: Sequence[str]) -> Section:
    rows: list[tuple[SheetCell, ...]] = []
    for item, name in zip(found.items, names, strict=True):
        quantity, reckoned = quantity_words(item), rounding_words(item, found.spare)
        what = name
        if reckoned != quantity:
            what = gettext("{item}: {quantity}", item=name, quantity=reckoned)
        row = (SheetCell(quantity, weight="bold"), SheetCell(what))
        money = (
            (SheetCell(_money(item.price)), SheetCell(_money(item.cost))) if found.total is not None else ()
        )
        rows.append((*row, *money))
    rows += [(SheetCell(), SheetCell(words, weight="bold")) for words in in_all]
    if found.total is not None:
        total = SheetCell(f"{found.currency}{_money(found.total)}", weight="bold")
        rows.append(
            (SheetCell(), SheetCell(gettext("all lines with a price"), weight="bold"), SheetCell(), total)
        )
    return Section(_heading(), tuple(rows), extra_words(found.spare), beside(_heading) or "")


def _money(value: float | None) -> str:
    if value is None:
        return ""
    shown = f"{value:,.2f}"
    return shown if spoken().decimal == "." else decimals(shown.replace(",", "\u00a0"))


def _courses(plan: Plan, one: Siding) -> Section:
    rows = tuple(_course_rows(plan, one.courses))
    heading = gettext("Courses of {cladding}", cladding=cladding_words(one.cladding))
    return Section(heading, rows, gettext("all runs; exposure where it changes"))


def _course_rows(plan: Plan, courses: Sequence[ShingleCourse]) -> Iterator[tuple[SheetCell, ...]]:
    """Every course with its width, neighbors that are alike in one row; its exposure where another begins."""

    def alike(course: ShingleCourse) -> tuple[str, str, str, str]:
        exposure, width = show(plan.job, course.exposure), show(plan.job, course.width)
        return course.course_set, exposure, width, doubled_words(course, plan.job)

    before = ""
    for (name, exposure, width, doubled), group in groupby(courses, alike):
        first, *more = (course_name(plan.course_sets[name], course.number) for course in group)
        if more:
            words = [gettext("courses {first} to {last}, each", first=first, last=more[-1])]
        else:
            words = [gettext("course {course}", course=first)]
        if exposure != before:
            words.append(gettext("exposure {exposure}", exposure=exposure))
        if doubled:
            words.append(gettext("laid {doubled}", doubled=doubled))
        before = exposure
        yield (SheetCell(width, weight="bold"), SheetCell(", ".join(words)))
