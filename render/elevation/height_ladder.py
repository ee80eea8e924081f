"""The height ladder: every butt line at its height, left of the wall, with its course number.

A straightedge laid across the sheet from a rung meets the course on the wall.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from evencourse.layout.model.course_plan import Band, CourseSet
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.render.building.wall_face import Course
from evencourse.render.drawing.drawing import Line, Mark, Path, Text, Weight
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import LADDER, LADDER_HEAVY, PALE, TEXT, Pen
from evencourse.render.words.plan_words import band_words, course_name, short_band_words, show

#: Least distance between the levels of two labels that stand one over the other [mm].
PITCH = 4.2
#: More staggered columns than this are no ladder any more.
COLUMNS_MAX = 4
#: Every how many courses the level is checked (every fifth or sixth course; rule of the trade).
HEAVY_EVERY = 5
_TICK, _TICK_HEAVY, _STAFF, _GAP, _BETWEEN = 1.2, 2.2, 1.4, 0.6, 1.4
#: Lettering: what is read from two metres, and what a band is [mm].
_HEIGHT, _SMALL = 3.5, 2.5
_STAFF_PEN = Pen("staff", LADDER.layer, 0.18, PALE, 9)


@dataclass(frozen=True)
class Rung:
    """A butt line on the ladder.

    Attributes:
        height: of the butt line [job units].
        name: number of the course that begins there.
        level: its height as the tape reads.
        heavy: it is one of those at which the level is checked.
    """

    height: float
    name: str
    level: str
    heavy: bool


def rungs(job: Job, courses: Sequence[Course], low: float, high: float) -> tuple[Rung, ...]:
    """The rungs of the courses that show between two heights."""
    found = []
    for course in courses:
        if low - SAME <= course.foot <= high + SAME:
            name = course_name(course.course_set, course.number)
            heavy = course.number % HEAVY_EVERY == 0 or course.number == 1
            height = course.own[0][1] if course.own else course.foot
            found.append(Rung(height, name, show(job, height), heavy))
    return tuple(found)


def columns_needed(steps: Sequence[Rung], mm: float) -> int:
    """How many staggered columns keep the labels apart."""
    heights = sorted(rung.height for rung in steps)
    for count in range(1, COLUMNS_MAX + 1):
        apart = (high - low for low, high in zip(heights, heights[count:], strict=False))
        if all(gap >= PITCH * mm for gap in apart):
            return count
    least = min((b - a for a, b in pairwise(heights)), default=PITCH * mm)
    return ceil(PITCH * mm / max(least, ROUNDING))


def label_width(steps: Sequence[Rung]) -> float:
    """Width of the widest label [mm]."""
    return _level_width(steps) + _BETWEEN + _name_width(steps)


def _name_width(steps: Sequence[Rung]) -> float:
    return max((text_width(rung.name, _HEIGHT, "bold") for rung in steps), default=0.0)


def _level_width(steps: Sequence[Rung]) -> float:
    return max((text_width(rung.level, _HEIGHT, "bold") for rung in steps), default=0.0)


def ladder_width(steps: Sequence[Rung], mm: float, bands: bool) -> float:
    """Width of the whole ladder, its band brackets included [mm]."""
    count = columns_needed(steps, mm)
    labels = count * (label_width(steps) + _BETWEEN) - _BETWEEN if steps else 0.0
    return _STAFF + _TICK_HEAVY + _GAP + labels + (BRACKET if bands else 0.0)


#: What a band's bracket takes beyond the labels [mm].
BRACKET = 7.0


def ladder(
    job: Job, steps: Sequence[Rung], courses: Sequence[Course], rail: float, mm: float
) -> Iterator[Mark]:
    """The ladder itself.

    Args:
        job: for units.
        steps: its rungs.
        courses: the courses between them; the staff is filled course by course.
        rail: x of its right side.
        mm: drawing units in one millimetre of paper.
    """
    if not steps:
        return
    low, high = steps[0].height, steps[-1].height
    left = rail - _STAFF * mm
    for course in courses:
        head = min(course.foot + course.exposure, course.top)
        if course.number % 2 and course.foot >= low - SAME and course.foot < high + SAME:
            corners = ((left, course.foot), (rail, course.foot), (rail, head), (left, head))
            yield Path(None, corners, closed=True, fill=LADDER_HEAVY)
    tops = [
        min(course.foot + course.exposure, course.top) for course in courses if course.foot <= high + SAME
    ]
    end = max(tops, default=high)
    yield Line(LADDER, (rail, low), (rail, end))
    yield Line(LADDER, (left, low), (left, end))
    count = columns_needed(steps, mm)
    wide, name = (label_width(steps) + _BETWEEN) * mm, _name_width(steps) * mm
    first = left - (_TICK_HEAVY + _GAP) * mm
    labels: list[Mark] = []  # over all lines: two rungs may lie nearer to each other than a label is high
    for index, rung in enumerate(steps):
        column = index % count
        at = first - column * wide
        tick = left - (_TICK_HEAVY if rung.heavy else _TICK) * mm
        yield Line(LADDER_HEAVY if rung.heavy else LADDER, (rail, rung.height), (tick, rung.height))
        if column and count == 2:
            yield Line(LADDER, (tick, rung.height), (at + 0.6 * mm, rung.height))
        weight: Weight = "bold" if rung.heavy else "regular"
        beside = (at - name - _BETWEEN * mm, rung.height)
        labels += (
            Text(TEXT, (at, rung.height), rung.name, _HEIGHT, "end", "middle", weight="bold", ground=True),
            Text(TEXT, beside, rung.level, _HEIGHT, "end", "middle", weight=weight, ground=True),
        )
    yield from labels


def brackets(
    job: Job, sets: Sequence[CourseSet], steps: Sequence[Rung], low: float, high: float, x: float, mm: float
) -> Iterator[Mark]:
    """What each band is, along a bracket left of the ladder, where the band is tall enough to say so.

    Args:
        job: for units.
        sets: the course sets on the face, from the bottom up.
        steps: the ladder's rungs; bands without one are left out.
        low: lowest height shown.
        high: greatest height shown.
        x: where the brackets stand.
        mm: drawing units in one millimetre of paper.
    """
    heights = [rung.height for rung in steps]
    for course_set in sets:
        for band in course_set.lines.bands:
            foot, head = _span(course_set, band)
            foot, head = max(foot, low), min(head, high)
            if not any(foot - SAME <= height < head - SAME for height in heights):
                continue
            room = (head - foot) / mm
            texts = (
                band_words(job, course_set.lines, band),
                short_band_words(job, band),
                f"at {show(job, band.exposure)}",  # a bare number would be read as a course
            )
            text = next((words for words in texts if text_width(words, _SMALL) <= room), "")
            yield Line(LADDER, (x, foot), (x, head))
            for level in (foot, head):
                yield Line(LADDER, (x, level), (x + 1.4 * mm, level))
            if text:
                middle = (x - 1.2 * mm, (foot + head) / 2)
                yield Text(TEXT, middle, text, _SMALL, "middle", "baseline", angle=90.0)


def _span(course_set: CourseSet, band: Band) -> tuple[float, float]:
    butts = course_set.lines.butt_lines
    return butts[band.first_course - 1], butts[min(band.first_course - 1 + band.courses, len(butts) - 1)]
