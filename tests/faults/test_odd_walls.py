"""Odd walls through the commands: a plan or bad input with its reason, never a fault of the program."""

from __future__ import annotations

import random
import tempfile
from pathlib import Path

import pytest

from tests.cli.jobs import FLUSH
from tests.faults import fuzz
from tests.faults.odd_walls import odd_job
from tests.faults.through import through


@pytest.mark.long
@pytest.mark.parametrize("seed", range(12))
def test_odd_walls_are_planned_or_refused(seed: int) -> None:
    text = odd_job(random.Random(seed))
    for kind in ("check", "plan", "cuts", "takeoff", "draw"):
        with tempfile.TemporaryDirectory() as name:
            through(kind, text, Path(name).resolve())


@pytest.mark.long
def test_what_commands_share_is_worked_out_once_and_is_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def written(kind: str, name: str) -> dict[str, bytes]:
        folder = tmp_path / name
        folder.mkdir()
        return {path.name: path.read_bytes() for path in through(kind, FLUSH, folder)}

    alone = [written(kind, f"alone {kind}") for kind in ("plan", "cuts", "takeoff")]
    monkeypatch.setattr(fuzz, "NARROW", {})
    with fuzz.shared() as kept:
        together = [written(kind, f"together {kind}") for kind in ("plan", "cuts", "takeoff")]
    assert together == alone
    assert kept.spared > 0


def test_a_run_by_the_thousand_counts_what_goes_wrong(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def faulty(kind: str, *_: object) -> tuple[Path, ...]:
        assert kind != "cuts", "exit 70"
        return ()

    monkeypatch.setattr(fuzz, "through", faulty)
    assert fuzz.main(1, 4) == 3
    said = capsys.readouterr().out
    assert "2 cuts: AssertionError exit 70" in said
    assert "jobs 1 to 3: 3 wrong" in said
