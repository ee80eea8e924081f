"""Spoiled drawings, pages and models through the command: told, or read; never a trace."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.faults.commands import run_here, well_behaved
from tests.faults.spoiled_files import KINDS, models, spoiled_model, worked


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


@pytest.mark.long
@pytest.mark.parametrize("kind", ["dxf", "pdf"])
def test_spoiled_drawings_are_told_or_read(kind: str, tmp_path: Path) -> None:
    one = KINDS[kind]
    sound = one.sound()
    for seed in range(30):
        luck = random.Random(seed)
        path = tmp_path / f"a.{kind}"
        path.write_bytes(one.spoil(luck.choice(sound), luck))
        # In a process of its own: bounds of work that a page sets here would end the tests after it.
        assert worked(one, path)[0] in ("a house", "told"), seed
