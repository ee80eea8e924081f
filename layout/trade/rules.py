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


@cache
def rules() -> Rules:
    """The rules, read once."""
    with (Path(__file__).parent / "rules.toml").open("rb") as file:
        return Rules(**tomllib.load(file))
