"""The cuts of a piece in the fewest words, for lists beside a drawing; and how these are read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from evencourse.layout.model.job import Job
from evencourse.layout.order.cut_list import Hand, notch_heights, square_on_tape, up_on_tape
from evencourse.layout.pieces.piece import Notch, Piece
from evencourse.render.words.piece_words import HIDDEN_TOPS, rips_on_tape
from evencourse.render.words.plan_words import show, square_words

#: What tells that something occurs in short words, and how it is read.
_READ = (
    (r"\b(left|right|both) [a-z]", "left, right, both: ends, the long point at the bottom if not told."),
    (r"\bkeep ", "keep: so much stays, from the bottom edge, ripped first."),
    (r" to ", "Places along a piece: from its left end."),
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
    first, last = _rips(piece, job)
    return "; ".join([*first, *ends, *(_notch(piece, notch, job) for notch in piece.notches), *last])


def reading_words(cuts: Iterable[str]) -> str:
    """How the short words of a list are read: what occurs in it alone."""
    said = "\n".join(cuts)
    return " ".join(words for pattern, words in _READ if re.search(pattern, said))


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


def _notch(piece: Piece, notch: Notch, job: Job) -> str:
    low, high = (up_on_tape(piece, height, job.round) for height in notch_heights(piece, notch))
    across = f"{show(job, notch.left)} to {show(job, notch.left + notch.width)}"
    curved = ", to its outline" if notch.curved else ""
    if notch.edge == "bottom":
        return f"bottom {show(job, high)} off, {across}{curved}"
    if notch.edge == "top":
        if low == up_on_tape(piece, piece.top, job.round):
            return f"{HIDDEN_TOPS[job.claddings[piece.cladding].family]} off, {across}{curved}"
        return f"top: keep {show(job, low)}, {across}{curved}"
    return f"hole {show(job, low)} to {show(job, high)} up, {across}{curved}"


def _rips(piece: Piece, job: Job) -> tuple[list[str], list[str]]:
    """Cuts along the bottom, which come first, and along the top."""
    bottom, top = [], []
    for rip in rips_on_tape(piece, job):
        if rip.off_bottom:
            keep = f", keep {_both(job, rip.keep)}" if rip.keep else ""
            bottom.append(f"rip {_both(job, rip.off_bottom)} off the bottom{keep}")
        elif rip.hidden and not rip.again:
            top.append(f"{HIDDEN_TOPS[job.claddings[piece.cladding].family]} off all along")
        else:
            top.append(f"rip, keep {_both(job, rip.height)}")
    return bottom, top


def _both(job: Job, ends: Sequence[float]) -> str:
    left, right = (show(job, end) for end in ends)
    return left if left == right else f"{left} left, {right} right"
