"""What is cut out of a piece, step by step, in full and in the fewest words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from evencourse.layout.model.job import Job
from evencourse.layout.order.cut_list import notch_heights, up_on_tape
from evencourse.layout.pieces.piece import Notch, Piece
from evencourse.render.words.plan_words import show

#: What of a piece stands behind the course over it.
HIDDEN_TOPS = {"panel": "nail hem", "lap": "lap", "shingle": "tops"}


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
        hidden = HIDDEN_TOPS[job.claddings[piece.cladding].family] if whole else ""
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
        across = f", to {ends[1]}" if words else f", from {ends[0]} to {ends[1]}"
        if not words and any(rip.edge == "bottom" for rip in piece.rips):
            across = f", measured after the rip{across}"
        if notch.curved:
            across += ", to its outline"
        if notch.edge == "bottom":
            cut = f"{high} up" if words else f"notch in the bottom {high} up"
        elif notch.edge == "inside":
            cut = f"hole from {low} to {high} up"
        elif hidden:
            cut = f"{hidden} off the top, down to {low}"
        else:
            cut = f"down to {low}" if words else f"notch in the top down to {low}"
        words += f", then {cut}{across}" if words else f"{cut}{across}"
    return words


def short_notch_words(piece: Piece, steps: Sequence[Notch], job: Job) -> str:
    """One notch in its steps, as ``notch_words`` has it, in the fewest words.

    Returns:
        ``top: keep 7-1/2", 2' 8" to 5' 0"; keep 1-1/2", to 8' 7-1/2"``.
    """
    words: list[str] = []
    for notch, low, high, ends, hidden in _on_tape(piece, steps, job):
        across = f"to {ends[1]}" if words else f"{ends[0]} to {ends[1]}"
        curved = ", to its outline" if notch.curved else ""
        if notch.edge == "bottom":
            cut = f"{high} off" if words else f"bottom {high} off"
        elif notch.edge == "inside":
            cut = f"hole {low} to {high} up"
        elif hidden:
            cut = f"{hidden} off: keep {low}"
        else:
            top = "top: " if not any("top: " in before for before in words) else ""
            cut = f"{top}keep {low}"
        words.append(f"{cut}, {across}{curved}")
    return "; ".join(words)
