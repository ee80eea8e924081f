"""A section in the making: parts, dimensions and labels in inches; out come marks in the job's units."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import cos, inf, radians, sin
from typing import Literal

import shapely

from evencourse.layout.model.job import Units
from evencourse.render.drawing.drawing import Circle, Dimension, Facts, Leader, Line, Mark, Path, Point, Text
from evencourse.render.drawing.fonts import text_width, wrap
from evencourse.render.drawing.pens import (
    DETAIL,
    DETAIL_BEYOND,
    DETAIL_HATCH,
    DETAIL_MARK,
    DIMENSION,
    LEADER,
    NOTE,
    PAPER,
    TEXT,
    Pen,
)
from evencourse.render.drawing.placement import Box, fitted, spread

Hatch = Literal["none", "wood", "sheathing", "foam", "cement", "concrete", "across"]

#: Lettering [mm]: titles and dimensions, labels and notes, and from line to line of these.
TITLE, SMALL, LEADING = 3.5, 2.5, 4.0
#: Radius of the circle round a number: at the title, and at an edge [mm].
ROUND, AT_EDGE = 3.6, 2.4
#: Angles [degrees] and spacing [mm] of hatching.
_HATCHES: dict[str, tuple[tuple[float, float], ...]] = {
    "wood": ((45.0, 1.5),),
    "sheathing": ((-45.0, 1.1),),
    "cement": ((45.0, 0.9),),
    "foam": ((60.0, 1.8), (-60.0, 1.8)),
    "concrete": ((45.0, 2.6), (-45.0, 5.2)),
}
#: From the wall to the dimensions, from their line to their lettering, from the parts to the two elbows of
#: leaders, which run level till they are clear of all parts, from there to the words [mm].
_STRING, _BESIDE, _CLEAR, _ELBOW, _WORDS = 4.0, 1.8, 1.2, 4.8, 2.4
#: Between labels, under the title, between notes and section [mm].
_APART, _UNDER, _OVER = 1.4, 2.2, 3.2


@dataclass(frozen=True)
class _Label:
    text: str
    at: Point
    pen: Pen


@dataclass
class CrossSection:
    """A section at one scale.

    Attributes:
        units: of the job.
        scale: paper over real size.
        clip: what is shown: left, bottom, right, top [in].
        number: of the detail.
    """

    units: Units
    scale: float
    clip: Box
    number: str
    _marks: list[Mark] = field(default_factory=list)
    _labels: list[_Label] = field(default_factory=list)
    _heights: list[tuple[float, float, str, str]] = field(default_factory=list)
    _right: float = 0.0

    @property
    def _unit(self) -> float:
        """Job units in an inch."""
        return 1.0 if self.units == "in" else 25.4

    @property
    def mm(self) -> float:
        """Inches in one millimetre of paper."""
        return 1 / (25.4 * self.scale)

    def _to(self, point: Point) -> Point:
        return (point[0] * self._unit, point[1] * self._unit)

    def _facts(self, part: str) -> Facts:
        return (("detail", self.number), ("part", part)) if part else ()

    def body(self, points: Sequence[Point], hatch: Hatch = "none", pen: Pen = DETAIL, part: str = "") -> None:
        """A part that the section cuts: outline and hatching."""
        box = shapely.box(self.clip.left, self.clip.bottom, self.clip.right, self.clip.top)
        for shape in _polygons(shapely.intersection(shapely.Polygon(points).buffer(0), box)):
            ring = [(x, y) for x, y in shapely.get_coordinates(shape.exterior).tolist()[:-1]]
            self._seen(ring)
            if hatch == "across":
                self._marks += self._crossed(ring, pen)
            else:
                self._marks += self._hatched(shape, hatch)
            self._marks.append(Path(pen, tuple(map(self._to, ring)), closed=True, facts=self._facts(part)))

    def solid(
        self,
        points: Sequence[Point],
        thick: float,
        part: str = "",
        ends: tuple[float, float] = (-inf, inf),
    ) -> None:
        """Thin stuff, all black: a line as thick as it is [in], cut off level at two heights."""
        low, high = max(self.clip.bottom, ends[0]), min(self.clip.top, ends[1])
        box = shapely.box(self.clip.left, low, self.clip.right, high)
        cap = "flat" if ends == (-inf, inf) else "square"
        shape = shapely.LineString(points).buffer(thick / 2, cap_style=cap, join_style="mitre")
        for found in _polygons(shapely.intersection(shape, box)):
            ring = [(x, y) for x, y in shapely.get_coordinates(found.exterior).tolist()[:-1]]
            self._seen(ring)
            self._marks.append(
                Path(None, tuple(map(self._to, ring)), closed=True, fill=DETAIL, facts=self._facts(part))
            )

    def line(self, points: Sequence[Point], pen: Pen) -> None:
        """A line that is not cut: what stands behind, what comes off."""
        box = shapely.box(self.clip.left, self.clip.bottom, self.clip.right, self.clip.top)
        for piece in shapely.get_parts(shapely.intersection(shapely.LineString(points), box)):
            found = [(x, y) for x, y in shapely.get_coordinates(piece).tolist()]
            if len(found) > 1:
                self._seen(found)
                self._marks.append(Path(pen, tuple(map(self._to, found))))

    def label(self, text: str, at: Point, pen: Pen = NOTE) -> None:
        """Words at the right with a leader to a part."""
        self._labels.append(_Label(text, at, pen))

    def height(self, low: float, high: float, text: str, word: str) -> None:
        """A dimension at the left, between two levels [in]: its figure, and under it what it is."""
        self._heights.append((low, high, text, word))

    def cut_off(self, level: float, right: float) -> None:
        """A break line: the wall goes on there."""
        left, middle, half = self.clip.left, (self.clip.left + right) / 2, 0.8 * self.mm
        points = [(left - 2 * half, level), (middle - 2 * half, level), (middle - half, level + 2 * half)]
        points += [(middle + half, level - 2 * half), (middle + 2 * half, level), (right + 2 * half, level)]
        self._marks.append(Path(DETAIL_BEYOND, tuple(map(self._to, points))))

    def parts(self) -> tuple[Mark, ...]:
        """What was drawn, without lettering [job units]."""
        return tuple(self._marks)

    def _seen(self, points: Sequence[Point]) -> None:
        self._right = max(self._right, *(x for x, _ in points))

    def _hatched(self, shape: shapely.Polygon, hatch: Hatch) -> Iterator[Mark]:
        left, bottom, right, top = shape.bounds
        reach = (right - left) + (top - bottom)
        middle = ((left + right) / 2, (bottom + top) / 2)
        for angle, step in _HATCHES.get(hatch, ()):
            along = (cos(radians(angle)), sin(radians(angle)))
            count = int(reach / 2 / (step * self.mm)) + 1
            across, far = (-along[1], along[0]), (reach * along[0], reach * along[1])
            strokes = []
            for index in range(-count, count + 1):
                off = index * step * self.mm
                x, y = middle[0] + off * across[0], middle[1] + off * across[1]
                strokes.append([(x - far[0], y - far[1]), (x + far[0], y + far[1])])
            for part in shapely.get_parts(shapely.intersection(shapely.MultiLineString(strokes), shape)):
                ends = [(a, b) for a, b in shapely.get_coordinates(part).tolist()]
                if len(ends) == 2 and shapely.length(part) > 0.3 * self.mm:
                    yield Line(DETAIL_HATCH, self._to(ends[0]), self._to(ends[1]))

    def _crossed(self, ring: Sequence[Point], pen: Pen) -> Iterator[Mark]:
        """Wood across the grain, a strip: its diagonals."""
        if len(ring) == 4:
            yield Line(pen, self._to(ring[0]), self._to(ring[2]))
            yield Line(pen, self._to(ring[1]), self._to(ring[3]))

    def finished(self, title: str, notes: Sequence[str], width: float) -> tuple[tuple[Mark, ...], Box]:
        """Everything, lettered.

        Args:
            title: what it shows.
            notes: what to do, under the title.
            width: greatest width on the paper [mm].

        Returns:
            Marks in the job's units, and what they cover [mm of paper from the section's origin].
        """
        mm = self.mm
        left = self.clip.left - self._before() * mm
        marks = [*self._marks, *self._dimensions()]
        elbow = self._right + _ELBOW * mm
        column = elbow + _WORDS * mm
        labels, low, high = self._lettered(elbow, column, left + width * mm - column)
        marks += labels
        low = min(low, self.clip.bottom - 2 * mm, *self._dimension_reach())
        high = max(high, self.clip.top + 2 * mm, *self._dimension_reach())
        lines = [line for note in notes for line in wrap(note, width, SMALL)]
        foot = high + _OVER * mm
        top = foot + (len(lines) * LEADING + _UNDER) * mm
        for index, line in enumerate(lines):
            at = (left, foot + ((len(lines) - index) * LEADING - SMALL) * mm)
            marks.append(Text(NOTE, self._to(at), line, SMALL))
        centre = (left + ROUND * mm, top + ROUND * mm)
        marks += circled(self.number, self._to(centre), self._unit * mm, ROUND, TITLE)
        beside = (centre[0] + (ROUND + 2.0) * mm, centre[1])
        room = width - 2 * ROUND - 2.0
        size = TITLE if text_width(title, TITLE, "bold") <= room else SMALL
        words = fitted(title, room, size, "bold")
        marks.append(Text(TEXT, self._to(beside), words, size, vertical="middle", weight="bold"))
        high = centre[1] + ROUND * mm
        box = Box(left / mm, low / mm, left / mm + width, high / mm)
        return tuple(marks), box

    def _before(self) -> float:
        """What dimensions take at the left [mm]."""
        if not self._heights:
            return 2.0
        return _STRING + _BESIDE + max(self._wide(text, word) for _, _, text, word in self._heights)

    @staticmethod
    def _wide(text: str, word: str) -> float:
        return max(text_width(text, TITLE), text_width(word, SMALL)) + 0.5

    def _dimensions(self) -> Iterator[Mark]:
        """Figures level beside their lines, each with its word below."""
        mm = self.mm
        found = sorted(self._heights)
        x = self.clip.left - _STRING * mm
        tall = [(TITLE + 1.2 + SMALL + _APART) * mm for _ in found]
        middles = spread([(low + high) / 2 for low, high, *_ in found], tall)
        for (low, high, text, word), middle in zip(found, middles, strict=True):
            right = x - _BESIDE * mm
            at = (right - text_width(text, TITLE) / 2 * mm, middle + (SMALL + 1.2) / 2 * mm)
            start, end = self._to((self.clip.left, low)), self._to((self.clip.left, high))
            yield Dimension(
                DIMENSION, start, end, self._to((x, low)), 90.0, text, TITLE, self._to(at), level=True
            )
            below = (right, at[1] - (TITLE / 2 + 1.2) * mm)
            yield Text(NOTE, self._to(below), word, SMALL, "end", "cap")

    def _dimension_reach(self) -> Iterator[float]:
        """How low and how high dimensions and their lettering may reach [in]."""
        half = (TITLE + 1.2 + SMALL) / 2 * self.mm
        for low, high, *_ in self._heights:
            yield min(low, (low + high) / 2 - half) - 1.6 * self.mm
            yield max(high, (low + high) / 2 + half) + 1.6 * self.mm

    def _lettered(self, elbow: float, words: float, room: float) -> tuple[list[Mark], float, float]:
        """Labels one under the other, their leaders crossing nowhere; how low and how high they reach."""
        mm = self.mm
        order = sorted(self._labels, key=lambda label: label.at[1])
        levels = self._levels(order, room)
        clear = self._right + _CLEAR * mm
        marks: list[Mark] = []
        low, high = self.clip.bottom, self.clip.top
        for label, level in zip(order, levels, strict=True):
            lines = wrap(label.text, room / mm, SMALL)
            points = (label.at, (clear, label.at[1]), (elbow, level), (words - 0.8 * mm, level))
            marks.append(Leader(LEADER, tuple(map(self._to, points)), "dot"))
            for index, line in enumerate(lines):
                at = (words, level - index * LEADING * mm)
                marks.append(Text(label.pen, self._to(at), line, SMALL, vertical="middle"))
            low = min(low, level - ((len(lines) - 1) * LEADING + SMALL) * mm)
            high = max(high, level + SMALL * mm)
        return marks, low, high

    def _levels(self, order: Sequence[_Label], room: float) -> list[float]:
        """Middle of the first line of each label [in], from the bottom up."""
        mm = self.mm
        counts = [len(wrap(label.text, room / mm, SMALL)) for label in order]
        drops = [(count - 1) * LEADING / 2 * mm for count in counts]
        sizes = [(count * LEADING + _APART) * mm for count in counts]
        wanted = [label.at[1] - drop for label, drop in zip(order, drops, strict=True)]
        for index in range(1, len(wanted)):
            wanted[index] = max(wanted[index], wanted[index - 1])
        middles = spread(wanted, sizes, self.clip.bottom, max(self.clip.top, self.clip.bottom + sum(sizes)))
        return [middle + drop for middle, drop in zip(middles, drops, strict=True)]


def circled(
    number: str, centre: Point, mm: float, radius: float, height: float, ground: bool = False
) -> Iterator[Mark]:
    """A detail's number in a circle on a ground of its own.

    Args:
        number: of the detail.
        centre: of the circle [drawing units].
        mm: drawing units in one millimetre of paper.
        radius: [mm].
        height: of the number [mm].
        ground: the number brings a ground of its own: heavy lines may lie under the circle.
    """
    yield Circle(DETAIL_MARK, centre, radius * mm, fill=PAPER)
    yield Text(DETAIL_MARK, centre, number, height, "middle", "middle", weight="bold", ground=ground)
    if ground and len(number) > 1:  # the ground of two figures reaches over the circle
        yield Circle(DETAIL_MARK, centre, radius * mm)


def _polygons(shape: shapely.Geometry) -> list[shapely.Polygon]:
    return [part for part in shapely.get_parts(shape) if isinstance(part, shapely.Polygon) and part.area > 0]
