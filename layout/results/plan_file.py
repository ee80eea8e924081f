"""The plan file: a plan as the dictionary that other programs read as JSON.

Lengths are plain numbers in the job's units, unrounded; heights are from the datum. Keys are only ever added.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields
from typing import Any

from evencourse.layout.courses.certainty import Certainty
from evencourse.layout.model.course_plan import (
    Band,
    Change,
    CourseSet,
    Edge,
    ElevationPlan,
    FaceLine,
    Levelling,
    Lines,
    MissedLimit,
    Plan,
    Rake,
    Score,
    ZonePlan,
)

FORMAT, VERSION = "evencourse-plan", 1

Json = dict[str, Any]


@dataclass(frozen=True)
class Material:
    """What pieces and stock add to the plan file, ready for JSON.

    Attributes:
        pieces: the pieces of each face, by its name.
        takeoff: what to order, and the waste with its bound.
    """

    pieces: Mapping[str, Sequence[Json]] = field(default_factory=dict)
    takeoff: Json = field(default_factory=dict)


def plan_json(plan: Plan, material: Material | None = None, sure: Certainty | None = None) -> str:
    """The plan file's text: the same plan gives the same bytes.

    Args:
        plan: what to store.
        material: its pieces and take-off; None leaves both out.
        sure: how sure it is; None leaves that out.
    """
    content = plan_dict(plan, material, sure)
    return json.dumps(content, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def plan_dict(plan: Plan, material: Material | None = None, sure: Certainty | None = None) -> Json:
    """The plan as a dictionary of plain values.

    Args:
        plan: what to store.
        material: its pieces and take-off; None leaves both out.
        sure: how sure it is; None leaves that out.

    Returns:
        ``format``, ``version``, ``job``, ``units``, ``round``, ``datum``, ``clean``, ``course_sets`` by name,
        ``elevations``, with ``material`` each elevation's ``pieces`` and the job's ``takeoff``, with ``sure``
        its ``certainty``, and where part of it hangs ``changes``, each course set's ``hung`` and ``planned``,
        each elevation's ``built`` and ``levelled``.
    """
    elevations = [_elevation(face) for face in plan.elevations]
    content: Json = {
        "format": FORMAT,
        "version": VERSION,
        "job": plan.job.name,
        "units": plan.job.units,
        "round": _number(plan.job.round),
        "datum": plan.job.datum,
        "clean": plan.clean,
        "course_sets": {name: _course_set(course_set) for name, course_set in plan.course_sets.items()},
        "elevations": elevations,
    }
    if material is not None:
        for elevation in elevations:
            elevation["pieces"] = list(material.pieces.get(elevation["name"], ()))
        content["takeoff"] = material.takeoff
    if sure is not None:
        content["certainty"] = _certainty(sure)
    if plan.job.as_built:
        content["changes"] = [_change(change) for change in plan.changes]
    return content


def _certainty(sure: Certainty) -> Json:
    return {
        "error": _number(sure.error),
        "worst": {
            name: {
                "missed_must": worst.missed_must,
                "sliver": worst.slivers,
                "flush": worst.flush,
                "flush_weight": _number(worst.flush_weight),
            }
            for name, worst in sure.worst.items()
        },
        "passed_over": {
            name: {"starter": _number(lines.starter), "sliver": worst.slivers, "flush": worst.flush}
            for name, (lines, worst) in sure.passed_over.items()
        },
        "edges": [
            {
                "face": edge.face,
                "course_set": edge.course_set,
                "opening": edge.opening,
                "edge": edge.edge,
                "height": _number(edge.height),
                "left": _number(edge.left),
                "right": _number(edge.right),
                "result": edge.result,
                "results": list(edge.results),
                "may_be_passed": edge.may_be_passed,
            }
            for edge in sure.edges
        ],
    }


def _number(value: float) -> float:
    """A float without a sign on its zero, whatever number library it comes from."""
    return float(value) + 0.0


def _numbers(values: Sequence[float]) -> list[float]:
    return [_number(value) for value in values]


def _course_set(course_set: CourseSet) -> Json:
    return {
        "cladding": course_set.cladding.profile,
        "cladding_name": course_set.cladding.name,
        "prefix": course_set.prefix,
        "limits": _numbers(course_set.limits),
        "starter": _number(course_set.lines.starter),
        "chalk_line": _number(course_set.chalk_line),
        "butt_lines": _numbers(course_set.lines.butt_lines),
        "bands": [_band(band) for band in course_set.lines.bands],
        "score": _score(course_set.lines.score),
        "alternatives": [_alternative(lines) for lines in course_set.alternatives],
        "missed": [_missed(missed) for missed in course_set.missed],
        **(
            {"hung": course_set.carried.hung, "planned": _numbers(course_set.carried.planned)}
            if course_set.carried
            else {}
        ),
    }


def _alternative(lines: Lines) -> Json:
    return {
        "starter": _number(lines.starter),
        "bands": [_band(band) for band in lines.bands],
        "butt_lines": _numbers(lines.butt_lines),
        "score": _score(lines.score),
    }


def _band(band: Band) -> Json:
    return {
        "first_course": int(band.first_course),
        "courses": int(band.courses),
        "exposure": _number(band.exposure),
    }


def _score(score: Score) -> Json:
    """Every term of the objective; ``sliver`` and ``notch`` are counts like ``flush``."""
    short = {"slivers": "sliver", "notches": "notch"}
    terms: Json = {}
    for term in fields(score):
        value = getattr(score, term.name)
        terms[short.get(term.name, term.name)] = int(value) if term.type == "int" else _number(value)
    first = ("flush", "notch", "sliver")
    return {name: terms[name] for name in first} | {
        name: value for name, value in terms.items() if name not in first
    }


def _missed(missed: MissedLimit) -> Json:
    return {"what": missed.what, "amount": _number(missed.amount), "why": missed.why}


def _elevation(face: ElevationPlan) -> Json:
    return {
        "name": face.elevation.name,
        "courses": face.elevation.courses,
        "area": _number(face.area),
        "zones": [_zone(zone) for zone in face.zones],
        "edges": [_edge(edge) for edge in face.edges],
        "rakes": [_rake(rake) for rake in face.rakes],
        "cautions": list(face.cautions),
        **({"built": [_built(line) for line in face.built]} if face.built else {}),
        **({"levelled": [_levelled(end) for end in face.levelled]} if face.levelled else {}),
    }


def _built(line: FaceLine) -> Json:
    return {
        "course_set": line.course_set,
        "course": line.course,
        "left": _number(line.left),
        "right": _number(line.right),
        "measured": line.measured,
    }


def _levelled(end: Levelling) -> Json:
    return {
        "course_set": end.course_set,
        "side": end.side,
        "course": end.course,
        "off": _number(end.off),
        "shares": _numbers(end.shares),
        "left_over": _number(end.left_over),
    }


def _change(change: Change) -> Json:
    return {
        "face": change.face,
        "before": None if change.before is None else _edge(change.before),
        "after": None if change.after is None else _edge(change.after),
    }


def _zone(zone: ZonePlan) -> Json:
    return {
        "cladding": zone.zone.cladding,
        "course_set": zone.course_set,
        "bottom": _number(zone.bottom),
        "top": _number(zone.top),
        "trim": _number(zone.zone.trim),
    }


def _edge(edge: Edge) -> Json:
    return {
        "opening": edge.opening,
        "edge": edge.edge,
        "height": _number(edge.height),
        "left": _number(edge.left),
        "right": _number(edge.right),
        "importance": edge.importance,
        "result": edge.result,
        "course_set": edge.course_set,
        "course": int(edge.course),
        "cut": _number(edge.cut),
        "strip": _number(edge.strip),
        "rip": bool(edge.rip),
        "furring": _number(edge.furring),
        "miss": _number(edge.miss),
        "chord": None if edge.chord is None else _numbers(edge.chord),
    }


def _rake(rake: Rake) -> Json:
    return {
        "from": _numbers(rake.start),
        "to": _numbers(rake.end),
        "side": rake.side,
        "hand": rake.hand,
        "pitch": _number(rake.pitch),
        "angle": _number(rake.angle),
        "from_square": _number(rake.from_square),
        "past_saw": bool(rake.past_saw),
        "run_per_exposure": _number(rake.run_per_exposure),
        "layouts": [_numbers(layout) for layout in rake.layouts],
        "rake_length": _number(rake.rake_length),
    }
