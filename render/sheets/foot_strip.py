"""The strip across the foot of a sheet: whose it is, the figures that matter, the scale."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evencourse.layout.model.course_plan import CourseSet, ElevationPlan, Lines, Plan
from evencourse.layout.model.job import Job
from evencourse.render.drawing.drawing import Block, Line, Mark, Path, Text
from evencourse.render.drawing.fonts import text_width, wrap
from evencourse.render.drawing.papers import Scale
from evencourse.render.drawing.pens import INK_FILL, SCALE, STARTER, TEXT, TITLE, TITLE_THIN
from evencourse.render.drawing.placement import Box, fitted
from evencourse.render.elevation.siding_lines import next_chalk, next_line
from evencourse.render.words.plan_words import bands_words, datum_words, level_words, on_tape, show

#: Height of the strip, and the air inside its cells [mm].
HEIGHT, AIR = 30.0, 2.0
#: Height of the slim strip of sheets without a drawing [mm].
SLIM = 13.0
#: Shares of the width: left and middle cell; the rest is the right one.
_LEFT, _MIDDLE = 0.27, 0.46
#: What panels begin with: it is snapped, and the starter strip nailed to it.
_CHALK = "Chalk line"
#: Paper lengths of a graphic scale [mm], and real lengths in feet and in millimetres to choose from.
_BAR = (28.0, 56.0)
_FEET = (1, 2, 4, 8, 10, 16, 20, 32, 40, 64)
_MILLIMETRES = (500, 1000, 2000, 4000, 5000, 10000, 20000)


@dataclass(frozen=True)
class Foot:
    """What the strip says.

    Attributes:
        face: the elevation's name.
        scale: the drawing's scale.
        number: number of the sheet, from 1.
        count: how many sheets there are.
        part: which part of the face; empty for all of it.
        date: as the user asked for; None for none.
    """

    face: str
    scale: Scale
    number: int
    count: int
    part: str = ""
    date: str | None = None


def title_block(plan: Plan, sets: tuple[CourseSet, ...], foot: Foot, frame: Box) -> Block:
    """The strip as one block whose attributes a drafter can extract; arguments as for :func:`foot_strip`."""
    attributes = (
        ("JOB", plan.job.name),
        ("FACE", foot.face),
        ("PART", foot.part.capitalize()),
        ("SCALE", foot.scale.label),
        ("SHEET", _sheet(foot)),
        ("DATE", foot.date or ""),
    )
    items = tuple(foot_strip(plan, sets, foot, frame))
    given = tuple((tag, value) for tag, value in attributes if value)
    return Block(f"title block {foot.number}", (frame.left, frame.bottom), items, given)


def foot_strip(plan: Plan, sets: tuple[CourseSet, ...], foot: Foot, frame: Box) -> Iterator[Mark]:
    """Marks of the strip, along the bottom of a frame [mm].

    Args:
        plan: the plan.
        sets: course sets of the face, from bottom to top.
        foot: what it says.
        frame: what may be drawn on.
    """
    top = frame.bottom + HEIGHT
    first = frame.left + _LEFT * frame.width
    second = first + _MIDDLE * frame.width
    yield Line(TITLE, (frame.left, top), (frame.right, top))
    for x in (first, second):
        yield Line(TITLE_THIN, (x, frame.bottom), (x, top - 1.5))
    yield from _whose(plan, foot, Box(frame.left, frame.bottom, first - AIR, top))
    face = next(face for face in plan.elevations if face.elevation.name == foot.face)
    yield from _figures(plan, face, sets, Box(first + AIR, frame.bottom, second - AIR, top))
    yield from _scale(plan, foot, Box(second + AIR, frame.bottom, frame.right, top))


def slim_strip(
    plan: Plan,
    title: str,
    numbers: tuple[int, int],
    frame: Box,
    date: str | None = None,
    starter: bool = True,
) -> Iterator[Mark]:
    """Marks of the strip of a sheet without a drawing: whose it is, the starter, which sheet of how many.

    Args:
        plan: the plan.
        title: of the sheet.
        numbers: its number, from 1, and how many sheets there are.
        frame: what may be drawn on.
        date: as the user asked for; None for none.
        starter: whether the starter is told.
    """
    top = frame.bottom + SLIM
    yield Line(TITLE, (frame.left, top), (frame.right, top))
    sheet = f"Sheet {numbers[0]} of {numbers[1]}"
    number_left = frame.right - text_width(sheet, 5.0, "bold")
    yield Text(TEXT, (frame.right, top - AIR), sheet, 5.0, "end", "cap", weight="bold")
    words = _begin_with(plan) if starter else ""
    if starter and len(plan.course_sets) > 1:
        words = f"{words}; {len(plan.course_sets)} course sets"
    room = number_left - frame.left - 2 * AIR
    words = fitted(words, room / 2, 3.5, "bold")
    if words:
        yield Text(STARTER, (number_left - 2 * AIR, top - AIR), words, 3.5, "end", "cap", weight="bold")
    room -= text_width(words, 3.5, "bold") + 2 * AIR
    name = fitted(plan.job.name or title, room, 3.5)
    yield Text(TEXT, (frame.left, top - AIR), name, 3.5, vertical="cap")
    note = title if plan.job.name else ""
    if starter:
        note = f"{note}. Heights from: {plan.job.datum}".removeprefix(". ")
    if date:
        note += f". {date}"
    yield Text(TEXT, (frame.left, frame.bottom + 1.2), fitted(note, frame.width, 2.5), 2.5)


def _begin_with(plan: Plan) -> str:
    """The line that a crew begins with: on the first face with a starter, or with the fewest courses up."""
    lines = [(next_line(plan, face), face) for face in plan.elevations]
    (number, line, label), face = min(lines, key=lambda one: one[0][0])
    chalk = next_chalk(plan, face)
    if chalk is not None:
        return f"{_CHALK} {datum_words(plan.job, chalk)}"
    level = datum_words(plan.job, line)
    return f"Starter {level}" if number == 1 else f"{label}: {level}"


def _whose(plan: Plan, foot: Foot, cell: Box) -> Iterator[Mark]:
    job = plan.job
    y = cell.top - AIR
    face = fitted(foot.face, cell.width, 5.0, "bold")
    yield Text(TEXT, (cell.left, y), face, 5.0, vertical="cap", weight="bold")
    y -= 8.5
    yield Text(TEXT, (cell.left, y), fitted(job.name, cell.width, 3.5), 3.5, vertical="cap")
    y -= 6.3
    note = f"Heights from: {job.datum}"
    if job.author:
        note += f". Measured by {job.author}"
    if foot.date:
        note += f". {foot.date}"
    lines = wrap(note, cell.width, 2.5)
    room = max(1, int((y - cell.bottom) // 4.2))
    if len(lines) > room:
        lines = [*lines[: room - 1], fitted(" ".join(lines[room - 1 :]), cell.width, 2.5)]
    for line in lines:
        yield Text(TEXT, (cell.left, y), line, 2.5, vertical="cap")
        y -= 4.2


def _figures(plan: Plan, face: ElevationPlan, sets: tuple[CourseSet, ...], cell: Box) -> Iterator[Mark]:
    job = plan.job
    y = cell.top - AIR
    _, first, label = next_line(plan, face)
    figure = datum_words(job, first)
    chalk = next_chalk(plan, face)
    if chalk is not None:  # what is snapped comes first
        beside = f"{label} {level_words(job, first)}"
        label, figure = _CHALK, datum_words(job, chalk)
        room = cell.width - text_width(label, 2.5) - AIR
        yield Text(TEXT, (cell.right, y), fitted(beside, room, 3.5, "bold"), 3.5, "end", "cap", weight="bold")
    yield Text(TEXT, (cell.left, y), label, 2.5, vertical="cap")
    y -= 5.4
    height = 7.0
    while text_width(figure, height, "bold") > cell.width and height > 3.5:
        height /= 2**0.5
    yield Text(
        STARTER,
        (cell.left, y),
        fitted(figure, cell.width, height, "bold"),
        height,
        vertical="cap",
        weight="bold",
    )
    y -= height + 3.0
    room = max(1, int((y - cell.bottom) // 4.2))
    for words in (bands_words, _few_words):
        lines = [
            line
            for course_set in sets
            for line in wrap(
                f"{_above(job, course_set)}{course_set.cladding.label}, {words(job, course_set.lines)}",
                cell.width,
                2.5,
            )
        ]
        if len(lines) <= room:
            break
    lines = [*lines[: room - 1], fitted(" ".join(lines[room - 1 :]), cell.width, 2.5)]
    for line in lines:
        yield Text(TEXT, (cell.left, y), line, 2.5, vertical="cap")
        y -= 4.2


def _above(job: Job, course_set: CourseSet) -> str:
    """What a course set above a change of cladding begins with: its letter and its starter."""
    if not course_set.prefix:
        return ""
    return f"{course_set.prefix}, from {level_words(job, course_set.lines.starter)}: "


def _few_words(job: Job, lines: Lines) -> str:
    """Bands in a few words, where there is no room for all of them."""
    sizes = [on_tape(job, band.exposure) for band in lines.bands]
    low, high = show(job, min(sizes)), show(job, max(sizes))
    if low == high:
        return f"courses at {low}"
    return f"{len(sizes)} exposure zones of {low} to {high}: heights in the ladder"


def _scale(plan: Plan, foot: Foot, cell: Box) -> Iterator[Mark]:
    y = cell.top - AIR
    yield Text(TEXT, (cell.left, y), foot.scale.label, 3.5, vertical="cap")
    y -= 11.5
    yield from _graphic_scale(plan, foot.scale, cell.left, y)
    yield Text(TEXT, (cell.left, cell.bottom + 1.0), _sheet(foot), 5.0, weight="bold")
    if foot.part:
        yield Text(TEXT, (cell.left, cell.bottom + 7.4), foot.part.capitalize(), 2.5)


def _sheet(foot: Foot) -> str:
    return f"Sheet {foot.number} of {foot.count}"


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
        text = f"{value:g}" if metric else f"{value:g}'"
        yield Text(TEXT, (left + share * quarter, y + 2.4), text, 2.5, "middle" if share else "start")
