"""Edges not met, worst first, and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.language.speech import gettext, ngettext, pgettext
from evencourse.layout.model.course_plan import Edge, ElevationPlan, LostEdge, Plan, Score, Unmet
from evencourse.layout.solver.score import strict_order
from evencourse.render.words.edge_counts import cut_edges
from evencourse.render.words.plan_words import (
    base_of,
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
        return gettext("starter is outside its limits")
    if other.missed_must > ours.missed_must:
        return ngettext(
            "misses {count} must-meet edge; best misses {fewest}",
            "misses {count} must-meet edges; best misses {fewest}",
            other.missed_must,
            fewest=ours.missed_must,
        )
    if other.wide_jump > ours.wide_jump:
        return gettext("exposure changes too much from one zone to the next")
    if other.slivers > ours.slivers:
        return ngettext(
            "leaves {count} sliver; best leaves {fewest}",
            "leaves {count} slivers; best leaves {fewest}",
            other.slivers,
            fewest=ours.slivers,
        )
    if other.flush_weight < ours.flush_weight:
        if other.flush < ours.flush:
            return ngettext(
                "{count} edge flush; best has {most}",
                "{count} edges flush; best has {most}",
                other.flush,
                most=ours.flush,
            )
        return gettext("loses more important edges")
    if other.seen > ours.seen:
        return gettext("courses look less even")
    if other.bands > ours.bands:
        return gettext("takes more exposure zones")
    if other.off_nominal > ours.off_nominal:
        return gettext("exposures are farther from the nominal one")
    if other.thin_eave > ours.thin_eave:
        return gettext("leaves thinner last courses")
    return gettext("takes more furring behind cut edges")


def fate_words(edges: Sequence[Edge], plan: Plan) -> str:
    """What became of edges that share a fate, in a few words: ``B, C sill: notch, strip 2-1/4"``."""
    return gettext("{edges}: {outcome}", edges=subject_words(edges), outcome=outcome_words(edges[0], plan))


def subject_words(edges: Sequence[Edge]) -> str:
    """Which edges share a fate: ``B, C sill``."""
    first = edges[0]
    marks = ", ".join(dict.fromkeys(edge.opening or "" for edge in edges))
    roofs = ", ".join(dict.fromkeys(edge.roof or "" for edge in edges))
    named = len({(edge.opening, edge.roof) for edge in edges})
    words = kind_words(first.edge, None if first.opening is None else marks, roofs)
    if len(edges) == named:
        return words
    return ngettext("{edges} in {count} place", "{edges} in {count} places", len(edges), edges=words)


def outcome_words(edge: Edge, plan: Plan) -> str:
    """What became of an edge: ``notch, strip 2-1/4"``; ``covered by only 1/4"``, a base."""
    if edge.edge == "base" and (base := base_of(edge, plan)).result == "hung over":
        return gettext("covered by {cover}", cover=cover_words(base, plan.job))
    strip = show(plan.job, strip_left(edge, plan))
    if edge.result == "sliver":
        words = gettext("sliver {strip}", strip=strip)
    elif edge.rip:
        words = gettext("rip, strip {strip}", strip=strip)
    else:
        words = gettext("notch, strip {strip}", strip=strip)
    if edge.importance != "must":
        return words
    return pgettext("an edge that must be met", "{outcome}, must", outcome=words)


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
        return gettext("need not be flush")
    job, course_set = plan.job, plan.course_sets[edge.course_set]
    carried = course_set.carried
    if carried is not None and edge.course <= carried.hung:
        return gettext("course {course} is installed there", course=edge.course)
    reason = course_set.why(edge.height, edge.edge == "base")
    if reason is None or reason.instead is None:
        if carried is not None:
            return gettext("nothing above course {course}, which is installed, meets it", course=carried.hung)
        low, high = show(job, course_set.limits[0]), measured(job, course_set.limits[1])
        if low == show(job, course_set.limits[1]):
            return gettext("starter fixed at {height}, which does not meet it", height=high)
        return gettext("no starter from {low} to {high} meets it", low=low, high=high)
    ours, other = course_set.lines.score, reason.instead.score
    if strict_order(other) < strict_order(ours):
        return gettext("a starter {height} meets it", height=datum_words(job, reason.instead.starter))
    if other.missed_must > ours.missed_must:
        return gettext("can be met only by missing {edges}", edges=_lost(reason, plan, "must"))
    if other.wide_jump > ours.wide_jump:
        return gettext(
            "can be met only by a change of exposure of more than {most}", most=measured(job, job.limits.jump)
        )
    if other.slivers > ours.slivers:
        return ngettext(
            "can be met only by leaving {count} sliver; this plan leaves {fewest}",
            "can be met only by leaving {count} slivers; this plan leaves {fewest}",
            other.slivers,
            fewest=ours.slivers,
        )
    if other.flush_weight < ours.flush_weight:
        for lost in reason.lost:
            if lost.apart:
                span = measured(job, abs(on_tape(job, lost.height) - on_tape(job, edge.height)))
                return gettext(
                    "{span} from {edge}: not a whole number of courses",
                    span=span,
                    edge=_lost_name(lost, plan),
                )
        return gettext(
            "can be met only by losing more important edges: {edges}", edges=_lost(reason, plan, "want")
        )
    price = price_words(other, ours)
    if reason.lost:
        return gettext(
            "can be met instead of {edges}; {price}", edges=_lost(reason, plan, "want"), price=price
        )
    return gettext("can be met, but {price}", price=price)


def _lost(reason: Unmet, plan: Plan, importance: str) -> str:
    """The edges that would be lost, those that count most first: ``Front A head, B head and 2 more``."""
    lost = [one for one in reason.lost if importance == "want" or one.importance == "must"]
    names = list(dict.fromkeys(_lost_name(one, plan) for one in lost))
    if not names:
        return pgettext("edges", "others")
    if len(names) == 1:
        return names[0]
    first, second, *others = names
    if not others:
        return gettext("{first} and {second}", first=first, second=second)
    return ngettext(
        "{first}, {second} and {count} more",
        "{first}, {second} and {count} more",
        len(others),
        first=first,
        second=second,
    )


def _lost_name(lost: LostEdge, plan: Plan) -> str:
    words = kind_words(lost.edge, lost.opening, lost.roof)
    if len(plan.elevations) == 1:
        return words
    return pgettext("an edge of a face", "{face} {edge}", face=lost.face, edge=words)
