"""Spoiled building models through the command: a line and exit code 2, or a house; never a trace."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.faults.commands import run_here, well_behaved
from tests.faults.spoiled_models import models, spoiled_model


@pytest.mark.long
@pytest.mark.parametrize("seed", [1016, 1143, 1040, 7])
def test_a_spoiled_model_is_told(seed: int, tmp_path: Path) -> None:
    """The first two ended the reading library itself, by a fault of memory and one of arithmetic."""
    luck = random.Random(seed)
    path = tmp_path / "a.ifc"
    path.write_bytes(spoiled_model(luck.choice(models()), luck))
    ended = run_here(["import", str(path), "--show"])
    assert well_behaved(ended), ended
    assert ended.code in (0, 2)
