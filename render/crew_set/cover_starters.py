"""The starters on a cover: what is snapped first, a course set each, in figures as large as they go."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.course_plan import CourseSet, ElevationPlan, Plan
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.render.building.siding_lines import lowest_face, next_chalk, next_line, step_lines
from evencourse.render.drawing.drawing import Line, Mark, Text
from evencourse.render.drawing.fonts import LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.pens import STARTER, TEXT, TITLE_THIN
from evencourse.render.drawing.placement import Box, fitted
from evencourse.render.drawing.text_lines import lines_down
from evencourse.render.words.plan_words import bands_words, cladding_words, datum_words, level_words

#: Height of small lettering on letter and A4 [mm].
_SMALL = 2.5
#: Heights of the starter's figure [mm], and how many rows of course sets each is worth less than the first.
_FIGURES = ((10.0, 0.0), (7.0, 0.4), (5.0, 1.4), (3.5, 3.0))
#: Air between parts, and between columns [mm].
_AIR, _GUTTER = 3.0, 8.0
_MOST_ACROSS = 4
#: How far a tape reading reaches below its baseline, for capitals of height 1: the stroke of a fraction.
_BELOW = 0.2


def shortened(lines: Sequence[str], most: int, width: float, height: float) -> list[str]:
    """The first lines; what is more is told by an ellipsis."""
    if len(lines) <= most:
        return list(lines)
    return [*lines[: most - 1], fitted(" ".join(lines[most - 1 :]), width, height)]


@dataclass(frozen=True)
class _Starter:
    """What is said of one course set."""

    label: str
    figure: str
    beside: str
    bands: str


def _said(plan: Plan, name: str, course_set: CourseSet) -> _Starter:
    job = plan.job
    hung = [face for face in plan.elevations if face.zones[0].course_set == name]
    lowest = lowest_face(plan, name)
    number, line, label = 1, course_set.lines.starter, gettext("Starter line")
    if lowest is not None:
        number, line, label = next_line(plan, lowest)
    figure = datum_words(job, line)
    snapped = next_chalk(plan, lowest) if lowest is not None else None
    beside = ""
    if snapped is not None:  # what is snapped comes first
        beside = gettext("{line} {level}", line=label, level=level_words(job, line))
        label, figure = gettext("Chalk line"), datum_words(job, snapped)
    first_lines = _first_lines(plan, hung)
    here = first_lines.pop(_first_line(plan, lowest), []) if lowest is not None else []
    if len(plan.course_sets) > 1:
        faces = [
            face.elevation.name
            for face in plan.elevations
            if any(zone.course_set == name for zone in face.zones)
        ]
        if first_lines:  # the others' lines are told below
            faces = here
        if course_set.prefix and number == 1:
            label = gettext("Starter line {letter}", letter=course_set.prefix)
        if len(faces) == len(plan.elevations) > 1:
            label = gettext("{line}: all faces", line=label)
        else:
            label = gettext("{line}: {faces}", line=label, faces=", ".join(faces))
    elif first_lines:
        label = gettext("{line}: {faces}", line=label, faces=", ".join(here))
    others = [
        gettext("{faces}: {words}", faces=", ".join(names), words=words)
        for words, names in first_lines.items()
    ]
    others += [words for face in hung for words in _at_steps(plan, face)]
    exposures = bands_words(job, course_set.lines)
    bands = gettext("{cladding}: {courses}", cladding=cladding_words(course_set.cladding), courses=exposures)
    return _Starter(label, figure, beside, ". ".join((*others, bands)))


def _first_line(plan: Plan, face: ElevationPlan) -> str:
    """The line that is snapped first on a face: ``chalk line 3' 4" below``."""
    chalk = next_chalk(plan, face)
    if chalk is not None:
        return gettext("chalk line {level}", level=level_words(plan.job, chalk))
    _, line, words = next_line(plan, face, within=True)
    return gettext("{line} {level}", line=words, level=level_words(plan.job, line))


def _at_steps(plan: Plan, face: ElevationPlan) -> Iterator[str]:
    """What is snapped over the higher bases of a face: ``South, at steps: chalk line 1' 8-1/2" below``."""
    if lines := step_lines(plan, face):
        name, levels = face.elevation.name, ", ".join(level_words(plan.job, one) for one in lines)
        if plan.course_sets[face.zones[0].course_set].cladding.starter_drop:
            yield ngettext(
                "{face}, at steps: chalk line {levels}", "{face}, at steps: chalk lines {levels}", len(lines),
                face=name, levels=levels,
            )  # fmt: skip
        else:
            yield ngettext(
                "{face}, at steps: line {levels}", "{face}, at steps: lines {levels}", len(lines),
                face=name, levels=levels,
            )  # fmt: skip


def _first_lines(plan: Plan, faces: Sequence[ElevationPlan]) -> dict[str, list[str]]:
    """Names of the faces by the line that is snapped first on each."""
    found: dict[str, list[str]] = {}
    for face in faces:
        found.setdefault(_first_line(plan, face), []).append(face.elevation.name)
    return found


def starters(plan: Plan, room: Box, k: float, low: bool = False, lines: int = 3) -> tuple[list[Mark], float]:
    """The starter of every course set in figures as large as they go; and where that ends [mm].

    Args:
        plan: the plan.
        room: where they go [mm].
        k: how much larger than on letter the lettering is.
        low: every row is as low as its own words allow, not as high as the highest.
        lines: most that is said of a course set in small lettering.
    """
    said = [_said(plan, name, course_set) for name, course_set in plan.course_sets.items()]
    choices = sorted(
        (-(-len(said) // across) + price, figure * k, across)
        for figure, price in _FIGURES
        for across in range(1, min(_MOST_ACROSS, len(said)) + 1)
    )
    fitting = (choice[1:] for choice in choices if _starters_fit(said, room, choice[1:], k))
    figure, across = next(fitting, (_FIGURES[-1][0] * k, min(len(said), _MOST_ACROSS)))
    width = (room.width - (across - 1) * _GUTTER) / across
    tall = _starter_height(said, figure, width, k, lines)
    rows = max(1, int((room.height - _AIR) / tall))
    lows = [said[first : first + across] for first in range(0, len(said), across)]
    if low and sum(_starter_height(row, figure, width, k, lines) for row in lows) + _AIR <= room.height:
        rows = len(lows)
    shown = said if len(said) <= rows * across else said[: max(1, rows * across - 1)]
    marks: list[Mark] = []
    y = room.top - _AIR
    for first in range(0, len(shown), across):
        row = shown[first : first + across]
        high = _starter_height(row, figure, width, k, lines) if low else tall
        for place, one in enumerate(row):
            free = (high - _starter_height([one], figure, width, k, lines)) / (_SMALL * k * LEADING_RATIO)
            left, most = room.left + place * (width + _GUTTER), lines + int(free + ROUNDING)
            marks += _starter(one, left, y, width, figure, k, most)
        last, beneath = first + len(row), y
        y -= high
    if len(shown) < len(said):
        filled = last % across
        left, top = room.left + filled * (width + _GUTTER), beneath if filled else y
        more = gettext("and {count} more: see the faces", count=len(said) - len(shown))
        marks.append(Text(TEXT, (left, top), fitted(more, width, _SMALL * k), _SMALL * k, vertical="cap"))
        y -= 0.0 if filled else tall
    marks.append(Line(TITLE_THIN, (room.left, y), (room.right, y)))
    return marks, y


def _starters_fit(said: Sequence[_Starter], room: Box, choice: tuple[float, int], k: float) -> bool:
    figure, across = choice
    width = (room.width - (across - 1) * _GUTTER) / across
    widest = max(text_width(one.figure, figure, "bold") for one in said)
    rows = -(-len(said) // across)
    return widest <= width and rows * _starter_height(said, figure, width, k) + _AIR <= room.height


def _has_room_beside(one: _Starter, figure: float, width: float, k: float) -> bool:
    height = _beside_height(figure, k)
    beside = text_width(one.figure, figure, "bold") + _GUTTER + text_width(one.beside, height, "bold")
    return beside <= width


def _beside_height(figure: float, k: float) -> float:
    return max(_SMALL * k, figure / 2)


def _starter_height(said: Sequence[_Starter], figure: float, width: float, k: float, most: int = 3) -> float:
    small = _SMALL * k
    below = max(
        0.0
        if not one.beside or _has_room_beside(one, figure, width, k)
        else _beside_height(figure, k) * (1 + _BELOW) + small
        for one in said
    )
    lines = max(min(most, len(wrap(one.bands, width, small))) for one in said)
    labels = max(len(_label(one, width, small)) for one in said) - 1
    lines += labels
    return small * 1.9 + figure * (1 + _BELOW) + small + below + lines * small * LEADING_RATIO + 0.6 * small


def _label(one: _Starter, width: float, small: float) -> list[str]:
    return shortened(wrap(one.label, width, small), 2, width, small)


def _starter(
    one: _Starter, left: float, top: float, width: float, figure: float, k: float, most: int
) -> Iterator[Mark]:
    small = _SMALL * k
    label = _label(one, width, small)
    yield from lines_down(label, left, top, small)
    y = top - (len(label) - 1) * small * LEADING_RATIO - small * 1.9
    words = fitted(one.figure, width, figure, "bold")
    yield Text(STARTER, (left, y), words, figure, vertical="cap", weight="bold")
    y -= figure
    below = figure * _BELOW
    if one.beside:
        height = _beside_height(figure, k)
        if _has_room_beside(one, figure, width, k):
            at = left + text_width(words, figure, "bold") + _GUTTER
            yield Text(STARTER, (at, y), one.beside, height, weight="bold")
        else:
            y -= below + small + height
            below = height * _BELOW
            shown = fitted(one.beside, width, height, "bold")
            yield Text(STARTER, (left, y), shown, height, weight="bold")
    y -= below + small
    for line in shortened(wrap(one.bands, width, small), most, width, small):
        yield Text(TEXT, (left, y), line, small, vertical="cap")
        y -= small * LEADING_RATIO
