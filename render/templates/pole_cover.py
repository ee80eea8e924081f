"""The first sheet of a story pole: what to measure before it is trusted, how it is joined and held."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.results.pole_marks import Pole
from evencourse.render.drawing.drawing import Line, Mark, Path, Text
from evencourse.render.drawing.font_files import Weight
from evencourse.render.drawing.fonts import ASCENT_RATIO, LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.pens import GREY_RULE, NOTE, PALE, POLE, STARTER, TEXT, TITLE_THIN, Pen
from evencourse.render.drawing.placement import Box, fitted
from evencourse.render.drawing.text_lines import lines_down
from evencourse.render.templates.check_bar import bar_length, check_bars, check_words
from evencourse.render.templates.pole_labels import heavy
from evencourse.render.templates.pole_staff import Staff, held_table, names_of
from evencourse.render.words.plan_words import (
    bands_words,
    cladding_words,
    course_name,
    datum_words,
    level_words,
    measured,
)
from evencourse.render.words.safety import GENERAL

#: Least width, and height, of the cover [mm].
COVER = (190.0, 248.0)
#: Lettering: title, starter, chalk line, labels, notes [mm].
_TITLE, _STARTER, _CHALK, _LABEL, _NOTE = 7.0, 10.0, 7.0, 3.5, 2.5
#: How far letters of the title reach over its capitals [mm].
_RISE = (ASCENT_RATIO - 1.0) * _TITLE
#: Where the small picture of the pole stands, and the staff of it [mm].
_KEY, _STAFF = 42.0, 5.0
_KEY_PEN = Pen("pole key", TITLE_THIN.layer, 0.18, PALE, 9)
#: Between the corner of the check bars and the words inside their angle [mm].
_INSIDE = 13.0
#: Least height between words of the picture [mm].
_PITCH = 3.8


@dataclass(frozen=True)
class Joined:
    """The pole when its strips are joined.

    Attributes:
        foot: its lower end [job units from the datum].
        top: its upper end [job units from the datum].
        matches: match lines, from the bottom up [job units from the datum].
        across: strips side by side on a sheet.
    """

    foot: float
    top: float
    matches: tuple[float, ...]
    across: int


def cover(
    plan: Plan, pole: Pole, joined: Joined, datum: bool, box: Box, staff: Staff | None = None
) -> Iterator[Mark]:
    """Marks of the cover.

    Args:
        plan: the plan.
        pole: one of its poles.
        joined: the pole as it is joined.
        datum: the datum is marked on the pole.
        box: what the cover may take, no smaller than :data:`COVER` [mm].
        staff: the staff that stands for the pole; None for a whole pole.
    """
    bars = box.bottom + 0.5
    upper = bars + bar_length(plan.job.units) + 7.0
    yield from _facts(plan, pole, staff, Box(box.left, upper, box.right, box.top))
    yield from check_bars(plan.job.units, (box.left + 0.5, bars))
    inside = Box(
        box.left + _INSIDE,
        bars + _INSIDE,
        box.left + bar_length(plan.job.units),
        bars + bar_length(plan.job.units),
    )
    yield from _steps(tuple(_said(plan, pole, joined, datum, staff)), inside)
    if staff is not None:
        beside = Box(box.right - _KEY + 8.0, bars, box.right, upper - 5.0)
        yield from held_table(plan.job, pole.course_set, staff, beside)
    elif joined.matches:
        yield from _key(pole, joined, Box(box.right - _KEY + 8.0, bars, box.right, upper - 5.0))


def _facts(plan: Plan, pole: Pole, staff: Staff | None, box: Box) -> Iterator[Mark]:
    """Whose pole it is, and the heights it is set by."""
    job, course_set = plan.job, pole.course_set
    title = gettext("Story pole, full size") if staff is None else gettext("Story pole: a staff, full size")
    top = box.top - _RISE
    for tall, small in ((_TITLE, _LABEL), (5.0, _LABEL), (5.0, _NOTE)):
        room = box.width - text_width(title, tall, "bold") - 6.0
        if text_width(job.name, small) <= room:
            break
    yield Text(TEXT, (box.left, top - (_TITLE - tall)), title, tall, vertical="cap", weight="bold")
    yield Text(TEXT, (box.right, top - _TITLE), fitted(job.name, room, small), small, "end")
    y = top - _TITLE - 5.0
    faces = gettext("all faces") if len(pole.faces) == len(plan.elevations) else ", ".join(pole.faces)
    label = cladding_words(course_set.cladding)
    words = gettext("{siding}. For: {faces}.", siding=label, faces=faces)
    if len(plan.course_sets) > 1:
        words = gettext("Course set {course_set}. {words}", course_set=course_set.name, words=words)
    y = yield from lines_down(_few(words, box.width, _LABEL, 2), box.left, y, _LABEL)
    yield Line(TITLE_THIN, (box.left, y), (box.right, y))
    y -= 4.0
    # The first line that a course stands on.
    lowest = pole.lines[not course_set.begun and pole.lines[0].course == 1 < len(pole.lines)]
    starter = datum_words(job, lowest.height)
    what = gettext("Butt line {course}", course=course_name(course_set, lowest.course))
    yield Text(TEXT, (box.left, y), what, _LABEL, vertical="cap")
    height = _STARTER
    while text_width(starter, height, "bold") > box.width and height > _LABEL:
        height /= 2**0.5
    yield Text(STARTER, (box.left, y - 6.0), starter, height, vertical="cap", weight="bold")
    y -= 6.0 + height + 4.5
    if pole.chalk_line is not None:
        chalk = gettext("Chalk line {level}", level=level_words(job, pole.chalk_line))
        yield Text(TEXT, (box.left, y), fitted(chalk, box.width, 5.0), 5.0, vertical="cap", weight="bold")
        y -= 9.0
    most = max(2, int((y - box.bottom) // (_NOTE * LEADING_RATIO)))
    heights = gettext("Heights from: {datum}", datum=job.datum_words)
    lines = _few(heights, box.width, _NOTE, max(1, most // 3))
    courses = gettext("Courses: {zones}.", zones=bands_words(job, course_set.lines))
    lines += _few(courses, box.width, _NOTE, most - len(lines))
    yield from lines_down(lines, box.left, y, _NOTE)


def _steps(steps: Sequence[str], box: Box) -> Iterator[Mark]:
    """What to do, in its order; lettering as large as finds room."""
    for height, note in ((_LABEL, _NOTE), (3.0, _NOTE), (_NOTE, _NOTE)):
        cautions = wrap(" ".join(map(gettext, GENERAL)), box.width, note)
        tall = len(cautions) * note * LEADING_RATIO
        for step in steps:
            tall += len(wrap(step, box.width - 6.0, height)) * height * LEADING_RATIO + 1.2
        if tall + 12.0 <= box.height:
            break
    y = box.top
    heading = gettext("Check this print before you use it")
    yield Text(TEXT, (box.left, y), heading, 5.0, vertical="cap", weight="bold")
    y -= 10.0
    for number, step in enumerate(steps, start=1):
        yield Text(TEXT, (box.left, y), str(number), height, vertical="cap", weight="bold")
        weight: Weight = "bold" if number == 1 else "regular"
        y = yield from lines_down(
            wrap(step, box.width - 6.0, height, weight), box.left + 6.0, y, height, weight
        )
        y -= 1.2
    yield from lines_down(
        cautions, box.left, box.bottom + len(cautions) * note * LEADING_RATIO, note, pen=NOTE
    )


def _said(plan: Plan, pole: Pole, joined: Joined, datum: bool, staff: Staff | None) -> Iterator[str]:
    job, course_set = plan.job, pole.course_set
    yield check_words(job.units)
    whole = measured(job, joined.top - joined.foot)
    if joined.matches:
        yield gettext(
            "Print on one side. Cut the strips out along their long edges. Cut strip 2 along its match "
            "line, lay the cut on match line 1 of strip 1, points on points, and tape it; then strip 3 on "
            "strip 2, and so on."
        )
    else:
        yield gettext("Cut the pole out along its long edges.")
    yield gettext(
        "Tape it to a straight, dry board and measure it from end to end: from foot to top the tape reads "
        "{length}. If it does not, set the heights beside the marks with the tape.",
        length=whole,
    )
    if staff is not None:
        yield gettext(
            "Set butt lines {courses} from the datum with the tape, at both ends of the wall, each by its "
            "own height. Hold the staff plumb, its mark 0 on the line just set; mark the lines over it. "
            "Never go on from a line that was marked by the staff.",
            courses=names_of(course_set, staff.held, every=True),
        )
        yield gettext("Check level at every line that is set with the tape.")
        yield gettext("Which edges are on which line, and which are cut: see the list.")
        yield gettext(
            "Paper grows in damp and shrinks in sun: measure the staff from end to end before each use."
        )
        return
    if datum:
        yield gettext(
            "Hold the pole plumb, with its datum mark on the datum; mark every butt line at both ends of "
            "the wall."
        )
    else:
        first = pole.lines[0]
        yield gettext(
            "The datum is not on this pole. Hold it plumb, with butt line {course} at "
            "{level}; mark every butt line at both ends of the wall.",
            course=course_name(course_set, first.course),
            level=datum_words(job, first.height),
        )
    yield gettext("Check level at every heavy line. A filled bar is a flush edge; a broken line is a cut.")
    yield gettext("Paper grows in damp and shrinks in sun: measure the pole from end to end before each use.")


def _key(pole: Pole, joined: Joined, box: Box) -> Iterator[Mark]:
    """The whole pole, small: its butt lines, its match lines, and which strip is on which sheet."""
    span = joined.top - joined.foot
    yield Text(TEXT, (box.left, box.top), gettext("Strip: sheet"), _NOTE, vertical="cap", weight="bold")
    low, high = box.bottom + 1.0, box.top - 6.0
    left, right = box.left, box.left + _STAFF

    def level(height: float) -> float:
        return low + (height - joined.foot) / span * (high - low)

    yield Path(POLE, ((left, low), (right, low), (right, high), (left, high)), True)
    for line in pole.lines:
        pen = POLE if heavy(line) else _KEY_PEN
        yield Line(pen, (left, level(line.height)), (right, level(line.height)))
    for match in joined.matches:
        yield Line(GREY_RULE, (left, level(match)), (right + 1.5, level(match)))
    ends = (joined.foot, *joined.matches, joined.top)
    last = float("-inf")
    for number, (foot, head) in enumerate(pairwise(ends), start=1):
        middle = level((foot + head) / 2)
        if middle - last >= _PITCH:
            page = 2 + (number - 1) // joined.across
            words = gettext("{strip}: sheet {sheet}", strip=number, sheet=page)
            yield Text(TEXT, (right + 3.0, middle), words, _NOTE, vertical="middle")
            last = middle


def _few(text: str, width: float, height: float, most: int) -> list[str]:
    """A text in no more lines than so many, the last one shortened when it must be."""
    lines = wrap(text, width, height)
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], fitted(" ".join(lines[most - 1 :]), width, height)]
