"""Candidates side by side, and the strip of all starters, for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from evencourse.cli.reports.job_head import job_head
from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped
from evencourse.layout.language.speech import decimals, gettext, pgettext
from evencourse.layout.model.job import Job
from evencourse.layout.order.order_items import Item, siding_item
from evencourse.layout.order.siding_quantities import Siding
from evencourse.layout.results.comparison import Candidate, StarterScores
from evencourse.layout.solver.score import strict_order
from evencourse.render.sheets.strip_chart import siding_words, spot_words
from evencourse.render.words.edges_not_met import price_words
from evencourse.render.words.piece_words import quantity_words
from evencourse.render.words.plan_words import show

#: Longest row of signs [cells].
_LONGEST = 60


def compare_lines(job: Job, ranked: Sequence[Candidate], on: Screen) -> Iterator[str]:
    """The candidates, best first, and the strips of the job's own siding.

    Args:
        job: what was measured.
        ranked: candidates from the best to the worst.
        on: what it is for.

    Yields:
        Lines.
    """
    yield from job_head(job, on)
    if len(ranked) > 1:
        yield from wrapped(
            gettext("Best first, in the order of importance of the plan; the last column says what decides."),
            on.width,
        )
    yield ""
    musts = any(one.score.missed_must for one in ranked)
    columns = [
        Column(pgettext("column of sidings", "Siding"), wraps=True),
        Column(pgettext("column of sidings", "Starter"), right=True),
        Column(pgettext("column of sidings", "Flush"), right=True),
        Column(pgettext("column of sidings", "Notch"), right=True),
        Column(pgettext("column of sidings", "Sliver"), right=True),
        *([Column(gettext("Must-meet missed"), right=True)] if musts else []),
        Column(gettext("Starter range"), right=True),
        Column(pgettext("column of sidings", "Material"), right=True),
        Column(pgettext("column of sidings", "Waste"), right=True),
        Column(gettext("Against the first"), wraps=True),
    ]
    yield from table(columns, [_row(one, ranked[0], musts, on) for one in ranked], on)
    yield ""
    yield from wrapped(
        gettext(
            "Starter range: how far the starter can move with no edge lost. Material: stock lengths to cut, "
            "or shingles as the order counts them, in whole bundles; no extra included. Waste: the share of "
            "the stock lengths that does not show on the wall."
        ),
        on.width,
    )
    own = next((one for one in ranked if one.own and not one.starters), ranked[0])
    for strip in own.strips:
        yield ""
        yield from strip_lines(strip, job, on)


def _row(one: Candidate, best: Candidate, musts: bool, on: Screen) -> list[str | Cell]:
    job, score = one.plan.job, one.score
    sets = [found for found in one.plan.course_sets.values() if not found.prefix]
    strips = () if one.starters else one.strips
    widths = [strip.width for strip in strips if strip.width is not None]
    siding, starter = siding_words(one), "; ".join(show(job, found.lines.starter) for found in sets)
    if one.own:
        siding = gettext("{siding}, the job's own", siding=siding)
    if one.starters:
        starter = gettext("{starter}, as asked", starter=starter)
    cells: list[str | Cell] = [
        Cell(siding, "strong" if one is best else "plain"),
        starter,
        str(score.flush),
        str(score.notches),
        Cell(str(score.slivers), "bad" if score.slivers else "plain"),
        *([Cell(str(score.missed_must), "bad" if score.missed_must else "plain")] if musts else []),
        "; ".join(show(job, width) if width else gettext("1 mark") for width in widths) or "-",
        "; ".join(_material(use, job) for use in one.uses),
        "; ".join(decimals(f"{100 * use.waste:.1f} %") if use.bars else "-" for use in one.uses),
        "" if one is best else _against(one, best),
    ]
    return cells


def _material(use: Siding, job: Job) -> str:
    if use.bars:
        return str(use.bars)
    return quantity_words(to_buy(job, use))


def to_buy(job: Job, use: Siding) -> Item:
    """A siding as the order has it, but with no extra."""
    return siding_item(replace(job, order=replace(job.order, spare=0.0)), use)


def _against(one: Candidate, best: Candidate) -> str:
    if strict_order(one.score) == strict_order(best.score):
        return gettext("just as good")
    return price_words(one.score, best.score)


def strip_lines(strip: StarterScores, job: Job, on: Screen) -> Iterator[str]:
    """One strip: a row a mark of the tape, a sign an edge.

    Args:
        strip: its scores.
        job: for its tape.
        on: what it is for.
    """
    heading = gettext(
        "Every starter of {course_set}: {range}", course_set=strip.course_set, range=spot_words(strip, job)
    )
    yield from (styled(line, "strong", on) for line in wrapped(clean(heading), on.width))
    legend = gettext("= flush  - notch  ! sliver   > the plan's starter  | just as good")
    yield from wrapped(legend, on.width)
    heights = [show(job, starter) for starter in strip.starters]
    wide = max(map(len, heights))
    most = max(score.flush + score.notches + score.slivers for score in strip.scores)
    room = _LONGEST if on.width is None else max(10, min(_LONGEST, on.width - wide - 16))
    for at, (height, score) in enumerate(zip(heights, strip.scores, strict=True)):
        sign = " "
        if at == strip.chosen:
            sign = ">"
        elif strip.good is not None and strip.good[0] <= at <= strip.good[1]:
            sign = "|"
        figures = f"{score.flush:>3} {score.notches:>3} {score.slivers:>3}"
        bar = _bar((score.flush, score.notches, score.slivers), most, room)
        line = f"{sign} {height:>{wide}} {figures} {bar}".rstrip()
        yield styled(line, "good", on) if at == strip.chosen else line


def _bar(counts: Sequence[int], most: int, room: int) -> str:
    """Signs for flush, notch and sliver: one an edge where there is room, and never none for some."""
    if most <= room:
        return "".join(sign * count for sign, count in zip("=-!", counts, strict=True))
    return "".join(
        sign * max(1, round(count * (room - 2) / most)) if count else ""
        for sign, count in zip("=-!", counts, strict=True)
    )
