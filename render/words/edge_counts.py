"""How many edges are flush, ripped along, notched, slivers: the same counts in every output."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.course_plan import CourseSet, Edge, Plan, Score


def score_words(score: Score, rips: int = 0) -> str:
    """Edges of a course set in one line: ``7 flush, 3 notches, 1 sliver``.

    Args:
        score: what counts rips along eaves and band boards with the notches.
        rips: how many of these are rips, where that is known.
    """
    flush, notches, slivers = _flush(score.flush), _notches(score.notches - rips), _slivers(score.slivers)
    return ", ".join((flush, *((_rips(rips),) if rips else ()), notches, slivers))


def _flush(count: int) -> str:
    return ngettext("{count} flush", "{count} flush", count)


def _rips(count: int) -> str:
    return ngettext("{count} rip", "{count} rips", count)


def _notches(count: int) -> str:
    return ngettext("{count} notch", "{count} notches", count)


def _slivers(count: int) -> str:
    return ngettext("{count} sliver", "{count} slivers", count)


def _bases(count: int) -> str:
    return ngettext("{count} base not met", "{count} bases not met", count)


def rips_in(course_set: CourseSet, plan: Plan) -> int:
    """How many edges of a course set are ripped along, of those that its score counts as notches."""
    edges = [
        edge
        for face in plan.elevations
        for edge in face.edges
        if plan.course_sets[edge.course_set] is course_set and edge.edge != "base"
    ]
    return result_counts(edges)["rip"]


def cut_edges(edges: Iterable[Edge]) -> Iterator[Edge]:
    """The edges that are not met: what counts of notches and lists of edges not met hold."""
    return (edge for edge in edges if edge.result != "flush")


def result_counts(edges: Iterable[Edge], thin_ends: int = 0) -> Counter[str]:
    """How many edges came out how: ``flush``; and of those not met (``cut_edges``) each once.

    Args:
        edges: any.
        thin_ends: slivers at the ends of bases out of level, which count as such.

    Returns:
        ``notch``, ``rip`` along an eave or a band board, and ``sliver``; ``base``, one that is begun at with
        a rip or too little cover, no sliver; ``ignore``, one that need not be flush and is not.
    """
    found = Counter(flush=0, sliver=thin_ends)
    for edge in edges:
        if edge.result == "flush":
            found["flush"] += edge.importance != "ignore" and edge.edge != "base"
        else:
            found["ignore" if edge.importance == "ignore" else edge_kind(edge)] += 1
    return found


def edge_kind(edge: Edge) -> str:
    """How an edge that counts came out: ``flush``, ``rip``, ``notch``, ``base`` or ``sliver``, as above."""
    if edge.result != "notch":
        return edge.result
    return "base" if edge.edge == "base" else "rip" if edge.rip else "notch"


def flush_words(edges: Sequence[Edge]) -> str:
    """The same in the fewest words: ``7 of 11 flush``, of the edges that count."""
    count = result_counts(edges)
    counted = sum(count[kind] for kind in ("flush", "rip", "notch", "sliver"))
    return gettext("{flush} of {count} flush", flush=count["flush"], count=counted)


def result_words(edges: Sequence[Edge], thin_ends: int = 0) -> str:
    """What became of some edges in one line: ``7 flush, 1 rip, 3 notches, 1 base not met``."""
    count = result_counts(edges, thin_ends)
    ignored = count["ignore"]
    words = [
        _flush(count["flush"]) if count["flush"] else "",
        _rips(count["rip"]) if count["rip"] else "",
        _notches(count["notch"]) if count["notch"] else "",
        _slivers(count["sliver"]) if count["sliver"] else "",
        _bases(count["base"]) if count["base"] else "",
        ngettext("{count} need not be flush", "{count} need not be flush", ignored) if ignored else "",
    ]
    return ", ".join(filter(None, words)) or gettext("no edges")
