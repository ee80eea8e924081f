"""Callouts at sloping edges: the slope triangle, the layout over the exposure, the saw's setting."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product
from math import atan2, cos, degrees, hypot, sin

from evencourse.layout.language.speech import decimals, gettext
from evencourse.layout.model.course_plan import Rake
from evencourse.render.drawing.drawing import Leader, Line, Mark, Point, Text
from evencourse.render.drawing.font_files import Weight
from evencourse.render.drawing.fonts import (
    ASCENT_RATIO,
    DESCENT_RATIO,
    LEADING_RATIO,
    text_width,
    wrap,
)
from evencourse.render.drawing.pens import DIMENSION, LEADER, NOTE
from evencourse.render.drawing.placement import (
    Box,
    Occupied,
    box_of,
    polygon_meets,
    polygons_meet,
    segment_meets,
    segment_meets_polygon,
)
from evencourse.render.words.plan_words import saw_words

#: Blanks within a part of a sentence, where no line breaks.
_INNER = re.compile(r"(?<![,;:]) ")
_RUN = 9.0
_OFF = 2.6
_BIG, _SMALL = 3.5, 2.5
_WIDTHS = (50.0, 44.0, 58.0, 34.0)
#: Widths and places of words along a slope, the nearest to the wall that they come.
_WIDTHS_ALONG = (90.0, 54.0, 46.0, 37.0)
_SHARES_ALONG = (0.5, 0.44, 0.56, 0.38, 0.62, 0.32, 0.68, 0.26, 0.74)
_OFF_ALONG = 2.0
#: How much farther out the triangle stands when the words are between it and the rake [mm].
_BEYOND = 3.0
#: What a triangle's numbers keep off the wall [mm].
_RIM = 0.5
_SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)


@dataclass(frozen=True)
class Callout:
    """A placed callout.

    Attributes:
        marks: what is drawn.
        box: what it covers.
        full: it gives the saw's setting, too.
        named: of several layouts it names the courses of each.
    """

    marks: tuple[Mark, ...]
    box: Box
    full: bool
    named: bool


@dataclass(frozen=True)
class _Line:
    text: str
    height: float
    weight: Weight


@dataclass(frozen=True)
class SlopedEdge:
    """A rake that gets a callout.

    Attributes:
        rake: as far as it shows.
        layouts: each of its layouts, and the numbers of its courses where there are several.
    """

    rake: Rake
    layouts: tuple[tuple[str, str], ...]


def _lines(edge: SlopedEdge, width: float, way: _Way) -> tuple[_Line, ...]:
    """The lines of a callout: the layouts heavy and in large lettering, the saw's setting below."""
    height = way.big if len(edge.layouts) == 1 else _SMALL
    found = []
    for layout, courses in edge.layouts:
        words = layout
        if courses and way.named:  # as the ladder has them: every word more would cost scale
            words = gettext("{courses}: {layout}", courses=courses, layout=layout)
        lines = wrap(_INNER.sub("\N{NO-BREAK SPACE}", words), width, height, "bold")
        found += [_Line(line, height, "bold") for line in lines]
    if way.full:
        words = saw_words(edge.rake)
        if not way.named and len(edge.layouts) > 1:
            words = gettext("{saw}; courses: rake sheet", saw=words)
        found += [_Line(line, _SMALL, "regular") for line in wrap(words, width, _SMALL)]
    return tuple(found)


def rake_callout(edge: SlopedEdge, mm: float, taken: Occupied, room: Box) -> Callout | None:
    """A rake's callout outside the wall; None when there is no place for it.

    The words stand level beside the slope triangle where they have room, else along the slope; where even
    that is too much, the layout alone stands there.

    Args:
        edge: the sloping edge.
        mm: drawing units in one millimetre of paper.
        taken: what is occupied; the wall must be among its shapes. The callout is added.
        room: it stays inside this.
    """
    triangles = tuple(_triangles(edge.rake, mm, taken, room))
    for place, way in _ways():
        found = place(edge, mm, taken, room, way, triangles)
        if found is not None:
            return found
    return None


def rake_callouts(
    edges: Sequence[SlopedEdge], mm: float, taken: Occupied, room: Box, tight: Box
) -> tuple[Callout | None, ...]:
    """Callouts of rakes that are seen together: all of them lettered alike where there is a way to.

    Args:
        edges: on the same side of one wall.
        mm: drawing units in one millimetre of paper.
        taken: as for :func:`rake_callout`.
        room: they stay inside this.
        tight: those lettered alike stay inside this: being alike is worth no smaller scale.

    Returns:
        For every rake its callout; None where there is no place for one.
    """
    first = tuple(_triangles(edges[0].rake, mm, taken, tight)) if len(edges) > 1 else ()
    for place, way in _ways(alike=True) if len(edges) > 1 else ():
        trial, found = taken.copy(), []
        for edge in edges:
            near = first if edge is edges[0] else tuple(_triangles(edge.rake, mm, trial, tight))
            callout = place(edge, mm, trial, tight, way, near)
            if callout is None:
                break
            found.append(callout)
        if len(found) == len(edges):
            taken.replace(trial)
            return tuple(found)
    return tuple(rake_callout(edge, mm, taken, room) for edge in edges)


def _ways(alike: bool = False) -> Iterator[tuple[_Place, _Way]]:
    """How a callout can stand, the best first; several that are to be alike first with words of one width."""
    for full, named in product((True, False), (True, False)):
        for place, widths in ((_level, _WIDTHS), (_along, _WIDTHS_ALONG)):
            for big in (_BIG, _SMALL):
                for width in (*widths, None) if alike else (None,):
                    yield place, _Way(big, full, named, width)


def _widths(every: Sequence[float], way: _Way) -> Sequence[float]:
    return every if way.width is None else (way.width,)


@dataclass(frozen=True)
class _Way:
    """How a callout is lettered.

    Attributes:
        big: height of its layout [mm].
        full: it gives the saw's setting, too.
        named: of several layouts it names the courses of each.
        width: of its words [mm]; None for any.
    """

    big: float
    full: bool
    named: bool
    width: float | None = None


_Triangle = tuple[tuple[Mark, ...], Box]
_Place = Callable[[SlopedEdge, float, Occupied, Box, _Way, Sequence[_Triangle]], Callout | None]


def _level(
    edge: SlopedEdge,
    mm: float,
    taken: Occupied,
    room: Box,
    way: _Way,
    triangles: Sequence[_Triangle],
) -> Callout | None:
    """Words to the outer side of the triangle: away from the wall."""
    rake = edge.rake
    outward = -1.0 if (rake.end[0] > rake.start[0]) == (rake.side == "top") else 1.0
    for width in _widths(_WIDTHS, way) if triangles else ():
        lines = _lines(edge, width, way)
        wide, tall = _size(lines, mm)
        for marks, box in triangles:
            for x, y in _places(box, wide, tall, outward, mm):
                wanted = Box(x, y, x + wide, y + tall)
                if not wanted.inside(room) or not taken.free(wanted, 0.8 * mm):
                    continue
                tie = _tie(box, wanted, mm)
                if all(taken.passes(*leader.points) for leader in tie):
                    taken.take(box, wanted)
                    taken.lines += [line for leader in tie for line in pairwise(leader.points)]
                    text = tuple(_set(lines, wanted, mm, outward))
                    return Callout((*marks, *tie, *text), box.joined(wanted), way.full, way.named)
    return None


def _along(
    edge: SlopedEdge,
    mm: float,
    taken: Occupied,
    room: Box,
    way: _Way,
    near: Sequence[_Triangle],
) -> Callout | None:
    """Words along the slope, reading from left to right, the first line the farthest up."""
    rake = edge.rake
    left, right = sorted((rake.start, rake.end))
    angle = atan2(right[1] - left[1], right[0] - left[0])
    along, over = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
    up = rake.side == "top"
    for width in _widths(_WIDTHS_ALONG, way):
        lines = _lines(edge, width, way)
        wide, tall = _size(lines, mm)
        foot = _OFF_ALONG * mm if up else -_OFF_ALONG * mm - tall

        def place(
            share: float,
            right: float,
            above: float,
            foot: float = foot,
            ends: Sequence[Point] = (left, right),
        ) -> Point:
            x, y = (a + (b - a) * share for a, b in zip(*ends, strict=True))
            across = foot + above
            return x + right * along[0] + across * over[0], y + right * along[1] + across * over[1]

        free = []
        for share in _SHARES_ALONG:
            corners = tuple(
                place(share, x * wide, y) for x, y in ((-0.5, 0.0), (0.5, 0.0), (0.5, tall), (-0.5, tall))
            )
            if box_of(corners).inside(room) and _lies_free(corners, taken):
                free.append((share, corners))
        beyond = _triangles(rake, mm, taken, room, tall / mm + _OFF_ALONG + _BEYOND) if free else ()
        for marks, box in (*near, *beyond) if free else ():
            for share, corners in free:
                if polygon_meets(corners, box.grown(0.6 * mm)):
                    continue
                taken.take(box)
                taken.turned.append(corners)
                text, level = [], tall
                for line in lines:
                    level -= line.height * LEADING_RATIO * mm
                    at = place(share, 0.0, level + line.height * (LEADING_RATIO - 1) / 2 * mm)
                    turn = degrees(angle)
                    text.append(
                        Text(NOTE, at, line.text, line.height, "middle", angle=turn, weight=line.weight)
                    )
                return Callout((*marks, *text), box.joined(box_of(corners)), way.full, way.named)
    return None


def _lies_free(corners: Sequence[Point], taken: Occupied) -> bool:
    """Whether words that do not stand level touch nothing that is there."""
    bounds = box_of(corners)
    return not (
        any(bounds.meets(other) and polygon_meets(corners, other) for other in taken.boxes)
        or any(
            segment_meets(start, end, bounds) and segment_meets_polygon(start, end, corners)
            for start, end in taken.lines
        )
        or any(polygons_meet(corners, shape) for shape in (*taken.shapes, *taken.turned))
    )


def _size(lines: Sequence[_Line], mm: float) -> tuple[float, float]:
    wide = max(text_width(line.text, line.height, line.weight) for line in lines)
    return wide * mm, sum(line.height * LEADING_RATIO for line in lines) * mm


def _triangles(rake: Rake, mm: float, taken: Occupied, room: Box, away: float = 0.0) -> Iterator[_Triangle]:
    """The slope triangle, its long side parallel to the rake, wherever along it there is room.

    ``away`` is what it keeps clear for words between the rake and itself [mm].
    """
    rise = _RUN * rake.pitch / 12
    run = _RUN if rise <= 1.6 * _RUN else _RUN * 1.6 * _RUN / rise
    rise = run * rake.pitch / 12
    up = 1.0 if rake.side == "top" else -1.0
    right = 1.0 if rake.end[0] > rake.start[0] else -1.0
    tilt = hypot(run, rise)
    apart = (_OFF + away) * up * mm
    off = (-right * rise / tilt * apart, run / tilt * apart)
    number = decimals(f"{rake.pitch:.2f}".rstrip("0").rstrip("."))
    for share in _SHARES:
        x = rake.start[0] + (rake.end[0] - rake.start[0]) * share + off[0]
        y = rake.start[1] + (rake.end[1] - rake.start[1]) * share + off[1]
        low = (x - right * run / 2 * mm, y - rise / 2 * mm)
        high = (x + right * run / 2 * mm, y + rise / 2 * mm)
        # The corner of the triangle lies outside: over the lower end of a top, under the upper end of a base.
        corner = (low[0], high[1]) if up > 0 else (high[0], low[1])
        level = corner[1] + up * 1.0 * mm if up > 0 else corner[1] - (1.0 + _SMALL) * mm
        side = -right if up > 0 else right
        beside = corner[0] + side * 1.0 * mm
        wide, wide12 = (text_width(text, _SMALL) * mm for text in (number, "12"))
        left = beside - wide if side < 0 else beside
        pair = (Text(DIMENSION, ((low[0] + high[0]) / 2, level), "12", _SMALL, "middle"),
                Text(DIMENSION, (beside, (low[1] + high[1]) / 2), number, _SMALL,
                     "end" if side < 0 else "start", "middle"))  # fmt: skip
        box = Box(
            min(low[0], high[0], left) - 0.3 * mm,
            min(low[1], level - DESCENT_RATIO * 0.2 * mm),
            max(low[0], high[0], left + wide) + 0.3 * mm,
            max(high[1], level + ASCENT_RATIO * _SMALL * mm),
        )
        triangle = (low, high, corner)
        if not box.inside(room) or not _clear_of_words(box.grown(0.5 * mm), taken):
            continue
        tall = _SMALL * mm
        numbers = (
            Box((low[0] + high[0] - wide12) / 2, level, (low[0] + high[0] + wide12) / 2, level + tall),
            Box(left, (low[1] + high[1] - tall) / 2, left + wide, (low[1] + high[1] + tall) / 2),
        )
        if not all(taken.free(lettering, _RIM * mm) for lettering in numbers):
            continue
        lines = tuple(
            Line(DIMENSION, a, b) for a, b in zip(triangle, (*triangle[1:], triangle[0]), strict=True)
        )
        yield (*lines, *pair), box


def _clear_of_words(box: Box, taken: Occupied) -> bool:
    """Whether a box that may touch the wall touches no lettering."""
    return not any(box.meets(other) for other in taken.boxes) and not any(
        polygon_meets(words, box) for words in taken.turned
    )


def _places(box: Box, wide: float, tall: float, outward: float, mm: float) -> Iterator[Point]:
    gap = 2.0 * mm
    beside = box.left - gap - wide if outward < 0 else box.right + gap
    yield beside, (box.bottom + box.top - tall) / 2
    yield beside, box.top - tall
    yield beside, box.bottom
    for step in range(1, 8):
        yield beside, box.bottom + step * 3 * mm
    over = box.left if outward > 0 else box.right - wide
    yield over, box.top + gap
    yield over, box.bottom - gap - tall
    for step in range(1, 10):
        yield beside + outward * step * 4 * mm, (box.bottom + box.top - tall) / 2
        yield over, box.top + gap + step * 3 * mm
        yield over, box.bottom - gap - tall - step * 3 * mm


def _set(lines: Sequence[_Line], box: Box, mm: float, outward: float) -> Iterator[Mark]:
    y = box.top
    for line in lines:
        y -= line.height * LEADING_RATIO * mm
        base = y + line.height * (LEADING_RATIO - 1) / 2 * mm
        if outward < 0:
            yield Text(NOTE, (box.right, base), line.text, line.height, "end", weight=line.weight)
        else:
            yield Text(NOTE, (box.left, base), line.text, line.height, "start", weight=line.weight)


def _tie(triangle: Box, words: Box, mm: float) -> tuple[Leader, ...]:
    """A leader when the words had to go far from their triangle."""
    x = min(max((triangle.left + triangle.right) / 2, words.left), words.right)
    y = min(max((triangle.bottom + triangle.top) / 2, words.bottom), words.top)
    near = (min(max(x, triangle.left), triangle.right), min(max(y, triangle.bottom), triangle.top))
    if hypot(near[0] - x, near[1] - y) <= 4.0 * mm:
        return ()
    return (Leader(LEADER, (near, (x, y))),)
