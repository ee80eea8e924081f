"""The strip over the title block of a face: what is snapped in the biggest figure, courses, graphic scale."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from evencourse.layout.language.speech import decimals, gettext, ngettext
from evencourse.layout.model.course_plan import CourseSet, ElevationPlan, Lines, Plan
from evencourse.layout.model.job import Job
from evencourse.render.border.title_block import HEIGHT as TITLE_BLOCK
from evencourse.render.building.siding_lines import Part, next_chalk, next_line
from evencourse.render.drawing.drawing import Line, Mark, Path, Text
from evencourse.render.drawing.fonts import DESCENT_RATIO, descent, text_width, wrap
from evencourse.render.drawing.papers import Scale
from evencourse.render.drawing.pens import INK_FILL, SCALE, STARTER, TEXT, TITLE, TITLE_THIN
from evencourse.render.drawing.placement import Box, fitted
from evencourse.render.words.plan_words import (
    bands_words,
    cladding_words,
    datum_words,
    level_words,
    on_tape,
    short_band_words,
    show,
)

#: What strip and title block take off the foot of the frame, and the air inside the strip's cells [mm].
HEIGHT, AIR = TITLE_BLOCK + 15.0, 2.0
#: Heights of the figure to snap, largest first, and of the other lettering [mm].
_FIGURES = (10.0, 7.0, 5.0, 3.5)
_LABEL, _SMALL, _LEADING = 3.5, 2.5, 4.0
#: Least width of the cell that says the courses [mm].
_COURSES = 50.0
#: Width of the cell with the graphic scale, and at most, where what is told over it is long [mm].
_SCALED, _MOST_SCALED = 48.0, 70.0
#: How high the graphic scale stands in its cell under so many lines, and from one of these to the next [mm].
_LOW, _CLOSE = (4.0, 2.2, 1.0), 3.6
#: Paper lengths of a graphic scale [mm], and real lengths in feet and in millimetres to choose from.
_BAR = (20.0, 41.0)
_FEET = (1, 2, 4, 8, 10, 16, 20, 32, 40, 64)
_MILLIMETRES = (200, 400, 500, 1000, 2000, 4000, 5000, 10000, 20000)


def foot_strip(
    plan: Plan,
    face: ElevationPlan,
    sets: tuple[CourseSet, ...],
    scale: Scale,
    frame: Box,
    part: Part = None,
    listed: str = "",
) -> Iterator[Mark]:
    """Marks of the strip, along the bottom of a frame [mm].

    Args:
        plan: the plan.
        face: one of its faces.
        sets: course sets of the face, from bottom to top.
        scale: the drawing's scale.
        frame: what may be drawn on.
        part: what is shown of the face [job units]; None for all of it.
        listed: which sheets list its pieces, over the graphic scale; empty for none.
    """
    strip = Box(frame.left, frame.bottom + TITLE_BLOCK, frame.right, frame.bottom + HEIGHT)
    told = text_width(listed, _SMALL, "bold") + AIR
    last = strip.right - min(max(_SCALED, told), _MOST_SCALED)
    cell = Box(strip.left, strip.bottom, last - _COURSES, strip.top)
    ways = []
    # The figure gives way before a word is lost; at last all course sets run on in one sentence.
    for joined, most in product((False, True), _FIGURES):
        first, figure = _figure(plan, face, part, cell, most)
        beside = Box(first + AIR, strip.bottom, last - AIR, strip.top)
        lines, whole = _courses(plan, face, part, sets, beside, joined)
        ways.append((first, figure, lines))
        if whole:
            break
    else:
        first, figure, lines = ways[0]
    yield from figure
    yield Line(TITLE, (strip.left, strip.top), (strip.right, strip.top))
    for x in (first, last):
        yield Line(TITLE_THIN, (x, strip.bottom + 1.5), (x, strip.top - 1.5))
    yield from lines
    room = strip.right - last - AIR
    size = _LABEL if text_width(listed, _LABEL, "bold") <= room else _SMALL
    told_there = wrap(listed, room, size, "bold") if listed else []
    yield from _graphic_scale(plan, scale, last + AIR, strip.bottom + _LOW[min(len(told_there), 2)])
    for index, line in enumerate(told_there[:2]):
        rest = line if index == 0 else " ".join(told_there[1:])
        at = (last + AIR, strip.top - AIR - index * _CLOSE)
        yield Text(TEXT, at, fitted(rest, room, size, "bold"), size, vertical="cap", weight="bold")


def _figure(
    plan: Plan, face: ElevationPlan, part: Part, cell: Box, most: float
) -> tuple[float, tuple[Mark, ...]]:
    """Where the figure of what is snapped ends [mm], and it, no higher than ``most``, behind what it is."""
    _, first, label = next_line(plan, face, part)
    figure = datum_words(plan.job, first)
    chalk = next_chalk(plan, face, part)
    if chalk is not None:  # what is snapped comes first, and the starter strip is nailed to it
        label, figure = gettext("Chalk line"), datum_words(plan.job, chalk)
    beside = text_width(label, _LABEL, "bold") + AIR
    room = cell.width - beside - AIR
    sizes = (size for size in _FIGURES if size <= most and text_width(figure, size, "bold") <= room)
    height = next(sizes, _FIGURES[-1])
    shown = fitted(figure, room, height, "bold")
    level = (cell.bottom + cell.top - height * (1 - descent(shown))) / 2
    marks = (
        Text(TEXT, (cell.left, level), label, _LABEL, weight="bold"),
        Text(STARTER, (cell.left + beside, level), shown, height, weight="bold"),
    )
    return cell.left + beside + text_width(shown, height, "bold") + 2 * AIR, marks


def _courses(
    plan: Plan, face: ElevationPlan, part: Part, sets: tuple[CourseSet, ...], cell: Box, joined: bool
) -> tuple[list[Mark], bool]:
    """The starter where something else is snapped, and every course set's exposures; whether all is told.

    The starter is told whole at any width: smaller, or in more lines.
    """
    job = plan.job
    y = cell.top - AIR
    marks: list[Mark] = []
    if next_chalk(plan, face, part) is not None:
        _, first, label = next_line(plan, face, part)
        words = gettext("{line} {level}", line=label, level=level_words(job, first))
        size = _LABEL if text_width(words, _LABEL, "bold") <= cell.width else _SMALL
        for line in wrap(words, cell.width, size, "bold"):
            marks.append(Text(TEXT, (cell.left, y), line, size, vertical="cap", weight="bold"))
            y -= size * (1 + DESCENT_RATIO) + 0.8
    room = max(1, 1 + int((y - cell.bottom - _SMALL * (1 + DESCENT_RATIO)) / _LEADING))
    # The cover names the sidings, too.
    tries = (
        (bands_words, True),
        (_short_words, True),
        (_few_words, True),
        (_short_words, False),
        (_few_words, False),
    )
    for bands, named in tries:
        told = [_told(job, course_set, bands(job, course_set.lines), named) for course_set in sets]
        texts = ["; ".join(told)] if joined else told
        lines = [line for text in texts for line in wrap(text, cell.width, _SMALL)]
        if whole := len(lines) <= room:
            break
    else:
        lines = [*lines[: room - 1], fitted(" ".join(lines[room - 1 :]), cell.width, _SMALL)]
    for line in lines:
        marks.append(Text(TEXT, (cell.left, y), line, _SMALL, vertical="cap"))
        y -= _LEADING
    return marks, whole


def _told(job: Job, course_set: CourseSet, bands: str, named: bool) -> str:
    """A course set's siding and bands; above a change of cladding its letter and its starter first."""
    words = f"{cladding_words(course_set.cladding)}, {bands}" if named else bands
    if not course_set.prefix:
        return words
    level = level_words(job, course_set.lines.starter)
    return gettext("{letter}, from {level}: {courses}", letter=course_set.prefix, level=level, courses=words)


def _short_words(job: Job, lines: Lines) -> str:
    """Every band from the bottom up in its fewest words."""
    bands = "; ".join(short_band_words(job, lines, band) for band in lines.bands)
    return gettext("courses: {bands}", bands=bands)


def _few_words(job: Job, lines: Lines) -> str:
    """Bands in a few words, where there is no room for all of them."""
    sizes = [on_tape(job, band.exposure) for band in lines.bands]
    low, high = show(job, min(sizes)), show(job, max(sizes))
    if low == high:
        return gettext("courses at {exposure}", exposure=low)
    return ngettext(
        "{count} exposure zone of {low} to {high}",
        "{count} exposure zones of {low} to {high}",
        len(sizes),
        low=low,
        high=high,
    )


def _graphic_scale(plan: Plan, scale: Scale, left: float, y: float) -> Iterator[Mark]:
    metric = plan.job.units == "mm"
    unit = 1.0 if metric else 304.8
    choices = _MILLIMETRES if metric else _FEET
    fitting = [size for size in choices if _BAR[0] <= size * unit / scale.ratio <= _BAR[1]]
    size = fitting[-1] if fitting else choices[0]
    length = size * unit / scale.ratio
    quarter = length / 4
    for number in range(4):
        x = left + number * quarter
        corners = ((x, y), (x + quarter, y), (x + quarter, y + 1.4), (x, y + 1.4))
        yield Path(SCALE, corners, True, fill=INK_FILL if number % 2 == 0 else None)
    for share in (0, 2, 4):
        value = size * share / 4
        text = decimals(f"{value:g}") if metric else decimals(f"{value:g}'")
        yield Text(TEXT, (left + share * quarter, y + 2.4), text, _SMALL, "middle" if share else "start")
