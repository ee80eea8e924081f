"""How sure a plan is, against brute force: every combination of errors on a grid, in whole 1/64 in.

Heights, exposures, tolerance and least strip all lie on 1/16 in here. So every height at which something
changes does, too, and a grid of 1/64 in that holds both ends meets every stretch between two of them: brute
force sees all there is, and the two must agree both ways. The fate of an edge is written anew, in whole
numbers, from its definition in words.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, fields, replace
from itertools import accumulate, product

import pytest

from evencourse.layout.courses.certainty import Worst, holding_up_best, possible, robust_starters, worst_case
from evencourse.layout.courses.course_sets import Question, groups, question
from evencourse.layout.courses.starter_line import StarterRange
from evencourse.layout.model.course_plan import Band, Lines, Score
from evencourse.layout.solver.laps import lap_lines
from evencourse.layout.solver.panels import panel_courses
from evencourse.layout.solver.score import columns, strict_order
from evencourse.layout.solver.targets import Target
from tests.houses import random_house
from tests.oracles.coursewalls import book, cladding, random_wall

BLANK = Score(*[0] * len(fields(Score)))
KINDS = ("head", "sill", "eave", "base", "base", "band", "eave left", "eave right")


def fate(height: int, butts: list[int], kind: str, cover_run: int, panel: bool) -> str:
    """What happens at a height, everything in 1/64 in: flush within 8, a sliver below 96.

    A base is flush when a line lies 1/2 to 1 in below it, of panels to 1-1/2 in.
    """
    if height <= butts[0]:
        return "passed"
    if kind == "base":
        if any(32 <= height - butt <= (96 if panel else 64) for butt in butts):
            return "flush"
        if height <= butts[0] + cover_run:
            return "passed"
    elif min(abs(height - butt) for butt in butts) <= 8:
        return "flush"
    foot = max(butt for butt in butts if butt <= height)
    head = min(butt for butt in butts if butt > height)
    below = kind in ("sill", "eave", "eave left", "eave right", "band")
    return "sliver" if (height - foot if below else head - height) < 96 else "notch"


@dataclass(frozen=True)
class Case:
    """Lines and edges on 1/16 in, with the butt lines in 1/64 in, three courses more than the plan has."""

    asked: Question
    lines: Lines
    butts: list[int]
    error: int


def case(seed: int, family: str, edges: int) -> Case:
    chance = random.Random(f"{family} {seed}")
    if family == "panel":
        step = chance.choice([6 * 64 + 32, 8 * 64, 9 * 64, 10 * 64])
        steps, bands = [step] * 9, [(9, step)]
    else:
        bands = [(chance.randrange(1, 4), 4 * chance.randrange(88, 140)) for _ in range(4)]
        steps = [step for courses, step in bands for _ in range(courses)]
    start = 4 * chance.randrange(-32, 1)
    butts = list(accumulate(steps, initial=start))
    longer = [*butts, *(butts[-1] + steps[-1] * k for k in (1, 2, 3))]
    exposures = [step / 64 for step in steps]
    siding = cladding(family, min(exposures), exposures[0], max(exposures), chance.choice([1, 2]))
    targets = []
    for _ in range(edges):
        kind = chance.choice(KINDS)
        butt = chance.choice(butts)
        height = max(start + 4, butt + 4 * chance.choice([*range(-30, 31), *range(-5, 6), *range(-5, 6)]))
        importance = chance.choices(["want", "must", "ignore"], [6, 3, 1])[0]
        usual = {"head": 4, "base": 4, "sill": 2, "eave left": 0.5}.get(kind, 1)
        weight = usual * chance.choice([1, 1, 2, 0.5])
        targets.append(Target("Front", None, kind, min(height, butts[-1]) / 64, 0, 10, importance, weight))
    first, made = 1, []
    for courses, step in bands:
        made.append(Band(first, courses, step / 64))
        first += courses
    lines = Lines(start / 64, tuple(made), tuple(butt / 64 for butt in butts), BLANK)
    allowed = StarterRange(start / 64, start / 64, None)
    asked = Question("main", siding, book(siding), tuple(targets), butts[-1] / 64, allowed, 1 / 16)
    return Case(asked, lines, longer, chance.choice([2, 4, 8, 8, 16]))


def seen_fates(found: Case, target: Target, off: range) -> set[str]:
    run = round(found.asked.book.cover_run * 64)
    panel = found.asked.cladding.family == "panel"
    return {fate(round(target.height * 64) + by, found.butts, target.kind, run, panel) for by in off}


@pytest.mark.parametrize("family", ["panel", "lap"])
@pytest.mark.parametrize("seed", range(150))
def test_the_fates_of_every_edge_are_those_that_some_error_on_the_grid_gives(seed: int, family: str) -> None:
    found = case(seed, family, 8)
    twice = 2 * found.error
    for target in found.asked.targets:
        told = possible(target, found.lines, found.asked.book, found.error / 64)
        assert told == seen_fates(found, target, range(-twice, twice + 1))


def seen_worst(found: Case) -> Worst:
    """Datum and every edge on its own; grid of 1/64 in for the datum, whole fates for each edge."""
    counted = [target for target in found.asked.targets if target.importance != "ignore"]
    musts, slivers, weights, numbers = set(), set(), set(), set()
    for datum in range(-found.error, found.error + 1):
        own = range(datum - found.error, datum + found.error + 1)
        for fates in product(*(sorted(seen_fates(found, target, own)) for target in counted)):
            pairs = list(zip(counted, fates, strict=True))
            musts.add(sum(t.importance == "must" and f in ("notch", "sliver") for t, f in pairs))
            slivers.add(sum(f == "sliver" for _, f in pairs))
            weights.add(sum(t.weight for t, f in pairs if f == "flush"))
            numbers.add(sum(f == "flush" and t.kind != "base" for t, f in pairs))
    return Worst(max(musts), max(slivers), min(weights), min(numbers))


@pytest.mark.parametrize("family", ["panel", "lap"])
@pytest.mark.parametrize("seed", range(60))
def test_the_worst_case_is_the_worst_of_all_combinations_of_errors(seed: int, family: str) -> None:
    found = case(seed, family, 3)
    assert worst_case(found.asked, found.lines, found.error / 64) == seen_worst(found)


@pytest.mark.parametrize("seed", range(40))
def test_sampled_errors_never_leave_what_was_told_for_laps_as_the_planner_divides_them(seed: int) -> None:
    """Exposures such as 7-1/3 in lie on no grid: every sampled error must still be among the fates told."""
    wall = random_wall(seed, "lap")
    rules = book(wall.siding)
    starter, bands, butts = next(lap_lines(rules, columns(wall.targets), wall.starters, wall.top))
    lines = Lines(starter, bands, butts, BLANK)
    chance = random.Random(seed)
    longer = (*butts, butts[-1] + bands[-1].exposure)
    for target in wall.targets:
        told = possible(target, lines, rules, 0.125)
        for off in (-0.25, 0.25, 0.0, *(chance.uniform(-0.25, 0.25) for _ in range(200))):
            height = target.height + off
            cut = height - max((butt for butt in longer if butt <= height), default=height)
            rest = min(butt for butt in longer if butt > height) - height
            below = target.kind in ("sill", "eave left", "eave", "band")
            based = target.kind == "base"
            if height <= starter:
                seen = "passed"
            elif based and 0.5 - 1e-9 <= cut <= 1 + 1e-9:
                seen = "flush"
            elif based and height <= starter + rules.cover_run:
                seen = "passed"
            elif not based and min(cut, rest) <= 0.125 + 1e-9:
                seen = "flush"
            else:
                seen = "sliver" if (cut if below else rest) < 1.5 - 1e-9 else "notch"
            assert seen in told, (target, off)


def in_words(lines: Lines, worst: Worst) -> tuple[float, ...]:
    """How lines hold up, in words: musts missed and slivers at worst, weight that is sure to be flush."""
    return (lines.score.limits, worst.missed_must, worst.slivers, -worst.flush_weight)


@pytest.mark.parametrize("seed", range(100))
def test_no_other_mark_of_panels_holds_up_better_by_brute_force(seed: int) -> None:
    """The worst case of every mark from all combinations of errors; of those alike the best as planned."""
    found = case(seed, "panel", 4)
    low = found.lines.starter
    asked = replace(found.asked, allowed=StarterRange(low - 0.25, low + 0.25, None))
    chosen = holding_up_best(asked, found.error / 64)
    keys = {}
    for lines in asked.from_each_mark():
        step = lines.bands[0].exposure
        longer = (*lines.butt_lines, *(lines.butt_lines[-1] + step * k for k in (1, 2, 3)))
        seen = seen_worst(Case(asked, lines, [round(64 * butt) for butt in longer], found.error))
        keys[lines.starter] = (in_words(lines, seen), strict_order(lines.score))
    assert keys[chosen.starter] == min(keys.values())


@pytest.mark.parametrize("seed", range(60))
def test_no_other_mark_of_laps_holds_up_better(seed: int) -> None:
    """The worst case as told, which is held against brute force and samples above."""
    wall = random_wall(seed, "lap")
    allowed = StarterRange(wall.starters[0], wall.starters[-1] + 0.25, None)
    asked = Question("main", wall.siding, book(wall.siding), wall.targets, wall.top, allowed, 1 / 16)
    chosen = holding_up_best(asked, 1 / 16)
    keys = {
        lines.starter: (in_words(lines, worst_case(asked, lines, 1 / 16)), strict_order(lines.score))
        for lines in asked.from_each_mark()
    }
    assert keys[chosen.starter] == min(keys.values())


@pytest.mark.parametrize("seed", [0, 13])
def test_every_free_course_set_of_a_house_gets_a_starter(seed: int) -> None:
    job = random_house(seed)
    chosen = robust_starters(job, job.inch / 8)
    for name, group in groups(job).items():
        asked = question(job, group)
        assert (name in chosen) == (len(asked.marks()) > 1)
        assert name not in chosen or chosen[name] in asked.marks()


def test_lines_from_each_mark_are_the_best_that_start_there() -> None:
    asked = replace(case(3, "panel", 8).asked, allowed=StarterRange(-1, 0, None))
    found = asked.from_each_mark()
    assert [lines.starter for lines in found] == [-1 + k / 16 for k in range(17)]
    for lines in found:
        assert lines.butt_lines == panel_courses(asked.book, lines.starter, asked.top)[2]
