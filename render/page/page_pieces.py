"""Pieces of a face for the page: outlines to draw, and what the crew cuts in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.pieces.piece import End, FacePieces, Piece, Seam
from evencourse.render.words.caution_words import piece_cautions
from evencourse.render.words.cut_words import cut_words
from evencourse.render.words.plan_words import on_tape, show

Json = dict[str, Any]

_LOOSE = noop("Too little is left for the nails: face-nail it or glue it.")
_MEETS = {"channel": noop("channel"), "trim": noop("trim"), "seam": noop("seam")}


@dataclass(frozen=True)
class PagePieces:
    """The pieces of one face.

    Attributes:
        pieces: one for each piece, in the order of courses.
        seams: x, bottom and top of each [job units].
        notes: rules that gave way, and pieces that nails do not hold.
    """

    pieces: list[Json]
    seams: list[list[float]]
    notes: list[str]


def face_pieces(plan: Plan, face: FacePieces) -> PagePieces:
    """The pieces of a face, ready for the page.

    Args:
        plan: where they come from.
        face: its pieces and seams.
    """
    left = {seam.right: seam for seam in face.seams}
    right = {seam.left: seam for seam in face.seams}
    return PagePieces(
        [_piece(plan, piece, left, right) for piece in face.pieces],
        [[_near(seam.x), _near(seam.bottom), _near(seam.top)] for seam in face.seams],
        list(piece_cautions(face, plan)),
    )


def _piece(plan: Plan, piece: Piece, left: Mapping[str, Seam], right: Mapping[str, Seam]) -> Json:
    job = plan.job
    shingles = plan.course_sets[piece.course_set].cladding.family == "shingle"
    ends = (
        meets_words(job, piece.left_end, left.get(piece.id), piece.id),
        meets_words(job, piece.right_end, right.get(piece.id), piece.id),
    )
    return {
        "id": piece.id,
        "set": piece.course_set,
        "course": piece.course,
        "length": show(job, piece.length),
        "words": [
            *length_words(job, piece, shingles),
            *(f"{part[0].upper()}{part[1:]}" for part in cut_words(piece, job).split("; ")),
            gettext("Left end: {meets}", meets=ends[0]),
            gettext("Right end: {meets}", meets=ends[1]),
            *([] if piece.held else [gettext(_LOOSE)]),
        ],
        "stock": piece.stock,
        "cut": piece.cut,
        "order": piece.order,
        "outline": [[_near(x), _near(y)] for x, y in piece.polygon],
        "holes": [[[_near(x), _near(y)] for x, y in hole] for hole in piece.holes],
    }


def _near(value: float) -> float:
    """For drawing; a hundredth of a unit is finer than any screen shows of a piece."""
    return round(float(value), 2) + 0.0


def length_words(job: Job, piece: Piece, shingles: bool) -> Iterator[str]:
    """What the length means, where it is more than one length."""
    if shingles:
        yield gettext("Shingles: the width that they cover; lay joints off those of the course below.")
    elif on_tape(job, piece.short) != on_tape(job, piece.length):
        yield gettext(
            "Long point to long point; {length} from short point to short point.",
            length=show(job, piece.short),
        )


def meets_words(job: Job, end: End, seam: Seam | None, mark: str) -> str:
    """What an end runs into: ``channel, 1/4" gap``; ``laps 1-1/4" over S-5.2``; ``butts S-5.2``.

    Args:
        job: for its units.
        end: left or right end of a piece.
        seam: the seam there; None at a channel, a post or trim.
        mark: of the piece itself.
    """
    if seam is None:
        meets = gettext(_MEETS[end.meets])
        if on_tape(job, end.gap) <= 0:
            return meets
        return gettext("{meets}, {gap} gap", meets=meets, gap=show(job, end.gap))
    other = seam.right if seam.left == mark else seam.left
    if seam.front == "butt":
        return gettext("butts {piece}", piece=other)
    front = seam.left if seam.front == "left" else seam.right
    lap = show(job, seam.lap)
    if front == mark:
        return gettext("laps {lap} over {piece}", lap=lap, piece=other)
    return gettext("laps {lap} under {piece}", lap=lap, piece=other)
