"""The job file's ``[order]`` table: spare, prices, and stock lengths of trim."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any

from evencourse.layout.jobfile.table_reader import DEAREST, Reader, describe
from evencourse.layout.model.job import Order
from evencourse.layout.trade.materials import materials

#: Shortest stock length of trim that is believed [inches]: a bound on work, no trade rule.
SHORTEST = 12.0


def read_order(reader: Reader, top: Mapping[str, Any]) -> Order:
    """The order, every fault in it reported to the reader."""
    found = reader.table(top.get("order", {}), "order", ("order",))
    return Order(
        found["spare"],
        _prices(reader, found.get("prices", {})),
        found["currency"],
        _lengths(reader, found.get("lengths", {})),
    )


def _prices(reader: Reader, raw: object) -> dict[str, float]:
    if not isinstance(raw, dict):
        if raw != reader.gap:
            reader.fault(("order", "prices"), describe(raw), "a table of prices by item")
        return {}
    prices: dict[str, float] = {}
    for item, price in raw.items():
        here = ("order", "prices", item)
        if price == reader.gap:
            continue
        if isinstance(price, bool) or not isinstance(price, int | float) or not 0 <= price < DEAREST:
            reader.fault(here, describe(price), "a price that is not negative")
        elif (name := reader.text(item, "the item's name", here)) is not None:
            prices[name] = float(price)
    return prices


def _lengths(reader: Reader, raw: object) -> dict[str, float]:
    """Stock lengths by kind of trim."""
    if not isinstance(raw, dict):
        if raw != reader.gap:
            reader.fault(("order", "lengths"), describe(raw), "a table of stock lengths by kind of trim")
        return {}
    known = materials()["trim"]
    shortest = SHORTEST * (1.0 if reader.units == "in" else 25.4)
    lengths: dict[str, float] = {}
    for kind, value in raw.items():
        path = ("order", "lengths", kind)
        if value == reader.gap:
            continue
        if kind not in known:
            near = get_close_matches(kind, known, 1, 0.4)
            reader.fault(
                path,
                f"a kind of trim named {describe(kind)}",
                f'"{near[0]}"' if near else f"one of {', '.join(known)}",
            )
            continue
        length = reader.length(value, path)
        if length is not None and length < shortest:
            reader.fault(path, describe(value), f"a length of at least {SHORTEST:g} in")
        elif length is not None:
            lengths[kind] = length
    return lengths
