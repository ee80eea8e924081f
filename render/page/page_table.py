"""What a course set comes to on each of its starter lines: a table that the page for the phone only shows.

Every row holds one answer in words and numbers; what faces make of it stands in views. Whatever many rows
share is stored once and referred to by its number.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from evencourse.layout.courses.rakes import met_exposures, rake
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.course_plan import CourseSet, Edge, ElevationPlan, Lines, Plan
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.results.starter_choices import face_targets
from evencourse.layout.solver.targets import Target
from evencourse.layout.trade.rules import out_of_level
from evencourse.layout.wall.roofs import roof_sides
from evencourse.layout.wall.sides import Side, hung_over, sides
from evencourse.render.building.siding_lines import next_chalk, next_line
from evencourse.render.building.wall_face import clad_outline, courses
from evencourse.render.page.page_words import against_words, edge_facts
from evencourse.render.words.caution_words import face_cautions
from evencourse.render.words.edge_counts import edge_kind, rips_in, score_words
from evencourse.render.words.edge_words import edge_action
from evencourse.render.words.edges_not_met import fate_words, fates, worst_rank
from evencourse.render.words.missed_words import missed_words
from evencourse.render.words.plan_words import (
    edge_cut,
    kind_words,
    level_words,
    of_datum,
    pitch_words,
    saw_words,
    score_terms,
    show,
    square_words,
)

Json = dict[str, Any]
#: How edges come out, in the order in which the page counts them.
RESULTS = ("flush", "rip", "notch", "sliver", "base")


class Shared:
    """Values that many places share, each stored once and known by its number."""

    def __init__(self) -> None:
        self._numbers: dict[Hashable, int] = {}
        self.all: list[Any] = []

    def number(self, value: Any) -> int:
        """The number of a value in ``all``; lists and dictionaries are alike when they hold the same."""
        key = _key(value)
        if key not in self._numbers:
            self._numbers[key] = len(self.all)
            self.all.append(value)
        return self._numbers[key]

    def numbers(self, values: Iterable[Any]) -> list[int]:
        """The numbers of several."""
        return [self.number(value) for value in values]


def _key(value: Any) -> Hashable:
    if isinstance(value, dict):
        return tuple((name, _key(item)) for name, item in value.items())
    return tuple(map(_key, value)) if isinstance(value, list | tuple) else value


@dataclass(frozen=True)
class Tables:
    """What rows refer to by number.

    Attributes:
        texts: sentences and readings.
        outcomes: what becomes of an edge: its result, course, what the crew does, how far up its course it is
            cut and what is over that, and names and values of its figures.
        given: edges that share a fate: the words, and on a face of several course sets how bad it is.
        outlines: what siding covers of a face; a height of None is the starter line's.
        views: what a face makes of the lines of one course set.
    """

    texts: Shared = field(default_factory=Shared)
    outcomes: Shared = field(default_factory=Shared)
    given: Shared = field(default_factory=Shared)
    outlines: Shared = field(default_factory=Shared)
    views: Shared = field(default_factory=Shared)

    def content(self) -> Json:
        """All of them, ready for JSON."""
        return {name: getattr(self, name).all for name in ("texts", "outcomes", "given", "outlines", "views")}


def rows(plan: Plan, name: str, plans: Sequence[Plan], tables: Tables) -> list[Json]:
    """One row for each answer of a course set.

    Args:
        plan: the plan itself.
        name: of one of its course sets.
        plans: the plan with each of the set's answers.
        tables: filled with what rows share.
    """
    return [_row(moved, moved.course_sets[name], plan.course_sets[name].lines, tables) for moved in plans]


def _has(face: ElevationPlan, course_set: CourseSet) -> bool:
    return any(zone.course_set == course_set.name for zone in face.zones)


def _row(plan: Plan, course_set: CourseSet, planned: Lines, tables: Tables) -> Json:
    lines = course_set.lines
    job, score, number = plan.job, lines.score, tables.texts.number
    chalk = plan.course_sets[course_set.name].chalk_line if course_set.cladding.starter_drop else None
    return {
        "starter": float(lines.starter),
        "level": number(level_words(job, lines.starter)),
        "at": number(of_datum(job, lines.starter)),
        "chalk": None if chalk is None else number(level_words(job, chalk)),
        "score": number(score_words(score, rips_in(course_set, plan))),
        "weight": float(score.flush_weight),
        "bad": score.slivers + score.missed_must > 0,
        "terms": tables.texts.numbers(value for _, value in score_terms(score, job)),
        "against": number(against_words(score, planned.score)),
        "missed": tables.texts.numbers(missed_words(limit, course_set, job) for limit in course_set.missed),
        "bands": [
            [int(band.courses), float(band.exposure), number(show(job, band.exposure))]
            for band in lines.bands
        ],
        "readings": tables.texts.numbers(show(job, butt) for butt in lines.butt_lines),
        "views": [
            tables.views.number(_view(plan, face, course_set.name, tables))
            if _has(face, course_set)
            else None
            for face in plan.elevations
        ],
    }


def _view(plan: Plan, face: ElevationPlan, name: str, tables: Tables) -> Json:
    """What a face makes of the lines of one of its course sets."""
    job, texts = plan.job, tables.texts
    lines = plan.course_sets[name].lines
    shown = [course.number for course in courses(plan, face) if course.course_set.name == name]
    there = {_mark(edge): edge for edge in face.edges if edge.course_set == name}
    found = (
        there.get(_place(target))
        for set_name, target in face_targets(job, face.elevation)
        if set_name == name
    )
    mixed = len({zone.course_set for zone in face.zones}) > 1
    view: Json = {
        "edges": [edge and tables.outcomes.number(_outcome(edge, plan, texts)) for edge in found],
        "shown": [shown[0], shown[-1]] if shown else [1, 0],
        "given": [
            tables.given.number(
                [texts.number(fate_words(edges, plan)), *(worst_rank(edges[0], plan) if mixed else ())]
            )
            for edges in fates(face, plan)
            if edges[0].course_set == name
        ],
        "slopes": [_layouts(plan, face, side, name, texts) for side in slopes(job, face.elevation)],
        "own": [
            [line.course, float(line.left), float(line.right),
             texts.number(gettext("{left} at the left corner, {right} at the right",
                                  left=level_words(job, line.left), right=level_words(job, line.right)))]
            for line in face.built if line.course_set == name
        ],
    }  # fmt: skip
    if name == face.zones[0].course_set:
        outline = [
            [round(float(x), 4) + 0.0, None if y == lines.starter else round(float(y), 4) + 0.0]
            for x, y in clad_outline(plan, face)
        ]
        view["outline"] = tables.outlines.number(outline)
        _, height, label = next_line(plan, face)
        chalk = next_chalk(plan, face)
        view["first"] = [
            texts.number(label),
            texts.number(level_words(job, height)),
            None if chalk is None else texts.number(level_words(job, chalk)),
        ]
        view["cautions"] = texts.numbers(face_cautions(face, plan))
    return view


def _outcome(edge: Edge, plan: Plan, texts: Shared) -> list[int]:
    facts = [text for fact in edge_facts(edge, plan) for text in fact]
    parts = [""] * 2 if edge.result == "flush" else [show(plan.job, part) for part in edge_cut(edge, plan)]
    words = texts.numbers((edge_action(edge, plan), *parts, *facts))
    return [RESULTS.index(edge_kind(edge)), edge.course, *words]


def target_facts(
    job: Job, elevation: Elevation, found: Sequence[tuple[str, Target]], names: Sequence[str]
) -> Iterator[Json]:
    """What of the edges of a face stays as it is wherever the lines lie."""
    for name, target in found:
        mark = target.opening.mark if target.opening else None
        roof = target.roof.mark if target.roof else None
        yield {
            "set": names.index(name),
            "opening": elevation.openings.index(target.opening) if target.opening else None,
            "kind": target.kind,
            "height": float(target.height),
            "left": float(target.left),
            "right": float(target.right),
            "importance": target.importance,
            "subject": kind_words(target.kind, mark, roof),
            "name": kind_words(target.kind, None, roof),
            "reading": show(job, target.height),
            "level": of_datum(job, target.height),
        }


def _place(target: Target) -> tuple[object, ...]:
    thing = target.opening or target.roof
    return thing and thing.mark, target.kind, target.height, target.left, target.right


def _mark(edge: Edge) -> tuple[object, ...]:
    return edge.opening or edge.roof, edge.edge, edge.height, edge.left, edge.right


def slopes(job: Job, elevation: Elevation) -> list[Side]:
    """Sides that siding is cut along at its ends, in the order of the outline, then those of its roofs."""
    every = (*sides(elevation.outline), *roof_sides(job, elevation))
    return [side for side in every if not side.level and not out_of_level(side.pitch, 12)]


def slope_facts(job: Job, side: Side, exposure: float) -> Json:
    """What of a slope's cut stays as it is wherever the lines lie.

    Args:
        job: for its tape.
        side: the slope.
        exposure: over which it is laid out where no course meets it [job units].
    """
    cut = rake(side, (exposure,))
    if side.roof is None:
        slope = gettext("Over the roof below") if side.base else gettext("Gable")
    elif side.base:
        slope = gettext("Over {roof}", roof=side.roof.mark)
    else:
        slope = gettext("Under {roof}", roof=side.roof.mark)
    pitch = pitch_words(cut)
    name = (
        gettext("{slope}, left end cut, {pitch}:", slope=slope, pitch=pitch)
        if cut.hand == "left"
        else gettext("{slope}, right end cut, {pitch}:", slope=slope, pitch=pitch)
    )
    low, high, length = (show(job, size) for size in (side.low, side.high, cut.rake_length))
    return {
        "name": f"{name} ",
        "saw": saw_words(cut),
        "span": gettext("From {low} to {high}, {length} along the slope.", low=low, high=high, length=length),
        "layout": [square_words(job, exposure), square_words(job, cut.run_per_exposure)],
    }


def _layouts(plan: Plan, face: ElevationPlan, side: Side, name: str, texts: Shared) -> list[list[int]] | None:
    """Layouts of a slope over the exposures that meet it: up and over; None where siding hangs over it."""
    job, lowest = plan.job, plan.course_sets[face.zones[0].course_set]
    if side.base and hung_over(side, lowest.lines.starter, lowest.cladding, job.inch):
        return None
    lines = plan.course_sets[name].lines
    return [
        texts.numbers((square_words(job, exposure), square_words(job, exposure * 12 / side.pitch)))
        for zone in face.zones
        if zone.course_set == name
        for exposure in met_exposures(side, zone, lines)
    ]
