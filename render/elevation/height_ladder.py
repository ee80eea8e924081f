"""The height ladder: every butt line at its height, left of the wall, with its course number.

A straightedge laid across the sheet from a rung meets the course on the wall.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, inf

from evencourse.layout.language.speech import pgettext
from evencourse.layout.model.course_plan import Band, CourseSet
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.render.building.wall_face import Course
from evencourse.render.drawing.drawing import Line, Mark, Path, Point, Text, Weight
from evencourse.render.drawing.fonts import descent, text_width
from evencourse.render.drawing.pens import LADDER, LADDER_HEAVY, PALE, TEXT, Pen
from evencourse.render.drawing.placement import spread
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
_APART = 1.8
#: Lettering: what is read from two metres, and what a band is [mm].
_HEIGHT, _SMALL = 3.5, 2.5
#: What a bracket with one line along it takes beyond the labels; how much of that lies right of it [mm].
BRACKET, BESIDE = 5.1, 1.5
#: From one line of words across a bracket to the next, and from the bracket, or from words along the next
#: bracket, to them [mm].
_LEADING, _AIR = 2.9, 0.8
#: From a bracket to words along it, and to words that are led out [mm].
_OFF, _LED = 1.2, 1.2
#: How far words that are led out may stand over and under what is shown of the wall [mm].
_PAST = 2.0
#: Between the figures of a column what each line past them takes [mm].
_PASSING = 0.33
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
        least = PITCH if count < 3 else max(PITCH, _HEIGHT + count * _PASSING)
        if all(gap >= least * mm for gap in apart):
            return count
    nearest = min((b - a for a, b in pairwise(heights)), default=PITCH * mm)
    return ceil(PITCH * mm / max(nearest, ROUNDING))


def _widths(steps: Sequence[Rung]) -> tuple[float, float]:
    """What the heights and the numbers of a column take [mm]."""
    level = max((text_width(rung.level, _HEIGHT, "bold") for rung in steps), default=0.0)
    return level, max((text_width(rung.name, _HEIGHT, "bold") for rung in steps), default=0.0)


def ladder_width(steps: Sequence[Rung], mm: float, zoned: float) -> float:
    """Width of the whole ladder [mm]; ``zoned`` is that of the brackets of its zones, 0 for none."""
    count = columns_needed(steps, mm)
    columns = [_widths(steps[column::count]) for column in range(min(count, len(steps)))]
    labels = sum(level + _BETWEEN + name + _APART for level, name in columns) - _APART if columns else 0.0
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
    ends, names = [left - (_TICK_HEAVY + _GAP) * mm], []
    for column in range(count):  # each as wide as its own labels
        level, name = _widths(steps[column::count])
        names.append(name * mm)
        ends.append(ends[-1] - (level + _BETWEEN + name + _APART) * mm)
    passing = _passing(steps, count, mm)
    labels: list[Mark] = []  # over all lines: two rungs may lie nearer to each other than a label is high
    for index, rung in enumerate(steps):
        column = index % count
        at = ends[column]
        tick = left - (_TICK_HEAVY if rung.heavy and (count < 3 or not column) else _TICK) * mm
        yield Line(LADDER_HEAVY if rung.heavy else LADDER, (rail, rung.height), (tick, rung.height))
        way = [(tick, rung.height)]
        for before, level in enumerate(passing[index]):
            way += [(ends[before], level), (ends[before + 1] + _APART * mm, level)]
        if column:
            way.append((at + 0.6 * mm, rung.height))
            yield Path(LADDER, tuple(_straight(way)))
        weight: Weight = "bold" if rung.heavy else "regular"
        beside = (at - names[column] - _BETWEEN * mm, rung.height)
        labels += (
            Text(TEXT, (at, rung.height), rung.name, _HEIGHT, "end", "middle", weight="bold"),
            Text(TEXT, beside, rung.level, _HEIGHT, "end", "middle", weight=weight),
        )
    yield from labels


def _passing(steps: Sequence[Rung], count: int, mm: float) -> list[list[float]]:
    """At which level the line of each rung passes each column before its own, clear of its figures.

    Args:
        steps: the rungs, from the bottom up.
        count: of the columns.
        mm: drawing units in one millimetre of paper.
    """
    found: list[list[float]] = [[] for _ in steps]
    for column in range(count - 1):
        for below in range(column, len(steps), count):  # the figures that its lines pass over
            over = below + count
            lines = range(below + 1, min(over, len(steps), below + count - column))
            wanted = [steps[index].height for index in lines]
            free = (steps[over].height - steps[below].height if over < len(steps) else inf) - _HEIGHT * mm
            each = min(_PASSING * mm, free / (len(lines) + 1))
            low = steps[below].height + (_HEIGHT * mm + each) / 2
            levels = spread(wanted, [each] * len(lines), low, low + free - each)
            for index, level in zip(lines, levels, strict=True):
                found[index].append(level)
    return found


def _straight(way: Sequence[Point]) -> Iterator[Point]:
    """A way without the points that do not bend it."""
    for index, point in enumerate(way):
        around = {round(level, 6) for _, level in way[max(index - 1, 0) : index + 2]}
        if index in (0, len(way) - 1) or len(around) > 1:
            yield point


@dataclass(frozen=True)
class ZoneBracket:
    """An exposure zone as its bracket tells it.

    Attributes:
        foot: lowest height of it that shows [job units].
        head: highest.
        lines: what it says, from the top or the left; none where no words have room.
        across: its words stand across the bracket, not along it.
        led: level of the middle of its words, where a line leads to them; None for that of the bracket.
    """

    foot: float
    head: float
    lines: tuple[str, ...]
    across: bool = False
    led: float | None = None

    @property
    def width(self) -> float:
        """What it takes beyond the labels [mm]."""
        if self.across:
            return BESIDE + self.off + max(text_width(line, _SMALL) for line in self.lines)
        return BRACKET - _OFF + self.off + max(len(self.lines) - 1, 0) * self.leading

    @property
    def off(self) -> float:
        """From the bracket to its words [mm]."""
        if self.led is None:
            return _AIR if self.across else _OFF
        return _LED + _SMALL * max(map(descent, self.lines[-1:]), default=0.0) * (not self.across)

    @property
    def size(self) -> float:
        """What its words take of the bracket's length [mm]."""
        if self.across:
            return len(self.lines) * self.leading
        return max((text_width(line, _SMALL) for line in self.lines), default=0.0)

    @property
    def leading(self) -> float:
        """From one line to the next, clear of tails [mm]."""
        return _LEADING + _SMALL * max(map(descent, self.lines[:-1]), default=0.0)

    def fits(self, mm: float, widest: float) -> bool:
        """Whether the words have room in its height, in a drawing with ``mm`` units to the millimetre."""
        return self.size <= (self.head - self.foot) / mm and self.width <= widest

    def free(self, mm: float) -> float:
        """What its words leave free at each of its ends [mm]; without end where none stand along it."""
        if self.across or not self.lines:
            return inf
        return ((self.head - self.foot) / mm - self.size) / 2


def zone_brackets(
    job: Job,
    sets: Sequence[CourseSet],
    steps: Sequence[Rung],
    span: tuple[float, float],
    mm: float,
    widest: float = inf,
) -> tuple[ZoneBracket, ...]:
    """Every zone that shows, in the most words that have room; all are led out where one has none.

    Args:
        job: for units.
        sets: the course sets on the face, from the bottom up.
        steps: the ladder's rungs; zones without one are left out.
        span: lowest and greatest height shown.
        mm: drawing units in one millimetre of paper.
        widest: what the brackets may take beyond the labels [mm].

    Rule: every zone tells count and exposure; ``about`` stays ``about``: so many times the exposure that is
    shown is not what the zone takes. Words that are led out may take more than ``widest``.
    """
    found: list[ZoneBracket] = []
    ways_of: list[tuple[ZoneBracket, ...]] = []
    heights = [rung.height for rung in steps]
    ends = [course_set.lines.butt_lines[0] for course_set in sets[1:]]
    for course_set, end in zip(sets, (*ends, inf), strict=True):  # each gives way to the one over it
        for band in course_set.lines.bands:
            foot, head = _span(course_set, band)
            foot, head = max(foot, span[0]), min(head, span[1], end)
            if any(foot - SAME <= height < head - SAME for height in heights):
                ways = tuple(ZoneBracket(foot, head, *way) for way in _ways(job, course_set, band))
                ways_of.append(ways[1:])
                below = found[-1].free(mm) if found else inf
                fitting = (way for way in ways if way.fits(mm, widest) and below + way.free(mm) >= _AIR)
                found.append(next(fitting, ZoneBracket(foot, head, ())))
    if all(zone.lines for zone in found):
        return tuple(found)
    led = [_led_out(zones, span, mm) for zones in zip(*ways_of, strict=True)]
    led = sorted((zones for zones in led if zones), key=brackets_width)
    return next((zones for zones in led if brackets_width(zones) <= widest), led[0] if led else tuple(found))


def _led_out(zones: Sequence[ZoneBracket], span: tuple[float, float], mm: float) -> tuple[ZoneBracket, ...]:
    """Zones whose words stand where they have room beside a height; none when they have none."""
    sizes = [(zone.size + _AIR) * mm for zone in zones]
    low, high = span[0] - _PAST * mm, span[1] + _PAST * mm
    if sum(sizes) > high - low:
        return ()
    levels = spread([(zone.foot + zone.head) / 2 for zone in zones], sizes, low, high)
    return tuple(replace(zone, led=level) for zone, level in zip(zones, levels, strict=True))


def _ways(job: Job, course_set: CourseSet, band: Band) -> Iterator[tuple[tuple[str, ...], bool]]:
    """Words of a zone, and whether they stand across its bracket: the best first."""
    yield (band_words(job, course_set.lines, band, measured),), False
    short = short_band_words(job, course_set.lines, band)
    yield (short,), False
    size, about = band.exposure, abs(band.exposure - on_tape(job, band.exposure)) > SAME * job.round
    if about and band.courses == 1:  # what lies between its lines
        foot, head = (on_tape(job, line) for line in _span(course_set, band))
        size, about = head - foot, False
    if about:
        count = pgettext("courses, over their exposure", "{courses} about", courses=band.courses)
    else:
        count = pgettext("courses, over their exposure", "{courses} at", courses=band.courses)
    for across in (False, True):
        yield (count, measured(job, size)), across  # alone in its line it would be read as a height
    yield (short,), True


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
            yield Line(LADDER, (x, level), (x + 1.0 * mm, level))
        middle = (zone.foot + zone.head) / 2
        if zone.led is not None:
            yield Line(LADDER, (x, middle), (x - (_LED - 0.3) * mm, zone.led))
            middle = zone.led
        for number, line in enumerate(reversed(zone.lines)):
            if zone.across:
                level = middle + (number - (len(zone.lines) - 1) / 2) * zone.leading * mm
                yield Text(TEXT, (x - zone.off * mm, level), line, _SMALL, "end", "middle")
            else:
                at = (x - (zone.off + number * zone.leading) * mm, middle)
                yield Text(TEXT, at, line, _SMALL, "middle", "baseline", angle=90.0)


def _span(course_set: CourseSet, band: Band) -> tuple[float, float]:
    butts = course_set.lines.butt_lines
    return butts[band.first_course - 1], butts[min(band.first_course - 1 + band.courses, len(butts) - 1)]
