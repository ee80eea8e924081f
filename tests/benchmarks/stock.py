"""Stock of random houses against the length that no plan can beat, a plain greedy, and the rule of thumb.

``python -m tests.benchmarks.stock 300 8 5`` for 300 random houses and heaps of 8 and of 5 alone.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.order.heap_cost import EVERY
from evencourse.layout.order.siding_quantities import sidings
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.pieces.seam_places import places
from evencourse.layout.pieces.stretches import covered, stock_of, stretches
from evencourse.layout.pieces.strips import runs
from tests.houses import random_house
from tests.layout.piececheck import faults
from tests.layout.replay import replay

SAMPLES = sorted((Path(__file__).resolve().parents[2] / "samples").glob("*.toml"))


def greedy(planned: Plan, cladding: Cladding) -> int:
    """Bars of a plain greedy: a row starts with the longest offcut, then whole bars; no rule about seams."""
    lap, shortest = cladding.end_lap, planned.job.seams.shortest
    offcuts: list[float] = []
    bars = 0
    for run in runs(planned):
        if planned.course_sets[run.course_set].cladding.name != cladding.name:
            continue
        left, right = covered(planned, cladding, run)
        rest = right - left
        usable = sorted(offcut for offcut in offcuts if offcut >= shortest)
        fitting = [offcut for offcut in usable if offcut >= rest]
        if fitting:
            offcuts.remove(fitting[0])
            offcuts.append(fitting[0] - rest)
            continue
        if rest > cladding.length and usable:
            offcuts.remove(usable[-1])
            rest -= usable[-1] - lap
        while rest > cladding.length:
            bars += 1
            rest -= cladding.length - lap
        bars += 1
        offcuts.append(cladding.length - rest)
    return bars


def fewest_seams(planned: Plan) -> int:
    """Seams that the lawful layouts of every run by itself cannot do without."""
    names = dict.fromkeys(one.cladding.name for one in planned.course_sets.values())
    cut = [name for name in names if planned.job.claddings[name].length > 0]
    stocks = {
        name: stock_of(planned, planned.job.claddings[name], at) for at, name in enumerate(cut, start=1)
    }
    found = stretches(planned, runs(planned), stocks)
    return sum(places(one, ()).fewest - 1 for one in found if one.size > one.stock.capacity)


@dataclass(frozen=True)
class _House:
    """Figures of one house."""

    name: str
    bars: int
    bound: int
    greedy: int
    thumb: int
    faults: int
    seams: int
    fewest: int


def _house(name: str, job: Job, heap: int) -> _House | None:
    """None for a house without stock."""
    planned = plan(replace(job, order=replace(job.order, heap=heap)))
    made = pieces(planned)
    if not made.stock:
        return None
    return _House(
        name,
        sum(len(cutting.bars) for cutting in made.stock.values()),
        sum(cutting.length_bound for cutting in made.stock.values()),
        sum(greedy(planned, planned.job.claddings[name]) for name in made.stock),
        sum(one.by_thumb for one in sidings(planned, made)),
        len(faults(planned, made)) + len(replay(planned, made)[0]),
        sum(seam.fixture is None for face in made.faces for seam in face.seams),
        fewest_seams(planned),
    )


def stock(houses: int, heaps: Sequence[int] = (3, 5, 12, EVERY, 8)) -> None:
    """Print how close orders come to the bound, for heaps of several sizes.

    Args:
        houses: how many random houses, besides the samples.
        heaps: ends that may wait at once.
    """
    print(f"\nStock over the samples and {houses} random houses, per house")
    jobs = [(path.stem, read_job(path)) for path in SAMPLES]
    jobs += [(f"house {seed}", random_house(seed)) for seed in range(houses)]
    for heap in heaps:
        rows = [row for name, job in jobs if (row := _house(name, job, heap)) is not None]
        over = sorted((row.bars / row.bound - 1, row.name) for row in rows)
        more = sum(row.seams - row.fewest for row in rows) / len(rows)
        print(
            f"  heap {'without limit' if heap == EVERY else heap}, above the length bound: "
            f"mean {sum(share for share, _ in over) / len(over):.2%}, "
            f"worst {over[-1][0]:.2%} ({over[-1][1]}); "
            f"seams beyond the fewest {more:.1f}; faults {sum(row.faults for row in rows)}"
        )
    plain = sorted(row.greedy / row.bound - 1 for row in rows)
    print(f"  plain greedy, no rule about seams: mean {sum(plain) / len(plain):.2%}, worst {plain[-1]:.2%}")
    saved = sorted(1 - row.bars / row.thumb for row in rows)
    print(
        f"  against area and 10 %: saves {sum(saved) / len(saved):.1%} in the mean, "
        f"from {saved[0]:.1%} to {saved[-1]:.1%}"
    )


if __name__ == "__main__":
    stock(int(sys.argv[1]), [int(heap) for heap in sys.argv[2:]] or (3, 5, 12, EVERY, 8))
