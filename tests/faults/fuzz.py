"""Odd walls through every command, thousands of them: ``python -m tests.faults.fuzz FIRST LAST``.

Prints a line for each job that ends in a fault of the program, takes too long or too much, and a last line
with what was run. Memory is limited by the caller: ``ulimit -v``.
"""

from __future__ import annotations

import random
import resource
import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path

from tests.faults.commands import COMMANDS
from tests.faults.odd_walls import odd_job
from tests.faults.through import through

#: Longest run of one command on one job, of the processor [s], most memory of this process [KiB].
SECONDS, MEMORY = 30.0, 2**20


def main(first: int, last: int) -> int:
    """Run the jobs of seeds from ``first`` to before ``last``; returns how many went wrong."""
    wrong, slowest, kinds = 0, (0.0, ""), Counter[str]()
    for seed in range(first, last):
        if seed > first and (seed - first) % 50 == 0:
            print(f"{seed - first} jobs, {wrong} wrong", flush=True)
        text = odd_job(random.Random(seed))
        for kind in COMMANDS:
            began = time.process_time()
            with tempfile.TemporaryDirectory() as name:
                try:
                    written = through(kind, text, Path(name).resolve())
                except (AssertionError, MemoryError) as error:
                    wrong += 1
                    print(f"{seed} {kind}: {type(error).__name__} {error}"[:1500], flush=True)
                    if not isinstance(error, AssertionError):
                        traceback.print_exc()
                    continue
            kinds[f"{kind}, {'planned' if written or kind == 'check' else 'refused'}"] += 1
            took = time.process_time() - began
            slowest = max(slowest, (took, f"{seed} {kind}"))
            if took > SECONDS:
                wrong += 1
                print(f"{seed} {kind}: {took:.0f} s", flush=True)
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    if most > MEMORY:
        wrong += 1
    print(
        f"jobs {first} to {last - 1}: {wrong} wrong; slowest {slowest[0]:.1f} s ({slowest[1]}); "
        f"{most // 1024} MiB; {dict(kinds)}",
        flush=True,
    )
    return wrong


if __name__ == "__main__":
    sys.exit(min(1, main(int(sys.argv[1]), int(sys.argv[2]))))
