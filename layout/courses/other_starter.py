"""Where no starter that is allowed meets the musts: the one that would, what to write, and what it costs."""

from __future__ import annotations

from dataclasses import replace

from evencourse.layout.courses.course_sets import Question, ZoneGroup
from evencourse.layout.courses.starter_line import StarterRange
from evencourse.layout.model.course_plan import Lines, MissedLimit
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import show_length
from evencourse.layout.solver.score import NEAR
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.sides import cover_max, lowest


def other_starter(job: Job, group: ZoneGroup, asked: Question, best: Lines) -> MissedLimit | None:
    """What to write for more musts to be met, when ground, cover or limits leave no starter for them.

    Args:
        job: for its units and limits.
        group: the zones that share the lines.
        asked: what was asked of them.
        best: the answer.

    Returns:
        None when every must is met, or no starter between the base and the lowest line at which the starter
        strip is still nailed into the wall meets more of them; or where zones begin on a band board.
    """
    missed = best.score.missed_must
    if not missed or group.bottom is not None or group.zone.starter is not None:
        return None
    base, near = min(lowest(member[0]) for member in group.members), NEAR * job.inch
    wide = StarterRange(base - cover_max(asked.cladding, job.inch), base, None)
    if asked.allowed.low <= wide.low + near and asked.allowed.high >= wide.high - near:
        return None
    found = replace(asked, allowed=wide)
    lines = found.lines(next(found.answers()), 0.0)
    gained = missed - lines.score.missed_must
    if gained <= 0 or asked.outside(lines.starter) <= near:
        return None

    def show(length: float) -> str:
        return show_length(length, job.units, job.round) + (" mm" if job.units == "mm" else "")

    costs = []
    ground, clear = asked.allowed.ground, asked.cladding.ground_clearance
    if ground is not None and lines.starter < ground - near:
        costs.append(
            f"the siding then hangs {show(lines.starter - ground + clear)} above the ground, where "
            f"{show(clear)} is wanted: only if the maker's instructions and the local code allow it"
        )
    cover, least = base - lines.starter, rules().limits["cover_min"] * job.inch
    if cover < least - near:
        costs.append(f"the first course then covers the base by {show(cover)}, where {show(least)} is wanted")
    write = f"write starter = [{lines.starter:g}, {lines.starter:g}] under [limits]"
    musts = "the must is" if gained == missed == 1 else f"{gained} of the {missed} missed musts are"
    why = "; ".join([f"{write}: {musts} met then", *(costs or ["it costs nothing else"])])
    return MissedLimit("the starter that is allowed misses a must", asked.outside(lines.starter), why)
