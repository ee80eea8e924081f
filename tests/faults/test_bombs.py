"""Nests, sizes and numbers that no job has: told at once, within little memory."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencourse.layout.jobfile.job_file import LARGEST
from tests.faults.commands import run_apart, well_behaved
from tests.layout.broken_jobs import TOP, WALL

#: What a run may take at most [bytes]: a gibibyte of address space, libraries included.
ROOM = 1 << 30

BOMBS = {
    "lists in lists": TOP + "x = " + "[" * 200_000,
    "tables in tables": TOP + "x = " + "{a = " * 100_000,
    "headers of many parts": TOP + "[" + "a." * 100_000 + "a]\n",
    "many headers": TOP + "".join(f"[x{number}]\n" for number in range(20_000)),
    "a long line": TOP + "# " + "x" * 8_000_000,
    "a long text": TOP + 'label = "' + "x" * 8_000_000 + '"\n',
    "a long number": TOP + "length = " + "9" * 1_000_000 + "\n",
    "a long length": TOP + 'length = "' + "9" * 1_000_000 + '"\n',
    "many spaces before a length": TOP + 'length = "' + " " * 1_000_000 + '9"\n',
    "many quotes": TOP + '"' * 100_000,
    "many faults": TOP + WALL + "[[elevation.opening]]\nwidth = 0\n" * 10_000,
    "many corners": TOP + '[[elevation]]\nname = "x"\noutline = [' + "[0, 0], " * 100_000 + "]\n",
    "many unknown keys": TOP + WALL + "".join(f"k{number} = 1\n" for number in range(10_000)),
    "more than any job": "#" * (LARGEST + 1),
}


@pytest.mark.parametrize("kind", BOMBS)
def test_a_bomb_is_told(kind: str, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(BOMBS[kind])
    before = f"import resource; resource.setrlimit(resource.RLIMIT_AS, ({ROOM}, {ROOM}))"
    ended = run_apart(["check", str(job)], tmp_path, before)
    assert well_behaved(ended), ended.err[-300:]
    assert ended.code == 2
    assert max(map(len, ended.err.splitlines())) < 600
