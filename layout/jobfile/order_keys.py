"""The job file's ``[order]`` table: spare, prices, stock lengths of trim, cutoffs, the order of faces."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from difflib import get_close_matches
from typing import Any

from evencourse.layout.jobfile.job_values import describe
from evencourse.layout.jobfile.table_reader import DEAREST, Path, Reader
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.job import Order
from evencourse.layout.trade.materials import materials

#: Shortest stock length of trim that is believed [inches]: a bound on work, no trade rule.
SHORTEST = 12.0
#: What is wanted of a list of names, of one name and of each, for the catalogues, by what they name.
_NAMES = {
    "elevation": (
        noop("a list of names of elevations"),
        noop("the name of an elevation"),
        noop("each elevation once"),
    ),
    "language": (
        noop("a list of names of languages"),
        noop("the name of a language"),
        noop("each language once"),
    ),
}


def read_order(reader: Reader, top: Mapping[str, Any], faces: Collection[str]) -> Order:
    """The order, every fault in it reported to the reader.

    Args:
        reader: of the job file.
        top: its tables.
        faces: names of its elevations.
    """
    found = reader.table(top.get("order", {}), "order", ("order",))
    return Order(
        found["spare"],
        _prices(reader, found.get("prices", {})),
        found["currency"],
        _lengths(reader, found.get("lengths", {})),
        found["heap"],
        read_names(reader, found.get("faces", []), ("order", "faces"), faces, "elevation"),
    )


def read_names(reader: Reader, raw: object, path: Path, known: Collection[str], what: str) -> tuple[str, ...]:
    """Some of the known names, in the order that is wanted, each once.

    Args:
        reader: of the job file.
        raw: what stands there.
        path: where it stands.
        known: names that there are.
        what: they are the names of: ``elevation`` or ``language``.
    """
    list_wanted, name_wanted, once = _NAMES[what]
    if not isinstance(raw, list):
        if raw != reader.gap:
            reader.fault(path, describe(raw), gettext(list_wanted))
        return ()
    found: list[str] = []
    for at, name in enumerate(raw):
        if name == reader.gap:
            continue
        if not isinstance(name, str) or name not in known:
            near = get_close_matches(name, known, 1, 0.4) if isinstance(name, str) else []
            wanted = f'"{near[0]}"' if near else gettext(name_wanted)
            if what == "language":  # codes are alike without being near
                wanted = gettext("one of {words}", words=", ".join(known))
            reader.fault((*path, at), describe(name), wanted)
        elif name in found:
            reader.fault((*path, at), describe(name), gettext(once))
        else:
            found.append(name)
    return tuple(found)


def _prices(reader: Reader, raw: object) -> dict[str, float]:
    if not isinstance(raw, dict):
        if raw != reader.gap:
            reader.fault(("order", "prices"), describe(raw), gettext("a table of prices by item"))
        return {}
    prices: dict[str, float] = {}
    for item, price in raw.items():
        here = ("order", "prices", item)
        if price == reader.gap:
            continue
        if isinstance(price, bool) or not isinstance(price, int | float) or not 0 <= price < DEAREST:
            wanted = gettext("a price such as 12.50, from 0 to less than {dearest}", dearest=f"{DEAREST:,}")
            reader.fault(here, describe(price), wanted)
        elif (name := reader.text(item, gettext("the item's name"), here)) is not None:
            prices[name] = float(price)
    return prices


def _lengths(reader: Reader, raw: object) -> dict[str, float]:
    """Stock lengths by kind of trim."""
    if not isinstance(raw, dict):
        if raw != reader.gap:
            reader.fault(
                ("order", "lengths"), describe(raw), gettext("a table of stock lengths by kind of trim")
            )
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
                gettext("a kind of trim named {name}", name=describe(kind)),
                f'"{near[0]}"' if near else gettext("one of {names}", names=", ".join(known)),
            )
            continue
        length = reader.length(value, path)
        if length is not None and length < shortest:
            reader.fault(
                path, describe(value), gettext("a length of at least {length} in", length=f"{SHORTEST:g}")
            )
        elif length is not None:
            lengths[kind] = length
    return lengths
