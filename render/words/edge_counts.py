"""How many edges are flush, ripped along, notched, slivers: the same counts in every output."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from evencourse.layout.model.course_plan import CourseSet, Edge, Plan, Score
from evencourse.render.words.plan_words import counted


def score_words(score: Score, rips: int = 0) -> str:
    """Edges of a course set in one line: ``7 flush, 3 notches, 1 sliver``.

    Args:
        score: what counts rips along eaves and band boards with the notches.
        rips: how many of these are rips, where that is known.
    """
    ripped = (counted(rips, "rip"),) if rips else ()
    notches, slivers = counted(score.notches - rips, "notch", "notches"), counted(score.slivers, "sliver")
    return ", ".join((f"{score.flush} flush", *ripped, notches, slivers))


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
        based = edge.edge == "base" and edge.result != "sliver"
        if edge.result == "flush":
            found["flush"] += edge.importance != "ignore" and not based
        else:
            cut = "rip" if edge.rip and edge.result == "notch" else edge.result
            found["ignore" if edge.importance == "ignore" else "base" if based else cut] += 1
    return found


def result_words(edges: Sequence[Edge], thin_ends: int = 0) -> str:
    """What became of some edges in one line: ``7 flush, 1 rip, 3 notches, 1 base not met``."""
    count = result_counts(edges, thin_ends)
    words = [
        f"{count['flush']} flush" if count["flush"] else "",
        counted(count["rip"], "rip") if count["rip"] else "",
        counted(count["notch"], "notch", "notches") if count["notch"] else "",
        counted(count["sliver"], "sliver") if count["sliver"] else "",
        f"{counted(count['base'], 'base')} not met" if count["base"] else "",
        f"{count['ignore']} need not be flush" if count["ignore"] else "",
    ]
    return ", ".join(filter(None, words)) or "no edges"
