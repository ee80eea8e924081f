"""What is cut on a piece, step by step: in full and in the fewest words, and how these are read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal, NamedTuple

from evencourse.layout.language.speech import closed, gettext, noop, pgettext
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.order.cut_list import (
    Hand,
    in_steps,
    notch_heights,
    rip_on_tape,
    square_on_tape,
    up_on_tape,
)
from evencourse.layout.pieces.piece import End, Notch, Piece
from evencourse.render.words.plan_words import layout_words, measured, on_tape, show, square_words

#: What of a piece stands behind the course over it.
HIDDEN_TOPS = {"panel": noop("nail hem"), "lap": noop("lap"), "shingle": noop("tops")}
#: What occurs in short words.
Told = Literal["ends", "rips", "keep", "places"]
#: How it is read.
_READ: dict[Told, str] = {
    "ends": noop("left, right, both ends: long point at the bottom if not told."),
    "rips": noop("Cut to length, then rip, then notch."),
    "keep": noop("keep: so much stays, from the bottom edge, once ripped."),
    "places": noop("Places: from the left end."),
}


def cut_words(piece: Piece, job: Job) -> str:
    """Everything that is cut on a piece besides its length, in the order of cutting; ``square`` for nothing.

    Rule: first to length, so that the cutoff stays whole, then what is ripped, then ends and notches; heights
    are told from the bottom, after what is ripped off it (common practice, no source).

    Args:
        piece: any piece.
        job: for its tape.

    Returns:
        ``left rake 8" up, 1' 4" over, long point below; notch in the bottom 2-1/4" up, from 1' 2" to 4' 5"``.
    """
    words = list(_whole_rips(piece, job))
    if piece.left_end.shape != "square":
        words.append(gettext("left {end}", end=end_words(piece, "left", job)))
    if piece.right_end.shape != "square":
        words.append(gettext("right {end}", end=end_words(piece, "right", job)))
    words += (notch_words(piece, steps, job) for steps in in_steps(piece, job.round))
    return "; ".join(words) or pgettext("cut of a piece", "square")


def end_words(piece: Piece, hand: Hand, job: Job) -> str:
    """One end: ``square``, ``rake 8" up, 16" over, long point below``.

    A slope that does not run from the butt to the top says so, or it would be laid out from the corner:
    ``square for 4", then rake 4" up, 6" over, long point below``; ``rake 2" up, 5" over, then square,
    long point above``. One that goes on across a board's lap: ``long point at the top of the lap``.
    """
    end = piece.left_end if hand == "left" else piece.right_end
    if end.shape == "square":
        return pgettext("cut of a piece", "square")
    below, above = square_on_tape(piece, hand, job.round)
    layout = layout_words(job, end.up, end.over)
    if end.shape == "rake":
        words = gettext("rake {layout}", layout=layout)
    else:
        words = gettext("curve {layout}", layout=layout)
    if below > 0:
        words = gettext("square for {height}, then {cut}", height=square_words(job, below), cut=words)
    lapped = _lapped(piece, end, job)
    if above > 0 or lapped is False:
        words = gettext("{cut}, then square", cut=words)
    if lapped:
        return gettext("{cut}, long point at the top of the lap", cut=words)
    if end.long == "bottom":
        return gettext("{cut}, long point below", cut=words)
    return gettext("{cut}, long point above", cut=words)


def _lapped(piece: Piece, end: End, job: Job) -> bool | None:
    """Whether a board's slope to a long point above goes on across its lap or leaves it; None for others."""
    if end.long != "top":
        return None
    over = end.up > piece.top - piece.bottom + job.round / 2
    return over if over or job.claddings[piece.cladding].family == "lap" else None


def _whole_rips(piece: Piece, job: Job) -> Iterator[str]:
    for rip in rips_on_tape(piece, job):
        if rip.off_bottom:
            off = _whole_both(job, rip.off_bottom)
            if rip.keep:
                keep = _whole_both(job, rip.keep)
                yield gettext("rip {off} off the bottom, keep {height}", off=off, height=keep)
            else:
                yield gettext("rip {off} off the bottom", off=off)
            continue
        height = _whole_both(job, rip.height)
        first = gettext("rip to {height}", height=height)
        words = gettext("rip what is left to {height}", height=height) if rip.again else first
        hidden = gettext(HIDDEN_TOPS[job.claddings[piece.cladding].family])
        yield gettext("{cut}: {hidden} off", cut=words, hidden=hidden) if rip.hidden else words


def _whole_both(job: Job, ends: Sequence[float]) -> str:
    left, right = (show(job, end) for end in ends)
    if left == right:
        return left
    return gettext("{left} at the left and {right} at the right", left=left, right=right)


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


class RipOnTape(NamedTuple):
    """One cut along a piece as the tape shows it, at its left and its right end [job units].

    Attributes:
        off_bottom: what comes off the bottom; empty for a cut along the top.
        height: what is left under a cut along the top once the bottom is off; empty for the bottom.
        keep: of a board, what is left over a cut along its bottom that is the only one; else empty.
        hidden: a cut along the top takes off just what the course above hides.
        again: the bottom is off already.
    """

    off_bottom: Sequence[float] = ()
    height: Sequence[float] = ()
    keep: Sequence[float] = ()
    hidden: bool = False
    again: bool = False


def rips_on_tape(piece: Piece, job: Job) -> Iterator[RipOnTape]:
    """What is cut along a piece: off its bottom first, then what is left is cut to its height."""
    cladding, off = job.claddings[piece.cladding], [0.0, 0.0]
    for rip in piece.rips:
        ends = [rip_on_tape(piece, height, job.round) for height in (rip.left, rip.right)]
        if rip.edge == "bottom":
            off = ends
            board = cladding.family == "lap" and rip is piece.rips[-1]
            yield RipOnTape(ends, keep=[on_tape(job, cladding.width) - end for end in ends] if board else ())
            continue
        height = [end - cut for end, cut in zip(ends, off, strict=True)]
        yield RipOnTape((), height, (), ends == [on_tape(job, piece.exposure)] * 2, any(off))


def short_cut_words(piece: Piece, job: Job, usual: str = "") -> str:
    """Everything that is cut on a piece besides its length, in the order of cutting; empty when nothing is.

    Args:
        piece: any piece.
        job: for its tape.
        usual: layout of a rake that is not told.

    Returns:
        ``left rake 8" up 12" over; bottom 2-1/4" off, 1' 2" to 4' 5"``.
    """
    left, right = (_end(piece, hand, job, usual) for hand in _HANDS)
    if left == right != "":
        ends = [gettext("both {end}", end=left)]
    else:
        ends = [gettext("left {end}", end=left)] if left else []
        ends += [gettext("right {end}", end=right)] if right else []
    notches = (short_notch_words(piece, steps, job) for steps in in_steps(piece, job.round))
    return "; ".join((*_rips(piece, job), *ends, *notches))


def short_layouts(piece: Piece, job: Job) -> Iterator[str]:
    """Layouts of a piece's rakes, as its short words have them; not of those that need more words.

    Args:
        piece: any piece.
        job: for its tape.
    """
    left, right = (_end(piece, hand, job) for hand in _HANDS)
    for hand in _HANDS[:1] if left == right else _HANDS:
        if _plain(piece, hand, job):
            yield _layout(piece, hand, job)


def told(piece: Piece, job: Job) -> frozenset[Told]:
    """What occurs in a piece's short words, for ``reading_words``.

    Args:
        piece: any piece.
        job: for its tape.
    """
    rips = list(rips_on_tape(piece, job))
    kept = any(rip.keep or (rip.height and (rip.again or not rip.hidden)) for rip in rips)
    occurs: dict[Told, bool] = {
        "ends": any(end.shape != "square" for end in (piece.left_end, piece.right_end)),
        "rips": bool(rips),
        "keep": kept or any(notch.edge == "top" for notch in piece.notches),
        "places": bool(piece.notches),
    }
    return frozenset(one for one, here in occurs.items() if here)


def reading_words(occurs: Iterable[Told]) -> str:
    """How the short words of a list are read: what occurs in it alone."""
    here = set(occurs)
    return " ".join(gettext(words) for one, words in _READ.items() if one in here)


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
            found.append(f"{closed(hole.mark)} {radius}")
    if not found:
        return gettext("Curves, outlines: scribe in place along the casing, less the gap.")
    return gettext(
        "Curves, outlines: scribe in place along the casing, less the gap, or by its radius from so far "
        "below its top: {radii}.",
        radii=", ".join(found),
    )


_HANDS: tuple[Hand, Hand] = ("left", "right")


def _layout(piece: Piece, hand: Hand, job: Job) -> str:
    end = piece.left_end if hand == "left" else piece.right_end
    return gettext("{up} up {over} over", up=square_words(job, end.up), over=square_words(job, end.over))


def _plain(piece: Piece, hand: Hand, job: Job) -> bool:
    """Whether an end is a rake whose words end with its layout."""
    end = piece.left_end if hand == "left" else piece.right_end
    return end.shape == "rake" and end.long != "top" and square_on_tape(piece, hand, job.round)[1] <= 0


def _end(piece: Piece, hand: Hand, job: Job, usual: str = "") -> str:
    """An end, empty when it is square."""
    end = piece.left_end if hand == "left" else piece.right_end
    if end.shape == "square":
        return ""
    below, above = square_on_tape(piece, hand, job.round)
    layout = _layout(piece, hand, job)
    if end.shape == "curve":
        words = gettext("curve {layout}", layout=layout)
    elif layout == usual and _plain(piece, hand, job):
        words = pgettext("end of a piece", "rake")
    else:
        words = gettext("rake {layout}", layout=layout)
    if below > 0:
        words = gettext("square {height}, then {cut}", height=square_words(job, below), cut=words)
    lapped = _lapped(piece, end, job)
    if above > 0 or lapped is False:
        words = gettext("{cut}, then square", cut=words)
    if end.long == "top":
        lap = gettext("{cut}, long at the top of the lap", cut=words)
        words = lap if lapped else gettext("{cut}, long above", cut=words)
    return words


def _rips(piece: Piece, job: Job) -> Iterator[str]:
    """Cuts along the bottom, which come first, and along the top."""
    for rip in rips_on_tape(piece, job):
        off, keep = _both(job, rip.off_bottom), _both(job, rip.keep or rip.height)
        if rip.keep:
            yield gettext("rip {off} off the bottom, keep {height}", off=off, height=keep)
        elif rip.off_bottom:
            yield gettext("rip {off} off the bottom", off=off)
        elif rip.hidden and not rip.again:
            hidden = gettext(HIDDEN_TOPS[job.claddings[piece.cladding].family])
            yield gettext("{hidden} off all along", hidden=hidden)
        else:
            yield gettext("rip, keep {height}", height=keep)


def _both(job: Job, ends: Sequence[float]) -> str:
    if not ends:
        return ""
    left, right = (show(job, end) for end in ends)
    return left if left == right else gettext("{left} left, {right} right", left=left, right=right)
