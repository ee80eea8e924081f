"""What the page for the phone holds of a plan, as plain values ready for JSON.

What follows from the starter line is left to the page's own scripts, which score it as ``layout`` does; what
does not is worded here. Lengths are numbers in the job's units, heights from the datum.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from evencourse.layout.courses.carrying_on import OnFace, own_lines
from evencourse.layout.courses.cautions import GENERAL, cautions
from evencourse.layout.courses.course_sets import Question, groups, question
from evencourse.layout.courses.missed import carried_limits, missed_limits
from evencourse.layout.courses.rakes import rake
from evencourse.layout.courses.score import NEAR, QUANTUM, WEIGHT_QUANTUM
from evencourse.layout.courses.targets import BELOW, EAVES, RIPPED, targets
from evencourse.layout.model.course_plan import CourseSet, ElevationPlan, Lines, Plan
from evencourse.layout.model.job import Elevation, Job, Opening, Point
from evencourse.layout.pieces.all_pieces import Pieces, pieces
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.on_wall import last_hung
from evencourse.layout.wall.sides import Side, cover_run, sides
from evencourse.render.elevation.wall_face import band_boards
from evencourse.render.page.page_pieces import face_pieces
from evencourse.render.words.as_built_words import carried_words, change_words, hung_words, levelled_words
from evencourse.render.words.given_up import fate_words, given_up
from evencourse.render.words.plan_words import (
    bands_words,
    level_words,
    missed_words,
    pitch_words,
    saw_words,
    show,
)

Json = dict[str, Any]

#: Most marks of the tape that the starter can be moved to; with more between its limits, only every second or
#: third is kept. Panels are scored in the page, the lines of laps are stored for every mark.
PANEL_MARKS, LAP_MARKS = 1024, 128


class _Texts:
    """Texts that many places share, each stored once."""

    def __init__(self) -> None:
        self.all: dict[str, int] = {}

    def number(self, text: str) -> int:
        """The number of a text in the list."""
        return self.all.setdefault(text, len(self.all))

    def numbers(self, texts: Iterable[str]) -> list[int]:
        """The numbers of several."""
        return [self.number(text) for text in texts]


def page_data(plan: Plan) -> Json:
    """Everything that the page shows.

    Args:
        plan: a planned job.

    Returns:
        ``job``, ``units`` and the tape; ``rules``, the numbers of the objective; ``sets``, one for each
        course set with its lines at every mark; ``faces``; ``texts`` that others refer to by number.
    """
    job, texts = plan.job, _Texts()
    gathered = {}
    for name, group in groups(job).items():
        course_set = plan.course_sets[name]
        hung = course_set.lines.butt_lines[: course_set.carried.hung] if course_set.carried else ()
        gathered[name] = question(job, group, hung)
    names = list(plan.course_sets)
    starts = {name: _starts(plan.course_sets[name], asked) for name, asked in gathered.items()}
    sets = [_set(plan, plan.course_sets[name], gathered[name], starts[name], texts) for name in names]
    cut = pieces(plan)
    step = Fraction(job.round).limit_denominator(1000)
    faces = [_face(plan, index, names, starts, cut, texts) for index in range(len(plan.elevations))]
    return {
        "job": job.name,
        "units": job.units,
        "datum": job.datum,
        "author": job.author,
        "key": _key(job),
        "tape": {"mark": job.round, "step": [step.numerator, step.denominator]},
        "rules": {
            "inch": job.inch,
            "near": NEAR,
            "quantum": QUANTUM,
            "weightQuantum": WEIGHT_QUANTUM,
            "tolerance": job.limits.tolerance,
            "stripMin": job.limits.strip_min,
            "below": sorted(BELOW),
            "eaves": sorted(EAVES),
            "ripped": sorted(RIPPED),
        },
        "sets": sets,
        "faces": faces,
        "general": list(GENERAL),
        "texts": list(texts.all),
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
    most = PANEL_MARKS if course_set.cladding.fixed else LAP_MARKS
    also = [other.starter for other in course_set.alternatives]
    for mark in [*marks[:: -(-len(marks) // most)], *also]:
        found[mark] = asked.lines(next(asked.answers([mark])), asked.outside(mark))
    found[course_set.lines.starter] = course_set.lines
    return tuple(found[mark] for mark in sorted(found))


def _lines(lines: Lines, own: Mapping[str, OnFace], job: Job) -> Json:
    """Course lines; where faces have lines of their own, by the face's number: course, left and right end."""
    content: Json = {
        "starter": float(lines.starter),
        "bands": [[int(band.first_course), int(band.courses), float(band.exposure)] for band in lines.bands],
        "butts": [float(butt) for butt in lines.butt_lines],
    }
    there = {
        number: [[line.course, float(line.left), float(line.right)] for line in own[face.name].lines]
        for number, face in enumerate(job.elevations)
    }
    if any(there.values()):
        content["own"] = {number: found for number, found in there.items() if found}
    return content


def _set(plan: Plan, course_set: CourseSet, asked: Question, starts: Sequence[Lines], texts: _Texts) -> Json:
    job, cladding, book = plan.job, course_set.cladding, asked.book

    def own(lines: Lines) -> dict[str, OnFace]:
        return own_lines(job, book, lines.butt_lines, course_set.name)

    def missed(lines: Lines) -> list[int]:
        if course_set.carried:
            limits = carried_limits(job, asked, lines, own(lines))
        else:
            outside = asked.outside(lines.starter)
            limits = missed_limits(job, book, asked.allowed, asked.targets, lines, outside)
        return texts.numbers(missed_words(limit, job) for limit in limits)

    others = [lines for lines in course_set.alternatives if lines.butt_lines != course_set.lines.butt_lines]
    stored = not cladding.fixed or course_set.carried is not None
    return {
        "name": course_set.name,
        "prefix": course_set.prefix,
        "label": cladding.label,
        "fixed": cladding.fixed,
        "exposure": cladding.exposure,
        "panelFaces": cladding.faces,
        "projection": cladding.projection,
        "projectionTop": cladding.projection_top,
        "drop": cladding.starter_drop,
        "coverRun": book.cover_run,
        "hangs": cover_run(cladding, job.inch),
        "eaveMin": book.eave_min,
        "jumpMax": book.jump_max,
        "jumpUnseen": book.jump_unseen,
        "limits": [float(limit) for limit in course_set.limits],
        "reach": [float(mark) for mark in (asked.marks()[0], asked.marks()[-1])],
        "top": float(asked.top),
        "marks": [float(lines.starter) for lines in starts],
        "planned": [lines.starter for lines in starts].index(course_set.lines.starter),
        "hung": course_set.carried.hung if course_set.carried else 0,
        "lines": [_lines(lines, own(lines), job) for lines in starts] if stored else None,
        "others": [_lines(lines, own(lines), job) for lines in others],
        "otherWords": [f"{level_words(job, lines.starter)}: {bands_words(job, lines)}" for lines in others],
        "missed": [missed(lines) for lines in starts],
        "otherMissed": [missed(lines) for lines in others],
    }


def _face(
    plan: Plan,
    index: int,
    names: Sequence[str],
    starts: dict[str, tuple[Lines, ...]],
    cut: Pieces,
    texts: _Texts,
) -> Json:
    face = plan.elevations[index]
    elevation, job = face.elevation, plan.job
    lowest = face.zones[0].course_set
    warned = []
    for lines in starts[lowest]:
        moved = {**plan.course_sets, lowest: replace(plan.course_sets[lowest], lines=lines)}
        warned.append(texts.numbers(cautions(job, face, moved)))
    boards = {zone.top: outlines for zone, outlines in band_boards(face)}
    made = face_pieces(plan, cut.faces[index])
    return {
        "name": elevation.name,
        "outline": _points(elevation.outline),
        "grade": elevation.grade,
        "zones": [
            {
                "set": names.index(zone.course_set),
                "bottom": None if number == 0 else zone.bottom,
                "top": zone.top,
                "boards": [_points(outline) for outline in boards.get(zone.top, ())],
            }
            for number, zone in enumerate(face.zones)
        ],
        "openings": [_opening(job, elevation, opening) for opening in elevation.openings],
        "fixtures": [
            {
                "mark": item.mark,
                "box": [item.left, item.bottom, item.right, item.top],
                "words": f"{show(job, item.width)} wide, {show(job, item.height)} high"
                + ("" if item.block else ", no block"),
            }
            for item in elevation.fixtures
        ],
        "targets": _targets(plan, face, names),
        "slopes": [_slope(side) for side in sides(elevation.outline) if not side.level],
        "cautions": warned,
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
    said += [change_words(one, plan) for one in plan.changes if one.face == face.elevation.name]
    for words in said:
        yield f"{words[:1].upper()}{words[1:]}."


def _targets(plan: Plan, face: ElevationPlan, names: Sequence[str]) -> list[Json]:
    """Every edge of a face, in the order in which the plan finds them."""
    found = []
    for name, group in groups(plan.job).items():
        for member, zone, bottom, top in group.members:
            if member is not face.elevation:
                continue
            found += [
                {
                    "set": names.index(name),
                    "opening": None
                    if target.opening is None
                    else face.elevation.openings.index(target.opening),
                    "kind": target.kind,
                    "height": float(target.height),
                    "left": float(target.left),
                    "right": float(target.right),
                    "importance": target.importance,
                    "weight": float(target.weight),
                }
                for target in targets(member, zone, bottom, top)
            ]
    return found


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


def _slope(side: Side) -> Json:
    """A sloping side with what the words about its cut need."""
    cut = rake(side, (1.0,))
    return {
        "left": list(side.left),
        "right": list(side.right),
        "base": side.base,
        "pitch": cut.pitch,
        "steep": cut.pitch > rules().limits["eave_pitch_max"],
        "hand": cut.hand,
        "words": [pitch_words(cut), saw_words(cut)],
        "length": cut.rake_length,
    }


def _points(outline: Iterable[Point]) -> list[list[float]]:
    """Corners for drawing; a ten-thousandth of a unit is finer than any screen."""
    return [[round(float(x), 4) + 0.0, round(float(y), 4) + 0.0] for x, y in outline]
