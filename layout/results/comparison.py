"""Side by side: other profiles and starters for the same building, and every starter of one course set."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from math import isclose

from evencourse.layout.courses.course_sets import groups, question
from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan, Score
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.layout.order.siding_quantities import Siding, sidings
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.layout.solver.score import FLUSH_WEIGHT, strict_order
from evencourse.layout.trade.profiles import build_cladding, profile_names


def installed() -> Fault:
    """Why no other siding is tried on a wall that has some: its courses are those of what hangs."""
    found, wanted = gettext("courses installed"), gettext("siding of which nothing is installed yet")
    return Fault("as_built, course", found, wanted)


@dataclass(frozen=True)
class StarterScores:
    """The score at every mark of the tape where one course set may start.

    Attributes:
        course_set: its name.
        starters: every mark, from the lowest up [job units].
        scores: of the best lines from each.
        chosen: index of the plan's own starter; None when it lies on none of these marks.
        good: indices of the first and the last mark of the starter range: the marks round the chosen one that
            meet the edges just as well; None when no mark is chosen.
    """

    course_set: str
    starters: tuple[float, ...]
    scores: tuple[Score, ...]
    chosen: int | None
    good: tuple[int, int] | None

    @property
    def width(self) -> float | None:
        """How wide the starter range is, from its first mark to its last [job units]."""
        if self.good is None:
            return None
        return self.starters[self.good[1]] - self.starters[self.good[0]]


@dataclass(frozen=True)
class Candidate:
    """One way to side the building.

    Attributes:
        claddings: the cladding of each name in the job.
        own: these are the job's own.
        starters: starters that were asked for; empty for those that the planner chose [job units].
        plan: its plan.
        score: the scores of all course sets added up.
        uses: what each cladding takes.
        strips: the score over every starter, for course sets that may start on more than one mark.
    """

    claddings: Mapping[str, Cladding]
    own: bool
    starters: Mapping[str, float]
    plan: Plan
    score: Score
    uses: tuple[Siding, ...]
    strips: tuple[StarterScores, ...]


def compare(
    job: Job, swaps: Sequence[Mapping[str, str]] = ({},), starters: Sequence[Mapping[str, float]] = ({},)
) -> tuple[Candidate, ...]:
    """Plan the same building in several ways, best first.

    Args:
        job: what was measured, with the claddings that it names.
        swaps: for each way the shipped profiles that take the place of the job's claddings, by their names in
            the job; an empty one leaves the job's own.
        starters: for each way heights of butt line 1, as for ``evencourse.layout.courses.planner.plan``; an
            empty one lets the planner choose. Every swap is planned with each.

    Returns:
        One candidate for every pair, in the strict order of the objective, the terms of all course sets added
        up; of equal ones the one that was named first.

    Raises:
        KeyError: no such cladding in the job, no such profile, or no such course set.
    """
    return in_order([candidate(job, swap, starter) for swap in swaps for starter in starters])


def in_order(found: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """Candidates in the strict order of the objective, best first; equal ones as they were."""
    return tuple(sorted(found, key=lambda one: strict_order(one.score)))


def candidate(job: Job, swap: Mapping[str, str], starters: Mapping[str, float]) -> Candidate:
    """One way to side the building, as in ``compare``."""
    swapped = swapped_job(job, swap)
    planned = plan(swapped, starters)
    own = all(swapped.claddings[name] == cladding for name, cladding in job.claddings.items())
    score = total(course_set.lines.score for course_set in planned.course_sets.values())
    uses = sidings(planned, pieces(planned))
    return Candidate(swapped.claddings, own, dict(starters), planned, score, uses, tuple(strips(planned)))


def swapped_job(job: Job, swap: Mapping[str, str]) -> Job:
    """The job with shipped profiles in place of its claddings; nothing that it overrides goes over to them.

    Raises:
        KeyError: no such cladding in the job, or no such profile.
    """
    claddings = dict(job.claddings)
    for name, profile in swap.items():
        if claddings[name].profile != profile:
            claddings[name] = build_cladding(name, profile, {}, job.units)
    return replace(job, claddings=claddings)


def stand_ins(job: Job) -> tuple[Mapping[str, str], ...]:
    """Every shipped profile that could take the place of one of the job's claddings: those of its family."""
    swaps: list[Mapping[str, str]] = [{}]
    for name, cladding in job.claddings.items():
        for profile in profile_names():
            shipped = build_cladding(name, profile, {}, job.units)
            if shipped.family == cladding.family and profile != cladding.profile:
                swaps.append({name: profile})
    return tuple(swaps)


def total(scores: Iterator[Score]) -> Score:
    """Scores added up, term by term."""
    found = list(scores)
    return Score(**{term.name: sum(getattr(score, term.name) for score in found) for term in fields(Score)})


def strips(planned: Plan) -> Iterator[StarterScores]:
    """The score over every starter, for each course set that may still start on more than one mark.

    Args:
        planned: a plan; its starters are the chosen ones.
    """
    for name, group in groups(planned.job).items():
        if planned.course_sets[name].carried is not None:
            continue
        asked = question(planned.job, group)
        lines = asked.from_each_mark()
        if len(lines) == 1:
            continue
        own = planned.course_sets[name].lines.starter
        near = SAME * asked.mark
        chosen = next((at for at, one in enumerate(lines) if abs(one.starter - own) <= near), None)
        scores = tuple(one.score for one in lines)
        good = None if chosen is None else _good_spot(scores, chosen)
        yield StarterScores(name, tuple(one.starter for one in lines), scores, chosen, good)


def _good_spot(scores: Sequence[Score], chosen: int) -> tuple[int, int]:
    """First and last of the marks round the chosen one whose edges come out just as well."""
    best = strict_order(scores[chosen])[: FLUSH_WEIGHT + 1]

    def good(at: int) -> bool:
        here = strict_order(scores[at])[: FLUSH_WEIGHT + 1]
        return all(a <= b or isclose(a, b, abs_tol=ROUNDING) for a, b in zip(here, best, strict=True))

    first = last = chosen
    while first > 0 and good(first - 1):
        first -= 1
    while last < len(scores) - 1 and good(last + 1):
        last += 1
    return first, last
