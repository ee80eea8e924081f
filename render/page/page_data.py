"""What the page for the phone holds of a plan, as plain values ready for JSON.

Every starter line that can be chosen comes with the result and is worded in
``evencourse.render.page.page_table``; the page draws and listens. Lengths are numbers in the job's units,
heights from the datum.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Any

from evencourse.layout.language.speech import gettext, pgettext
from evencourse.layout.model.course_plan import ElevationPlan, Lines, Plan
from evencourse.layout.model.job import Elevation, Fixture, Job, Opening, Point
from evencourse.layout.results.starter_choices import StarterChoices, face_targets
from evencourse.layout.wall.ground import ground_along
from evencourse.layout.wall.on_wall import last_hung
from evencourse.render.building.wall_face import band_boards
from evencourse.render.page.page_pieces import face_pieces
from evencourse.render.page.page_table import Shared, Tables, rows, slope_facts, slopes, target_facts
from evencourse.render.page.script_words import script_words
from evencourse.render.words.as_built_words import (
    carried_words,
    change_heading,
    change_words,
)
from evencourse.render.words.instructions import FaceInstructions
from evencourse.render.words.plan_words import (
    bands_words,
    cladding_words,
    level_words,
    of_datum,
    score_terms,
    show,
)
from evencourse.render.words.result import Result
from evencourse.render.words.safety import GENERAL

Json = dict[str, Any]


def page_data(result: Result) -> Json:
    """Everything that the page shows.

    Args:
        result: the finished result of a job.

    Returns:
        ``job`` and its units; ``sets``, one for each course set with a row for every answer that can be
        looked at; ``faces``; the tables that rows and faces refer to by number; and ``words``, what the
        scripts say themselves.
    """
    plan = result.plan
    job, tables = plan.job, Tables()
    names = list(plan.course_sets)
    sets = [_set(plan, name, choices, tables) for name, choices in result.choices.items()]
    faces = [_face(result, index, names, tables.texts) for index in range(len(plan.elevations))]
    return {
        "job": job.name,
        "datum": job.datum_words,
        "author": job.author,
        "key": _key(job),
        "inch": job.inch,
        "mark": job.round,
        "terms": [name for name, _ in score_terms(next(iter(plan.course_sets.values())).lines.score, job)],
        "sets": sets,
        "faces": faces,
        "general": [gettext(caution) for caution in GENERAL],
        **tables.content(),
        "words": script_words(),
    }


def _key(job: Job) -> str:
    """A name for the walls: a moved starter and an opening found elsewhere leave it as it is."""
    seen = [job.name, job.units, job.datum]
    for face in job.elevations:
        seen += [face.name, repr(face.outline), repr(face.zones)]
    return hashlib.sha256("\0".join(seen).encode("utf-8", "surrogatepass")).hexdigest()[:20]


def _set(plan: Plan, name: str, choices: StarterChoices, tables: Tables) -> Json:
    """A course set: a row for every mark of its starter, then one for each other answer of the plan."""
    job, course_set = plan.job, plan.course_sets[name]
    cladding, planned = course_set.cladding, course_set.lines
    answers = [moved.course_sets[name].lines for moved in choices.plans]
    others = [answers[number] for number in choices.others]
    steps = [high.starter - low.starter for low, high in pairwise(answers[: choices.marks])]
    return {
        "prefix": course_set.prefix,
        "name": name,
        "label": cladding_words(cladding),
        "fixed": cladding.fixed,
        "panelFaces": cladding.faces,
        "step": show(job, min(steps)) if steps else None,
        "reach": gettext(
            "{low} to {high}", low=level_words(job, choices.low), high=of_datum(job, choices.high)
        ),
        "marks": choices.marks,
        "planned": choices.planned,
        "hung": course_set.carried.hung if course_set.carried else 0,
        "rows": rows(plan, name, choices.plans, tables),
        "others": list(choices.others),
        "words": _layout(job, planned),
        "otherWords": [_layout(job, lines) for lines in others],
    }


def _layout(job: Job, lines: Lines) -> str:
    starter, bands = level_words(job, lines.starter), bands_words(job, lines)
    return gettext("{starter}: {bands}", starter=starter, bands=bands)


def _face(result: Result, index: int, names: Sequence[str], texts: Shared) -> Json:
    plan, said = result.plan, result.instructions.faces[index]
    face = plan.elevations[index]
    elevation, job = face.elevation, plan.job
    boards = {zone.top: outlines for zone, outlines in band_boards(face)}
    last = plan.course_sets[face.zones[-1].course_set]
    across = [x for x, _ in elevation.outline]
    made = face_pieces(plan, result.material.pieces.faces[index])
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
        "targets": list(target_facts(job, elevation, face_targets(job, elevation), names)),
        "slopes": [slope_facts(job, side, last.cladding.exposure) for side in slopes(job, elevation)],
        "givenUp": [one.words for one in said.not_met],
        "pieces": [
            {**piece, "words": texts.numbers(piece["words"]), "set": names.index(piece["set"])}
            for piece in made.pieces
        ],
        "seams": made.seams,
        "pieceNotes": made.notes,
        "hung": [last_hung(plan, face, name) for name in names],
        "carriedOn": list(_carried_on(plan, face, said)),
    }


def _carried_on(plan: Plan, face: ElevationPlan, words: FaceInstructions) -> Iterator[str]:
    """What hangs on a face, what the courses above take up, and which edges came out otherwise."""
    said = [*words.hung]
    for zone in face.zones:
        said += carried_words(plan.course_sets[zone.course_set], plan)
    said += words.levelled
    here = [one for one in plan.changes if one.face == face.elevation.name]
    said += [f"{change_heading(one)}, {change_words(one, plan)}" for one in here]
    for sentence in said:
        yield f"{sentence[:1].upper()}{sentence[1:]}."


def _opening(job: Job, elevation: Elevation, opening: Opening) -> Json:
    hole, trimmed = opening.outline(), opening.trimmed
    right = max(x for x, _ in elevation.outline) - opening.right
    facts = [
        [gettext("Opening"), _size(job, opening.width, opening.height)],
        [gettext("From the left corner"), show(job, opening.left)],
        [gettext("From the right corner"), show(job, right)],
    ]
    if trimmed != hole:
        across = max(x for x, _ in trimmed) - min(x for x, _ in trimmed)
        facts.append([gettext("Over the trim"), gettext("{width} wide", width=show(job, across))])
    if opening.on_base:
        facts.append([gettext("Sill"), gettext("none: it stands on the base")])
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
    size = _size(job, item.width, item.height)
    return [
        [gettext("Size"), size if item.block else gettext("{size}, no block", size=size)],
        [gettext("From the left corner"), show(job, item.left)],
        [pgettext("height of a thing on the wall", "Bottom"), of_datum(job, item.bottom)],
    ]


def _size(job: Job, width: float, height: float) -> str:
    return gettext("{width} wide, {height} high", width=show(job, width), height=show(job, height))


def _points(outline: Iterable[Point]) -> list[list[float]]:
    """Corners for drawing; a ten-thousandth of a unit is finer than any screen."""
    return [[round(float(x), 4) + 0.0, round(float(y), 4) + 0.0] for x, y in outline]
