"""The take-off as tables for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from evencourse.cli.reports.job_head import job_head
from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped
from evencourse.layout.language.speech import decimals, gettext, ngettext, pgettext, spoken
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.siding_quantities import FaceArea, ShingleCourse, Siding, shown_areas
from evencourse.render.words.piece_words import (
    INSTALLED,
    NOT_INCLUDED,
    cutoffs_words,
    doubled_words,
    figure_words,
    quantity_words,
    rounding_words,
    stock_words,
)
from evencourse.render.words.plan_words import cladding_words, course_name, show
from evencourse.render.words.result import Result


def takeoff_lines(result: Result, on: Screen) -> Iterator[str]:
    """Areas, siding with its waste, shingle courses, the order line by line, and what to know about it.

    Args:
        result: the finished result of a job.
        on: what it is for.

    Yields:
        Lines.
    """
    plan, found, job = result.plan, result.material.order, result.plan.job
    yield from job_head(job, on)
    yield ""
    yield from _areas(found.areas, job, on)
    yield from _siding(found, result.material.bounds, job, on)
    if result.material.heap.lengths:
        yield from wrapped(cutoffs_words(result.material.heap), on.width)
    yield from _courses(found, plan, on)
    yield ""
    yield from order_lines(result, on)
    yield ""
    yield from order_notes(result, on)
    yield from wrapped(gettext(NOT_INCLUDED), on.width)


def _areas(areas: Sequence[FaceArea], job: Job, on: Screen) -> list[str]:
    bands = any(area.bands > 0 for area in areas)
    columns = [
        Column(gettext("Area, squares") if job.units == "in" else gettext("Area, m²")),
        Column(pgettext("column of areas", "gross"), right=True),
        Column(pgettext("column of areas", "openings"), right=True),
        *[Column(gettext("band boards"), right=True)] * bands,
        Column(pgettext("column of areas", "net"), right=True),
    ]
    rows: list[list[str | Cell]] = []
    sums = [0.0] * 4
    for area in areas:
        told = shown_areas(job, area)
        parts = [told.gross, told.openings, told.bands, told.net]
        sums = [total + part for total, part in zip(sums, parts, strict=True)]
        rows.append([area.face, *_figures(parts, bands)])
    rows.append([Cell(gettext("all faces"), "strong"), *_figures(sums, bands)])
    return table(columns, rows, on)


def _figures(parts: Sequence[float], bands: bool) -> list[str]:
    return [decimals(f"{part:.2f}") for index, part in enumerate(parts) if bands or index != 2]


def _siding(found: TakeOff, bounds: Mapping[str, int], job: Job, on: Screen) -> Iterator[str]:
    cut = [one for one in found.siding if one.bars]
    if not cut:
        return
    yield ""
    rows = [
        [
            cladding_words(one.cladding),
            str(one.pieces),
            stock_words(one.bars, one.cladding.length, job),
            str(bounds[one.cladding.name]),
            str(one.bound),
            str(one.by_thumb),
            _saved(one),
            decimals(f"{100 * one.waste:.1f} %"),
            decimals(f"{100 * one.waste_bound:.1f} %"),
        ]
        for one in cut
    ]
    columns = [
        Column(pgettext("column of sidings", "Siding"), wraps=True),
        Column(pgettext("column of sidings", "pieces"), right=True),
        Column(gettext("stock lengths"), right=True),
        Column(gettext("minimum for these cuts"), right=True),
        Column(gettext("minimum for any layout"), right=True),
        Column(gettext("area + 10 %"), right=True),
        Column(pgettext("column of sidings: stock lengths", "saved"), right=True),
        Column(pgettext("column of sidings", "waste"), right=True),
        Column(gettext("minimum waste"), right=True),
    ]
    yield from table(columns, rows, on)
    words = gettext(
        "Minimum for these cuts: these pieces cannot be cut from fewer stock lengths. Minimum for any "
        "layout: all courses end to end with the laps that cannot be avoided, divided by the stock length. "
        "Area + 10 %: net area plus 10 %, divided by what one length covers at the average exposure. Waste: "
        "the share of the siding bought that does not show on the wall; minimum waste: the same for the "
        "minimum for any layout."
    )
    yield from wrapped(words, on.width)


def _saved(one: Siding) -> str:
    saved = one.by_thumb - one.bars
    return decimals(f"{saved} ({100 * saved / one.by_thumb:.1f} %)")


def _courses(found: TakeOff, plan: Plan, on: Screen) -> Iterator[str]:
    """Courses of shingles, neighbors that are alike in one line."""
    for one in found.siding:
        if not one.courses:
            continue
        yield ""
        title = gettext(
            "Courses of {siding}: {count}", siding=cladding_words(one.cladding), count=len(one.courses)
        )
        yield styled(clean(title), "strong", on)
        rows = [[name, *words] for name, words in _alike(one.courses, plan)]
        columns = [
            Column(pgettext("column of courses", "course"), right=True),
            Column(pgettext("column of courses", "exposure"), right=True),
            Column(pgettext("column of courses", "width"), right=True),
            Column(""),
        ]
        yield from table(columns, rows, on)


def _alike(courses: Sequence[ShingleCourse], plan: Plan) -> Iterator[tuple[str, tuple[str, str, str]]]:
    """Neighboring courses that read alike, with their exposure, width and layers."""
    runs: list[tuple[ShingleCourse, ShingleCourse, tuple[str, str, str]]] = []
    for course in courses:
        layers = doubled_words(course, plan.job)
        words = (show(plan.job, course.exposure), show(plan.job, course.width), layers)
        if runs and runs[-1][2] == words and runs[-1][1].number == course.number - 1:
            runs[-1] = (runs[-1][0], course, words)
        else:
            runs.append((course, course, words))
    for first, last, words in runs:
        low, high = (course_name(plan.course_sets[one.course_set], one.number) for one in (first, last))
        yield low if low == high else gettext("{first} to {last}", first=low, last=high), words


def order_lines(result: Result, on: Screen) -> Iterator[str]:
    """The order line by line, with its cost where prices are given."""
    found = result.material.order
    priced = found.total is not None
    rows: list[list[str | Cell]] = []
    for item, name in zip(found.items, result.instructions.items, strict=True):
        row: list[str | Cell] = [
            Cell(quantity_words(item), "good"),
            name,
            rounding_words(item, found.spare),
        ]
        if priced:
            row += [money(item.price), money(item.cost)]
        rows.append(row)
    columns = [
        Column(pgettext("column of the order", "Order"), right=True),
        Column(pgettext("column of the order", "what"), wraps=True),
        Column(pgettext("column of the order", "basis"), wraps=True),
    ]
    if priced:
        columns.append(Column(pgettext("column of the order", "price"), right=True))
        columns.append(Column(pgettext("column of the order", "cost"), right=True))
        rows.append(["", "", "", "", Cell(f"{found.currency}{money(found.total)}", "strong")])
    yield from table(columns, rows, on)
    for words in result.instructions.in_all:
        yield from wrapped(clean(words), on.width)


def money(value: float | None) -> str:
    """A price with two decimals; nothing for none. Where the comma is the decimal mark, spaces group."""
    if value is None:
        return ""
    figures = f"{value:,.2f}"
    return figures if spoken().decimal == "." else decimals(figures.replace(",", " "))


def order_notes(result: Result, on: Screen) -> Iterator[str]:
    """What to know about one job's order."""
    for note in _notes(result.material.order, result.plan.job):
        yield from wrapped(note, on.width)


def _notes(found: TakeOff, job: Job) -> Iterator[str]:
    if found.spare:
        share = figure_words(100 * found.spare)
        yield gettext("{share} % extra included; each quantity is rounded up once, at the end.", share=share)
    else:
        yield gettext("No extra included; each quantity is rounded up once, at the end.")
    if found.total is not None:
        without = sum(item.price is None for item in found.items)
        if without:
            yield ngettext("{count} line has no price.", "{count} lines have no price.", without)
    for name in found.prices_unused:
        yield clean(gettext('A price for "{name}" is given, but no line has that name.', name=name))
    if job.as_built.courses:
        yield " ".join((gettext(INSTALLED), gettext("Areas include what is installed.")))
