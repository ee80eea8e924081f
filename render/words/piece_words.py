"""The crew's words for pieces, trim and order lines, the same in tables, on sheets and on the phone."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import show_length
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.order.cut_list import (
    Hand,
    TrimCut,
    TrimCuts,
    in_steps,
    rip_on_tape,
    square_on_tape,
)
from evencourse.layout.order.heap_cost import HeapCost
from evencourse.layout.order.order_items import WORDS, Item, shingles_needed, sized
from evencourse.layout.order.siding_quantities import ShingleCourse, Siding
from evencourse.layout.order.trim_runs import BandEnd, TrimRun
from evencourse.layout.order.trims import SIZED
from evencourse.layout.pieces.piece import Piece
from evencourse.layout.pieces.seam_rules import end_gap, seam_rules
from evencourse.layout.trade.materials import materials
from evencourse.render.words.notch_words import HIDDEN_TOPS, notch_words
from evencourse.render.words.plan_words import counted, measured, on_tape, show

_PLACES = {
    "starter": "starter line",
    "base": "base",
    "under band": "under the band board",
    "band": "band board",
    "side": "side",
    "eave left": "eave, left end",
    "eave right": "eave, right end",
}
#: Trim that runs level: no length of it is the upper one.
_LEVEL = ("drip cap", "starter strip", "utility trim", "finish trim")
#: Trim that reaches past the siding it serves.
_POSTS = ("outside corner post", "inside corner post")
_PLURALS = {
    "each": "",
    "carton": "cartons",
    "board": "boards",
    "square": "squares",
    "m²": "m²",
    "lb": "lb",
    "kg": "kg",
}
#: What no order of this program holds.
NOT_INCLUDED = (
    "Counted from the job file alone. Not included: soffit, flashing at roofs, weather barrier, caulk, "
    "casing round curves, and trim boards round openings in panels. The maker's instructions and the local "
    "code govern."
)
#: What an order for the rest of a wall leaves out.
INSTALLED = "Not ordered: courses already installed, and the trim that they end against. Areas include them."
#: How the list in order of installation is followed.
TURN_WORDS = (
    "Work down the list: cut each piece from a new length or from the cutoff that is named. Keep the cutoff "
    "that is listed, marked with the piece it comes from; the rest is scrap."
)
#: In which order a piece is cut. Common practice, no source.
ORDER_WORDS = "Cut to length first, so that the cutoff stays whole, then rip, then cut ends and notches"
#: What holds each family.
NAILS = {"panel": "roofing nails", "lap": "box nails", "shingle": "shingle nails"}


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
    notches = (notch_words(piece, steps, job) for steps in in_steps(piece, job.round))
    return "; ".join((*_rips(piece, job), *_ends(piece, job), *notches)) or "square"


def _ends(piece: Piece, job: Job) -> Iterator[str]:
    hands: tuple[Hand, Hand] = ("left", "right")
    for hand, end in zip(hands, (piece.left_end, piece.right_end), strict=True):
        if end.shape != "square":
            yield f"{hand} {end_words(piece, hand, job)}"


def marks_words(marks: Sequence[str]) -> str:
    """Marks in one line: three and more that follow course by course as ``S-4.1 to S-11.1``."""
    words: list[str] = []
    run: list[str] = []
    for mark in (*marks, ""):
        if run and not _follows(run[-1], mark):
            words += run if len(run) < 3 else [f"{run[0]} to {run[-1]}"]
            run = []
        run.append(mark)
    return ", ".join(words)


def _follows(before: str, after: str) -> bool:
    """Whether a mark is that of the same place one course up."""
    first, second = (re.fullmatch(r"(.*?)(\d+)(\.\d+)", mark) for mark in (before, after))
    if first is None or second is None:
        return False
    return (first[1], first[3]) == (second[1], second[3]) and int(second[2]) == int(first[2]) + 1


def open_words(job: Job, cladding: Cladding) -> str:
    """Gaps, laps and what a cut takes: ``1/4" gap at ends, laps of 1", cut with snips: no kerf``.

    Args:
        job: for its tape and its temperature.
        cladding: what is hung.

    Returns:
        Likewise ``3 mm gap at ends and joints, 3 mm kerf``; ``3 mm gap at ends`` for shingles.
    """
    ends = f"{measured(job, end_gap(job, cladding))} gap at ends"
    if cladding.family == "shingle":
        return ends
    rules = seam_rules(job, cladding)
    taken = kerf_words(rules.kerf, job) if rules.kerf else "cut with snips: no kerf"
    if rules.lap:
        return f"{ends}, laps of {measured(job, rules.lap)}, {taken}"
    joint = measured(job, rules.joint)
    gaps = f"{ends} and joints" if ends.startswith(f"{joint} ") else f"{ends}, {joint} at joints"
    return f"{gaps}, {taken}"


def end_words(piece: Piece, hand: Hand, job: Job) -> str:
    """One end: ``square``, ``rake 8" up, 16" over, long point below``.

    A slope that does not run from the butt to the top says so, or it would be laid out from the corner:
    ``square for 4", then rake 4" up, 6" over, long point below``; ``rake 2" up, 5" over, then square,
    long point above``. One that goes on across a board's lap: ``long point at the top of the lap``.
    """
    end = piece.left_end if hand == "left" else piece.right_end
    if end.shape == "square":
        return "square"
    below, above = square_on_tape(piece, hand, job.round)
    point = "below" if end.long == "bottom" else "above"
    if end.long == "top" and end.up > piece.top - piece.bottom + job.round / 2:
        point = "at the top of the lap"
    slope = f"{end.shape} {_inches(job, end.up)} up, {_inches(job, end.over)} over"
    first = f"square for {_inches(job, below)}, then " if below > 0 else ""
    last = ", then square" if above > 0 else ""
    return f"{first}{slope}{last}, long point {point}"


def _inches(job: Job, length: float) -> str:
    return show_length(length, job.units, job.round, feet=False)


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


def _rips(piece: Piece, job: Job) -> Iterator[str]:
    """Cuts along the bottom, which come first, and along the top."""
    for rip in rips_on_tape(piece, job):
        if rip.off_bottom:
            keep = f", keep {_both(job, rip.keep)}" if rip.keep else ""
            yield f"rip {_both(job, rip.off_bottom)} off the bottom{keep}"
            continue
        hidden = f": {HIDDEN_TOPS[job.claddings[piece.cladding].family]} off" if rip.hidden else ""
        yield f"rip {'what is left ' if rip.again else ''}to {_both(job, rip.height)}{hidden}"


def _both(job: Job, ends: Sequence[float]) -> str:
    left, right = (show(job, end) for end in ends)
    return left if left == right else f"{left} at the left and {right} at the right"


def cutoffs_words(heap: HeapCost) -> str:
    """What keeping few cutoffs costs: ``199 stock lengths; 197 if all cutoffs were kept. At most …``.

    Args:
        heap: of a job with siding that is cut from lengths.
    """
    every = f"; {heap.every_end} if all cutoffs were kept" if heap.every_end < heap.lengths else ""
    waits = counted(heap.waits, "cutoff is", "cutoffs are")
    return f"{counted(heap.lengths, 'stock length')}{every}. At most {waits} kept at once."


def source_words(piece: Piece) -> str:
    """What a piece is cut from: ``new length``; ``cutoff of S-3.2``."""
    if piece.source is None:
        return ""
    return "new length" if piece.source == "new" else f"cutoff of {piece.source}"


def rest_words(job: Job, rest: float) -> str:
    """What is left of a length: nothing for less than the tape shows."""
    return show(job, rest) if on_tape(job, rest) > 0 else ""


def trim_words(kind: str, size: float, job: Job) -> str:
    """One kind of trim: ``trim board 3-1/2"``, ``channel``, ``furring 1/4" thick``."""
    if kind not in SIZED:
        return kind
    unit = " mm" if job.units == "mm" else ""
    return sized(job, kind, size) + unit + (" thick" if kind == "furring" else "")


def setting_words(trim: TrimCuts, job: Job) -> str:
    """How far a corner post reaches past the siding, and how lengths of a trim meet; nothing for most trim.

    Rule: ``corner`` in ``materials.toml``.
    """
    words = []
    if trim.kind in _POSTS:
        below, above = (measured(job, materials()["corner"][end] * job.inch) for end in ("below", "above"))
        words.append(f"A post reaches {below} below the siding and ends {above} short of its top.")
    if trim.lap and any(cut.parts > 1 for bar in trim.bars for cut in bar.cuts):
        how = "one laps over the next" if trim.kind in _LEVEL else "the upper laps over the lower"
        words.append(f"At a joint {how} by {measured(job, trim.lap)}.")
    return " ".join(words)


def doubled_words(course: ShingleCourse, job: Job) -> str:
    """How much of a course of shingles is laid double: ``double``, ``double over 3' 11"``, nothing."""
    if on_tape(job, course.doubled) <= 0:
        return ""
    return "double" if course.doubled >= course.width else f"double over {show(job, course.doubled)}"


def place_words(run: TrimRun, job: Job) -> str:
    """Where a run of trim goes: ``Street, A, B head``; ``Street, right corner, shared with East gable``.

    Of several that are named alike each says where it begins: ``Street, starter line, from 10' 0"``.

    Args:
        run: any run.
        job: for its tape.
    """
    place = _PLACES.get(run.place, run.place).replace("roof", run.roof or "roof")
    if run.place == "between":
        place = f"between {' and '.join((run.opening or '', *run.beside))}"
    elif run.opening is not None:
        place = f"{', '.join((run.opening, *run.beside))} {place}"
        if run.hand is not None:  # the siding's right end is the opening's left side
            place += ", left" if run.hand == "right" else ", right"
    elif run.hand is not None:
        place = f"{run.hand} {place}"
    if run.at is not None:
        place += f", from {'height ' if run.plumb else ''}{show(job, run.at)}"
    if run.shared is not None:
        place += f", shared with {run.shared}"
    return f"{run.face}, {place}"


def trim_cut_words(cut: TrimCut, job: Job) -> str:
    """One piece of trim: ``6' 3" Street, A head``; a part of a longer run says which."""
    part = f", {cut.part} of {cut.parts}" if cut.parts > 1 else ""
    ends = "".join(
        f", {hand} end {_band_end_words(end, job)}"
        for hand, end, here in zip(
            ("left", "right"), cut.run.ends, (cut.part == 1, cut.part == cut.parts), strict=True
        )
        if end is not None and here
    )
    return f"{show(job, cut.length)} {place_words(cut.run, job)}{part}{ends}"


def _band_end_words(end: BandEnd, job: Job) -> str:
    """How an end of a band board is cut: ``square for 2", then 5-1/4" up 10-1/2" over``."""
    square = f"square for {show(job, end.square)}, then " if on_tape(job, end.square) > 0 else ""
    return f"{square}{show(job, end.up)} up {show(job, end.over)} over"


def material_words(siding: Siding, job: Job) -> str:
    """One cladding in one line: ``403 pieces of double 4 in panel from 198 pcs, 12' 6" …, 3.8 % waste``."""
    name = siding.cladding.label
    if not siding.bars:
        needed = figure_words(shingles_needed(job, siding))  # as the order counts them
        unit = "squares" if job.units == "in" else "m²"
        return f"{needed} {unit} of {name} in {len(siding.courses)} courses"
    pieces = f"{counted(siding.pieces, 'piece')} of {name}"
    stock = stock_words(siding.bars, siding.cladding.length, job)
    return f"{pieces} from {stock} (minimum possible {siding.bound}), {100 * siding.waste:.1f} % waste"


def stock_words(count: int, length: float, job: Job) -> str:
    """So many lengths as they are sold: ``199 pcs, 16' 8"``; ``1 pc, 3660 mm``."""
    return f"{counted(count, 'pc')}, {measured(job, length)}"


def kerf_words(kerf: float, job: Job) -> str:
    """What the saw takes at a cut: ``1/8" kerf``, ``3 mm kerf``."""
    return f"{measured(job, kerf)} kerf"


def extra_words(share: float) -> str:
    """What is added to every quantity: ``5 % extra included``, ``no extra included``."""
    return f"{figure_words(100 * share)} % extra included" if share else "no extra included"


def item_words(item: Item, job: Job) -> str:
    """What a line of the order is for: ``double 4 in panel, 12' 6"``."""
    if item.item in WORDS.values():
        name = job.claddings[item.cladding].label
    elif item.item == "nails":
        return f"{NAILS[item.cladding]} {_inches(job, item.size)}{' mm' if job.units == 'mm' else ''}"
    else:
        name = trim_words(item.item, item.size, job) if item.size else item.item
        if item.cladding:
            name += f", from {job.claddings[item.cladding].label}"
    return f"{name}, {measured(job, item.length)}" if item.length else name


def quantity_words(item: Item) -> str:
    """How much to order: ``9 cartons``, ``5.75 squares``, ``12``."""
    figure = figure_words(item.quantity)
    unit = _PLURALS[item.unit] if item.quantity != 1 else item.unit.replace("each", "")
    return f"{figure} {unit}".strip()


def figure_words(value: float) -> str:
    """A figure with no more than two decimals, none where it is whole."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def bundle_words(item: Item) -> str:
    """How many bundles a line of shingles is: ``23 bundles, 4 to a square``; ``6 bundles, 4 to 9.29 m²``.

    What a single bundle covers is no round figure of square metres: told rounded, so many would not add up.
    """
    per = materials()["shingle"]["bundles"]
    whole = "a square" if item.unit == "square" else f"{figure_words(per * item.step)} {item.unit}"
    return f"{counted(round(item.quantity / item.step), 'bundle')}, {per} to {whole}"


def rounding_words(item: Item, spare: float) -> str:
    """The basis of a quantity: ``198 + 5 % = 207.9, 24 to a carton, rounded up to 9``.

    Args:
        item: a line of the order.
        spare: share that was added.
    """
    words = figure_words(item.count)
    if item.item == "nails":
        words += " nails"
    if spare:
        words += f" + {figure_words(100 * spare)} % = {figure_words(item.count * (1 + spare))}"
    if item.unit == "carton":
        words += f", {item.per:g} to a carton"
    elif item.unit == "board":
        words += f" strip{'s' * (words != '1')}, {item.per:g} ripped from a board"
    elif item.unit in ("lb", "kg"):
        words += f", {item.per:.0f} to a {'pound' if item.unit == 'lb' else 'kilogram'}"
    elif item.unit in ("square", "m²"):
        words += " m²" if item.unit == "m²" else " squares"
        words += f" by the width of every course at the standard exposure; {bundle_words(item)}"
    wanted = item.net * (1 + spare)
    if abs(wanted - item.quantity) > ROUNDING:
        words += f", rounded up to {figure_words(item.quantity)}"
    return words
