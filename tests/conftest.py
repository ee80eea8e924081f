"""The quick suite and the long one.

Left out of the quick one are tests marked ``long``, and of each test that runs over many samples, houses or
spoiled files all cases but the first: one check of each kind is left, and ``--long`` runs the others too.
"""

from __future__ import annotations

import os

import pytest

# Texts are compared in English, whatever the system of whoever runs the tests speaks.
os.environ["LC_ALL"] = "C.UTF-8"

#: Parameters that run over the samples and the random houses.
MANY = {"house", "job", "path", "sample", "seed"}
#: Folders, modules and tests whose cases are many and take a second or more each, whatever they run over.
MANY_CASES = (
    "tests/cli/desk/test_desk_guard.py::test_markup_",
    "tests/cli/test_draw.py::test_every_paper_",
    "tests/cli/test_draw.py::test_hostile_names_",
    "tests/cli/test_new.py::test_a_file_is_written_over_only_when_told",
    "tests/cli/test_new.py::test_stopped_at_the_terminal_",
    "tests/cli/test_new.py::test_what_cannot_be_",
    "tests/cli/test_outputname.py::test_draw_",
    "tests/cli/test_outputname.py::test_import_",
    "tests/faults/",
    "tests/layout/dxfin/test_hostile.py",
    "tests/oracles/",
    "tests/published/test_common_practice.py",
    "tests/published/test_residential_code.py::test_no_plan_exposes_",
    "tests/published/test_vinyl_installation.py",
    "tests/render/test_cadset.py",
    "tests/render/test_details.py::test_cut_strip_and_furring_",
    "tests/render/test_dxf_marks.py",
    "tests/render/test_dxf_text.py::test_hostile_names_",
    "tests/render/test_librecad.py",
    "tests/render/test_page.py::test_names_",
    "tests/render/test_page_in_browser.py",
    "tests/render/test_sheetset.py",
    "tests/render/test_storypole.py",
)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--long", action="store_true", help="run the long tests, too (-m long: those alone)")


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "long: takes long, or one more case; only with --long")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    begun: set[str] = set()
    for item in items:
        test = item.nodeid.partition("[")[0]
        callspec = getattr(item, "callspec", None)  # of a test with cases
        if test in begun and callspec and (test.startswith(MANY_CASES) or MANY & callspec.params.keys()):
            item.add_marker("long")
        begun.add(test)
    if config.getoption("--long"):
        return
    left = [item for item in items if "long" in item.keywords and item.nodeid not in config.args]
    if left:
        config.hook.pytest_deselected(items=left)
        dropped = set(left)
        items[:] = [item for item in items if item not in dropped]
