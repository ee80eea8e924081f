"""What nails can hold: runs that are wide enough for a piece, and pieces that keep enough to nail through."""

from __future__ import annotations

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.pieces.piece_shape import PieceShape
from evencourse.layout.pieces.stretches import covered
from evencourse.layout.pieces.strips import Run, runs
from evencourse.layout.trade.materials import materials


def hung_runs(plan: Plan) -> tuple[tuple[Run, ...], tuple[Run, ...]]:
    """Runs that pieces are cut for, and those that are too narrow to be held.

    Args:
        plan: course lines and faces.

    Rule: a piece narrower than ``hold.least`` between its end gaps splits or falls out of its channel: none
    is cut, the trim covers it (common practice, no source).
    """
    least = float(materials()["hold"]["least"]) * plan.job.inch
    wide: list[Run] = []
    narrow: list[Run] = []
    for run in runs(plan):
        start, end = covered(plan, plan.course_sets[run.course_set].cladding, run)
        (wide if end - start >= least else narrow).append(run)
    return tuple(wide), tuple(narrow)


def is_held(
    plan: Plan, cladding: Cladding, shape: PieceShape, hem: float, length: float, height: float
) -> bool:
    """Whether nails still hold a piece: enough of a panel's hem is left, or of a board.

    Args:
        plan: for its units and the thinnest strip that it allows.
        cladding: of the piece.
        shape: of what is cut from it.
        hem: its length from short point to short point [job units].
        length: from long point to long point.
        height: of what shows.
    """
    table: dict[str, float] = materials()["hold"]
    if cladding.family == "shingle":
        return True
    if cladding.family == "panel":
        cut = sum(notch.width for notch in shape.notches if notch.edge == "top")
        kept = sum(end.over for end in (shape.left, shape.right) if end and end.long == "top")
        return hem + kept - cut >= table["hem"] * plan.job.inch
    return length >= table["board"] * plan.job.inch and height >= plan.job.limits.strip_min
