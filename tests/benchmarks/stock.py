"""Stock of random houses against the length that no plan can beat, a plain greedy, and the rule of thumb."""

from __future__ import annotations

from pathlib import Path

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.order.siding_quantities import sidings
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.pieces.seam_stretches import covered
from evencourse.layout.pieces.strips import runs
from tests.houses import random_house
from tests.layout.piececheck import faults

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


def _house(job: Job) -> tuple[int, int, int, int, int, int] | None:
    """Bars, length bound, greedy's, rule of thumb's, faults, seams of a house; None for one without stock."""
    planned = plan(job)
    made = pieces(planned)
    if not made.stock:
        return None
    bars = sum(len(cutting.bars) for cutting in made.stock.values())
    bound = sum(cutting.length_bound for cutting in made.stock.values())
    plain = sum(greedy(planned, planned.job.claddings[name]) for name in made.stock)
    thumb = sum(one.by_thumb for one in sidings(planned, made))
    seams = sum(len(face.seams) for face in made.faces)
    return bars, bound, plain, thumb, len(faults(planned, made)), seams


def stock(houses: int) -> None:
    """Print how close orders come to the bound.

    Args:
        houses: how many random houses, besides the samples.
    """
    print(f"\nStock over the samples and {houses} random houses, per house")
    found = [(path.stem, _house(read_job(path))) for path in SAMPLES]
    found += [(f"house {seed}", _house(random_house(seed))) for seed in range(houses)]
    rows = [(name, row) for name, row in found if row is not None]
    for which, title in ((0, "above the length bound"), (2, "plain greedy above it, no rule about seams")):
        over = sorted((row[which] / row[1] - 1, name) for name, row in rows)
        mean = sum(share for share, _ in over) / len(over)
        print(f"  {title}: mean {mean:.2%}, worst {over[-1][0]:.2%} ({over[-1][1]})")
    saved = sorted(1 - row[0] / row[3] for _, row in rows)
    print(
        f"  against area and 10 %: saves {sum(saved) / len(saved):.1%} in the mean, "
        f"from {saved[0]:.1%} to {saved[-1]:.1%}"
    )
    print(f"  seams: {sum(row[5] for _, row in rows)}, to {sum(row[0] for _, row in rows)} lengths")
    print(
        f"  faults found in pieces, seams and stock: {sum(row[4] for _, row in rows)} in {len(rows)} houses"
    )
