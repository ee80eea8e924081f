"""Every command that makes something of a job, run in this process or in one of its own."""

from __future__ import annotations

import contextlib
import io
import os
import subprocess
import sys
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from evencourse.cli.main import FAULT, main
from tests.again import CHECKOUT

#: Words after the job file, with the output in place of ``OUT``.
COMMANDS: dict[str, tuple[str, ...]] = {
    "check": (),
    "plan": ("--json", "OUT/plan.json"),
    "plan, how sure": ("--error", "1/8"),
    "takeoff": ("--csv", "OUT/takeoff.csv", "--xlsx", "OUT/takeoff.xlsx"),
    "cuts": ("--csv", "OUT/cuts.csv"),
    "compare": ("--svg", "OUT/compare.svg"),
    "draw": ("-o", "OUT/drawn"),
    "sheets": ("-o", "OUT/sheets.pdf"),
    "pole": ("-o", "OUT/pole.pdf"),
    "page": ("-o", "OUT/page.html"),
}


@dataclass(frozen=True)
class Ended:
    """How a command ended."""

    code: int
    out: str
    err: str


def words(kind: str, job: Path, out: Path) -> list[str]:
    """The command line of one kind of run."""
    return [kind.partition(",")[0], str(job), *(word.replace("OUT", str(out)) for word in COMMANDS[kind])]


def run_here(line: list[str]) -> Ended:
    """Run a command line in this process."""
    out = io.TextIOWrapper(io.BytesIO(), "utf-8", errors="backslashreplace")
    err = io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(line)
        out.flush()
    return Ended(code, out.buffer.getvalue().decode(errors="replace"), err.getvalue())  # type: ignore[attr-defined]


def start(line: list[str], folder: Path, before: str = "", **more: object) -> subprocess.Popen[str]:
    """Start a command line as a process of its own; ``before`` is run first in it."""
    env = {**os.environ, "PYTHONPATH": CHECKOUT, "PYTHONDONTWRITEBYTECODE": "1"}
    program = f"{before}\nfrom evencourse.cli.main import run; run()"
    return subprocess.Popen(
        [sys.executable, "-c", program, *line],
        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        text=True, errors="replace", cwd=folder, env=env, **more,
    )  # type: ignore[call-overload, no-any-return]  # fmt: skip


def run_apart(line: list[str], folder: Path, before: str = "", **more: object) -> Ended:
    """Run a command line as a process of its own."""
    child = start(line, folder, before, **more)
    out, err = child.communicate(timeout=120)
    return Ended(child.returncode, out, err)


def well_behaved(ended: Ended) -> bool:
    """No fault in the program, no trace, and a reason whenever something was refused."""
    told = ended.out + ended.err
    return (
        ended.code in (0, 1, 2)
        and ended.code != FAULT
        and "Traceback" not in told
        and "fault in the program" not in told
        and (ended.code != 2 or ended.err.strip() != "")
    )


def tree(folder: Path) -> dict[str, int]:
    """Every file and link under a folder, with a sum of what it holds."""
    return {
        str(path.relative_to(folder)): zlib.crc32(path.read_bytes()) if path.is_file() else -1
        for path in _below(folder)
        if not path.is_dir()
    }


def _below(folder: Path) -> Iterator[Path]:
    yield from sorted(folder.rglob("*"))
