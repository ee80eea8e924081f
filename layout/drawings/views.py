"""What the views of a drawing are: elevations, plans, sections; and what their regions may be."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import hypot, pi
from statistics import median

import shapely

from evencourse.layout.dxf.dxf_entities import Curve, DxfLabel
from evencourse.layout.dxf.dxf_geometry import Conic
from evencourse.layout.dxf.layers import sizes, titles, words_of
from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.geometry import Box, box_of
from evencourse.layout.model.job import Point

#: Rooms that are named in a view before it is a plan.
_ROOMS = 2
#: Most words of a view's title: a sentence that speaks of a foundation is none.
_TITLE_WORDS = 8


@dataclass(frozen=True)
class Region:
    """An enclosed part of a drawing.

    Attributes:
        points: its outline, counter-clockwise [drawing units].
        what: ``wall``, ``opening``, ``casing``, ``roof edge``, or ``region`` when nothing says what it is.
    """

    points: tuple[Point, ...]
    what: str

    @cached_property
    def box(self) -> Box:
        """Left, bottom, right, top."""
        return box_of(self.points)


@dataclass
class Blob:
    """What hangs together on a drawing: an elevation, a plan, a table.

    Attributes:
        outline: round all of it [drawing units].
        thick: how much of it are ring-shaped regions as thick as walls are in a plan.
        regions: what may be a wall, an opening and so on, the likelier first of each.
    """

    outline: tuple[Point, ...]
    thick: bool = False
    regions: list[Region] = field(default_factory=list)

    @cached_property
    def box(self) -> Box:
        """Left, bottom, right, top."""
        return box_of(self.outline)

    def of(self, what: str) -> list[Region]:
        """Its regions of one kind."""
        return [region for region in self.regions if region.what == what]


def kind_of_view(
    blob: Blob, labels: Sequence[DxfLabel], swings: Sequence[Point], layer: str, inch: float
) -> tuple[str, str]:
    """What a view shows, ``elevation``, ``plan`` or ``section``, and why."""
    left, low, right, high = blob.box
    below = max(0.3 * (high - low), 36 * inch)
    known = titles()
    rooms = 0
    title: tuple[float, str, str] | None = None
    for label in labels:
        x, y = label.source.at
        if not (left - 0.1 * (right - left) <= x <= right and low - below <= y <= high):
            continue
        named = words_of(label.text)
        if len(named) > _TITLE_WORDS:
            continue
        words = set(named)
        inside = low <= y and left <= x
        rooms += inside and bool(words & set(known["rooms"]))
        if inside and words & set(known["cuts"]):
            return "section", gettext('the lettering "{text}"', text=label.text[:40])
        if words & set(known["plans"]) and not words & set(known["views"]):
            said = "plan"
        elif words & set(known["views"]):
            said = "elevation"
        else:
            continue
        off = abs(y - low) + (below if inside else 0.0)
        if title is None or off < title[0]:
            title = (off, said, label.text[:40])
    if title is not None:
        return title[1], gettext('the lettering "{text}"', text=title[2])
    for kind, said in (("section", "cuts"), ("plan", "plans")):
        if set(words_of(layer)) & set(known[said]) and not set(words_of(layer)) & set(known["views"]):
            return kind, gettext('its layer "{layer}"', layer=layer)
    if rooms >= _ROOMS:
        return "plan", gettext("{count} rooms are named in it", count=rooms)
    if blob.thick:
        return "plan", gettext("walls are drawn as thick as they are")
    turns = sum(left <= x <= right and low <= y <= high for x, y in swings)
    if turns:
        return "plan", ngettext("swings of {count} doors", "swings of {count} doors", turns)
    return "elevation", gettext("its shape")


def kind_of_opening(box: Box, base: float, inch: float) -> str:
    """The role of an opening, from its size and whether it stands on the base."""
    (least, most), (narrow, wide) = sizes()["door_height"], sizes()["door_width"]
    width, height = (box[2] - box[0]) / inch, (box[3] - box[1]) / inch
    if abs(box[1] - base) > 9 * inch or not least <= height <= most or width < narrow:
        return "window"
    return "door" if width <= wide else "garage door"


def is_plan_wall(region: shapely.Polygon, inch: float) -> bool:
    """Whether a region is a ring as thick as walls are: in an elevation there is none."""
    left, low, right, high = region.bounds
    least, most = (one * inch for one in sizes()["wall_thickness"])
    if not region.interiors or right - left + high - low < 4 * sizes()["wall_height"][0] * inch:
        return False
    thin = region.area < 0.3 * shapely.Polygon(region.exterior).area
    return bool(thin and least <= 2 * region.area / region.length <= most)


def course_strips(boxes: Sequence[Box], inch: float) -> set[int]:
    """Which regions are siding that is drawn: five strips or more, one on another, and what lies in one."""
    least, most = (one * inch for one in sizes()["course"])
    rows = set()
    for left, low, right, high in boxes:
        if least <= high - low <= most and right - left >= 3 * (high - low):
            rows.add((round(low / inch * 4), round(high / inch * 4)))
    levels = sorted(rows)
    stacked = [
        (low, high) for low, high in levels
        if any(abs(low - top) <= 1 or abs(high - bottom) <= 1 for bottom, top in levels)
    ]  # fmt: skip
    if len({low for low, _ in stacked}) < 5:
        return set()
    usual = float(median(high - low for low, high in stacked))
    rungs = sorted({edge for row in stacked if abs(row[1] - row[0] - usual) <= 2 for edge in row})
    found = set()
    for place, box in enumerate(boxes):
        low, high = box[1] / inch * 4, box[3] / inch * 4
        below = bisect_right(rungs, low + 1)
        if below and high <= rungs[below - 1] + usual + 2:
            found.add(place)
    return found


def swings_of(curves: Sequence[Curve], inch: float) -> list[Point]:
    """Middles of the quarter turns that doors are drawn by in a plan."""
    least, most = sizes()["swing"]
    found = []
    for curve in curves:
        for part in curve.parts:
            if isinstance(part, Conic) and abs(abs(part.end - part.start) - pi / 2) < 0.1:
                radius = hypot(*part.u) / inch
                if least <= radius <= most:
                    found.append(part.at((part.start + part.end) / 2))
    return found
