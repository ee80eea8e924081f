"""One face as a drawing: the wall to scale, round it the ladder, the edge column, strings and callouts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot, inf

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.course_plan import Edge, ElevationPlan, Plan, Rake
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.piece import FacePieces
from evencourse.render.building.piece_lines import piece_outlines
from evencourse.render.building.roof_edge import fascia_bands, fascia_depth, post_width
from evencourse.render.building.siding_lines import ground_line, shape
from evencourse.render.building.wall_part import clipped, edge_in, meets
from evencourse.render.details.detail_set import FaceDetails
from evencourse.render.drawing.drawing import Drawing, Mark, Point
from evencourse.render.drawing.placement import Box, Occupied
from evencourse.render.elevation.edge_column import (
    EdgeColumn,
    Entry,
    column,
    column_marks,
    entries,
    fixture_entry,
    passed,
    starter_entries,
)
from evencourse.render.elevation.face_part import COLUMN_MOST, FacePart, FaceToDraw
from evencourse.render.elevation.height_ladder import BESIDE, brackets, ladder, ladder_width
from evencourse.render.elevation.level_marks import level_boxes, level_marks
from evencourse.render.elevation.match_line import match_sides, reserved
from evencourse.render.elevation.rake_callout import SlopedEdge, rake_callouts
from evencourse.render.elevation.running_dimensions import running_marks
from evencourse.render.elevation.wall_drawing import wall_drawing
from evencourse.render.words.instructions import FaceInstructions
from evencourse.render.words.plan_words import rake_side, saw_words
from evencourse.render.words.rake_words import rake_layouts

#: Over the wall, and how far callouts may rise over it [mm].
_TOP_AIR, _CALLOUT_RISE = 3.0, 15.0
#: How far a roof edge may reach over what may be drawn on: it is no lettering, and keeps off the border [mm].
_ROOF_OVER = 1.0


@dataclass(frozen=True)
class PlacedFace:
    """What stands round a part of a face, laid out for one scale.

    Attributes:
        around: ladder, edge column, strings and callouts, in the wall's coordinates.
        box: what all of it covers [mm of paper from the drawing's origin].
        fits: the edge column keeps within the room that it has.
        told: what stands at the edges, when the drawing has no column for it.
    """

    around: Drawing
    box: Box
    fits: bool
    told: tuple[Entry, ...] = ()


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
        details: numbers of the details of its edges; None for none.

    Returns:
        Butt lines, face lines, seams, marks and outlines of pieces, openings as blocks with attributes,
        outline, starter, chalk line, datum and ground; height ladder, edge column, strings, rake callouts.
    """
    part = replace(FaceToDraw(plan, face, said, hung, details).part(None, scale), widest=inf)
    wall = wall_drawing(part)
    marks = (*wall.drawing.marks, *place(part, COLUMN_MOST, outside=wall.outside).around.marks)
    outlines = () if hung is None else piece_outlines(hung)
    return Drawing(face.elevation.name, plan.job.units, (*marks, *outlines))


@dataclass(frozen=True)
class Surroundings:
    """What stands round a part of a face, its edge column aside.

    Attributes:
        marks: levels, strings, ladder and callouts.
        lines: what is told at the edges.
        bottom: the lowest of it [job units].
        top: the highest.
        height: of the paper's room; None for any [mm].
        passed: what leaders of its edge column pass over or under [job units].
    """

    marks: tuple[Mark, ...]
    lines: tuple[Entry, ...]
    bottom: float
    top: float
    height: float | None
    passed: tuple[Box, ...]


def place(
    part: FacePart, width: float | None, height: float | None = None, outside: Sequence[Box] = ()
) -> PlacedFace:
    """Lay a part of a face out.

    Args:
        part: what is shown, at which scale.
        width: of the edge column's words [mm]; None for no column: what it says is told elsewhere.
        height: of the paper's room, when the edge column has to keep within it [mm].
        outside: what the wall's own drawing takes outside it [job units].
    """
    return with_column(part, surroundings(part, height, outside), width)


def surroundings(part: FacePart, height: float | None, outside: Sequence[Box] = ()) -> Surroundings:
    """Everything round a part of a face but its edge column; arguments as for :func:`place`."""
    plan, face, window = part.face.plan, part.face.face, part.window
    job, mm, wall = plan.job, part.mm, part.face.extent
    base = window.bottom - part.air_below * mm
    bottom = window.bottom - part.below * mm
    top = max(window.top + _TOP_AIR * mm, part.roof.top - _ROOF_OVER * mm)

    shapes: list[Sequence[Point]] = [shape(plan, face), face.elevation.outline, *fascia_bands(job, face)]
    taken = Occupied(shapes=shapes, lines=list(ground_line(face)))
    if part.cut:
        boxes = list(reserved(job, part.under_words, wall, mm))
        taken.take(*boxes)
        taken.lines += match_sides(window, wall, mm)
        top = max([top, *(box.top for box in boxes)])
    around: list[Mark] = [*level_marks(plan, face, window, wall, mm)]
    taken.take(*level_boxes(plan, face, window, part.beside, mm), *outside)
    around += running_marks(part.strings, wall.left, base, mm, part.lettering)
    around += _ladder_marks(part)
    left, right = window.left - (part.ladder_gap - 2.0) * mm, window.right + (part.beside[1] - 2.0) * mm
    room = Box(left, window.bottom, right, top + _CALLOUT_RISE * mm)
    highest = room.top if height is None else min(room.top, bottom + height * mm)
    callouts, rake_entries, callout_top = _rakes(part, taken, room, replace(room, top=highest))
    around += callouts
    starters = (
        entry
        for entry in starter_entries(plan, face)
        if window.bottom - SAME <= entry.height <= window.top + SAME
    )
    placed = (fixture_entry(job, item) for item in part.fixtures)
    lines = (*entries(_acts(part), plan, part.face.slivers), *rake_entries, *starters, *placed)
    top = max(top, callout_top, *(box.top + mm for box in outside))
    return Surroundings(tuple(around), lines, bottom, top, height, (*passed(around, mm), *outside))


def with_column(part: FacePart, given: Surroundings, width: float | None) -> PlacedFace:
    """What stands round a part of a face with an edge column of a width, or without one."""
    factor, right, height = part.factor, part.window.right, given.height
    around, lines, fits = list(given.marks), given.lines, True
    bottom, top = given.bottom * factor, given.top * factor
    edges = (right * factor + part.after_alone, bottom, top)
    if width is not None:
        col, fits = _column(lines, factor, width, (bottom, top), height)
        sides = [_side(part, entry.height) for entry in col.entries]
        around += column_marks(col, right + part.after_alone * part.mm, factor, sides, given.passed)
        edges = (right * factor + part.after + width, min(edges[1], col.low), max(edges[2], col.high))
    box = Box(part.window.left * factor - part.before, edges[1], edges[0], edges[2])
    beside = Drawing(part.face.face.elevation.name, part.face.plan.job.units, tuple(around))
    return PlacedFace(beside, box, fits, () if width is not None else lines)


def _side(part: FacePart, height: float) -> float | None:
    """Where wall, post or roof edge ends at the right at a height; None where the wall ends farther left."""
    job, wall, right = part.face.plan.job, part.face.face.elevation, part.window.right
    cut = right < part.face.extent.right - SAME
    side = _right_end(wall.outline, height)
    if side is None:
        return None
    top = _right_end([(y, x) for x, y in wall.outline], right)
    if top is not None and 0.0 < height - top < _TOP_AIR * part.mm:  # the far end of an eave out of level
        side = right
    end = max(x for x, _ in wall.outline)
    if side < min(right, end) - SAME:  # beside a gable stand marks, their leaders and the words of its slope
        return None
    if cut:
        return right
    side += post_width(job, wall.right)
    ends = (_right_end(band, height) for band in fascia_bands(job, part.face.face))
    return max([side, *(end for end in ends if end is not None)])


def _right_end(outline: Sequence[Point], height: float) -> float | None:
    """The greatest x of an outline at a height."""
    found = []
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if min(y0, y1) - SAME <= height <= max(y0, y1) + SAME:
            level = abs(y1 - y0) <= SAME
            found.append(max(x0, x1) if level else x0 + (x1 - x0) * (height - y0) / (y1 - y0))
    return max(found, default=None)


def _acts(part: FacePart) -> dict[Edge, str]:
    """What to do at the edges that show."""
    window = part.window

    def told(edge: Edge) -> bool:
        begins = edge.edge == "base" and window.bottom - SAME <= edge.height <= window.top + SAME
        return edge_in(edge, window) or (
            begins and meets((edge.left, edge.right), (window.left, window.right))
        )

    return {edge: words for edge, words in part.face.said.acts.items() if told(edge)}


def _ladder_marks(part: FacePart) -> Iterator[Mark]:
    plan, mm, window = part.face.plan, part.mm, part.window
    rail = window.left - part.ladder_gap * mm
    yield from ladder(plan.job, part.rungs, part.face.courses, rail, mm)
    if part.zones:
        at = rail - (ladder_width(part.rungs, mm, 0.0) + BESIDE) * mm
        yield from brackets(part.zones, at, mm)


def _rakes(part: FacePart, taken: Occupied, room: Box, tight: Box) -> tuple[list[Mark], list[Entry], float]:
    """Callouts at the rakes, entries for what had no room there, and how high the callouts reach."""
    plan, face, top = part.face.plan, part.face.face, float("-inf")
    marks: list[Mark] = []
    told: dict[tuple[float, str, str], list[Rake]] = {}
    words_of = dict(zip(face.rakes, part.face.said.rakes, strict=True))
    shown = {rake: words for whole, words in words_of.items() if (rake := clipped(whole, part.window))}
    sides = [[rake for rake in shown if rake.side == side] for side in ("top", "base")]
    edges = [
        [
            SlopedEdge(_over_fascia(rake, plan.job), rake_layouts(rake, plan, face, bare=True))
            for rake in rakes
        ]
        for rakes in sides
    ]
    callouts = [rake_callouts(each, part.mm, taken, room, tight) for each in edges]
    for rake, callout in zip((*sides[0], *sides[1]), (*callouts[0], *callouts[1]), strict=True):
        if callout is not None:
            marks += callout.marks
            top = max(top, callout.box.top)
        if callout is None or not callout.full:
            words = saw_words(rake) if callout and callout.named else shown[rake]
            where = rake_side(rake) if rake.roof is not None else ""
            told.setdefault((round(rake.start[1] + rake.end[1], 6), where, words), []).append(rake)
    found = [Entry(total / 2, _named(group, where), words) for (total, where, words), group in told.items()]
    return marks, found, top


def _named(rakes: Sequence[Rake], where: str) -> str:
    """Rakes that get the same words; ``where`` is the roof that they run along, if any."""
    if len(rakes) > 1:
        return gettext("Rakes {where}", where=where) if where else gettext("Rakes")
    if rakes[0].hand == "left":
        return gettext("Rake {where}, left", where=where) if where else gettext("Rake, left")
    return gettext("Rake {where}, right", where=where) if where else gettext("Rake, right")


def _over_fascia(rake: Rake, job: Job) -> Rake:
    """A rake as its callout sees it: over the roof edge that is drawn along it."""
    if rake.side != "top":
        return rake
    (x0, y0), (x1, y1) = rake.start, rake.end
    long, depth = hypot(x1 - x0, y1 - y0), fascia_depth(job)
    way = 1.0 if x1 > x0 else -1.0
    across = (-(y1 - y0) / long * way * depth, abs(x1 - x0) / long * depth)
    return replace(rake, start=(x0 + across[0], y0 + across[1]), end=(x1 + across[0], y1 + across[1]))


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
