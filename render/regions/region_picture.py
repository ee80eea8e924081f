"""A drafter's drawing with its regions numbered: faces by large figures, what can be picked by small ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from evencourse.layout.drawings.picks import VIEWS, NumberedRegion
from evencourse.layout.language.speech import gettext, pgettext
from evencourse.layout.model.geometry import Box, box_of
from evencourse.render.drawing.drawing import Circle, Mark, Path, Point, Sheet, Text
from evencourse.render.drawing.pens import (
    BUTT_FINE,
    FLUSH,
    GLASS,
    GREY_RULE,
    NOTCH,
    OUTLINE,
    PAPER,
    TEXT,
    TITLE_THIN,
    Pen,
)

#: Longer side of the picture, its margin, room for the legend, and for figures over the topmost face [mm].
_LONG, _MARGIN, _FOOT, _TOP = 400.0, 10.0, 12.0, 4.0
#: Height of the capitals of figures at faces and at the rest, and the least for the latter [mm].
_FACE, _REST, _LEAST = 7.0, 3.5, 1.8


@dataclass(frozen=True)
class RegionPlace:
    """Where a drawing lies on its picture.

    Attributes:
        corner: of the drawing, lower left [drawing units].
        factor: millimetres of the picture in one drawing unit.
        paper: width and height of the picture [mm].
    """

    corner: Point
    factor: float
    paper: Point

    def at(self, point: Point) -> Point:
        """A point of the drawing on the picture, from its lower left corner [mm]."""
        return (
            _MARGIN + (point[0] - self.corner[0]) * self.factor,
            _MARGIN + _FOOT + (point[1] - self.corner[1]) * self.factor,
        )


def region_place(regions: Sequence[NumberedRegion], lines: Sequence[Sequence[Point]]) -> RegionPlace:
    """Where a drawing lies on its picture; arguments as of :func:`region_picture`."""
    shown = [point for line in lines for point in line] or [p for one in regions for p in one.shape.points]
    box = box_of(shown) if shown else (0.0, 0.0, 1.0, 1.0)
    factor = (_LONG - 2 * _MARGIN) / max(box[2] - box[0], box[3] - box[1], 1e-9)
    wide, high = (box[2] - box[0]) * factor, (box[3] - box[1]) * factor + _FOOT + _TOP
    return RegionPlace(box[:2], factor, (max(wide + 2 * _MARGIN, 120.0), max(high + 2 * _MARGIN, 60.0)))


def region_picture(
    regions: Sequence[NumberedRegion], lines: Sequence[Sequence[Point]], title: str, foot: str | None = None
) -> Sheet:
    """One sheet that shows a drawing and what can be picked on it.

    Args:
        regions: with their numbers.
        lines: of the drawing, in its units.
        title: what the drawing is called.
        foot: what the picture says of its lines; None for how the command picks from them.
    """
    if foot is None:
        foot = gettext(
            "bold: taken as a face or an opening; dashed: can be picked with --face NUMBER or --opening "
            "NUMBER"
        )
    place = (where := region_place(regions, lines)).at
    marks: list[Mark] = []
    for one in regions:
        pen, fill = _pens(one)
        marks.append(Path(pen, tuple(map(place, one.shape.points)), True, fill=fill))
    marks += [Path(BUTT_FINE, tuple(map(place, line))) for line in lines if len(line) > 1]
    taken: list[Box] = []
    for one in sorted(regions, key=lambda one: (one.shape.what not in VIEWS, one.number)):
        marks += _figure(one, tuple(map(place, one.shape.points)), taken)
    marks.append(Text(TEXT, (_MARGIN, _MARGIN / 2), f"{title}   {foot}", 2.5))
    return Sheet(title, where.paper, marks=tuple(marks))


def _pens(one: NumberedRegion) -> tuple[Pen, Pen | None]:
    if not one.shape.taken:
        return (GREY_RULE if one.shape.what in VIEWS else TITLE_THIN), None
    return (OUTLINE, None) if one.shape.what == "face" else (FLUSH, GLASS)


def _figure(one: NumberedRegion, ring: Sequence[Point], taken: list[Box]) -> list[Mark]:
    """A region's number, in a disc where it is a face, at a place that is free."""
    left, low, right, high = box_of(ring)
    face = one.shape.what in VIEWS
    height = _FACE if face else max(_LEAST, min(_REST, (high - low) / 3, (right - left) / 3))
    text = str(one.number)
    wide, half = height * 0.62 * len(text), height / 2
    if face:
        tries = [(left + height, high + height), (left + height, high - height)]
    else:
        spots = ((0.5, 0.5), (0.5, 0.2), (0.5, 0.8), (0.15, 0.5), (0.85, 0.5), (0.15, 0.15), (0.85, 0.85))
        tries = [(left + x * (right - left), low + y * (high - low)) for x, y in spots]
        area = shapely.Polygon(ring)
        if area.is_valid:
            inside = shapely.point_on_surface(area)
            tries.insert(1, (inside.x, inside.y))
    at = next((spot for spot in tries if not _hits(spot, wide, half, taken)), tries[0])
    taken.append((at[0] - wide / 2, at[1] - half, at[0] + wide / 2, at[1] + half))
    marks: list[Mark] = []
    if face:
        pen = OUTLINE if one.shape.taken else NOTCH
        marks.append(Circle(pen, at, height * 0.85, fill=PAPER))
        if one.shape.what != "face":
            view = (
                pgettext("kind of drawing", "plan")
                if one.shape.what == "plan"
                else pgettext("kind of drawing", "section")
            )
            marks.append(
                Text(TEXT, (at[0] + height, at[1]), view, height / 2, "start", "middle", ground=True)
            )
    weight = "bold" if one.shape.taken else "regular"
    marks.append(Text(TEXT, at, text, height, "middle", "middle", weight=weight, ground=not face))  # type: ignore[arg-type]
    return marks


def _hits(spot: Point, wide: float, half: float, taken: Sequence[Box]) -> bool:
    x, y = spot
    return any(
        x - wide / 2 < b[2] and x + wide / 2 > b[0] and y - half < b[3] and y + half > b[1] for b in taken
    )
