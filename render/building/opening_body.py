"""An opening as a builder sees it: trim, head and sill with their shadows, frame, sash, panels, louvres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.model.geometry import corners
from evencourse.layout.model.job import Opening, Point
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.wall.sides import crossings
from evencourse.render.drawing.drawing import Line, Mark, Path
from evencourse.render.drawing.pens import DOOR, GLASS, OPENING, PAPER, PATTERN, SASH, SHADE, TRIM
from evencourse.render.drawing.placement import box_of

#: Stiles of sash and door, how far a sill stands out beside its trim, as drawn [in]. Common practice.
_STILE, SILL_OUT = 2.0, 1.0
#: A stile narrower than this is left out, an opening smaller than this has neither sash nor panels [mm].
_LEAST, _SMALL = 0.6, 7.0
#: Half of what a meeting rail leaves to the mark, the least height for it, what a sign takes at a head [mm].
_MARK, _RAIL, _SIGN = 3.2, 12.0, 4.6
#: From a head to its shadow [mm].
_SHADE = 0.45


def opening_body(opening: Opening, inch: float, mm: float) -> Iterator[Mark]:
    """An opening without its words: trim with the shadow of its head and its sill, the hole, sash or panels.

    Args:
        opening: which.
        inch: job units in one inch.
        mm: drawing units in one millimetre of paper.
    """
    hole, trimmed = opening.outline(), opening.trimmed
    if trimmed != hole:
        grown = opening.trim.head if opening.rise else 0.0
        points, bulges = _arcs(opening, trimmed, opening.rise + grown)
        yield Path(TRIM, points, closed=True, bulges=bulges, fill=PAPER)
    pen = DOOR if opening.kind in ("door", "garage door") else OPENING
    points, bulges = _arcs(opening, hole, opening.rise)
    yield Path(pen, points, closed=True, bulges=bulges, fill=PAPER if pen is DOOR else GLASS)
    if trimmed != hole and opening.shape == "rectangle":
        yield from _shadows(opening, inch, mm)
    if opening.kind in ("window", "door") and opening.shape == "rectangle":
        yield from _inside(opening, inch, mm)
    if opening.kind == "garage door" and opening.shape == "rectangle":
        for index in range(1, 4):
            height = opening.bottom + opening.height * index / 4
            yield Line(PATTERN, (opening.left, height), (opening.right, height))
    elif opening.kind == "vent":
        yield from _louvres(hole, opening, mm)


def _shadows(opening: Opening, inch: float, mm: float) -> Iterator[Mark]:
    """The line of shadow under the head trim, and the sill, which stands out at both sides."""
    box = box_of(opening.trimmed)
    if opening.trim.head > 0:
        drop = _SHADE * mm
        yield Line(SHADE, (opening.left, opening.top - drop), (opening.right, opening.top - drop))
    if opening.trim.sill > 0 and not opening.on_base:
        out = SILL_OUT * inch
        yield Line(SHADE, (box.left - out, opening.bottom), (box.right + out, opening.bottom))


def _inside(opening: Opening, inch: float, mm: float) -> Iterator[Mark]:
    """The sash of a window with its meeting rail, the panels of a door: clear of the mark and the signs."""
    inset = _STILE * inch
    wide, tall = opening.width / mm, opening.height / mm
    if inset < _LEAST * mm or min(wide, tall) < _SMALL:
        return
    left, right = opening.left + inset, opening.right - inset
    if opening.kind == "window":
        yield Path(SASH, corners((left, opening.bottom + inset, right, opening.top - inset)), closed=True)
        level, half = opening.bottom + opening.height / 2, _MARK * mm
        if (right - left) / 2 > half + 1.0 * mm and tall > _RAIL:
            middle = opening.middle
            yield Line(SASH, (left, level), (middle - half, level))
            yield Line(SASH, (middle + half, level), (right, level))
        return
    stile = 2 * inset
    for low, high in ((0.08, 0.38), (0.62, 0.86)):
        foot, head = opening.bottom + low * opening.height, opening.bottom + high * opening.height
        head = min(head, opening.top - _SIGN * mm)
        ends = (
            opening.left + stile,
            opening.middle - stile / 2,
            opening.middle + stile / 2,
            opening.right - stile,
        )
        for x0, x1 in (ends[:2], ends[2:]):
            if x1 - x0 > _LEAST * mm and head - foot > _LEAST * mm:
                yield Path(SASH, corners((x0, foot, x1, head)), closed=True)


def _arcs(
    opening: Opening, outline: tuple[Point, ...], rise: float
) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """An outline with true arcs in place of its chords: points and bulges.

    Args:
        opening: whose shape it has.
        outline: its hole, or the outside of its trim.
        rise: of its arch; not needed for other shapes.
    """
    box = box_of(outline)
    if opening.shape == "round":
        level = (box.bottom + box.top) / 2
        return ((box.left, level), (box.right, level)), (1.0, 1.0)
    if opening.shape not in ("arch", "half-round"):
        return outline, ()
    spring, bulge = box.top - rise, rise / (box.width / 2)
    feet = (
        ((box.left, box.bottom), (box.right, box.bottom))
        if spring > box.bottom + ROUNDING * box.width
        else ()
    )
    return (*feet, (box.right, spring), (box.left, spring)), (*(0.0 for _ in feet), bulge, 0.0)


def _louvres(hole: Sequence[Point], opening: Opening, mm: float) -> Iterator[Mark]:
    count = int(opening.height / (1.6 * mm))
    for index in range(1, count):
        height = opening.bottom + opening.height * index / count
        ends = crossings(hole, height)
        if len(ends) == 2:
            yield Line(TRIM, (ends[0], height), (ends[1], height))
