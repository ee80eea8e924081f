"""How sure a plan is, as tables for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.cli.reports.table import Cell, Column, Screen, Style, clean, styled, table, wrapped
from evencourse.layout.courses.certainty import Certainty, SureEdge, Worst
from evencourse.layout.model.course_plan import Plan, Result
from evencourse.layout.model.lengths import show_length
from evencourse.render.words.plan_words import counted, datum_words, kind_words, show

_COUNTED: dict[Result, tuple[str, str]] = {
    "flush": ("flush", "flush"),
    "notch": ("notch", "notches"),
    "sliver": ("sliver", "slivers"),
}


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
    heading = f"How sure: every height off by up to {error}, and the datum by up to {error} more"
    yield from (styled(line, "strong", on) for line in wrapped(heading, on.width))
    for name, worst in sure.worst.items():
        yield from wrapped(clean(f"Whatever the error, {name}: {_worst_words(worst)}"), on.width)
    for name in sure.worst:
        if name in sure.robust:
            yield from wrapped(clean(_choice_words(sure, plan, name)), on.width)
    counting = [edge for edge in sure.edges if edge.importance != "ignore" and _told(edge)]
    open_ = [edge for edge in counting if not edge.sure]
    planned = [edge for edge in counting if edge.result == "flush" and edge.edge != "base"]
    if planned and not any(edge.sure for edge in planned) and 2 * sure.error > plan.job.limits.tolerance:
        together, flush = _fine(2 * sure.error, plan), _fine(plan.job.limits.tolerance, plan)
        words = f"Flush is within {flush}, and both errors together may be {together}: "
        words += "no edge is sure to stay flush."
        yield from wrapped(words, on.width)
    if open_:
        yield ""
        columns = [
            Column("Can change", wraps=True),
            Column("Height", right=True),
            Column("Planned"),
            Column("Can become", wraps=True),
        ]
        yield from table(columns, [_row(edge, plan) for edge in sorted(open_, key=_worst_first)], on)
    yield ""
    stay = [edge.result for edge in counting if edge.sure]
    words = ", ".join(counted(stay.count(result), *names) for result, names in _COUNTED.items())
    yield from wrapped(f"Sure to stay: {words}; {len(open_)} of {len(counting)} can change", on.width)


def _fine(length: float, plan: Plan) -> str:
    """An error as it was given, finer than the job's own tape may show."""
    finest = 1 / 64 if plan.job.units == "in" else 0.1
    unit = " mm" if plan.job.units == "mm" else ""
    return show_length(length, plan.job.units, min(finest, plan.job.round)) + unit


def _worst_words(worst: Worst) -> str:
    words = f"at least {worst.flush} flush, at most {counted(worst.slivers, 'sliver', 'slivers')}"
    missed = f" and {counted(worst.missed_must, 'must-meet edge')} missed"
    return words + (missed if worst.missed_must else "")


def _choice_words(sure: Certainty, plan: Plan, name: str) -> str:
    """Which starter a robust one was chosen instead of, and the figure of the worst case that decided."""
    if name not in sure.passed_over:
        return f"Holds up best, {name}: the starter that is best as planned"
    lines, other = sure.passed_over[name]
    return (
        f"Passed over, {name}: a starter {datum_words(plan.job, lines.starter)}, best as planned with "
        f"{counted(lines.score.flush, 'flush edge')}; whatever the error {_worst_words(other)}. "
        f"What decided: {decided_words(sure.worst[name], other)}"
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
        missed = counted(worst.missed_must, "must-meet edge")
        return f"at worst {missed} missed instead of {other.missed_must}"
    if worst.slivers != other.slivers:
        return f"at worst {counted(worst.slivers, 'sliver')} instead of {other.slivers}"
    return f"weight sure to stay flush, {worst.flush_weight:g} instead of {other.flush_weight:g}"


def _told(edge: SureEdge) -> bool:
    """Of bases those alone that may be slivers, or that an error may rip: else nothing is cut there."""
    return edge.edge != "base" or "sliver" in edge.results or ("notch" in edge.results and not edge.sure)


def _row(edge: SureEdge, plan: Plan) -> list[str | Cell]:
    style: Style = "bad" if _bad(edge) else "plain"
    subject = kind_words(edge.edge, edge.opening, edge.roof)
    must = ", must" if edge.importance == "must" else ""
    words = {"flush": "whole", "notch": "rip"} if edge.edge == "base" else {}
    passed = "hung over" if edge.edge == "base" else "below the first course"
    fates = [*(words.get(result, result) for result in edge.results), *([passed] * edge.may_be_passed)]
    return [
        Cell(f"{edge.face}: {subject}{must}", style),
        show(plan.job, edge.height),
        words.get(edge.result, edge.result) if edge.result else passed,
        Cell(" or ".join(fates), style),
    ]


def _bad(edge: SureEdge) -> bool:
    missed = edge.importance == "must" and edge.results != ("flush",)
    return missed or "sliver" in edge.results


def _worst_first(edge: SureEdge) -> tuple[bool, bool, bool]:
    return (edge.importance != "must", "sliver" not in edge.results, "flush" not in edge.results)
