"""What stands beside the fields while a building is measured: drawing, faults, questions, edges."""

from __future__ import annotations

import pickle
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from evencourse.cli.views.face_drawing import edges, face_svg, handles, placed
from evencourse.cli.views.whole_part import WholePart, in_hand
from evencourse.layout.courses.carrying_on import as_found
from evencourse.layout.courses.course_sets import groups
from evencourse.layout.courses.planner import begun, met_face
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.course_plan import CourseSet, ElevationPlan, Plan
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.job import Job
from evencourse.layout.trade.plausible import odd_values
from evencourse.layout.wall.walk import goes_round, opened
from evencourse.render.words.edge_counts import rips_in, score_words
from evencourse.render.words.plan_words import show, starter_words
from evencourse.render.words.result import Result
from evencourse.render.words.walk_words import walk_words

Json = dict[str, Any]
#: Most faults and questions that are listed: more have one cause.
MOST = 40
#: What may stand in a file in the place of a width or an eave; at the desk a step of the base makes one.
_WITHOUT_OUTLINE = {
    noop("the wall's width, or an outline"): noop("the wall's width"),
    noop("the wall's eave, or an outline"): noop("the wall's eave"),
}


def draft_view(whole: WholePart, face: int, room: tuple[float, float], lines: bytes | None) -> Json:
    """What a face looks like now, on the course lines of the plan before: quick enough for every key.

    Args:
        whole: what can be read of the job.
        face: index of the face in the job file.
        room: width and height of the drawing [pixels].
        lines: course sets of the last plan, as :func:`planned_view` gave them; None before the first.
    """
    view = _seen(whole, face)
    plan = _on_lines(whole.job, whole.faces.index(face), lines) if face in whole.faces and whole.job else None
    if plan is not None:
        view |= _drawn(whole, plan, plan.elevations[0], face, room)
        view["draft"] = True
    return view


def planned_view(result: Result | None, whole: WholePart, face: int, room: tuple[float, float]) -> Json:
    """What a face looks like by its plan, with what becomes of its edges.

    Args:
        result: of the part of the job that is whole; None when there is none.
        whole: that part.
        face: index of the face in the job file.
        room: width and height of the drawing [pixels].
    """
    view = _seen(whole, face)
    number = in_hand(whole, face)
    if result is None:
        return view
    plan = result.plan
    view["summary"] = [
        {
            "set": name,
            "starter": starter_words(one, plan.job),
            "score": score_words(one.lines.score, rips_in(one, plan)),
        }
        for name, one in plan.course_sets.items()
    ]
    view["clean"] = plan.clean
    if number is not None:
        view |= _drawn(whole, plan, plan.elevations[number], face, room)
        view["edges"] = edges(plan, plan.elevations[number], Result(plan).instructions.faces[number])
    return view


def lines_of(result: Result) -> bytes:
    """The course sets of a plan for :func:`draft_view`."""
    bare = {
        name: replace(one, alternatives=(), missed=(), unmet=())
        for name, one in result.plan.course_sets.items()
    }
    return pickle.dumps(bare)


def _on_lines(job: Job, number: int, lines: bytes | None) -> Plan | None:
    """A plan of one face on lines that were planned before; None where these do not fit it."""
    if lines is None:
        return None
    sets: Mapping[str, CourseSet] = pickle.loads(lines)
    now = as_found(job)
    gathered = groups(now)
    alike = all(
        name in sets and sets[name].cladding == now.claddings[group.zone.cladding]
        for name, group in gathered.items()
    )
    if not alike:
        return None
    course_sets = {name: sets[name] for name in gathered}
    faces = (met_face(now, now.elevations[number], gathered, course_sets),)
    return Plan(now, begun(course_sets, faces), faces)


def _drawn(
    whole: WholePart, plan: Plan, planned: ElevationPlan, face: int, room: tuple[float, float]
) -> Json:
    place = placed(planned.elevation, room)
    table = whole.tables["elevation"][face] if whole.tables else {}
    return {
        "svg": face_svg(plan, planned, place),
        "handles": handles(planned.elevation, table, face, place, plan.job.units),
        "place": {"left": place.left, "datum": place.datum, "mm": place.mm},
    }


def _seen(whole: WholePart, face: int) -> Json:
    faults = [_fault(fault) for fault in whole.faults[:MOST]]
    faces = whole.tables.get("elevation", []) if whole.tables else []
    return {
        "faults": faults,
        "more": max(0, len(whole.faults) - MOST),
        "watch": list(_watched(whole))[:MOST],
        "closed": _closed(whole),
        "faces": [
            {
                "name": str(item.get("name", "")) if isinstance(item, dict) else "",
                "faults": sum(fault.path[:2] == ("elevation", index) for fault in whole.faults),
                "whole": index in whole.faces,
            }
            for index, item in enumerate(faces if isinstance(faces, list) else [])
        ],
        "face": face,
        "svg": None,
    }


def _fault(fault: Fault) -> Json:
    wanted = fault.wanted
    for whole, alone in _WITHOUT_OUTLINE.items():
        if wanted == gettext(whole):
            wanted = gettext(alone)
    return {
        "path": list(fault.path),
        "place": fault.place,
        "words": gettext("found {found}; wanted {wanted}", found=fault.found, wanted=fault.wanted),
        "missing": fault.missing,
        "wanted": wanted,
        "line": fault.line,
    }


def _watched(whole: WholePart) -> Iterator[str]:
    """Figures that a building seldom has, corners told in two ways, a walk that does not close."""
    job = whole.job
    if job is None:
        return
    for one in odd_values(job):
        yield gettext(
            "{place}, {figure}: found {length}; {usual}",
            place=_called(one.place), figure=one.name, length=show(job, one.length), usual=one.usual,
        )  # fmt: skip
    if _all_there(whole):
        yield from map(_called, walk_words(job))


def _called(words: str) -> str:
    """Words of a job file in those of the desk: what is an elevation there is a face here."""
    words = re.sub(r'^elevations "', r'faces "', words)
    return re.sub(r'^elevation "([^"]*)"', lambda match: gettext('face "{face}"', face=match[1]), words)


def _closed(whole: WholePart) -> str:
    """How far round the walk is."""
    job = whole.job
    if job is None or not _all_there(whole) or not goes_round(job.elevations):
        return "open"
    return "off" if opened(job.elevations, job.inch) else "closed"


def _all_there(whole: WholePart) -> bool:
    """Whether every face can be read: else two that share no corner would stand side by side."""
    faces = whole.tables.get("elevation") if whole.tables else None
    return isinstance(faces, list) and len(whole.faces) == len(faces)
