"""What the page for the phone holds of a plan, as plain values ready for JSON.

Every starter line that can be chosen is worked out and worded in ``evencourse.render.page.page_table``; the
page draws and listens. Lengths are numbers in the job's units, heights from the datum.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Any

from evencourse.layout.courses.carrying_on import own_lines
from evencourse.layout.courses.cautions import GENERAL
from evencourse.layout.courses.course_sets import Question, ZoneGroup, groups, question
from evencourse.layout.courses.missed import carried_limits, missed_limits
from evencourse.layout.model.course_plan import CourseSet, ElevationPlan, Lines, Plan
from evencourse.layout.model.job import Elevation, Fixture, Job, Opening, Point
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.wall.ground import ground_along
from evencourse.layout.wall.on_wall import last_hung
from evencourse.render.elevation.wall_face import band_boards
from evencourse.render.page.page_pieces import face_pieces
from evencourse.render.page.page_table import Shared, Tables, rows, slope_facts, slopes, target_facts
from evencourse.render.page.page_words import of_datum
from evencourse.render.words.as_built_words import (
    carried_words,
    change_heading,
    change_words,
    hung_words,
    levelled_words,
)
from evencourse.render.words.given_up import fate_words, given_up
from evencourse.render.words.plan_words import bands_words, level_words, missed_words, score_terms, show
from evencourse.render.words.result import Result

Json = dict[str, Any]

#: Most marks of the tape that a starter can be moved to; with more between its limits, only every second or
#: third is kept.
MOST_MARKS = 128


def page_data(result: Result) -> Json:
    """Everything that the page shows.

    Args:
        result: the finished result of a job.

    Returns:
        ``job`` and its units; ``sets``, one for each course set with a row for every answer that can be
        looked at; ``faces``; and the tables that rows and faces refer to by number.
    """
    plan, cut = result.plan, result.material.pieces
    job, tables = plan.job, Tables()
    names = list(plan.course_sets)
    sets = [_set(plan, name, group, tables) for name, group in groups(job).items()]
    faces = [_face(plan, index, names, cut, tables.texts) for index in range(len(plan.elevations))]
    return {
        "job": job.name,
        "datum": job.datum,
        "author": job.author,
        "key": _key(job),
        "inch": job.inch,
        "mark": job.round,
        "terms": [name for name, _ in score_terms(next(iter(plan.course_sets.values())).lines.score, job)],
        "sets": sets,
        "faces": faces,
        "general": list(GENERAL),
        **tables.content(),
    }


def _key(job: Job) -> str:
    """A name for the walls: a moved starter and an opening found elsewhere leave it as it is."""
    seen = [job.name, job.units, job.datum]
    for face in job.elevations:
        seen += [face.name, repr(face.outline), repr(face.zones)]
    return hashlib.sha256("\0".join(seen).encode("utf-8", "surrogatepass")).hexdigest()[:20]


def _starts(course_set: CourseSet, asked: Question) -> tuple[Lines, ...]:
    """The best lines from every mark, the plan's own among them, from the lowest mark up.

    Where courses hang there is no mark but the one that they start from.
    """
    if course_set.carried:
        return (course_set.lines,)
    found: dict[float, Lines] = {}
    marks = asked.marks()
    also = [other.starter for other in course_set.alternatives]
    for mark in [*marks[:: -(-len(marks) // MOST_MARKS)], *also]:
        found[mark] = asked.lines(next(asked.answers(mark)), asked.outside(mark))
    found[course_set.lines.starter] = course_set.lines
    return tuple(found[mark] for mark in sorted(found))


def _set(plan: Plan, name: str, group: ZoneGroup, tables: Tables) -> Json:
    """A course set: a row for every mark of its starter, then one for each other answer of the plan."""
    job, course_set = plan.job, plan.course_sets[name]
    cladding, planned = course_set.cladding, course_set.lines
    hung = planned.butt_lines[: course_set.carried.hung] if course_set.carried else ()
    asked = question(job, group, hung)

    def missed(lines: Lines) -> list[str]:
        if course_set.carried:
            own = own_lines(job, asked.book, lines.butt_lines, name)
            limits = carried_limits(job, asked, lines, own)
        else:
            outside = asked.outside(lines.starter)
            limits = missed_limits(job, asked.book, asked.allowed, asked.targets, lines, outside)
        return [missed_words(limit, job) for limit in limits]

    starts = _starts(course_set, asked)
    others = [lines for lines in course_set.alternatives if lines.butt_lines != planned.butt_lines]
    answers = [*starts]
    known = {lines.butt_lines: number for number, lines in enumerate(starts)}
    for lines in others:
        if lines.butt_lines not in known:
            known[lines.butt_lines] = len(answers)
            answers.append(lines)
    marks = asked.marks()
    steps = [high.starter - low.starter for low, high in pairwise(starts)]
    reach = f"{level_words(job, marks[0])} to {of_datum(job, marks[-1])}"
    return {
        "prefix": course_set.prefix,
        "name": name,
        "label": cladding.label,
        "fixed": cladding.fixed,
        "panelFaces": cladding.faces,
        "step": show(job, min(steps)) if steps else None,
        "reach": reach,
        "marks": len(starts),
        "planned": starts.index(planned),
        "hung": len(hung),
        "rows": rows(plan, course_set, answers, missed, tables),
        "others": [known[lines.butt_lines] for lines in others],
        "words": f"{level_words(job, planned.starter)}: {bands_words(job, planned)}",
        "otherWords": [f"{level_words(job, lines.starter)}: {bands_words(job, lines)}" for lines in others],
    }


def _face(plan: Plan, index: int, names: Sequence[str], cut: Pieces, texts: Shared) -> Json:
    face = plan.elevations[index]
    elevation, job = face.elevation, plan.job
    boards = {zone.top: outlines for zone, outlines in band_boards(face)}
    last = plan.course_sets[face.zones[-1].course_set]
    across = [x for x, _ in elevation.outline]
    made = face_pieces(plan, cut.faces[index])
    return {
        "name": elevation.name,
        "outline": _points(elevation.outline),
        "grade": ground_along(elevation, min(across), max(across)) or None,
        "zones": [
            {
                "set": names.index(zone.course_set),
                "bottom": None if number == 0 else zone.bottom,
                "top": zone.top,
                "boards": [_points(outline) for outline in boards.get(zone.top, ())],
            }
            for number, zone in enumerate(face.zones)
        ],
        "roofs": [{"mark": roof.mark, "outline": _points(roof.outline())} for roof in elevation.roofs],
        "openings": [_opening(job, elevation, opening) for opening in elevation.openings],
        "fixtures": [
            {
                "mark": item.mark,
                "box": [item.left, item.bottom, item.right, item.top],
                "facts": _fixture(job, item),
            }
            for item in elevation.fixtures
        ],
        "targets": list(target_facts(job, elevation, names)),
        "slopes": [slope_facts(job, side, last.cladding.exposure) for side in slopes(job, elevation)],
        "givenUp": [f"{fate_words(edges, plan)}; {why}" for edges, why in given_up(face, plan)],
        "pieces": [
            {**piece, "words": texts.numbers(piece["words"]), "set": names.index(piece["set"])}
            for piece in made.pieces
        ],
        "seams": made.seams,
        "pieceNotes": made.notes,
        "hung": [last_hung(plan, face, name) for name in names],
        "carriedOn": list(_carried_on(plan, face)),
    }


def _carried_on(plan: Plan, face: ElevationPlan) -> Iterator[str]:
    """What hangs on a face, what the courses above take up, and which edges came out otherwise."""
    said = [*hung_words(face, plan)]
    for zone in face.zones:
        said += carried_words(plan.course_sets[zone.course_set], plan)
    said += levelled_words(face, plan)
    here = [one for one in plan.changes if one.face == face.elevation.name]
    said += [f"{change_heading(one)}, {change_words(one, plan)}" for one in here]
    for words in said:
        yield f"{words[:1].upper()}{words[1:]}."


def _opening(job: Job, elevation: Elevation, opening: Opening) -> Json:
    hole, trimmed = opening.outline(), opening.trimmed()
    right = max(x for x, _ in elevation.outline) - opening.right
    facts = [
        ["Opening", f"{show(job, opening.width)} wide, {show(job, opening.height)} high"],
        ["From the left corner", show(job, opening.left)],
        ["From the right corner", show(job, right)],
    ]
    if trimmed != hole:
        across = max(x for x, _ in trimmed) - min(x for x, _ in trimmed)
        facts.append(["Over the trim", f"{show(job, across)} wide"])
    if opening.on_base:
        facts.append(["Sill", "none: it stands on the base"])
    curved = opening.shape != "rectangle"
    return {
        "mark": opening.mark,
        "kind": opening.kind,
        "shape": opening.shape,
        "hole": _points(hole),
        "trimmed": [[x, y] for x, y in trimmed] if curved else _points(trimmed),
        "facts": facts,
    }


def _fixture(job: Job, item: Fixture) -> list[list[str]]:
    size = f"{show(job, item.width)} wide, {show(job, item.height)} high"
    return [
        ["Size", size if item.block else f"{size}, no block"],
        ["From the left corner", show(job, item.left)],
        ["Bottom", of_datum(job, item.bottom)],
    ]


def _points(outline: Iterable[Point]) -> list[list[float]]:
    """Corners for drawing; a ten-thousandth of a unit is finer than any screen."""
    return [[round(float(x), 4) + 0.0, round(float(y), 4) + 0.0] for x, y in outline]
