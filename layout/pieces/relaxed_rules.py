"""What gave way, in words: seams where none should be, pieces that nothing holds or that hardly go in."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.job import Elevation, Fixture, Opening
from evencourse.layout.model.lengths import round_length, show_length
from evencourse.layout.pieces.piece import GaveWay, Piece
from evencourse.layout.pieces.seam_rules import Rule
from evencourse.layout.pieces.stock_choice import Joint
from evencourse.layout.pieces.strips import Run
from evencourse.layout.trade.materials import materials


def gave_way(
    plan: Plan,
    elevation: Elevation,
    runs: Sequence[Run],
    joints: Sequence[tuple[Run, Joint]],
    served: Collection[str],
) -> Iterator[GaveWay]:
    """Rules that gave way on one face.

    Args:
        plan: for units and claddings.
        elevation: the face.
        runs: its runs.
        joints: its seams, with the runs they are in.
        served: fixtures without a block that a seam serves.
    """
    for run, joint in joints:
        for rule in joint.broken:
            why = _why(plan, elevation, run, joint, rule)
            yield GaveWay(rule, elevation.name, run.course_set, run.number, joint.x, why)
    for item in elevation.fixtures:
        if item.block or item.mark in served:
            continue
        for run in runs:
            across = item.left < run.right and item.right > run.left
            if across and item.bottom < run.top and item.top > run.bottom:
                why = f"{item.mark} has no block and no seam can be had beside it: the piece is slit to it."
                yield GaveWay("fixture", elevation.name, run.course_set, run.number, item.left, why)
                break


def _why(plan: Plan, elevation: Elevation, run: Run, joint: Joint, rule: Rule) -> str:
    cladding = plan.course_sets[run.course_set].cladding

    def show(length: float) -> str:
        return show_length(length, plan.job.units, plan.job.round)

    need = f"{show(run.width)} to cover with {show(cladding.length)} stock."
    if rule == "opening":
        things: list[Opening | Fixture] = [*elevation.openings, *elevation.fixtures]
        reach = cladding.exposure / 2
        marks = [
            thing.mark
            for thing in things
            if thing.left - reach < joint.x < thing.right + reach
            and thing.bottom < run.head + reach
            and thing.top > run.foot - reach
        ]
        where = f" {', '.join(marks)}" if marks else ""
        return f"Seam over or under opening{where}: {need}"
    if rule == "raked":
        return f"Seam in a raked end: {need}"
    if rule == "apart":
        return f"Seam nearer than {show(plan.job.seams.apart)} to one in the next course: no other place."
    if rule == "line":
        return "Seam in line with one a few courses away: no other place."
    if rule == "stud":
        return "Joint off the studs: none within reach."
    return f"Piece shorter than {show(plan.job.seams.shortest)}: no other place."


def unheld(plan: Plan, pieces: Sequence[Piece]) -> Iterator[str]:
    """Cautions about pieces that nails do not hold: under each peak the last that can be held.

    Args:
        plan: for the prefixes of its course sets.
        pieces: of one face.

    Rule: a panel hangs from its hem; what has none left at a peak is face-nailed or glued (common practice,
    no source).
    """
    loose = [piece for piece in pieces if not piece.held]
    for piece in loose:
        under = [other for other in pieces if other.held and _under(other, piece)]
        if under:
            last = max(under, key=lambda other: other.course)
            prefix = plan.course_sets[last.course_set].prefix
            yield (
                f"{piece.id} has too little left for the nails: course {prefix}{last.course} ({last.id}) is "
                "the last that is held; fix this one through its face or glue it."
            )
        else:
            yield f"{piece.id} has too little left for the nails: fix it through its face or glue it."


def too_narrow(plan: Plan, narrow: Sequence[Run], face: int) -> Iterator[str]:
    """Cautions about runs that no piece is cut for, those one over another in one sentence.

    Args:
        plan: for its tape and the prefixes of its course sets.
        narrow: of the whole job, courses from the bottom up.
        face: index of the face.
    """
    places: dict[tuple[str, str, str], list[Run]] = {}
    for run in narrow:
        if run.face == face:
            key = (run.course_set, _show(plan, run.left), _show(plan, run.width))
            places.setdefault(key, []).append(run)
    for (name, left, width), mine in places.items():
        prefix = plan.course_sets[name].prefix
        numbers = [f"{prefix}{run.number}" for run in mine]
        in_turn = mine[-1].number - mine[0].number == len(mine) - 1
        several = f"{numbers[0]} to {numbers[-1]}" if len(mine) > 2 and in_turn else ", ".join(numbers)
        wide = f"{width} of wall" if round_length(mine[0].width, plan.job.round) > 0 else "the strip of wall"
        yield (
            f"Course{'s' if len(mine) > 1 else ''} {several}: no piece is cut for {wide} at {left} from the "
            "left, it could not be held; let the trim cover it."
        )


def tight_places(plan: Plan, index: int, found: Sequence[Run]) -> Iterator[str]:
    """Where a panel goes between two verticals that are nailed home: it cannot be bent in (common practice).

    Args:
        plan: for its tape, and for the tops of its zones.
        index: of the face.
        found: its runs, courses from the bottom up.

    Rule: a run of panels shorter than ``hold.tight`` that is plumb at both ends (common practice, no source).
    """
    most = float(materials()["hold"]["tight"]) * plan.job.inch
    places: dict[tuple[str, str, str], list[Run]] = {}
    for run in found:
        panel = plan.course_sets[run.course_set].cladding.family == "panel"
        if panel and run.width < most and not run.sloped:
            places.setdefault((run.course_set, _show(plan, run.left), _show(plan, run.right)), []).append(run)
    for (name, left, right), mine in places.items():
        first, last = (f"{plan.course_sets[name].prefix}{run.number}" for run in (mine[0], mine[-1]))
        courses = f"course {first}" if len(mine) == 1 else f"courses {first} to {last}"
        over = any(run.number == mine[-1].number + 1 and run.course_set == name for run in found)
        from_top = "; or slide them down from the top before the course over them hangs" if over else ""
        yield (
            f"Tight place, {courses}, from {left} to {right}: put one side's trim up on a single nail until "
            f"the pieces are in, then nail it home{from_top}."
        )


def _show(plan: Plan, length: float) -> str:
    return show_length(length, plan.job.units, plan.job.round)


def out_of_level(plan: Plan, face: ElevationPlan, pieces: Sequence[Piece]) -> Iterator[str]:
    """A caution where courses that are notched or ripped, and not hung yet, do not run level on a face.

    Args:
        plan: for the prefixes of its course sets.
        face: the face.
        pieces: its pieces, cut to the level lines of their course sets.
    """
    for name in dict.fromkeys(line.course_set for line in face.built):
        off = {line.course for line in face.built if line.course_set == name}
        cut = [
            piece.course
            for piece in pieces
            if piece.course_set == name and piece.course in off and (piece.notches or piece.rip)
        ]
        if cut:
            prefix = plan.course_sets[name].prefix
            courses = " to ".join(dict.fromkeys(f"{prefix}{course}" for course in (min(cut), max(cut))))
            yield (
                f"Course {courses}: not level on this face; take the height of notches and rips from the "
                "butt line as it hangs."
            )


def _under(other: Piece, piece: Piece) -> bool:
    return (
        other.course_set == piece.course_set
        and other.course < piece.course
        and other.left < piece.right
        and other.right > piece.left
    )
