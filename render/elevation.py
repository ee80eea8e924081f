"""One face as a drawing: the wall to scale, round it the ladder, the edge column, strings and callouts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from layout.plan import Edge, ElevationPlan, Plan
from layout.rules import rules
from render.drawing import Dimension, Drawing, Mark
from render.edgecolumn import (
    INDENT,
    LEAD,
    Entry,
    column,
    column_marks,
    datum_entries,
    entries,
    sliver_numbers,
)
from render.fonts import text_width
from render.ladder import BRACKET, brackets, columns_needed, ladder, ladder_width, rungs
from render.openings import opening_blocks
from render.pens import DIMENSION
from render.placement import Box, Occupied
from render.rakecallout import rake_callout
from render.siding import extent, ground_marks, level_marks, shape, siding_marks, span, wall_marks
from render.strings import depth, height_strings, string_marks, width_strings
from render.wallface import courses, lowest_set
from render.words import on_tape, rake_words, show

#: Widths of the edge column's words that are tried, the first that fits is taken [mm].
COLUMN_WIDTHS = (62.0, 52.0, 76.0, 92.0)
#: From the wall to the ladder, and from the strings to the rail [mm].
_LADDER_GAP, _RAIL_GAP, _STARTER_AT = 9.5, 4.0, 5.0
_GROUND_AIR, _TOP_AIR = 4.0, 3.0


@dataclass(frozen=True)
class Placed:
    """A face laid out for one scale.

    Attributes:
        wall: what is drawn to scale.
        around: ladder, edge column, strings and callouts, in the same coordinates.
        box: what all of it covers [mm of paper from the drawing's origin].
        legible: the ladder's labels keep apart.
        fits: the edge column keeps within the height that it was given.
    """

    wall: Drawing
    around: Drawing
    box: Box
    legible: bool
    fits: bool


def elevation_drawing(plan: Plan, face: ElevationPlan, scale: float, width: float = 76.0) -> Drawing:
    """A whole face as one drawing at full size, lettered for a scale.

    Args:
        plan: the plan.
        face: one of its faces.
        scale: paper over real size, that lettering is meant for.
        width: of the edge column's words [mm].

    Returns:
        Butt lines, face lines, openings as blocks with attributes, outline, starter, chalk line, datum and
        ground; the height ladder, the edge column, strings and rake callouts.
    """
    placed = place(plan, face, scale, width)
    return Drawing(face.elevation.name, plan.job.units, (*placed.wall.marks, *placed.around.marks))


def place(
    plan: Plan,
    face: ElevationPlan,
    scale: float,
    width: float,
    height: float | None = None,
    window: Box | None = None,
) -> Placed:
    """Lay a face out for one scale.

    Args:
        plan: the plan.
        face: one of its faces.
        scale: paper over real size.
        width: of the edge column's words [mm].
        height: of the paper's room, when the edge column has to keep within it [mm].
        window: the part of the wall that is shown [job units]; None for all of it.
    """
    job = plan.job
    factor = scale * (25.4 if job.units == "in" else 1.0)
    mm = 1 / factor
    whole = extent(plan, face)
    part = window or whole
    shown = list(courses(plan, face))
    numbers = sliver_numbers(face.edges)
    taken = Occupied(shapes=[shape(plan, face)])
    for level in (0.0, lowest_set(plan, face).lines.starter):
        taken.take(Box(whole.left, level - mm, whole.right, level + mm))
    # Marks on the wall are placed among themselves; callouts outside it.
    on_wall = Occupied()
    wall: list[Mark] = [
        *siding_marks(shown, mm),
        *wall_marks(face),
        *ground_marks(face, mm),
        *opening_blocks(plan, face, mm, numbers, on_wall),
        *level_marks(plan, face, mm),
    ]
    steps = rungs(job, shown, part.bottom, part.top)
    openings = [
        hole for hole in face.elevation.openings if _meets(hole.left, hole.right, part.left, part.right)
        and _meets(hole.bottom, hole.top, part.bottom, part.top)
    ]  # fmt: skip
    left, right = part.left, part.right
    base = part.bottom - _GROUND_AIR * mm
    ends = span(face) if window is None else (left, right)
    whole_ones = [hole for hole in openings if hole.left >= ends[0] - 1e-6 and hole.right <= ends[1] + 1e-6]
    widths = width_strings(job, whole_ones, *ends)
    heights = height_strings(job, openings)
    around: list[Mark] = [*string_marks(widths, "x", base, mm, (left, right))]
    around += _starter_dimensions(plan, face, left, right, mm)
    string_base = right + _STARTER_AT * mm
    around += string_marks(heights, "y", string_base, mm, (part.bottom, part.top))
    rail = string_base + (depth(heights) + _RAIL_GAP) * mm

    sets = [plan.course_sets[zone.course_set] for zone in face.zones]
    ladder_rail = left - _LADDER_GAP * mm
    around += ladder(job, steps, shown, ladder_rail, mm)
    wide = ladder_width(steps, mm, False)
    bracket = ladder_rail - (wide + 3.0) * mm
    several = len(sets) > 1 or any(len(course_set.lines.bands) > 1 for course_set in sets)
    if several:
        around += brackets(job, sets, steps, part.bottom, part.top, bracket, mm)
    ladder_left = ladder_rail - (wide + (BRACKET if several else 0.0)) * mm

    bottom = base - (depth(widths) + 1.0) * mm
    top = part.top + _TOP_AIR * mm
    room = Box(left - (_LADDER_GAP - 2.0) * mm, bottom, right + 2.0 * mm, top + 12 * mm)
    lines = list(entries([edge for edge in face.edges if _edge_in(edge, part)], plan, numbers))
    for rake in face.rakes:
        if rake.side == "top" and rake.pitch <= rules().limits["eave_pitch_max"]:
            continue  # an eave out of level: the edge column has its two ends
        callout = rake_callout(rake, job, mm, taken, room)
        if callout is None:
            middle = (rake.start[1] + rake.end[1]) / 2
            lines.append(Entry(middle, "Rake", rake_words(rake, job)))
        else:
            around += callout.marks
            top = max(top, callout.box.top)
    lines += [
        entry for entry in datum_entries(plan, [zone.course_set for zone in face.zones])
        if part.bottom - 1e-6 <= entry.height <= part.top + 1e-6
    ]  # fmt: skip
    low, high = bottom * factor, top * factor
    if height is not None:
        spare = max(0.0, height - (high - low))
        low, high = low - spare / 2, high + spare / 2
        col = column(lines, factor, width, low, high)
        fits = col.low >= low - 1e-6
    else:
        col = column(lines, factor, width, None, None)
        fits = True
    around += column_marks(col, rail, factor)
    box = Box(
        ladder_left * factor,
        min(bottom * factor, col.low),
        rail * factor + LEAD + INDENT + width,
        max(top * factor, col.high),
    )
    return Placed(
        Drawing(face.elevation.name, job.units, tuple(wall)),
        Drawing(face.elevation.name, job.units, tuple(around)),
        box,
        columns_needed(steps, mm) <= 4,
        fits,
    )


def _meets(low: float, high: float, start: float, end: float) -> bool:
    return low < end and high > start


def _edge_in(edge: Edge, part: Box) -> bool:
    return part.bottom - 1e-6 <= edge.height <= part.top + 1e-6 and (
        (edge.left < part.right and edge.right > part.left) or part.left <= edge.left <= part.right
    )


def _starter_dimensions(
    plan: Plan, face: ElevationPlan, left: float, right: float, mm: float
) -> Sequence[Mark]:
    """Datum to starter at both ends of the wall."""
    job = plan.job
    starter = lowest_set(plan, face).lines.starter
    if on_tape(job, starter) == 0:
        return ()
    text = show(job, abs(on_tape(job, starter)))
    found: list[Mark] = []
    below = text_width(text, 3.5) / 2 + 2.0
    for x in (left - _STARTER_AT * mm, right + _STARTER_AT * mm):
        low, high = min(starter, 0.0), max(starter, 0.0)
        found.append(
            Dimension(DIMENSION, (x, low), (x, high), (x, low), 90.0, text, 3.5, (x, low - below * mm), 0.0)
        )
    return found
