"""Nails: how many a length takes, and how many go into a pound."""

from __future__ import annotations

from itertools import pairwise
from math import ceil

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.trade.materials import materials


def nail_count(length: float, apart: float) -> int:
    """Nails along a length: one at each end, and no two farther apart than allowed.

    Args:
        length: [job units].
        apart: greatest distance [job units].
    """
    return ceil(length / apart - ROUNDING) + 1


def siding_nails(job: Job, cladding: Cladding, length: float) -> int:
    """Nails in one piece of siding.

    Args:
        job: for its studs.
        cladding: what the piece is cut from.
        length: of the piece; of a run of shingles the width it covers [job units].

    Rules: panels at most ``nail_spacing`` apart (Vinyl Siding Installation Manual; IRC R703.11.1.3); boards
    at every stud (common practice, no source); two in a shingle (common practice, no source).
    """
    if cladding.family == "panel":
        return nail_count(length, cladding.nail_spacing)
    if cladding.family == "lap":
        return nail_count(length, job.framing.spacing)
    table: dict[str, float] = materials()["shingle"]
    return int(table["nails"]) * ceil(length / (table["wide"] * job.inch) - ROUNDING)


def per_pound(family: str, length: float) -> float:
    """Nails in a pound.

    Args:
        family: of the siding that they hold: roofing nails for panels, box nails for boards, shingle nails.
        length: of a nail [inches].

    Rule: ``nails`` in ``materials.toml`` (values from memory); between two lengths in proportion, beyond the
    table's ends as at its end.
    """
    rows: list[list[float]] = materials()["nails"][family]
    if length <= rows[0][0]:
        return float(rows[0][1])
    for (short, many), (long, few) in pairwise(rows):
        if length <= long:
            return many + (few - many) * (length - short) / (long - short)
    return float(rows[-1][1])
