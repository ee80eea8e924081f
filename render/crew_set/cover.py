"""The cover, the job in one look: starter and datum, the faces in small, edges not met, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from evencourse.layout.model.course_plan import CourseSet, ElevationPlan, Plan
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.border.title_block import HEIGHT, Titled, title_block
from evencourse.render.building.siding_lines import lowest_face, next_chalk, next_line, step_lines
from evencourse.render.crew_set.cover_grid import Grid, picture_grid
from evencourse.render.crew_set.cover_key import cover_key
from evencourse.render.drawing.drawing import Line, Mark, Sheet, Text, Weight
from evencourse.render.drawing.fonts import ASCENT_RATIO, LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import NOTE, SLIVER, STARTER, TEXT, TITLE_THIN, Pen
from evencourse.render.drawing.pens import TITLE as RULE
from evencourse.render.drawing.placement import Box, fitted
from evencourse.render.words.caution_words import cautions_together
from evencourse.render.words.instructions import Instructions
from evencourse.render.words.plan_words import bands_words, counted, datum_words, level_words
from evencourse.render.words.result import Result
from evencourse.render.words.safety import GENERAL

TITLE = "Cover"
#: Heights of lettering on letter and A4 [mm]; larger sheets have larger lettering, by the same series.
_SMALL, _LABEL, _NAME = 2.5, 3.5, 7.0
#: Heights of the starter's figure [mm], and how many rows of course sets each is worth less than the first.
_FIGURES = ((10.0, 0.0), (7.0, 0.4), (5.0, 1.4), (3.5, 3.0))
_STEPS = ((320.0, 1.0), (620.0, 2**0.5), (float("inf"), 2.0))
#: Air between parts, and between columns [mm].
_AIR, _GUTTER = 3.0, 8.0
#: Most of the height that starters and notes may take.
_STARTERS, _NOTES = 0.36, 0.34
_MOST_ACROSS = 4
#: How far a tape reading reaches below its baseline, for capitals of height 1: the stroke of a fraction.
_BELOW = 0.2
#: How far a j reaches before its start, for capitals of height 1.
_INSET = 0.1


@dataclass(frozen=True)
class Contents:
    """What the set holds.

    Attributes:
        chapters: title, number of the first and of the last sheet of each.
        faces: number of the first sheet of every face; 0 for one that has none.
        material: what is hung, a line a cladding.
    """

    chapters: tuple[tuple[str, int, int], ...]
    faces: tuple[int, ...]
    material: tuple[str, ...]


#: A face and what it cautions of.
_Cautioned = tuple[str, Sequence[str]]


@dataclass(frozen=True)
class _Line:
    """One line of lettering in a column."""

    text: str
    pen: Pen = NOTE
    weight: Weight = "regular"


def cover(result: Result, contents: Contents, paper_name: str, stamp: Stamp = NO_STAMP) -> Draft:
    """The cover of a set.

    Args:
        result: the finished result of a job.
        contents: what follows it.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
    """
    return partial(_sheet, result, contents, paper_name, stamp)


def _sheet(
    result: Result, contents: Contents, paper_name: str, stamp: Stamp, number: int, count: int
) -> Sheet:
    plan = result.plan
    sheet = paper(paper_name)
    frame = Box(*sheet.frame)
    k = next(step for width, step in _STEPS if frame.width < width)
    marks: list[Mark] = [title_block(plan, Titled(TITLE, (number, count)), stamp, sheet)]
    head, y = _head(plan, frame, k)
    starters, y = _starters(plan, Box(frame.left, y - _STARTERS * frame.height, frame.right, y), k)
    foot, low = _foot(
        plan, result.instructions, contents, Box(frame.left, frame.bottom + HEIGHT, frame.right, y), k
    )
    marks += [*head, *starters, *foot]
    key, y = cover_key(plan, Box(frame.left, low, frame.right, y - _AIR))
    marks += key
    room = Box(frame.left, low + _AIR, frame.right, y)
    grid: Grid = picture_grid(plan, contents.faces, room, k)
    return Sheet(TITLE, sheet.size, grid.views, (*grid.marks, *marks))


def _head(plan: Plan, frame: Box, k: float) -> tuple[list[Mark], float]:
    """Whose job it is and what heights are measured from; and where that ends [mm]."""
    job = plan.job
    big, label = _NAME * k, _LABEL * k
    y = frame.top - big * (ASCENT_RATIO - 1)
    name = fitted(job.name or "Siding layout", frame.width, big, "bold")
    marks: list[Mark] = [Text(TEXT, (frame.left, y), name, big, vertical="cap", weight="bold")]
    y -= big + label * 0.9
    note = f"Heights from: {job.datum}"
    if job.author:
        note += f". Measured by {job.author}"
    for line in _few(wrap(note, frame.width, label), 2, frame.width, label):
        marks.append(Text(TEXT, (frame.left, y), line, label, vertical="cap"))
        y -= label * LEADING_RATIO
    y -= 0.2 * label
    marks.append(Line(RULE, (frame.left, y), (frame.right, y)))
    return marks, y


def _few(lines: Sequence[str], most: int, width: float, height: float) -> list[str]:
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
    number, line, first = (
        next_line(plan, lowest) if lowest is not None else (1, course_set.lines.starter, "Starter line")
    )
    figure = datum_words(job, line)
    label = first.removesuffix(" on this face")
    snapped = next_chalk(plan, lowest) if lowest is not None else None
    beside = ""
    if snapped is not None:  # what is snapped comes first
        beside = f"{label} {level_words(job, line)}"
        label, figure = "Chalk line", datum_words(job, snapped)
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
        where = "all faces" if len(faces) == len(plan.elevations) > 1 else ", ".join(faces)
        kind = f"Starter line {course_set.prefix}" if course_set.prefix and number == 1 else label
        label = f"{kind}: {where}"
    elif first_lines:
        label = f"{label}: {', '.join(here)}"
    others = [f"{', '.join(names)}: {words}" for words, names in first_lines.items()]
    others += [words for face in hung for words in _at_steps(plan, face)]
    bands = f"{course_set.cladding.label}: {bands_words(job, course_set.lines)}"
    return _Starter(label, figure, beside, ". ".join((*others, bands)))


def _first_line(plan: Plan, face: ElevationPlan) -> str:
    """The line that is snapped first on a face: ``chalk line 3' 4" below``."""
    chalk, (_, line, label) = next_chalk(plan, face), next_line(plan, face)
    words = label if chalk is None else "Chalk line"
    return f"{words[0].lower()}{words[1:]} {level_words(plan.job, line if chalk is None else chalk)}"


def _at_steps(plan: Plan, face: ElevationPlan) -> Iterator[str]:
    """What is snapped over the higher bases of a face: ``South, at steps: chalk line 1' 8-1/2" below``."""
    if lines := step_lines(plan, face):
        what = "chalk line" if plan.course_sets[face.zones[0].course_set].cladding.starter_drop else "line"
        levels = ", ".join(level_words(plan.job, one) for one in lines)
        yield f"{face.elevation.name}, at steps: {what}{'s' if len(lines) > 1 else ''} {levels}"


def _first_lines(plan: Plan, faces: Sequence[ElevationPlan]) -> dict[str, list[str]]:
    """Names of the faces by the line that is snapped first on each."""
    found: dict[str, list[str]] = {}
    for face in faces:
        found.setdefault(_first_line(plan, face), []).append(face.elevation.name)
    return found


def _starters(plan: Plan, room: Box, k: float) -> tuple[list[Mark], float]:
    """The starter of every course set in figures as large as they go; and where that ends [mm]."""
    said = [_said(plan, name, course_set) for name, course_set in plan.course_sets.items()]
    choices = sorted(
        (-(-len(said) // across) + price, figure * k, across)
        for figure, price in _FIGURES
        for across in range(1, min(_MOST_ACROSS, len(said)) + 1)
    )
    fitting = (choice[1:] for choice in choices if _starters_fit(said, room, choice[1:], k))
    figure, across = next(fitting, (_FIGURES[-1][0] * k, min(len(said), _MOST_ACROSS)))
    width = (room.width - (across - 1) * _GUTTER) / across
    tall = _starter_height(said, figure, width, k)
    rows = max(1, int((room.height - _AIR) / tall))
    shown = said if len(said) <= rows * across else said[: max(1, rows * across - 1)]
    marks: list[Mark] = []
    for index, one in enumerate(shown):
        left = room.left + (index % across) * (width + _GUTTER)
        top = room.top - _AIR - (index // across) * tall
        marks += _starter(one, left, top, width, figure, k)
    cells = len(shown)
    if len(shown) < len(said):
        left = room.left + (cells % across) * (width + _GUTTER)
        top = room.top - _AIR - (cells // across) * tall
        more = f"and {len(said) - len(shown)} more: see the faces"
        marks.append(Text(TEXT, (left, top), fitted(more, width, _SMALL * k), _SMALL * k, vertical="cap"))
        cells += 1
    y = room.top - _AIR - -(-cells // across) * tall
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


def _starter_height(said: Sequence[_Starter], figure: float, width: float, k: float) -> float:
    small = _SMALL * k
    below = max(
        0.0
        if not one.beside or _has_room_beside(one, figure, width, k)
        else _beside_height(figure, k) * (1 + _BELOW) + small
        for one in said
    )
    lines = max(len(_few(wrap(one.bands, width, small), 3, width, small)) for one in said)
    return small * 1.9 + figure * (1 + _BELOW) + small + below + lines * small * LEADING_RATIO + 0.6 * small


def _starter(one: _Starter, left: float, top: float, width: float, figure: float, k: float) -> Iterator[Mark]:
    small = _SMALL * k
    yield Text(TEXT, (left, top), fitted(one.label, width, small), small, vertical="cap")
    y = top - small * 1.9
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
    for line in _few(wrap(one.bands, width, small), 3, width, small):
        yield Text(TEXT, (left, y), line, small, vertical="cap")
        y -= small * LEADING_RATIO


def _foot(
    plan: Plan, said: Instructions, contents: Contents, room: Box, k: float
) -> tuple[list[Mark], float]:
    """Material, edges not met, cautions and contents, over the strip; and where they begin [mm]."""
    small = _SMALL * k
    leading = small * LEADING_RATIO
    width = (room.width - _GUTTER) / 2 - _INSET * small
    most = max(4, int(_NOTES * room.height / leading))
    left = _given(plan, said, width, small, most)
    right = [_Line("Cautions", weight="bold")]
    right += [_Line(line) for line in _cautioned(tuple(cautions_together(plan)), width, small, most)]
    whole = [
        _Line(line)
        for text in (_listed("Siding", contents.material), _chapters(contents))
        for line in _few(
            wrap(text, room.width - _INSET * small, small), 2, room.width - _INSET * small, small
        )
        if text
    ]
    marks: list[Mark] = []
    y = room.bottom + 1.2 + (len(whole) - 1) * leading + small + 0.9
    low = y
    marks += _column(whole, room.left, low, small)
    marks.append(Line(TITLE_THIN, (room.left, y + 1.2), (room.right, y + 1.2)))
    top = y + 2.4 + (max(len(left), len(right)) - 1) * leading + small + 1.0
    marks += _column(left, room.left, top, small)
    marks += _column(right, room.right - width - _INSET * small, top, small)
    top += 1.6
    marks.append(Line(TITLE_THIN, (room.left, top), (room.right, top)))
    return marks, top


def _listed(label: str, texts: Sequence[str]) -> str:
    return f"{label}: {'; '.join(texts)}" if texts else ""


def _chapters(contents: Contents) -> str:
    words = [
        f"{title.lower()} {first}" if first == last else f"{title.lower()} {first} to {last}"
        for title, first, last in contents.chapters
    ]
    return f"Sheets: {', '.join(words)}" if words else ""


def _column(lines: Sequence[_Line], left: float, top: float, height: float) -> Iterator[Mark]:
    for index, line in enumerate(lines):
        at = (left + _INSET * height, top - index * height * LEADING_RATIO)
        yield Text(line.pen, at, line.text, height, vertical="cap", weight=line.weight)


def _given(plan: Plan, words: Instructions, width: float, height: float, most: int) -> list[_Line]:
    """The edges of the whole job that are not met, worst first, and why."""
    faces = [(face.elevation.name, one) for face, one in zip(plan.elevations, words.faces, strict=True)]
    built = [name for name, one in faces if one.built]
    said: list[tuple[str, Pen, int]] = []
    if built:
        told = f"As built, {', '.join(built)}: planned from the courses installed; see their sheets"
        said.append((told, NOTE, 0))
    said += [(limit, SLIVER, 0) for missed in words.missed.values() for limit in missed]
    found = [(name, not_met) for name, one in faces for not_met in one.not_met]
    found.sort(key=lambda item: item[1].rank)
    alike: dict[tuple[str, bool], list[tuple[str, int]]] = {}
    for name, one in found:
        alike.setdefault((one.fate, one.sliver), []).append((f"{name} {one.subject}", one.count))
    for (fate, sliver), each in alike.items():
        subjects = ", ".join(subject for subject, _ in each)
        said.append((f"{subjects}: {fate}", SLIVER if sliver else NOTE, sum(count for _, count in each)))
    if len(said) == bool(built):
        said.append(("Every edge that counts is flush.", NOTE, 0))
    lines = [_Line("Edges not met, worst first", weight="bold")]
    for index, (text, pen, _) in enumerate(said):
        wrapped = wrap(text, width, height)
        last = index == len(said) - 1
        if len(lines) + len(wrapped) > most - (not last):
            more = counted(sum(count for *_, count in said[index:]), "more edge")
            lines.append(_Line(f"and {more}: see the faces"))
            break
        lines += [_Line(line, pen) for line in wrapped]
    return lines


def _cautioned(faces: Sequence[_Cautioned], width: float, height: float, most: int) -> list[str]:
    """Cautions in lines, the faces' own ones first; too many are named alone, for the faces' sheets."""
    own, general = _cautions(faces)
    lines = wrap(" ".join([*own, *general]), width, height)
    if len(lines) > most:
        lines = wrap(" ".join([*_named(faces), *general]), width, height)
    if len(lines) > most:
        lines = _few(wrap(" ".join([*general, *_named(faces)]), width, height), most, width, height)
    return lines


def _named(faces: Sequence[_Cautioned]) -> list[str]:
    """What single faces caution of, each kind once with its faces: ``Ground: Street, Garden.``"""
    kinds: dict[str, list[str]] = {}
    every = set.intersection(*(set(texts) for _, texts in faces))
    for face, texts in faces:
        for text in texts:
            names = kinds.setdefault(text.partition(":")[0], [])
            if text not in every and face not in names:
                names.append(face)
    told = [f"{kind}: {', '.join(names)}." for kind, names in kinds.items() if names]
    return [*told, "See the sheet of each face."] if told else []


def _cautions(faces: Sequence[_Cautioned]) -> tuple[list[str], list[str]]:
    """Cautions of single faces, each said once and with the faces that it holds for; and those for all."""
    told: dict[str, list[str]] = {}
    for face, texts in faces:
        for text in texts:
            told.setdefault(text, []).append(face)
    every = len(faces)
    own = [f"{', '.join(names)}: {text}" for text, names in told.items() if len(names) < every]
    shared = [text for text, names in told.items() if len(names) == every]
    return own, [*shared, *GENERAL]
