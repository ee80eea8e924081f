"""The take-off as tables for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.siding_quantities import FaceArea, ShingleCourse, Siding, in_squares
from evencourse.render.words.piece_words import figure_words, heap_words, quantity_words, rounding_words
from evencourse.render.words.plan_words import course_name, show
from evencourse.render.words.result import Result

#: What no order of this program holds.
NOT_COUNTED = (
    "Counted from the job file alone: soffit, flashing at roofs, weather barrier, caulk are not in it. "
    "The maker's instructions and the local code govern."
)


def takeoff_lines(result: Result, on: Screen) -> Iterator[str]:
    """Areas, siding with its waste, shingle courses, the order line by line, and what to know about it.

    Args:
        result: the finished result of a job.
        on: what it is for.

    Yields:
        Lines.
    """
    plan, found, job = result.plan, result.material.order, result.plan.job
    yield styled(clean(job.name or "Job without a name"), "strong", on)
    yield ""
    yield from _areas(found.areas, job, on)
    yield from _siding(found, result.material.bounds, job, on)
    if result.material.heap.lengths:
        yield from wrapped(heap_words(result.material.heap), on.width)
    yield from _courses(found, plan, on)
    yield ""
    yield from order_lines(result, on)
    yield ""
    yield from order_notes(result, on)
    yield from wrapped(NOT_COUNTED, on.width)


def _areas(areas: Sequence[FaceArea], job: Job, on: Screen) -> list[str]:
    bands = any(area.bands > 0 for area in areas)
    unit = "squares" if job.units == "in" else "m²"
    columns = [Column(f"Area, {unit}"), *(Column(title, right=True) for title in ("gross", "openings"))]
    columns += [Column("band boards", right=True)] * bands + [Column("net", right=True)]
    rows: list[list[str | Cell]] = []
    sums = [0.0] * 4
    for area in areas:
        parts = [area.gross, area.openings, area.bands, area.net]
        sums = [total + part for total, part in zip(sums, parts, strict=True)]
        rows.append([area.face, *_figures(parts, job, bands)])
    rows.append([Cell("all faces", "strong"), *_figures(sums, job, bands)])
    return table(columns, rows, on)


def _figures(parts: Sequence[float], job: Job, bands: bool) -> list[str]:
    shown = [part for index, part in enumerate(parts) if bands or index != 2]
    return [f"{in_squares(job, part):.2f}" for part in shown]


def _siding(found: TakeOff, bounds: Mapping[str, int], job: Job, on: Screen) -> Iterator[str]:
    cut = [one for one in found.siding if one.bars]
    if not cut:
        return
    yield ""
    rows = [
        [
            one.cladding.label,
            str(one.pieces),
            f"{one.bars} of {show(job, one.cladding.length)}",
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
        Column("these pieces", right=True),
        Column("any plan", right=True),
        Column("by thumb", right=True),
        Column("saved", right=True),
        Column("waste", right=True),
        Column("least", right=True),
    ]
    yield from table(columns, rows, on)
    words = (
        "These pieces: stock lengths that no cutting of them can do without. Any plan: covered lengths "
        "and the laps that cannot be avoided, over the stock length. By thumb: net area and 10 %, over "
        "what one length covers at the mean exposure. Waste: the share of what is bought that does not "
        "show, and with the fewest of any plan."
    )
    yield from wrapped(words, on.width)


def _saved(one: Siding) -> str:
    saved = one.by_thumb - one.bars
    return f"{saved} ({100 * saved / one.by_thumb:.1f} %)"


def _courses(found: TakeOff, plan: Plan, on: Screen) -> Iterator[str]:
    """Courses of shingles, neighbours that are alike in one line."""
    for one in found.siding:
        if not one.courses:
            continue
        yield ""
        yield styled(clean(f"Courses of {one.cladding.label}: {len(one.courses)}"), "strong", on)
        rows = [[name, *words] for name, words in _alike(one.courses, plan)]
        columns = [Column("course", right=True), Column("exposure", right=True), Column("width", right=True)]
        yield from table([*columns, Column("")], rows, on)


def _alike(courses: Sequence[ShingleCourse], plan: Plan) -> Iterator[tuple[str, tuple[str, str, str]]]:
    """Neighbouring courses that read alike, with their exposure, width and layers."""
    runs: list[tuple[ShingleCourse, ShingleCourse, tuple[str, str, str]]] = []
    for course in courses:
        layers = "double" if course.doubled else ""
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
    columns = [Column("Order", right=True), Column("what", wraps=True), Column("from", wraps=True)]
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
    spare = f"{figure_words(100 * found.spare)} %" if found.spare else "no spare"
    yield f"Quantities hold {spare}; each is rounded up once, at the end."
    if found.total is not None:
        without = sum(item.price is None for item in found.items)
        if without:
            yield f"{without} line{'' if without == 1 else 's'} without a price."
    for name in found.prices_unused:
        yield clean(f'A price for "{name}" is given, but no line is named so.')
    if job.as_built.courses:
        yield "Courses that hang already, and the trim that they end against, are in the areas alone."
