"""One order for several jobs: added up, rounded up once."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencourse.layout.model.job import Units
from evencourse.layout.order.order_items import Item
from evencourse.layout.order.street_order import JobOrder, street_order

PANELS = Item(
    "panel", ("main", "double-4", "panel"), "main", 0.0, 150.0, "carton", 18, 24, 1.0, 1.0, 17, 180.0
)
STRIP = Item("starter strip", ("starter strip",), "", 0.0, 150.0, "each", 2, 1.0, 1.0, 2.0, 2, None)
FURRING = Item("furring", ('furring 1/4"', "furring"), "", 0.25, 96.0, "each", 3, 1.0, 1.0, 3.0, 3, None)
NAILS = Item("nails", ('nails 2"', "nails"), "panel", 2.0, 0.0, "lb", 200, 138.0, 1.0, 2.0, None, None)
SHINGLES = Item(
    "shingles",
    ("main", "shingle-16", "shingles"),
    "main",
    0.0,
    0.0,
    "square",
    2.1,
    1.0,
    0.25,
    2.25,
    None,
    None,
)


def order(*items: Item, spare: float = 0.0, currency: str = "$", units: Units = "in") -> JobOrder:
    return JobOrder(units, items, tuple(item.item for item in items), spare, currency)


@pytest.mark.parametrize(("houses", "cartons"), [(1, 1), (2, 2), (3, 3), (4, 3), (10, 8)])
def test_cartons_are_rounded_up_once_for_the_street(houses: int, cartons: int) -> None:
    """By hand: 18 panels a house, 24 in a carton: 36 are 1.5 cartons, 54 2.25, 72 just 3, 180 7.5."""
    (line,) = street_order([order(PANELS)] * houses).items
    assert line.item.quantity == cartons
    assert line.apart == houses
    assert line.item.count == 18 * houses
    assert line.item.bound == 17 * houses


def test_each_house_brings_its_own_spare() -> None:
    """By hand: 18 x 1.1 = 19.8 and 18 x 1.5 = 27 are 46.8: 2 cartons of 24 would hold 48."""
    (line,) = street_order([order(PANELS, spare=0.1), order(PANELS, spare=0.5)]).items
    assert line.wanted == pytest.approx(46.8)
    assert line.item.quantity == 2


def test_bundles_and_pounds_are_rounded_up_once() -> None:
    """By hand: 2 x 2.1 = 4.2 squares are 17 bundles, 4.25; 400 nails at 138 are 2.9, so 3 lb, not 4."""
    shingles, nails = street_order([order(SHINGLES, NAILS)] * 2).items
    assert (shingles.item.quantity, shingles.apart) == (4.25, 4.5)
    assert (nails.item.quantity, nails.apart) == (3, 4)


@pytest.mark.parametrize(
    "other",
    [
        replace(PANELS, names=("main", "double-5", "panel")),
        replace(PANELS, length=144.0),
        replace(PANELS, per=20),
    ],
)
def test_what_differs_stays_apart(other: Item) -> None:
    assert [line.item.count for line in street_order([order(PANELS), order(other)]).items] == [18, 18]


def test_the_name_that_a_job_gives_its_cladding_does_not_matter() -> None:
    other = replace(PANELS, names=("walls", "double-4", "panel"), cladding="walls")
    (line,) = street_order([order(PANELS), order(other)]).items
    assert (line.item.count, line.jobs) == (36, 2)


def test_metric_jobs_stay_apart() -> None:
    assert len(street_order([order(STRIP), order(STRIP, units="mm")]).items) == 2


def test_siding_comes_first_and_kinds_stand_together_by_size() -> None:
    thin = replace(FURRING, size=0.125)
    found = street_order([order(FURRING, STRIP, NAILS), order(PANELS, thin)]).items
    assert [(line.item.item, line.item.size) for line in found] == [
        ("panel", 0.0), ("furring", 0.125), ("furring", 0.25), ("starter strip", 0.0), ("nails", 2.0),
    ]  # fmt: skip


def test_a_price_holds_when_all_that_give_one_agree() -> None:
    unpriced = replace(PANELS, price=None)
    found = street_order([order(PANELS), order(unpriced, currency=""), order(PANELS)])
    assert found.items[0].item.cost == 3 * 180
    assert (found.currency, found.total, found.prices_differ) == ("$", 540, ())


def test_prices_that_differ_are_told_and_not_reckoned() -> None:
    found = street_order([order(PANELS), order(replace(PANELS, price=175.0), STRIP)])
    assert found.items[0].item.price is None
    assert (found.total, found.prices_differ) == (None, ("panel",))


def test_prices_in_two_currencies_are_not_added() -> None:
    found = street_order([order(PANELS), order(PANELS, currency="€")])
    assert (found.total, found.currency, found.prices_differ) == (None, "", ("panel",))
