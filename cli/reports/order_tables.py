"""The take-off as tables for files, in English: the order first, then areas, siding, courses and trim."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from evencourse.cli.reports.spreadsheet import SheetTable, Value
from evencourse.layout.language.speech import speaking
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.siding_quantities import FaceArea, in_squares
from evencourse.render.words.piece_words import place_words, rounding_words, trim_words
from evencourse.render.words.plan_words import course_name, show
from evencourse.render.words.result import Result

#: Decimals of lengths, areas and shares in files, and of money.
_FINE, _MONEY = 4, 2


def order_tables(result: Result) -> tuple[SheetTable, ...]:
    """Sheets ``Order``, ``Areas``, ``Siding``, ``Courses`` (of shingles) and ``Trim``.

    Args:
        result: the finished result of a job.
    """
    plan, found, job = result.plan, result.material.order, result.plan.job
    sheets = [order_table(result), _areas(found, job), _siding(found, result.material.bounds, job)]
    if any(one.courses for one in found.siding):
        sheets.append(_courses(found, plan))
    return (*sheets, _trim(found, job))


def figure(value: float | None, digits: int = _FINE) -> Value:
    """A figure for a cell: so many decimals, a whole number where it is one."""
    if value is None:
        return None
    rounded = round(value, digits)
    return int(rounded) if rounded == int(rounded) else rounded


def order_table(result: Result) -> SheetTable:
    """The order line by line, its cost last where prices are given."""
    with speaking("en"):
        return _order(result)


def _order(result: Result) -> SheetTable:
    found, job = result.material.order, result.plan.job
    columns = (
        "item", "what", "quantity", "unit", "count", "extra", "per unit", "basis", "stock length",
        f"stock length {job.units}", f"size {job.units}", "minimum possible", "price", "cost",
    )  # fmt: skip
    rows: list[tuple[Value, ...]] = [
        (
            item.item,
            name,
            figure(item.quantity),
            item.unit,
            figure(item.count),
            figure(found.spare),
            figure(item.per),
            rounding_words(item, found.spare),
            show(job, item.length) if item.length else None,
            figure(item.length) if item.length else None,
            figure(item.size) if item.size else None,
            item.bound,
            figure(item.price),
            figure(item.cost, _MONEY),
        )
        for item, name in zip(found.items, result.instructions.items, strict=True)
    ]
    if found.total is not None:
        blank: tuple[Value, ...] = (None,) * (len(columns) - 3)
        rows.append(("total", found.currency or None, *blank, figure(found.total, _MONEY)))
    return SheetTable("Order", columns, tuple(rows))


def _areas(found: TakeOff, job: Job) -> SheetTable:
    unit = "squares" if job.units == "in" else "m²"
    columns = ("face", *(f"{name}, {unit}" for name in ("gross", "openings", "band boards", "net")))
    rows = [(area.face, *(figure(in_squares(job, part)) for part in _parts(area))) for area in found.areas]
    sums = [sum(values) for values in zip(*(_parts(area) for area in found.areas), strict=True)]
    return SheetTable(
        "Areas", columns, (*rows, ("total", *(figure(in_squares(job, value)) for value in sums)))
    )


def _parts(area: FaceArea) -> tuple[float, float, float, float]:
    return area.gross, area.openings, area.bands, area.net


def _siding(found: TakeOff, bounds: Mapping[str, int], job: Job) -> SheetTable:
    unit = "squares" if job.units == "in" else "m²"
    columns = (
        "cladding", "what", f"net, {unit}", "pieces", "stock lengths", "minimum for these cuts",
        "minimum possible", "area + 10 %", "waste", "minimum waste",
    )  # fmt: skip
    rows: list[tuple[Value, ...]] = []
    for one in found.siding:
        cut: tuple[Value, ...] = (None,) * 7
        if one.bars:
            cut = (
                one.pieces,
                one.bars,
                bounds[one.cladding.name],
                one.bound,
                one.by_thumb,
                figure(one.waste),
                figure(one.waste_bound),
            )
        rows.append((one.cladding.name, one.cladding.label, figure(in_squares(job, one.area)), *cut))
    return SheetTable("Siding", columns, tuple(rows))


def _courses(found: TakeOff, plan: Plan) -> SheetTable:
    units = plan.job.units
    columns = (
        "cladding",
        "course set",
        "course",
        f"exposure {units}",
        f"width {units}",
        f"laid double {units}",
    )
    rows = [
        (
            one.cladding.name,
            course.course_set,
            course_name(plan.course_sets[course.course_set], course.number),
            figure(course.exposure),
            figure(course.width),
            figure(course.doubled),
        )
        for one in found.siding
        for course in one.courses
    ]
    return SheetTable("Courses", columns, tuple(rows))


def _trim(found: TakeOff, job: Job) -> SheetTable:
    columns = ("trim", "where", "length", f"length {job.units}", "pieces", "stock no.")
    with speaking("en"):
        return SheetTable("Trim", columns, tuple(_trim_rows(found, job)))


def _trim_rows(found: TakeOff, job: Job) -> Iterator[tuple[Value, ...]]:
    for trim in found.trims:
        for index, run in enumerate(trim.runs):
            mine = [piece for piece in trim.cutting.pieces if piece.run == index]
            yield (
                trim_words(trim.kind, trim.size, job),
                place_words(run, job),
                show(job, run.length),
                figure(run.length),
                len(mine),
                ", ".join(str(piece.bar + 1) for piece in mine),
            )
