"""Whole sets of samples and random houses, read back: ``python -m tests.benchmarks.houses [COUNT] [FIRST]``.

Prints every fault that the readers find, how large walls are drawn, and at the end how many sheets were read.
``samples`` instead of a count reads the samples. Codes of languages at the end (``es de``) read the sets in
these, on letter and A3; what is cut there and not in English is a fault as well.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterator
from itertools import product
from pathlib import Path

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.language.speech import LANGUAGES, speaking
from evencourse.layout.model.job import Job
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.placement import ELLIPSIS
from evencourse.render.formats.pdf import pdf
from evencourse.render.words.result import Result
from tests.houses import random_house
from tests.render.facecheck import check_faces, walls_of
from tests.render.sheetcheck import check_pdf, read_pdf

PAPERS = ("letter", "tabloid", "A3")
SAMPLES = sorted((Path(__file__).resolve().parents[2] / "samples").glob("*.toml"))


def main() -> int:
    """Exit code 1 when there is a fault."""
    kinds: Counter[str] = Counter()
    scales: Counter[str] = Counter()
    sheets = jobs = 0
    slowest = (0.0, "")
    codes = [word for word in sys.argv[1:] if word in LANGUAGES]
    papers = ("letter", "A3") if codes else PAPERS
    cut: dict[tuple[str, str], int] = {}
    for title, job in _jobs([word for word in sys.argv[1:] if word not in LANGUAGES]):
        jobs += 1
        result = Result(plan(job))
        for code, name in product(("en", *codes), papers):
            start = time.process_time()
            with speaking(code):
                document = sheet_set(result, name)
                data = pdf(document)
            slowest = max(slowest, (time.process_time() - start, f"{title} on {name}"))
            sheets += len(document.sheets)
            walls = walls_of(result, document)
            for wall in walls:
                scales[f"{name} 1:{wall.scale}"] += 1
            shares = ", ".join(f"{wall.face} 1:{wall.scale} {wall.share:.0%}" for wall in walls)
            print(f"{title} on {name}, {code}: {len(document.sheets)} sheets; {shares}", flush=True)
            pages = read_pdf(data)
            short = [item.text for page in pages for item in page.letterings if ELLIPSIS in item.text]
            if len(short) > cut.setdefault((title, name), len(short)):
                kinds["cut"] += 1
                print(f"  cut: {short}", flush=True)
            for fault in (*check_pdf(pages, paper(name).inset), *check_faces(pages, walls)):
                kinds[fault.kind] += 1
                print(f"  {document.sheets[fault.page - 1].title}: {fault}", flush=True)
    print(f"{jobs} jobs on {', '.join(papers)}: {sheets} sheets, {sum(kinds.values())} faults {dict(kinds)}")
    print(f"walls: {dict(sorted(scales.items()))}; slowest set: {slowest[1]}, {slowest[0]:.1f} s of CPU")
    return int(bool(kinds))


def _jobs(words: list[str]) -> Iterator[tuple[str, Job]]:
    if words and not words[0].isdigit():
        yield from ((path.stem, read_job(path)) for path in SAMPLES)
        return
    given = [int(word) for word in words]
    count, first = (*given, *(100, 0)[len(given) :])
    yield from ((f"house {seed}", random_house(seed)) for seed in range(first, first + count))


if __name__ == "__main__":
    sys.exit(main())
