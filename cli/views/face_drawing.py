"""A face as the desk shows it: the picture of the sheets as SVG, what can be dragged, and its edges."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from evencourse.cli.views.wall_corners import ties
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.job import Elevation, Units
from evencourse.layout.wall.ground import ground_along
from evencourse.render.building.siding_lines import ground_marks
from evencourse.render.drawing.drawing import Drawing, Mark, Sheet, View
from evencourse.render.elevation.face_picture import face_picture
from evencourse.render.formats.svg import svg
from evencourse.render.words.instructions import FaceInstructions
from evencourse.render.words.plan_words import edge_subject, show

Json = dict[str, Any]
#: Pixels of a screen to a millimetre of the drawing: lettering of 2.5 mm is ten of them high.
PIXELS = 4.0
#: Least and greatest sides of a drawing [mm], and its rim.
SMALLEST, LARGEST, RIM = 60.0, 420.0, 6.0
#: Heights that can be dragged, by key and side.
_LEVELS = {
    ("base", "left"): noop("base at the left corner"),
    ("base", "right"): noop("base at the right corner"),
    ("eave", "left"): noop("eave at the left corner"),
    ("eave", "right"): noop("eave at the right corner"),
    ("grade", "left"): noop("ground at the left corner"),
    ("grade", "right"): noop("ground at the right corner"),
}


@dataclass(frozen=True)
class Place:
    """Where a face lies on its drawing: x on the wall is (x on the drawing - left) * mm, heights likewise.

    Attributes:
        width: of the drawing [mm].
        height: likewise [mm].
        left: of the wall's left corner, from the drawing's left side [mm].
        datum: of the datum, from the drawing's top [mm].
        mm: job units in a millimetre of it.
    """

    width: float
    height: float
    left: float
    datum: float
    mm: float

    def x(self, x: float) -> float:
        """Of a point of the wall, from the drawing's left side [mm]."""
        return round(self.left + x / self.mm, 2)

    def y(self, height: float) -> float:
        """Of a height, from the drawing's top [mm]."""
        return round(self.datum - height / self.mm, 2)


def placed(elevation: Elevation, room: tuple[float, float]) -> Place:
    """A face laid into the room that a screen has for it.

    Args:
        elevation: the face.
        room: width and height [pixels].
    """
    wide, high = (min(LARGEST, max(SMALLEST, size / PIXELS)) for size in room)
    xs, ys = ([point[axis] for point in elevation.outline] for axis in (0, 1))
    ground = [y for _, y in ground_along(elevation, min(xs), max(xs))]
    low, top = min(*ys, *ground), max(*ys, *(roof.top for roof in elevation.roofs))
    mm = max((max(xs) - min(xs)) / (wide - 2 * RIM), (top - low) / (high - 2 * RIM))
    high = min(high, (top - low) / mm + 2 * RIM)
    left = (wide - (max(xs) - min(xs)) / mm) / 2 - min(xs) / mm
    return Place(wide, high, left, RIM + top / mm, mm)


def face_svg(plan: Plan, face: ElevationPlan, place: Place) -> str:
    """The picture of a face as SVG for a page that has the font."""
    drawn = face_picture(plan, face, 1 / place.mm)
    marks: tuple[Mark, ...] = (*ground_marks(face, place.mm), *drawn.marks)
    unit = 25.4 if plan.job.units == "in" else 1.0
    view = View(
        Drawing(drawn.name, drawn.units, marks),
        1 / (place.mm * unit),
        (place.left, place.height - place.datum),
        (0.0, 0.0, place.width, place.height),
    )
    data = svg(Sheet(face.elevation.name, (place.width, place.height), (view,)), portable=False)
    return for_page(data)


def for_page(data: bytes) -> str:
    """An SVG file as a part of a page: its policy takes no styles in attributes, its style sheet sizes it."""
    text = data.decode().partition("?>")[2].strip()
    return re.sub(r' (?:style|width|height)="[^"]*(?:mm|;|:)[^"]*"', "", text)


def edges(plan: Plan, face: ElevationPlan, said: FaceInstructions) -> list[Json]:
    """Edges of a face with what becomes of them.

    Args:
        plan: which the face is of.
        face: the face.
        said: what is said of it.
    """
    return [
        {
            "subject": edge_subject(edge),
            "opening": edge.opening,
            "edge": edge.edge,
            "height": show(plan.job, edge.height),
            "act": act,
            "result": edge.result,
            "importance": edge.importance,
        }
        for edge, act in zip(face.edges, said.edges, strict=True)
    ]


def handles(elevation: Elevation, table: Json, index: int, place: Place, units: Units) -> list[Json]:
    """What can be dragged on a face.

    Args:
        elevation: as read.
        table: its table in the job file.
        index: its place there.
        place: where it lies on the drawing.
        units: of bare numbers in it.
    """
    return list(_handles(elevation, table, index, place, units))


def _handles(elevation: Elevation, table: Json, index: int, place: Place, units: Units) -> Iterator[Json]:
    path = ["elevation", index]
    xs = [x for x, _ in elevation.outline]
    ends = (min(xs), max(xs))
    read = {opening.mark: opening for opening in elevation.openings}
    for number, item in enumerate(table.get("opening", ())):
        hole = read.get(str(item.get("mark"))) if isinstance(item, dict) else None
        if hole is None:
            continue
        box = [place.x(hole.left), place.y(hole.top), hole.width / place.mm, hole.height / place.mm]
        here = [*path, "opening", number]
        yield {"kind": "opening", "path": here, "box": [round(one, 2) for one in box], "label": hole.mark,
               "at": [hole.left, hole.bottom]}  # fmt: skip
        yield {"kind": "size", "path": here, "point": [place.x(hole.right), place.y(hole.top)],
               "label": gettext("width and height of {mark}", mark=hole.mark),
               "at": [hole.right, hole.top]}  # fmt: skip
    if isinstance(table.get("outline"), list):
        corners = zip(elevation.outline, ties(table["outline"], units), strict=False)
        for number, ((x, y), (aside, up)) in enumerate(corners):
            yield {"kind": "corner", "path": [*path, "outline", number], "side": f"{aside},{up}",
                   "point": [place.x(x), place.y(y)],
                   "label": gettext("corner {number} of the outline", number=number + 1),
                   "at": [x, y]}  # fmt: skip
    else:
        for key, pick in (("base", min), ("eave", max)):
            for side, x in zip(("left", "right"), ends, strict=True):
                level = pick(y for at, y in elevation.outline if abs(at - x) < place.mm / 10)
                yield {"kind": "level", "path": [*path, key], "side": side,
                       "point": [place.x(x), place.y(level)],
                       "label": gettext(_LEVELS[key, side]), "at": [x, level]}  # fmt: skip
    grade = table.get("grade")
    if elevation.grade and not (isinstance(grade, list) and any(isinstance(one, list) for one in grade)):
        for side, (x, y) in zip(("left", "right"), (elevation.grade[0], elevation.grade[-1]), strict=True):
            yield {"kind": "level", "path": [*path, "grade"], "side": side, "point": [place.x(x), place.y(y)],
                   "label": gettext(_LEVELS["grade", side]), "at": [x, y]}  # fmt: skip
