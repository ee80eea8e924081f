"""What the screen of the plan shows: every starter's result, edges, alternatives, other sidings, material."""

from __future__ import annotations

from typing import Any

from evencourse.cli.views.face_drawing import edges, face_svg, placed
from evencourse.layout.courses.course_sets import groups
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.results.comparison import Candidate, candidate, in_order, stand_ins
from evencourse.render.page.page_words import against_words
from evencourse.render.words.edge_counts import score_words
from evencourse.render.words.missed_words import missed_words
from evencourse.render.words.piece_words import (
    figure_words,
    material_words,
    quantity_words,
)
from evencourse.render.words.plan_words import bands_words, level_words, of_datum, show, starter_words
from evencourse.render.words.result import Result
from evencourse.render.words.starter_range import range_words

Json = dict[str, Any]


def choices_view(result: Result) -> Json:
    """For every course set each mark that its starter can lie on, with what it comes to."""
    return {"sets": [_choices(result, name) for name in result.plan.course_sets]}


def _choices(result: Result, name: str) -> Json:
    plan, found = result.plan, result.choices[name]
    job, course_set = plan.job, plan.course_sets[name]
    ours = course_set.lines.score
    spread = range_words(job, groups(job)[name])
    return {
        "name": name,
        "label": course_set.cladding.label,
        "planned": found.planned,
        "marks": found.marks,
        "others": [found.planned, *found.others],
        "limits": gettext(
            "{lowest} to {highest}: {why}",
            lowest=show(job, spread.low),
            highest=show(job, spread.high),
            why=spread.why,
        ),
        "hung": course_set.carried.hung if course_set.carried else 0,
        "rows": [_row(moved, name, ours) for moved in found.plans],
        "missed": [missed_words(limit, course_set, job) for limit in course_set.missed],
    }


def _row(plan: Plan, name: str, ours: Any) -> Json:
    course_set = plan.course_sets[name]
    lines, job = course_set.lines, plan.job
    return {
        "starter": show(job, lines.starter),
        "at": of_datum(job, lines.starter),
        "words": starter_words(course_set, job),
        "score": score_words(lines.score),
        "weight": round(float(lines.score.flush_weight), 3),
        "bad": lines.score.slivers + lines.score.missed_must > 0,
        "bands": bands_words(job, lines),
        "against": "" if lines.score == ours else against_words(lines.score, ours),
    }


def choice_view(result: Result, name: str, row: int, face: int, room: tuple[float, float]) -> Json:
    """A face under one of the answers of a course set: its drawing and its edges.

    Args:
        result: of the job.
        name: of the course set.
        row: number of the answer, as in :func:`choices_view`.
        face: index of the face.
        room: width and height of the drawing [pixels].

    Raises:
        IndexError, KeyError: there is no such answer or face.
    """
    found = result.choices[name]
    plan = found.plans[row]
    shown = plan.elevations[face]
    said = Result(plan).instructions.faces[face]
    place = placed(shown.elevation, room)
    # Why an edge is not met, and what it would cost, is known of the plan's own lines alone.
    own = row == found.planned
    return {
        "svg": face_svg(plan, shown, place),
        "edges": edges(plan, shown, said),
        "given_up": [one.words for one in said.not_met] if own else [],
        "cautions": list(said.cautions),
        "name": shown.elevation.name,
    }


def material_view(result: Result) -> Json:
    """What is to be ordered, with the waste."""
    order, said = result.material.order, result.instructions
    return {
        "sidings": list(said.sidings),
        "items": [
            {"what": words, "quantity": quantity_words(item)}
            for words, item in zip(said.items, order.items, strict=True)
        ],
        "pieces": sum(len(face.pieces) for face in result.material.pieces.faces),
        "spare": figure_words(100 * order.spare),
    }


def siding_count(job: Job) -> int:
    """How many sidings :func:`siding_view` can be asked for."""
    return len(stand_ins(job))


def siding_view(job: Job, number: int) -> tuple[Json, Candidate]:
    """The building in another shipped siding of the same family; the first is the job's own."""
    swap = stand_ins(job)[number]
    found = candidate(job, swap, {})
    row = {
        "swap": dict(swap),
        "label": ", ".join(dict.fromkeys(one.label for one in found.claddings.values())),
        "own": found.own,
        "score": score_words(found.score),
        "material": [material_words(one, found.plan.job) for one in found.uses],
        "starters": [level_words(job, one.lines.starter) for one in found.plan.course_sets.values()],
        "clean": found.plan.clean,
    }
    return row, found


def sidings_in_order(rows: list[tuple[Json, Candidate]]) -> list[Json]:
    """Rows of :func:`siding_view`, best first."""
    best = in_order([found for _, found in rows])
    return [next(row for row, found in rows if found is one) for one in best]
