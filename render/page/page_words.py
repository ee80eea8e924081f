"""What the page for the phone says of one edge and of one answer beside the plan's."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.model.course_plan import Edge, Plan, Score
from evencourse.layout.model.job import Job
from evencourse.layout.solver.score import strict_order
from evencourse.render.words.edges_not_met import price_words
from evencourse.render.words.plan_words import (
    BELOW,
    course_name,
    edge_cut,
    hangs,
    level_words,
    on_tape,
    rip_hang,
    show,
    strip_left,
    where_words,
)


def of_datum(job: Job, height: float) -> str:
    """A height told from the datum in full: ``2-3/8" below the datum``, ``on the datum``."""
    words = level_words(job, height)
    return words if words.startswith("on") else f"{words} the datum"


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
        return "As good as the plan."
    if there < here:
        return "Better than the plan, whose starter was given."
    return f"Worse than the plan: {price_words(other, ours)}."


def edge_facts(edge: Edge, plan: Plan) -> Iterator[tuple[str, str]]:
    """The figures of one edge, named: its course, where it is cut, what is left, how far it is furred out."""
    job = plan.job
    course = course_name(plan.course_sets[edge.course_set], edge.course)
    low = edge.edge in BELOW
    off = on_tape(job, edge.miss)
    line = f"{show(job, abs(off))} {'above' if off > 0 else 'below'} it"
    if edge.result == "flush":
        yield "Course", f"{course} {'ends' if low else 'starts'} here"
        yield "Cut", "none"
        if off:
            yield "Its line is", line
        return
    cut, rest = edge_cut(edge, plan)
    furring = 0.0 if hangs(edge, plan) else on_tape(job, edge.furring)
    yield "Course", course
    yield "Cut at", f"{show(job, cut)} up from the bottom{where_words(edge, plan)}"
    yield ("Off the top", show(job, rest)) if low else ("Off the bottom", show(job, cut))
    if below := on_tape(job, rip_hang(edge, plan)):
        yield "Hangs", f"{show(job, below)} below the base"
    yield "Strip", f"{show(job, strip_left(edge, plan))} {'below' if low else 'above'} it"
    yield "Fur out", show(job, furring) if furring > 0 else "none"
    yield "Nearest line", line if off else "on it"
