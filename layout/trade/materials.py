"""Data of seams, trims, nails and furring, read once from ``materials.toml``; lengths there in inches."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any


@cache
def materials() -> dict[str, Any]:
    """The tables of ``materials.toml``."""
    with (Path(__file__).parent / "materials.toml").open("rb") as file:
        return tomllib.load(file)
