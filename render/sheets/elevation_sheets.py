"""The sheets of a face: the drawing as large as it may be, its notes and its list, the strip at the foot."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import nullcontext
from dataclasses import dataclass, replace
from functools import cached_property, partial
from itertools import islice

from evencourse.layout.language.speech import alone, beside, gettext
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.piece import FacePieces
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.border.title_block import Titled, title_block
from evencourse.render.details.detail_set import DetailSet
from evencourse.render.drawing.drawing import Mark, Sheet, View
from evencourse.render.drawing.numbering import Draft, numbered
from evencourse.render.drawing.papers import Paper, Scale, paper
from evencourse.render.drawing.placement import Box
from evencourse.render.elevation.face_part import FaceToDraw
from evencourse.render.elevation.match_line import match_lines
from evencourse.render.faces.face_fit import PANEL_GAP, Fit, FittedPart, Room, fits
from evencourse.render.sheets.face_list import span_words
from evencourse.render.sheets.foot_strip import HEIGHT, foot_strip
from evencourse.render.sheets.list_sheets import ListBlock, list_under, sheet_words
from evencourse.render.sheets.notes import FaceWords, Notes, face_notes, face_words, notes_elsewhere
from evencourse.render.words.caution_words import tight_words
from evencourse.render.words.instructions import FaceInstructions
from evencourse.render.words.piece_list import FaceList, ListRow
from evencourse.render.words.result import Result

#: Air between drawing and notes [mm].
_AIR = 2.5
#: Least air between a drawing and the list under it [mm].
_OVER_LIST = 3.0


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
    faces = face_drafts(result, paper_name, stamp, cut)
    sheets = iter(numbered(draft for face in faces for draft in face.drafts))
    return tuple(tuple(islice(sheets, len(face.drafts))) for face in faces)


def face_drafts(
    result: Result,
    paper_name: str,
    stamp: Stamp = NO_STAMP,
    cut: Pieces | None = None,
    details: DetailSet | None = None,
    lists: Sequence[FaceList] = (),
    covered: str = "",
    second_lists: Sequence[FaceList] = (),
) -> tuple[FaceSheets, ...]:
    """The sheets of every face, not yet numbered; else as :func:`job_sheets`.

    Args:
        result: the finished result of a job.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
        cut: its pieces, for seams and marks; None draws none.
        details: its details, whose numbers stand at the edges; None draws none.
        lists: of every face, of which as much as has room stands under its drawing; may be none.
        covered: the sheet of the set that says what holds on every face; empty where each says it.
        second_lists: the lists in the second language.
    """
    plan, found = result.plan, []
    for index, face in enumerate(plan.elevations):
        hung = cut.faces[index] if cut is not None else None

        def words(index: int = index, hung: FacePieces | None = hung) -> FaceWords:
            tight = tight_words(hung, plan) if hung is not None else ()
            return face_words(result.instructions.faces[index], hung, tight, covered)

        said = result.instructions.faces[index]
        whole = FaceToDraw(plan, face, said, hung, details.faces[index] if details else None)
        noted = _Noted(words(), paper(paper_name))
        given, ways = lists[index] if lists else None, fits(whole, noted.room)
        best = _best(whole, ways, noted, given, False, stamp)
        second = beside(words)
        if second is not None:
            told = given.beside(second_lists[index]) if given is not None and second_lists else None
            notes = [replace(noted, second=some) for some in (second, replace(second, given=()))]
            best = _in_both(whole, ways, best, notes, told, stamp)
        found.append(best)
    return tuple(found)


def _best(
    whole: FaceToDraw, ways: Sequence[Fit], noted: _Noted, given: FaceList | None, heads: bool, stamp: Stamp
) -> FaceSheets:
    """Of several ways to set a face out, the one that leaves the least of its list.

    The heads of the list are in both languages, or in the first alone.
    """
    tried = (_laid_out(whole, fit, noted, given, heads, stamp) for fit in ways)
    return min(tried, key=lambda one: len(one.rest))


def _in_both(
    whole: FaceToDraw,
    ways: Sequence[Fit],
    single: FaceSheets,
    noted: Sequence[_Noted],
    told: FaceList | None,
    stamp: Stamp,
) -> FaceSheets:
    """A face with as much in the second language as leaves no more of its list: notes, its rows and heads."""
    fuller: list[FaceSheets] = []
    tiers = [(notes, single.given, heads) for notes in (*noted, single.noted) for heads in (True, False)]
    for notes, given, heads in [(noted[0], told, True), *tiers] if told is not None else tiers:
        roomy = [fit for fit in ways if notes.has_room(fit)]
        if not roomy:
            continue
        found = _best(whole, roomy, notes, given, heads, stamp)
        longer = found.rest and given is not single.given  # what is left takes more room, too
        if len(found.rest) <= len(single.rest) and not longer:
            single = found
            break
        if bool(found.listed) == bool(single.listed):
            fuller.append(found)
    return replace(single, fuller=tuple(fuller if single.rest else ()))


@dataclass(frozen=True)
class _Noted:
    """Notes of a face, and what they leave of its sheets.

    Attributes:
        words: what they say.
        paper: what it is drawn on.
        second: the same in the second language; None where that is left out.
    """

    words: FaceWords
    paper: Paper
    second: FaceWords | None = None

    @property
    def frame(self) -> Box:
        """What may be drawn on [mm]."""
        return Box(*self.paper.frame)

    def notes(self, width: float | None = None) -> Notes:
        """Notes under the drawing, or in a panel of a width beside it."""
        frame = self.frame
        if width is not None:
            frame = Box(frame.right - width, frame.bottom, frame.right, frame.top)
        return face_notes(self.words, frame, width is not None, self.second)

    @cached_property
    def room(self) -> Room:
        """What a sheet has for the face."""
        frame = self.frame
        full = Box(frame.left, frame.bottom + HEIGHT + _AIR, frame.right, frame.top)
        under = replace(full, bottom=full.bottom + self.notes().height)
        other = replace(full, bottom=full.bottom + notes_elsewhere(0, frame).height)

        def panel_fits(width: float, block: float) -> bool:
            return block + self.notes(width).height <= full.height

        return Room(under, other, full, panel_fits, self.paper.width * self.paper.height)

    def has_room(self, fit: Fit) -> bool:
        """Whether they have room at a face that was fitted with fewer of them."""
        return all(
            self.room.panel_fits(part.panel, part.block.height)
            if part.panel
            else not part.noted or part.height <= self.room.under.height + SAME
            for part in fit.parts
        )


def _laid_out(
    whole: FaceToDraw, fit: Fit, noted: _Noted, given: FaceList | None, heads: bool, stamp: Stamp
) -> FaceSheets:
    """A face with its notes and as much of its list as has room on its sheets."""
    rest: Sequence[ListRow] = given.rows if given is not None else ()
    blocks: list[ListBlock | None] = []
    for part in fit.parts:
        room = noted.room.under if part.noted else noted.room.other
        width, spare = room.width, room.height - part.height - _OVER_LIST
        if part.panel:
            width = part.panel
            spare = noted.room.full.height - part.block.height - noted.notes(width).height - _OVER_LIST
        with nullcontext() if heads else alone():
            block = list_under(given, rest, width, spare) if given is not None and rest else None
        blocks.append(block)
        rest = rest[len(rest) - block.rest :] if block is not None else rest
    return FaceSheets(whole.plan, whole.face, noted, fit, blocks, tuple(rest), stamp, given)


@dataclass(frozen=True)
class FaceSheets:
    """A face laid out on its sheets.

    Attributes:
        plan: the plan.
        face: one of its faces.
        noted: its notes.
        fit: its parts, one a sheet.
        lists: what stands of its list on the sheet of each part.
        rest: rows of the list that have no room there.
        stamp: which issue the sheets belong to.
        given: its list.
        listed_on: numbers of the sheets that list the rest.
        fuller: the same with more in the second language, and more rest; the fullest first.
    """

    plan: Plan
    face: ElevationPlan
    noted: _Noted
    fit: Fit
    lists: Sequence[ListBlock | None]
    rest: tuple[ListRow, ...]
    stamp: Stamp
    given: FaceList | None = None
    listed_on: tuple[int, ...] = ()
    fuller: tuple[FaceSheets, ...] = ()

    @property
    def drafts(self) -> tuple[Draft, ...]:
        """Its sheets, one a part, not yet numbered."""
        return tuple(partial(self.sheet, place) for place in range(len(self.fit.parts)))

    @property
    def listed(self) -> str:
        """From which piece to which stand on its sheets; empty for none."""
        return span_words(item for block in self.lists if block is not None for item in block.items)

    def sheet(self, index: int, number: int, count: int) -> Sheet:
        """The sheet of a part, as one of so many."""
        part, listed, frame = self.fit.parts[index], self.lists[index], self.noted.frame
        name, parts = "", len(self.fit.parts)
        if parts > 1:
            name = gettext("part {number} of {count}", number=index + 1, count=parts)
        face, scale = self.face.elevation.name, self.fit.scale
        titled = Titled(face, (number, count), scale.label, face, name)
        sets = tuple(self.plan.course_sets[zone.course_set] for zone in self.face.zones)
        notes = self.noted.notes()
        if not part.noted:
            first = next(place for place, one in enumerate(self.fit.parts) if one.noted)
            notes = notes_elsewhere(number - index + first, frame)
        lists = [number - index + place for place, block in enumerate(self.lists) if block is not None]
        lists += self.listed_on
        before = max((other for other in lists if other < number), default=0)
        after = min((other for other in lists if other > number), default=0)
        around = (before, after)
        room, marks = self._beside(part, listed, around) if part.panel else self._under(notes, listed, around)
        box = part.placed.box
        at = (
            room.left + (room.width - box.width) / 2 - box.left,
            room.bottom + part.under + (room.height - part.height) / 2 - box.bottom,
        )
        if not part.panel:
            marks += part.block.marks(room.left, at[1] + box.bottom)
        marks += foot_strip(
            self.plan, self.face, sets, scale, frame, part.window, _listed_words(number, lists)
        )
        marks.append(title_block(self.plan, titled, self.stamp, self.noted.paper))
        title = f"{face}, {name}" if name else face
        views = _views(self.plan, part, scale, at, frame, number)
        return Sheet(title, self.noted.paper.size, views, tuple(marks))

    def _under(
        self, notes: Notes, listed: ListBlock | None, around: tuple[int, int]
    ) -> tuple[Box, list[Mark]]:
        """What is left for the drawing over list and notes, and these; the list goes on on sheets around."""
        frame, room = self.noted.frame, self.noted.room.full
        marks = [*notes.marks(frame, frame.bottom + HEIGHT)]
        room = replace(room, bottom=room.bottom + notes.height)
        if listed is not None:
            marks += listed.marks(room, *around)
            room = replace(room, bottom=room.bottom + listed.height)
        return room, marks

    def _beside(
        self, part: FittedPart, listed: ListBlock | None, around: tuple[int, int]
    ) -> tuple[Box, list[Mark]]:
        """What is left for the drawing beside the panel with notes and list, and these."""
        frame, room = self.noted.frame, self.noted.room.full
        panel = Box(frame.right - part.panel, room.bottom, frame.right, room.top)
        notes = self.noted.notes(part.panel)
        top = panel.top - part.block.height
        marks = [*part.block.marks(panel.left, panel.top), *notes.marks(panel, top - notes.height)]
        marks += listed.marks(panel, *around) if listed is not None else ()
        return replace(room, right=panel.left - PANEL_GAP), marks


def _listed_words(number: int, lists: Sequence[int]) -> str:
    """Which sheets list the pieces of a face, for one of its own: ``Pieces: here and sheet 6``."""
    others = [other for other in lists if other != number]
    if not others:
        return gettext("Pieces: this sheet") if lists else ""
    if len(others) == len(lists):
        return gettext("Pieces: {sheets}", sheets=sheet_words(others))
    return gettext("Pieces: here and {sheets}", sheets=sheet_words(others))


def drawing_scale(plan: Plan, face: ElevationPlan, said: FaceInstructions, paper_name: str) -> Scale:
    """The scale that the sheets of a face are drawn to."""
    whole = FaceToDraw(plan, face, said)
    return fits(whole, _Noted(face_words(said), paper(paper_name)).room)[0].scale


def _views(
    plan: Plan, part: FittedPart, scale: Scale, at: tuple[float, float], frame: Box, number: int
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
        lines = match_lines(plan.job, part.under_words, factor, beside, over)
        around = replace(around, marks=(*around.marks, *lines))
    return View(part.wall.drawing, scale.factor, at, window), View(around, scale.factor, at, whole)


def _numbered(number: int, steps: tuple[int, int]) -> tuple[int, int]:
    """Numbers of the sheets so many steps on; 0 stays none."""
    return (number + steps[0] if steps[0] else 0, number + steps[1] if steps[1] else 0)
