"""The full-size template of a rake cut: the corner of a course, tiled over sheets with match marks.

The template is a right triangle: one exposure up, the layout's run over it, the cut from point to point.
Every part is placed by its own distance from the square corner, never from the one beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from evencourse.layout.courses.rake_cut import RakeCut
from evencourse.layout.language.speech import gettext, pgettext
from evencourse.layout.model.job import Job
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.render.drawing.drawing import Drawing, Line, Mark, Path, Point, Sheet, Text, View
from evencourse.render.drawing.font_files import Weight
from evencourse.render.drawing.fonts import ASCENT_RATIO, DESCENT_RATIO, text_width
from evencourse.render.drawing.papers import MM_PER_INCH, Paper
from evencourse.render.drawing.pens import (
    GREY_RULE,
    INK_FILL,
    NOTE,
    POLE_CUT,
    SCALE,
    TEMPLATE,
    TEMPLATE_CUT,
    TEXT,
    Pen,
)
from evencourse.render.drawing.placement import Box, Occupied
from evencourse.render.templates.check_bar import bar_name, check_bars
from evencourse.render.templates.foot_line import HEIGHT as FOOT
from evencourse.render.templates.foot_line import foot_line
from evencourse.render.words.plan_words import layout_words, square_words

#: What is shown round the triangle, and beyond match lines [mm].
_AIR, OVERLAP = 3.0, 8.0
#: What the check bars take at the left and at the foot [mm].
_BARS = 12.0
#: Ticks along the straight edges: every so many job units; their length, that of every fifth or twelfth [mm].
_STEP = {"in": 1.0, "mm": 10.0}
_FIFTH = {"in": 4, "mm": 5}
_TICK, _LONG = 1.6, 3.0
#: Side of the mark at the square corner; match marks, how far from the ends of a match line they stand [mm].
_SQUARE, _MARK, _FROM_END = 5.0, 1.8, 14.0
#: Exposures nearer to each other than this share one mark [mm].
_APART = 8.0
#: Lettering, and how far words stand off what they speak of, the nearest first [mm].
_NOTE, _LABEL = 2.5, 3.5
_GAPS = (1.6, 3.0, 5.0, 8.0, 12.0, 18.0, 26.0)
_AROUND = ((1, 1), (-1, 1), (1, -1), (-1, -1), (0, 1), (0, -1), (1, 0), (-1, 0), (1, -0.1), (-1, 0.1))


@dataclass(frozen=True)
class _Tile:
    """A part of the template.

    Attributes:
        number: from 1.
        shown: what it shows between its match lines, from the square corner [mm].
        left: number of the part to the left; 0 for none.
        right: to the right.
        below: below.
        above: above.
        at: where the square corner lies on the paper [mm].
    """

    number: int
    shown: Box
    left: int
    right: int
    below: int
    above: int
    at: Point

    @property
    def on_paper(self) -> Box:
        """What it shows between its match lines, on the paper [mm]."""
        x, y = self.at
        return Box(self.shown.left + x, self.shown.bottom + y, self.shown.right + x, self.shown.top + y)

    @property
    def window(self) -> Box:
        """The same with the overlaps [mm]."""
        box = self.on_paper
        return Box(
            box.left - (OVERLAP if self.left else 0.0),
            box.bottom - (OVERLAP if self.below else 0.0),
            box.right + (OVERLAP if self.right else 0.0),
            box.top + (OVERLAP if self.above else 0.0),
        )


@dataclass(frozen=True)
class Template:
    """A template laid out on its sheets.

    Attributes:
        job: for units and tape.
        cut: what it is the template of.
        paper: the paper, lying or upright, whichever takes fewer sheets.
        tiles: its parts.
    """

    job: Job
    cut: RakeCut
    paper: Paper
    tiles: tuple[_Tile, ...]

    @property
    def parts(self) -> int:
        """How many sheets it takes."""
        return len(self.tiles)

    def sheet(self, index: int, title: str, right: str, chapter: str, issue: str = "") -> Sheet:
        """One part.

        Args:
            index: from 0.
            title: of the cut.
            right: which sheet of how many, for the foot line.
            chapter: of its bookmark.
            issue: which issue of the job it belongs to; empty for none.
        """
        tile, frame = self.tiles[index], Box(*self.paper.frame)
        part = gettext("{rake}, template", rake=title)
        if self.parts > 1:
            part = gettext(
                "{rake}, template, part {number} of {count}", rake=title, number=tile.number, count=self.parts
            )
        window = tile.window
        view = View(
            _drawing(self.job, self.cut),
            1.0,
            tile.at,
            (window.left, window.bottom, window.right, window.top),
        )
        first = gettext("measure both bars first, {length} each", length=bar_name(self.job.units))
        number = pgettext("of a template", "part {part}", part=tile.number) if self.parts > 1 else ""
        ways = (
            (part, "", first, self.job.name, issue),
            (title, number, gettext("measure both bars first"), self.job.name, issue),
        )
        marks = (
            *_joints(tile),
            *_words(self.job, self.cut, tile, part, _room(frame)),
            *check_bars(self.job.units, (frame.left + 0.5, frame.bottom + FOOT + 2.0)),
            *foot_line(ways, right, frame, 3),
        )
        return Sheet(part, self.paper.size, (view,), marks, chapter=chapter)


def template(job: Job, cut: RakeCut, sheet: Paper) -> Template:
    """Lay a template out on sheets of a paper, lying or upright: the fewer, then the fewer rows."""
    ways = [_tiles(job, cut, paper) for paper in (sheet, sheet.upright())]
    best = min((0, 1), key=lambda way: (len(ways[way]), len({tile.shown.bottom for tile in ways[way]})))
    return Template(job, cut, (sheet, sheet.upright())[best], ways[best])


def _size(job: Job, cut: RakeCut) -> tuple[float, float]:
    """Run and rise of the triangle [mm]."""
    exposure, run = cut.layouts[0]
    unit = _unit(job)
    return run * unit, exposure * unit


def _others(job: Job, cut: RakeCut) -> Iterator[tuple[float, float]]:
    """Smaller exposures that are marked, too: those far enough from the ones above them to be told apart."""
    last = cut.layouts[0][0]
    for exposure, run in cut.layouts[1:]:
        if (last - exposure) * _unit(job) >= _APART:
            yield exposure, run
            last = exposure


def _tiles(job: Job, cut: RakeCut, paper: Paper) -> tuple[_Tile, ...]:
    frame = Box(*paper.frame)
    room = _room(frame)
    run, rise = _size(job, cut)
    across, wide = _shares(run + 2 * _AIR, room.width)
    down, tall = _shares(rise + 2 * _AIR, room.height)

    def corner(column: int, row: int) -> Point:
        return (-_AIR + column * wide, -_AIR + row * tall)

    # A part that the triangle does not reach is not printed.
    cells = [
        (column, row)
        for row in range(down)
        for column in range(across)
        if max(corner(column, row)[0], 0) / run + max(corner(column, row)[1], 0) / rise < 1 - ROUNDING
    ]
    numbers = {cell: number for number, cell in enumerate(cells, start=1)}
    found = []
    for (column, row), number in numbers.items():
        x, y = corner(column, row)
        left = room.left + (OVERLAP if across > 1 else (room.width - wide) / 2)
        foot = room.bottom + (OVERLAP if down > 1 else (room.height - tall) / 2)
        before, after = (numbers.get((column + step, row), 0) for step in (-1, 1))
        below, above = (numbers.get((column, row + step), 0) for step in (-1, 1))
        shown = Box(x, y, x + wide, y + tall)
        found.append(_Tile(number, shown, before, after, below, above, (left - x, foot - y)))
    return tuple(found)


def _room(frame: Box) -> Box:
    """What check bars and foot line leave of a frame [mm]."""
    return Box(frame.left + _BARS, frame.bottom + FOOT + _BARS, frame.right, frame.top)


def _shares(length: float, room: float) -> tuple[int, float]:
    """In how many equal parts a length is cut to go into a room, and the length of each [mm]."""
    if length <= room:
        return 1, length
    count = ceil(length / (room - 2 * OVERLAP))
    return count, length / count


def _drawing(job: Job, cut: RakeCut) -> Drawing:
    """The template at full size, its square corner at the origin, in the job's units."""
    mm = 1.0 / _unit(job)
    rise, run = cut.layouts[0]
    marks: list[Mark] = [
        Line(TEMPLATE, (0.0, 0.0), (run, 0.0)),
        Line(TEMPLATE, (0.0, 0.0), (0.0, rise)),
        Path(SCALE, ((_SQUARE * mm, 0.0), (_SQUARE * mm, _SQUARE * mm), (0.0, _SQUARE * mm))),
    ]
    step = _STEP[job.units]
    for number in range(1, ceil(max(rise, run) / step)):
        at = number * step
        tick = (_LONG if number % _FIFTH[job.units] == 0 else _TICK) * mm
        if at * rise + tick * run < run * rise:
            marks.append(Line(SCALE, (at, 0.0), (at, tick)))
        if at * run + tick * rise < run * rise:
            marks.append(Line(SCALE, (0.0, at), (tick, at)))
    for exposure, over in _others(job, cut):
        marks.append(Line(POLE_CUT, (0.0, exposure), (run - over, exposure)))
        marks.append(Line(POLE_CUT, (run - over, 0.0), (run - over, exposure)))
    marks.append(Line(TEMPLATE_CUT, (run, 0.0), (0.0, rise)))
    return Drawing(gettext("Rake template"), job.units, tuple(marks))


def _joints(tile: _Tile) -> Iterator[Mark]:
    """Match lines and match marks."""
    box = tile.on_paper
    for other, x in ((tile.left, box.left), (tile.right, box.right)):
        if other:
            yield Line(GREY_RULE, (x, box.bottom), (x, box.top))
            for y in (box.bottom + _FROM_END, box.top - _FROM_END):
                for side in (-1.0, 1.0):
                    base = x + side * 2 * _MARK
                    yield Path(None, ((x, y), (base, y - _MARK), (base, y + _MARK)), True, fill=INK_FILL)
    for other, y in ((tile.below, box.bottom), (tile.above, box.top)):
        if other:
            yield Line(GREY_RULE, (box.left, y), (box.right, y))
            for x in (box.left + _FROM_END, box.right - _FROM_END):
                for side in (-1.0, 1.0):
                    base = y + side * 2 * _MARK
                    yield Path(None, ((x, y), (x - _MARK, base), (x + _MARK, base)), True, fill=INK_FILL)


def _words(job: Job, cut: RakeCut, tile: _Tile, title: str, room: Box) -> Iterator[Mark]:
    """What the parts of the template are, and how the sheets join, wherever there is room for it."""
    run, rise = _size(job, cut)
    taken = _taken(job, cut, tile)
    x, y = tile.at
    mine = tile.on_paper.grown(-2.5)
    inner = Box(
        mine.left if tile.left else room.left,
        mine.bottom if tile.below else room.bottom,
        mine.right if tile.right else room.right,
        mine.top if tile.above else room.top,
    )
    yield from _join_words(tile, taken)
    exposure, over = cut.layouts[0]
    unit = _unit(job)
    level = gettext("{length} over", length=square_words(job, over))
    plumb = gettext("{length} up", length=square_words(job, exposure))
    labels: list[tuple[Point, str, float, Weight, Pen]] = [
        ((run / 2, 0.0), level, _LABEL, "bold", TEXT),
        ((0.0, rise / 2), plumb, _LABEL, "bold", TEXT),
        ((run, 0.0), gettext("long point"), _NOTE, "bold", TEXT),
        ((0.0, rise), gettext("short point"), _NOTE, "bold", TEXT),
        ((run / 2, rise / 2), gettext("the cut"), _LABEL, "bold", TEMPLATE_CUT),
        ((0.0, 0.0), gettext("square corner: this edge lies on the butt line"), _NOTE, "regular", NOTE),
    ]
    for tall, wide in _others(job, cut):
        said = gettext("course of {layout}: short point", layout=layout_words(job, tall, wide))
        labels.append(((run - wide * unit, tall * unit), said, _NOTE, "regular", NOTE))
    for (ax, ay), text, height, weight, pen in labels:
        anchor = (ax + x, ay + y)
        shown = tile.shown
        if not (shown.left <= ax < shown.right and shown.bottom <= ay < shown.top):
            continue
        yield from _placed(_round(anchor, text, height, weight), text, height, weight, pen, inner, taken)
    for height in (5.0, _LABEL, _NOTE):
        wide, tall = text_width(title, height, "bold"), height * (ASCENT_RATIO + DESCENT_RATIO)
        xs = (inner.right - wide, inner.left, (inner.left + inner.right - wide) / 2)
        ys = (inner.top - tall, inner.bottom, *(inner.bottom + inner.height * k / 6 for k in range(5, 0, -1)))
        boxes = (_box(left, foot, wide, height) for foot in ys for left in xs)
        marks = tuple(_placed(boxes, title, height, "bold", TEXT, inner, taken))
        yield from marks
        if marks:
            break


def _taken(job: Job, cut: RakeCut, tile: _Tile) -> Occupied:
    """The lines that no word may touch [mm of paper]."""
    run, rise = _size(job, cut)
    x, y = tile.at
    unit = _unit(job)
    taken = Occupied()
    ends = [((run, 0.0), (0.0, rise)), ((0.0, 0.0), (run, 0.0)), ((0.0, 0.0), (0.0, rise))]
    ends += [((0.0, _SQUARE), (_SQUARE, _SQUARE)), ((_SQUARE, 0.0), (_SQUARE, _SQUARE))]
    ends += [((0.0, _LONG), (run, _LONG)), ((_LONG, 0.0), (_LONG, rise))]  # nothing stands in the ticks
    for tall, wide in _others(job, cut):
        back = run - wide * unit
        ends += [((0.0, tall * unit), (back, tall * unit)), ((back, 0.0), (back, tall * unit))]
    taken.lines += [((ax + x, ay + y), (bx + x, by + y)) for (ax, ay), (bx, by) in ends]
    for mark in _joints(tile):
        if isinstance(mark, Path):
            xs, ys = [px for px, _ in mark.points], [py for _, py in mark.points]
            taken.take(Box(min(xs), min(ys), max(xs), max(ys)))
    taken.lines += [(mark.start, mark.end) for mark in _joints(tile) if isinstance(mark, Line)]
    return taken


def _join_words(tile: _Tile, taken: Occupied) -> Iterator[Mark]:
    """Words in the overlaps: which part goes where; fewer where the template leaves little room."""
    box, half = tile.on_paper, OVERLAP / 2
    for other, plumb, at in (
        (tile.left, True, box.left - half),
        (tile.right, True, box.right + half),
        (tile.below, False, box.bottom - half),
        (tile.above, False, box.top + half),
    ):
        if not other:
            continue
        tries: tuple[str, ...] = (gettext("lay part {part} on this line", part=other),)
        if other < tile.number:
            tries = (
                gettext("cut along this line, lay it on part {part}", part=other),
                gettext("lay it on part {part}", part=other),
            )
        for words in (*tries, pgettext("of a template", "part {part}", part=other)):
            place = _in_overlap(words, box, at, plumb, taken)
            if place is not None:
                centre = ((place.left + place.right) / 2, (place.bottom + place.top) / 2)
                yield Text(NOTE, centre, words, _NOTE, "middle", "middle", 90.0 if plumb else 0.0)
                break


def _in_overlap(words: str, box: Box, at: float, plumb: bool, taken: Occupied) -> Box | None:
    """A free place for words along a match line, the nearest to its middle."""
    wide, half = text_width(words, _NOTE), _NOTE * 0.8
    low, high = (box.bottom, box.top) if plumb else (box.left, box.right)
    middle, reach = (low + high) / 2, (high - low - wide) / 2
    steps = [sign * step * 3.0 for step in range(ceil(max(reach, 0.0) / 3.0) + 1) for sign in (1, -1)]
    spans = [(middle + step - wide / 2, middle + step + wide / 2) for step in steps if abs(step) <= reach]
    boxes = (
        Box(at - half, start, at + half, end) if plumb else Box(start, at - half, end, at + half)
        for start, end in spans
    )
    return taken.first_free(boxes, 0.5)


def _placed(
    boxes: Iterator[Box], text: str, height: float, weight: Weight, pen: Pen, room: Box, taken: Occupied
) -> Iterator[Mark]:
    """A text in the first of some boxes that is free and inside a room; nothing when none is."""
    place = taken.first_free((box for box in boxes if box.inside(room)), 0.6)
    if place is not None:
        base = place.bottom + DESCENT_RATIO * height
        yield Text(pen, (place.left, base), text, height, weight=weight)


def _round(anchor: Point, text: str, height: float, weight: Weight) -> Iterator[Box]:
    """Boxes for a text round a point, the nearest first."""
    wide, tall = text_width(text, height, weight), height * (ASCENT_RATIO + DESCENT_RATIO)
    for gap in _GAPS:
        for right, up in _AROUND:
            x = anchor[0] + right * gap - (0.0 if right > 0 else wide if right < 0 else wide / 2)
            y = anchor[1] + up * gap - (0.0 if up > 0 else tall if up < 0 else tall / 2)
            yield _box(x, y, wide, height)


def _box(x: float, y: float, wide: float, height: float) -> Box:
    return Box(x, y, x + wide, y + height * (ASCENT_RATIO + DESCENT_RATIO))


def _unit(job: Job) -> float:
    """Millimetres in one job unit."""
    return MM_PER_INCH if job.units == "in" else 1.0
