"""The measuring form: a job's questions in the order in which one walks round a building, to fill in by hand.

Numbers and letters in the sketches are those of the questions beside them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.language.speech import gettext, pgettext
from evencourse.layout.model.job import Units
from evencourse.render.drawing.drawing import Line, Mark, Sheet, Text
from evencourse.render.drawing.fonts import ASCENT_RATIO, LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import DIMENSION, FACE, NOTE, TEXT, TITLE_THIN
from evencourse.render.drawing.placement import Box, fitted
from evencourse.render.templates.foot_line import HEIGHT as FOOT
from evencourse.render.templates.foot_line import foot_line
from evencourse.render.templates.measuring_sketch import BUILDING, SKETCH, building_sketch, face_sketch
from evencourse.render.words.safety import GENERAL

#: Lettering [mm].
_TITLE, _LABEL, _NOTE = 7.0, 3.5, 2.5
#: From one line to write on to the next, and between two columns [mm].
_ROW, _GUTTER = 8.6, 8.0
#: Where a question's words begin after its number [mm].
_INDENT = 7.0
#: Height of a table's head and of its rows [mm].
_HEAD, _CELL = 9.0, 7.6
#: What of a column's width its words leave free [mm]; from one line of a head to the next, for capitals of 1.
_INSET, _HEAD_LEADING = 1.6, 1.65
#: Side of the squares to sketch on: [mm].
_SQUARE = 5.0

#: A column of a table: letter in the sketch, words, share of the width.
Column = tuple[str, str, float]
#: A question: its number, its words, what each of its lines to write on is called.
Question = tuple[str, str, tuple[str, ...]]


def _openings() -> tuple[Column, ...]:
    return (
        ("", pgettext("letter or number of an opening", "mark"), 1.0),
        ("", gettext("kind, shape"), 2.2),
        ("a", pgettext("distance", "from left"), 1.6),
        ("b", pgettext("edge of an opening", "sill"), 1.6),
        ("c", pgettext("size", "width"), 1.6),
        ("d", pgettext("size", "height"), 1.6),
        ("", pgettext("of an arch", "rise"), 1.1),
        ("", gettext("head flush"), 1.5),
        ("", gettext("sill flush"), 1.4),
    )


def _fixtures() -> tuple[Column, ...]:
    return (
        ("", pgettext("letter or number of an opening", "mark"), 1.0),
        ("", pgettext("kind of a fixture on the wall", "what"), 2.4),
        ("a", pgettext("distance", "from left"), 1.8),
        ("b", pgettext("height of the lower edge", "bottom"), 1.8),
        ("", pgettext("size", "width"), 1.8),
        ("", pgettext("size", "height"), 1.8),
        ("", gettext("on a block"), 1.8),
    )


def form_sheets(units: Units, paper_name: str) -> tuple[Sheet, ...]:
    """A measuring form: one sheet for the building, two to be copied for every face.

    Args:
        units: what the tape reads.
        paper_name: a paper of ``evencourse.render.drawing.papers``; the form stands upright on it.

    Returns:
        Three sheets.

    Raises:
        evencourse.render.drawing.papers.PaperError: no such paper.
    """
    sheet = paper(paper_name).upright()
    frame = Box(*sheet.frame)
    found = []
    sheets = (_building(units, frame), _face(frame), _more(frame))
    for number, (title, marks) in enumerate(sheets, start=1):
        words = gettext("Heights from the datum, up is plus. Lengths as the tape reads them.")
        foot = foot_line(((words,),), str(number), frame)
        found.append(Sheet(title, sheet.size, marks=(*marks, *foot), label=str(number)))
    return tuple(found)


def _building(units: Units, frame: Box) -> tuple[str, tuple[Mark, ...]]:
    marks: list[Mark] = []
    title = gettext("Measuring form: the building")
    y = _headed(marks, title, gettext("once for the job"), frame)
    sketch = Box(frame.left, y - BUILDING[1], frame.right, y)
    marks += building_sketch(sketch)
    y = sketch.bottom - 4.0
    mark, cold = ('1/16"', "55 F") if units == "in" else ("1 mm", "13 C")
    level = (
        gettext("laser line, 40 in above the top of the foundation")
        if units == "in"
        else gettext("laser line, 1000 mm above the finished floor")
    )
    questions: tuple[Question, ...] = (
        ("1", pgettext("building that is sided", "Job"), ("",)),
        ("2", gettext("Finest mark that is read on the tape, such as {mark}", mark=mark), ("",)),
        (
            "3",
            gettext("Datum: a level line struck round the building, such as: {example}", example=level),
            (),
        ),
        ("", "", ("",)),
        ("4", gettext("Measured by"), ("", pgettext("before a date", "on"))),
        ("5", gettext("Temperature when the siding goes up, such as {temperature}", temperature=cold), ("",)),
        ("6", gettext("Siding: profile (evencourse claddings lists them), exposure, stock length"), ()),
        (
            "",
            "",
            (
                pgettext("of the siding", "profile"),
                pgettext("of the siding", "exposure"),
                pgettext("of the siding", "length"),
            ),
        ),
        (
            "7",
            gettext("Width of the trim outside the openings"),
            (
                pgettext("edge of an opening", "head"),
                pgettext("edge of an opening", "sill"),
                pgettext("edge of an opening", "side"),
            ),
        ),
        (
            "8",
            pgettext("of the wall", "Studs"),
            (gettext("center to center"), gettext("first one from the left corner")),
        ),
        (
            "21",
            gettext("Last: where the starter line may lie"),
            (pgettext("height", "lowest"), pgettext("height", "highest")),
        ),
    )
    room = Box(frame.left, frame.bottom + FOOT + 3.0, frame.right, y)
    y = _asked(marks, questions, room)
    for text in (
        gettext(
            "Walk round the building once, to the right as you face the wall: one face at a time, seen from "
            "outside. Every x is measured from the left corner of its face, every height from the datum. "
            "Measure an opening as the hole in the wall, its trim once for the job."
        ),
        " ".join(map(gettext, GENERAL)),
    ):
        y -= 2.0
        for line in wrap(text, room.width, _NOTE):
            marks.append(Text(NOTE, (room.left, y), line, _NOTE, vertical="cap"))
            y -= _NOTE * LEADING_RATIO
    return title, tuple(marks)


def _face(frame: Box) -> tuple[str, tuple[Mark, ...]]:
    marks: list[Mark] = []
    heading = gettext("Measuring form: one face")
    y = _headed(marks, heading, gettext("copy for every face"), frame)
    sketch = Box(frame.left, y - SKETCH[1], frame.right, y)
    marks += face_sketch(sketch)
    half = (frame.width - _GUTTER) / 2
    top = sketch.bottom - 3.0
    ends = (pgettext("end of a face", "left"), pgettext("end of a face", "right"))
    left: tuple[Question, ...] = (
        ("9", pgettext("side of the building", "Face"), ("",)),
        ("10", pgettext("size", "Width"), ("",)),
        ("11", pgettext("edge of a wall", "Base"), ends),
        ("12", pgettext("edge of a wall", "Eave"), ends),
        ("13", gettext("Gable: pitch"), ("", gettext("in 12, or peak"))),
    )
    right: tuple[Question, ...] = (
        ("13", gettext("Gable: x of the peak"), ("",)),
        ("14", pgettext("at the foot of a wall", "Ground"), ends),
        ("15", gettext("How much it matters"), ("",)),
        ("16", pgettext("of a face", "Ends"), ends),
        ("17", gettext("Siding changes at"), ("", pgettext("between two sidings", "board"))),
    )
    columns = (Box(frame.left, 0, frame.left + half, top), Box(frame.right - half, 0, frame.right, top))
    y = min(_asked(marks, asked, box) for asked, box in zip((left, right), columns, strict=True))
    note = gettext(
        "10: what siding covers, from corner board to corner board. 15: 1, or more for a face that is seen "
        "most. 16: outside corner, inside corner, or butts another surface. 17: the other siding's name, "
        "too. 18: a door on the base has no sill; flush: must, want or ignore."
    )
    for line in wrap(note, frame.width, _NOTE):
        marks.append(Text(NOTE, (frame.left, y), line, _NOTE, vertical="cap"))
        y -= _NOTE * LEADING_RATIO
    y -= 2.0
    room = y - 2.0 - (frame.bottom + FOOT + 2.0) - 2 * (_HEAD + 8.0) - _ROW
    rows = int(room / _CELL)
    fixtures = 2
    title = gettext("Openings: windows, doors, garage doors, vents")
    y = _table(marks, _openings(), "18", title, rows - fixtures, frame, y - 0.5)
    seams = gettext("Entrance at x: seams will face away from it")
    entrance: tuple[Question, ...] = (("19", seams, ("",)),)
    y = _asked(marks, entrance, Box(frame.left, 0, frame.right, y))
    title = gettext("On the wall: spigots, lights, meters")
    _table(marks, _fixtures(), "20", title, fixtures, frame, y - 1.0)
    return heading, tuple(marks)


def _more(frame: Box) -> tuple[str, tuple[Mark, ...]]:
    """Squared paper for a sketch of the face's own, and more openings."""
    marks: list[Mark] = []
    title = gettext("Measuring form: more of a face")
    y = _headed(marks, title, gettext("a second sheet"), frame)
    face = pgettext("side of the building", "Face")
    marks.append(Text(TEXT, (frame.left, y - 6.0), face, _LABEL))
    after = max(11.0, text_width(face, _LABEL) + 2.5)
    marks += _blanks(frame.left + after, frame.right, y - 6.0, ("",))
    y -= 11.0
    words = gettext(
        "Steps in the wall, or a roof against it: sketch it, and write x and height at every corner."
    )
    marks.append(Text(NOTE, (frame.left, y), words, _NOTE, vertical="cap"))
    y -= 6.0
    rows = int((y - frame.bottom - FOOT - 2.0) * 0.55 / _CELL)
    foot = frame.bottom + FOOT + 4.0
    head = foot + rows * _CELL + _HEAD + 8.0
    marks += _squared(Box(frame.left, head + 4.0, frame.right, y))
    _table(marks, _openings(), "18", gettext("Openings"), rows, frame, head)
    return title, tuple(marks)


def _squared(box: Box) -> Iterator[Mark]:
    """Squares to sketch on, as many whole ones as there is room for."""
    across, up = int(box.width / _SQUARE), int(box.height / _SQUARE)
    left, low = box.left + (box.width - across * _SQUARE) / 2, box.top - up * _SQUARE
    for number in range(across + 1):
        x = left + number * _SQUARE
        yield Line(FACE, (x, low), (x, box.top))
    for number in range(up + 1):
        y = low + number * _SQUARE
        yield Line(FACE, (left, y), (left + across * _SQUARE, y))


def _headed(marks: list[Mark], title: str, beside: str, frame: Box) -> float:
    """The head of a sheet; returns the level below it."""
    top = frame.top - (ASCENT_RATIO - 1.0) * _TITLE
    marks.append(Text(TEXT, (frame.left, top), title, _TITLE, vertical="cap", weight="bold"))
    room = frame.width - text_width(title, _TITLE, "bold") - _GUTTER
    height = _LABEL if text_width(beside, _LABEL) <= room else _NOTE
    marks.append(Text(TEXT, (frame.right, top - _TITLE), fitted(beside, room, height), height, "end"))
    rule = top - _TITLE - 3.5
    marks.append(Line(TITLE_THIN, (frame.left, rule), (frame.right, rule)))
    return rule - 3.0


def _asked(marks: list[Mark], questions: Sequence[Question], box: Box) -> float:
    """Questions one under the other, each with its lines to write on; returns the level below them."""
    y = box.top
    for number, words, blanks in questions:
        base = y - _ROW + 2.6
        if number:
            marks.append(Text(TEXT, (box.left, base), number, _LABEL, weight="bold"))
        x = box.left + _INDENT
        text = fitted(words, box.right - x, _LABEL if blanks or not words else _NOTE)
        marks.append(Text(TEXT, (x, base), text, _LABEL if blanks else _NOTE))
        marks += _blanks(x + (text_width(text, _LABEL) + 2.5 if text else 0.0), box.right, base, blanks)
        y -= _ROW
    return y - 1.5


def _blanks(left: float, right: float, base: float, names: Sequence[str]) -> Iterator[Mark]:
    """Lines to write on, in equal shares, each after what it is called."""
    if not names:
        return
    taken = sum(text_width(name, _NOTE) + 1.5 for name in names if name) + 3.0 * (len(names) - 1)
    each = (right - left - taken) / len(names)
    x = left
    for name in names:
        if name:
            yield Text(NOTE, (x, base), name, _NOTE)
            x += text_width(name, _NOTE) + 1.5
        yield Line(DIMENSION, (x, base - 0.8), (x + each, base - 0.8))
        x += each + 3.0


def _table(
    marks: list[Mark],
    columns: Sequence[Column],
    number: str,
    title: str,
    rows: int,
    frame: Box,
    top: float,
) -> float:
    """A table to fill in; returns the level of its foot."""
    marks.append(Text(TEXT, (frame.left, top), number, _LABEL, vertical="cap", weight="bold"))
    marks.append(Text(TEXT, (frame.left + _INDENT, top), title, _LABEL, vertical="cap"))
    head = top - 6.0
    foot = head - _HEAD - rows * _CELL
    x = frame.left
    for (letter, words, _), wide in zip(columns, _widths(columns, frame.width), strict=True):
        marks.append(Line(DIMENSION, (x, head), (x, foot)))
        if letter:
            marks.append(Text(TEXT, (x + 1.2, head - 1.2), letter, _NOTE, vertical="cap", weight="bold"))
        base = head - _HEAD + 1.4
        for line in reversed(_head_lines(words, wide - _INSET)):
            marks.append(Text(NOTE, (x + 1.2, base), line, _NOTE))
            base += _NOTE * _HEAD_LEADING
        x += wide
    marks.append(Line(DIMENSION, (frame.right, head), (frame.right, foot)))
    marks.append(Line(DIMENSION, (frame.left, head), (frame.right, head)))
    for row in range(rows + 1):
        y = head - _HEAD - row * _CELL
        marks.append(Line(DIMENSION, (frame.left, y), (frame.right, y)))
    return foot


def _widths(columns: Sequence[Column], width: float) -> list[float]:
    """Widths of a table's columns [mm]: their shares, but no narrower than their words, if that can be.

    Words under a letter stand in one line; others may go into two.
    """
    whole = sum(share for *_, share in columns)
    shares = [share / whole * width for *_, share in columns]
    least = [
        max(text_width(word, _NOTE) for word in ([words] if letter else words.split())) + _INSET
        for letter, words, _ in columns
    ]
    short = sum(max(0.0, need - share) for need, share in zip(least, shares, strict=True))
    spare = sum(max(0.0, share - need) for need, share in zip(least, shares, strict=True))
    if not short or short > spare:
        return shares
    left = 1.0 - short / spare
    return [need + max(0.0, share - need) * left for need, share in zip(least, shares, strict=True)]


def _head_lines(words: str, width: float) -> list[str]:
    """The head of a column in a line or two; shortened where that is not enough."""
    first, *more = wrap(words, width, _NOTE)
    return [first, fitted(" ".join(more), width, _NOTE)] if more else [first]
