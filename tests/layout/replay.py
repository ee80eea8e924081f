"""The list that a crew follows, replayed piece by piece: written from its words, not from the search."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.piece import Piece


def in_turn(plan: Plan, cut: Pieces) -> Iterator[Piece]:
    """Every piece that is cut from a length, in the order of hanging."""
    rank = {name: at for at, name in enumerate(plan.job.order.faces)}
    for face in sorted(cut.faces, key=lambda face: rank.get(face.face, len(rank))):
        yield from sorted((piece for piece in face.pieces if piece.source), key=lambda piece: piece.order)


def replay(plan: Plan, cut: Pieces) -> tuple[list[str], dict[str, int], int]:
    """What is wrong with the list, the lengths that it opens by cladding, the most ends that wait at once.

    A crew cuts each piece from a new length or from the end that the list names; what the list says goes on
    the heap must be what is left: the length less the piece and one cut of the saw. An end lies there until
    it is used, is of the same siding, and is used once; at the end the heap is empty.
    """
    wrong: list[str] = []
    heap: dict[str, tuple[str, float]] = {}
    opened: dict[str, int] = {}
    most = 0
    near = 0.003 * plan.job.inch
    for piece in in_turn(plan, cut):
        cladding = plan.job.claddings[piece.cladding]
        kerf = cut.stock[piece.cladding].kerf
        if piece.source == "new":
            opened[piece.cladding] = opened.get(piece.cladding, 0) + 1
            length = cladding.length
        elif piece.source in heap:
            siding, length = heap.pop(piece.source)
            if siding != piece.cladding:
                wrong.append(f"{piece.id}: of {piece.cladding}, cut from {siding}")
        else:
            wrong.append(f"{piece.id}: {piece.source} is not on the heap")
            continue
        rest = length - piece.length - kerf
        if piece.length > length + near:
            wrong.append(f"{piece.id}: {piece.length} from {length}")
        if piece.leaves and piece.thrown:
            wrong.append(f"{piece.id}: kept and thrown away")
        if abs(max(rest, 0.0) - piece.leaves - piece.thrown) > near:
            wrong.append(f"{piece.id}: leaves {rest}, not {piece.leaves} or {piece.thrown}")
        if piece.leaves:
            heap[piece.id] = (piece.cladding, piece.leaves)
        most = max(most, len(heap))
    if heap:
        wrong.append(f"never used: {sorted(heap)}")
    if most > plan.job.order.heap:
        wrong.append(f"{most} ends wait at once")
    for name, cutting in cut.stock.items():
        if opened.get(name, 0) != len(cutting.bars):
            wrong.append(f"{name}: {opened.get(name, 0)} opened, {len(cutting.bars)} told")
    return wrong, opened, most
