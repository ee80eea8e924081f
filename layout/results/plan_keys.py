"""Where the keys of the plan file differ from the fields of the plan, its pieces and its order."""

from __future__ import annotations

from dataclasses import dataclass

from evencourse.layout.courses.certainty import Certainty, PassedOver, SureEdge, Worst
from evencourse.layout.courses.crept import Crept
from evencourse.layout.model.course_plan import (
    Base,
    CourseSet,
    Edge,
    ElevationPlan,
    Plan,
    Rake,
    Score,
    ZonePlan,
)
from evencourse.layout.model.low_slope import LowSlope
from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.order_items import Item
from evencourse.layout.order.siding_quantities import FaceArea, ShingleCourse, Siding
from evencourse.layout.order.trims import TrimBars
from evencourse.layout.pieces.piece import Piece
from evencourse.layout.results.encoding import Differs, Encoding


@dataclass(frozen=True)
class TrimPiece:
    """One piece of a run of trim.

    Attributes:
        length: [job units].
        bar: number of the stock length it is cut from, from 1.
    """

    length: float
    bar: int


@dataclass(frozen=True)
class TrimRunPieces:
    """One run of trim and its pieces.

    Attributes:
        elevation: name of the face.
        place: where it goes.
        opening: mark of the opening, the left one of several; null elsewhere.
        beside: marks of the openings to the right that it runs on over, or under.
        hand: at which end of the siding; null where it runs along it.
        length: [job units].
        pieces: in the order of fixing.
    """

    elevation: str
    place: str
    opening: str | None
    beside: tuple[str, ...]
    hand: str | None
    length: float
    pieces: tuple[TrimPiece, ...]


def _bars(trim: TrimBars) -> int:
    """How many stock lengths are cut."""
    return len(trim.cutting.bars)


def _runs(trim: TrimBars) -> tuple[TrimRunPieces, ...]:
    """Its runs, in the order of the faces."""
    cuts: list[list[TrimPiece]] = [[] for _ in trim.runs]
    for piece in trim.cutting.pieces:
        cuts[piece.run].append(TrimPiece(piece.length, piece.bar + 1))
    return tuple(
        TrimRunPieces(run.face, run.place, run.opening, run.beside, run.hand, run.length, tuple(cut))
        for run, cut in zip(trim.runs, cuts, strict=True)
    )


def _edges(face: ElevationPlan) -> tuple[Edge | Base, ...]:
    """Heads, sills, eaves and band boards from the bottom up, then every level stretch of base."""
    return (*(edge for edge in face.edges if edge.edge != "base"), *face.bases)


def _base(base: Base) -> str:
    """Always ``base``."""
    return "base"


ENCODING = Encoding(
    {
        Plan: Differs(
            first=(
                ("job", "job.name"),
                ("units", "job.units"),
                ("round", "job.round"),
                ("datum", "job.datum"),
                "clean",
            ),
            left_out=frozenset({"changes", "given"}),
        ),
        CourseSet: Differs(
            first=(
                ("cladding", "cladding.profile"),
                ("cladding_name", "cladding.name"),
                "prefix",
                "limits",
                ("starter", "lines.starter"),
                "chalk_line",
                ("butt_lines", "lines.butt_lines"),
                ("bands", "lines.bands"),
                ("score", "lines.score"),
            ),
            left_out=frozenset({"name", "unmet", "begun"}),
            spread=("carried",),
        ),
        Score: Differs(first=("flush", ("notch", "notches"), ("sliver", "slivers"))),
        ElevationPlan: Differs(
            first=(
                ("name", "elevation.name"),
                ("courses", "elevation.courses"),
                "area",
                "zones",
                ("edges", _edges),
            ),
            left_out=frozenset({"edges", "bases"}),
            may_lack=frozenset({"built", "levelled", "low_slopes"}),
        ),
        Base: Differs(
            first=(
                ("edge", _base),
                "height",
                ("from", "left"),
                ("to", "right"),
                *("result", "course_set", "course", "line", "cover", "chalk_line"),
            ),
        ),
        ZonePlan: Differs(
            first=(("cladding", "zone.cladding"), "course_set", "bottom", "top", ("trim", "zone.trim"))
        ),
        Edge: Differs(left_out=frozenset({"lines"}), may_lack=frozenset({"roof"})),
        Rake: Differs(first=(("from", "start"), ("to", "end")), may_lack=frozenset({"roof"})),
        LowSlope: Differs(first=(("from", "start"), ("to", "end")), may_lack=frozenset({"roof", "thin"})),
        Crept: Differs(
            first=("course_set", ("first_course", "first"), ("last_course", "last")),
            left_out=frozenset({"face", "prefix", "cladding"}),
        ),
        Certainty: Differs(first=("error", "worst", "passed_over"), left_out=frozenset({"robust"})),
        SureEdge: Differs(left_out=frozenset({"importance"}), may_lack=frozenset({"roof"})),
        PassedOver: Differs(first=(("starter", "lines.starter"),), spread=("worst",)),
        Worst: Differs(first=("missed_must", ("sliver", "slivers"), "flush")),
        Piece: Differs(
            first=(
                *("id", "course", "course_set", "cladding", "left", "right"),
                *("length", "short", "start", "end", "exposure"),
            ),
            left_out=frozenset({"face", "bottom", "top", "foot"}),
        ),
        TakeOff: Differs(
            first=("items", "waste", "waste_bound", "spare", "currency", "total"),
            left_out=frozenset({"prices_unused"}),
        ),
        Item: Differs(
            first=(
                *("item", "quantity", "unit", "length", "net", "cladding"),
                *("size", "count", "per", "bound", "price", "cost"),
            ),
            left_out=frozenset({"names", "step"}),
        ),
        FaceArea: Differs(first=(("elevation", "face"),)),
        Siding: Differs(
            first=(
                ("cladding", "cladding.name"),
                *("area", "pieces", "bars", "bound", "by_thumb", "waste", "waste_bound"),
            ),
            left_out=frozenset({"cover"}),
        ),
        ShingleCourse: Differs(first=("course_set", ("course", "number"), "exposure", "width", "doubled")),
        TrimBars: Differs(
            first=(
                ("trim", "kind"),
                "size",
                ("stock", "cutting.stock"),
                ("bars", _bars),
                ("bound", "cutting.bound"),
                ("runs", _runs),
            ),
            left_out=frozenset({"nails", "runs"}),
        ),
    }
)
