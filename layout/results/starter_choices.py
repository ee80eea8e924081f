"""Every starter line that can be chosen for a course set, with the plan that it makes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from evencourse.layout.courses.carrying_on import own_lines
from evencourse.layout.courses.cautions import cautions
from evencourse.layout.courses.course_sets import Question, ZoneGroup, groups, question
from evencourse.layout.courses.missed import carried_limits, missed_limits
from evencourse.layout.courses.planner import begun, met_face
from evencourse.layout.model.course_plan import CourseSet, ElevationPlan, Lines, Plan
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.model.missed_limit import MissedLimit
from evencourse.layout.solver.targets import Target, targets

#: Most marks of the tape that a starter can be moved to; with more between its limits, only every second or
#: third is kept.
MOST_MARKS = 128


@dataclass(frozen=True)
class StarterChoices:
    """What can be chosen for one course set while the others stay as they are planned.

    Attributes:
        low: the lowest mark of the tape that a starter can lie on [job units].
        high: the highest one [job units].
        plans: one for each mark, from the lowest up, then those of the plan's alternatives that are not among
            them. With other lines than the plan's a face has no area, and no edge has a reason why.
        marks: how many of them are one for each mark.
        planned: index of the plan's own.
        others: indices of the plan's alternatives, best first.
    """

    low: float
    high: float
    plans: tuple[Plan, ...]
    marks: int
    planned: int
    others: tuple[int, ...]


def starter_choices(plan: Plan) -> dict[str, StarterChoices]:
    """The starter lines that can be chosen for every course set of a plan, by its name.

    Where courses hang there is no mark but the one that they start from.
    """
    gathered = groups(plan.job)
    return {name: _choices(plan, name, gathered) for name in plan.course_sets}


def face_targets(job: Job, elevation: Elevation) -> list[tuple[str, Target]]:
    """Every edge of a face with the name of its course set, from the bottom up.

    Args:
        job: what was measured.
        elevation: one of its faces.
    """
    found = [
        (name, target)
        for name, group in groups(job).items()
        for member in group.members
        if member[0] is elevation
        for target in targets(job, *member)
    ]
    return sorted(found, key=lambda one: (one[1].height, one[1].left, one[1].kind))


def _choices(plan: Plan, name: str, gathered: Mapping[str, ZoneGroup]) -> StarterChoices:
    course_set = plan.course_sets[name]
    planned = course_set.lines
    hung = planned.butt_lines[: course_set.carried.hung] if course_set.carried else ()
    asked = question(plan.job, gathered[name], hung)
    starts = _starts(course_set, asked)
    answers = list(starts)
    known = {lines.butt_lines: number for number, lines in enumerate(starts)}
    others = [lines for lines in course_set.alternatives if lines.butt_lines != planned.butt_lines]
    for lines in others:
        if lines.butt_lines not in known:
            known[lines.butt_lines] = len(answers)
            answers.append(lines)
    marks = asked.marks()
    return StarterChoices(
        low=marks[0],
        high=marks[-1],
        plans=tuple(_moved(plan, course_set, lines, asked, gathered) for lines in answers),
        marks=len(starts),
        planned=starts.index(planned),
        others=tuple(known[lines.butt_lines] for lines in others),
    )


def _starts(course_set: CourseSet, asked: Question) -> list[Lines]:
    """The best lines from every mark, the plan's own among them, from the lowest mark up."""
    if course_set.carried:
        return [course_set.lines]
    found: dict[float, Lines] = {}
    marks = asked.marks()
    also = [other.starter for other in course_set.alternatives]
    for mark in [*marks[:: -(-len(marks) // MOST_MARKS)], *also]:
        found[mark] = asked.lines(next(asked.answers(mark)), asked.outside(mark))
    found[course_set.lines.starter] = course_set.lines
    return [found[mark] for mark in sorted(found)]


def _moved(
    plan: Plan, course_set: CourseSet, lines: Lines, asked: Question, gathered: Mapping[str, ZoneGroup]
) -> Plan:
    """The plan with other lines in one of its course sets."""
    if lines is course_set.lines:
        return plan
    job, name = plan.job, course_set.name
    there = replace(course_set, lines=lines, missed=_missed(job, course_set, asked, lines), unmet=())
    course_sets = {**plan.course_sets, name: there}

    def seen(face: ElevationPlan) -> ElevationPlan:
        if all(zone.course_set != name for zone in face.zones):
            return face
        met = met_face(job, face.elevation, gathered, course_sets)
        return replace(met, cautions=cautions(job, met, course_sets))

    faces = tuple(map(seen, plan.elevations))
    return replace(plan, course_sets=begun(course_sets, faces), elevations=faces)


def _missed(job: Job, course_set: CourseSet, asked: Question, lines: Lines) -> tuple[MissedLimit, ...]:
    if course_set.carried:
        own = own_lines(job, asked.book, lines.butt_lines, course_set.name)
        return carried_limits(job, asked, lines, own)
    return missed_limits(job, asked, lines, asked.outside(lines.starter))
