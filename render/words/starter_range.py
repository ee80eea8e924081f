"""Where a starter may lie, and why: the crew's words for ``evencourse.layout.courses.starter_line``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evencourse.layout.courses.course_sets import ZoneGroup
from evencourse.layout.courses.starter_line import StarterRange, starter_range, tape_marks
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.solver.score import NEAR
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.roofs import first_base
from evencourse.layout.wall.sides import cover_max
from evencourse.render.words.plan_words import measured


@dataclass(frozen=True)
class RangeWords:
    """The starter range of one course set.

    Attributes:
        low: the lowest mark of the tape in it [job units].
        high: the highest one; equal to ``low`` for a starter that is fixed [job units].
        why: what sets it, in words.
    """

    low: float
    high: float
    why: str


def range_words(job: Job, group: ZoneGroup) -> RangeWords:
    """The starter range of a course set and what sets it: limits, base and cover, ground, band board, wall.

    Args:
        job: what was measured.
        group: the zones that share the lines.
    """
    hung = job.as_built.of(group.name)
    ends = [end for line in hung if line.course == 1 for end in (line.left, line.right)]
    if ends:
        level = (min(ends) + max(ends)) / 2
        return RangeWords(level, level, gettext("course 1 is installed there"))
    cladding = job.claddings[group.zone.cladding]
    faces = [member[0] for member in group.members]
    allowed = starter_range(job, cladding, faces, group.bottom, group.zone.starter)
    marks = tape_marks(allowed.low, allowed.high, job.round)
    why = _why(job, group, faces, allowed)
    if hung:
        last = f"{group.prefix}{max(line.course for line in hung)}"
        why = gettext(
            "{why}; installed up to course {course}; course 1 was not measured and is taken as planned",
            why=why,
            course=last,
        )
    return RangeWords(marks[0], marks[-1], why)


def _why(job: Job, group: ZoneGroup, faces: Sequence[Elevation], allowed: StarterRange) -> str:
    if group.zone.starter is not None:
        return gettext("limits given for the zone: {limits}", limits=_given(job, allowed))
    if group.bottom is not None:
        return gettext(
            "it stands on the band board, whose top is at {height}", height=measured(job, group.bottom)
        )
    cladding, ground = job.claddings[group.zone.cladding], allowed.ground
    clear = measured(job, cladding.ground_clearance)
    reaches = "" if ground is None else measured(job, ground - cladding.ground_clearance)
    if job.limits.starter is not None:
        words = gettext("limits given for the job: {limits}", limits=_given(job, allowed))
        if ground is not None and allowed.low < ground - NEAR:
            return gettext(
                "{limits}; below {height} the siding is nearer than {clear} to the ground, which reaches "
                "{ground}",
                limits=words,
                height=measured(job, ground),
                clear=clear,
                ground=reaches,
            )
        return words
    base, cover = first_base(job, faces), rules().limits["cover_min"] * job.inch
    lies = gettext("at {height}", height=measured(job, base.height))
    if any(first_base(job, [face]).height > base.height + NEAR for face in faces):
        lies = gettext("at {height} on {face}", height=measured(job, base.height), face=base.face)
    if base.over_roof:
        return gettext(
            "its base is behind a roof, deck or ledger: course 1 begins on the clearance over it, {place}",
            place=lies,
        )
    top = gettext(
        "no higher: the first course covers the lowest base, {place}, by {cover}",
        place=lies,
        cover=measured(job, cover),
    )
    if ground is not None and ground > allowed.high + NEAR:
        return gettext(
            "{limit}; no lower: even so the siding is nearer than {clear} to the ground, which reaches "
            "{ground}",
            limit=top,
            clear=clear,
            ground=reaches,
        )
    if ground is not None and ground >= allowed.low - NEAR:
        return gettext(
            "{limit}; no lower: {clear} clear of the ground, which reaches {ground}",
            limit=top,
            clear=clear,
            ground=reaches,
        )
    most = cover_max(cladding, job.inch)
    if most <= cover:
        return gettext("{limit}; no lower: this siding hangs no farther below its base", limit=top)
    return gettext(
        "{limit}; no lower: it hangs at most {most} below, so that the starter strip can be nailed to the "
        "wall",
        limit=top,
        most=measured(job, most),
    )


def _given(job: Job, allowed: StarterRange) -> str:
    low, high = measured(job, allowed.low), measured(job, allowed.high)
    return low if low == high else gettext("{low} to {high}", low=low, high=high)
