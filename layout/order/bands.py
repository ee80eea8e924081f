"""Band boards and the drip caps on them: their lengths, and their ends where a rake cuts them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.geometry import spans_outside
from evencourse.layout.model.job import Opening, Point
from evencourse.layout.model.lengths import round_length
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.order.trim_runs import BandEnd, TrimRun
from evencourse.layout.wall.sides import crossings

_Spans = list[tuple[float, float]]
#: Levels in a board that are looked at, from its lower edge to its upper one.
_SHARES = (SAME, 0.5, 1 - SAME)


def band_runs(plan: Plan) -> Iterator[TrimRun]:
    """Band boards, and the drip cap on each.

    Args:
        plan: course lines and faces.

    Rules: a board is as long as its longest level line, in a gable its lower edge; its ends are cut along the
    rakes (geometry). The cap lies on its upper edge and is as long as that.
    """
    for face in plan.elevations:
        outline, openings = face.elevation.outline, face.elevation.openings
        for zone in face.zones:
            tall, low = zone.zone.trim, zone.zone.top
            if tall <= 0 or low is None:
                continue
            levels = [_level(outline, openings, low + tall * share) for share in _SHARES]
            name, cladding = face.elevation.name, zone.zone.cladding
            for span in max(levels, key=_covered):
                ends = (_end(outline, span, 0, low, tall), _end(outline, span, 1, low, tall))
                yield TrimRun(
                    "band board", round_length(tall, plan.job.round), name, cladding, "band", None, None,
                    span[1] - span[0], ends=ends,
                )  # fmt: skip
            for left, right in levels[-1]:
                yield TrimRun("drip cap", 0.0, name, cladding, "band", None, None, right - left)


def _end(
    outline: Sequence[Point], span: tuple[float, float], hand: int, low: float, tall: float
) -> BandEnd | None:
    """The cut along a rake at one end of a board; None where it ends square, or at an opening."""
    near, x = SAME * tall, span[hand]
    foot, head = (crossings(outline, low + tall * share)[hand::2] for share in (_SHARES[0], _SHARES[-1]))
    if not head or all(abs(end - x) > 10 * near for end in foot):
        return None
    over = abs(min(head, key=lambda end: abs(end - x)) - x)
    # Where the eave lies in the board the end stands square up to it.
    square = max(
        (y - low for at, y in outline if abs(at - x) <= 10 * near and low < y < low + tall), default=0.0
    )
    return BandEnd(tall - square, over, square) if over > 100 * near else None


def _covered(spans: Sequence[tuple[float, float]]) -> float:
    return sum(right - left for left, right in spans)


def _level(outline: Sequence[Point], openings: Sequence[Opening], height: float) -> _Spans:
    """Where a level line runs over a wall, openings with their trim left out."""
    walls = crossings(outline, height)
    spans = list(zip(walls[::2], walls[1::2], strict=True))
    for opening in openings:
        holes = crossings(opening.trimmed, height)
        spans = spans_outside(spans, zip(holes[::2], holes[1::2], strict=True))
    return spans
