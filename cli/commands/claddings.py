"""``claddings``: the profiles that come with the program, and where their values come from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from typing import Annotated

import typer

from evencourse.cli.reports.table import Column, Screen, clean, show, styled, table, wrapped
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import decimals, gettext, noop, pgettext
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
        raise JobError([Fault("PROFILE", f'"{profile}"', either(near))])
    return 0


def _tape(inches: float, feet: bool = False) -> str:
    return show_length(inches, "in", 1 / 64, feet)


def _carton(cladding: Cladding) -> str:
    if cladding.carton:
        if not cladding.carton_squares:
            return str(cladding.carton)
        squares = decimals(f"{cladding.carton_squares:g}")
        return gettext("{pieces} = {squares} squares", pieces=cladding.carton, squares=squares)
    if cladding.family == "shingle":
        return pgettext("how siding is sold", "by the square")
    return pgettext("how siding is sold", "by the piece")


def _all(known: Mapping[str, Cladding], on: Screen) -> Iterator[str]:
    rows = [
        [
            name,
            cladding.family,
            _tape(cladding.exposure),
            pgettext("exposure", "molded in")
            if cladding.fixed
            else gettext(
                "{least} to {most}",
                least=_tape(cladding.exposure_min),
                most=_tape(cladding.exposure_max),
            ),
            _tape(cladding.length, feet=True) if cladding.length else pgettext("stock length", "random"),
            _carton(cladding),
            cladding.source,
        ]
        for name, cladding in known.items()
    ]
    columns = [
        Column(pgettext("column of claddings", "Profile")),
        Column(pgettext("column of claddings", "Family")),
        Column(pgettext("column of claddings", "Exposure"), right=True),
        Column(pgettext("column of claddings", "Limits")),
        Column(pgettext("column of claddings", "Length"), right=True),
        Column(pgettext("column of claddings", "Carton")),
        Column(pgettext("column of claddings", "Source"), wraps=True),
    ]
    yield from table(columns, rows, on)
    yield ""
    words = gettext(
        "Every value can be overridden in the job file. Sources in full: {command}. The maker's instructions "
        "and the local code govern.",
        command="evencourse guide sources",
    )
    yield from wrapped(words, on.width)


def _one(cladding: Cladding, on: Screen) -> Iterator[str]:
    title = gettext("{profile}: {siding}", profile=cladding.profile, siding=gettext(cladding.label))
    yield styled(clean(title), "strong", on)
    rows = [
        [pgettext("property of siding", "family"), cladding.family],
        [pgettext("property of siding", "material"), cladding.material],
        [pgettext("property of siding", "steps"), str(cladding.faces)],
        [pgettext("property of siding", "carton"), _carton(cladding)],
        [pgettext("property of siding", "cold, at or below"), f"{cladding.cold:g} F"],
    ]
    rows += [
        [gettext(words), _tape(getattr(cladding, key), feet=key == "length")]
        for key, words in LENGTHS.items()
        if getattr(cladding, key)
    ]
    rows.append([pgettext("property of siding", "source"), cladding.source])
    yield from table([Column(""), Column("", wraps=True)], rows, on)
