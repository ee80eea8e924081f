"""How sure a plan is, as tables for the terminal."""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce

from evencourse.cli.reports.table import Cell, Column, Screen, Style, clean, styled, table, wrapped
from evencourse.layout.courses.certainty import Certainty, SureEdge, Worst
from evencourse.layout.language.speech import decimals, gettext, ngettext, pgettext
from evencourse.layout.model.course_plan import Plan, Result
from evencourse.layout.model.lengths import show_length
from evencourse.render.words.plan_words import datum_words, kind_words, show


def certainty_lines(sure: Certainty, plan: Plan, on: Screen) -> Iterator[str]:
    """What errors can make of a plan: the worst case, the edges that can change, and how many cannot.

    Args:
        sure: what to show.
        plan: the plan it belongs to.
        on: what it is for.

    Yields:
        Lines.
    """
    error = _fine(sure.error, plan)
    heading = gettext(
        "How sure: every height off by up to {error}, and the datum by up to {error} more", error=error
    )
    yield from (styled(line, "strong", on) for line in wrapped(heading, on.width))
    for name, worst in sure.worst.items():
        words = gettext(
            "Whatever the error, {course_set}: {worst}", course_set=name, worst=_worst_words(worst)
        )
        yield from wrapped(clean(words), on.width)
    for name in sure.worst:
        if name in sure.robust:
            yield from wrapped(clean(_choice_words(sure, plan, name)), on.width)
    counting = [edge for edge in sure.edges if edge.importance != "ignore" and _told(edge)]
    open_ = [edge for edge in counting if not edge.sure]
    planned = [edge for edge in counting if edge.result == "flush" and edge.edge != "base"]
    if planned and not any(edge.sure for edge in planned) and 2 * sure.error > plan.job.limits.tolerance:
        together, flush = _fine(2 * sure.error, plan), _fine(plan.job.limits.tolerance, plan)
        words = gettext(
            "Flush is within {flush}, and both errors together may be {together}: no edge is sure to stay "
            "flush.",
            flush=flush,
            together=together,
        )
        yield from wrapped(words, on.width)
    if open_:
        yield ""
        columns = [
            Column(gettext("Can change"), wraps=True),
            Column(pgettext("column of edges", "Height"), right=True),
            Column(pgettext("column of edges", "Planned")),
            Column(gettext("Can become"), wraps=True),
        ]
        yield from table(columns, [_row(edge, plan) for edge in sorted(open_, key=_worst_first)], on)
    yield ""
    stay = [edge.result for edge in counting if edge.sure]
    kept = (
        ngettext("{count} flush", "{count} flush", stay.count("flush")),
        ngettext("{count} notch", "{count} notches", stay.count("notch")),
        ngettext("{count} sliver", "{count} slivers", stay.count("sliver")),
    )
    words = gettext(
        "Sure to stay: {edges}; {some} of {all} can change",
        edges=", ".join(kept),
        some=len(open_),
        all=len(counting),
    )
    yield from wrapped(words, on.width)


def _fine(length: float, plan: Plan) -> str:
    """An error as it was given, finer than the job's own tape may show."""
    finest = 1 / 64 if plan.job.units == "in" else 0.1
    unit = " mm" if plan.job.units == "mm" else ""
    return decimals(show_length(length, plan.job.units, min(finest, plan.job.round))) + unit


def _worst_words(worst: Worst) -> str:
    slivers = ngettext("{count} sliver", "{count} slivers", worst.slivers)
    if not worst.missed_must:
        return gettext("at least {flush} flush, at most {slivers}", flush=worst.flush, slivers=slivers)
    return ngettext(
        "at least {flush} flush, at most {slivers} and {count} must-meet edge missed",
        "at least {flush} flush, at most {slivers} and {count} must-meet edges missed",
        worst.missed_must,
        flush=worst.flush,
        slivers=slivers,
    )


def _choice_words(sure: Certainty, plan: Plan, name: str) -> str:
    """Which starter a robust one was chosen instead of, and the figure of the worst case that decided."""
    if name not in sure.passed_over:
        return gettext("Holds up best, {course_set}: the starter that is best as planned", course_set=name)
    lines, other = sure.passed_over[name]
    return ngettext(
        "Passed over, {course_set}: a starter {height}, best as planned with {count} flush edge; whatever "
        "the error {worst}. What decided: {decided}",
        "Passed over, {course_set}: a starter {height}, best as planned with {count} flush edges; whatever "
        "the error {worst}. What decided: {decided}",
        lines.score.flush,
        course_set=name,
        height=datum_words(plan.job, lines.starter),
        worst=_worst_words(other),
        decided=decided_words(sure.worst[name], other),
    )


def decided_words(worst: Worst, other: Worst) -> str:
    """The first figure of the worst case in which a starter is better than one that was passed over.

    Args:
        worst: of the starter that was chosen.
        other: of the one that is best as planned.

    Returns:
        Such as ``at worst 2 slivers instead of 3``.
    """
    if worst.missed_must != other.missed_must:
        return ngettext(
            "at worst {count} must-meet edge missed instead of {other}",
            "at worst {count} must-meet edges missed instead of {other}",
            worst.missed_must,
            other=other.missed_must,
        )
    if worst.slivers != other.slivers:
        return ngettext(
            "at worst {count} sliver instead of {other}",
            "at worst {count} slivers instead of {other}",
            worst.slivers,
            other=other.slivers,
        )
    weight, instead = (decimals(f"{one.flush_weight:g}") for one in (worst, other))
    return gettext("weight sure to stay flush, {weight} instead of {other}", weight=weight, other=instead)


def _told(edge: SureEdge) -> bool:
    """Of bases those alone that may be slivers, or that an error may rip: else nothing is cut there."""
    return edge.edge != "base" or "sliver" in edge.results or ("notch" in edge.results and not edge.sure)


def _row(edge: SureEdge, plan: Plan) -> list[str | Cell]:
    style: Style = "bad" if _bad(edge) else "plain"
    subject = kind_words(edge.edge, edge.opening, edge.roof)
    if edge.importance == "must":
        subject = gettext("{edge}, must", edge=subject)
    results = [*edge.results, *([None] * edge.may_be_passed)]
    fates = [_fate(result, edge.edge == "base") for result in results]
    return [
        Cell(gettext("{face}: {edge}", face=edge.face, edge=subject), style),
        show(plan.job, edge.height),
        _fate(edge.result, edge.edge == "base"),
        Cell(reduce(lambda one, other: gettext("{one} or {other}", one=one, other=other), fates), style),
    ]


def _fate(result: Result | None, base: bool) -> str:
    """What becomes of an edge, or of a base; None where the courses pass it."""
    if result is None:
        return gettext("hung over") if base else gettext("below the first course")
    if result == "sliver":
        return pgettext("what becomes of an edge", "sliver")
    if result == "notch":
        return (
            pgettext("what becomes of a base", "rip")
            if base
            else pgettext("what becomes of an edge", "notch")
        )
    return (
        pgettext("what becomes of a base", "whole") if base else pgettext("what becomes of an edge", "flush")
    )


def _bad(edge: SureEdge) -> bool:
    missed = edge.importance == "must" and edge.results != ("flush",)
    return missed or "sliver" in edge.results


def _worst_first(edge: SureEdge) -> tuple[bool, bool, bool]:
    return (edge.importance != "must", "sliver" not in edge.results, "flush" not in edge.results)
