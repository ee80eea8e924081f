"""Everything that a plan is built of: its pieces, its trim, how both are cut, and what to order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.order.cut_list import CutList, cut_list
from evencourse.layout.order.heap_cost import HeapCost, heap_cost
from evencourse.layout.order.job_order import TakeOff, takeoff
from evencourse.layout.order.siding_quantities import Siding, cutting_bounds, sidings
from evencourse.layout.order.trims import TrimBars, trims
from evencourse.layout.pieces.all_pieces import Pieces, pieces


@dataclass(frozen=True)
class Material:
    """What a plan is built of. Each part is worked out once, when it is first asked for.

    Attributes:
        plan: course lines and faces; its job's ``order`` holds spare, prices and stock lengths.
    """

    plan: Plan

    @cached_property
    def pieces(self) -> Pieces:
        """Every piece of siding, and the stock length that it is cut from."""
        return pieces(self.plan)

    @cached_property
    def sidings(self) -> tuple[Siding, ...]:
        """By cladding, what is hung, what it is cut from, and the waste."""
        return sidings(self.plan, self.pieces)

    @cached_property
    def trims(self) -> tuple[TrimBars, ...]:
        """Trim by kind and size, with its cutting."""
        return trims(self.plan)

    @cached_property
    def cuts(self) -> CutList:
        """The cut list: pieces in the order of hanging, and every length for the saw."""
        return cut_list(self.plan, self.pieces, self.trims)

    @cached_property
    def order(self) -> TakeOff:
        """What to order: siding, trim, nails and furring, with areas and waste."""
        return takeoff(self.plan, self.pieces, self.sidings, self.trims)

    @cached_property
    def bounds(self) -> Mapping[str, int]:
        """By cladding, the stock lengths that no cutting of these pieces can do without."""
        return cutting_bounds(self.pieces)

    @cached_property
    def heap(self) -> HeapCost:
        """What keeping few cutoffs costs; its search is as long as that for the pieces."""
        return heap_cost(self.plan, self.pieces)


def material(plan: Plan) -> Material:
    """The material of a plan.

    Args:
        plan: what to build.
    """
    return Material(plan)
