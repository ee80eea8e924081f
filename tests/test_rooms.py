"""The house stays in order: floors, rooms, names, and the lists that say what there is.

Rules of this project, no source outside it.
"""

from __future__ import annotations

import ast
import re
import tomllib
from collections import Counter
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

from tests.rooms import DEVELOPERS, FLOORS, ROOT, arrows, imported, lines, modules, room, told

MODULES = {name: path for name, path in modules().items() if path.name != "__init__.py"}
ROOMS = sorted({room(name) for name in MODULES if name.count("/") > 1})
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def test_a_floor_asks_only_those_below_it() -> None:
    for name, asked in arrows().items():
        floors = {FLOORS.index(one.partition("/")[0]) for one in asked}
        assert max(floors, default=0) <= FLOORS.index(name.partition("/")[0]), name


def test_no_rooms_ask_each_other_in_a_circle() -> None:
    TopologicalSorter(arrows()).prepare()


def test_a_circle_would_be_found() -> None:
    """By hand: a asks b, b asks a."""
    with pytest.raises(ValueError, match="cycle"):
        TopologicalSorter({"a": {"b"}, "b": {"a"}}).prepare()


def test_every_module_stands_in_a_room_of_at_most_sixteen() -> None:
    loose = {name for name in MODULES if name.count("/") == 1}
    assert loose == {"cli/main", "cli/start"}
    counts = Counter(room(name) for name in MODULES)
    assert {name: count for name, count in counts.items() if count > 16} == {}


@pytest.mark.parametrize("name", ROOMS)
def test_a_room_says_in_one_sentence_what_comes_in_and_what_goes_out(name: str) -> None:
    text = ast.get_docstring(ast.parse((ROOT / name / "__init__.py").read_text("utf-8"))) or ""
    sentence = text.partition("\n\n")[0]
    assert re.fullmatch(r"[^.]+ in; .*\bout\b[^.]*\.", sentence), sentence


def test_no_two_modules_have_one_name() -> None:
    counts = Counter(name.rpartition("/")[2] for name in MODULES)
    assert [name for name, count in counts.items() if count > 1] == []


def test_no_module_has_a_private_name() -> None:
    assert [name for name in MODULES if "/_" in name] == []


def test_no_two_public_classes_have_one_name() -> None:
    found = Counter(
        node.name
        for path in MODULES.values()
        for node in ast.parse(path.read_text("utf-8")).body
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_")
    )
    assert [name for name, count in found.items() if count > 1] == []


def test_no_module_is_longer_than_four_hundred_lines() -> None:
    assert {name: lines(path) for name, path in MODULES.items() if lines(path) > 400} == {}


def test_nothing_imports_a_floor_but_by_its_installed_name() -> None:
    folders = (*FLOORS, "tests", "samples")
    paths = [path for folder in folders for path in (ROOT / folder).rglob("*.py")]
    assert [path for path in paths if any(one.partition(".")[0] in FLOORS for one in imported(path))] == []


def test_every_folder_with_modules_is_installed() -> None:
    folders = {path.parent.relative_to(ROOT) for path in modules().values()}
    packages = {".".join(("evencourse", *folder.parts)) for folder in folders}
    assert set(PROJECT["tool"]["setuptools"]["packages"]) == packages
    assert all((ROOT / folder / "__init__.py").exists() for folder in folders)


def test_every_data_file_is_installed() -> None:
    data = PROJECT["tool"]["setuptools"]["package-data"]
    installed = {
        path for floor in FLOORS for glob in data[f"evencourse.{floor}"] for path in (ROOT / floor).glob(glob)
    }
    kept = [path for floor in FLOORS for path in (ROOT / floor).rglob("*") if path.is_file()]
    there = {path for path in kept if path.suffix not in {".py", ".pyc"}}
    assert there == installed
    assert any(path.name == "claddings.toml" for path in there)


def test_the_developers_page_has_every_room_with_its_modules_and_arrows() -> None:
    """Counts of lines may lag behind; ``python -m tests.rooms`` brings them up to date."""
    page = DEVELOPERS.read_text("utf-8")
    assert re.sub(r"\d+", "", told(page)) == re.sub(r"\d+", "", page)
    assert "| `layout/wall` |" in page


def test_a_module_named_on_the_developers_page_is_there() -> None:
    named = set(re.findall(r"`((?:layout|render|cli)/[\w/]+\.py)`", DEVELOPERS.read_text("utf-8")))
    assert len(named) > 10
    assert [name for name in named if not Path(ROOT, name).exists() and "NAME" not in name] == []
