"""What to order: areas, siding, trim, nails and furring, with the waste and what no plan can beat."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Literal

from layout._materials import materials
from layout.cladding import Cladding, Family
from layout.claddings import profiles
from layout.job import Job
from layout.nails import per_pound, siding_nails
from layout.piece import Piece
from layout.pieces import Pieces
from layout.plan import ElevationPlan, Plan
from layout.trims import SIZED, Trim, trims
from layout.wallshape import clad_area

Unit = Literal["each", "carton", "square", "m²", "lb", "kg"]

#: What a piece of siding is called on an order.
WORDS: Mapping[Family, str] = {"panel": "panel", "lap": "board", "shingle": "shingles"}
#: Square feet in a square, inches in a foot, millimetres in a metre, pounds in a kilogram.
_SQUARE, _FOOT, _METRE, _POUNDS = 100, 12, 1000, 2.2046226218


@dataclass(frozen=True)
class FaceArea:
    """Areas of one face [square job units]; ``gross`` is the sum of the others.

    Attributes:
        face: name of the elevation.
        gross: the wall from the starter line up, as if it had no opening.
        openings: openings with their trim, and blocks.
        bands: band boards.
        net: what siding covers.
    """

    face: str
    gross: float
    openings: float
    bands: float
    net: float


@dataclass(frozen=True)
class Course:
    """One course of shingles over the whole job.

    Attributes:
        course_set: name of its course set.
        number: of the course.
        exposure: [job units].
        width: of all its runs [job units].
        doubled: a second layer lies under it.
    """

    course_set: str
    number: int
    exposure: float
    width: float
    doubled: bool


@dataclass(frozen=True)
class Siding:
    """One cladding: what is hung, and what it is cut from.

    Attributes:
        cladding: as in the job.
        area: what it covers [square job units].
        pieces: how many are hung; 0 for shingles.
        bars: stock lengths they are cut from; 0 for shingles.
        bound: stock lengths that no plan can do without.
        by_thumb: stock lengths by the rule of thumb: area over what one covers, and its share for waste.
        cover: what one stock length covers at the exposures of the plan, laps left out [square job units].
        courses: of shingles, from the bottom up.
    """

    cladding: Cladding
    area: float
    pieces: int
    bars: int
    bound: int
    by_thumb: int
    cover: float
    courses: tuple[Course, ...] = ()

    @property
    def waste(self) -> float:
        """Share of what is bought that does not show; 0 for shingles."""
        return _waste(self.area, self.bars * self.cover)

    @property
    def waste_bound(self) -> float:
        """The same with the stock lengths that no plan can do without."""
        return _waste(self.area, self.bound * self.cover)


@dataclass(frozen=True)
class Item:
    """One line of the order.

    Attributes:
        item: what it is: ``panel``, ``board``, ``shingles``, a kind of trim, ``mounting block``, ``nails``;
            the name that prices go by.
        cladding: name of the cladding for siding, family for nails; "" for the rest.
        size: width of a board, thickness of furring, length of a nail; 0 for the rest [job units].
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


@dataclass(frozen=True)
class TakeOff:
    """What to order for a whole job.

    Attributes:
        areas: by face.
        siding: by cladding.
        trims: by kind and size, with their cutting.
        items: the order, line by line.
        spare: share added to every quantity.
        currency: shown before prices.
        prices_unused: prices of the job file that no line takes.
    """

    areas: tuple[FaceArea, ...]
    siding: tuple[Siding, ...]
    trims: tuple[Trim, ...]
    items: tuple[Item, ...]
    spare: float
    currency: str
    prices_unused: tuple[str, ...]

    @property
    def waste(self) -> float:
        """Share of all bought panels and boards that does not show."""
        cut = [siding for siding in self.siding if siding.bars]
        return _waste(sum(one.area for one in cut), sum(one.bars * one.cover for one in cut))

    @property
    def waste_bound(self) -> float:
        """The same with the stock lengths that no plan can do without."""
        cut = [siding for siding in self.siding if siding.bars]
        return _waste(sum(one.area for one in cut), sum(one.bound * one.cover for one in cut))

    @property
    def total(self) -> float | None:
        """Cost of all lines with a price; None when none has one."""
        costs = [item.cost for item in self.items if item.cost is not None]
        return sum(costs) if costs else None


def takeoff(plan: Plan, pieces: Pieces) -> TakeOff:
    """What to order.

    Args:
        plan: course lines and faces; its job's ``order`` holds spare, prices and stock lengths.
        pieces: of the same plan.

    Rules: counts are exact; the spare is added to each, and only then is it rounded up, once: panels to whole
    cartons where they come in cartons, shingles to whole bundles, nails to whole pounds (kilograms in a
    metric job), the rest to whole pieces (common practice, no source).
    """
    job = plan.job
    hung = sidings(plan, pieces)
    trim = trims(plan)
    items = [*(_siding_item(job, one) for one in hung), *(_trim_item(job, one) for one in trim)]
    blocks = sum(item.block for face in job.elevations for item in face.fixtures)
    if blocks:
        items.append(_item(job, "mounting block", blocks))
    items += _nail_items(plan, pieces, trim)
    named = {key for item in items for key in _price_keys(job, item.item, item.cladding)}
    return TakeOff(
        areas=tuple(_area(plan, face) for face in plan.elevations),
        siding=hung,
        trims=trim,
        items=tuple(items),
        spare=job.order.spare,
        currency=job.order.currency,
        prices_unused=tuple(name for name in job.order.prices if name not in named),
    )


def lengths_by_area(area: float, exposure: float, length: float, more: float = 0.0) -> int:
    """Stock lengths by area alone: the arithmetic of estimating handbooks.

    Args:
        area: of the wall [square units].
        exposure: of a course [units].
        length: of a panel or board [units].
        more: share added for waste.

    Rule: a length covers its exposure times its length. Lap board of 8-1/4 in with a lap of 1-1/4 in: 12 ft
    cover 7 sq ft, 4000 sq ft take 572 (National estimating handbook).
    """
    return ceil(area * (1 + more) / (exposure * length) - 1e-9)


def in_squares(job: Job, area: float) -> float:
    """An area in squares of 100 square feet; in square metres in a metric job.

    Args:
        job: for its units.
        area: [square job units].
    """
    return area / _unit_area(job)


def _unit_area(job: Job) -> float:
    return float(_SQUARE * _FOOT**2 if job.units == "in" else _METRE**2)


def _waste(shown: float, bought: float) -> float:
    return 1 - shown / bought if bought > 0 else 0.0


def _area(plan: Plan, face: ElevationPlan) -> FaceArea:
    wall = replace(
        face,
        elevation=replace(face.elevation, openings=(), fixtures=()),
        edges=tuple(edge for edge in face.edges if edge.opening is None and edge.edge != "band"),
    )
    clad = clad_area(plan.job, wall, plan.course_sets)
    gross = clad
    if len(face.zones) > 1:
        whole = replace(wall, zones=(replace(face.zones[0], top=face.zones[-1].top),))
        gross = clad_area(plan.job, whole, plan.course_sets)
    return FaceArea(face.elevation.name, gross, clad - face.area, gross - clad, face.area)


def sidings(plan: Plan, pieces: Pieces) -> tuple[Siding, ...]:
    """Every cladding that hangs, in the order of the faces, with the stock it is cut from.

    Args:
        plan: course lines and faces.
        pieces: of the same plan.
    """
    names = dict.fromkeys(piece.cladding for piece in pieces.all())
    return tuple(_siding(plan, pieces, name) for name in names)


def _siding(plan: Plan, pieces: Pieces, name: str) -> Siding:
    cladding = plan.job.claddings[name]
    mine = [piece for piece in pieces.all() if piece.cladding == name]
    area = sum(_shown(piece) for piece in mine)
    if name not in pieces.stock:
        return Siding(cladding, area, 0, 0, 0, 0, 0.0, tuple(_courses(mine)))
    cutting = pieces.stock[name]
    length = sum(piece.length for piece in mine)
    exposure = sum(piece.exposure * piece.length for piece in mine) / length
    thumb = materials()["order"]["rule_of_thumb"]
    return Siding(
        cladding=cladding,
        area=area,
        pieces=len(mine),
        bars=len(cutting.bars),
        bound=cutting.length_bound,
        by_thumb=lengths_by_area(area, exposure, cutting.stock, thumb),
        cover=exposure * cutting.stock,
    )


def _shown(piece: Piece) -> float:
    return _ring(piece.polygon) - sum(abs(_ring(hole)) for hole in piece.holes)


def _ring(points: Sequence[tuple[float, float]]) -> float:
    return (
        sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, (*points[1:], points[0]), strict=True))
        / 2
    )


def _courses(mine: Sequence[Piece]) -> Iterator[Course]:
    """Courses of shingles; the first of each set is laid double (common practice, no source)."""
    found: dict[tuple[str, int], list[Piece]] = {}
    for piece in mine:
        found.setdefault((piece.course_set, piece.course), []).append(piece)
    for (course_set, number), runs in sorted(found.items(), key=lambda pair: pair[0]):
        width = sum(run.length for run in runs)
        yield Course(course_set, number, runs[0].exposure, width, number == 1)


def _item(
    job: Job,
    name: str,
    count: float,
    *,
    cladding: str = "",
    size: float = 0.0,
    length: float = 0.0,
    unit: Unit = "each",
    per: float = 1.0,
    step: float = 1.0,
    bound: int | None = None,
) -> Item:
    wanted = count * (1 + job.order.spare) / per
    price = next(
        (job.order.prices[key] for key in _price_keys(job, name, cladding) if key in job.order.prices), None
    )
    quantity = ceil(wanted / step - 1e-9) * step
    return Item(name, cladding, size, length, unit, count, per, step, quantity, bound, price)


def _price_keys(job: Job, item: str, cladding: str) -> tuple[str, ...]:
    """Names that a price may go by: the cladding's own in the job, its profile, the item."""
    if cladding in job.claddings:
        return (cladding, job.claddings[cladding].profile, item)
    return (item,)


def _siding_item(job: Job, one: Siding) -> Item:
    cladding = one.cladding
    name = WORDS[cladding.family]
    if cladding.family == "shingle":
        # A square of shingles covers its 100 sq ft at the standard exposure; at another one it is the widths
        # that count: each course takes its width in shingles, whatever shows of them.
        standard = profiles(job.units)[cladding.profile].exposure
        width = sum(course.width * (2 if course.doubled else 1) for course in one.courses)
        square = _SQUARE * (_FOOT * job.inch) ** 2
        unit: Unit = "square" if job.units == "in" else "m²"
        bundle = square / materials()["shingle"]["bundles"] / _unit_area(job)
        return _item(
            job, name, in_squares(job, width * standard), cladding=cladding.name, unit=unit, step=bundle
        )
    return _item(
        job,
        name,
        one.bars,
        cladding=cladding.name,
        length=cladding.length,
        unit="carton" if cladding.carton else "each",
        per=cladding.carton or 1,
        bound=one.bound,
    )


def _trim_item(job: Job, trim: Trim) -> Item:
    size = trim.size if trim.kind in SIZED else 0.0
    cutting = trim.cutting
    return _item(job, trim.kind, len(cutting.bars), size=size, length=cutting.stock, bound=cutting.bound)


def _nail_items(plan: Plan, pieces: Pieces, trim: Sequence[Trim]) -> Iterator[Item]:
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
