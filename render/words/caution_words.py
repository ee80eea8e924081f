"""What the crew must look out for: on a face, at its seams, at its pieces."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.caution import Caution, PieceCaution
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import round_length
from evencourse.layout.model.roof import RoofKind
from evencourse.layout.pieces.piece import FacePieces, GaveWay
from evencourse.layout.solver.score import NEAR
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.casings import CasingGap, casing_gaps
from evencourse.render.words.plan_words import course_name, measured

_MATERIALS = {
    "fiber cement": noop(
        "Fiber cement: cutting raises silica dust; cut wet or with dust collection, and wear a respirator."
    ),
    "vinyl": noop("Vinyl: heat warps it; keep grills and flues away, and nail it loose so that it can move."),
}

_ROOFS: dict[RoofKind, str] = {
    "roof": noop("Roof {mark}"),
    "deck": noop("Deck {mark}"),
    "ledger": noop("Ledger {mark}"),
}

#: Kinds of cautions that tell how high the work is.
_HEIGHTS = ("height", "wall height")


def material_cautions() -> frozenset[str]:
    """What the cover of a set says of every material, once for all its faces."""
    return frozenset(map(gettext, _MATERIALS.values()))


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
            return gettext(
                "Ground: {height} above the bottom of the siding, {x} from the left; it must be {wanted} "
                "below. Measure it again, or lower it.",
                height=measured(job, -(caution.length or 0.0)),
                x=x,
                wanted=wanted,
            )
        return gettext(
            "Ground: only {height} below the siding, {x} from the left; it must be {wanted}.",
            height=length,
            x=x,
            wanted=wanted,
        )
    if caution.kind == "lower roof":
        clear = measured(job, cladding.roof_clearance)
        return gettext(
            "Lower roof: hold the siding {clear} off it; the step flashing goes up behind.", clear=clear
        )
    if caution.kind == "base out of level":
        return _rips_words(caution.length or 0.0, cladding, job)
    if caution.kind == "strip":
        return _strip_words(caution, cladding, job)
    if caution.kind == "thin end":
        return _thin_words(caution, face, plan)
    if caution.roof is not None:
        roof = gettext(_ROOFS[caution.roof], mark=caution.mark)
        if caution.kind == "roof":
            return gettext(
                "{roof}: flashing first, its upper leg behind the weather barrier; hold the siding {clear} "
                "off it.",
                roof=roof,
                clear=length,
            )
        return gettext("{roof}: step flashing up the slope, a kick-out at its lower end.", roof=roof)
    if caution.kind == "height":
        return gettext("Height: work is up to {height} above the ground; use fall protection.", height=length)
    if caution.kind == "wall height":
        return gettext(
            "Height: work is up to {height} above the foot of the wall; use fall protection.", height=length
        )
    if caution.edge is not None:
        return _no_siding_words(caution, job)
    return gettext(_MATERIALS[caution.material or ""])


def _no_siding_words(caution: Caution, job: Job) -> str:
    """An edge of an opening that no siding meets, because none lies along it or for a band board."""
    mark, level, sill = caution.mark, measured(job, caution.level or 0.0), caution.edge == "sill"
    if caution.board is not None:
        low, high = (measured(job, edge) for edge in caution.board)
        return (
            gettext(
                "Opening {mark}: its sill at {level} is in the band board from {low} to {high}; "
                "no course meets it.",
                mark=mark,
                level=level,
                low=low,
                high=high,
            )
            if sill
            else gettext(
                "Opening {mark}: its head at {level} is in the band board from {low} to {high}; "
                "no course meets it.",
                mark=mark,
                level=level,
                low=low,
                high=high,
            )
        )
    if sill:
        return gettext(
            "Opening {mark}: its sill at {level} is a must-meet edge, but no siding lies along it: nothing "
            "is met there.",
            mark=mark,
            level=level,
        )
    return gettext(
        "Opening {mark}: its head at {level} is a must-meet edge, but no siding lies along it: nothing is "
        "met there.",
        mark=mark,
        level=level,
    )


def _rips_words(over: float, cladding: Cladding, job: Job) -> str:
    """Where rips along a base out of level end, and whether they cover the top of a foundation."""
    if cladding.family == "panel":
        return gettext(
            "Base out of level: rips end at it, in a channel; they do not cover the top of a foundation: "
            "flash it first."
        )
    if round_length(over, job.round) <= 0:
        return gettext(
            "Base out of level: rips end at it; no course reaches lower, so nothing covers the top of a "
            "foundation: flash it first."
        )
    hang = measured(job, over)
    if over < rules().limits["cover_min"] * job.inch - NEAR:
        return gettext(
            "Base out of level: rips hang {hang} below it, all along; no course reaches lower: flash the top "
            "of a foundation first.",
            hang=hang,
        )
    return gettext(
        "Base out of level: rips hang {hang} below it, all along, to cover the top of a foundation.",
        hang=hang,
    )


def _strip_words(caution: Caution, cladding: Cladding, job: Job) -> str:
    """A starter strip that has no wall behind its nails."""
    left, right = (measured(job, x or 0.0) for x in (caution.x, caution.to_x))
    hang = measured(job, caution.length or 0.0)
    if cladding.family == "panel":
        return gettext(
            "Base from {left} to {right}: course 1 hangs {hang} below the wall, so nothing is behind the "
            "nails of its starter strip: fix a strip to the foundation first, level with the wall's face.",
            left=left,
            right=right,
            hang=hang,
        )
    return gettext(
        "Base from {left} to {right}: course 1 hangs {hang} below the wall, so nothing is behind the nails "
        "of its starter furring: fix a strip to the foundation first, level with the wall's face.",
        left=left,
        right=right,
        hang=hang,
    )


def _thin_words(caution: Caution, face: ElevationPlan, plan: Plan) -> str:
    """A sliver at an end of a base out of level."""
    course_set, x = plan.course_sets[face.zones[0].course_set], caution.x or 0.0
    xs = [corner for corner, _ in face.elevation.outline]
    strip, course = measured(plan.job, caution.length or 0.0), course_name(course_set, caution.course or 1)
    if x == min(xs):
        place = gettext("at the left corner")
    elif x == max(xs):
        place = gettext("at the right corner")
    else:
        place = gettext("{x} from the left", x=measured(plan.job, x))
    if course_set.cladding.family != "lap":
        return gettext(
            "Sliver: only {strip} of course {course} shows over the base {place}.",
            strip=strip,
            course=course,
            place=place,
        )
    return gettext(
        "Sliver: only {strip} of course {course} shows over the base {place}, too little left for the nails: "
        "face-nail it or glue it.",
        strip=strip,
        course=course,
        place=place,
    )


def face_cautions(face: ElevationPlan, plan: Plan) -> tuple[str, ...]:
    """Every caution of a planned face, the particular ones first, and how wide a board between casings is."""
    gaps = casing_gaps(plan.job, face.elevation)
    return (
        *(_gap_words(gap, plan) for gap in gaps),
        *(caution_words(caution, face, plan) for caution in face.cautions),
    )


def _gap_words(gap: CasingGap, plan: Plan) -> str:
    return gettext(
        "Openings {first} and {second}: no room for both casings; rip one board to the {width} between.",
        first=gap.first,
        second=gap.second,
        width=measured(plan.job, gap.width),
    )


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
        if len(places) == 1:
            where = gettext("Tight place, {place}", place=places[0])
        else:
            where = gettext("Tight places ({places})", places="; ".join(places))
        found.append(
            gettext(
                "{where}: put one side's trim up on a single nail until the pieces are in, then put in the "
                "others; or slide them down from the top before the course over them is installed.",
                where=where,
            )
            if open_top
            else gettext(
                "{where}: put one side's trim up on a single nail until the pieces are in, then put in the "
                "others.",
                where=where,
            )
        )
    return tuple(found)


def _tight_place(caution: PieceCaution, plan: Plan) -> str:
    course_set = plan.course_sets[caution.course_set]
    first, last = (course_name(course_set, course) for course in caution.courses)
    left, right = (measured(plan.job, end) for end in (caution.left, caution.left + caution.width))
    if first == last:
        return gettext("course {course}, from {left} to {right}", course=first, left=left, right=right)
    return gettext(
        "courses {first} to {last}, from {left} to {right}", first=first, last=last, left=left, right=right
    )


def gave_way_words(gave: GaveWay, plan: Plan) -> str:
    """A rule about seams that gave way, and why."""
    job = plan.job
    marks = ", ".join(gave.marks)
    if gave.rule == "fixture":
        return gettext(
            "{mark} has no block, and no seam can be put beside it: slit the piece to fit round it.",
            mark=marks,
        )
    stock = measured(job, plan.course_sets[gave.course_set].cladding.length)
    width = measured(job, gave.width)
    if gave.rule == "opening" and marks:
        return gettext(
            "Seam over or under opening {marks}: {width} to cover with {stock} stock.",
            marks=marks,
            width=width,
            stock=stock,
        )
    if gave.rule == "opening":
        return gettext(
            "Seam over or under opening: {width} to cover with {stock} stock.", width=width, stock=stock
        )
    if gave.rule == "raked":
        return gettext("Seam in a raked end: {width} to cover with {stock} stock.", width=width, stock=stock)
    if gave.rule == "apart":
        return gettext(
            "Seam nearer than {apart} to one in the next course: no other place for it.",
            apart=measured(job, job.seams.apart),
        )
    if gave.rule == "line":
        return gettext("Seam in line with one a few courses away: no other place for it.")
    if gave.rule == "stud":
        return gettext("Joint off the studs: none within reach.")
    return gettext(
        "Piece shorter than {shortest}: no other way to cut it.", shortest=measured(job, job.seams.shortest)
    )


def _piece_words(caution: PieceCaution, plan: Plan) -> str:
    course_set = plan.course_sets[caution.course_set]
    numbers = [course_name(course_set, course) for course in caution.courses]
    first, last = numbers[0], numbers[-1]
    if first == last:
        courses = gettext("Course {course}", course=first)
    else:
        courses = gettext("Courses {first} to {last}", first=first, last=last)
    if caution.kind == "narrow":
        in_turn = caution.courses[-1] - caution.courses[0] == len(numbers) - 1
        if len(numbers) == 2 or not in_turn:
            courses = gettext("Courses {courses}", courses=", ".join(numbers))
        left = measured(plan.job, caution.left)
        if caution.width > 0:
            return gettext(
                "{courses}: no piece is cut for {width} of wall at {left} from the left, it could not be "
                "held; let the trim cover it.",
                courses=courses,
                width=measured(plan.job, caution.width),
                left=left,
            )
        return gettext(
            "{courses}: no piece is cut for the strip of wall at {left} from the left, it could not be held; "
            "let the trim cover it.",
            courses=courses,
            left=left,
        )
    if caution.kind == "out of level":
        return gettext(
            "{courses}: not level on this face; measure notches and rips from the butt line as it hangs.",
            courses=courses,
        )
    if caution.held is None:
        return gettext(
            "{piece} has too little left for the nails: face-nail it or glue it.", piece=caution.piece
        )
    return gettext(
        "{piece} has too little left for the nails: course {course} ({held}) is the last that is held; "
        "face-nail or glue this one.",
        piece=caution.piece,
        course=last,
        held=caution.held,
    )
