"""What is cut out of a piece, step by step, in full and in the fewest words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.job import Job
from evencourse.layout.order.cut_list import notch_heights, up_on_tape
from evencourse.layout.pieces.piece import Notch, Piece
from evencourse.render.words.plan_words import show

#: What of a piece stands behind the course over it.
HIDDEN_TOPS = {"panel": noop("nail hem"), "lap": noop("lap"), "shingle": noop("tops")}


class _Step(NamedTuple):
    """A step as the tape shows it: its heights, its ends, and what is off where all that hides is cut."""

    notch: Notch
    low: str
    high: str
    ends: tuple[str, str]
    hidden: str


def _on_tape(piece: Piece, steps: Sequence[Notch], job: Job) -> Iterator[_Step]:
    for notch in steps:
        low, high = (up_on_tape(piece, height, job.round) for height in notch_heights(piece, notch))
        whole = low == up_on_tape(piece, piece.top, job.round)
        hidden = gettext(HIDDEN_TOPS[job.claddings[piece.cladding].family]) if whole else ""
        ends = show(job, notch.left), show(job, notch.left + notch.width)
        yield _Step(notch, show(job, low), show(job, high), ends, hidden)


def notch_words(piece: Piece, steps: Sequence[Notch], job: Job) -> str:
    """One notch in its steps, measured from the piece's left end and from its bottom.

    What lies under the course above or in the lock is not seen: heights are told from the bottom.

    Args:
        piece: any piece.
        steps: of one cut-out, from the left, as ``in_steps`` gives them.
        job: for its tape.

    Returns:
        ``notch in the top down to 7-1/2", from 2' 8" to 5' 0", then down to 1-1/2", to 8' 7-1/2"``.
    """
    words = ""
    for notch, low, high, ends, hidden in _on_tape(piece, steps, job):
        left, right = ends
        across = (
            gettext("to {right}", right=right)
            if words
            else gettext("from {left} to {right}", left=left, right=right)
        )
        if not words and any(rip.edge == "bottom" for rip in piece.rips):
            across = gettext("measured after the rip, {across}", across=across)
        if notch.curved:
            across = gettext("{across}, to its outline", across=across)
        if notch.edge == "bottom":
            first, next_ = (
                gettext("notch in the bottom {high} up", high=high),
                gettext("{high} up", high=high),
            )
        elif notch.edge == "inside":
            first = next_ = gettext("hole from {low} to {high} up", low=low, high=high)
        elif hidden:
            first = next_ = gettext("{hidden} off the top, down to {low}", hidden=hidden, low=low)
        else:
            first, next_ = (
                gettext("notch in the top down to {low}", low=low),
                gettext("down to {low}", low=low),
            )
        if words:
            words = gettext("{before}, then {cut}, {across}", before=words, cut=next_, across=across)
        else:
            words = gettext("{cut}, {across}", cut=first, across=across)
    return words


def short_notch_words(piece: Piece, steps: Sequence[Notch], job: Job) -> str:
    """One notch in its steps, as ``notch_words`` has it, in the fewest words.

    Returns:
        ``top: keep 7-1/2", 2' 8" to 5' 0"; keep 1-1/2", to 8' 7-1/2"``.
    """
    words: list[str] = []
    top = False
    for notch, low, high, ends, hidden in _on_tape(piece, steps, job):
        left, right = ends
        across = (
            gettext("to {right}", right=right)
            if words
            else gettext("{left} to {right}", left=left, right=right)
        )
        if notch.curved:
            across = gettext("{across}, to its outline", across=across)
        if notch.edge == "bottom":
            cut = gettext("{high} off", high=high) if words else gettext("bottom {high} off", high=high)
        elif notch.edge == "inside":
            cut = gettext("hole {low} to {high} up", low=low, high=high)
        elif hidden:
            cut = gettext("{hidden} off: keep {low}", hidden=hidden, low=low)
        elif top:
            cut = gettext("keep {low}", low=low)
        else:
            cut, top = gettext("top: keep {low}", low=low), True
        words.append(gettext("{cut}, {across}", cut=cut, across=across))
    return "; ".join(words)
