"""How sure a plan is, as tables for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from cli.table import Cell, Column, Screen, Style, clean, styled, table, wrapped
from layout.certainty import Certainty, SureEdge, Worst
from layout.plan import Plan, Result
from render.words import kind_words, show

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
    error = show(plan.job, sure.error)
    heading = f"How sure: every height off by up to {error}, and the datum by up to {error} more"
    yield from (styled(line, "strong", on) for line in wrapped(heading, on.width))
    for name, worst in sure.worst.items():
        yield from wrapped(clean(f"Whatever the error, {name}: {_worst_words(worst)}"), on.width)
    counted = [edge for edge in sure.edges if edge.importance != "ignore"]
    open_ = [edge for edge in counted if not edge.sure]
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
    stay = [edge.result for edge in counted if edge.sure]
    words = ", ".join(_counted(stay.count(result), *names) for result, names in _COUNTED.items())
    yield from wrapped(f"Sure to stay: {words}; {len(open_)} of {len(counted)} can change", on.width)


def _counted(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def _worst_words(worst: Worst) -> str:
    words = f"at least {worst.flush} flush, at most {_counted(worst.slivers, 'sliver', 'slivers')}"
    missed = f" and {_counted(worst.missed_must, 'must', 'musts')} missed"
    return words + (missed if worst.missed_must else "")


def _row(edge: SureEdge, plan: Plan) -> list[str | Cell]:
    style: Style = "bad" if _bad(edge) else "plain"
    subject = kind_words(edge.edge, edge.opening)
    must = ", must" if edge.importance == "must" else ""
    fates = [*edge.results, *(["below the first course"] if edge.may_be_passed else [])]
    return [
        Cell(f"{edge.face}: {subject}{must}", style),
        show(plan.job, edge.height),
        edge.result or "below the first course",
        Cell(" or ".join(fates), style),
    ]


def _bad(edge: SureEdge) -> bool:
    missed = edge.importance == "must" and edge.results != ("flush",)
    return missed or "sliver" in edge.results


def _worst_first(edge: SureEdge) -> tuple[bool, bool, bool]:
    return (edge.importance != "must", "sliver" not in edge.results, "flush" not in edge.results)
