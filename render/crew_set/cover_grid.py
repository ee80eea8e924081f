"""Pictures of all faces on the cover, at one scale, those of a row on one datum."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.geometry import box_of
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.render.building.wall_face import clad_outline
from evencourse.render.crew_set.cover_starters import shortened
from evencourse.render.drawing.drawing import Mark, Text, View
from evencourse.render.drawing.fonts import LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.pens import TEXT
from evencourse.render.drawing.placement import ELLIPSIS, Box, fitted
from evencourse.render.elevation.face_picture import face_picture
from evencourse.render.words.edge_counts import flush_words, result_words

_NAME, _SMALL = 3.5, 2.5
#: Least width of a picture with its words, and least air between two [mm].
_LEAST, _BETWEEN = 34.0, 7.0
#: Least height of a picture [mm], and the largest scale that one is drawn to.
_LOWEST, _LARGEST = 9.0, 1 / 24
#: A last picture that would be lower than this is none [mm].
_LEAST_HEIGHT = 3.0
#: Most lines of what became of the edges of a face.
_MOST_LINES = 3
#: Air between the starter line and the words under it [mm].
_AIR = 2.4


@dataclass(frozen=True)
class Grid:
    """Placed pictures with their words.

    Attributes:
        views: the pictures.
        marks: the words.
        tight: more faces are left out than shown, or words are cut, for want of room.
    """

    views: tuple[View, ...]
    marks: tuple[Mark, ...]
    tight: bool = False


@dataclass(frozen=True)
class _Picture:
    """A face and what its picture covers [job units]."""

    face: ElevationPlan
    box: Box
    number: int


def picture_grid(plan: Plan, numbers: Sequence[int], room: Box, k: float) -> Grid:
    """Pictures of as many faces as the room has place for.

    Args:
        plan: the plan.
        numbers: number of the first sheet of every face; 0 for one that has none.
        room: where they go [mm].
        k: how much larger than on letter the lettering is.
    """
    pictures = [
        _Picture(face, _box(plan, face), number)
        for face, number in zip(plan.elevations, numbers, strict=True)
    ]
    grid, most = _grid(plan, pictures, room, k, 1), 1
    for lines in range(2, _MOST_LINES + 1):
        if not _cut(grid, k):
            break
        taller = _grid(plan, pictures, room, k, lines)
        if len(taller.views) < len(grid.views) or taller.tight:
            break
        grid, most = taller, lines
    if _cut(grid, k):
        grid = _grid(plan, pictures, room, k, most, short=True)
    return replace(grid, tight=grid.tight or _cut(grid, k))


def _cut(grid: Grid, k: float) -> bool:
    """Whether it is not told whole what became of the edges of a face."""
    return any(
        isinstance(mark, Text) and mark.height == _SMALL * k and ELLIPSIS in mark.text for mark in grid.marks
    )


def _grid(
    plan: Plan, pictures: Sequence[_Picture], whole: Box, k: float, lines: int, short: bool = False
) -> Grid:
    """Pictures with so many lines at most of what became of the edges of each, in few words if need be."""
    unit = 25.4 if plan.job.units == "in" else 1.0
    left_out, room, under = 0, whole, _words_height(k, lines)
    while True:
        rows, factor = _best(pictures, room, k, unit, under)
        lowest = min((picture.box.height for picture in pictures), default=1.0) * factor
        if len(pictures) <= 1 or lowest >= _LOWEST * 0.5:
            break
        drop = max(1, len(pictures) // 8)
        pictures, left_out = pictures[:-drop], left_out + drop
        room = Box(whole.left, whole.bottom + _SMALL * k * LEADING_RATIO, whole.right, whole.top)
    # Nothing where the room is hardly higher than the words under a picture.
    if factor <= 0 or max((one.box.height for one in pictures), default=1.0) * factor < _LEAST_HEIGHT:
        return Grid((), (), tight=True)
    grid = replace(_drawn(plan, rows, room, factor, k, lines, short), tight=left_out > len(pictures))
    if not left_out:
        return grid
    words = ngettext("and {count} more face", "and {count} more faces", left_out)
    more = Text(TEXT, (whole.right, whole.bottom), words, _SMALL * k, "end")
    return replace(grid, marks=(*grid.marks, more))


def _box(plan: Plan, face: ElevationPlan) -> Box:
    return Box(*box_of((*face.elevation.outline, *clad_outline(plan, face))))


def _words_height(k: float, lines: int) -> float:
    """What stands under a picture, the number of its sheet below the lines [mm]."""
    return _AIR + _NAME * k + (lines + 1) * _SMALL * k * LEADING_RATIO + 1.0


def _best(
    pictures: Sequence[_Picture], room: Box, k: float, unit: float, under: float
) -> tuple[list[list[_Picture]], float]:
    """The rows that give the largest pictures, and millimetres of paper for one job unit."""
    best: tuple[list[list[_Picture]], float] = ([list(pictures)], 0.0)
    for count in range(1, len(pictures) + 1):
        rows = _shared(pictures, count)
        tall = room.height / len(rows) - under - (1.5 if len(rows) > 1 else 0.0)
        if tall <= 0:
            break
        factor = min([_LARGEST * unit, *(_row_factor(row, room.width, tall, k) for row in rows)])
        if factor > best[1]:
            best = rows, factor
    return best


def _shared(pictures: Sequence[_Picture], rows: int) -> list[list[_Picture]]:
    """Pictures in their order in so many rows of nearly equal count."""
    size, more = divmod(len(pictures), rows)
    found, at = [], 0
    for row in range(rows):
        end = at + size + (row < more)
        found.append(list(pictures[at:end]))
        at = end
    return found


def _row_factor(row: Sequence[_Picture], width: float, tall: float, k: float) -> float:
    high = max(picture.box.top for picture in row) - min(picture.box.bottom for picture in row)
    least, free = _LEAST * k, width - _BETWEEN * k * (len(row) - 1)
    if least * len(row) > free:
        return 0.0
    factor = tall / high
    # A picture narrower than its words takes the width of its words.
    for _ in range(8):
        wide = [picture for picture in row if picture.box.width * factor > least]
        rest = free - least * (len(row) - len(wide))
        total = sum(picture.box.width for picture in wide)
        if total * factor <= rest + ROUNDING:
            return factor
        factor = rest / total
    return factor


def _drawn(
    plan: Plan,
    rows: Sequence[Sequence[_Picture]],
    room: Box,
    factor: float,
    k: float,
    lines: int,
    short: bool,
) -> Grid:
    views: list[View] = []
    marks: list[Mark] = []
    under = _words_height(k, lines)
    unit = 25.4 if plan.job.units == "in" else 1.0
    heights = [
        (max(p.box.top for p in row) - min(p.box.bottom for p in row)) * factor + under for row in rows
    ]
    spare = (room.height - sum(heights)) / (len(rows) + 1)
    y = room.top
    for row, height in zip(rows, heights, strict=True):
        y -= spare + height
        datum = y + under - min(p.box.bottom for p in row) * factor
        widths = [max(_LEAST * k, p.box.width * factor) for p in row]
        gap = (room.width - sum(widths)) / (len(row) + 1)
        between = max(_BETWEEN * k, gap) if len(row) > 1 else 0.0
        x = room.left + (room.width - sum(widths) - between * (len(row) - 1)) / 2
        for picture, width in zip(row, widths, strict=True):
            middle = x + width / 2
            at = (middle - (picture.box.left + picture.box.right) / 2 * factor, datum)
            whole = (room.left, room.bottom, room.right, room.top)
            views.append(View(face_picture(plan, picture.face, factor), factor / unit, at, whole))
            reach = 2 * min(middle - room.left, room.right - middle)
            wide = min(width + between * 0.8, reach)
            marks += _words(picture, (middle, y + under - _AIR), wide, k, lines, short)
            x += width + between
    return Grid(tuple(views), tuple(marks))


def _words(
    picture: _Picture, at: tuple[float, float], width: float, k: float, lines: int, short: bool
) -> Iterator[Mark]:
    """Name of a face, what became of its edges, and its sheet, under its picture."""
    x, y = at
    yield Text(
        TEXT,
        (x, y),
        fitted(picture.face.elevation.name, width, _NAME * k, "bold"),
        _NAME * k,
        "middle",
        "cap",
        weight="bold",
    )
    y -= _NAME * k + _SMALL * k * 0.75
    told = _counted(result_words(picture.face.edges, picture.face.thin_ends), width, _SMALL * k)
    where = (gettext("sheet {number}", number=picture.number),) if picture.number else ()
    shown = shortened(told, lines, width, _SMALL * k)
    if short and any(ELLIPSIS in line for line in shown):
        shown = [flush_words(picture.face.edges)]
    for words in (*shown, *where):
        yield Text(TEXT, (x, y), fitted(words, width, _SMALL * k), _SMALL * k, "middle", "cap")
        y -= _SMALL * k * LEADING_RATIO


def _counted(words: str, width: float, height: float) -> list[str]:
    """Counts in lines; a number stays with what it counts where a line has room for both."""
    kept = ", ".join(one.replace(" ", "\N{NO-BREAK SPACE}") for one in words.split(", "))
    longest = max(text_width(one, height) for one in words.split(" "))
    counts = max(text_width(f"{one},", height) for one in words.split(", "))
    return wrap(kept if longest <= counts <= width else words, width, height)
