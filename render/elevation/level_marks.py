"""Beside both ends of the wall: the datum with its level mark, the line to snap, their distance."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from evencourse.layout.language.speech import pgettext
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.job import Corner
from evencourse.layout.model.tolerance import SAME
from evencourse.render.building.roof_edge import post_width
from evencourse.render.building.siding_lines import base_span, extent, first_lines, inner_bases
from evencourse.render.building.wall_face import band_boards, lowest_set
from evencourse.render.drawing.drawing import Dimension, Facts, Line, Mark, Path, Point, Text
from evencourse.render.drawing.fonts import descent, text_width
from evencourse.render.drawing.pens import DATUM, DIMENSION, INK_FILL, LEVEL_MARK, STARTER, STARTER_THIN, TEXT
from evencourse.render.drawing.placement import Box, Occupied, text_box
from evencourse.render.words.piece_words import trim_words
from evencourse.render.words.plan_words import level_words, on_tape, show

#: What they take beside the wall [mm], and how wide a post leaves them room there.
_BESIDE, _POST = 15.0, 3.2
#: From the wall to a line and to its far end; to the dimension line [mm].
_FROM, _TO, _DIMENSION = 0.8, 14.6, 4.6
#: Lettering: of the dimension, of the word; from a line to a word, and half a level mark [mm].
_HEIGHT, _WORD, _OVER, _HALF = 3.5, 2.5, 1.2, 0.8
#: How far the word may reach into the post [mm].
_INTO = 0.5
#: What the ground of a piece's number paints over beside it [mm].
_OFF_GROUND = 0.5
#: Figures beside lines within the wall, what they keep off them [mm], and where along them they are tried.
_FIGURE, _FIGURE_AIR, _SHARES = 2.5, 0.8, (0.5, 0.3, 0.7, 0.1, 0.9)
#: From the dimension line to the middle of its lettering; what its ends take of it [mm].
_BESIDE_LINE, _ENDS = 2.5, 1.4


def level_reach(plan: Plan, corner: Corner, mm: float) -> float:
    """What they take beside the wall at a corner, past its post, farther where the word is long [mm]."""
    post = post_width(plan.job, corner) / mm
    room = _TO - _FROM - 2 * (_HALF + 0.2) - min(post, _POST) + _INTO
    return _BESIDE + max(0.0, text_width(_datum_word(), _WORD) - room) + max(0.0, post - _POST)


def _datum_word() -> str:
    return pgettext("level that heights are measured from", "Datum")


def level_boxes(
    plan: Plan, face: ElevationPlan, window: Box, beside: tuple[float, float], mm: float
) -> tuple[Box, Box]:
    """What they may cover left and right of a wall, in the room that is theirs there [mm]."""
    levels = [chalk for _, chalk, _ in first_lines(plan, face) if window.bottom <= chalk <= window.top]
    low, high = min(window.bottom, 0.0) - 1.0 * mm, max(0.0, window.bottom, *levels) + 6.0 * mm
    return (
        Box(window.left - beside[0] * mm, low, window.left, high),
        Box(window.right, low, window.right + beside[1] * mm, high),
    )


def level_marks(plan: Plan, face: ElevationPlan, window: Box, wall: Box, mm: float) -> Iterator[Mark]:
    """Datum, line to snap and their distance at each end of the wall that shows.

    The line is the chalk line where there is a starter strip, else the starter line; it is dimensioned only
    where siding begins on it.

    Args:
        plan: the plan.
        face: one of its faces.
        window: what is shown of the wall [job units].
        wall: the whole wall.
        mm: drawing units in one millimetre of paper.
    """
    first = [(line, chalk, parts) for line, chalk, parts in first_lines(plan, face)]
    seen = extent(plan, face)
    ends = []
    if window.left <= wall.left + SAME:
        ends.append((wall.left, -1.0, min(first, key=lambda one: one[2][0][0], default=None)))
    if window.right >= wall.right - SAME:
        ends.append((wall.right, 1.0, max(first, key=lambda one: one[2][-1][1], default=None)))
    for x, away, base in ends:
        corner = face.elevation.left if away < 0 else face.elevation.right
        from_wall = away * (post_width(plan.job, corner) + _FROM * mm)
        beyond = x + away * (level_reach(plan, corner, mm) - _BESIDE) * mm
        level = None
        if base is not None:
            at = base[2][0][0] if away < 0 else base[2][-1][1]
            # A stretch that ends inside the wall, at a step, has its line in the wall.
            level = base[1] if abs(at - x) <= _TO * mm else None
            if level is not None and window.bottom - SAME <= level <= window.top + SAME:
                yield from _snapped(plan, face, base[0], level, (at, x, beyond), away, from_wall, mm)
            else:
                level = None
        if seen.bottom <= 0.0 <= seen.top and window.bottom - SAME <= 0.0 <= window.top + SAME:
            yield from _datum(x + from_wall, beyond, away, level is not None and level > SAME, mm)
            if level is not None and on_tape(plan.job, level) != 0:
                yield _distance(show(plan.job, abs(on_tape(plan.job, level))), level, beyond, away, mm)


def inner_figures(
    plan: Plan, face: ElevationPlan, mm: float, taken: Occupied, window: Box | None
) -> Iterator[Text]:
    """How far from the datum each line lies that is snapped over a base within the wall, beside that line.

    Args:
        plan: the plan.
        face: one of its faces.
        mm: drawing units in one millimetre of paper.
        taken: occupied boxes; the figures are added.
        window: what is shown of the wall [job units]; None for all.
    """
    for line, level, parts in inner_bases(plan, face):
        words = level_words(plan.job, level)
        wide = text_width(words, _FIGURE) * mm
        left, right = max(parts, key=lambda part: part[1] - part[0])
        places = [
            (left + share * (right - left - wide), y)
            for y in (level + _FIGURE_AIR * mm, line - (_FIGURE + 2 * _FIGURE_AIR) * mm)
            for share in _SHARES
        ]
        at = _first_free(((at, text_box(at, words, _FIGURE, mm)) for at in places), taken, window)
        if at is not None:
            yield Text(STARTER, at, words, _FIGURE, ground=True)


def _first_free(places: Iterable[tuple[Point, Box]], taken: Occupied, window: Box | None) -> Point | None:
    """The first place whose box is free and shows; it is taken."""
    for at, box in places:
        if (window is None or box.inside(window)) and taken.free(box):
            taken.take(box)
            return at
    return None


def board_names(
    plan: Plan, face: ElevationPlan, mm: float, taken: Occupied, window: Box | None
) -> Iterator[Text]:
    """The name of every band board with its height, in the widest part of it that shows and has room.

    Args:
        plan: the plan.
        face: one of its faces.
        mm: drawing units in one millimetre of paper.
        taken: occupied boxes; the names are added.
        window: what is shown of the wall [job units]; None for all.
    """
    for zone, boards in band_boards(face):
        words = trim_words("band board", zone.zone.trim, plan.job)
        wide, tail = text_width(words, _WORD) * mm, descent(words) * _WORD * mm
        parts = [(max(board[0][0], board[3][0]), min(board[1][0], board[2][0])) for board in boards]
        if window is not None:
            parts = [(max(left, window.left), min(right, window.right)) for left, right in parts]
        left, right = max(parts, key=lambda part: part[1] - part[0], default=(0.0, 0.0))
        if right - left < wide or zone.zone.trim < _WORD * mm + tail:
            continue
        y = zone.top + (zone.zone.trim - _WORD * mm + tail) / 2
        starts = [left + share * (right - left - wide) for share in _SHARES]
        boxes = [Box(x, y - tail, x + wide, y + _WORD * mm).grown(_OFF_GROUND * mm) for x in starts]
        at = _first_free((((x, y), box) for x, box in zip(starts, boxes, strict=True)), taken, window)
        if at is not None:
            yield Text(TEXT, at, words, _WORD)


def _snapped(
    plan: Plan,
    face: ElevationPlan,
    line: float,
    level: float,
    ends: tuple[float, float, float],
    away: float,
    from_wall: float,
    mm: float,
) -> Iterator[Mark]:
    """The line to snap, just outside the wall; ``ends``: of base, of wall, and from where it is long."""
    starter = line == lowest_set(plan, face).lines.starter
    name = "chalk line" if level > line else "starter" if starter else "first course"
    at, x, beyond = ends
    begin = at if abs(at - base_span(plan, face)[0 if away < 0 else 1]) <= SAME else x
    start, end = begin + from_wall, beyond + away * _TO * mm
    yield Line(STARTER, (start, level), (end, level), (("line", name), ("height", level)))
    if level > line:  # what hangs on it begins here
        facts: Facts = (("line", "starter" if starter else "first course"), ("height", line))
        yield Line(STARTER_THIN, (start, line), (end, line), facts)


def _datum(near: float, beyond: float, away: float, below: bool, mm: float) -> Iterator[Mark]:
    """The datum with its level mark and its word, under it where the dimension stands over it."""
    far = beyond + away * _TO * mm
    facts: Facts = (("line", "datum"), ("height", 0.0))
    yield Line(DATUM, (near, 0.0), (far, 0.0), facts)
    tip = min(near, far) + (_HALF + 0.2) * mm
    way = -1.0 if below else 1.0
    corners = ((tip, 0.0), (tip - _HALF * mm, way * 1.5 * mm), (tip + _HALF * mm, way * 1.5 * mm))
    foot = _OVER if not below else -_OVER - _WORD
    yield Text(TEXT, (tip + (_HALF + 0.2) * mm, foot * mm), _datum_word(), _WORD, ground=True)
    yield Path(LEVEL_MARK, corners, closed=True, fill=INK_FILL)  # over the ground of the word


def _distance(text: str, level: float, x: float, away: float, mm: float) -> Dimension:
    low, high = sorted((0.0, level))
    line = x + away * _DIMENSION * mm
    length = text_width(text, _HEIGHT) * mm
    if length + 2 * _ENDS * mm <= high - low:
        at = (line + away * _BESIDE_LINE * mm, (low + high) / 2)
        return Dimension(DIMENSION, (line, low), (line, high), (line, low), 90.0, text, _HEIGHT, at, 0.0)
    height = max(_WORD, min(_HEIGHT, (_TO - _FROM) / (length / mm) * _HEIGHT))
    beyond = low - (1.2 + height / 2) * mm if level < 0 else high + (1.2 + height / 2) * mm
    at = (x + away * (_FROM + _TO) / 2 * mm, beyond)
    return Dimension(
        DIMENSION, (line, low), (line, high), (line, low), 90.0, text, height, at, 0.0, level=True
    )
