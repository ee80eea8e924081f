"""The whole program as one file: ``python -m tests.one_file [FILE]`` writes ``evencourse.pyz``.

The file starts on a machine with the Python and the kind of system that it was built with, and nothing else:
the libraries are in it, and are unpacked once into ``~/.shiv``. Without words, as on a double click, it opens
the desk. What is built is what lies in the checkout; the libraries come from where ``pip`` takes them.
"""

from __future__ import annotations

import platform
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
#: What the package is made of.
PARTS = ("layout", "render", "cli", "pyproject.toml", "README.md", "LICENSE")
ENTRY = "evencourse.cli.start:run_file"
#: Run before the program: libraries built for another Python would fail in words that help nobody.
PREAMBLE = """
import platform, sys
built = {built!r}
here = ("{{}}.{{}}".format(*sys.version_info), platform.system(), platform.machine())
if here != built:
    words = "this file runs on Python {{}} on {{}} {{}}; found Python {{}} on {{}} {{}}"
    sys.exit(words.format(*built, *here))
"""


def preamble() -> str:
    """The check that this Python and this system are those that the file was built with."""
    here = ("{}.{}".format(*sys.version_info), platform.system(), platform.machine())
    return PREAMBLE.format(built=here)


def build(out: Path) -> None:
    """Write the file.

    Args:
        out: where.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        copy, packages, first = folder / "evencourse", folder / "packages", folder / "preamble.py"
        copy.mkdir()
        for part in PARTS:
            source = ROOT / part
            if source.is_dir():
                shutil.copytree(source, copy / part, ignore=shutil.ignore_patterns("__pycache__"))
            else:
                shutil.copy(source, copy)
        quiet = ("--quiet", "--disable-pip-version-check", "--no-warn-script-location")
        _run("pip", "install", *quiet, "--no-compile", "--target", str(packages), str(copy))
        # Where it was installed from is of no use to whoever gets the file.
        for record in packages.glob("evencourse-*.dist-info/direct_url.json"):
            record.unlink()
        shutil.rmtree(packages / "bin", ignore_errors=True)
        first.write_text(preamble(), "utf-8")
        words = ("--reproducible", "--entry-point", ENTRY, "--preamble", str(first))
        _run("shiv", *words, "--site-packages", str(packages), "--output-file", str(out))


def _run(module: str, *words: str) -> None:
    subprocess.run([sys.executable, "-m", module, *words], check=True)


if __name__ == "__main__":
    made = Path(*sys.argv[1:2] or ["evencourse.pyz"]).resolve()
    build(made)
    print(f"{made.name}: {made.stat().st_size / 1e6:.0f} MB, for Python {platform.python_version()[:4]}")
