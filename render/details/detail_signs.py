"""Numbers of details on a face: a small circle at each of its edges, on the siding, over nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product
from math import hypot

from evencourse.layout.model.course_plan import Edge, ElevationPlan, Rake
from evencourse.layout.model.low_slope import LowSlope
from evencourse.render.details.cross_section import AT_EDGE, SMALL, circled
from evencourse.render.details.detail_set import DetailSpan, FaceDetails
from evencourse.render.drawing.drawing import Mark, Point
from evencourse.render.drawing.placement import Box, Occupied, contains

#: From an edge to the circle, from one try to the next along an edge and off it [mm], and how often off it.
_AIR, _STEP, _OFF, _TRIES = 0.7, 2.5, 1.6, 4
#: Where along a rake or a corner it is tried, as shares of its length.
_SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)


def detail_signs(
    face: ElevationPlan, details: FaceDetails | None, mm: float, taken: Occupied, window: Box | None
) -> Iterator[Mark]:
    """The number of its detail at every edge that has room for it.

    Args:
        face: one face of a plan.
        details: its numbers; None for none.
        mm: drawing units in one millimetre of paper.
        taken: occupied boxes; the circles are added.
        window: what is shown of the wall; None for all of it.
    """
    if details is None:
        return
    outline = face.elevation.outline
    left, right = min(x for x, _ in outline), max(x for x, _ in outline)
    wanted: list[tuple[str, Iterable[Point]]] = [
        (number, _at_edge(edge, (right - left) / 2, mm, window))
        for edge, number in zip(face.edges, details.edges, strict=True)
        if edge.edge != "base" and number
    ]
    wanted += [
        (number, _along(base.left, base.right, base.height, 1.0, mm, window))
        for base, number in zip(face.bases, details.bases, strict=True)
        if number
    ]
    slopes: list[Rake | LowSlope] = [*face.rakes, *face.low_slopes]
    wanted += [
        (span.number, _at_rake(rake, span, mm))
        for rake, spans in zip(slopes, details.rakes, strict=True)
        for span in spans
    ]
    for spans, x, way in zip(details.corners, (left, right), (1.0, -1.0), strict=True):
        wanted += [(span.number, _at_corner(x, way, span.low, span.high, mm)) for span in spans]
    for number, places in wanted:
        spot = _spot(face, places, mm, taken, window)
        if spot is not None:
            yield from circled(number, spot, mm, AT_EDGE, SMALL, ground=True)


def _spot(
    face: ElevationPlan, places: Iterable[Point], mm: float, taken: Occupied, window: Box | None
) -> Point | None:
    """The first place on the wall that is free; it is taken. Rather over a level line than nowhere."""
    half = AT_EDGE * mm
    outline, on_wall = face.elevation.outline, []
    for x, y in places:
        box = Box(x - half, y - half, x + half, y + half)
        corners = product((box.left, box.right), (box.bottom, box.top))
        if (window is None or box.inside(window)) and all(contains(outline, corner) for corner in corners):
            on_wall.append((x, y, box))
            if taken.free(box, 0.3 * mm):
                taken.take(box)
                return (x, y)
    for x, y, box in on_wall:
        if taken.free(box, 0.3 * mm, True):
            taken.take(box)
            return (x, y)
    return None


def _along(
    left: float, right: float, level: float, way: float, mm: float, window: Box | None
) -> Iterator[Point]:
    """Places along a level edge from its right end, over it (way 1) or under it (-1), farther off at last."""
    count = max(0, int((right - left) / mm / _STEP - 2 * AT_EDGE / _STEP))
    first, last = 0, count
    if window is not None:  # the others are not shown: of a long wall at a large scale most of them
        first = max(first, int((right - window.right) / mm / _STEP))
        last = min(last, int((right - window.left) / mm / _STEP))
    for off, step in product(range(_TRIES), range(first, last + 1)):
        x = right - (AT_EDGE + _AIR + step * _STEP) * mm
        yield (x, level + way * (AT_EDGE + _AIR + off * _OFF) * mm)


def _at_edge(edge: Edge, half: float, mm: float, window: Box | None) -> Iterator[Point]:
    """Places at an edge; each end of an eave out of level stands for its half, so long."""
    ends = edge.chord or (edge.left, edge.right)
    if edge.edge in ("eave left", "eave right"):
        # The left one stands near its own end: on a face over two sheets both would stand in the middle.
        left = edge.edge == "eave left"
        ends = (edge.left, edge.left + half / 2) if left else (edge.right - half, edge.right)
    way = 1.0 if edge.edge in ("head", "over roof") else -1.0
    yield from _along(*ends, edge.height, way, mm, window)
    if edge.opening is not None:  # beside the opening, where there is no room over or under it
        away = AT_EDGE + _AIR
        for off in range(_TRIES):
            level = edge.height - way * (away - _AIR + off * _OFF) * mm
            yield (edge.left - away * mm, level)  # pieces are marked at their left ends, right of it
            yield (edge.right + away * mm, level)


def _at_rake(rake: Rake | LowSlope, span: DetailSpan, mm: float) -> Iterator[Point]:
    """Places along a part of a rake, on the siding's side of it."""
    (x0, y0), (x1, y1) = rake.start, rake.end
    run = (x1 - x0) / (y1 - y0)
    x0, x1 = x0 + (span.low - y0) * run, x0 + (span.high - y0) * run
    y0, y1 = span.low, span.high
    length = hypot(x1 - x0, y1 - y0)
    down = (1.0 if rake.side == "base" else -1.0) * (1.0 if x1 > x0 else -1.0)
    across = (-(y1 - y0) / length * down, (x1 - x0) / length * down)
    for off, share in product(range(_TRIES), _SHARES):
        away = (AT_EDGE + _AIR + off * _OFF) * mm
        yield (x0 + share * (x1 - x0) + away * across[0], y0 + share * (y1 - y0) + away * across[1])


def _at_corner(x: float, way: float, low: float, high: float, mm: float) -> Iterator[Point]:
    for off, share in product(range(_TRIES), _SHARES):
        yield (x + way * (AT_EDGE + _AIR + off * _OFF) * mm, low + share * (high - low))
