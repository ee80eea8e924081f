"""How much siding: areas, and for each cladding its pieces, its stock lengths and its waste."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.geometry import area as ring_area
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import round_length
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.order.fresh_starts import laid_double
from evencourse.layout.order.stock_bound import fewest_bars
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.piece import Piece
from evencourse.layout.trade.materials import materials
from evencourse.layout.wall.clad_area import clad_area

#: Square feet in a square, inches in a foot, millimetres in a metre.
SQUARE, FOOT, METRE = 100, 12, 1000


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
class ShingleCourse:
    """One course of shingles over the whole job.

    Attributes:
        course_set: name of its course set.
        number: of the course.
        exposure: [job units].
        width: of all its runs as the tape reads them [job units].
        doubled: width of it under which a second layer lies [job units].
    """

    course_set: str
    number: int
    exposure: float
    width: float
    doubled: float


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
    courses: tuple[ShingleCourse, ...] = ()

    @property
    def waste(self) -> float:
        """Share of what is bought that does not show; 0 for shingles."""
        return waste(self.area, self.bars * self.cover)

    @property
    def waste_bound(self) -> float:
        """The same with the stock lengths that no plan can do without."""
        return waste(self.area, self.bound * self.cover)


def cutting_bounds(pieces: Pieces) -> dict[str, int]:
    """By cladding, the stock lengths that no cutting of these very pieces can do without.

    Never less than what no plan at all can do without. See ``evencourse.layout.order.stock_bound``; it takes
    about as long as choosing the pieces, so it is no part of a take-off.

    Args:
        pieces: with their stock.
    """
    return {
        name: max(
            cutting.length_bound,
            fewest_bars(cutting.sizes, cutting.stock + cutting.kerf, len(cutting.bars)),
        )
        for name, cutting in pieces.stock.items()
    }


def lengths_by_area(area: float, exposure: float, length: float, more: float = 0.0) -> int:
    """Stock lengths by area alone: the arithmetic of estimating handbooks.

    Args:
        area: of the wall [square units].
        exposure: of a course [units].
        length: of a panel or board [units].
        more: share added for waste.

    Rule: a length covers its exposure times its length. Lap board of 8-1/4 in with a lap of 1-1/4 in: 12 ft
    cover 7 sq ft, 4000 sq ft take 572 (National Home Improvement Estimator).
    """
    return ceil(area * (1 + more) / (exposure * length) - ROUNDING)


def in_squares(job: Job, area: float) -> float:
    """An area in squares of 100 square feet; in square metres in a metric job.

    Args:
        job: for its units.
        area: [square job units].
    """
    return area / unit_area(job)


def shown_areas(job: Job, area: FaceArea) -> FaceArea:
    """Areas as they are shown, in hundredths of a square or of a square metre: ``gross`` is their sum."""
    parts = [round(in_squares(job, part), 2) for part in (area.openings, area.bands, area.net)]
    return FaceArea(area.face, sum(parts), *parts)


def unit_area(job: Job) -> float:
    """A square of 100 square feet, a square metre in a metric job [square job units]."""
    return float(SQUARE * FOOT**2 if job.units == "in" else METRE**2)


def waste(shown: float, bought: float) -> float:
    """Share of what is bought that does not show; 0 when nothing is bought."""
    return 1 - shown / bought if bought > 0 else 0.0


def face_area(plan: Plan, face: ElevationPlan) -> FaceArea:
    """The areas of one face: gross, what is left out, and net."""
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
        return Siding(cladding, area, 0, 0, 0, 0, 0.0, tuple(_courses(plan.job, mine, laid_double(plan))))
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
    return ring_area(piece.polygon) - sum(abs(ring_area(hole)) for hole in piece.holes)


def _courses(
    job: Job, mine: Sequence[Piece], doubled: Mapping[tuple[str, int], float]
) -> Iterator[ShingleCourse]:
    """Courses of shingles; the first of each set is laid double (common practice, no source).

    Each is as wide as its runs add up to on the tape, so that whoever adds them up finds the same.
    """
    found: dict[tuple[str, int], list[Piece]] = {}
    for piece in mine:
        found.setdefault((piece.course_set, piece.course), []).append(piece)
    for (course_set, number), runs in sorted(found.items(), key=lambda pair: pair[0]):
        width = sum(round_length(run.length, job.round) for run in runs)
        double = width if number == 1 else min(width, doubled.get((course_set, number), 0.0))
        yield ShingleCourse(course_set, number, runs[0].exposure, width, double)
