"""What the crew must look out for: on a face, at its seams, at its pieces."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evencourse.layout.model.caution import Caution, PieceCaution
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import round_length
from evencourse.layout.pieces.piece import FacePieces, GaveWay
from evencourse.layout.solver.score import NEAR
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.casings import CasingGap, casing_gaps
from evencourse.render.words.plan_words import course_name, measured

_MATERIALS = {
    "fiber cement": "Fiber cement: cutting raises silica dust; cut wet or with "
    "dust collection, and wear a respirator.",
    "vinyl": "Vinyl: heat warps it; keep grills and flues away, and nail it loose so that it can move.",
}

#: Kinds of cautions that tell how high the work is.
_HEIGHTS = ("height", "wall height")

#: What the cover of a set says of every material, once for all its faces.
MATERIAL_CAUTIONS = frozenset(_MATERIALS.values())


def caution_words(caution: Caution, face: ElevationPlan, plan: Plan) -> str:
    """A caution of a face as a sentence.

    Args:
        caution: one of the face's.
        face: a planned face.
        plan: where it comes from.
    """
    job, cladding = plan.job, plan.course_sets[face.zones[0].course_set].cladding
    length = measured(job, caution.length or 0.0)
    if caution.kind == "ground":
        wanted, x = measured(job, cladding.ground_clearance), measured(job, caution.x or 0.0)
        if (caution.length or 0.0) < 0:
            over = f"Ground: {measured(job, -(caution.length or 0.0))} above the bottom of the siding"
            return f"{over}, {x} from the left; it must be {wanted} below. Measure it again, or lower it."
        return f"Ground: only {length} below the siding, {x} from the left; it must be {wanted}."
    if caution.kind == "lower roof":
        clear = measured(job, cladding.roof_clearance)
        return f"Lower roof: hold the siding {clear} off it, over the step flashing."
    if caution.kind == "base out of level":
        return f"Base out of level: {_rips_words(caution.length or 0.0, cladding, job)}."
    if caution.kind == "strip":
        return _strip_words(caution, cladding, job)
    if caution.kind == "thin end":
        return _thin_words(caution, face, plan)
    roof = f"{(caution.roof or '').capitalize()} {caution.mark}"
    if caution.kind == "roof":
        flashing = "flashing first, its upper leg behind the weather barrier"
        return f"{roof}: {flashing}; hold the siding {length} off it."
    if caution.kind == "sloped roof":
        return f"{roof}: step flashing up the slope, a kick-out at its lower end."
    if caution.kind == "height":
        return f"Height: work is up to {length} above the ground; use fall protection."
    if caution.kind == "wall height":
        return f"Height: work is up to {length} above the foot of the wall; use fall protection."
    if caution.kind == "no siding":
        what = f"Opening {caution.mark}: its {caution.edge} at {measured(job, caution.level or 0.0)}"
        return f"{what} is a must-meet edge, but no siding lies along it: nothing is met there."
    if caution.board is not None:
        low, high = (measured(job, edge) for edge in caution.board)
        what = f"Opening {caution.mark}: its {caution.edge} at {measured(job, caution.level or 0.0)}"
        return f"{what} is in the band board from {low} to {high}; no course meets it."
    return _MATERIALS[caution.material or ""]


def _rips_words(over: float, cladding: Cladding, job: Job) -> str:
    """Where rips along a base out of level end, and whether they cover the top of a foundation."""
    if cladding.family == "panel":
        return "rips end at it, in a channel; they do not cover the top of a foundation: flash it first"
    if round_length(over, job.round) <= 0:
        lower = "no course reaches lower, so nothing covers the top of a foundation: flash it first"
        return f"rips end at it; {lower}"
    hang = f"rips hang {measured(job, over)} below it, all along"
    if over < rules().limits["cover_min"] * job.inch - NEAR:
        return f"{hang}; no course reaches lower: flash the top of a foundation first"
    return f"{hang}, to cover the top of a foundation"


def _strip_words(caution: Caution, cladding: Cladding, job: Job) -> str:
    """A starter strip that has no wall behind its nails."""
    ends = " to ".join(measured(job, x or 0.0) for x in (caution.x, caution.to_x))
    strip = "starter strip" if cladding.family == "panel" else "starter furring"
    hang = measured(job, caution.length or 0.0)
    return (
        f"Base from {ends}: course 1 hangs {hang} below the wall, so nothing is "
        f"behind the nails of its {strip}: fix a strip to the foundation first, level with the wall's face."
    )


def _thin_words(caution: Caution, face: ElevationPlan, plan: Plan) -> str:
    """A sliver at an end of a base out of level."""
    course_set, x = plan.course_sets[face.zones[0].course_set], caution.x or 0.0
    xs = [corner for corner, _ in face.elevation.outline]
    place = f"{measured(plan.job, x)} from the left"
    if x in (min(xs), max(xs)):
        place = f"at the {'left' if x == min(xs) else 'right'} corner"
    shows = f"only {measured(plan.job, caution.length or 0.0)} of course"
    words = f"Sliver: {shows} {course_name(course_set, caution.course or 1)} shows over the base {place}"
    if course_set.cladding.family != "lap":
        return f"{words}."
    return f"{words}, too little left for the nails: face-nail it or glue it."


def face_cautions(face: ElevationPlan, plan: Plan) -> tuple[str, ...]:
    """Every caution of a planned face, the particular ones first, and how wide a board between casings is."""
    gaps = casing_gaps(plan.job, face.elevation)
    return (
        *(_gap_words(gap, plan) for gap in gaps),
        *(caution_words(caution, face, plan) for caution in face.cautions),
    )


def _gap_words(gap: CasingGap, plan: Plan) -> str:
    width = measured(plan.job, gap.width)
    openings = f"Openings {gap.first} and {gap.second}"
    return f"{openings}: no room for both casings; rip one board to the {width} between."


def cautions_together(plan: Plan) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every face's name and its cautions as one sheet tells them: of heights of work the greatest alone."""
    every = (caution for face in plan.elevations for caution in face.cautions)
    heights = sorted((one.length or 0.0, one.kind) for one in every if one.kind in _HEIGHTS)
    greatest = {kind: length for length, kind in heights}
    for face in plan.elevations:
        told = (replace(one, length=greatest.get(one.kind, one.length)) for one in face.cautions)
        yield face.elevation.name, tuple(caution_words(caution, face, plan) for caution in told)


def piece_cautions(face: FacePieces, plan: Plan) -> tuple[str, ...]:
    """Rules about seams that gave way on a face, each way once, then its pieces' cautions."""
    gave = [gave_way_words(one, plan) for one in face.gave_way]
    return (
        *dict.fromkeys(gave),
        *tight_words(face, plan),
        *(_piece_words(one, plan) for one in face.cautions),
    )


def tight_words(face: FacePieces, plan: Plan) -> tuple[str, ...]:
    """Where panels of a face cannot be bent in between two verticals, and how to install them there."""
    found = []
    for open_top in dict.fromkeys(one.open_top for one in face.tight):
        places = [_tight_place(one, plan) for one in face.tight if one.open_top == open_top]
        where = f"place, {places[0]}" if len(places) == 1 else f"places ({'; '.join(places)})"
        top = "; or slide them down from the top before the course over them is installed"
        found.append(
            f"Tight {where}: put one side's trim up on a single nail until the pieces are in, then nail it "
            f"home{top if open_top else ''}."
        )
    return tuple(found)


def _tight_place(caution: PieceCaution, plan: Plan) -> str:
    course_set = plan.course_sets[caution.course_set]
    first, last = (course_name(course_set, course) for course in caution.courses)
    courses = f"course {first}" if first == last else f"courses {first} to {last}"
    left, right = (measured(plan.job, end) for end in (caution.left, caution.left + caution.width))
    return f"{courses}, from {left} to {right}"


def gave_way_words(gave: GaveWay, plan: Plan) -> str:
    """A rule about seams that gave way, and why."""
    job = plan.job
    marks = ", ".join(gave.marks)
    if gave.rule == "fixture":
        return f"{marks} has no block, and no seam can be put beside it: slit the piece to fit round it."
    stock = measured(job, plan.course_sets[gave.course_set].cladding.length)
    need = f"{measured(job, gave.width)} to cover with {stock} stock."
    if gave.rule == "opening":
        return f"Seam over or under opening{f' {marks}' if marks else ''}: {need}"
    if gave.rule == "raked":
        return f"Seam in a raked end: {need}"
    if gave.rule == "apart":
        apart = measured(job, job.seams.apart)
        return f"Seam nearer than {apart} to one in the next course: no other place for it."
    if gave.rule == "line":
        return "Seam in line with one a few courses away: no other place for it."
    if gave.rule == "stud":
        return "Joint off the studs: none within reach."
    return f"Piece shorter than {measured(job, job.seams.shortest)}: no other way to cut it."


def _piece_words(caution: PieceCaution, plan: Plan) -> str:
    course_set = plan.course_sets[caution.course_set]
    numbers = [course_name(course_set, course) for course in caution.courses]
    first, last = numbers[0], numbers[-1]
    if caution.kind == "narrow":
        in_turn = caution.courses[-1] - caution.courses[0] == len(numbers) - 1
        several = f"{first} to {last}" if len(numbers) > 2 and in_turn else ", ".join(numbers)
        wide = f"{measured(plan.job, caution.width)} of wall" if caution.width > 0 else "the strip of wall"
        return (
            f"Course{'s' if len(numbers) > 1 else ''} {several}: no piece is cut for {wide} at "
            f"{measured(plan.job, caution.left)} from the left, it could not be held; let the trim cover it."
        )
    if caution.kind == "out of level":
        courses = f"Course {first}" if first == last else f"Courses {first} to {last}"
        return f"{courses}: not level on this face; measure notches and rips from the butt line as it hangs."
    loose = f"{caution.piece} has too little left for the nails"
    if caution.held is None:
        return f"{loose}: face-nail it or glue it."
    return f"{loose}: course {last} ({caution.held}) is the last that is held; face-nail or glue this one."
