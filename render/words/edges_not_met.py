"""Edges not met, worst first, and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.model.course_plan import Edge, ElevationPlan, LostEdge, Plan, Score, Unmet
from evencourse.layout.solver.score import strict_order
from evencourse.render.words.edge_counts import cut_edges
from evencourse.render.words.plan_words import (
    base_of,
    counted,
    cover_words,
    datum_words,
    edge_cut,
    kind_words,
    measured,
    on_tape,
    show,
    strip_left,
)

_RANKS = {"sliver": 0, "notch": 1, "flush": 2}
_IMPORTANCE = {"must": 0, "want": 1, "ignore": 2}
#: Where a sliver that is no missed must ranks; see ``worst_rank``.
SLIVER_RANK = (_IMPORTANCE["want"], _RANKS["sliver"])


def price_words(other: Score, ours: Score) -> str:
    """What another answer costs: the first term of the objective in which it is worse than ours."""
    if other.limits > ours.limits:
        return "starter is outside its limits"
    if other.missed_must > ours.missed_must:
        return f"misses {counted(other.missed_must, 'must-meet edge')}; best misses {ours.missed_must}"
    if other.wide_jump > ours.wide_jump:
        return "exposure changes too much from one zone to the next"
    if other.slivers > ours.slivers:
        return f"leaves {counted(other.slivers, 'sliver')}; best leaves {ours.slivers}"
    if other.flush_weight < ours.flush_weight:
        if other.flush < ours.flush:
            return f"{counted(other.flush, 'edge')} flush; best has {ours.flush}"
        return "loses more important edges"
    if other.seen > ours.seen:
        return "courses look less even"
    if other.bands > ours.bands:
        return "takes more exposure zones"
    if other.off_nominal > ours.off_nominal:
        return "exposures are farther from the nominal one"
    if other.thin_eave > ours.thin_eave:
        return "leaves thinner last courses"
    return "takes more furring behind cut edges"


def fate_words(edges: Sequence[Edge], plan: Plan) -> str:
    """What became of edges that share a fate, in a few words: ``B, C sill: notch, strip 2-1/4"``."""
    return f"{subject_words(edges)}: {outcome_words(edges[0], plan)}"


def subject_words(edges: Sequence[Edge]) -> str:
    """Which edges share a fate: ``B, C sill``."""
    first = edges[0]
    marks = ", ".join(dict.fromkeys(edge.opening or "" for edge in edges))
    roofs = ", ".join(dict.fromkeys(edge.roof or "" for edge in edges))
    named = len({(edge.opening, edge.roof) for edge in edges})
    places = f" in {len(edges)} places" if len(edges) > named else ""
    return kind_words(first.edge, None if first.opening is None else marks, roofs) + places


def outcome_words(edge: Edge, plan: Plan) -> str:
    """What became of an edge: ``notch, strip 2-1/4"``; ``covered by only 1/4"``, a base."""
    if edge.edge == "base" and (base := base_of(edge, plan)).result == "hung over":
        return f"covered by {cover_words(base, plan.job)}"
    left = show(plan.job, strip_left(edge, plan))
    cut = "sliver" if edge.result == "sliver" else "rip, strip" if edge.rip else "notch, strip"
    return f"{cut} {left}{', must' if edge.importance == 'must' else ''}"


def worst_first(face: ElevationPlan, plan: Plan) -> tuple[Edge, ...]:
    """Edges of a face that are not met, the worst first.

    Missed musts, then slivers, then notches; within each the thinner strip first. Last those that need not be
    flush.
    """
    return tuple(sorted(cut_edges(face.edges), key=lambda edge: worst_rank(edge, plan)))


def worst_rank(edge: Edge, plan: Plan) -> tuple[float, ...]:
    """Sorts edges that are not flush, the worst first."""
    return (
        _IMPORTANCE[edge.importance],
        _RANKS[edge.result],
        strip_left(edge, plan),
        edge.height,
    )


def not_met(face: ElevationPlan, plan: Plan) -> Iterator[tuple[tuple[Edge, ...], str]]:
    """Edges of a face that are not met, worst first: those that share a fate, and why it was theirs."""
    for edges in fates(face, plan):
        yield edges, why_not_flush(edges[0], plan)


def fates(face: ElevationPlan, plan: Plan) -> Iterator[tuple[Edge, ...]]:
    """The edges of a face that are not met, worst first, those that share a fate together."""
    groups: dict[tuple[object, ...], list[Edge]] = {}
    for edge in worst_first(face, plan):
        key = (
            edge.importance,
            edge.result,
            edge.edge,
            round(edge.height, 6),
            edge_cut(edge, plan),
            strip_left(edge, plan),
            edge.course_set,
            edge.opening is None,
        )
        groups.setdefault(key, []).append(edge)
    yield from map(tuple, groups.values())


def why_not_flush(edge: Edge, plan: Plan) -> str:
    """Why the course lines miss an edge: what the best lines that meet it are worse in."""
    if edge.importance == "ignore":
        return "need not be flush"
    job, course_set = plan.job, plan.course_sets[edge.course_set]
    carried = course_set.carried
    if carried is not None and edge.course <= carried.hung:
        return f"course {edge.course} is installed there"
    reason = course_set.why(edge.height, edge.edge == "base")
    if reason is None or reason.instead is None:
        if carried is not None:
            return f"nothing above course {carried.hung}, which is installed, meets it"
        low, high = show(job, course_set.limits[0]), measured(job, course_set.limits[1])
        if low == show(job, course_set.limits[1]):
            return f"starter fixed at {high}, which does not meet it"
        return f"no starter from {low} to {high} meets it"
    ours, other = course_set.lines.score, reason.instead.score
    if strict_order(other) < strict_order(ours):
        return f"a starter {datum_words(job, reason.instead.starter)} meets it"
    if other.missed_must > ours.missed_must:
        return f"can be met only by missing {_lost(reason, plan, 'must')}"
    if other.wide_jump > ours.wide_jump:
        return f"can be met only by a change of exposure of more than {measured(job, job.limits.jump)}"
    if other.slivers > ours.slivers:
        return (
            f"can be met only by leaving {counted(other.slivers, 'sliver')}; this plan leaves {ours.slivers}"
        )
    if other.flush_weight < ours.flush_weight:
        for lost in reason.lost:
            if lost.apart:
                span = measured(job, abs(on_tape(job, lost.height) - on_tape(job, edge.height)))
                return f"{span} from {_lost_name(lost, plan)}: not a whole number of courses"
        return f"can be met only by losing more important edges: {_lost(reason, plan, 'want')}"
    if reason.lost:
        return f"can be met instead of {_lost(reason, plan, 'want')}; {price_words(other, ours)}"
    return f"can be met, but {price_words(other, ours)}"


def _lost(reason: Unmet, plan: Plan, importance: str) -> str:
    """The edges that would be lost, those that count most first: ``Front A head, B head and 2 more``."""
    lost = [one for one in reason.lost if importance == "want" or one.importance == "must"]
    names = list(dict.fromkeys(_lost_name(one, plan) for one in lost))
    if not names:
        return "others"
    more = f" and {len(names) - 2} more" if len(names) > 2 else ""
    return (" and " if len(names) == 2 else ", ").join(names[:2]) + more


def _lost_name(lost: LostEdge, plan: Plan) -> str:
    face = f"{lost.face} " if len(plan.elevations) > 1 else ""
    return face + kind_words(lost.edge, lost.opening, lost.roof)
