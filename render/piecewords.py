"""The crew's words for a piece: its marks, its ends, its notches and its rip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from layout.job import Job
from layout.piece import End, Notch, Piece
from render.words import layout_words, on_tape, show


def marks_words(pieces: Sequence[Piece]) -> str:
    """Marks of pieces of one face, its letters said once: ``S-1.1, 1.4, 2.2``."""
    first, *others = (piece.id for piece in pieces)
    letters, dash, _ = first.rpartition("-")
    start = letters + dash
    return ", ".join([first, *(mark.removeprefix(start) for mark in others)])


def piece_cuts(piece: Piece, job: Job) -> tuple[str, ...]:
    """Every cut of a piece beside its length, as it lies with its butt edge towards the crew.

    Args:
        piece: a piece.
        job: for its tape.

    Returns:
        One text a cut: rip, sloping ends with the length of the short side, notches and holes from the left.
    """
    return tuple(_cuts(piece, job))


def _cuts(piece: Piece, job: Job) -> Iterator[str]:
    if piece.rip is not None:
        rip = piece.rip
        left, right = show(job, rip.left), show(job, rip.right)
        size = left if left == right else f"{left} at the left, {right} at the right"
        yield f"rip to {size}, {rip.edge} edge off"
    for side, end in (("left", piece.left_end), ("right", piece.right_end)):
        if end.shape != "square":
            yield f"{side} end {_slope(end, job)}"
    if on_tape(job, piece.short) != on_tape(job, piece.length):
        yield f"{show(job, piece.short)} at the short side"
    for notch in piece.notches:
        yield _notch(notch, job)
    if not piece.held:
        yield "no nails hold it: fix it through its face or glue it"


def _slope(end: End, job: Job) -> str:
    words = layout_words(job, end.up, end.over) if end.up > 0 else f"{show(job, end.over)} over"
    shape = "to the curve, " if end.shape == "curve" else ""
    long = f", long at the {end.long}" if end.long else ""
    return f"{shape}{words}{long}"


def _notch(notch: Notch, job: Job) -> str:
    what = "hole" if notch.edge == "inside" else f"notch in the {notch.edge}"
    if notch.left <= 0:
        where = "from the left end"
    elif notch.right <= 0:
        where = "to the right end"
    else:
        where = f"{show(job, notch.left)} from the left"
    deep = "high" if notch.edge == "inside" else "deep"
    curve = ", inside it to the curve" if notch.curved else ""
    rest = f", {show(job, notch.rest)} left below" if notch.edge == "inside" and notch.rest > 0 else ""
    return f"{what} {where}, {show(job, notch.width)} wide, {show(job, notch.depth)} {deep}{rest}{curve}"
