"""The take-off as tables for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from evencourse.cli.reports.job_head import job_head
from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.siding_quantities import FaceArea, ShingleCourse, Siding, shown_areas
from evencourse.render.words.piece_words import (
    INSTALLED,
    NOT_INCLUDED,
    cutoffs_words,
    doubled_words,
    extra_words,
    quantity_words,
    rounding_words,
    stock_words,
)
from evencourse.render.words.plan_words import counted, course_name, show
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
    yield from wrapped(NOT_INCLUDED, on.width)


def _areas(areas: Sequence[FaceArea], job: Job, on: Screen) -> list[str]:
    bands = any(area.bands > 0 for area in areas)
    unit = "squares" if job.units == "in" else "m²"
    columns = [Column(f"Area, {unit}"), *(Column(title, right=True) for title in ("gross", "openings"))]
    columns += [Column("band boards", right=True)] * bands + [Column("net", right=True)]
    rows: list[list[str | Cell]] = []
    sums = [0.0] * 4
    for area in areas:
        told = shown_areas(job, area)
        parts = [told.gross, told.openings, told.bands, told.net]
        sums = [total + part for total, part in zip(sums, parts, strict=True)]
        rows.append([area.face, *_figures(parts, bands)])
    rows.append([Cell("all faces", "strong"), *_figures(sums, bands)])
    return table(columns, rows, on)


def _figures(parts: Sequence[float], bands: bool) -> list[str]:
    return [f"{part:.2f}" for index, part in enumerate(parts) if bands or index != 2]


def _siding(found: TakeOff, bounds: Mapping[str, int], job: Job, on: Screen) -> Iterator[str]:
    cut = [one for one in found.siding if one.bars]
    if not cut:
        return
    yield ""
    rows = [
        [
            one.cladding.label,
            str(one.pieces),
            stock_words(one.bars, one.cladding.length, job),
            str(bounds[one.cladding.name]),
            str(one.bound),
            str(one.by_thumb),
            _saved(one),
            f"{100 * one.waste:.1f} %",
            f"{100 * one.waste_bound:.1f} %",
        ]
        for one in cut
    ]
    columns = [
        Column("Siding", wraps=True),
        Column("pieces", right=True),
        Column("stock lengths", right=True),
        Column("minimum for these cuts", right=True),
        Column("minimum for any layout", right=True),
        Column("area + 10 %", right=True),
        Column("saved", right=True),
        Column("waste", right=True),
        Column("minimum waste", right=True),
    ]
    yield from table(columns, rows, on)
    words = (
        "Minimum for these cuts: these pieces cannot be cut from fewer stock lengths. Minimum for any "
        "layout: all courses end to end with the laps that cannot be avoided, divided by the stock length. "
        "Area + 10 %: net area plus 10 %, divided by what one length covers at the average exposure. Waste: "
        "the share of the siding bought that does not show on the wall; minimum waste: the same for the "
        "minimum for any layout."
    )
    yield from wrapped(words, on.width)


def _saved(one: Siding) -> str:
    saved = one.by_thumb - one.bars
    return f"{saved} ({100 * saved / one.by_thumb:.1f} %)"


def _courses(found: TakeOff, plan: Plan, on: Screen) -> Iterator[str]:
    """Courses of shingles, neighbors that are alike in one line."""
    for one in found.siding:
        if not one.courses:
            continue
        yield ""
        yield styled(clean(f"Courses of {one.cladding.label}: {len(one.courses)}"), "strong", on)
        rows = [[name, *words] for name, words in _alike(one.courses, plan)]
        columns = [Column("course", right=True), Column("exposure", right=True), Column("width", right=True)]
        yield from table([*columns, Column("")], rows, on)


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
        names = [course_name(plan.course_sets[one.course_set], one.number) for one in (first, last)]
        yield " to ".join(dict.fromkeys(names)), words


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
    columns = [Column("Order", right=True), Column("what", wraps=True), Column("basis", wraps=True)]
    if priced:
        columns += [Column("price", right=True), Column("cost", right=True)]
        rows.append(["", "", "", "", Cell(f"{found.currency}{money(found.total)}", "strong")])
    yield from table(columns, rows, on)


def money(value: float | None) -> str:
    """A price with two decimals; nothing for none."""
    return "" if value is None else f"{value:,.2f}"


def order_notes(result: Result, on: Screen) -> Iterator[str]:
    """What to know about one job's order."""
    for note in _notes(result.material.order, result.plan.job):
        yield from wrapped(note, on.width)


def _notes(found: TakeOff, job: Job) -> Iterator[str]:
    extra = extra_words(found.spare)
    yield f"{extra[0].upper()}{extra[1:]}; each quantity is rounded up once, at the end."
    if found.total is not None:
        without = sum(item.price is None for item in found.items)
        if without:
            yield f"{counted(without, 'line has', 'lines have')} no price."
    for name in found.prices_unused:
        yield clean(f'A price for "{name}" is given, but no line has that name.')
    if job.as_built.courses:
        yield INSTALLED
