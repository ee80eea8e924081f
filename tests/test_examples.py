"""What is public for programs: every name is there, and the examples of its docstrings run."""

from __future__ import annotations

import doctest
from importlib import import_module
from types import ModuleType

import pytest

import evencourse.layout
import evencourse.render


@pytest.mark.parametrize("package", [evencourse.layout, evencourse.render])
def test_every_public_name_is_what_its_room_defines(package: ModuleType) -> None:
    assert sorted(package._PUBLIC) == package.__all__ == dir(package)
    for name, (module, attribute) in package._PUBLIC.items():
        found = getattr(package, name)
        assert found is vars(import_module(f"{package.__name__}.{module}"))[attribute]
        assert found.__doc__


def test_a_name_that_is_not_public_is_refused() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'nothing'"):
        _ = evencourse.layout.nothing


@pytest.mark.parametrize("package", [evencourse.layout, evencourse.render])
def test_the_examples_run(package: ModuleType) -> None:
    failed, tried = doctest.testmod(package)
    assert tried >= 4
    assert failed == 0
