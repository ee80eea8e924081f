"""From a job to its plan: course sets, their lines, edges and rakes. A pure function."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil, floor

from layout.cautions import cautions
from layout.edges import edge, score
from layout.job import Elevation, Job, Zone
from layout.missed import missed_limits
from layout.panels import Answer, panel_courses, panel_lines
from layout.plan import CourseSet, Edge, ElevationPlan, Lines, Plan, ZonePlan
from layout.rakes import rakes
from layout.rules import rules
from layout.score import NEAR, Rulebook, columns, rulebook
from layout.startline import starter_range
from layout.targets import Target, targets
from layout.wall import highest

#: Alternatives that are kept beside the answer.
ALTERNATIVES = 4
#: Answers that are looked at for alternatives that differ to a crew.
LOOKED_AT = 600


@dataclass
class _Group:
    """Zones of the faces that share one set of course lines."""

    name: str
    prefix: str
    zone: Zone
    bottom: float | None
    members: list[tuple[Elevation, Zone, float, float]] = field(default_factory=list)


def plan(job: Job, starters: Mapping[str, float] | None = None) -> Plan:
    """Course lines, edges and rakes of a whole job.

    Args:
        job: what was measured.
        starters: height of butt line 1 that the user wants, by course set; the name "" stands for every
            lowest course set [job units]. Scored like any other, inside its limits or not.

    Returns:
        The plan: the optimum of the objective in ``layout.score`` for every course set, and others that
        differ to a crew.

    Raises:
        KeyError: a course set in ``starters`` that the job does not have.
    """
    wanted = dict(starters or {})
    groups = _groups(job)
    unknown = [name for name in wanted if name and name not in groups]
    if unknown:
        raise KeyError(unknown[0])
    course_sets = {}
    for name, group in groups.items():
        forced = wanted.get(name, wanted.get("") if group.bottom is None else None)
        course_sets[name] = _solve(job, group, forced)
    faces = tuple(_face(job, elevation, groups, course_sets) for elevation in job.elevations)
    return Plan(job, course_sets, faces)


def course_set_names(job: Job) -> tuple[str, ...]:
    """Names of the course sets that a job has, in the order of the plan."""
    return tuple(_groups(job))


def _groups(job: Job) -> dict[str, _Group]:
    """Zones gathered by what they share: the course set's name, the cladding, and where they begin."""
    groups: dict[str, _Group] = {}
    keys: dict[tuple[str, str, float | None], str] = {}
    for elevation in job.elevations:
        bottom: float | None = None
        for index, zone in enumerate(elevation.zones):
            shared = zone.courses or elevation.courses
            key = (shared, zone.cladding, None if bottom is None else round(bottom, 6))
            if key not in keys:
                keys[key] = _name(shared, zone, index, groups)
                upper = sum(group.bottom is not None for group in groups.values())
                prefix = "" if bottom is None else chr(ord("B") + upper % 24)
                groups[keys[key]] = _Group(keys[key], prefix, zone, bottom)
            group = groups[keys[key]]
            top = highest(elevation) if zone.top is None else zone.top
            group.members.append((elevation, zone, float("-inf") if bottom is None else bottom, top))
            bottom = top + zone.trim
    return groups


def _name(shared: str, zone: Zone, index: int, groups: Mapping[str, _Group]) -> str:
    plain = shared if index == 0 else f"{shared}/{zone.cladding}"
    name, number = plain, 2
    if index == 0 and name in groups:
        name = plain = f"{shared}/{zone.cladding}"
    while name in groups:
        name, number = f"{plain} {number}", number + 1
    return name


def _solve(job: Job, group: _Group, forced: float | None) -> CourseSet:
    cladding = job.claddings[group.zone.cladding]
    book = rulebook(job, cladding)
    edges = [target for member in group.members for target in targets(*member)]
    top = max(member[3] for member in group.members)
    faces = [member[0] for member in group.members]
    allowed = starter_range(job, cladding, faces, group.bottom, group.zone.starter)
    marks = [forced] if forced is not None else tape_marks(allowed.low, allowed.high, job.round)
    outside = max(0.0, allowed.low - marks[0], marks[-1] - allowed.high)
    answers = _answers(book, edges, marks, top)
    best = _lines(next(answers), edges, book, outside)
    others = _others(best, answers, edges, book, outside)
    if forced is not None and cladding.fixed:
        free = _answers(book, edges, tape_marks(allowed.low, allowed.high, job.round), top)
        others = _others(best, free, edges, book, 0.0)
    missed = missed_limits(job, book, allowed, edges, best, outside)
    return CourseSet(group.name, group.prefix, cladding, (allowed.low, allowed.high), best, others, missed)


def tape_marks(low: float, high: float, mark: float) -> list[float]:
    """Heights on the tape's grid from low to high; ``low`` itself when no mark lies between [job units]."""
    first, last = ceil(low / mark - NEAR), floor(high / mark + NEAR)
    return [k * mark for k in range(first, last + 1)] or [low]


def _answers(book: Rulebook, edges: Sequence[Target], marks: Sequence[float], top: float) -> Iterator[Answer]:
    cols = columns(edges)
    if book.cladding.fixed:
        if len(cols.height):
            return panel_lines(book, cols, marks, top)
        return (panel_courses(book, mark, top) for mark in marks)
    from layout.laps import lap_lines

    return lap_lines(book, cols, marks, top)


def _lines(answer: Answer, edges: Sequence[Target], book: Rulebook, outside: float) -> Lines:
    starter, bands, butts = answer
    return Lines(starter, bands, butts, score(edges, answer, book, book.quanta(outside))[0])


def _others(
    best: Lines, answers: Iterator[Answer], edges: Sequence[Target], book: Rulebook, outside: float
) -> tuple[Lines, ...]:
    """The best answers that differ to a crew from each other and from the one chosen."""
    kept = [best]
    marks = [_signature(best, edges, book)]
    seen = {best.butt_lines}
    for _, answer in zip(range(LOOKED_AT), answers, strict=False):
        if answer[2] in seen:
            continue
        seen.add(answer[2])
        lines = _lines(answer, edges, book, outside)
        mark = _signature(lines, edges, book)
        if all(
            _differ(lines, mark, other, seen_mark, book) for other, seen_mark in zip(kept, marks, strict=True)
        ):
            kept.append(lines)
            marks.append(mark)
            if len(kept) > ALTERNATIVES:
                break
    return tuple(kept[1:])


def _signature(lines: Lines, edges: Sequence[Target], book: Rulebook) -> tuple[tuple[str, int] | None, ...]:
    outcomes = (edge(target, lines, book, "") for target in edges)
    return tuple((found.result, found.course) if found else None for found in outcomes)


def _differ(lines: Lines, mark: object, other: Lines, other_mark: object, book: Rulebook) -> bool:
    if mark != other_mark:
        return True
    apart = rules().limits["differ"] * book.inch
    pairs = zip(lines.butt_lines, other.butt_lines, strict=False)
    return any(abs(mine - yours) >= apart - NEAR for mine, yours in pairs)


def _face(
    job: Job, elevation: Elevation, groups: Mapping[str, _Group], course_sets: dict[str, CourseSet]
) -> ElevationPlan:
    from layout.wallshape import clad_area

    zones, edges = [], []
    for name, group in groups.items():
        for member, zone, bottom, top in group.members:
            if member is not elevation:
                continue
            course_set = course_sets[name]
            start = max(course_set.lines.starter, bottom) if group.bottom is None else bottom
            zones.append(ZonePlan(zone, name, start, top))
            book = rulebook(job, course_set.cladding)
            edges += _edges(targets(member, zone, bottom, top), course_set, book)
    zones.sort(key=lambda zone: zone.bottom)
    ordered = tuple(sorted(edges, key=lambda found: (found.height, found.left, found.edge)))
    planned = ElevationPlan(
        elevation=elevation,
        zones=tuple(zones),
        edges=ordered,
        rakes=tuple(rakes(elevation, tuple(zones), course_sets, job.inch)),
        area=0.0,
        cautions=(),
    )
    return ElevationPlan(
        elevation,
        planned.zones,
        planned.edges,
        planned.rakes,
        clad_area(job, planned, course_sets),
        cautions(job, planned, course_sets),
    )


def _edges(found: Iterator[Target], course_set: CourseSet, book: Rulebook) -> list[Edge]:
    outcomes = (edge(target, course_set.lines, book, course_set.name) for target in found)
    return [outcome for outcome in outcomes if outcome is not None]
