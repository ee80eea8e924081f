"""The check on a fresh machine runs what the README tells a newcomer to type."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from tests.tools import PACKAGES, tool

TOP = Path(__file__).resolve().parents[2]
SCRIPT = TOP / ".ci" / "run"


def line() -> str:
    found = re.search(r'^test_line="(.*)"$', SCRIPT.read_text(encoding="utf-8"), re.MULTILINE)
    assert found
    return found[1]


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_the_page_and_the_check_say_the_same(page: str) -> None:
    assert f"\n{line()}\n" in (TOP / page).read_text(encoding="utf-8")


def test_the_line_sets_up_and_tests() -> None:
    assert line() == (
        "python3 -m venv .venv && .venv/bin/pip install -e '.[test]' && .venv/bin/python -m pytest"
    )


def test_the_check_runs_the_line_first_then_what_it_leaves_out_then_the_linters() -> None:
    script = SCRIPT.read_text(encoding="utf-8")
    steps = (
        '\nbash -c "$test_line"\n',
        "\n.venv/bin/python -m pytest --long -m long\n",
        "\n.venv/bin/ruff check\n",
        "\n.venv/bin/ruff format --check\n",
        "\n.venv/bin/mypy\n",
    )
    places = [script.index(step) for step in steps]
    assert places == sorted(places)


def test_the_check_can_be_started() -> None:
    assert os.access(SCRIPT, os.X_OK)


def test_the_check_installs_every_program_that_tests_use() -> None:
    script = SCRIPT.read_text(encoding="utf-8")
    assert all(f"missing+=({package})" in script for package in PACKAGES.values())


def test_a_missing_program_skips_a_test_but_not_in_the_check(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "")
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(pytest.skip.Exception, match="gdal-bin"):
        tool("ogrinfo")
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="gdal-bin"):
        tool("ogrinfo")
