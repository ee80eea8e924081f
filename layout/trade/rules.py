"""The rules of layout that belong to no one profile, read once from ``rules.toml``."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path


@dataclass(frozen=True)
class Rules:
    """Values of ``rules.toml``, by table; lengths in inches.

    Attributes:
        limits: tolerances and limits of course lines.
        weights: what a flush edge counts, by kind.
        trim: width of trim when the job gives none.
        framing: studs when the job gives none.
        seams: limits on seams and pieces.
        round: finest mark on the tape, by units [units].
    """

    limits: Mapping[str, float]
    weights: Mapping[str, float]
    trim: Mapping[str, float]
    framing: Mapping[str, float]
    seams: Mapping[str, float]
    round: Mapping[str, float]


#: Of a pitch, for what arithmetic leaves.
_ROUNDED = 1 + 1e-9


@cache
def rules() -> Rules:
    """The rules, read once."""
    with (Path(__file__).parent / "rules.toml").open("rb") as file:
        return Rules(**tomllib.load(file))


def out_of_level(rise: float, run: float) -> bool:
    """Whether a slope is that of an eave or a base out of level, and no rake's or lower roof's.

    Args:
        rise: of the slope, up or down.
        run: in the same unit, in either direction.

    Rule: no steeper than ``limits.eave_pitch_max`` in 12 (common practice, no source).

    >>> out_of_level(-20, 240), out_of_level(21, 240)
    (True, False)
    """
    return 12 * abs(rise) <= rules().limits["eave_pitch_max"] * abs(run) * _ROUNDED
