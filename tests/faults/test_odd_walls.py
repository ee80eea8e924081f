"""Odd walls through the commands: a plan or bad input with its reason, never a fault of the program."""

from __future__ import annotations

import random
import tempfile
from pathlib import Path

import pytest

from tests.faults.odd_walls import odd_job
from tests.faults.through import through


@pytest.mark.parametrize("seed", range(12))
def test_odd_walls_are_planned_or_refused(seed: int) -> None:
    text = odd_job(random.Random(seed))
    for kind in ("check", "plan", "cuts", "takeoff", "draw"):
        with tempfile.TemporaryDirectory() as name:
            through(kind, text, Path(name).resolve())
