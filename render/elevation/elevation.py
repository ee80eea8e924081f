"""One face as a drawing: the wall to scale, round it the ladder, the edge column, strings and callouts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from evencourse.layout.model.course_plan import Edge, ElevationPlan, Plan, Rake
from evencourse.layout.model.job import Opening
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.piece import FacePieces
from evencourse.render.details.detail_set import FaceDetails
from evencourse.render.details.edge_letters import edge_letters
from evencourse.render.drawing.drawing import Drawing, Line, Mark
from evencourse.render.drawing.pens import BAND
from evencourse.render.drawing.placement import Box, Occupied
from evencourse.render.elevation.dimension_strings import (
    String,
    crowded,
    depth,
    height_strings,
    string_marks,
    width_strings,
)
from evencourse.render.elevation.edge_column import (
    INDENT,
    LEAD,
    EdgeColumn,
    Entry,
    column,
    column_marks,
    datum_entries,
    entries,
    sliver_numbers,
)
from evencourse.render.elevation.height_ladder import (
    BRACKET,
    Rung,
    brackets,
    columns_needed,
    ladder,
    ladder_width,
    rungs,
)
from evencourse.render.elevation.match_line import match_sides, reserved
from evencourse.render.elevation.openings import opening_blocks
from evencourse.render.elevation.piece_marks import piece_marks, piece_outlines, seam_marks
from evencourse.render.elevation.rake_callout import rake_callouts
from evencourse.render.elevation.roof_marks import roof_blocks, roof_boxes
from evencourse.render.elevation.siding_lines import (
    PAST,
    base_span,
    extent,
    first_lines,
    ground_line,
    ground_marks,
    level_marks,
    shape,
    siding_marks,
    wall_marks,
)
from evencourse.render.elevation.starter_dimension import BESIDE, starter_dimensions
from evencourse.render.elevation.wall_face import Course, courses
from evencourse.render.elevation.wall_part import clipped, edge_in, meets
from evencourse.render.words.instructions import FaceInstructions
from evencourse.render.words.plan_words import saw_words

#: Least and greatest width of the edge column's words [mm].
COLUMN_LEAST, COLUMN_MOST = 36.0, 76.0
#: From the wall to the ladder, and from the strings to the rail [mm].
_LADDER_GAP, _RAIL_GAP = 8.5, 3.2
_GROUND_AIR, _TOP_AIR = 4.0, 3.0
#: How far callouts may rise over the wall [mm].
_CALLOUT_RISE = 15.0


@dataclass(frozen=True)
class PlacedFace:
    """A face laid out for one scale.

    Attributes:
        wall: what is drawn to scale.
        around: ladder, edge column, strings and callouts, in the same coordinates.
        box: what all of it covers [mm of paper from the drawing's origin].
        fits: the edge column and the strings keep within the room that they have.
    """

    wall: Drawing
    around: Drawing
    box: Box
    fits: bool


@dataclass(frozen=True)
class FaceToDraw:
    """A planned face with what every layout of it needs, found once.

    Attributes:
        plan: the plan.
        face: one of its faces.
        said: the face's instructions.
        hung: its pieces and seams; None when they are not to be drawn.
        details: letters of the details of its edges; None when there are no details.
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
    """

    face: FaceToDraw
    window: Box
    factor: float
    cut: bool

    @property
    def mm(self) -> float:
        """Job units in one millimetre of paper."""
        return 1 / self.factor

    @cached_property
    def rungs(self) -> tuple[Rung, ...]:
        """Rungs of the ladder."""
        return rungs(self.face.plan.job, self.face.courses, self.window.bottom, self.window.top)

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
    def widths(self) -> tuple[String, ...]:
        """Strings below the wall: openings that show from side to side."""
        low, high = self.window.left - SAME, self.window.right + SAME
        whole = [hole for hole in self.openings if hole.left >= low and hole.right <= high]
        return width_strings(self.face.plan.job, whole, self.window.left, self.window.right)

    @cached_property
    def heights(self) -> tuple[String, ...]:
        """Strings beside the wall: openings that show from sill to head."""
        low, high = self.window.bottom - SAME, self.window.top + SAME
        whole = [hole for hole in self.openings if hole.bottom >= low and hole.top <= high]
        return height_strings(self.face.plan.job, whole)

    @cached_property
    def banded(self) -> bool:
        """Whether brackets beside the ladder tell bands apart."""
        sets = [self.face.plan.course_sets[zone.course_set] for zone in self.face.face.zones]
        return len(sets) > 1 or any(len(course_set.lines.bands) > 1 for course_set in sets)

    @property
    def before(self) -> float:
        """What stands left of the wall [mm]."""
        return _LADDER_GAP + ladder_width(self.rungs, self.mm, self.banded)

    @property
    def strings(self) -> float:
        """From the wall to the rail of the edge column [mm]."""
        return BESIDE + depth(self.heights, "y") + _RAIL_GAP

    @property
    def after(self) -> float:
        """What stands right of the wall, the words of the edge column aside [mm]."""
        return self.strings + LEAD + INDENT

    @property
    def below(self) -> float:
        """What stands below the wall [mm]."""
        return _GROUND_AIR + depth(self.widths, "x") + 1.0

    def column_width(self, room: float) -> float:
        """Width left for the words of the edge column in so much room [mm]."""
        return min(COLUMN_MOST, room - self.before - self.after - self.window.width * self.factor)

    @property
    def crowded(self) -> bool:
        """Whether a string has more lettering than it is long."""
        across, up = self.lettering
        return crowded(self.widths, self.mm, across[1] - across[0]) or crowded(
            self.heights, self.mm, up[1] - up[0]
        )

    @property
    def lettering(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Where the lettering of strings below and beside the wall may stand: from and to, x and y."""
        window, mm = self.window, self.mm
        return (
            (window.left - (self.before - 1.0) * mm, window.right + (self.strings - 2.0) * mm),
            (window.bottom, window.top + _TOP_AIR * mm),
        )


def elevation_drawing(
    plan: Plan,
    face: ElevationPlan,
    said: FaceInstructions,
    scale: float,
    hung: FacePieces | None = None,
    details: FaceDetails | None = None,
) -> Drawing:
    """A whole face as one drawing at full size, lettered for a scale.

    Args:
        plan: the plan.
        face: one of its faces.
        said: the face's instructions.
        scale: paper over real size, that lettering is meant for.
        hung: its pieces and seams; None when they are not to be drawn.
        details: letters of the details of its edges; None for none.

    Returns:
        Butt lines, face lines, seams, marks and outlines of pieces, openings as blocks with attributes,
        outline, starter, chalk line, datum and ground; height ladder, edge column, strings, rake callouts.
    """
    placed = place(FaceToDraw(plan, face, said, hung, details).part(None, scale), COLUMN_MOST)
    outlines = () if hung is None else piece_outlines(hung)
    return Drawing(face.elevation.name, plan.job.units, (*placed.wall.marks, *placed.around.marks, *outlines))


def place(part: FacePart, width: float, height: float | None = None) -> PlacedFace:
    """Lay a part of a face out.

    Args:
        part: what is shown, at which scale.
        width: of the edge column's words [mm].
        height: of the paper's room, when the edge column has to keep within it [mm].
    """
    plan, face, window = part.face.plan, part.face.face, part.window
    job, mm, factor = plan.job, part.mm, part.factor
    left, right = window.left, window.right
    base = window.bottom - _GROUND_AIR * mm
    bottom, top = window.bottom - part.below * mm, window.top + _TOP_AIR * mm

    taken = Occupied(shapes=[shape(plan, face), face.elevation.outline], lines=list(ground_line(face)))
    ends = base_span(plan, face)
    for level in (0.0, *(line for line, _, _ in first_lines(plan, face))):
        taken.take(Box(ends[0] - PAST * mm, level - mm, ends[1] + PAST * mm, level + mm))
    if part.cut:
        boxes = list(reserved(job, window, part.face.extent, mm))
        taken.take(*boxes)
        taken.lines += match_sides(window, part.face.extent, mm)
        top = max([top, *(box.top for box in boxes)])
    around: list[Mark] = [*starter_dimensions(plan, face, window, taken, mm)]
    around += string_marks(part.widths, "x", base, mm, part.lettering[0])
    around += string_marks(part.heights, "y", right + BESIDE * mm, mm, part.lettering[1])
    around += _ladder_marks(part)
    room = Box(left - (_LADDER_GAP - 2.0) * mm, window.bottom, right + 2.0 * mm, top + _CALLOUT_RISE * mm)
    highest = room.top if height is None else min(room.top, bottom + height * mm)
    tight = replace(room, top=highest)
    callouts, rake_entries, callout_top = _rakes(part, taken, room, tight)
    around += callouts
    top = max(top, callout_top)

    lines = [
        *entries(_acts(part), plan, part.face.slivers),
        *rake_entries,
        *(
            entry
            for entry in datum_entries(plan, face)
            if window.bottom - SAME <= entry.height <= window.top + SAME
        ),
    ]
    col, fits = _column(lines, factor, width, (bottom * factor, top * factor), height)
    around += column_marks(col, right + part.strings * mm, factor)
    box = Box(
        left * factor - part.before,
        min(bottom * factor, col.low),
        right * factor + part.after + width,
        max(top * factor, col.high),
    )
    wall, beside = (Drawing(face.elevation.name, job.units, tuple(one)) for one in (_wall(part), around))
    return PlacedFace(wall, beside, box, fits)


def _acts(part: FacePart) -> dict[Edge, str]:
    """What to do at the edges that show."""
    return {edge: words for edge, words in part.face.said.acts.items() if edge_in(edge, part.window)}


def _wall(part: FacePart) -> Iterator[Mark]:
    """What is drawn to scale."""
    plan, face, mm, whole = part.face.plan, part.face.face, part.mm, part.face.extent
    outline = face.elevation.outline
    taken = Occupied(
        lines=list(zip(outline, (*outline[1:], outline[0]), strict=True)),
        levels=[Box(whole.left, -0.6 * mm, whole.right, 0.6 * mm)],
    )
    hung, window = part.face.hung, part.window if part.cut else None
    siding = tuple(siding_marks(part.face.courses, mm))
    taken.bars += [(mark.start, mark.end) for mark in siding if isinstance(mark, Line) and mark.pen is BAND]
    yield from siding
    if hung is not None:
        yield from seam_marks(hung, mm)
    yield from wall_marks(face)
    yield from ground_marks(face, mm)
    levels = [level for line, chalk, _ in first_lines(plan, face) for level in (line, chalk)]
    levels += [plan.course_sets[zone.course_set].lines.starter for zone in face.zones[1:]]
    for level in dict.fromkeys(levels):
        taken.levels.append(Box(whole.left, level - 0.3 * mm, whole.right, level + 0.3 * mm))
    taken.take(*roof_boxes(face))
    yield from opening_blocks(plan, face, mm, part.face.slivers, taken, window)
    yield from edge_letters(face, part.face.details, mm, taken, window)
    yield from roof_blocks(plan.job, face, mm, taken, window)
    yield from level_marks(plan, face, mm)
    if hung is not None:
        yield from piece_marks(hung, mm, taken, window)


def _ladder_marks(part: FacePart) -> Iterator[Mark]:
    plan, mm, window = part.face.plan, part.mm, part.window
    rail = window.left - _LADDER_GAP * mm
    yield from ladder(plan.job, part.rungs, part.face.courses, rail, mm)
    if part.banded:
        sets = [plan.course_sets[zone.course_set] for zone in part.face.face.zones]
        at = rail - (ladder_width(part.rungs, mm, True) - BRACKET + 3.0) * mm
        yield from brackets(plan.job, sets, part.rungs, window.bottom, window.top, at, mm)


def _rakes(part: FacePart, taken: Occupied, room: Box, tight: Box) -> tuple[list[Mark], list[Entry], float]:
    """Callouts at the rakes, entries for what had no room there, and how high the callouts reach."""
    job, top = part.face.plan.job, float("-inf")
    marks: list[Mark] = []
    told: dict[tuple[float, str], list[Rake]] = {}
    words_of = dict(zip(part.face.face.rakes, part.face.said.rakes, strict=True))
    shown = {rake: words for whole, words in words_of.items() if (rake := clipped(whole, part.window))}
    sides = [[rake for rake in shown if rake.side == side] for side in ("top", "base")]
    callouts = [rake_callouts(rakes, job, part.mm, taken, room, tight) for rakes in sides]
    for rake, callout in zip((*sides[0], *sides[1]), (*callouts[0], *callouts[1]), strict=True):
        if callout is not None:
            marks += callout.marks
            top = max(top, callout.box.top)
        if callout is None or not callout.full:
            words = saw_words(rake) if callout else shown[rake]
            told.setdefault((round(rake.start[1] + rake.end[1], 6), words), []).append(rake)
    found = [
        Entry(total / 2, f"Rake, {group[0].hand}" if len(group) == 1 else "Rakes", words)
        for (total, words), group in told.items()
    ]
    return marks, found, top


def _column(
    lines: Sequence[Entry], factor: float, width: float, span: tuple[float, float], height: float | None
) -> tuple[EdgeColumn, bool]:
    """The edge column, and whether it keeps within the height of the room."""
    if height is None:
        return column(lines, factor, width, None, None), True
    low, high = span
    spare = max(0.0, height - (high - low))
    low, high = low - spare / 2, high + spare / 2
    col = column(lines, factor, width, low, high)
    return col, col.low >= low - SAME
