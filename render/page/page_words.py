"""What the page for the phone says of one edge and of one answer beside the plan's."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.language.speech import gettext, pgettext
from evencourse.layout.model.course_plan import Edge, Plan, Score
from evencourse.layout.solver.score import strict_order
from evencourse.render.words.edges_not_met import price_words
from evencourse.render.words.plan_words import (
    BELOW,
    course_name,
    edge_cut,
    hangs,
    on_tape,
    rip_hang,
    show,
    strip_left,
    where_words,
)


def against_words(other: Score, ours: Score) -> str:
    """Another answer against the plan's: the first term of the objective that tells them apart.

    Args:
        other: score of the other answer.
        ours: score of the plan's.

    Returns:
        ``Worse than the plan: leaves 3 slivers; best leaves 1.``
    """
    there, here = strict_order(other), strict_order(ours)
    if there == here:
        return gettext("As good as the plan.")
    if there < here:
        return gettext("Better than the plan, whose starter was given.")
    return gettext("Worse than the plan: {reason}.", reason=price_words(other, ours))


def edge_facts(edge: Edge, plan: Plan) -> Iterator[tuple[str, str]]:
    """The figures of one edge, named: its course, where it is cut, what is left, how far it is furred out."""
    job = plan.job
    course = course_name(plan.course_sets[edge.course_set], edge.course)
    low = edge.edge in BELOW
    off = on_tape(job, edge.miss)
    away = show(job, abs(off))
    line = gettext("{height} above it", height=away) if off > 0 else gettext("{height} below it", height=away)
    if edge.result == "flush":
        here = (
            gettext("{course} ends here", course=course)
            if low
            else gettext("{course} starts here", course=course)
        )
        yield gettext("Course"), here
        yield pgettext("heading over what is cut off a course", "Cut"), pgettext("what is cut", "none")
        if off:
            yield gettext("Its line is"), line
        return
    cut, rest = edge_cut(edge, plan)
    furring = 0.0 if hangs(edge, plan) else on_tape(job, edge.furring)
    strip = show(job, strip_left(edge, plan))
    yield gettext("Course"), course
    up = gettext("{height} up from the bottom", height=show(job, cut))
    yield gettext("Cut at"), f"{up}{where_words(edge, plan)}"
    yield (gettext("Off the top"), show(job, rest)) if low else (gettext("Off the bottom"), show(job, cut))
    if below := on_tape(job, rip_hang(edge, plan)):
        yield gettext("Hangs"), gettext("{height} below the base", height=show(job, below))
    yield (
        pgettext("what is left of a course that is cut", "Strip"),
        gettext("{height} below it", height=strip) if low else gettext("{height} above it", height=strip),
    )
    yield gettext("Fur out"), show(job, furring) if furring > 0 else pgettext("furring", "none")
    yield gettext("Nearest line"), line if off else pgettext("a line, of an edge", "on it")
