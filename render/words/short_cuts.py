"""The cuts of a piece in the fewest words, for lists beside a drawing; and how these are read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.order.cut_list import Hand, in_steps, square_on_tape
from evencourse.layout.pieces.piece import Piece
from evencourse.render.words.notch_words import HIDDEN_TOPS, short_notch_words
from evencourse.render.words.piece_words import rips_on_tape
from evencourse.render.words.plan_words import measured, show, square_words

#: How a curve is marked.
SCRIBE = "Curves, outlines: scribe in place along the casing, less the gap"
#: What tells that something occurs in short words, and how it is read.
_READ = (
    (r"\b(left|right|both) [a-z]", "left, right, both ends: long point at the bottom if not told."),
    (r"\brip\b|\boff all along", "Cut to length, then rip, then notch."),
    (r"\bkeep ", "keep: so much stays, from the bottom edge, once ripped."),
    (r" to ", "Places: from the left end."),
)


def short_cut_words(piece: Piece, job: Job) -> str:
    """Everything that is cut on a piece besides its length, in the order of cutting; empty when nothing is.

    Args:
        piece: any piece.
        job: for its tape.

    Returns:
        ``left rake 8" up 12" over; bottom 2-1/4" off, 1' 2" to 4' 5"``.
    """
    left, right = _ends(piece, job)
    ends = (
        [f"both {left}"]
        if left == right != ""
        else [f"{hand} {end}" for hand, end in (("left", left), ("right", right)) if end]
    )
    notches = (short_notch_words(piece, steps, job) for steps in in_steps(piece, job.round))
    return "; ".join((*_rips(piece, job), *ends, *notches))


def reading_words(cuts: Iterable[str]) -> str:
    """How the short words of a list are read: what occurs in it alone."""
    said = "\n".join(cuts)
    return " ".join(words for pattern, words in _READ if re.search(pattern, said))


def curve_words(face: Elevation, pieces: Sequence[Piece], job: Job) -> str:
    """How the curves of a face's pieces are marked, and the circles round its openings; empty without any.

    Args:
        face: any face.
        pieces: what hangs on it.
        job: for its tape.

    Returns:
        ``Curves, outlines: scribe in place along the casing, less the gap, or by its radius from so far below
        its top: G 1' 6-3/4".``

    Rule: the outside of the casing is a circle through the springing points and the apex of its arc: half a
    width h and a rise r have the radius (h² + r²) / 2r (geometry: intersecting chords).
    """
    ends = (end.shape == "curve" for piece in pieces for end in (piece.left_end, piece.right_end))
    if not any(ends) and not any(notch.curved for piece in pieces for notch in piece.notches):
        return ""
    found = []
    for hole in face.openings:
        if hole.shape in ("arch", "half-round", "round"):
            half = hole.width / 2 + (hole.trim.head if hole.shape == "round" else hole.trim.side)
            rise = half if hole.shape == "round" else hole.rise + hole.trim.head
            radius = measured(job, (half**2 + rise**2) / (2 * rise))
            found.append(f"{hole.mark} {radius}")
    circles = f", or by its radius from so far below its top: {', '.join(found)}" if found else ""
    return f"{SCRIBE}{circles}."


def _ends(piece: Piece, job: Job) -> Iterator[str]:
    """Left end and right end, each empty when it is square."""
    hands: tuple[Hand, Hand] = ("left", "right")
    for hand, end in zip(hands, (piece.left_end, piece.right_end), strict=True):
        if end.shape == "square":
            yield ""
            continue
        below, above = square_on_tape(piece, hand, job.round)
        words = f"{end.shape} {square_words(job, end.up)} up {square_words(job, end.over)} over"
        if below > 0:
            words = f"square {square_words(job, below)}, then {words}"
        if above > 0:
            words += ", then square"
        if end.long == "top":
            lapped = end.up > piece.top - piece.bottom + job.round / 2
            words += ", long at the top of the lap" if lapped else ", long above"
        yield words


def _rips(piece: Piece, job: Job) -> Iterator[str]:
    """Cuts along the bottom, which come first, and along the top."""
    for rip in rips_on_tape(piece, job):
        if rip.off_bottom:
            keep = f", keep {_both(job, rip.keep)}" if rip.keep else ""
            yield f"rip {_both(job, rip.off_bottom)} off the bottom{keep}"
        elif rip.hidden and not rip.again:
            yield f"{HIDDEN_TOPS[job.claddings[piece.cladding].family]} off all along"
        else:
            yield f"rip, keep {_both(job, rip.height)}"


def _both(job: Job, ends: Sequence[float]) -> str:
    left, right = (show(job, end) for end in ends)
    return left if left == right else f"{left} left, {right} right"
