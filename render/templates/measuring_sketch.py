"""Sketches of the measuring form: what is measured from where. Not to scale; the form explains every sign."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from evencourse.layout.language.speech import gettext, pgettext
from evencourse.render.drawing.drawing import Circle, Dimension, Line, Mark, Path, Point, Text
from evencourse.render.drawing.fonts import wrap
from evencourse.render.drawing.pens import (
    BUTT,
    DATUM,
    DIMENSION,
    DOOR,
    FIXTURE,
    GLASS,
    GRADE,
    OPENING,
    OUTLINE,
    PAPER,
    TEXT,
    TRIM,
    Pen,
)
from evencourse.render.drawing.placement import Box

#: Least width, and height, of the sketches [mm].
BUILDING, SKETCH = (185.0, 62.0), (185.0, 73.0)
#: Radius of the ring round a sign, and lettering [mm].
_RING, _LETTERING = 2.7, 2.5

#: From a place in a sketch to a place on the paper [mm].
To = Callable[[float, float], Point]


def face_sketch(box: Box) -> Iterator[Mark]:
    """A face with a gable, a window, a door and a spigot, and every length that is asked for.

    Args:
        box: where it goes, no smaller than :data:`SKETCH` [mm].
    """
    at = _within(box, SKETCH[0], 0.86)
    left, right, base, eave, peak, datum = 46.0, 142.0, 16.0, 54.0, 76.0, 28.0
    middle = (left + right) / 2
    wall = ((left, base), (right, base), (right, eave), (middle, peak), (left, eave))
    yield Line(GRADE, at(20, 12), at(172, 9))
    yield Path(OUTLINE, tuple(at(*point) for point in wall), True)
    yield from _window(at, Box(64, 36, 86, 49), 2.0)
    yield from _rectangle(DOOR, at, Box(110, base, 123, 45))
    fixture = Box(133, 19.5, 137, 24.5)
    yield from _rectangle(FIXTURE, at, fixture)
    yield Line(DIMENSION, at(fixture.left, 22), at(fixture.left - 1.4, 22))
    yield from _ring(at(fixture.left - 1.4 - _RING, 22), "20")
    for start, end in ((6, 108), (125, 182)):
        yield Line(DATUM, at(start, datum), at(end, datum))
    name = pgettext("level that heights are measured from", "datum")
    yield Text(TEXT, at(182, datum + 1.6), name, _LETTERING, "end")
    yield from _up(at, 36, (36, datum), (left, base), "11")
    yield from _up(at, 36, (36, datum), (left, eave), "12")
    yield from _up(at, 26, (26, datum), (26, 12 - 3 * 6 / 152), "14")
    yield from _up(at, 152, (152, datum), (right, base), "11")
    yield from _up(at, 152, (152, datum), (right, eave), "12")
    yield from _up(at, 164, (164, datum), (middle, peak), "13")
    yield from _along(at, 3, (left, base), (right, base), "10")
    yield from _along(at, 42, (left, 42), (64, 42), "a")
    yield from _along(at, 57, (64, 49), (86, 49), "c")
    yield from _up(at, 94, (94, datum), (86, 36), "b")
    yield from _up(at, 94, (94, 36), (86, 49), "d")
    yield from _along(at, 81, (left, eave), (middle, peak), "13")
    yield from _slope(at, (middle + 18, peak - 18 * 22 / 48), 22 / 48)
    yield Text(TEXT, at(75, 42.5), "A", 5.0, "middle", "middle", weight="bold")
    yield Text(TEXT, at(116.5, 37), "B", 5.0, "middle", "middle", weight="bold")


def building_sketch(box: Box) -> Iterator[Mark]:
    """The level line round the building, and an opening with its trim.

    Args:
        box: where it goes, no smaller than :data:`BUILDING` [mm].
    """
    at = _within(box, BUILDING[0])
    base, eave, peak, datum = 10.0, 40.0, 56.0, 24.0
    front = ((8, base), (56, base), (56, eave), (32, peak), (8, eave))
    side = ((56, base), (104, base), (104, eave), (56, eave))
    yield Line(GRADE, at(2, 6), at(112, 5))
    for x in (66, 74, 82, 90, 98):
        yield Line(BUTT, at(x, base + 4), at(x, eave))
    for wall in (front, side):
        yield Path(OUTLINE, tuple(at(*point) for point in wall), True)
    yield Line(BUTT, at(8, base + 1.2), at(116, base + 1.2))
    yield Line(DATUM, at(2, datum), at(116, datum))
    yield from _ring(at(119.5, datum), "3")
    yield from _ring(at(119.5, base + 1.2), "21")
    yield from _ring(at(78, 33), "8")
    hole = Box(146, 14, 170, 42)
    yield from _window(at, hole, 6.0)
    said = wrap(gettext("the hole:\nmeasure this"), hole.width - 2.0, _LETTERING)
    for row, words in enumerate(said):
        yield Text(TEXT, at(158, 31 - 5 * row), words, _LETTERING, "middle")
    head, sill = pgettext("edge of an opening", "head"), pgettext("edge of an opening", "sill")
    yield Text(TEXT, at(158, 45), head, _LETTERING, "middle", "middle")
    yield Text(TEXT, at(158, 11), sill, _LETTERING, "middle", "middle")
    beside = pgettext("edge of an opening", "side")
    yield Text(TEXT, at(143, 28), beside, _LETTERING, "middle", "middle", 90.0)
    yield from _ring(at(136, 45), "7")


def _within(box: Box, width: float, squeezed: float = 1.0) -> To:
    """Places of a sketch in the middle of a box; its heights times a factor."""
    left = (box.left + box.right - width) / 2

    def at(x: float, y: float) -> Point:
        return (left + x, box.bottom + y * squeezed)

    return at


def _rectangle(pen: Pen, at: To, box: Box, fill: Pen | None = GLASS) -> Iterator[Mark]:
    corners = ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top))
    yield Path(pen, tuple(at(*corner) for corner in corners), True, fill=fill)


def _window(at: To, hole: Box, trim: float) -> Iterator[Mark]:
    yield from _rectangle(TRIM, at, hole.grown(trim), None)
    yield from _rectangle(OPENING, at, hole)


def _up(at: To, x: float, low: Point, high: Point, sign: str) -> Iterator[Mark]:
    """A plumb length, its sign in a ring on the dimension line."""
    yield Dimension(DIMENSION, at(*low), at(*high), at(x, 0), 90.0, "")
    yield from _ring(at(x, (low[1] + high[1]) / 2), sign)


def _along(at: To, y: float, left: Point, right: Point, sign: str) -> Iterator[Mark]:
    """A level length, its sign in a ring on the dimension line."""
    yield Dimension(DIMENSION, at(*left), at(*right), at(0, y), 0.0, "")
    yield from _ring(at((left[0] + right[0]) / 2, y), sign)


def _slope(at: To, foot: Point, rise: float) -> Iterator[Mark]:
    """A slope triangle over a rake that falls to the right."""
    x, y, run, off = foot[0], foot[1], 11.0, 3.0
    high, low, corner = at(x, y + off), at(x + run, y + off - run * rise), at(x + run, y + off)
    for start, end in ((high, low), (low, corner), (corner, high)):
        yield Line(DIMENSION, start, end)
    yield Text(TEXT, at(x + run / 2, y + off + 1.0), "12", _LETTERING, "middle")
    yield from _ring(at(x + run + 1.2 + _RING, y + off - run * rise / 2), "13")


def _ring(centre: Point, sign: str) -> Iterator[Mark]:
    yield Circle(DIMENSION, centre, _RING, fill=PAPER)
    yield Text(TEXT, centre, sign, _LETTERING, "middle", "middle", weight="bold")
