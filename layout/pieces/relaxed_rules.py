"""What gave way: seams where none should be, pieces that nothing holds or that hardly go in."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from evencourse.layout.model.caution import PieceCaution
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.job import Elevation, Fixture, Opening
from evencourse.layout.model.lengths import round_length
from evencourse.layout.pieces.piece import GaveWay, Piece
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
        plan: for claddings.
        elevation: the face.
        runs: its runs.
        joints: its seams, with the runs they are in.
        served: fixtures without a block that a seam serves.
    """
    for run, joint in joints:
        for rule in joint.broken:
            marks = _marks_there(plan, elevation, run, joint) if rule == "opening" else ()
            yield GaveWay(rule, elevation.name, run.course_set, run.number, joint.x, run.width, marks)
    for item in elevation.fixtures:
        if item.block or item.mark in served:
            continue
        for run in runs:
            across = item.left < run.right and item.right > run.left
            if across and item.bottom < run.top and item.top > run.bottom:
                place = elevation.name, run.course_set, run.number, item.left
                yield GaveWay("fixture", *place, run.width, (item.mark,))
                break


def _marks_there(plan: Plan, elevation: Elevation, run: Run, joint: Joint) -> tuple[str, ...]:
    """Openings and fixtures that a seam is over or under."""
    reach = plan.course_sets[run.course_set].cladding.exposure / 2
    things: list[Opening | Fixture] = [*elevation.openings, *elevation.fixtures]
    return tuple(
        thing.mark
        for thing in things
        if thing.left - reach < joint.x < thing.right + reach
        and thing.bottom < run.head + reach
        and thing.top > run.foot - reach
    )


def unheld(pieces: Sequence[Piece]) -> Iterator[PieceCaution]:
    """Cautions about pieces that nails do not hold: under each peak the last that can be held.

    Args:
        pieces: of one face.

    Rule: a panel hangs from its hem; what has none left at a peak is face-nailed or glued (common practice,
    no source).
    """
    for piece in (piece for piece in pieces if not piece.held):
        under = [other for other in pieces if other.held and _under(other, piece)]
        last = max(under, key=lambda other: other.course) if under else None
        courses = piece.course, last.course if last else piece.course
        yield PieceCaution("loose", piece.course_set, courses, piece.id, last.id if last else None)


def too_narrow(plan: Plan, narrow: Sequence[Run], face: int) -> Iterator[PieceCaution]:
    """Cautions about runs that no piece is cut for, those one over another in one.

    Args:
        plan: for its tape.
        narrow: of the whole job, courses from the bottom up.
        face: index of the face.
    """
    places: dict[tuple[str, float, float], list[Run]] = {}
    for run in narrow:
        if run.face == face:
            left, width = (round_length(length, plan.job.round) for length in (run.left, run.width))
            places.setdefault((run.course_set, left, width), []).append(run)
    for (name, left, width), mine in places.items():
        courses = tuple(run.number for run in mine)
        yield PieceCaution("narrow", name, courses, left=left, width=width)


def tight_places(plan: Plan, found: Sequence[Run]) -> Iterator[PieceCaution]:
    """Where a panel goes between two verticals that are nailed home: it cannot be bent in (common practice).

    Args:
        plan: for its tape.
        found: runs of a face, courses from the bottom up.

    Rule: a run of panels shorter than ``hold.tight`` that is plumb at both ends (common practice, no source).
    """
    most, mark = float(materials()["hold"]["tight"]) * plan.job.inch, plan.job.round
    places: dict[tuple[str, float, float], list[Run]] = {}
    for run in found:
        panel = plan.course_sets[run.course_set].cladding.family == "panel"
        if panel and run.width < most and not run.sloped:
            key = run.course_set, round_length(run.left, mark), round_length(run.right, mark)
            places.setdefault(key, []).append(run)
    courses = {(run.course_set, run.number) for run in found}
    for (name, left, right), mine in places.items():
        for low, high in _in_turn([run.number for run in mine]):
            over = (name, high + 1) in courses
            yield PieceCaution("tight", name, (low, high), left=left, width=right - left, open_top=over)


def _in_turn(numbers: Sequence[int]) -> Iterator[tuple[int, int]]:
    """First and last of courses that follow each other, from the bottom up."""
    first = last = numbers[0]
    for number in numbers[1:]:
        if number > last + 1:
            yield first, last
            first = number
        last = number
    yield first, last


def out_of_level(face: ElevationPlan, pieces: Sequence[Piece]) -> Iterator[PieceCaution]:
    """A caution where courses that are notched or ripped, and not hung yet, do not run level on a face.

    Args:
        face: the face.
        pieces: its pieces, cut to the level lines of their course sets.
    """
    for name in dict.fromkeys(line.course_set for line in face.built):
        off = {line.course for line in face.built if line.course_set == name}
        cut = [
            piece.course
            for piece in pieces
            if piece.course_set == name and piece.course in off and (piece.notches or piece.rips)
        ]
        if cut:
            yield PieceCaution("out of level", name, (min(cut), max(cut)))


def _under(other: Piece, piece: Piece) -> bool:
    return (
        other.course_set == piece.course_set
        and other.course < piece.course
        and other.left < piece.right
        and other.right > piece.left
    )
