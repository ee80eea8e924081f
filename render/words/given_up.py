"""What was given up, worst first, and why: the edges that the course lines do not meet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor

from evencourse.layout.courses.starter_line import tape_marks
from evencourse.layout.model.course_plan import CourseSet, Edge, ElevationPlan, Plan, Score
from evencourse.render.words.plan_words import (
    BELOW,
    counted,
    edge_cut,
    edge_subject,
    kind_words,
    level_words,
    on_tape,
    show,
)

_RANKS = {"sliver": 0, "notch": 1, "flush": 2}
_IMPORTANCE = {"must": 0, "want": 1, "ignore": 2}


def price_words(other: Score, ours: Score) -> str:
    """What another answer costs: the first term of the objective in which it is worse than ours."""
    if other.limits > ours.limits:
        return "but lies outside its limits"
    if other.missed_must > ours.missed_must:
        return f"but misses {other.missed_must} marked must, here {ours.missed_must}"
    if other.wide_jump > ours.wide_jump:
        return "but the exposure jumps too far between bands"
    if other.slivers > ours.slivers:
        return f"but leaves {other.slivers} sliver{'' if other.slivers == 1 else 's'}, here {ours.slivers}"
    if other.flush_weight < ours.flush_weight:
        if other.flush < ours.flush:
            are = "is" if other.flush == 1 else "are"
            return f"but only {counted(other.flush, 'edge')} {are} flush, here {ours.flush}"
        return "but others that count more are not flush"
    if other.jump > ours.jump:
        return "but the exposure jumps more between bands"
    if other.bands > ours.bands:
        return f"but takes {other.bands} bands, here {ours.bands}"
    if other.off_nominal > ours.off_nominal:
        return "but its exposures are farther from the nominal one"
    if other.flush_miss > ours.flush_miss:
        return "but meets other edges less closely"
    if other.thin_eave > ours.thin_eave:
        return "but leaves thinner last courses"
    if other.furring > ours.furring:
        return "but takes more packing behind cut edges"
    return "but meets other edges less closely"


def fate_words(edges: Sequence[Edge], plan: Plan) -> str:
    """What became of edges that share a fate, in a few words: ``B, C sill: notch, 2-1/4" left``."""
    first, job = edges[0], plan.job
    cut, rest = edge_cut(first, plan)
    left = show(job, cut if first.edge in BELOW else rest)
    marks = ", ".join(dict.fromkeys(edge.opening or "" for edge in edges))
    subject = kind_words(first.edge, None if first.opening is None else marks)
    if first.result == "sliver":
        fate = f"sliver {left}"
    else:
        fate = f"rip to {left}" if first.rip else f"notch, {left} left"
    must = ", must" if first.importance == "must" else ""
    return f"{subject}: {fate}{must}"


def worst_first(face: ElevationPlan, plan: Plan) -> tuple[Edge, ...]:
    """Edges of a face that are not flush and were wanted, the worst first.

    Missed musts, then slivers, then notches; within each the thinner strip first.
    """
    given = [edge for edge in face.edges if edge.result != "flush" and edge.importance != "ignore"]
    return tuple(sorted(given, key=lambda edge: worst_rank(edge, plan)))


def worst_rank(edge: Edge, plan: Plan) -> tuple[float, ...]:
    """Sorts edges that are not flush, the worst first."""
    return (
        _IMPORTANCE[edge.importance],
        _RANKS[edge.result],
        on_tape(plan.job, edge.strip),
        edge.height,
    )


def given_up(face: ElevationPlan, plan: Plan) -> Iterator[tuple[tuple[Edge, ...], str]]:
    """What was given up on a face, worst first: edges that share a fate, and why it was theirs."""
    groups: dict[tuple[object, ...], list[Edge]] = {}
    for edge in worst_first(face, plan):
        key = (
            edge.importance,
            edge.result,
            edge.edge,
            round(edge.height, 6),
            edge_cut(edge, plan),
            edge.course_set,
            edge.opening is None,
        )
        groups.setdefault(key, []).append(edge)
    for edges in groups.values():
        yield tuple(edges), why_not_flush(edges[0], plan)


def why_not_flush(edge: Edge, plan: Plan) -> str:
    """Why the course lines miss an edge, as far as the plan can tell.

    Either another answer meets it and pays elsewhere, or no whole number of courses fits between it and an
    edge that is met.
    """
    job, course_set = plan.job, plan.course_sets[edge.course_set]
    for other in course_set.alternatives:
        if min(abs(line - edge.height) for line in other.butt_lines) <= job.limits.tolerance + 1e-9:
            price = price_words(other.score, course_set.lines.score)
            if on_tape(job, other.starter) == on_tape(job, course_set.lines.starter):
                return f"other courses meet it {price}"
            return f"a starter {level_words(job, other.starter)} meets it {price}"
    met = [
        (found, face)
        for face in plan.elevations
        for found in face.edges
        if found.course_set == edge.course_set and found.result == "flush" and found.importance != "ignore"
    ]
    met.sort(
        key=lambda pair: (
            _IMPORTANCE[pair[0].importance],
            -_weight(pair[0]),
            abs(pair[0].height - edge.height),
        )
    )
    for found, face in met:
        if not _fits(abs(found.height - edge.height), course_set, job.limits.tolerance):
            subject = edge_subject(found)
            where = subject if face.elevation.openings and found.opening else subject.lower()
            span = show(job, abs(on_tape(job, found.height) - on_tape(job, edge.height)))
            return f"no whole courses in the {span} to {face.elevation.name} {where}"
    if course_set.cladding.fixed and not met:
        marks = tape_marks(*course_set.limits, job.round)
        low, high = show(job, marks[0]), show(job, marks[-1])
        if low == high:
            return f"the starter may lie at {low} alone, which does not meet it"
        return f"no starter from {low} to {high} meets it"
    return "meeting it would cost more elsewhere"


def _weight(edge: Edge) -> int:
    return {"head": 2, "sill": 1}.get(edge.edge, 0)


def _fits(span: float, course_set: CourseSet, tolerance: float) -> bool:
    """Whether a whole number of allowed courses fills a span within the tolerance at both ends."""
    cladding = course_set.cladding
    if span <= tolerance:
        return True
    slack = 2 * tolerance + 1e-9
    fewest = max(1, -floor(-(span - slack) / cladding.exposure_max))
    return fewest * cladding.exposure_min <= span + slack
