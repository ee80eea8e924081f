"""The same work in two processes with other hash seeds: what it prints must be the same."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
#: PYTHONPATH of a child that runs the same program as this process, wherever that was imported from.
CHECKOUT = os.pathsep.join([str(ROOT), *sys.path])
#: Imports, and the result of the job that is given, for code that goes on from there.
PLANNED = (
    "import sys, hashlib; from pathlib import Path; from evencourse.layout.jobfile.job_file import read_job; "
    "from evencourse.render.words.result import result; found = result(read_job(Path(sys.argv[1]))); "
)


def printed_twice(code: str, *words: str) -> set[bytes]:
    """What two processes print.

    Args:
        code: Python.
        words: its arguments.
    """
    return {
        subprocess.run(
            [sys.executable, "-c", code, *words],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": CHECKOUT},
            check=True,
            capture_output=True,
            timeout=60,
        ).stdout
        for seed in ("0", "1")
    }
