"""The height ladder: every butt line at its height, left of the wall, with its course number.

A straightedge laid across the sheet from a rung meets the course on the wall.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, inf

from evencourse.layout.language.speech import pgettext
from evencourse.layout.model.course_plan import Band, CourseSet
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.render.building.wall_face import Course
from evencourse.render.drawing.drawing import Line, Mark, Path, Text, Weight
from evencourse.render.drawing.fonts import descent, text_width
from evencourse.render.drawing.pens import LADDER, LADDER_HEAVY, PALE, TEXT, Pen
from evencourse.render.words.plan_words import (
    band_words,
    course_name,
    measured,
    on_tape,
    short_band_words,
    show,
)

#: Least distance between the levels of two labels that stand one over the other [mm].
PITCH = 4.2
#: More staggered columns than this are no ladder any more.
COLUMNS_MAX = 4
#: Every how many courses the level is checked (every fifth or sixth course; rule of the trade).
HEAVY_EVERY = 5
_TICK, _TICK_HEAVY, _STAFF, _GAP, _BETWEEN = 1.2, 2.2, 1.4, 0.6, 1.0
#: Between two columns: more than between a height and its number, or they run together [mm].
_APART = 2.2
#: Lettering: what is read from two metres, and what a band is [mm].
_HEIGHT, _SMALL = 3.5, 2.5
#: What a bracket with one line along it takes beyond the labels; how much of that lies right of it [mm].
BRACKET, BESIDE = 5.6, 2.0
#: From one line of words across a bracket to the next, and from the bracket, or from words along the next
#: bracket, to them [mm].
_LEADING, _AIR = 2.9, 0.8
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


def ladder_width(steps: Sequence[Rung], mm: float, zoned: float) -> float:
    """Width of the whole ladder [mm]; ``zoned`` is that of the brackets of its zones, 0 for none."""
    count = columns_needed(steps, mm)
    labels = count * (label_width(steps) + _APART) - _APART if steps else 0.0
    return _STAFF + _TICK_HEAVY + _GAP + labels + zoned


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
    wide, name = (label_width(steps) + _APART) * mm, _name_width(steps) * mm
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


@dataclass(frozen=True)
class ZoneBracket:
    """An exposure zone as its bracket tells it.

    Attributes:
        foot: lowest height of it that shows [job units].
        head: highest.
        lines: what it says, from the top or the left; none where no words have room.
        across: its words stand across the bracket, not along it.
    """

    foot: float
    head: float
    lines: tuple[str, ...]
    across: bool = False

    @property
    def width(self) -> float:
        """What it takes beyond the labels [mm]."""
        if self.across:
            return BESIDE + _AIR + max(text_width(line, _SMALL) for line in self.lines)
        return BRACKET + max(len(self.lines) - 1, 0) * self.leading

    @property
    def leading(self) -> float:
        """From one line to the next, clear of tails [mm]."""
        return _LEADING + _SMALL * max(map(descent, self.lines[:-1]), default=0.0)

    def fits(self, mm: float, widest: float) -> bool:
        """Whether the words have room in its height, in a drawing with ``mm`` units to the millimetre."""
        high = len(self.lines) * self.leading
        if not self.across:
            high = max(text_width(line, _SMALL) for line in self.lines)
        return high <= (self.head - self.foot) / mm and self.width <= widest

    def free(self, mm: float) -> float:
        """What its words leave free at each of its ends [mm]; without end where none stand along it."""
        if self.across or not self.lines:
            return inf
        return ((self.head - self.foot) / mm - max(text_width(line, _SMALL) for line in self.lines)) / 2


def zone_brackets(
    job: Job,
    sets: Sequence[CourseSet],
    steps: Sequence[Rung],
    span: tuple[float, float],
    mm: float,
    widest: float = inf,
) -> tuple[ZoneBracket, ...]:
    """Every zone that shows, in the most words that have room.

    Args:
        job: for units.
        sets: the course sets on the face, from the bottom up.
        steps: the ladder's rungs; zones without one are left out.
        span: lowest and greatest height shown.
        mm: drawing units in one millimetre of paper.
        widest: what the brackets may take beyond the labels [mm].

    Rule: the number of courses may be left out; ``about`` stays ``about``: so many times the exposure that
    is shown is not what the zone takes.
    """
    found: list[ZoneBracket] = []
    heights = [rung.height for rung in steps]
    ends = [course_set.lines.butt_lines[0] for course_set in sets[1:]]
    for course_set, end in zip(sets, (*ends, inf), strict=True):  # each gives way to the one over it
        for band in course_set.lines.bands:
            foot, head = _span(course_set, band)
            foot, head = max(foot, span[0]), min(head, span[1], end)
            if any(foot - SAME <= height < head - SAME for height in heights):
                ways = (ZoneBracket(foot, head, *way) for way in _ways(job, course_set, band))
                below = found[-1].free(mm) if found else inf
                fitting = (way for way in ways if way.fits(mm, widest) and below + way.free(mm) >= _AIR)
                found.append(next(fitting, ZoneBracket(foot, head, ())))
    return tuple(found)


def _ways(job: Job, course_set: CourseSet, band: Band) -> Iterator[tuple[tuple[str, ...], bool]]:
    """Words of a zone, and whether they stand across its bracket: the best first."""
    yield (band_words(job, course_set.lines, band),), False
    yield (short_band_words(job, course_set.lines, band),), False
    # The exposure never stands alone: it would be read as a course.
    size, about = band.exposure, abs(band.exposure - on_tape(job, band.exposure)) > SAME * job.round
    if about and band.courses == 1:  # what lies between its lines
        foot, head = (on_tape(job, line) for line in _span(course_set, band))
        size, about = head - foot, False
    if about:
        count = pgettext("courses, over their exposure", "{courses} about", courses=band.courses)
        each = pgettext("courses", "about {exposure}", exposure=show(job, size))
    else:
        count = pgettext("courses, over their exposure", "{courses} at", courses=band.courses)
        each = pgettext("courses", "at {exposure}", exposure=show(job, size))
    for across in (False, True):
        yield (count, measured(job, size)), across  # alone in its line it would be read as a height
    for across in (False, True):
        yield (each,), across


def brackets_width(zones: Sequence[ZoneBracket]) -> float:
    """What the brackets take beyond the labels [mm]."""
    return max((zone.width for zone in zones), default=0.0)


def brackets(zones: Sequence[ZoneBracket], x: float, mm: float) -> Iterator[Mark]:
    """Brackets left of the ladder, each with its words.

    Args:
        zones: what they tell.
        x: where they stand.
        mm: drawing units in one millimetre of paper.
    """
    for zone in zones:
        yield Line(LADDER, (x, zone.foot), (x, zone.head))
        for level in (zone.foot, zone.head):
            yield Line(LADDER, (x, level), (x + 1.4 * mm, level))
        middle = (zone.foot + zone.head) / 2
        for number, line in enumerate(reversed(zone.lines)):
            if zone.across:
                level = middle + (number - (len(zone.lines) - 1) / 2) * zone.leading * mm
                yield Text(TEXT, (x - _AIR * mm, level), line, _SMALL, "end", "middle")
            else:
                at = (x - (1.2 + number * zone.leading) * mm, middle)
                yield Text(TEXT, at, line, _SMALL, "middle", "baseline", angle=90.0)


def _span(course_set: CourseSet, band: Band) -> tuple[float, float]:
    butts = course_set.lines.butt_lines
    return butts[band.first_course - 1], butts[min(band.first_course - 1 + band.courses, len(butts) - 1)]
