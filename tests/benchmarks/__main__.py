"""Benchmarks, as ratios against a reference measured in the same run: ``python -m tests.benchmarks``.

Nothing here is a test: figures are printed, none is asserted.
"""

from __future__ import annotations

import platform
import sys

from tests.benchmarks.commands import commands
from tests.benchmarks.courselines import course_lines
from tests.benchmarks.growth import growth
from tests.benchmarks.stock import stock
from tests.benchmarks.street import street
from tests.benchmarks.timing import RUNS


def main() -> None:
    """Print every table; ``--quick`` leaves CP-SAT out and takes fewer houses."""
    quick = "--quick" in sys.argv
    print(f"Python {platform.python_version()}, {platform.machine()}, median of {RUNS}")
    course_lines(not quick)
    commands()
    growth()
    stock(30 if quick else 300)
    street(20 if quick else 200)


if __name__ == "__main__":
    main()
