"""Where no starter that is allowed meets the musts: the one that would, and what it costs."""

from __future__ import annotations

from dataclasses import replace

from evencourse.layout.courses.course_sets import Question, ZoneGroup
from evencourse.layout.courses.starter_line import StarterRange
from evencourse.layout.model.course_plan import Lines
from evencourse.layout.model.job import Job
from evencourse.layout.model.missed_limit import MissedLimit, OtherStarter
from evencourse.layout.solver.score import NEAR
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.roofs import first_base
from evencourse.layout.wall.sides import cover_max


def other_starter(job: Job, group: ZoneGroup, asked: Question, best: Lines) -> MissedLimit | None:
    """The starter that meets more musts, when ground, cover or limits leave no starter for them.

    Args:
        job: for its units and limits.
        group: the zones that share the lines.
        asked: what was asked of them.
        best: the answer.

    Returns:
        None when every must is met, or no starter between the base and the lowest line at which the starter
        strip is still nailed into the wall meets more of them; or where zones begin on a band board or over a
        roof.
    """
    missed = best.score.missed_must
    if not missed or group.bottom is not None or group.zone.starter is not None:
        return None
    begins, near = first_base(job, [member[0] for member in group.members]), NEAR * job.inch
    if begins.over_roof:
        return None
    base = begins.height
    wide = StarterRange(base - cover_max(asked.cladding, job.inch), base, None)
    if asked.allowed.low <= wide.low + near and asked.allowed.high >= wide.high - near:
        return None
    found = replace(asked, allowed=wide)
    lines = found.lines(next(found.answers()), 0.0)
    gained = missed - lines.score.missed_must
    if gained <= 0 or asked.outside(lines.starter) <= near:
        return None

    ground, clear = asked.allowed.ground, asked.cladding.ground_clearance
    near_ground = ground is not None and lines.starter < ground - near
    cover, least = base - lines.starter, rules().limits["cover_min"] * job.inch
    instead = OtherStarter(
        starter=lines.starter,
        cover=cover,
        thin=cover < least - near,
        over_ground=lines.starter - ground + clear if ground is not None and near_ground else None,
        gained=gained,
        missed=missed,
    )
    return MissedLimit("musts", asked.outside(lines.starter), instead=instead)
