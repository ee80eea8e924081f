"""What the small heap of cut ends costs: the lengths that it takes, and those with every end kept."""

from __future__ import annotations

from dataclasses import dataclass

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.holding import hung_runs
from evencourse.layout.pieces.stock_choice import cut_runs

#: More ends than any job has pieces.
EVERY = 1_000_000_000


@dataclass(frozen=True)
class HeapCost:
    """What the heap holds and costs.

    Attributes:
        limit: ends that may wait at once.
        waits: the most that do.
        lengths: stock lengths that the job takes.
        every_end: that the same order of hanging takes when every end is kept.
    """

    limit: int
    waits: int
    lengths: int
    every_end: int


def heap_cost(plan: Plan, pieces: Pieces) -> HeapCost:
    """What the heap of a job costs, by choosing its seams and lengths again with every end kept.

    Args:
        plan: course lines and faces.
        pieces: of the same plan.
    """
    lengths = every = sum(len(cutting.bars) for cutting in pieces.stock.values())
    if lengths > sum(cutting.length_bound for cutting in pieces.stock.values()):  # else no layout takes fewer
        kept = cut_runs(plan, hung_runs(plan)[0], EVERY)
        every = min(lengths, sum(len(cutting.bars) for cutting in kept.values()))
    return HeapCost(plan.job.order.heap, most_waiting(pieces), lengths, every)


def most_waiting(pieces: Pieces) -> int:
    """The most cut ends that wait for use at once, of all claddings together.

    Args:
        pieces: any.
    """
    cuts = sorted(
        (cut for cutting in pieces.stock.values() for cut in cutting.cuts), key=lambda cut: cut.turn
    )
    waiting = most = 0
    for cut in cuts:
        waiting += (cut.leaves > 0) - (cut.source is not None)
        most = max(most, waiting)
    return most
