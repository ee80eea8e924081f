"""One face as a drawing: the wall to scale, round it the ladder, the edge column, strings and callouts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from layout.plan import Edge, ElevationPlan, Plan, Rake
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
from render.placement import Box, Occupied, polygon_meets
from render.rakecallout import rake_callout
from render.siding import (
    PAST,
    base_span,
    extent,
    ground_line,
    ground_marks,
    level_marks,
    shape,
    siding_marks,
    span,
    wall_marks,
)
from render.strings import depth, height_strings, string_marks, width_strings
from render.wallface import courses, lowest_set
from render.words import on_tape, rake_words, saw_words, show

#: Widths of the edge column's words that are tried, the widest that fits is taken [mm].
COLUMN_WIDTHS = (76.0, 64.0, 54.0, 46.0, 40.0)
#: From the wall to the ladder, and from the strings to the rail [mm].
_LADDER_GAP, _RAIL_GAP, _STARTER_AT = 8.5, 3.2, 4.6
_GROUND_AIR, _TOP_AIR = 4.0, 3.0


@dataclass(frozen=True)
class Placed:
    """A face laid out for one scale.

    Attributes:
        wall: what is drawn to scale.
        around: ladder, edge column, strings and callouts, in the same coordinates.
        box: what all of it covers [mm of paper from the drawing's origin].
        columns: staggered columns that the ladder's labels take.
        fits: the edge column keeps within the height that it was given.
    """

    wall: Drawing
    around: Drawing
    box: Box
    columns: int
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
    taken = Occupied(shapes=[shape(plan, face)], lines=list(ground_line(face)))
    ends = base_span(plan, face)
    for level in (0.0, lowest_set(plan, face).lines.starter):
        taken.take(Box(ends[0] - PAST * mm, level - mm, ends[1] + PAST * mm, level + mm))
    # Marks on the wall are placed among themselves; callouts outside it.
    outline = face.elevation.outline
    on_wall = Occupied(
        [Box(whole.left, -0.6 * mm, whole.right, 0.6 * mm)],
        lines=list(zip(outline, (*outline[1:], outline[0]), strict=True)),
    )
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
    sides = span(face) if window is None else (left, right)
    whole_ones = [hole for hole in openings if hole.left >= sides[0] - 1e-6 and hole.right <= sides[1] + 1e-6]
    widths = width_strings(job, whole_ones, *sides)
    heights = height_strings(job, openings)
    around: list[Mark] = [*string_marks(widths, "x", base, mm, (left, right))]
    around += _starter_dimensions(plan, face, _dimension_ends(plan, face, part, taken, mm), part, mm)
    string_base = right + _STARTER_AT * mm
    around += string_marks(heights, "y", string_base, mm, (part.bottom, part.top))
    rail = string_base + (depth(heights, "y") + _RAIL_GAP) * mm

    sets = [plan.course_sets[zone.course_set] for zone in face.zones]
    ladder_rail = left - _LADDER_GAP * mm
    around += ladder(job, steps, shown, ladder_rail, mm)
    wide = ladder_width(steps, mm, False)
    bracket = ladder_rail - (wide + 3.0) * mm
    several = len(sets) > 1 or any(len(course_set.lines.bands) > 1 for course_set in sets)
    if several:
        around += brackets(job, sets, steps, part.bottom, part.top, bracket, mm)
    ladder_left = ladder_rail - (wide + (BRACKET if several else 0.0)) * mm

    bottom = base - (depth(widths, "x") + 1.0) * mm
    top = part.top + _TOP_AIR * mm
    room = Box(left - (_LADDER_GAP - 2.0) * mm, part.bottom, right + 2.0 * mm, top + 12 * mm)
    lines = list(entries([edge for edge in face.edges if _edge_in(edge, part)], plan, numbers))
    told: dict[tuple[float, str], list[Rake]] = {}
    for whole_rake in face.rakes:
        rake = _clipped(whole_rake, part)
        if rake is None or (rake.side == "top" and rake.pitch <= rules().limits["eave_pitch_max"]):
            continue  # not here, or an eave out of level: the edge column has its two ends
        callout = rake_callout(rake, job, mm, taken, room)
        if callout is not None:
            around += callout.marks
            top = max(top, callout.box.top)
        if callout is None or not callout.full:
            words = saw_words(rake) if callout else rake_words(rake, job)
            told.setdefault((round(sum(y for _, y in (rake.start, rake.end)), 6), words), []).append(rake)
    lines += [
        Entry(total / 2, f"Rake, {group[0].hand}" if len(group) == 1 else "Rakes", words)
        for (total, words), group in told.items()
    ]
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
        columns_needed(steps, mm),
        fits,
    )


def _clipped(rake: Rake, part: Box) -> Rake | None:
    """What of a rake lies in a part of the wall; None for nothing."""
    (x0, y0), (x1, y1) = rake.start, rake.end
    near, far = 0.0, 1.0
    for begin, step, low, high in (
        (x0, x1 - x0, part.left, part.right),
        (y0, y1 - y0, part.bottom, part.top),
    ):
        first, second = sorted(((low - begin) / step, (high - begin) / step))
        near, far = max(near, first), min(far, second)
    ends = [(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for share in (near, far)]
    return replace(rake, start=ends[0], end=ends[1])


def _meets(low: float, high: float, start: float, end: float) -> bool:
    return low < end and high > start


def _edge_in(edge: Edge, part: Box) -> bool:
    return part.bottom - 1e-6 <= edge.height <= part.top + 1e-6 and (
        (edge.left < part.right and edge.right > part.left) or part.left <= edge.left <= part.right
    )


def _dimension_ends(
    plan: Plan, face: ElevationPlan, part: Box, taken: Occupied, mm: float
) -> tuple[float, float]:
    """Where datum and starter are dimensioned: beside the base, or beside the wall where that is no room."""
    starter = lowest_set(plan, face).lines.starter
    low, high = min(starter, 0.0) - 12.0 * mm, max(starter, 0.0) + mm
    left, right = base_span(plan, face)
    found = []
    for x, end, away in ((left, part.left, -1.0), (right, part.right, 1.0)):
        near, far = x + away * 1.0 * mm, x + away * (_STARTER_AT + 2.0) * mm
        strip = Box(min(near, far), low, max(near, far), high)
        inside = part.left - 1e-6 <= x <= part.right + 1e-6
        free = inside and not any(polygon_meets(outline, strip) for outline in taken.shapes)
        if free:
            taken.take(strip)
        found.append((x if free else end) + away * _STARTER_AT * mm)
    return found[0], found[1]


def _starter_dimensions(
    plan: Plan, face: ElevationPlan, ends: tuple[float, float], part: Box, mm: float
) -> Sequence[Mark]:
    """Datum to starter at both ends of the base."""
    job = plan.job
    starter = lowest_set(plan, face).lines.starter
    shown = part.bottom - 1e-6 <= min(starter, 0.0) and max(starter, 0.0) <= part.top + 1e-6
    if on_tape(job, starter) == 0 or not shown:
        return ()
    text = show(job, abs(on_tape(job, starter)))
    low, high = min(starter, 0.0), max(starter, 0.0)
    length = text_width(text, 2.5) * mm
    found: list[Mark] = []
    for x, outward, wall_end in zip(ends, (-1.0, 1.0), (part.left, part.right), strict=True):
        if length + 2.0 * mm <= high - low:
            at = (x - outward * 2.2 * mm, (low + high) / 2)
        elif abs(x - wall_end) > (_STARTER_AT + 1.0) * mm:
            at = (x + outward * 2.2 * mm, (low + high) / 2)
        else:
            at = (x, low - length / 2 - 1.6 * mm)
        found.append(Dimension(DIMENSION, (x, low), (x, high), (x, low), 90.0, text, 2.5, at, 0.0))
    return found
