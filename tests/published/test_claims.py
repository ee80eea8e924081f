"""The lists of claims in the guide and in DEVELOPERS.md name tests that there are."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from evencourse.cli.guide.guide_pages import page_text

ROOT = Path(__file__).resolve().parents[2]
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
NAMED = sorted(set(re.findall(r"`([a-z_/]*test_\w+\.py)::(test_\w+)`", DEVELOPERS)))
PATHS = sorted(
    set(re.findall(r"`((?:tests/[a-z]+/)?test_\w+\.py|tests/[a-z]+/)[`:]", DEVELOPERS + page_text("sources")))
)


def path_of(name: str) -> Path:
    if "/" in name:
        return ROOT / name
    (found,) = (ROOT / "tests").rglob(name)
    return found


def defined_in(path: Path) -> set[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return {item.name for item in tree.body if isinstance(item, ast.FunctionDef)}


def test_the_list_names_tests_by_the_dozen() -> None:
    assert len(NAMED) >= 20


@pytest.mark.parametrize(("file", "name"), NAMED)
def test_a_claims_test_is_there(file: str, name: str) -> None:
    assert name in defined_in(path_of(file))


@pytest.mark.parametrize("name", PATHS)
def test_a_file_or_folder_named_is_there(name: str) -> None:
    assert path_of(name).exists()


def test_every_published_source_is_in_the_list() -> None:
    files = {path.name for path in Path(__file__).parent.glob("test_*.py")} - {Path(__file__).name}
    assert {name for name in files if name not in DEVELOPERS} == set()
