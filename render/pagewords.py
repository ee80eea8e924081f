"""What the page for the phone says of one edge and of one answer beside the plan's."""

from __future__ import annotations

from collections.abc import Iterator

from layout.job import Job
from layout.plan import Edge, Plan, Score
from layout.score import TERMS, strict_order
from render.words import BELOW, counted, course_name, edge_cut, hangs, level_words, on_tape, show, where_words

#: Why an answer is worse, by the first term of the objective that is.
_WORSE = {
    "limits": "it lies outside its limits",
    "wide_jump": "the exposure jumps too far between bands",
    "flush_weight": "edges that count more are not flush",
    "off_nominal": "its exposures are farther from the nominal one",
    "seen": "it meets flush edges less closely",
    "thin_eave": "it leaves thinner last courses",
    "furring": "it takes more packing",
}


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
        ``Worse than the plan: 3 slivers, in the plan 1.``
    """
    pairs = zip(TERMS, strict_order(other), strict_order(ours), strict=True)
    term, more = next(((term, there > here) for term, there, here in pairs if there != here), ("", False))
    if not term:
        return "As good as the plan."
    if not more:
        return "Better than the plan, which was asked to start elsewhere."
    if term == "missed_must":
        reason = (
            f"{counted(other.missed_must, 'must is', 'musts are')} missed, in the plan {ours.missed_must}"
        )
    elif term == "slivers":
        reason = f"{counted(other.slivers, 'sliver')}, in the plan {ours.slivers}"
    elif term == "bands":
        reason = f"it takes {other.bands} bands, the plan {ours.bands}"
    elif term == "flush_weight" and other.flush < ours.flush:
        reason = f"only {counted(other.flush, 'edge is', 'edges are')} flush, in the plan {ours.flush}"
    elif term == "seen" and other.jump > ours.jump:
        reason = "the exposure jumps more between bands"
    else:
        reason = _WORSE[term]
    return f"Worse than the plan: {reason}."


def edge_facts(edge: Edge, plan: Plan) -> Iterator[tuple[str, str]]:
    """The figures of one edge, named: its course, where it is cut, what is left, what packs it out."""
    job = plan.job
    course = course_name(plan.course_sets[edge.course_set], edge.course)
    low = edge.edge in BELOW
    off = on_tape(job, edge.miss)
    line = f"{show(job, abs(off))} {'above' if off > 0 else 'below'} it"
    if edge.result == "flush":
        yield "Course", f"{course} {'ends' if low else 'starts'} here"
        yield "Cut", "none"
        if off:
            yield "Its line lies", line
        return
    cut, rest = edge_cut(edge, plan)
    pack = 0.0 if hangs(edge, plan) else on_tape(job, edge.furring)
    yield "Course", course
    yield "Cut at", f"{show(job, cut)} up from the bottom{where_words(edge, plan)}"
    yield ("Off the top", show(job, rest)) if low else ("Off the bottom", show(job, cut))
    yield "Strip left", f"{show(job, cut)} below it" if low else f"{show(job, rest)} above it"
    yield "Furring behind", show(job, pack) if pack > 0 else "none"
    yield "Nearest line", line if off else "on it"
