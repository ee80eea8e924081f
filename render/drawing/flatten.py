"""A sheet as painted shapes and lettering in millimetres of paper: what SVG and PDF draw."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import cos, dist, radians, sin

from evencourse.layout.model.tolerance import ROUNDING
from evencourse.render.drawing.drawing import (
    Block,
    Circle,
    Dimension,
    Facts,
    Horizontal,
    Leader,
    Line,
    Mark,
    Path,
    Point,
    Sheet,
    Text,
    View,
    Weight,
)
from evencourse.render.drawing.fonts import descent, mixed, shown, text_width
from evencourse.render.drawing.other_scripts import Stroke
from evencourse.render.drawing.pens import PAPER, Pen

Box = tuple[float, float, float, float]

#: Half length of an oblique tick, how far extension lines run past it, the gap of text over its line [mm].
TICK, OVERSHOOT, TEXT_GAP = 1.1, 1.1, 0.8
#: Radius of a leader's dot, and length and half width of its arrow [mm].
DOT, ARROW, ARROW_HALF = 0.55, 2.2, 0.45
#: How far a knocked-out ground reaches beyond its text [mm].
GROUND = 0.5
#: Share of a text's width that lies before its anchor.
_BEFORE: dict[Horizontal, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}


@dataclass(frozen=True)
class Shape:
    """Straight and circular parts [mm], as :class:`evencourse.render.drawing.drawing.Path`."""

    pen: Pen | None
    points: tuple[Point, ...]
    closed: bool = False
    bulges: tuple[float, ...] = ()
    fill: Pen | None = None
    facts: Facts = ()


@dataclass(frozen=True)
class Disc:
    """A circle [mm]."""

    pen: Pen | None
    centre: Point
    radius: float
    fill: Pen | None = None


@dataclass(frozen=True)
class Lettering:
    """One line of text.

    Attributes:
        pen: its colour and layer.
        at: start, middle or end of its baseline [mm].
        text: what it says, as the font can show it.
        height: height of the capitals [mm].
        horizontal: which end of the baseline ``at`` is.
        angle: counter-clockwise [degrees].
        weight: regular or bold.
        width: from the first to the last advance width [mm].
    """

    pen: Pen
    at: Point
    text: str
    height: float
    horizontal: Horizontal
    angle: float
    weight: Weight
    width: float

    @property
    def start(self) -> Point:
        """Start of its baseline [mm]."""
        return self.along(-_BEFORE[self.horizontal] * self.width)

    @property
    def middle(self) -> Point:
        """Middle of its baseline [mm]."""
        return self.along((0.5 - _BEFORE[self.horizontal]) * self.width)

    def along(self, distance: float) -> Point:
        """A point of its baseline, so far from ``at`` [mm]."""
        turn = radians(self.angle)
        return (self.at[0] + distance * cos(turn), self.at[1] + distance * sin(turn))


@dataclass(frozen=True)
class Group:
    """Painted things that belong together, with what is known of them."""

    name: str
    facts: Facts
    items: tuple[Painted, ...]


Painted = Shape | Disc | Lettering | Group


@dataclass(frozen=True)
class Layer:
    """Painted things that share a window.

    Attributes:
        window: left, bottom, right, top [mm] of what has to be cut off; None when nothing reaches past it.
        items: in painting order.
    """

    window: Box | None
    items: tuple[Painted, ...]


def flatten(sheet: Sheet) -> tuple[Layer, ...]:
    """Everything that shows on a sheet, views first, in painting order.

    What lies outside its view's window is left out. A text belongs to the window that the middle of its
    baseline lies in, so that of two neighbouring parts of one drawing exactly one shows it.
    """
    layers = []
    for view in sheet.views:
        layers.append(_within(view.window, _in_order(view.drawing.marks, view)))
    layers.append(Layer(None, _in_order(sheet.marks, None)))
    return tuple(layer for layer in layers if layer.items)


def _within(window: Box, items: Iterable[Painted]) -> Layer:
    kept, cut = _kept(window, items)
    return Layer(window if cut else None, kept)


def _kept(window: Box, items: Iterable[Painted]) -> tuple[tuple[Painted, ...], bool]:
    """What shows in a window, and whether any of it reaches past the window."""
    left, bottom, right, top = window
    kept: list[Painted] = []
    cut = False
    for item in items:
        match item:
            case Lettering():
                x, y = item.middle
                if not (left <= x < right and bottom <= y < top):
                    continue
                low_x, low_y, high_x, high_y = _reach(item)
            case Group():
                inside, past = _kept(window, item.items)
                if inside:
                    kept.append(replace(item, items=inside))
                    cut = cut or past
                continue
            case _:
                low_x, low_y, high_x, high_y = _reach(item)
                if high_x < left or low_x > right or high_y < bottom or low_y > top:
                    continue
        kept.append(item)
        cut = cut or low_x < left or low_y < bottom or high_x > right or high_y > top
    return tuple(kept), cut


def _reach(item: Shape | Disc | Lettering) -> Box:
    """Left, bottom, right, top of what an item may ink [mm]."""
    match item:
        case Shape():
            points, rim = item.points, item.pen.width / 2 if item.pen else 0.0
            # An arc stays within its height of the chord: half the chord times the bulge.
            for index, bulge in enumerate(item.bulges):
                if bulge:
                    rim += abs(bulge) * dist(points[index], points[(index + 1) % len(points)]) / 2
        case Disc():
            points, rim = (item.centre,), item.radius + (item.pen.width / 2 if item.pen else 0.0)
        case Lettering():
            points, rim = (item.start, item.along((1 - _BEFORE[item.horizontal]) * item.width)), item.height
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs) - rim, min(ys) - rim, max(xs) + rim, max(ys) + rim)


def _in_order(marks: Iterable[Mark], view: View | None) -> tuple[Painted, ...]:
    """What marks paint; all lettering that has a ground last, the grounds of dimensions right before it.

    Where dimensions are short, their lettering is wider than they are: the ticks and tails of the next
    ones end at it instead of running through it. And a ground covers lines, never a neighbour's lettering.
    """
    items: list[Painted] = []
    grounds: list[Painted] = []
    letterings: list[Painted] = []
    for mark in marks:
        grounded = isinstance(mark, Dimension) or (isinstance(mark, Text) and mark.ground)
        for item in _painted(mark, view):
            if grounded and isinstance(item, Lettering):
                letterings.append(item)
            else:
                (grounds if isinstance(mark, Dimension) and _is_ground(item) else items).append(item)
    return (*items, *grounds, *letterings)


def _is_ground(item: Painted) -> bool:
    return isinstance(item, Shape) and item.fill is PAPER


def _painted(mark: Mark, view: View | None) -> Iterator[Painted]:
    def to(point: Point) -> Point:
        return point if view is None else view.to_paper(point)

    match mark:
        case Line():
            yield Shape(mark.pen, (to(mark.start), to(mark.end)), facts=mark.facts)
        case Path():
            points = tuple(to(point) for point in mark.points)
            if points:
                yield Shape(mark.pen, points, mark.closed, mark.bulges, mark.fill, mark.facts)
        case Circle():
            yield Disc(mark.pen, to(mark.centre), mark.radius * (view.factor if view else 1.0), mark.fill)
        case Text():
            yield from _lettering(mark, to(mark.at))
        case Dimension():
            yield from _dimension(
                mark, to(mark.start), to(mark.end), to(mark.line), mark.text_at and to(mark.text_at)
            )
        case Leader():
            yield from _leader(mark, tuple(to(point) for point in mark.points))
        case Block():
            items = tuple(part for item in mark.items for part in _painted(item, view))
            if items:
                yield Group(mark.name, mark.attributes, items)


def baseline(text: Text, at: Point) -> Point:
    """Where the baseline of a text lies, from its anchor [mm]."""
    drop = {"baseline": 0.0, "middle": text.height / 2, "cap": text.height}[text.vertical]
    turn = radians(text.angle)
    return (at[0] + drop * sin(turn), at[1] - drop * cos(turn))


def letters(layers: Iterable[Layer]) -> dict[Weight, set[str]]:
    """Characters that layers letter with in the sheets' own font, by weight."""
    used: dict[Weight, set[str]] = {}

    def look(items: Iterable[Painted]) -> None:
        for item in items:
            if isinstance(item, Lettering):
                mine = used.setdefault(item.weight, set())
                for part, strokes in in_parts(item):
                    mine.update(() if strokes else part.text)
            elif isinstance(item, Group):
                look(item.items)

    for layer in layers:
        look(layer.items)
    return used


def in_parts(item: Lettering) -> Iterator[tuple[Lettering, tuple[Stroke, ...]]]:
    """The parts that a text is set in, from left to right, each with its outlines for capitals of height 1.

    A text that the sheets' own font has all of is one, without outlines.
    """
    several = mixed(item.text, item.weight)
    if not several:
        yield item, ()
    turn = radians(item.angle)
    for part in several:
        x, y = item.start
        away = part.start * item.height
        yield (
            replace(
                item,
                text=part.text,
                at=(x + away * cos(turn), y + away * sin(turn)),
                horizontal="start",
                width=part.width * item.height,
            ),
            part.strokes,
        )


def ground_corners(text: Text, at: Point) -> tuple[Point, ...]:
    """Corners of the knocked-out ground under a text [mm]."""
    width = text_width(text.text, text.height, text.weight)
    before = _BEFORE[text.horizontal] * width
    x, y = baseline(text, at)
    turn = radians(text.angle)
    along, up = (cos(turn), sin(turn)), (-sin(turn), cos(turn))

    def corner(right: float, above: float) -> Point:
        return (x + right * along[0] + above * up[0], y + right * along[1] + above * up[1])

    left, right = -before - GROUND, width - before + GROUND
    low, high = -GROUND - descent(text.text) * text.height, text.height + GROUND
    return (corner(left, low), corner(right, low), corner(right, high), corner(left, high))


def _lettering(text: Text, at: Point) -> Iterator[Painted]:
    said = shown(text.text)
    if not said.strip():
        return
    if text.ground:
        yield Shape(None, ground_corners(text, at), True, fill=PAPER)
    width = text_width(said, text.height, text.weight)
    yield Lettering(
        text.pen, baseline(text, at), said, text.height, text.horizontal, text.angle, text.weight, width
    )


def _dimension(
    mark: Dimension, start: Point, end: Point, line: Point, text_at: Point | None
) -> Iterator[Painted]:
    turn = radians(mark.angle)
    across = (-sin(turn), cos(turn))

    def foot(point: Point) -> Point:
        away = (line[0] - point[0]) * across[0] + (line[1] - point[1]) * across[1]
        return (point[0] + away * across[0], point[1] + away * across[1])

    first, second = foot(start), foot(end)
    for point, there in ((start, first), (end, second)):
        reach = (there[0] - point[0]) * across[0] + (there[1] - point[1]) * across[1]
        if abs(reach) > mark.extension_gap + ROUNDING:
            sign = 1 if reach > 0 else -1
            gap, out = sign * mark.extension_gap, reach + sign * OVERSHOOT
            yield Shape(
                mark.pen,
                (
                    (point[0] + gap * across[0], point[1] + gap * across[1]),
                    (point[0] + out * across[0], point[1] + out * across[1]),
                ),
            )
    yield Shape(mark.pen, (first, second))
    slope = radians(mark.angle + 45)
    for there in (first, second):
        dx, dy = TICK * cos(slope), TICK * sin(slope)
        yield Shape(mark.pen, ((there[0] - dx, there[1] - dy), (there[0] + dx, there[1] + dy)))
    middle = ((first[0] + second[0]) / 2, (first[1] + second[1]) / 2)
    lift = TEXT_GAP + mark.height / 2
    place = text_at or (middle[0] + lift * across[0], middle[1] + lift * across[1])
    text = Text(mark.pen, place, mark.text, mark.height, "middle", "middle", mark.text_angle, ground=True)
    yield from _lettering(text, place)


def _leader(mark: Leader, points: tuple[Point, ...]) -> Iterator[Painted]:
    yield Shape(mark.pen, points)
    if mark.head == "dot":
        yield Disc(None, points[0], DOT, mark.pen)
    elif mark.head == "arrow" and len(points) > 1:
        (x0, y0), (x1, y1) = points[:2]
        size = max(ROUNDING, ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
        ux, uy = (x1 - x0) / size, (y1 - y0) / size
        back = (x0 + ARROW * ux, y0 + ARROW * uy)
        wing = (ARROW_HALF * -uy, ARROW_HALF * ux)
        corners = (points[0], (back[0] + wing[0], back[1] + wing[1]), (back[0] - wing[0], back[1] - wing[1]))
        yield Shape(None, corners, True, fill=mark.pen)
