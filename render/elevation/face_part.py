"""A face to be drawn, and a part of it measured for a scale: what stands round it, and what that takes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from evencourse.layout.model.course_plan import Edge, ElevationPlan, Plan
from evencourse.layout.model.geometry import box_of
from evencourse.layout.model.job import Fixture, Opening
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.piece import FacePieces
from evencourse.layout.wall.sides import base_steps
from evencourse.render.building.roof_edge import fascia_bands
from evencourse.render.building.siding_lines import extent, lowest_line
from evencourse.render.building.wall_face import Course, courses, lowest_set
from evencourse.render.building.wall_part import meets, segment_in
from evencourse.render.details.detail_set import FaceDetails
from evencourse.render.drawing.placement import Box
from evencourse.render.elevation.edge_column import INDENT, LEAD, sliver_numbers
from evencourse.render.elevation.height_ladder import (
    BRACKET,
    Rung,
    ZoneBracket,
    brackets_width,
    columns_needed,
    ladder_width,
    rungs,
    zone_brackets,
)
from evencourse.render.elevation.level_marks import level_reach
from evencourse.render.elevation.match_line import WORDS_BELOW
from evencourse.render.elevation.running_dimensions import RunningString, running_strings, strings_depth
from evencourse.render.words.instructions import FaceInstructions

#: Least and greatest width of the edge column's words [mm].
COLUMN_LEAST, COLUMN_MOST = 24.0, 76.0
#: From what stands beside the wall to the ladder, and below the wall to the first string [mm].
_LADDER_GAP, GROUND_AIR = 0.2, 2.4
#: Air beside a roof edge [mm].
_ROOF_AIR = 0.8


@dataclass(frozen=True)
class FaceToDraw:
    """A planned face with what every layout of it needs, found once.

    Attributes:
        plan: the plan.
        face: one of its faces.
        said: the face's instructions.
        hung: its pieces and seams; None when they are not to be drawn.
        details: numbers of the details of its edges; None when there are no details.
    """

    plan: Plan
    face: ElevationPlan
    said: FaceInstructions
    hung: FacePieces | None = None
    details: FaceDetails | None = None

    @cached_property
    def courses(self) -> tuple[Course, ...]:
        """The courses that show, from the bottom up."""
        return tuple(courses(self.plan, self.face))

    @cached_property
    def slivers(self) -> dict[Edge, int]:
        """Numbers of the slivers."""
        return sliver_numbers(self.said.acts, self.plan)

    @cached_property
    def extent(self) -> Box:
        """What is drawn to scale."""
        return extent(self.plan, self.face)

    @property
    def unit(self) -> float:
        """Millimetres in one job unit."""
        return 25.4 if self.plan.job.units == "in" else 1.0

    def part(self, window: Box | None, scale: float) -> FacePart:
        """A part of the face, measured for a scale; all of it without a window."""
        return FacePart(self, window or self.extent, scale * self.unit, window is not None)


@dataclass(frozen=True)
class FacePart:
    """A part of a face at one scale: what stands round it and how much room that takes.

    Attributes:
        face: the face.
        window: what is shown of the wall [job units].
        factor: millimetres of paper for one job unit.
        cut: the wall goes on outside the window.
        widest: what the brackets of the ladder may take [mm].
    """

    face: FaceToDraw
    window: Box
    factor: float
    cut: bool
    widest: float = BRACKET

    @property
    def mm(self) -> float:
        """Job units in one millimetre of paper."""
        return 1 / self.factor

    @cached_property
    def rungs(self) -> tuple[Rung, ...]:
        """Rungs of the ladder, from the lowest line that a course stands on."""
        plan, face = self.face.plan, self.face.face
        first, lowest = lowest_line(plan, face)[0], lowest_set(plan, face)
        courses = [one for one in self.face.courses if one.course_set is not lowest or one.number >= first]
        return rungs(plan.job, courses, self.window.bottom, self.window.top)

    @cached_property
    def columns(self) -> int:
        """Staggered columns that the ladder's labels take."""
        return columns_needed(self.rungs, self.mm)

    @cached_property
    def openings(self) -> tuple[Opening, ...]:
        """Openings that show."""
        return tuple(
            hole
            for hole in self.face.face.elevation.openings
            if meets((hole.left, hole.right), (self.window.left, self.window.right))
            and meets((hole.bottom, hole.top), (self.window.bottom, self.window.top))
        )

    @cached_property
    def strings(self) -> tuple[RunningString, ...]:
        """Running dimensions below the wall."""
        window, wall, job = self.window, self.face.face.elevation, self.face.plan.job
        steps = [
            x
            for x, low, high in base_steps(wall.outline)
            if window.left < x < window.right and meets((low, high), (window.bottom, window.top))
        ]
        roofs = [roof for roof in wall.roofs if window.meets(Box(*box_of(roof.outline())))]
        return running_strings(job, self.openings, self.fixtures, window, self.face.extent, steps, roofs)

    @cached_property
    def fixtures(self) -> tuple[Fixture, ...]:
        """Fixtures whose middle shows."""
        window = self.window
        return tuple(
            item
            for item in self.face.face.elevation.fixtures
            if window.left <= (item.left + item.right) / 2 <= window.right
            and meets((item.bottom, item.top), (window.bottom, window.top))
        )

    @cached_property
    def zones(self) -> tuple[ZoneBracket, ...]:
        """Brackets beside the ladder, where they tell exposure zones apart."""
        plan, window = self.face.plan, self.window
        sets = [plan.course_sets[zone.course_set] for zone in self.face.face.zones]
        if len(sets) < 2 and all(len(course_set.lines.bands) < 2 for course_set in sets):
            return ()
        span = (window.bottom, window.top)
        return zone_brackets(plan.job, sets, self.rungs, span, self.mm, self.widest)

    @cached_property
    def roof(self) -> Box:
        """What roof edges and wall cover, as far as they show [job units]."""
        shown, wall, far = self.window, self.face.extent, float("inf")
        part = Box(
            -far if shown.left <= wall.left + SAME else shown.left,
            -far if shown.bottom <= wall.bottom + SAME else shown.bottom,
            far if shown.right >= wall.right - SAME else shown.right,
            far if shown.top >= wall.top - SAME else shown.top,
        )
        ends = [(shown.left, shown.bottom), (shown.right, shown.top)]
        for band in fascia_bands(self.face.plan.job, self.face.face):
            for start, end in zip(band, (*band[1:], band[0]), strict=True):
                ends += segment_in(start, end, part) or ()
        return Box(*box_of(ends))

    @property
    def under_words(self) -> Box:
        """What words at plumb match lines stand over: what is shown, up to the roof's edge [job units]."""
        return replace(self.window, top=max(self.window.top, self.roof.top))

    @cached_property
    def beside(self) -> tuple[float, float]:
        """What level marks and roof edges take left and right of the wall [mm]."""
        elevation, roof, shown = self.face.face.elevation, self.roof, self.window
        out = ((elevation.left, shown.left - roof.left), (elevation.right, roof.right - shown.right))
        left, right = (
            max(level_reach(self.face.plan, corner, self.mm), over * self.factor + _ROOF_AIR)
            for corner, over in out
        )
        return left, right

    @cached_property
    def ladder_gap(self) -> float:
        """From the wall to the ladder [mm]."""
        return self.beside[0] + _LADDER_GAP

    @cached_property
    def before(self) -> float:
        """What stands left of the wall [mm]."""
        return self.ladder_gap + ladder_width(self.rungs, self.mm, brackets_width(self.zones))

    @property
    def after(self) -> float:
        """What stands right of the wall, the words of the edge column aside [mm]."""
        return self.beside[1] + LEAD + INDENT

    @property
    def after_alone(self) -> float:
        """What stands right of the wall without an edge column [mm]."""
        return self.beside[1]

    @property
    def air_below(self) -> float:
        """From what is shown of the wall to the strings; the words of a level match line stand there [mm]."""
        cut = self.window.bottom > self.face.extent.bottom + SAME
        return GROUND_AIR + (WORDS_BELOW if cut else 0.0)

    @cached_property
    def below(self) -> float:
        """What stands below the wall [mm]."""
        return self.air_below + strings_depth(self.strings, self.mm, self.lettering) + 1.0

    def column_width(self, room: float) -> float:
        """Width left for the words of the edge column in so much room [mm]."""
        return min(COLUMN_MOST, room - self.before - self.after - self.window.width * self.factor)

    @cached_property
    def lettering(self) -> tuple[float, float]:
        """Where the lettering of strings may stand: x from and to."""
        window, mm = self.window, self.mm
        return (window.left - (self.before - 1.0) * mm, window.right + self.beside[1] * mm)
