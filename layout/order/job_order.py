"""What to order for a whole job: areas, siding, trim, nails and furring, and the waste."""

from __future__ import annotations

from dataclasses import dataclass

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.order.order_items import Item, order_items
from evencourse.layout.order.siding_quantities import FaceArea, Siding, face_area, waste
from evencourse.layout.order.trims import TrimBars
from evencourse.layout.pieces.all_pieces import Pieces


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
    trims: tuple[TrimBars, ...]
    items: tuple[Item, ...]
    spare: float
    currency: str
    prices_unused: tuple[str, ...]

    @property
    def waste(self) -> float:
        """Share of all bought panels and boards that does not show."""
        cut = [siding for siding in self.siding if siding.bars]
        return waste(sum(one.area for one in cut), sum(one.bars * one.cover for one in cut))

    @property
    def waste_bound(self) -> float:
        """The same with the stock lengths that no plan can do without."""
        cut = [siding for siding in self.siding if siding.bars]
        return waste(sum(one.area for one in cut), sum(one.bound * one.cover for one in cut))

    @property
    def total(self) -> float | None:
        """Cost of all lines with a price; None when none has one."""
        costs = [item.cost for item in self.items if item.cost is not None]
        return sum(costs) if costs else None


def takeoff(plan: Plan, pieces: Pieces, hung: tuple[Siding, ...], trim: tuple[TrimBars, ...]) -> TakeOff:
    """What to order.

    Args:
        plan: course lines and faces; its job's ``order`` holds spare, prices and stock lengths.
        pieces: of the same plan.
        hung: what of each cladding is hung and cut.
        trim: of the same plan, with its cutting.

    Rules: ``evencourse.layout.order.siding_quantities``, ``evencourse.layout.order.trims``,
    ``evencourse.layout.order.order_items``.
    """
    items = order_items(plan, pieces, hung, trim)
    order = plan.job.order
    named = {name for item in items for name in item.names}
    return TakeOff(
        areas=tuple(face_area(plan, face) for face in plan.elevations),
        siding=hung,
        trims=trim,
        items=items,
        spare=order.spare,
        currency=order.currency,
        prices_unused=tuple(name for name in order.prices if name not in named),
    )
