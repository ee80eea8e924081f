"""Odd walls through every command, thousands of them: ``python -m tests.faults.fuzz FIRST LAST``.

Prints a line for each job that ends in a fault of the program, takes too long or too much, and a last line
with what was run. Memory is limited by the caller: ``ulimit -v``.

The commands of a job share what they all work out, and seams are looked for among few ways (:func:`shared`);
every tenth job is worked at afresh by each command, as a user has it.
"""

from __future__ import annotations

import contextlib
import gc
import random
import resource
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from typing import Any
from unittest.mock import patch

from evencourse.layout.pieces import hung
from tests.faults.commands import COMMANDS
from tests.faults.odd_walls import odd_job
from tests.faults.through import through

#: Longest run of one command on one job, of the processor [s], most memory of this process [KiB].
SECONDS, MEMORY = 30.0, 2**20
#: Of so many jobs one is worked at afresh by every command.
AFRESH = 10
#: Each draws every face: one of them on each job, in turn, and all on those that are worked at afresh.
DRAWN = ("draw", "sheets", "page")
#: What is drawn, one job after the other: ``sheets`` lays out the same sheets, and its PDF has them all.
FORMATS = (("--only", "svg"), ("--only", "pdf"), ("--only", "dxf"))
#: What the commands have in common, and where they take it from.
IN_COMMON = {
    "evencourse.cli.options.job_reading": ("parse_job",),
    "evencourse.render.words.result": ("plan", "material", "Instructions"),
    "evencourse.render.crew_set.sheet_set": ("details_of",),
    "evencourse.render.formats.cad_set": ("details_of",),
    "evencourse.layout.results.comparison": ("plan", "pieces", "sidings"),
    "evencourse.layout.order.material": ("pieces", "sidings"),
}
#: How few ways to hang are followed at once.
NARROW = {"WIDEST": 4}


class Shared:
    """Answers of functions that were asked before with the same text or the very same values.

    Attributes:
        spared: what the answers given again took when they were worked out, of the processor [s].
    """

    def __init__(self) -> None:
        self.spared = 0.0
        self._known: dict[tuple[object, ...], tuple[Any, float, tuple[Any, ...]]] = {}

    def once(self, work: Callable[..., Any]) -> Callable[..., Any]:
        """The same function, which works out the same answer once."""

        def answer(*given: Any) -> Any:
            key = (work, *(value if isinstance(value, str) else _same(value) for value in given))
            if key in self._known:
                found, took, _ = self._known[key]
                self.spared += took
                return found
            began, spared = time.process_time(), self.spared
            found = work(*given)
            took = time.process_time() - began + self.spared - spared
            self._known[key] = (
                found,
                took,
                given,
            )  # they are kept: no other value takes their place in memory
            return found

        return answer


def _same(value: object) -> object:
    """What tells a value from others: folders and empty choices of starters are alike, all else is itself."""
    return None if isinstance(value, Path) or not value else id(value)


@contextlib.contextmanager
def shared() -> Iterator[Shared]:
    """Commands run inside work out reading, plan, pieces and order once for each job file's text.

    What a command is spared is counted: its own time and what is spared are what it takes alone. Few ways to
    hang the pieces are followed at once, so that seams cost more than they need to, but no other code is run.
    """
    with contextlib.ExitStack() as stack:
        kept = Shared()
        for name, ways in NARROW.items():
            stack.enter_context(patch.object(hung, name, ways))
        for name, functions in IN_COMMON.items():
            module = import_module(name)
            for function in functions:
                stack.enter_context(patch.object(module, function, kept.once(getattr(module, function))))
        yield kept


def main(first: int, last: int) -> int:
    """Run the jobs of seeds from ``first`` to before ``last``; returns how many went wrong."""
    gc.freeze()
    wrong, slowest, kinds = 0, (0.0, ""), Counter[str]()
    for seed in range(first, last):
        if seed > first and (seed - first) % 50 == 0:
            print(f"{seed - first} jobs, {wrong} wrong", flush=True)
        text = odd_job(random.Random(seed))
        with contextlib.nullcontext(Shared()) if seed % AFRESH == 0 else shared() as kept:
            for kind in COMMANDS:
                if seed % AFRESH and kind in DRAWN and kind != DRAWN[seed % len(DRAWN)]:
                    continue
                began, spared = time.process_time(), kept.spared
                with tempfile.TemporaryDirectory() as name:
                    try:
                        more = FORMATS[seed // 3 % 3] if kind == "draw" and seed % AFRESH else ()
                        written = through(kind, text, Path(name).resolve(), more)
                    except (AssertionError, MemoryError) as error:
                        wrong += 1
                        print(f"{seed} {kind}: {type(error).__name__} {error}"[:1500], flush=True)
                        if not isinstance(error, AssertionError):
                            traceback.print_exc()
                        continue
                kinds[f"{kind}, {'planned' if written or kind == 'check' else 'refused'}"] += 1
                took = time.process_time() - began + kept.spared - spared
                slowest = max(slowest, (took, f"{seed} {kind}"))
                if took > SECONDS:
                    wrong += 1
                    print(f"{seed} {kind}: {took:.0f} s", flush=True)
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    if most > MEMORY:
        wrong += 1
    print(
        f"jobs {first} to {last - 1}: {wrong} wrong; slowest {slowest[0]:.1f} s ({slowest[1]}); "
        f"{most // 1024} MiB; {time.process_time():.0f} s in all; {dict(kinds)}",
        flush=True,
    )
    return wrong


if __name__ == "__main__":
    sys.exit(min(1, main(int(sys.argv[1]), int(sys.argv[2]))))
