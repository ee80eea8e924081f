"""``claddings``: the profiles that come with the program, and where their values come from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from typing import Annotated

import typer

from evencourse.cli.reports.table import Column, Screen, clean, show, styled, table, wrapped
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.lengths import show_length
from evencourse.layout.trade.profiles import LENGTHS, profiles

ProfileArgument = Annotated[
    str | None,
    typer.Argument(metavar="PROFILE", help=noop("Show every property of one profile."), show_default=False),
]


def claddings(profile: ProfileArgument = None) -> int:
    """List the shipped profiles with limits and sources."""
    known = profiles("in")
    if profile is None:
        show(lambda on: _all(known, on))
    elif profile in known:
        show(lambda on: _one(known[profile], on))
    else:
        near = get_close_matches(profile, known, n=3, cutoff=0.5) or list(known)
        raise JobError([Fault("PROFILE", f'"{profile}"', " or ".join(near))])
    return 0


def _tape(inches: float, feet: bool = False) -> str:
    return show_length(inches, "in", 1 / 64, feet)


def _carton(cladding: Cladding) -> str:
    if cladding.carton:
        squares = f" = {cladding.carton_squares:g} squares" if cladding.carton_squares else ""
        return f"{cladding.carton}{squares}"
    return "by the square" if cladding.family == "shingle" else "by the piece"


def _all(known: Mapping[str, Cladding], on: Screen) -> Iterator[str]:
    rows = [
        [
            name,
            cladding.family,
            _tape(cladding.exposure),
            "molded in"
            if cladding.fixed
            else f"{_tape(cladding.exposure_min)} to {_tape(cladding.exposure_max)}",
            _tape(cladding.length, feet=True) if cladding.length else "random",
            _carton(cladding),
            cladding.source,
        ]
        for name, cladding in known.items()
    ]
    columns = [
        Column("Profile"),
        Column("Family"),
        Column("Exposure", right=True),
        Column("Limits"),
        Column("Length", right=True),
        Column("Carton"),
        Column("Source", wraps=True),
    ]
    yield from table(columns, rows, on)
    yield ""
    words = (
        "Every value can be overridden in the job file. Sources in full: evencourse guide sources. The "
        "maker's instructions and the local code govern."
    )
    yield from wrapped(words, on.width)


def _one(cladding: Cladding, on: Screen) -> Iterator[str]:
    yield styled(clean(f"{cladding.profile}: {cladding.label}"), "strong", on)
    rows = [
        ["family", cladding.family],
        ["material", cladding.material],
        ["steps", str(cladding.faces)],
        ["carton", _carton(cladding)],
        ["cold, at or below", f"{cladding.cold:g} F"],
    ]
    rows += [
        [words, _tape(getattr(cladding, key), feet=key == "length")]
        for key, words in LENGTHS.items()
        if getattr(cladding, key)
    ]
    rows.append(["source", cladding.source])
    yield from table([Column(""), Column("", wraps=True)], rows, on)
