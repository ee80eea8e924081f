"""The crew's words for pieces, trim and order lines, the same in tables, on sheets and on the phone."""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import ceil

from evencourse.layout.language.speech import decimals, gettext, ngettext, noop, pgettext
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.order.cut_list import TrimCut, TrimCuts
from evencourse.layout.order.heap_cost import HeapCost
from evencourse.layout.order.order_items import WORDS, Item, shingles_needed
from evencourse.layout.order.siding_quantities import ShingleCourse, Siding
from evencourse.layout.order.trim_runs import BandEnd, TrimRun
from evencourse.layout.order.trims import SIZED
from evencourse.layout.pieces.piece import Piece
from evencourse.layout.pieces.seam_rules import end_gap, seam_rules
from evencourse.layout.trade.materials import materials
from evencourse.render.words.plan_words import (
    cladding_words,
    measured,
    on_tape,
    show,
    square_words,
)

#: Where trim goes along the wall's own border, at the left and the right end of the siding, at openings.
_PLACES = {
    "starter": noop("starter line"),
    "base": noop("base"),
    "eave": noop("eave"),
    "eave left": noop("eave, left end"),
    "eave right": noop("eave, right end"),
    "under band": noop("under the band board"),
    "band": noop("band board"),
    "over roof": noop("over {roof}"),
    "under roof": noop("under {roof}"),
}
_LEFT = {
    "rake": noop("left rake"),
    "outside corner": noop("left outside corner"),
    "inside corner": noop("left inside corner"),
    "butts": noop("left butts"),
    "step": noop("left step"),
    "beside roof": noop("left beside {roof}"),
}
_RIGHT = {
    "rake": noop("right rake"),
    "outside corner": noop("right outside corner"),
    "inside corner": noop("right inside corner"),
    "butts": noop("right butts"),
    "step": noop("right step"),
    "beside roof": noop("right beside {roof}"),
}
_AT_OPENINGS = {
    "head": noop("{openings} head"),
    "sill": noop("{openings} sill"),
    "side": noop("{openings} side"),
    "slope": noop("{openings} slope"),
    "curve": noop("{openings} curve"),
}
#: Trim that runs level: no length of it is the upper one.
_LEVEL = ("drip cap", "starter strip", "utility trim", "finish trim")
#: Trim that reaches past the siding it serves.
_POSTS = ("outside corner post", "inside corner post")
#: What no order of this program holds.
NOT_INCLUDED = noop(
    "Counted from the job file alone. Not included: soffit, flashing at roofs, weather barrier, caulk, "
    "casing round curves, and trim boards round openings in panels. The maker's instructions and the local "
    "code govern."
)
#: What an order for the rest of a wall leaves out.
INSTALLED = noop(
    "Not ordered, as taken for installed: measured courses and those below, with their starter; trim at "
    "corners beside them; all trim, drip caps too, of openings and roofs that they reach."
)
#: How the list in order of installation is followed.
TURN_WORDS = noop(
    "Work down the list: cut each piece from a new length or from the cutoff that is named. Keep the cutoff "
    "that is listed, marked with the piece it comes from; the rest is scrap."
)
#: In which order a piece is cut. Common practice, no source.
ORDER_WORDS = noop("Cut to length first, so that the cutoff stays whole, then rip, then cut ends and notches")
#: What holds each family.
NAILS = {"panel": noop("roofing nails"), "lap": noop("box nails"), "shingle": noop("shingle nails")}


def marks_words(marks: Sequence[str]) -> str:
    """Marks in one line: three and more that follow course by course as ``S-4.1 to S-11.1``."""
    words: list[str] = []
    run: list[str] = []
    for mark in (*marks, ""):
        if run and not _follows(run[-1], mark):
            words += run if len(run) < 3 else [gettext("{first} to {last}", first=run[0], last=run[-1])]
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
    gap = measured(job, end_gap(job, cladding))
    if cladding.family == "shingle":
        return gettext("{gap} gap at ends", gap=gap)
    rules = seam_rules(job, cladding)
    kerf = kerf_words(rules.kerf, job) if rules.kerf else gettext("cut with snips: no kerf")
    if rules.lap:
        lap = measured(job, rules.lap)
        return gettext("{gap} gap at ends, laps of {lap}, {kerf}", gap=gap, lap=lap, kerf=kerf)
    joint = measured(job, rules.joint)
    if joint == gap:
        return gettext("{gap} gap at ends and joints, {kerf}", gap=gap, kerf=kerf)
    return gettext("{gap} gap at ends, {joint} at joints, {kerf}", gap=gap, joint=joint, kerf=kerf)


def cutoffs_words(heap: HeapCost) -> str:
    """What keeping few cutoffs costs: ``199 stock lengths; 197 if all cutoffs were kept. At most …``.

    Args:
        heap: of a job with siding that is cut from lengths.
    """
    words = ngettext("{count} stock length", "{count} stock lengths", heap.lengths)
    if heap.every_end < heap.lengths:
        words = gettext("{lengths}; {fewer} if all cutoffs were kept", lengths=words, fewer=heap.every_end)
    kept = ngettext(
        "At most {count} cutoff is kept at once.", "At most {count} cutoffs are kept at once.", heap.waits
    )
    return f"{words}. {kept}"


def source_words(piece: Piece) -> str:
    """What a piece is cut from: ``new length``; ``cutoff of S-3.2``."""
    if piece.source is None:
        return ""
    return (
        gettext("new length") if piece.source == "new" else gettext("cutoff of {piece}", piece=piece.source)
    )


def rest_words(job: Job, rest: float) -> str:
    """What is left of a length: nothing for less than the tape shows."""
    return show(job, rest) if on_tape(job, rest) > 0 else ""


def trim_words(kind: str, size: float, job: Job) -> str:
    """One kind of trim: ``trim board 3-1/2"``, ``channel``, ``furring 1/4" thick``."""
    if kind not in SIZED:
        return gettext(kind)
    shown = _sized(size, job)
    if kind == "furring":
        return gettext("furring {thickness} thick", thickness=shown)
    return gettext("{trim} {width}", trim=gettext(kind), width=shown)


def _sized(size: float, job: Job) -> str:
    return square_words(job, size) + (" mm" if job.units == "mm" else "")


def setting_words(trim: TrimCuts, job: Job) -> str:
    """How far a corner post reaches past the siding, and how lengths of a trim meet; nothing for most trim.

    Rule: ``corner`` in ``materials.toml``.
    """
    words = []
    if trim.kind in _POSTS:
        below, above = (measured(job, materials()["corner"][end] * job.inch) for end in ("below", "above"))
        words.append(
            gettext(
                "A post reaches {below} below the siding and ends {above} short of its top.",
                below=below, above=above,
            )
        )  # fmt: skip
    if trim.lap and any(cut.parts > 1 for bar in trim.bars for cut in bar.cuts):
        lap = measured(job, trim.lap)
        if trim.kind in _LEVEL:
            words.append(gettext("At a joint one laps over the next by {lap}.", lap=lap))
        else:
            words.append(gettext("At a joint the upper laps over the lower by {lap}.", lap=lap))
    return " ".join(words)


def doubled_words(course: ShingleCourse, job: Job) -> str:
    """How much of a course of shingles is laid double: ``double``, ``double over 3' 11"``, nothing."""
    if on_tape(job, course.doubled) <= 0:
        return ""
    if course.doubled >= course.width:
        return pgettext("course of shingles", "double")
    return gettext("double over {width}", width=show(job, course.doubled))


def place_words(run: TrimRun, job: Job) -> str:
    """Where a run of trim goes: ``Street, A, B head``; ``Street, right corner, shared with East gable``.

    Of several that are named alike each says where it begins: ``Street, starter line, from 10' 0"``.

    Args:
        run: any run.
        job: for its tape.
    """
    place = _place_words(run)
    if run.at is not None:
        at = show(job, run.at)
        along = gettext("{place}, from {left}", place=place, left=at)
        place = gettext("{place}, from height {height}", place=place, height=at) if run.plumb else along
    if run.shared is not None:
        place = gettext("{place}, shared with {face}", place=place, face=run.shared)
    return f"{run.face}, {place}"


def _place_words(run: TrimRun) -> str:
    if run.opening is None:
        places = _PLACES if run.hand is None else _LEFT if run.hand == "left" else _RIGHT
        return gettext(places[run.place], roof=run.roof or gettext("roof"))
    marks = (run.opening, *run.beside)
    if run.place == "between":
        return gettext("between {first} and {second}", first=marks[0], second=marks[1])
    place = gettext(_AT_OPENINGS[run.place], openings=", ".join(marks))
    if run.hand is None:
        return place
    if run.hand == "right":  # the siding's right end is the opening's left side
        return gettext("{place}, left", place=place)
    return gettext("{place}, right", place=place)


def trim_cut_words(cut: TrimCut, job: Job) -> str:
    """One piece of trim: ``6' 3" Street, A head``; a part of a longer run says which."""
    words = f"{show(job, cut.length)} {place_words(cut.run, job)}"
    if cut.parts > 1:
        words = gettext("{trim}, {part} of {parts}", trim=words, part=cut.part, parts=cut.parts)
    return with_ends(words, cut, job)


def with_ends(words: str, cut: TrimCut, job: Job) -> str:
    """A piece of trim with the cuts of its ends, where these are not square."""
    left, right = cut.run.ends
    if left is not None and cut.part == 1:
        words = gettext("{trim}, left end {cut}", trim=words, cut=_band_end_words(left, job))
    if right is not None and cut.part == cut.parts:
        words = gettext("{trim}, right end {cut}", trim=words, cut=_band_end_words(right, job))
    return words


def _band_end_words(end: BandEnd, job: Job) -> str:
    """How an end of a band board is cut: ``square for 2", then 5-1/4" up 10-1/2" over``."""
    words = gettext("{up} up {over} over", up=show(job, end.up), over=show(job, end.over))
    if on_tape(job, end.square) <= 0:
        return words
    return gettext("square for {height}, then {cut}", height=show(job, end.square), cut=words)


def material_words(siding: Siding, job: Job) -> str:
    """One cladding in one line: ``403 pieces of double 4 in panel from 198 pcs, 12' 6" …, 3.8 % waste``."""
    name = cladding_words(siding.cladding)
    if not siding.bars:
        count, area = len(siding.courses), figure_words(shingles_needed(job, siding))  # as the order counts
        if job.units == "in":
            return ngettext(
                "{area} squares of {cladding} in {count} course",
                "{area} squares of {cladding} in {count} courses",
                count, area=area, cladding=name,
            )  # fmt: skip
        return ngettext(
            "{area} m² of {cladding} in {count} course", "{area} m² of {cladding} in {count} courses",
            count, area=area, cladding=name,
        )  # fmt: skip
    return ngettext(
        "{count} piece of {cladding} from {stock} (minimum possible {bound}), {waste} % waste",
        "{count} pieces of {cladding} from {stock} (minimum possible {bound}), {waste} % waste",
        siding.pieces,
        cladding=name,
        stock=stock_words(siding.bars, siding.cladding.length, job),
        bound=siding.bound,
        waste=decimals(f"{100 * siding.waste:.1f}"),
    )


def stock_words(count: int, length: float, job: Job) -> str:
    """So many lengths as they are sold: ``199 pcs, 16' 8"``; ``1 pc, 3660 mm``."""
    return ngettext("{count} pc, {length}", "{count} pcs, {length}", count, length=measured(job, length))


def kerf_words(kerf: float, job: Job) -> str:
    """What the saw takes at a cut: ``1/8" kerf``, ``3 mm kerf``."""
    return gettext("{width} kerf", width=measured(job, kerf))


def extra_words(share: float) -> str:
    """What is added to every quantity: ``5 % extra included``, ``no extra included``."""
    if not share:
        return gettext("no extra included")
    return gettext("{share} % extra included", share=figure_words(100 * share))


def item_words(item: Item, job: Job) -> str:
    """What a line of the order is for: ``double 4 in panel, 12' 6"``."""
    if item.item in WORDS.values():
        name = cladding_words(job.claddings[item.cladding])
    elif item.item == "nails":
        nails = gettext(NAILS[item.cladding])
        return gettext("{nails} {length}", nails=nails, length=_sized(item.size, job))
    else:
        name = trim_words(item.item, item.size, job)
        if item.cladding:
            cladding = cladding_words(job.claddings[item.cladding])
            name = gettext("{trim}, from {cladding}", trim=name, cladding=cladding)
    return f"{name}, {measured(job, item.length)}" if item.length else name


def quantity_words(item: Item) -> str:
    """How much to order: ``9 cartons``, ``5.75 squares``, ``12``."""
    figure = figure_words(item.quantity)
    count = round(item.quantity) if item.quantity == round(item.quantity) else 2  # parts are several
    if item.unit == "carton":
        return ngettext("{quantity} carton", "{quantity} cartons", count, quantity=figure)
    if item.unit == "board":
        return ngettext("{quantity} board", "{quantity} boards", count, quantity=figure)
    if item.unit == "square":
        return ngettext("{quantity} square", "{quantity} squares", count, quantity=figure)
    return figure if item.unit == "each" else f"{figure} {item.unit}"


def figure_words(value: float) -> str:
    """A figure with no more than two decimals, none where it is whole."""
    return decimals(f"{value:.2f}".rstrip("0").rstrip("."))


def bundle_words(item: Item) -> str:
    """How many bundles a line of shingles is: ``23 bundles, 4 to a square``; ``6 bundles, 4 to 9.29 m²``.

    What a single bundle covers is no round figure of square metres: told rounded, so many would not add up.
    """
    per, count = materials()["shingle"]["bundles"], round(item.quantity / item.step)
    if item.unit == "square":
        return ngettext(
            "{count} bundle, {per} to a square", "{count} bundles, {per} to a square", count, per=per
        )
    area = f"{figure_words(per * item.step)} {item.unit}"
    return ngettext(
        "{count} bundle, {per} to {area}", "{count} bundles, {per} to {area}", count, per=per, area=area
    )


def rounding_words(item: Item, spare: float) -> str:
    """The basis of a quantity: ``198 + 5 % = 207.9, 24 to a carton, rounded up to 9``.

    Args:
        item: a line of the order.
        spare: share that was added.
    """
    words, per, weighed = figure_words(item.count), decimals(f"{item.per:g}"), f"{item.per:.0f}"
    if item.item == "nails":
        words = ngettext("{number} nail", "{number} nails", int(item.count), number=words)
    if spare:
        words += f" + {figure_words(100 * spare)} % = {figure_words(item.count * (1 + spare))}"
    if item.unit == "carton":
        words = gettext("{number}, {per} to a carton", number=words, per=per)
    elif item.unit == "board":
        words = ngettext(
            "{number} strip, {per} ripped from a board", "{number} strips, {per} ripped from a board",
            ceil(item.count * (1 + spare)), number=words, per=per,
        )  # fmt: skip
    elif item.unit == "lb":
        words = gettext("{number}, {per} to a pound", number=words, per=weighed)
    elif item.unit == "kg":
        words = gettext("{number}, {per} to a kilogram", number=words, per=weighed)
    elif item.unit == "square":
        words = gettext(
            "{number} squares by the width of every course at the standard exposure; {bundles}",
            number=words, bundles=bundle_words(item),
        )  # fmt: skip
    elif item.unit == "m²":
        words = gettext(
            "{number} m² by the width of every course at the standard exposure; {bundles}",
            number=words, bundles=bundle_words(item),
        )  # fmt: skip
    wanted = item.net * (1 + spare)
    if abs(wanted - item.quantity) > ROUNDING:
        words = gettext(
            "{number}, rounded up to {quantity}", number=words, quantity=figure_words(item.quantity)
        )
    return words
