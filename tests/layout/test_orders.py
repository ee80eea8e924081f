"""Orders of pieces: all of them where they are few, a spread of them where they are many."""

from __future__ import annotations

from itertools import permutations

import pytest

from evencourse.layout.pieces.run_orders import orders


@pytest.mark.parametrize("kinds", [(), (1,), (0, 0, 1), (1, 2, 3), (0, 1, 1), (0, 0, 1, 2), (0, 0, 0, 1, 2)])
def test_every_order_that_differs_once_in_the_order_of_permutations(kinds: tuple[int, ...]) -> None:
    found: dict[tuple[int, ...], tuple[int, ...]] = {}
    for order in permutations(range(len(kinds))):
        found.setdefault(tuple(kinds[i] for i in order), order)
    assert orders(kinds) == tuple(found.values())


def test_a_long_run_is_tried_in_a_bounded_number_of_orders_spread_over_it() -> None:
    kinds = (0,) * 30 + (31, 32, 33)
    tried = orders(kinds)
    assert 100 < len(tried) <= 240
    assert all(sorted(order) == list(range(33)) for order in tried)
    assert {order.index(31) for order in tried} >= set(range(0, 33, 8)) - {32}
