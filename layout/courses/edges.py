"""What happens where an edge meets the courses: flush, notch or sliver, and what the crew cuts and packs."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from evencourse.layout.model.course_plan import Band, Base, BaseResult, CourseSet, Edge, Lines, Score
from evencourse.layout.model.job import Opening
from evencourse.layout.solver.score import (
    BANDS,
    FLUSH_WEIGHT,
    FURRING,
    LIMITS,
    MISSED_MUST,
    NEAR,
    OFF_NOMINAL,
    SEEN,
    SLIVERS,
    TERMS,
    THIN_EAVE,
    WEIGHT_QUANTUM,
    WIDE_JUMP,
    Rulebook,
    lone_bands,
)
from evencourse.layout.solver.targets import BELOW, EAVES, RIPPED, Target


def edge(target: Target, lines: Lines, book: Rulebook, course_set: str) -> Edge | None:
    """What happens at one edge.

    Args:
        target: the edge.
        lines: the course lines it meets.
        book: tolerance and strip limits.
        course_set: name of the course set.

    Returns:
        The edge; None when it lies below the starter line or the first course hangs over it.

    Rules: an edge is flush when a butt line lies within the tolerance, a base when one lies below it by the
    cover that is allowed; else the course round it is cut, ``cut`` above its butt line, and the strip that is
    left (above a head or a base, below a sill, an eave or a band board) is a sliver when thinner than
    ``strip_min``.
    """
    near = NEAR * book.inch
    height, starter = target.height, lines.starter
    if height <= starter + 100 * near:
        return None
    if (
        target.kind == "base"
        and height <= starter + book.cover_run + near
        and not book.whole(height - starter)
    ):
        return None
    butts = lines.butt_lines
    index = min(bisect_right(butts, height + 100 * near) - 1, len(butts) - 2)
    exposure = butts[index + 1] - butts[index]
    cut = height - butts[index]
    nearest = index if cut <= exposure - cut else index + 1
    miss = butts[nearest] - height
    if abs(miss) < 100 * near:
        miss = 0.0
    below = target.kind in BELOW
    flush = abs(miss) <= book.tolerance + near
    if target.kind == "base":
        nearest, flush = index, bool(book.whole(cut))
        miss = -cut
    if flush:
        course = nearest if below else nearest + 1
        cut, strip, furring = 0.0, _exposure(butts, course), 0.0
    else:
        course = index + 1
        strip = cut if below else exposure - cut
        furring = book.cladding.furring(cut, exposure)
    return Edge(
        opening=target.opening.mark if target.opening else None,
        edge=target.kind,
        height=height,
        left=target.left,
        right=target.right,
        importance=target.importance,
        result="flush" if flush else "sliver" if strip < book.strip_min - near else "notch",
        course_set=course_set,
        course=course,
        cut=cut,
        strip=strip,
        rip=target.kind in RIPPED and not flush,
        furring=furring,
        miss=miss,
        chord=_chord(target.opening, butts[index], butts[index + 1], target.kind) if target.opening else None,
        roof=target.roof.mark if target.roof else None,
    )


def begins(edge: Edge) -> bool:
    """Whether an edge is a base on which course 1 is whole, as it is meant to be: nothing to tell."""
    return edge.edge == "base" and edge.result == "flush" and edge.course == 1


def base_course(target: Target, found: Edge | None, course_set: CourseSet, book: Rulebook) -> Iterator[Base]:
    """The course that begins at a level base.

    Args:
        target: the base.
        found: what happens there; None when the first course hangs past it, or begins above it.
        course_set: whose courses begin there.
        book: the cover that is allowed.

    Yields:
        One base; none when it lies below the starter line.

    Rule: boards and shingles that are ripped hang as far below the base as is wanted of a whole course, to
    cover the top of the foundation (common practice, no source); panels end on it, in a channel.
    """
    lines, drop = course_set.lines, course_set.cladding.starter_drop
    height, span = target.height, (target.left, target.right)
    if found is None:
        if height > lines.starter:
            chalk = lines.starter + drop
            strip = lines.butt_lines[1] - lines.starter
            yield Base(height, *span, "hung over", course_set.name, 1, lines.starter, chalk, 0.0, strip)
        return
    hang = _hang(found.cut, book)
    if found.result == "flush" or found.cut < book.cover_min or 0 < found.cut - hang < book.mark:
        # Covered by too little, or by too much to see, it is not met, but nothing is cut off.
        line, met = height + found.miss, found.result == "flush"
        strip = found.strip + found.cut
        result: BaseResult = "whole" if met else "hung over"
        yield Base(height, *span, result, course_set.name, found.course, line, line + drop, 0.0, strip)
        return
    line, off = height - hang, found.cut - hang
    yield Base(height, *span, "rip", course_set.name, found.course, line, None, off, found.strip)


def packed_there(found: Edge | None, bases: Sequence[Base], book: Rulebook) -> Edge | None:
    """The edge of a base with what packs out its cut: that of boards lies as far down as they hang below it.

    Args:
        found: what happens at the base, as it is scored.
        bases: the course that begins there, as ``base_course`` gives it.
        book: for the cladding.
    """
    for base in bases if found is not None else ():
        if found is not None and base.result == "rip" and base.cover > 0:
            exposure = base.off + base.cover + base.strip
            return replace(found, furring=book.cladding.furring(base.off, exposure))
    return found


def _hang(cut: float, book: Rulebook) -> float:
    """How far a course that is ripped hangs below its base [job units]."""
    return 0.0 if book.cladding.family == "panel" else min(book.cover_wanted, book.cover_max, cut)


def _exposure(butts: Sequence[float], course: int) -> float:
    low = max(0, min(course - 1, len(butts) - 2))
    return butts[low + 1] - butts[low]


def _chord(opening: Opening, low: float, high: float, kind: str) -> tuple[float, float] | None:
    """Where the butt line of the cut course meets a curved or sloping opening.

    A head is measured on the butt line below it, a sill on the one above it.
    """
    if opening.shape == "rectangle" or (kind == "sill" and opening.shape != "round"):
        return None
    level = low if kind == "head" else high
    outline = opening.trimmed
    found = []
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (y0 <= level) != (y1 <= level):
            found.append(x0 + (x1 - x0) * (level - y0) / (y1 - y0))
    return (min(found), max(found)) if found else None


def alike(targets: Iterable[Target]) -> tuple[tuple[Target, int], ...]:
    """Edges that count the same wherever the courses lie, the first of each sort, and how many there are.

    Args:
        targets: edges that all meet the same courses.
    """
    first: dict[tuple[str, float, str, float], Target] = {}
    counts: Counter[tuple[str, float, str, float]] = Counter()
    for target in targets:
        key = (target.kind, target.height, target.importance, target.weight)
        first.setdefault(key, target)
        counts[key] += 1
    return tuple((first[key], count) for key, count in counts.items())


def score(
    targets: Iterable[tuple[Target, int]],
    lines: tuple[float, Sequence[Band], Sequence[float]],
    book: Rulebook,
    limits: int,
    met: Callable[[Target], Lines] | None = None,
) -> tuple[Score, tuple[int, ...]]:
    """The objective of finished course lines, edge by edge.

    Args:
        targets: the edges of the course set, and how many there are of each (:func:`alike`).
        lines: starter, bands and butt lines.
        book: the objective's numbers.
        limits: how far the starter lies outside its limits [quanta].
        met: the lines that an edge meets, where faces have their own; None: all meet the same.

    Returns:
        The score, and the same as whole numbers in the order of ``evencourse.layout.solver.score.TERMS``.
    """
    starter, bands, butts = lines
    blank = Score(*[0] * 14)
    draft = Lines(starter, tuple(bands), tuple(butts), blank)
    terms = [0] * len(TERMS)
    terms[LIMITS] = limits
    flush = notches = missed = slivers = off_lines = jumps = 0
    for target, count in targets:
        found = (
            None if target.importance == "ignore" else edge(target, met(target) if met else draft, book, "")
        )
        if found is None:
            continue
        if found.result == "flush":
            based = target.kind == "base"
            flush += count * (not based)
            terms[FLUSH_WEIGHT] -= count * round(target.weight * WEIGHT_QUANTUM)
            off = max(0.0, -found.miss - book.cover_wanted) if based else abs(found.miss)
            off_lines += count * book.quanta(off)
        else:
            missed += count * (target.importance == "must")
            slivers += count * (found.result == "sliver")
            notches += count * (found.result == "notch" and target.kind != "base")
            terms[FURRING] += count * book.quanta(found.furring)
            if target.kind in EAVES:
                terms[THIN_EAVE] += count * book.quanta(max(0.0, book.eave_min - found.strip))
    terms[MISSED_MUST], terms[SLIVERS] = missed, slivers
    for before, after in pairwise(bands):
        change = abs(after.exposure - before.exposure)
        terms[WIDE_JUMP] += book.quanta(max(0.0, change - book.jump_max))
        jumps += book.quanta(max(0.0, change - book.jump_unseen))
    terms[SEEN] = jumps + off_lines
    terms[BANDS] = len(bands) + lone_bands([band.courses for band in bands])
    for band in bands:
        terms[OFF_NOMINAL] += band.courses * book.quanta(abs(band.exposure - book.cladding.exposure))
    return (
        Score(
            limits=book.length(terms[LIMITS]),
            missed_must=missed,
            wide_jump=book.length(terms[WIDE_JUMP]),
            slivers=slivers,
            flush_weight=-terms[FLUSH_WEIGHT] / WEIGHT_QUANTUM,
            seen=book.length(terms[SEEN]),
            bands=terms[BANDS],
            off_nominal=book.length(terms[OFF_NOMINAL]),
            thin_eave=book.length(terms[THIN_EAVE]),
            furring=book.length(terms[FURRING]),
            flush=flush,
            notches=notches,
            jump=book.length(jumps),
            flush_miss=book.length(off_lines),
        ),
        tuple(terms),
    )
