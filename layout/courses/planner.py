"""From a job to its plan: course sets, their lines, edges and rakes. A pure function."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from evencourse.layout.courses.carrying_on import (
    as_found,
    as_measured,
    changes,
    edge_there,
    hung_lines,
    lines_on,
    met_lines,
    own_lines,
)
from evencourse.layout.courses.cautions import cautions
from evencourse.layout.courses.course_sets import Question, ZoneGroup, groups, question
from evencourse.layout.courses.edge_reasons import unmet
from evencourse.layout.courses.edges import base_course, begins, edge, packed_there, score
from evencourse.layout.courses.low_slopes import low_slopes
from evencourse.layout.courses.missed import carried_limits, missed_limits
from evencourse.layout.courses.other_starter import other_starter
from evencourse.layout.courses.rakes import rakes
from evencourse.layout.model.as_built import CarriedOn, FaceLine, Levelling
from evencourse.layout.model.course_plan import (
    Base,
    CourseSet,
    Edge,
    ElevationPlan,
    Lines,
    Plan,
    Rake,
    ZonePlan,
)
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.model.low_slope import LowSlope
from evencourse.layout.solver.panels import Answer
from evencourse.layout.solver.score import NEAR, Rulebook, rulebook
from evencourse.layout.solver.targets import Target, targets
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.clad_area import clad_area
from evencourse.layout.wall.sides import sides

#: Alternatives that are kept beside the answer.
ALTERNATIVES = 4
#: Answers that are looked at for alternatives that differ to a crew.
LOOKED_AT = 600


def plan(job: Job, starters: Mapping[str, float] | None = None) -> Plan:
    """Course lines, edges and rakes of a whole job.

    Args:
        job: what was measured.
        starters: height of butt line 1 that the user wants, by course set; the name "" stands for every
            lowest course set [job units]. Scored like any other, inside its limits or not.

    Returns:
        The plan: the optimum of the objective in ``evencourse.layout.solver.score`` for every course set,
        and others that differ to a crew. What hangs already (``job.as_built``) stays as it is: the optimum is
        that of the courses above it, and the plan's job has its openings where they were found.

    Raises:
        KeyError: a course set in ``starters`` that the job does not have.
    """
    wanted = dict(starters or {})
    now = as_found(job)
    gathered = groups(now)
    unknown = [name for name in wanted if name and name not in gathered]
    if unknown:
        raise KeyError(unknown[0])
    first = plan(as_measured(job), starters) if job.as_built else None
    course_sets = {}
    for name, group in gathered.items():
        if first is not None and now.as_built.of(name):
            course_sets[name] = _carry_on(now, group, first.course_sets[name].lines)
        else:
            forced = wanted.get(name, wanted.get("") if group.bottom is None else None)
            course_sets[name] = _solve(now, group, forced)
    faces = tuple(_face(now, elevation, gathered, course_sets) for elevation in now.elevations)
    turned = tuple(changes(first.elevations, faces)) if first else ()
    return Plan(now, begun(course_sets, faces), faces, turned, job if job.as_built.openings else None)


def begun(course_sets: Mapping[str, CourseSet], faces: Iterable[ElevationPlan]) -> dict[str, CourseSet]:
    """Course sets that know whether a first course stands whole on their butt line 1.

    Args:
        course_sets: by name.
        faces: with their bases.
    """
    there: dict[str, bool] = {}
    for face in faces:
        for base in face.bases:
            whole = base.course == 1 and base.chalk_line is not None
            there[base.course_set] = there.get(base.course_set, False) or whole
        if not face.bases:  # a sloping base: the courses run past it, or are cut along it
            name = face.zones[0].course_set
            there[name] = there.get(name, False) or not _all_cut(face)
    return {name: replace(one, begun=there.get(name, True)) for name, one in course_sets.items()}


def _all_cut(face: ElevationPlan) -> bool:
    """Whether siding is cut along all of a sloping base."""
    slopes: list[Rake | LowSlope] = [*face.rakes, *face.low_slopes]
    cut = [one for one in slopes if one.side == "base" and one.roof is None]
    return len(cut) == sum(side.base for side in sides(face.elevation.outline))


def course_set_names(job: Job) -> tuple[str, ...]:
    """Names of the course sets that a job has, in the order of the plan."""
    return tuple(groups(job))


def _solve(job: Job, group: ZoneGroup, forced: float | None) -> CourseSet:
    asked = question(job, group)
    outside = asked.outside(asked.marks()[0] if forced is None else forced)
    answers = asked.answers(forced)
    best = asked.lines(next(answers), outside)
    others = _others(best, answers, asked, outside)
    if forced is not None and asked.cladding.fixed:
        others = _others(best, asked.answers(), asked, 0.0)
    why = unmet(asked, best)
    missed = missed_limits(job, asked, best, outside, why)
    instead = other_starter(job, group, asked, best) if forced is None else None
    missed += (instead,) if instead is not None else ()
    limits = (asked.allowed.low, asked.allowed.high)
    return CourseSet(group.name, group.prefix, asked.cladding, limits, best, others, missed, unmet=why)


def _carry_on(job: Job, group: ZoneGroup, planned: Lines) -> CourseSet:
    """The lines above what hangs, and what the faces make of them."""
    cladding = job.claddings[group.zone.cladding]
    hung = hung_lines(cladding, job.as_built.of(group.name), planned.butt_lines)
    asked = question(job, group, hung)

    def met(lines: Lines) -> Callable[[Target], Lines]:
        own = own_lines(job, asked.book, lines.butt_lines, group.name)
        return met_lines(job, lines, {face: found.lines for face, found in own.items()}, asked.book)

    each = [(target, 1) for target in asked.targets]

    def on_faces(lines: Lines) -> Lines:
        answer = (lines.starter, lines.bands, lines.butt_lines)
        return replace(lines, score=score(each, answer, asked.book, 0, met(lines))[0])

    answers = asked.answers()
    level = asked.lines(next(answers), 0.0)
    best, others = on_faces(level), tuple(map(on_faces, _others(level, answers, asked, 0.0)))
    why = unmet(asked, best, on_faces, met)
    own = own_lines(job, asked.book, best.butt_lines, group.name)
    missed = carried_limits(job, asked, best, own, why)
    limits = (asked.allowed.low, asked.allowed.high)
    carried = CarriedOn(len(hung), planned.butt_lines)
    return CourseSet(group.name, group.prefix, cladding, limits, best, others, missed, carried, why)


def _others(best: Lines, answers: Iterator[Answer], asked: Question, outside: float) -> tuple[Lines, ...]:
    """The best answers that differ to a crew from each other and from the one chosen."""
    book = asked.book
    kept = [best]
    marks = [_signature(best, asked)]
    seen = {best.butt_lines}
    for _, answer in zip(range(LOOKED_AT), answers, strict=False):
        if answer[2] in seen:
            continue
        seen.add(answer[2])
        lines = asked.lines(answer, outside)
        mark = _signature(lines, asked)
        if all(
            _differ(lines, mark, other, seen_mark, book) for other, seen_mark in zip(kept, marks, strict=True)
        ):
            kept.append(lines)
            marks.append(mark)
            if len(kept) > ALTERNATIVES:
                break
    return tuple(kept[1:])


def _signature(lines: Lines, asked: Question) -> tuple[tuple[str, int] | None, ...]:
    outcomes = (edge(target, lines, asked.book, "") for target, _ in asked.sorts)
    return tuple((found.result, found.course) if found else None for found in outcomes)


def _differ(lines: Lines, mark: object, other: Lines, other_mark: object, book: Rulebook) -> bool:
    if mark != other_mark:
        return True
    apart = rules().limits["differ"] * book.inch
    pairs = zip(lines.butt_lines, other.butt_lines, strict=False)
    return any(abs(mine - yours) >= apart - NEAR for mine, yours in pairs)


def _face(
    job: Job, elevation: Elevation, gathered: Mapping[str, ZoneGroup], course_sets: dict[str, CourseSet]
) -> ElevationPlan:
    met = met_face(job, elevation, gathered, course_sets)
    return replace(met, area=clad_area(job, met, course_sets), cautions=cautions(job, met, course_sets))


def met_face(
    job: Job, elevation: Elevation, gathered: Mapping[str, ZoneGroup], course_sets: dict[str, CourseSet]
) -> ElevationPlan:
    """A face under its course lines: zones, edges and rakes, with neither its area nor its cautions.

    Args:
        job: with openings where they were found.
        elevation: the face.
        gathered: the job's groups of zones (``evencourse.layout.courses.course_sets.groups``).
        course_sets: by name, with the lines to look at.
    """
    zones: list[ZonePlan] = []
    edges: list[Edge] = []
    bases: list[Base] = []
    built: list[FaceLine] = []
    levelled: list[Levelling] = []
    for name, group in gathered.items():
        for member, zone, bottom, top in group.members:
            if member is not elevation:
                continue
            course_set = course_sets[name]
            start = max(course_set.lines.starter, bottom) if group.bottom is None else bottom
            zones.append(ZonePlan(zone, name, start, top))
            book = rulebook(job, course_set.cladding)
            own = lines_on(job, elevation, book, course_set.lines.butt_lines, name)
            built += own.lines
            levelled += own.levelled
            for target in targets(job, member, zone, bottom, top):
                found = edge_there(target, course_set.lines, own.lines, elevation, book, name)
                if target.kind == "base":
                    begun_there = tuple(base_course(target, found, course_set, book))
                    found = packed_there(found, begun_there, book)
                    bases += begun_there
                if found is not None and not begins(found):
                    edges.append(found)
    zones.sort(key=lambda zone: zone.bottom)
    ordered = tuple(sorted(edges, key=lambda found: (found.height, found.left, found.edge)))
    return ElevationPlan(
        elevation=elevation,
        zones=tuple(zones),
        edges=ordered,
        rakes=tuple(rakes(job, elevation, tuple(zones), course_sets)),
        area=0.0,
        cautions=(),
        bases=tuple(sorted(bases, key=lambda base: base.left)),
        built=tuple(built),
        levelled=tuple(levelled),
        low_slopes=tuple(low_slopes(job, elevation, tuple(zones), course_sets)),
    )
