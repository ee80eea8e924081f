"""Pieces and take-off as the plan file holds them."""

from __future__ import annotations

from typing import Any

from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.order_items import Item
from evencourse.layout.order.siding_quantities import FaceArea, Siding
from evencourse.layout.order.trims import Trim
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.heap_cost import HeapCost
from evencourse.layout.pieces.piece import End, Notch, Piece
from evencourse.layout.results.plan_file import Material

Json = dict[str, Any]


def material(pieces: Pieces, found: TakeOff, heap: HeapCost) -> Material:
    """What pieces and take-off add to the plan file; lengths in the job's units, unrounded.

    Args:
        pieces: of the plan.
        found: its take-off.
        heap: what its heap of cut ends costs.
    """
    return Material(
        pieces={face.face: tuple(_piece(piece) for piece in face.pieces) for face in pieces.faces},
        takeoff={
            "items": [_item(item) for item in found.items],
            "waste": _number(found.waste),
            "waste_bound": _number(found.waste_bound),
            "spare": _number(found.spare),
            "currency": found.currency,
            "total": _maybe(found.total),
            "areas": [_area(area) for area in found.areas],
            "siding": [_siding(siding) for siding in found.siding],
            "trims": [_trim(trim) for trim in found.trims],
            "heap": {
                "limit": heap.limit,
                "waits": heap.waits,
                "lengths": heap.lengths,
                "every_end": heap.every_end,
            },
        },
    )


def _number(value: float) -> float:
    """A float without a sign on its zero."""
    return float(value) + 0.0


def _maybe(value: float | None) -> float | None:
    return None if value is None else _number(value)


def _points(points: tuple[tuple[float, float], ...]) -> list[list[float]]:
    return [[_number(x), _number(y)] for x, y in points]


def _piece(piece: Piece) -> Json:
    return {
        "id": piece.id,
        "course": piece.course,
        "course_set": piece.course_set,
        "cladding": piece.cladding,
        "left": _number(piece.left),
        "right": _number(piece.right),
        "length": _number(piece.length),
        "short": _number(piece.short),
        "start": _number(piece.start),
        "end": _number(piece.end),
        "exposure": _number(piece.exposure),
        "polygon": _points(piece.polygon),
        "holes": [_points(hole) for hole in piece.holes],
        "left_end": _end(piece.left_end),
        "right_end": _end(piece.right_end),
        "notches": [_notch(notch) for notch in piece.notches],
        "rip": None
        if piece.rip is None
        else {"edge": piece.rip.edge, "left": _number(piece.rip.left), "right": _number(piece.rip.right)},
        "stock": piece.stock,
        "cut": piece.cut,
        "order": piece.order,
        "held": piece.held,
        "source": piece.source or None,
        "leaves": _number(piece.leaves),
        "thrown": _number(piece.thrown),
    }


def _end(end: End) -> Json:
    return {
        "shape": end.shape,
        "meets": end.meets,
        "gap": _number(end.gap),
        "up": _number(end.up),
        "over": _number(end.over),
        "long": end.long,
    }


def _notch(notch: Notch) -> Json:
    return {
        "edge": notch.edge,
        "left": _number(notch.left),
        "width": _number(notch.width),
        "depth": _number(notch.depth),
        "right": _number(notch.right),
        "rest": _number(notch.rest),
        "curved": notch.curved,
    }


def _item(item: Item) -> Json:
    return {
        "item": item.item,
        "quantity": _number(item.quantity),
        "unit": item.unit,
        "length": _number(item.length),
        "net": _number(item.net),
        "cladding": item.cladding,
        "size": _number(item.size),
        "count": _number(item.count),
        "per": _number(item.per),
        "bound": item.bound,
        "price": _maybe(item.price),
        "cost": _maybe(item.cost),
    }


def _area(area: FaceArea) -> Json:
    return {
        "elevation": area.face,
        "gross": _number(area.gross),
        "openings": _number(area.openings),
        "bands": _number(area.bands),
        "net": _number(area.net),
    }


def _siding(siding: Siding) -> Json:
    return {
        "cladding": siding.cladding.name,
        "area": _number(siding.area),
        "pieces": siding.pieces,
        "bars": siding.bars,
        "bound": siding.bound,
        "by_thumb": siding.by_thumb,
        "waste": _number(siding.waste),
        "waste_bound": _number(siding.waste_bound),
        "courses": [
            {
                "course_set": course.course_set,
                "course": course.number,
                "exposure": _number(course.exposure),
                "width": _number(course.width),
                "layers": 2 if course.doubled else 1,
            }
            for course in siding.courses
        ],
    }


def _trim(trim: Trim) -> Json:
    cutting = trim.cutting
    cuts: list[list[Json]] = [[] for _ in trim.runs]
    for piece in cutting.pieces:
        cuts[piece.run].append({"length": _number(piece.length), "bar": piece.bar + 1})
    return {
        "trim": trim.kind,
        "size": _number(trim.size),
        "stock": _number(cutting.stock),
        "bars": len(cutting.bars),
        "bound": cutting.bound,
        "runs": [
            {
                "elevation": run.face,
                "place": run.place,
                "opening": run.opening,
                "hand": run.hand,
                "length": _number(run.length),
                "pieces": cut,
            }
            for run, cut in zip(trim.runs, cuts, strict=True)
        ],
    }
