"""The quick suite and the long one.

Left out of the quick one are tests marked ``long``, and of each test that runs over many samples or random
houses all cases but the first: one check of each kind is left, and ``--long`` runs the others too.
"""

from __future__ import annotations

import pytest

#: Folders, modules and tests whose cases are many and take a second or more each.
MANY_CASES = (
    "tests/cli/test_outputname.py::test_draw_",
    "tests/cli/test_outputname.py::test_import_",
    "tests/faults/test_bombs.py",
    "tests/faults/test_hostile_names.py",
    "tests/faults/test_odd_walls.py",
    "tests/faults/test_spoiled_jobs.py",
    "tests/faults/test_system.py",
    "tests/layout/dxfin/test_hostile.py",
    "tests/layout/test_comparison.py",
    "tests/layout/test_cutlist.py",
    "tests/layout/test_invariants.py",
    "tests/layout/test_material.py",
    "tests/layout/test_pieces.py",
    "tests/layout/test_planfile.py",
    "tests/layout/test_raked_ends.py",
    "tests/layout/test_score.py",
    "tests/layout/test_strips.py",
    "tests/layout/test_takeoff.py",
    "tests/layout/test_trims.py",
    "tests/oracles/",
    "tests/published/test_common_practice.py",
    "tests/published/test_vinyl_installation.py",
    "tests/render/test_cad_round_trip.py",
    "tests/render/test_cadset.py",
    "tests/render/test_dxf.py",
    "tests/render/test_dxf_marks.py",
    "tests/render/test_elevation.py",
    "tests/render/test_librecad.py",
    "tests/render/test_page.py",
    "tests/render/test_page_in_browser.py",
    "tests/render/test_pdf.py",
    "tests/render/test_piecemarks.py",
    "tests/render/test_rakesheet.py::test_rake_sheets_of_random_houses",
    "tests/render/test_read_back.py",
    "tests/render/test_sheets.py",
    "tests/render/test_sheetset.py",
    "tests/render/test_starterrange.py",
    "tests/render/test_storypole.py::test_poles_of_random_houses",
    "tests/render/test_stripchart.py",
    "tests/render/test_svg.py",
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
        if test in begun and test.startswith(MANY_CASES):
            item.add_marker("long")
        begun.add(test)
    if config.getoption("--long"):
        return
    left = [item for item in items if "long" in item.keywords and item.nodeid not in config.args]
    if left:
        config.hook.pytest_deselected(items=left)
        dropped = set(left)
        items[:] = [item for item in items if item not in dropped]
