"""Which part of an opening's head or sill siding lies along: less other casings and roofs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from evencourse.layout.model.geometry import Span, box_of, spans_outside
from evencourse.layout.model.job import Elevation, Job, Opening, Point
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.wall.roofs import roof_holes
from evencourse.layout.wall.sides import crossings


def bare_edges(job: Job, face: Elevation) -> Iterator[tuple[Opening, Literal["head", "sill"], float, Span]]:
    """Heads and sills that siding can lie along, by opening, its head first.

    Args:
        job: for its tape, and for what siding keeps clear of roofs.
        face: a face.

    Yields:
        The opening, which edge, its height, and from where to where siding lies along it [job units]. A door
        on the base has no sill.

    Rules: where the casing of another opening lies against an edge, or overlaps it so that one board fills
    the gap (``evencourse.layout.wall.casings``), there is no siding, and behind a roof, a deck or a ledger
    there is none: an edge so covered all along is none, one covered at an end is as long as what is left. A
    gap that the tape cannot show is none. A curved or pointed edge is there while its highest or lowest point
    is bare.
    """
    outlines = [hole.trimmed for hole in face.openings]
    outlines += list(roof_holes(job, face))
    boxes = [box_of(outline) for outline in outlines]
    for at, opening in enumerate(face.openings):
        left, low, right, high = boxes[at]
        for kind, level, away in (("head", high, 1.0), ("sill", low, -1.0)):
            if kind == "sill" and opening.on_base:
                continue
            flat = opening.shape == "rectangle" or (kind == "sill" and opening.shape != "round")
            # Past a level edge lies the siding along it; a curve only touches its own highest point.
            beside = level + away * (job.round / 2 if flat else -SAME * job.inch)
            over = [
                outline
                for index, (outline, (x0, y0, x1, y1)) in enumerate(zip(outlines, boxes, strict=True))
                if y0 <= beside <= y1 and x0 < right and x1 > left and index != at
            ]
            middle = opening.middle
            spans = [(left, right) if flat else (middle, middle + SAME * job.inch)]
            bare = [one for one in spans_outside(spans, _covers(over, beside)) if _shows(one, job, flat)]
            if bare:
                span = (bare[0][0], bare[-1][1]) if flat else (left, right)
                yield opening, "head" if kind == "head" else "sill", level, span


def _covers(outlines: Sequence[Sequence[Point]], level: float) -> Iterator[Span]:
    """What outlines take of a level line."""
    for outline in outlines:
        found = crossings(outline, level)
        yield from zip(found[::2], found[1::2], strict=True)


def _shows(span: Span, job: Job, flat: bool) -> bool:
    return span[1] - span[0] >= job.round / 2 if flat else True
