"""The program starts fast: what it does not need yet is not loaded."""

from __future__ import annotations

import signal
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from evencourse.cli.main import COMMANDS
from tests.cli.jobs import SMALL

HEAVY = frozenset(
    [
        "numpy",
        "shapely",
        "ezdxf",
        "cairosvg",
        "cairocffi",
        "fontTools",
        "svgwrite",
        "pypdf",
        "rich",
        "tree_sitter",
        "xlsxwriter",
        "evencourse.layout.model.job",
        "evencourse.layout.model.course_plan",
        "evencourse.render.drawing.drawing",
    ]
)


def started(*words: str) -> tuple[subprocess.CompletedProcess[str], set[str]]:
    """Run the program as a process, and name the modules and packages that it loads."""
    program = "from evencourse.cli.main import run; run()"
    ended = subprocess.run(
        [sys.executable, "-X", "importtime", "-c", program, *words],
        capture_output=True,
        text=True,
        check=False,
    )
    told = [line for line in ended.stderr.splitlines() if line.startswith("import time:")]
    modules = {line.rpartition("|")[2].strip() for line in told}
    return ended, {*modules, *(module.partition(".")[0] for module in modules)}


@pytest.mark.parametrize(
    "words",
    [
        ["--help"],
        ["--version"],
        [],
    ],
)
def test_help_and_version_load_nothing_heavy(words: list[str]) -> None:
    ended, loaded = started(*words)
    assert ended.returncode == (0 if words else 2)
    assert "typer" in loaded  # so the names are read from the right place
    assert not HEAVY & loaded
    assert not [name for name in loaded if name.startswith("evencourse.cli.commands.")]


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_says_of_a_command_what_it_says_of_itself(name: str) -> None:
    module, summary = COMMANDS[name]
    command = getattr(import_module(f"evencourse.cli.commands.{module}"), module)
    assert str(command.__doc__).splitlines()[0] == summary


def test_help_names_every_command() -> None:
    ended, _ = started("--help")
    for command in (
        "new",
        "check",
        "plan",
        "takeoff",
        "cuts",
        "draw",
        "sheets",
        "pole",
        "page",
        "claddings",
        "import",
        "schema",
    ):
        assert f"\n  {command} " in ended.stdout
    assert "Exit codes" in ended.stdout


def test_version_is_that_of_the_installed_program() -> None:
    from importlib.metadata import version

    ended, _ = started("--version")
    assert ended.stdout == f"evencourse {version('evencourse')}\n"


@pytest.mark.long
@pytest.mark.parametrize(("formats", "wanted"), [("svg,pdf", False), ("dxf", True)])
def test_cad_is_loaded_only_for_a_cad_file(tmp_path: Path, formats: str, wanted: bool) -> None:
    job = tmp_path / "house.toml"
    job.write_text(SMALL, encoding="utf-8")
    ended, loaded = started("draw", str(job), "-o", str(tmp_path / "out"), "--only", formats)
    assert ended.returncode == 0
    assert ("ezdxf" in loaded) is wanted


def test_text_is_not_read_through_a_validation_library() -> None:
    """It takes longer to load than a plan takes to make, and turns text into text."""
    import typer.core

    if not hasattr(typer.core, "build_runtime_param"):
        pytest.skip("this release of typer reads text itself")
    ended, loaded = started("claddings")
    assert ended.returncode == 0
    assert "pydantic" not in loaded


@pytest.mark.skipif(sys.platform == "win32", reason="no signal ends a program there")
def test_ctrl_c_while_the_program_is_loaded_ends_it_without_a_word() -> None:
    program = """
import os, signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)
class Impatient:
    def find_spec(self, name, path=None, target=None):
        if name == "typer":
            os.kill(os.getpid(), signal.SIGINT)
sys.meta_path.insert(0, Impatient())
from evencourse.cli.start import run
run()
"""
    ended = subprocess.run(
        [sys.executable, "-c", program, "check"], capture_output=True, text=True, check=False
    )
    assert (ended.returncode, ended.stdout, ended.stderr) == (-signal.SIGINT, "", "")


def test_once_it_is_loaded_ctrl_c_is_answered_as_ever() -> None:
    program = """
import os, signal
signal.signal(signal.SIGINT, signal.default_int_handler)
import evencourse.cli.commands.check
evencourse.cli.commands.check.read = lambda source: os.kill(os.getpid(), signal.SIGINT)
from evencourse.cli.start import run
run()
"""
    ended = subprocess.run(
        [sys.executable, "-c", program, "check", "x"], capture_output=True, text=True, check=False
    )
    assert (ended.returncode, ended.stderr) == (130, "interrupted\n")
