"""What stands beside each mark of a story pole: course number, height, who needs it, where the saw goes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from evencourse.layout.language.speech import gettext, pgettext
from evencourse.layout.model.course_plan import Edge, Plan, Result
from evencourse.layout.model.job import Job
from evencourse.layout.model.missed_limit import EdgeKind
from evencourse.layout.results.pole_marks import FaceEdge, Pole, PoleLine
from evencourse.render.drawing.drawing import Leader, Mark, Text
from evencourse.render.drawing.font_files import Weight
from evencourse.render.drawing.fonts import LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.pens import LEADER, NOTE, SLIVER, STARTER, TEXT, Pen
from evencourse.render.drawing.placement import fitted, spread
from evencourse.render.elevation.edge_signs import SIGN_WIDTH, sign
from evencourse.render.elevation.height_ladder import HEAVY_EVERY
from evencourse.render.words.plan_words import (
    band_words,
    course_name,
    kind_words,
    on_tape,
    show,
)

#: How much a label says: everything; who needs the line and no more; the course and its height.
Fullness = Literal["full", "short", "bare"]
FULLNESS: tuple[Fullness, ...] = ("full", "short", "bare")
#: Lettering of course numbers, of their heights, of who needs a line, of notes [mm].
_NUMBER, _LEVEL, _LABEL, _NOTE = 7.0, 5.0, 3.5, 2.5
_APART, _PAD, _INDENT = 3.0, 0.9, SIGN_WIDTH + 1.4


@dataclass(frozen=True)
class LabelLine:
    """One line of a label.

    Attributes:
        text: what it says.
        height: height of its capitals [mm].
        weight: regular or bold.
        pen: its colour.
        beside: what stands to the right of it, in regular lettering; empty for nothing.
        beside_height: height of that [mm].
        sign: the sign before it.
        indent: it begins as far in as a row with a sign.
    """

    text: str
    height: float
    weight: Weight = "regular"
    pen: Pen = TEXT
    beside: str = ""
    beside_height: float = 0.0
    sign: Result | None = None
    indent: bool = False

    @property
    def takes(self) -> float:
        """Its share of the label's height [mm]."""
        return self.height * (LEADING_RATIO if self.height < _LEVEL else 1.35)


@dataclass(frozen=True)
class Label:
    """What stands beside one mark.

    Attributes:
        height: of the mark [job units].
        rows: from the top down.
        heavy: it is one of the butt lines at which the level is checked.
        line: it belongs to a butt line.
    """

    height: float
    rows: tuple[LabelLine, ...]
    heavy: bool = False
    line: bool = False

    @property
    def takes(self) -> float:
        """Height of all rows and the air round them [mm]."""
        return sum(row.takes for row in self.rows) + 2 * _PAD

    @property
    def above(self) -> float:
        """From the middle of its first row up to its upper end [mm]."""
        return _PAD + self.rows[0].takes / 2


def heavy(line: PoleLine) -> bool:
    """Whether a butt line is one of those at which the level is checked."""
    return line.course % HEAVY_EVERY == 0 or line.course == 1


def labels(
    plan: Plan, acts: Mapping[Edge, str], pole: Pole, datum: bool, width: float, fullness: Fullness
) -> Iterator[Label]:
    """The labels of a pole, in no order.

    Args:
        plan: the plan.
        acts: what to do at each edge.
        pole: one of its poles.
        datum: the datum is on the pole.
        width: room for lettering [mm].
        fullness: how much they say.
    """
    job = plan.job
    before: tuple[str, ...] = pole.faces
    for line in pole.lines:
        rows = [_first(plan, pole, line, width, fullness)]
        if fullness != "bare":
            rows += _needed(job, pole, line, width)
        if fullness == "full":
            rows += _notes(job, pole, line, before, width)
        before = line.faces
        yield Label(line.height, tuple(rows), heavy(line), True)
    chalk = pole.chalk_line
    if chalk is not None:
        level = show(job, chalk)
        rows = [LabelLine(gettext("Chalk line"), _LABEL, "bold", STARTER, level, _LABEL)]
        if fullness == "full":
            rows.append(LabelLine(gettext("top of the starter strip"), _NOTE))
        yield Label(chalk, tuple(rows))
    if datum:
        name = pgettext("level that heights are measured from", "Datum")
        yield Label(0.0, (LabelLine(name, _LABEL, "bold", beside=show(job, 0.0), beside_height=_LABEL),))
    if fullness != "bare":
        yield from _cuts(plan.job, acts, pole, width, fullness)


def _first(plan: Plan, pole: Pole, line: PoleLine, width: float, fullness: Fullness) -> LabelLine:
    ends = not line.faces  # courses only end here: the number of the one below
    number = course_name(pole.course_set, line.course - 1 if ends else line.course)
    name = gettext("top of {course}", course=number) if ends else number
    level = show(plan.job, line.height)
    weight: Weight = "bold"
    if fullness == "bare":
        return LabelLine(name, _NOTE, weight, beside=level, beside_height=_NOTE)
    for big, small in ((_NUMBER, _LEVEL), (_LEVEL, _LABEL), (_LABEL, _LABEL)):
        if text_width(name, big, weight) + _APART + text_width(level, small) <= width:
            break
    return LabelLine(name, big, weight, beside=level, beside_height=small)


def _needed(job: Job, pole: Pole, line: PoleLine, width: float) -> Iterator[LabelLine]:
    """The edges that a line meets, and the starter line by its name."""
    if line.course == 1:
        prefix = pole.course_set.prefix
        if not pole.course_set.begun:
            name = gettext("No course stands on it")
        elif prefix:
            name = gettext("Starter line {course_set}", course_set=prefix)
        else:
            name = gettext("Starter line")
        yield LabelLine(name, _LABEL, "bold", STARTER)
    for face, own in line.elsewhere:
        if line.hangs and not own.measured:
            continue  # between courses that were measured: nothing is left to do there
        left, right = show(job, own.left), show(job, own.right)
        heights = left if left == right else gettext("{left} left, {right} right", left=left, right=right)
        words = (
            gettext("{face}: installed at {heights}", face=face, heights=heights)
            if own.measured
            else gettext("{face}: strike {heights}", face=face, heights=heights)
        )
        for text in wrap(words, width, _NOTE, "bold"):
            yield LabelLine(text, _NOTE, "bold", SLIVER)
    groups: dict[tuple[str, tuple[EdgeKind, str | None], float], list[FaceEdge]] = {}
    for found in line.flush:
        key = (found.face, _kind(found), on_tape(job, found.edge.miss))
        groups.setdefault(key, []).append(found)
    for (_, _, off), found_ in groups.items():
        words, miss = _whose(found_, pole), show(job, abs(off))
        if off > 0:
            words = gettext("{edges} (line {distance} above it)", edges=words, distance=miss)
        elif off < 0:
            words = gettext("{edges} (line {distance} below it)", edges=words, distance=miss)
        for number, text in enumerate(wrap(words, width - _INDENT, _LABEL)):
            yield LabelLine(text, _LABEL, sign=None if number else "flush", indent=True)


def _notes(job: Job, pole: Pole, line: PoleLine, before: Sequence[str], width: float) -> Iterator[LabelLine]:
    """Where a band begins, and on which faces the courses go on, when that changes."""
    lines = pole.course_set.lines
    words = [gettext("already installed")] if line.hangs else []
    band = next((band for band in lines.bands if band.first_course == line.course), None)
    if band is not None and line.faces:
        words.append(gettext("From here up: {zone}", zone=band_words(job, lines, band)))
    if line.faces and set(line.faces) != set(before):
        faces = ", ".join(line.faces) if len(line.faces) < len(pole.faces) else gettext("all faces")
        course = course_name(pole.course_set, line.course)
        words.append(gettext("Course {course} is on: {faces}", course=course, faces=faces))
    for text in words:
        for row in wrap(text, width, _NOTE):
            yield LabelLine(row, _NOTE, pen=NOTE)


def _cuts(
    job: Job, acts: Mapping[Edge, str], pole: Pole, width: float, fullness: Fullness
) -> Iterator[Label]:
    """Edges that no line meets: those at one height that get the same words share a label."""
    groups: dict[tuple[float, tuple[EdgeKind, str | None], str], list[FaceEdge]] = {}
    for cut in pole.cuts:
        key = (round(cut.edge.height, 6), _kind(cut), acts[cut.edge])
        groups.setdefault(key, []).append(cut)
    for (height, _, action), cuts in groups.items():
        words = gettext("{edges}, {height}", edges=_whose(cuts, pole), height=show(job, height))
        if fullness == "full":
            words = gettext("{edge}: {action}", edge=words, action=action)
        result = cuts[0].edge.result
        pen = SLIVER if result == "sliver" else TEXT
        rows = tuple(
            LabelLine(text, _NOTE, pen=pen, sign=None if number else result, indent=True)
            for number, text in enumerate(wrap(words, width - _INDENT, _NOTE))
        )
        yield Label(height, rows)


def _kind(found: FaceEdge) -> tuple[EdgeKind, str | None]:
    """What the edge is, without its opening."""
    return found.edge.edge, found.edge.roof


def _kind_words(kind: EdgeKind, roof: str | None) -> str:
    """What an edge without an opening is, behind the names of its faces."""
    match kind:
        case "eave":
            return pgettext("edge of a wall", "eave")
        case "eave left":
            return gettext("eave, left end")
        case "eave right":
            return gettext("eave, right end")
        case "base":
            return pgettext("edge of a wall", "base")
        case "band":
            return pgettext("edge of a wall", "band board")
        case "over roof":
            return gettext("over {roof}", roof=roof)
        case "under roof":
            return gettext("under {roof}", roof=roof)
    return kind_words(kind, None)


def _whose(found: Sequence[FaceEdge], pole: Pole) -> str:
    """Edges of one kind by face: ``Road A, B; Yard C head``; the face goes unsaid where there is but one."""
    first, roof = _kind(found[0])
    faces: dict[str, list[str]] = {}
    for item in found:
        marks = faces.setdefault(item.face, [])
        if item.edge.opening is not None and item.edge.opening not in marks:
            marks.append(item.edge.opening)
    said = []
    for name, marks in faces.items():
        whose = [] if len(pole.faces) == 1 else [name]
        marks.sort(key=lambda mark: (len(mark), mark))
        said.append(" ".join([*whose, ", ".join(marks)]).strip())
    words = "; ".join(said)
    if found[0].edge.opening is not None:
        return kind_words(first, words)
    edge = _kind_words(first, roof)
    return pgettext("edges of faces", "{faces} {edge}", faces=words, edge=edge) if words else edge


def place_labels(
    found: Sequence[Label],
    levels: Sequence[float],
    low: float,
    high: float,
    left: float,
    tick: float,
    room: float,
) -> Iterator[Mark]:
    """Labels one over the other, each as near to its mark as the others let it, tied by a leader.

    Args:
        found: labels, from the bottom up.
        levels: where their marks lie on the paper [mm].
        low: nothing reaches below this [mm].
        high: nothing reaches above this [mm].
        left: where lettering begins [mm].
        tick: where the marks end [mm].
        room: room for lettering [mm].
    """
    sizes = [label.takes for label in found]
    wanted = [level + label.above - size / 2 for level, label, size in zip(levels, found, sizes, strict=True)]
    middles = spread(wanted, sizes, low, high)
    for label, level, middle, size in zip(found, levels, middles, sizes, strict=True):
        top = middle + size / 2 - _PAD
        first = top - label.rows[0].takes / 2
        yield Leader(LEADER, ((tick, level), (left - 1.0, first)))
        yield from label_rows(label.rows, left, top, room)


def label_rows(rows: Sequence[LabelLine], left: float, top: float, room: float) -> Iterator[Mark]:
    """The lines of a label, one under the other.

    Args:
        rows: from the top down.
        left: where they begin [mm].
        top: nothing reaches above this [mm].
        room: room for lettering [mm].
    """
    for row in rows:
        yield from _row(row, left, top - row.takes / 2, room)
        top -= row.takes


def _row(row: LabelLine, left: float, middle: float, room: float) -> Iterator[Mark]:
    base = middle - row.height / 2
    start = left + (_INDENT if row.indent else 0.0)
    if row.sign is not None:
        yield from sign(row.sign, (left + SIGN_WIDTH / 2, middle), 1.0)
    text = fitted(row.text, room - (start - left), row.height, row.weight)
    yield Text(row.pen, (start, base), text, row.height, weight=row.weight)
    if row.beside:
        after = start + text_width(text, row.height, row.weight) + _APART
        beside = fitted(row.beside, left + room - after, row.beside_height)
        yield Text(row.pen, (after, base), beside, row.beside_height)
