"""The lines of the order: exact counts, the spare added, rounded up once, priced."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor
from typing import Literal

from evencourse.layout.language.speech import noop
from evencourse.layout.model.cladding import Family
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import show_length
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.order.nails import per_pound, siding_nails
from evencourse.layout.order.siding_quantities import FOOT, SQUARE, Siding, in_squares, unit_area
from evencourse.layout.order.trims import SIZED, TrimBars
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.trade.materials import materials
from evencourse.layout.trade.profiles import profiles
from evencourse.layout.wall.on_wall import reached

Unit = Literal["each", "carton", "board", "square", "m²", "lb", "kg"]

#: What a piece of siding is called on an order.
WORDS: Mapping[Family, str] = {"panel": "panel", "lap": "board", "shingle": "shingles"}
#: Pounds in a kilogram.
_POUNDS = 2.2046226218


@dataclass(frozen=True)
class Item:
    """One line of the order.

    Attributes:
        item: what it is: ``panel``, ``board``, ``shingles``, a kind of trim, ``mounting block``, ``nails``.
        names: what a price may go by, the first that the job gives: for siding the cladding's name in the job
            and its profile; with its size, for what comes in sizes; the item.
        cladding: name of the cladding for siding and for what is ripped from it, family for nails; "" for the
            rest.
        size: width of a board or a strip, thickness of furring, length of a nail; 0 for the rest [job units].
        length: stock length; 0 for what has none [job units].
        unit: in which it is ordered.
        count: what the job takes, before spare and rounding: pieces, nails or squares.
        per: of these in one unit.
        step: units are ordered in whole multiples of this.
        quantity: what to order, spare added, then rounded up once [unit].
        bound: pieces that no plan can do without; None where it means nothing.
        price: of one unit; None when the job gives none.
    """

    item: str
    names: tuple[str, ...]
    cladding: str
    size: float
    length: float
    unit: Unit
    count: float
    per: float
    step: float
    quantity: float
    bound: int | None
    price: float | None

    @property
    def net(self) -> float:
        """What the job takes, before spare and rounding [unit]."""
        return self.count / self.per

    @property
    def cost(self) -> float | None:
        """Quantity times price."""
        return None if self.price is None else self.quantity * self.price


def order_items(
    plan: Plan, pieces: Pieces, hung: Sequence[Siding], trims: Sequence[TrimBars]
) -> tuple[Item, ...]:
    """Siding, trim, blocks and nails, in that order.

    Args:
        plan: course lines and faces; its job's ``order`` holds spare and prices.
        pieces: of the same plan.
        hung: its claddings.
        trims: its trim.

    Rules: the spare is added to exact counts and only then is each rounded up, once: panels to whole cartons
    where they come in cartons, shingles to whole bundles, nails to whole pounds (kilograms in a metric job),
    the rest to whole pieces (common practice, no source).
    """
    job = plan.job
    items = [*(siding_item(job, one) for one in hung), *(_trim_item(job, one) for one in trims)]
    blocks = sum(
        fixture.block and fixture.bottom >= reached(plan, face)
        for face in plan.elevations
        for fixture in face.elevation.fixtures
    )
    if blocks:
        items.append(_item(job, noop("mounting block"), blocks))
    return (*items, *_nail_items(plan, pieces, trims))


def _item(
    job: Job,
    name: str,
    count: float,
    *,
    goes_by: Sequence[str] = (),
    cladding: str = "",
    size: float = 0.0,
    length: float = 0.0,
    unit: Unit = "each",
    per: float = 1.0,
    step: float = 1.0,
    bound: int | None = None,
) -> Item:
    names = (*goes_by, *([sized(job, name, size)] if size else []), name)
    price = next((job.order.prices[key] for key in names if key in job.order.prices), None)
    wanted = count * (1 + job.order.spare) / per
    quantity = ceil(wanted / step - ROUNDING) * step
    return Item(name, names, cladding, size, length, unit, count, per, step, quantity, bound, price)


def sized(job: Job, name: str, size: float) -> str:
    """A name with its size as the tape reads it: ``trim board 3-1/2"``."""
    return f"{name} {show_length(size, job.units, job.round, feet=False)}"


def shingles_needed(job: Job, one: Siding) -> float:
    """How many shingles a cladding takes [squares; square metres in a metric job].

    A square of shingles covers its 100 sq ft at the standard exposure; at another one it is the widths that
    count: each course takes its width in shingles, whatever shows of them, and twice where it is doubled.
    """
    standard = profiles(job.units)[one.cladding.profile].exposure
    width = sum(course.width + course.doubled for course in one.courses)
    return in_squares(job, width * standard)


def siding_item(job: Job, one: Siding) -> Item:
    """The line of the order for a cladding.

    Args:
        job: for its units, its spare and its prices.
        one: what is hung of it.
    """
    cladding = one.cladding
    name = WORDS[cladding.family]
    if cladding.family == "shingle":
        square = SQUARE * (FOOT * job.inch) ** 2
        unit: Unit = "square" if job.units == "in" else "m²"
        bundle = square / materials()["shingle"]["bundles"] / unit_area(job)
        return _item(
            job,
            name,
            shingles_needed(job, one),
            goes_by=(cladding.name, cladding.profile),
            cladding=cladding.name,
            unit=unit,
            step=bundle,
        )
    return _item(
        job,
        name,
        one.bars,
        goes_by=(cladding.name, cladding.profile),
        cladding=cladding.name,
        length=cladding.length,
        unit="carton" if cladding.carton else "each",
        per=cladding.carton or 1,
        bound=one.bound,
    )


def _trim_item(job: Job, trim: TrimBars) -> Item:
    size = trim.size if trim.kind in SIZED else 0.0
    cutting = trim.cutting
    item = _item(job, trim.kind, len(cutting.bars), size=size, length=cutting.stock, bound=cutting.bound)
    return _ripped_item(job, trim, item) if trim.cladding else item


def _ripped_item(job: Job, trim: TrimBars, strips: Item) -> Item:
    """Strips as the boards they are ripped from, as many from each as its width gives, a kerf between two.

    Rule: the boards come on top of those that are hung (common practice, no source).
    """
    cladding, kerf = job.claddings[trim.cladding], float(materials()["trim"][trim.kind]["kerf"]) * job.inch
    per = max(1, floor((cladding.width + kerf) / (trim.size + kerf) + ROUNDING))
    prices, boards = job.order.prices, (cladding.name, cladding.profile)
    price = next((prices[name] for name in (*strips.names, *boards) if name in prices), None)
    quantity = ceil(strips.count * (1 + job.order.spare) / per - ROUNDING)
    return replace(
        strips, names=(*strips.names, *boards), cladding=trim.cladding, unit="board", per=per,
        quantity=quantity, bound=None, price=price,
    )  # fmt: skip


def _nail_items(plan: Plan, pieces: Pieces, trim: Sequence[TrimBars]) -> Iterator[Item]:
    counts: dict[tuple[str, float], int] = {}
    for piece in pieces.all():
        cladding = plan.job.claddings[piece.cladding]
        key = (cladding.family, cladding.nail_length)
        counts[key] = counts.get(key, 0) + siding_nails(plan.job, cladding, piece.length)
    for one in trim:
        for length, family, count in one.nails:
            counts[(family, length)] = counts.get((family, length), 0) + count
    metric = plan.job.units == "mm"
    for (family, length), count in sorted(counts.items()):
        weight = per_pound(family, length / plan.job.inch)
        yield _item(
            plan.job,
            "nails",
            count,
            cladding=family,
            size=length,
            unit="kg" if metric else "lb",
            per=weight * _POUNDS if metric else weight,
        )
