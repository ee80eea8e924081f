"""Small jobs whose answers are known by hand, for the tests of the commands."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencourse.cli.main import main

#: Courses of 8 in from -1: butt lines at 31 = -1 + 4 x 8, 79 = -1 + 10 x 8 and 95 = -1 + 12 x 8: sill, head
#: and eave are all flush.
FLUSH = """\
[job]
name = "Linden Row, lot 4"
datum = "laser line"

[cladding]
profile = "double-4"

[limits]
starter = ["-1", "-1"]

[[elevation]]
name = "Front"
width = "20'"
base = "0"
eave = "7' 11"

  [[elevation.opening]]
  mark = "A"
  kind = "window"
  left = "60"
  sill = "31"
  width = "36"
  height = "48"
"""

#: The same on ten feet of wall: no panel needs a seam, and nothing is searched for.
SMALL = FLUSH.replace('width = "20\'"', 'width = "10\'"')

#: Two faults of different kinds, on lines 5 and 14.
TWO_FAULTS = FLUSH.replace('profile = "double-4"', 'profile = "double-44"').replace(
    'base = "0"', 'base = "14-3"'
)


def written(folder: Path, text: str) -> str:
    """Path of a job file with a text."""
    path = folder / "house.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, list[str]]:
    """Exit code and lines of a command that says nothing on standard error."""
    code = main(words)
    out, err = capsys.readouterr()
    assert err == ""
    return code, out.splitlines()
