"""One order for several jobs: what is alike is added up and rounded up once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

from evencourse.layout.model.job import Units
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.order.order_items import WORDS, Item


@dataclass(frozen=True)
class JobOrder:
    """The order of one job, small enough to be sent between processes.

    Attributes:
        units: of every length in it.
        items: line by line.
        words: what each line is, in English whatever the crew reads; as many as there are lines.
        spare: share added to every quantity.
        currency: shown before prices.
    """

    units: Units
    items: tuple[Item, ...]
    words: tuple[str, ...]
    spare: float
    currency: str


@dataclass(frozen=True)
class StreetItem:
    """One line of the order for all jobs.

    Attributes:
        words: what it is, in English.
        item: the line: ``count`` and ``bound`` are sums, ``quantity`` is rounded up once.
        units: of its lengths.
        jobs: how many jobs take it.
        wanted: what they take with each job's spare, before rounding [pieces, nails or squares].
        apart: sum of what each job orders for itself [its unit].
    """

    words: str
    item: Item
    units: Units
    jobs: int
    wanted: float
    apart: float


@dataclass(frozen=True)
class StreetOrder:
    """The order for all jobs.

    Attributes:
        items: siding, trim, blocks and nails, in that order.
        currency: shown before prices.
        prices_differ: what jobs give different prices for, or prices in different currencies: no cost is
            reckoned for it.
    """

    items: tuple[StreetItem, ...]
    currency: str
    prices_differ: tuple[str, ...]

    @property
    def total(self) -> float | None:
        """Cost of all lines with a price; None when none has one."""
        costs = [one.item.cost for one in self.items if one.item.cost is not None]
        return sum(costs) if costs else None


def street_order(orders: Sequence[JobOrder]) -> StreetOrder:
    """Add the orders of several jobs up.

    Args:
        orders: in the order of the jobs; kinds of goods stand in the order in which they first come up.

    Rules: lines are alike when words, profile, size, length, unit and packing are; lengths are compared in
    the job's own units, so that inch and metric jobs stay apart. Exact counts and each job's spare are added
    first, then the sum is rounded up, once (common practice, no source): 18 panels for each of two houses, 24
    in a carton, are 36, so 2 cartons; of three, 54, so 3; of ten, 180, so 8 where each for itself would take
    10. Every job is cut from its own lengths. A price holds when all jobs that give one agree.
    """
    found: dict[tuple[object, ...], list[tuple[JobOrder, Item, str]]] = {}
    for order in orders:
        for item, words in zip(order.items, order.words, strict=True):
            found.setdefault(_alike(order, item, words), []).append((order, item, words))
    currencies = {order.currency for order in orders if any(item.price is not None for item in order.items)}
    one_currency = len(currencies) < 2
    sums = [_sum(same, one_currency) for same in found.values()]
    kinds = list(dict.fromkeys(one.item.item for one in sums))
    items = sorted(
        sums, key=lambda one: (_rank(one.item), kinds.index(one.item.item), one.units, one.item.size)
    )
    return StreetOrder(
        tuple(items),
        currencies.pop() if len(currencies) == 1 else "",
        tuple(_differing(found.values(), one_currency)),
    )


def _alike(order: JobOrder, item: Item, words: str) -> tuple[object, ...]:
    goods = {"nails": item.cladding}.get(item.item, item.names[-2] if item.item in WORDS.values() else "")
    return (order.units, words, item.item, goods, item.size, item.length, item.unit, item.per, item.step)


def _sum(same: Sequence[tuple[JobOrder, Item, str]], one_currency: bool) -> StreetItem:
    first, words = same[0][1], same[0][2]
    wanted = sum(item.count * (1 + order.spare) for order, item, _ in same)
    bounds = [item.bound for _, item, _ in same if item.bound is not None]
    prices = _prices(same)
    item = replace(
        first,
        count=sum(item.count for _, item, _ in same),
        quantity=ceil(wanted / first.per / first.step - ROUNDING) * first.step,
        bound=sum(bounds) if bounds else None,
        price=prices.pop() if len(prices) == 1 and one_currency else None,
    )
    jobs = len({id(order) for order, _, _ in same})
    return StreetItem(words, item, same[0][0].units, jobs, wanted, sum(one.quantity for _, one, _ in same))


def _prices(same: Sequence[tuple[JobOrder, Item, str]]) -> set[float]:
    return {item.price for _, item, _ in same if item.price is not None}


def _differing(groups: Iterable[Sequence[tuple[JobOrder, Item, str]]], one_currency: bool) -> Iterator[str]:
    for same in groups:
        prices = _prices(same)
        if len(prices) > 1 or (prices and not one_currency):
            yield same[0][2]


def _rank(item: Item) -> int:
    if item.item in WORDS.values():
        return 0
    return {"mounting block": 2, "nails": 3}.get(item.item, 1)
