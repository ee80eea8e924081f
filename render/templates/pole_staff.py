"""The staff in place of a long pole: where all courses are equal, a few marks are held again and again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.course_plan import CourseSet
from evencourse.layout.model.job import Job
from evencourse.layout.results.pole_marks import Pole, PoleLine
from evencourse.render.drawing.drawing import Line, Mark, Text
from evencourse.render.drawing.fonts import ASCENT_RATIO, text_width, wrap
from evencourse.render.drawing.pens import TEXT, TITLE_THIN
from evencourse.render.drawing.placement import Box
from evencourse.render.elevation.height_ladder import HEAVY_EVERY
from evencourse.render.templates.pole_labels import Label, LabelLine, label_rows
from evencourse.render.words.plan_words import course_name, show

#: A pole of no more courses than this many staffs is printed whole.
_SHORT = 2
_NUMBER, _LEVEL, _LABEL = 7.0, 5.0, 3.5
#: The list of lines: its heading, what that takes, its lettering, between its columns, under a row [mm].
_TITLE, _HEAD, _SIZE, _GAP, _AIR = 5.0, 10.0, 3.5, 6.0, 0.6
#: From one row of a table to the next [mm].
_LEADING = _SIZE * 1.45
#: How far letters of the heading reach over its capitals [mm].
_RISE = (ASCENT_RATIO - 1.0) * _TITLE


@dataclass(frozen=True)
class Staff:
    """A short pole of equal courses.

    Attributes:
        exposure: from one of its marks to the next [job units].
        held: butt lines on which its lowest mark, number 0, is held, from the bottom up.
        marks: for each mark over that the butt lines that are marked at it.
    """

    exposure: float
    held: tuple[PoleLine, ...]
    marks: tuple[tuple[PoleLine, ...], ...]

    @property
    def top(self) -> float:
        """Its highest mark over its lowest [job units]."""
        return self.exposure * len(self.marks)


def staff_of(pole: Pole) -> Staff | None:
    """The staff that does for a pole; None for a short one, and where not all courses are equal.

    A staff has as many courses as there are from one check of the level to the next; faces with lines of
    their own need the whole pole.
    """
    lines, bands = pole.lines, pole.course_set.lines.bands
    if len(bands) > 1 or any(line.elsewhere for line in lines) or len(lines) <= _SHORT * HEAVY_EVERY + 1:
        return None
    held = lines[:-1:HEAVY_EVERY]
    marks = tuple(lines[number::HEAVY_EVERY] for number in range(1, HEAVY_EVERY + 1))
    return Staff(float(bands[0].exposure), held, marks)


def staff_labels(job: Job, course_set: CourseSet, staff: Staff, width: float) -> Iterator[Label]:
    """What stands beside its marks, from the lowest up: number, height over mark 0, which butt lines it is.

    Args:
        job: for its tape.
        course_set: whose courses they are.
        staff: the staff.
        width: room for lettering [mm].
    """
    last = len(staff.marks)
    for number, lines in enumerate((staff.held, *staff.marks)):
        height = number * staff.exposure
        names = names_of(course_set, lines)
        words = (
            gettext("on butt line {courses}", courses=names)
            if number == 0
            else gettext("butt line {courses}", courses=names)
        )
        first = LabelLine(str(number), _NUMBER, "bold", beside=show(job, height), beside_height=_LEVEL)
        rows = (first, *(LabelLine(text, _LABEL) for text in wrap(words, width, _LABEL)))
        yield Label(height, rows, number in (0, last), True)


def names_of(course_set: CourseSet, lines: Sequence[PoleLine], every: bool = False) -> str:
    """Butt lines by their numbers: ``1, 6 or 11``; ``1, 6 and 11`` where every one of them is meant."""
    *others, last = (course_name(course_set, line.course) for line in lines)
    if not others:
        return last
    first = ", ".join(others)
    if every:
        return gettext("{courses} and {last}", courses=first, last=last)
    return gettext("{courses} or {last}", courses=first, last=last)


def held_table(job: Job, course_set: CourseSet, staff: Staff, box: Box) -> Iterator[Mark]:
    """Where mark 0 is held, each height told from the datum; as many rows as the box has room for."""
    heading = wrap(gettext("Mark 0 on line"), box.width, _SIZE, "bold")
    for row, text in enumerate(heading):
        yield Text(TEXT, (box.left, box.top - row * _LEADING), text, _SIZE, vertical="cap", weight="bold")
    y = box.top - 2 * _SIZE - (len(heading) - 1) * _LEADING
    for line in staff.held:
        y -= _LEADING
        if y < box.bottom:
            return
        name = course_name(course_set, line.course)
        yield Text(TEXT, (box.left, y), name, _SIZE, weight="bold")
        yield Text(TEXT, (box.right, y), show(job, line.height), _SIZE, "end")


def line_list(found: Sequence[Label], frame: Box, across: int) -> Iterator[tuple[Mark, ...]]:
    """Every line with its height and its edges, in columns: one tuple of marks for each sheet.

    Args:
        found: what a whole pole would say, from the bottom up.
        frame: what may be drawn on [mm].
        across: columns side by side.
    """
    width = (frame.width - (across - 1) * _GAP) / across
    low, high = frame.bottom, frame.top - _HEAD
    marks: list[Mark] = []
    column, y = 0, high
    for label in found:
        first, *others = label.rows
        if label.line:
            first = replace(first, height=_SIZE, beside_height=_SIZE)
        rows = (first, *others)
        takes = sum(row.takes for row in rows) + 2 * _AIR
        if y - takes < low and y < high:
            column, y = column + 1, high
        if column == across:
            yield _headed(marks, frame)
            marks, column = [], 0
        left = frame.left + column * (width + _GAP)
        marks += label_rows(rows, left, y - _AIR, width)
        y -= takes
        marks.append(Line(TITLE_THIN, (left, y), (left + width, y)))
    yield _headed(marks, frame)


def _headed(marks: Sequence[Mark], frame: Box) -> tuple[Mark, ...]:
    heading = gettext("Every butt line and edge, from the bottom up")
    height = _TITLE if text_width(heading, _TITLE, "bold") <= frame.width else _SIZE
    return (
        Text(TEXT, (frame.left, frame.top - _RISE), heading, height, vertical="cap", weight="bold"),
        *marks,
    )
