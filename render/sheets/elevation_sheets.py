"""The sheets of one face: the drawing at the largest scale that fits, notes below it, the foot strip."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import islice, pairwise
from math import ceil, floor

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.border.title_block import Titled, title_block
from evencourse.render.details.detail_set import DetailSet
from evencourse.render.drawing.drawing import Mark, Sheet, View
from evencourse.render.drawing.numbering import Draft, numbered
from evencourse.render.drawing.papers import Paper, Scale, paper, scales
from evencourse.render.drawing.placement import Box, box_of
from evencourse.render.elevation.elevation import COLUMN_LEAST, FacePart, FaceToDraw, PlacedFace, place
from evencourse.render.elevation.match_line import match_lines
from evencourse.render.sheets.face_list import FaceList, ListRow
from evencourse.render.sheets.foot_strip import HEIGHT, foot_strip
from evencourse.render.sheets.list_sheets import ListBlock, list_under, lists_beside
from evencourse.render.sheets.notes import Notes, face_notes
from evencourse.render.words.caution_words import tight_words
from evencourse.render.words.instructions import FaceInstructions
from evencourse.render.words.result import Result

#: Air between drawing and notes [mm].
_AIR = 2.5
#: Least air between a drawing and the list under it [mm].
_OVER_LIST = 3.0
#: How far a match line keeps off an opening, as a share of the wall's width or height.
_CLEAR = 0.01
#: Match lines lie on whole multiples of this from the left, so that a tape finds them [job units].
_MARK = {"in": 1.0, "mm": 10.0}
#: A part that shows less of the wall than this is no help [mm].
_NARROWEST = 30.0
#: How far a match line moves out of an opening's way, as a share of a part; farther on it cuts through.
_SHIFT = 0.4
#: Parts that a face is cut into, and the staggered columns that its ladder may take, in the order tried:
#: two sheets that read easily are better than one that does not, one of those better than three.
_ORDER = ((1, 2), (2, 2), (1, 3), (2, 3), (1, 4), (2, 4), *((count, 4) for count in range(3, 17)))


@dataclass(frozen=True)
class _Part:
    """A placed part of a face.

    Attributes:
        window: what it shows of the wall; None for all of it.
        beside: how many sheets on the parts left and right of it are; 0 for none.
        over: the same for the parts below and above it.
    """

    placed: PlacedFace
    window: Box | None
    beside: tuple[int, int] = (0, 0)
    over: tuple[int, int] = (0, 0)


def job_sheets(
    result: Result, paper_name: str, stamp: Stamp = NO_STAMP, cut: Pieces | None = None
) -> tuple[tuple[Sheet, ...], ...]:
    """The sheets of every face of a job, numbered through.

    Args:
        result: the finished result of a job.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
        cut: its pieces, for seams and marks; None draws none.

    Returns:
        For every face its sheets, in the order of the job: one when a standard scale fits at which every
        label can be read; else the face in as few parts, side by side, as can be read, joined at match lines.

    Raises:
        evencourse.render.drawing.papers.PaperError: no such paper.
    """
    faces = face_drafts(result.plan, result.instructions.faces, paper_name, stamp, cut)
    sheets = iter(numbered(draft for face in faces for draft in face.drafts))
    return tuple(tuple(islice(sheets, len(face.drafts))) for face in faces)


@dataclass(frozen=True)
class FaceSheets:
    """The sheets of a face.

    Attributes:
        drafts: one a part, not yet numbered.
        rest: rows of its list that have no room under its drawing.
    """

    drafts: tuple[Draft, ...]
    rest: tuple[ListRow, ...] = ()


def face_drafts(
    plan: Plan,
    said: Sequence[FaceInstructions],
    paper_name: str,
    stamp: Stamp = NO_STAMP,
    cut: Pieces | None = None,
    details: DetailSet | None = None,
    lists: Sequence[FaceList] = (),
) -> tuple[FaceSheets, ...]:
    """The sheets of every face, not yet numbered; else as :func:`job_sheets`.

    Args:
        plan: the plan.
        said: instructions of every face.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
        cut: its pieces, for seams and marks; None draws none.
        details: its details, whose letters stand at the edges; None draws none.
        lists: of every face, of which as much as has room stands under its drawing, in a set with a cover;
            none for faces that stand alone.
    """
    found = []
    frame = Box(*paper(paper_name).frame)
    for index, (face, words) in enumerate(zip(plan.elevations, said, strict=True)):
        hung = cut.faces[index] if cut is not None else None
        whole = FaceToDraw(plan, face, words, hung, details.faces[index] if details else None)
        tight = tight_words(hung, plan) if hung is not None else ()
        notes = face_notes(words, frame, hung, tight, not lists)
        room = _room(notes, paper_name)
        scale, parts = _fit(whole, room)
        blocks: list[ListBlock | None] = [None] * len(parts)
        rest: Sequence[ListRow] = ()
        if lists:
            parts, blocks, rest = _listed(lists[index], whole, scale, tuple(parts), room)
        laid_out = _LaidOut(plan, face, notes, scale, parts, room, paper(paper_name), stamp, blocks)
        drafts = tuple(partial(laid_out.sheet, place) for place in range(len(parts)))
        found.append(FaceSheets(drafts, tuple(rest)))
    return tuple(found)


def _listed(
    given: FaceList, whole: FaceToDraw, scale: Scale, parts: tuple[_Part, ...], room: Box
) -> tuple[tuple[_Part, ...], list[ListBlock | None], Sequence[ListRow]]:
    """Parts and how much of the list stands on the sheet of each: what is left over is as little as can be.

    A face on one sheet may give up the air at its right; its wall is drawn no smaller for it.
    """
    rest: Sequence[ListRow] = given.rows
    blocks: list[ListBlock | None] = []
    for part in parts:
        spare = room.height - part.placed.box.height - _OVER_LIST
        block = list_under(given, rest, room.width, spare) if rest else None
        blocks.append(block)
        rest = rest[len(rest) - block.rest :] if block is not None else rest
    if len(parts) == 1 and rest:
        measured = whole.part(None, scale.factor)
        for block in lists_beside(given, given.rows, room.width, room.height):
            width = room.width - block.side
            column, high = measured.column_width(width), room.height - block.height
            if column < COLUMN_LEAST:
                break
            placed = place(measured, column, high)
            if not placed.fits or placed.box.height > high + SAME or placed.box.width > width + SAME:
                break
            if block.rest < len(rest):
                rest = given.rows[len(given.rows) - block.rest :]
                parts, blocks = (_Part(placed, None),), [block]
    return parts, blocks, rest


@dataclass(frozen=True)
class _LaidOut:
    """A face laid out on its sheets.

    Attributes:
        plan: the plan.
        face: one of its faces.
        notes: what every sheet of the face says over its foot strip.
        scale: of every part.
        parts: one a sheet.
        room: what the drawing may take of a sheet [mm].
        paper: what it is drawn on.
        stamp: which issue the sheets belong to.
        lists: what stands under the drawing of each part.
    """

    plan: Plan
    face: ElevationPlan
    notes: Notes
    scale: Scale
    parts: Sequence[_Part]
    room: Box
    paper: Paper
    stamp: Stamp
    lists: Sequence[ListBlock | None]

    def sheet(self, index: int, number: int, count: int) -> Sheet:
        """The sheet of a part, as one of so many."""
        part, room, frame = self.parts[index], self.room, Box(*self.paper.frame)
        name = f"part {index + 1} of {len(self.parts)}" if len(self.parts) > 1 else ""
        face = self.face.elevation.name
        titled = Titled(face, (number, count), self.scale.label, face, name)
        box, listed = part.placed.box, self.lists[index]
        taken, side = (listed.height, listed.side) if listed is not None else (0.0, 0.0)
        floor = room.bottom + taken
        at = (
            room.left + (room.width - side - box.width) / 2 - box.left,
            floor + (room.top - floor - box.height) / 2 - box.bottom,
        )
        sets = tuple(self.plan.course_sets[zone.course_set] for zone in self.face.zones)
        marks: tuple[Mark, ...] = (
            *self.notes.marks(frame, frame.bottom + HEIGHT),
            *(listed.marks(room) if listed is not None else ()),
            *foot_strip(self.plan, self.face, sets, self.scale, frame),
            title_block(self.plan, titled, self.stamp, self.paper),
        )
        title = f"{face}, {name}" if name else face
        return Sheet(title, self.paper.size, _views(self.plan, part, self.scale, at, frame, number), marks)


def _room(notes: Notes, paper_name: str) -> Box:
    """What the drawing may take, above the notes and the foot strip [mm]."""
    frame = Box(*paper(paper_name).frame)
    return Box(frame.left, frame.bottom + HEIGHT + notes.height + _AIR, frame.right, frame.top)


def drawing_scale(plan: Plan, face: ElevationPlan, said: FaceInstructions, paper_name: str) -> Scale:
    """The scale that the sheets of a face are drawn to."""
    notes = face_notes(said, Box(*paper(paper_name).frame))
    return _fit(FaceToDraw(plan, face, said), _room(notes, paper_name))[0]


def _fit(whole: FaceToDraw, room: Box) -> tuple[Scale, tuple[_Part, ...]]:
    """The fewest parts, and for them the largest scale, at which everything can be read."""
    plan, face = whole.plan, whole.face
    standard = scales(plan.job.units)
    for count, columns in _ORDER:
        grids = [
            (grid, windows)
            for grid in _grids(count)
            if (windows := _windows(plan, face, whole.extent, *grid))
        ]
        for scale in standard:
            for grid, windows in grids:
                parts = _all_placed(whole, scale, windows, room, columns)
                if parts:
                    return scale, _joined(parts, *grid)
    scale = standard[-1]
    return scale, (_Part(place(whole.part(None, scale.factor), COLUMN_LEAST, room.height), None),)


def _joined(parts: Sequence[_Part], down: int, across: int) -> tuple[_Part, ...]:
    """Parts that know their neighbours; they go from the left, and from the bottom up."""
    found = []
    for index, part in enumerate(parts):
        row, column = divmod(index, across)
        beside = (-1 if column else 0, 1 if column < across - 1 else 0)
        over = (-across if row else 0, across if row < down - 1 else 0)
        found.append(_Part(part.placed, part.window, beside, over))
    return tuple(found)


def _all_placed(
    face: FaceToDraw, scale: Scale, windows: Sequence[Box | None], room: Box, columns: int
) -> tuple[_Part, ...]:
    """Every part at one scale; none when one of them does not fit or cannot be read."""
    measured = [face.part(window, scale.factor) for window in windows]
    if not all(_may_fit(part, room, columns) for part in measured):
        return ()
    parts = []
    for part, window in zip(measured, windows, strict=True):
        placed = place(part, part.column_width(room.width), room.height)
        if not placed.fits or placed.box.height > room.height + SAME:
            return ()
        parts.append(_Part(placed, window))
    return tuple(parts)


def _may_fit(part: FacePart, room: Box, columns: int) -> bool:
    """Whether a part may fit, as far as that can be told before it is laid out."""
    return (
        part.window.height * part.factor + part.below <= room.height
        and part.window.width * part.factor <= room.width
        and (not part.cut or part.window.width * part.factor >= _NARROWEST)
        and part.columns <= columns
        and part.column_width(room.width) >= COLUMN_LEAST
        and not part.crowded
    )


def _grids(count: int) -> Iterator[tuple[int, int]]:
    """Ways to cut a face into so many parts, the fewest parts over each other first: down, across."""
    for down in range(1, count + 1):
        if count % down == 0:
            yield down, count // down


def _windows(plan: Plan, face: ElevationPlan, whole: Box, down: int, across: int) -> Sequence[Box | None]:
    """Parts of a face, from the left, and from the bottom up."""
    if down == across == 1:
        return (None,)
    things = [box_of(hole.trimmed) for hole in face.elevation.openings]
    things += [Box(item.left, item.bottom, item.right, item.top) for item in face.elevation.fixtures]
    mark = _MARK[plan.job.units]
    xs = _cuts(whole.left, whole.right, [(thing.left, thing.right) for thing in things], across, mark)
    butts = [butt for zone in face.zones for butt in plan.course_sets[zone.course_set].lines.butt_lines]
    ys = _cuts(whole.bottom, whole.top, [(thing.bottom, thing.top) for thing in things], down)
    ys = [whole.bottom, *(_on_butt(y, butts) for y in ys[1:-1]), whole.top]
    if any(right - left < SAME for left, right in (*pairwise(xs), *pairwise(ys))):
        return ()
    return tuple(
        Box(left, bottom, right, top) for bottom, top in pairwise(ys) for left, right in pairwise(xs)
    )


def _on_butt(height: float, butts: Sequence[float]) -> float:
    """A level match line on the butt line below it, so that every course is whole on one of its sheets."""
    return max((butt for butt in butts if butt <= height + SAME), default=height)


def _cuts(
    low: float, high: float, things: Sequence[tuple[float, float]], count: int, mark: float = 0.0
) -> list[float]:
    """Where match lines run: near equal shares, through no opening and no fixture where that can be had.

    Args:
        low: where the first part begins [job units].
        high: where the last one ends.
        things: what is not cut through: from and to.
        count: of parts.
        mark: lines lie on whole multiples of this from the first part's beginning; 0 for anywhere.
    """
    clear, step = _CLEAR * (high - low), (high - low) / count

    def marked(at: float, way: Callable[[float], int]) -> float:
        return low + way((at - low) / mark) * mark if mark else at

    places = [marked(start - clear, floor) for start, _ in things]
    places += [marked(end + clear, ceil) for _, end in things]
    cuts = [low]
    for number in range(1, count):
        wanted = marked(low + step * number, round)
        free = [
            at
            for at in (wanted, *places)
            if abs(at - wanted) <= _SHIFT * step and not any(start < at < end for start, end in things)
        ]
        cuts.append(min((abs(at - wanted), at) for at in free)[1] if free else wanted)
    return [*cuts, high]


def _views(
    plan: Plan, part: _Part, scale: Scale, at: tuple[float, float], frame: Box, number: int
) -> tuple[View, View]:
    whole = (frame.left, frame.bottom, frame.right, frame.top)
    window, around = whole, part.placed.around
    if part.window is not None:
        factor = scale.factor * (25.4 if plan.job.units == "in" else 1.0)
        window = (
            at[0] + part.window.left * factor if part.beside[0] else frame.left,
            at[1] + part.window.bottom * factor if part.over[0] else frame.bottom,
            at[0] + part.window.right * factor if part.beside[1] else frame.right,
            at[1] + part.window.top * factor if part.over[1] else frame.top,
        )
        beside, over = (_numbered(number, steps) for steps in (part.beside, part.over))
        lines = match_lines(plan.job, part.window, factor, beside, over)
        around = replace(around, marks=(*around.marks, *lines))
    return View(part.placed.wall, scale.factor, at, window), View(around, scale.factor, at, whole)


def _numbered(number: int, steps: tuple[int, int]) -> tuple[int, int]:
    """Numbers of the sheets so many steps on; 0 stays none."""
    return (number + steps[0] if steps[0] else 0, number + steps[1] if steps[1] else 0)
