"""Whole sets of random houses, read back from the PDF: ``python -m tests.benchmarks.houses [COUNT] [FIRST]``.

Prints every fault that the reader finds, and at the end how many sheets it has read.
"""

from __future__ import annotations

import sys
import time

from evencourse.layout.courses.planner import plan
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.drawing.papers import paper
from evencourse.render.formats.pdf import pdf
from evencourse.render.words.result import Result
from tests.houses import random_house
from tests.render.sheetcheck import check_pdf

PAPERS = ("letter", "tabloid", "A3")


def main() -> int:
    """Exit code 1 when there is a fault."""
    given = [int(word) for word in sys.argv[1:]]
    count, first = (*given, *(100, 0)[len(given) :])
    sheets = faults = 0
    slowest = (0.0, "")
    for seed in range(first, first + count):
        found = plan(random_house(seed))
        for name in PAPERS:
            start = time.perf_counter()
            document = sheet_set(Result(found), name)
            data = pdf(document)
            slowest = max(slowest, (time.perf_counter() - start, f"house {seed} on {name}"))
            sheets += len(document.sheets)
            for fault in check_pdf(data, paper(name).inset):
                faults += 1
                print(f"house {seed} on {name}, {document.sheets[fault.page - 1].title}: {fault}", flush=True)
    print(f"{count} houses on {', '.join(PAPERS)}: {sheets} sheets, {faults} faults")
    print(f"slowest set: {slowest[1]}, {slowest[0]:.1f} s")
    return int(faults > 0)


if __name__ == "__main__":
    sys.exit(main())
