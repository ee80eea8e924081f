"""Weight of flush edges over random lapped houses, planned by two checkouts: one table, as Markdown.

Run as ``python -m tests.oracles.flushtable BEFORE AFTER [HOUSES]`` with the roots of the two checkouts.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

#: Runs inside a checkout. Its own code is asked, whatever version is installed: the older name of the package
#: is looked for first, since only an older checkout has it.
_PLANNED = """
import json, sys
try:
    from layout.planner import plan
except ImportError:
    from evencourse.layout.courses.planner import plan
from tests.houses import random_house
for seed in json.loads(sys.argv[1]):
    job = random_house(seed)
    sets = {}
    for name, found in plan(job).course_sets.items():
        if not found.cladding.fixed:
            score = found.lines.score
            sets[name] = [score.missed_must, score.wide_jump, score.slivers, score.flush_weight]
    print(json.dumps([seed, sets]), flush=True)
"""


def lapped_seeds(count: int) -> list[int]:
    """The first random houses whose main cladding is boards or shingles."""
    from tests.houses import random_house

    seeds: list[int] = []
    seed = 0
    while len(seeds) < count:
        if not random_house(seed).claddings["main"].fixed:
            seeds.append(seed)
        seed += 1
    return seeds


def planned(checkout: Path, seeds: list[int]) -> dict[int, dict[str, list[float]]]:
    """By house and course set: missed musts, jumps too wide, slivers, weight of flush edges."""
    with TemporaryDirectory() as folder:
        package = Path(folder, "evencourse")
        package.mkdir()
        for name in ("layout", "render", "cli"):
            (package / name).symlink_to(checkout / name)
        run = subprocess.run(
            [sys.executable, "-c", _PLANNED, json.dumps(seeds)],
            cwd=checkout, env={"PYTHONPATH": f"{folder}:{checkout}", "PATH": ""},
            check=True, stdout=subprocess.PIPE, text=True,
        )  # fmt: skip
    return dict(map(json.loads, run.stdout.splitlines()))


def table(before: dict[int, dict[str, list[float]]], after: dict[int, dict[str, list[float]]]) -> str:
    """One row a house, all its lapped course sets together; the last row is the sum."""
    lines = [
        "| house | flush weight before | after | slivers before | after | musts missed before | after |",
        "|---:|---:|---:|---:|---:|---:|---:|",
    ]
    sums = [0.0] * 6
    worse = 0
    for seed, sets in before.items():
        row = []
        for place in (3, 2, 0):
            row += [sum(found[place] for found in run.values()) for run in (sets, after[seed])]
        worse += any(_order(found) < _order(after[seed][name]) for name, found in sets.items())
        sums = [total + value for total, value in zip(sums, row, strict=True)]
        lines.append(f"| {seed} | " + " | ".join(f"{value:g}" for value in row) + " |")
    lines.append("| all | " + " | ".join(f"{value:g}" for value in sums) + " |")
    more = sum(
        sum(found[3] for found in after[seed].values()) > sum(found[3] for found in sets.values())
        for seed, sets in before.items()
    )
    lines.append(f"\nMore flush weight on {more} of {len(before)} houses; a course set is worse on {worse}.")
    return "\n".join(lines)


def _order(found: list[float]) -> list[float]:
    """Better when less: as the objective has it."""
    return [*(round(value, 9) for value in found[:3]), -found[3]]


def main(arguments: list[str]) -> None:
    before, after = Path(arguments[0]).resolve(), Path(arguments[1]).resolve()
    seeds = lapped_seeds(int(arguments[2]) if len(arguments) > 2 else 80)
    print(table(planned(before, seeds), planned(after, seeds)))


if __name__ == "__main__":
    main(sys.argv[1:])
