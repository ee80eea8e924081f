"""The set of a crew: cover, details, the faces with their pieces, trims, rakes and order; more on request."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, islice, pairwise

from evencourse.layout.language.speech import beside, gettext, noop
from evencourse.layout.model.course_plan import Plan
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.crew_set.cover import Contents, caution_sheets, cover_drafts
from evencourse.render.details.detail_set import DetailSet, details_of
from evencourse.render.drawing.drawing import Document, Sheet
from evencourse.render.drawing.numbering import Draft, numbered
from evencourse.render.sheets.detail_sheets import TITLE as DETAILS
from evencourse.render.sheets.detail_sheets import detail_drafts
from evencourse.render.sheets.edge_schedule import TITLE as SCHEDULE
from evencourse.render.sheets.edge_schedule import edge_schedule
from evencourse.render.sheets.elevation_sheets import FaceSheets, face_drafts
from evencourse.render.sheets.list_sheets import ListPart, list_drafts
from evencourse.render.sheets.notes import general_notes
from evencourse.render.sheets.rake_sheet import rake_drafts
from evencourse.render.sheets.saw_sheets import PARTS as SAW_PARTS
from evencourse.render.sheets.saw_sheets import saw_sheets, saw_title
from evencourse.render.words.piece_list import FaceList, face_lists
from evencourse.render.words.result import Result

FACES, TEMPLATES = noop("Faces"), noop("Rake templates")
#: Most faces that share list sheets: a sheet is looked for near its face.
_TOGETHER = 6
#: The parts of a set, in their order.
PARTS = ("cover", "details", "faces", *SAW_PARTS)


@dataclass(frozen=True)
class DrawnSheets:
    """What is drawn of a job outside its set.

    Attributes:
        details: its details.
        faces: for every face its sheets.
    """

    details: tuple[Sheet, ...]
    faces: tuple[tuple[Sheet, ...], ...]


@dataclass(frozen=True)
class _Faces:
    """The chapter of the faces: its sheets, and at which of them, from 0, each face begins."""

    drafts: tuple[Draft, ...]
    begins: tuple[int, ...]


def drawn_sheets(result: Result, paper_name: str, stamp: Stamp = NO_STAMP) -> DrawnSheets:
    """Details and faces of a job, numbered through, the details first; arguments as for :func:`sheet_set`."""
    plan = result.plan
    details = details_of(plan)
    pieces = result.material.pieces
    sections = detail_drafts(plan, details, paper_name, stamp, lambda: general_notes(plan, pieces))
    covered = "details" if sections else ""
    found = face_drafts(result, paper_name, stamp, pieces, details, covered=covered)
    faces = [face.drafts for face in found]
    sheets = iter(numbered([*sections, *(draft for face in faces for draft in face)]))
    shown = tuple(islice(sheets, len(sections)))
    return DrawnSheets(shown, tuple(tuple(islice(sheets, len(face))) for face in faces))


def sheet_set(
    result: Result,
    paper_name: str,
    stamp: Stamp = NO_STAMP,
    only: Collection[str] = PARTS,
    all_edges: bool = False,
    templates: bool = False,
) -> Document:
    """The sheets of a job, numbered through, the cover first.

    Args:
        result: the finished result of a job.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
        only: the parts that are wanted, some of ``PARTS``; their sheets keep the numbers that they have in
            the whole set.
        all_edges: with the schedule of every edge.
        templates: with the templates of the rakes at full size.

    Returns:
        The document; its title is the job's name, its author the one of the job file. It has no sheet where
        nothing that is wanted is there, as the rakes of a job without.

    Raises:
        evencourse.render.drawing.papers.PaperError: no such paper.
    """
    plan = result.plan
    details = details_of(plan)
    sections = detail_drafts(plan, details, paper_name, stamp)
    front = 1 + caution_sheets(result, paper_name)
    faces = _faces(result, details, paper_name, stamp, front + len(sections) + 1)
    saw = [part for part in SAW_PARTS if part in only]
    whole = saw_sheets(result, SAW_PARTS, paper_name, stamp)
    sawn = whole if len(saw) == len(SAW_PARTS) else saw_sheets(result, saw, paper_name, stamp)
    rakes = rake_drafts(plan, paper_name, stamp) if templates else ()
    told = noop("trims and order {sheets}")
    if any(face.rakes for face in plan.elevations):
        told = noop("trims, rakes and order {sheets}")
    edges = edge_schedule(plan, paper_name, stamp) if all_edges else ()
    full_size = [draft for rake in rakes for draft in rake]
    chapters = (
        _Chapter(DETAILS, noop("details {sheets}"), sections, len(sections) if "details" in only else 0),
        _Chapter(FACES, noop("faces {sheets}"), faces.drafts, len(faces.drafts) if "faces" in only else 0),
        _Chapter(saw_title(result, saw), told, sawn, len(sawn), len(whole)),
        _Chapter(SCHEDULE, noop("edge schedule {sheets}"), edges),
        _Chapter(TEMPLATES, noop("rake templates {sheets}"), full_size),
    )
    ends = list(accumulate((chapter.all for chapter in chapters), initial=front))
    listed = tuple(
        (chapter.told, before + 1, end)
        for chapter, (before, end) in zip(chapters, pairwise(ends), strict=True)
        if end > before
    )
    numbers = tuple(1 + ends[1] + start for start in faces.begins)
    contents = Contents(listed, numbers, result.instructions.sidings)
    sheets: tuple[Sheet, ...] = ()
    if "cover" in only:
        sheets = numbered(cover_drafts(result, contents, paper_name, stamp), 1, ends[-1])
    for chapter, before in zip(chapters, ends, strict=False):
        found = numbered(chapter.printed, before + 1, ends[-1])
        sheets += tuple(replace(sheet, chapter=gettext(chapter.title)) for sheet in found)
    return Document(
        plan.job.name or gettext("Siding layout"),
        sheets,
        author=plan.job.author,
        subject=gettext("Course lines, edges, rakes and pieces of horizontal siding"),
        date=stamp.date,
    )


@dataclass(frozen=True)
class _Chapter:
    """A chapter of the set.

    Attributes:
        title: of what is printed of it, in English.
        told: how it and its sheets in the whole set are told on the cover, in English.
        drafts: its sheets.
        wanted: how many of them are printed; None: all.
        whole: how many the whole set has; None: these.
    """

    title: str
    told: str
    drafts: Sequence[Draft]
    wanted: int | None = None
    whole: int | None = None

    @property
    def printed(self) -> Sequence[Draft]:
        """The sheets that are printed."""
        return self.drafts[: self.wanted]

    @property
    def all(self) -> int:
        """How many sheets the chapter has in the whole set."""
        return len(self.drafts) if self.whole is None else self.whole


def _faces(result: Result, details: DetailSet, paper_name: str, stamp: Stamp, number: int) -> _Faces:
    """Faces with their lists; what has no room beside the drawings follows on sheets of its own.

    The first sheet has a number: where a list goes on, and what it is of, is told by numbers.
    """
    plan, lists = result.plan, face_lists(result)
    pieces, second = result.material.pieces, beside(lambda: face_lists(result)) or ()
    found = [*face_drafts(result, paper_name, stamp, pieces, details, lists, "cover", second)]
    parts = [_part(one, face) for one, face in zip(lists, found, strict=True)]
    drafts: list[Draft] = []
    begins: list[int] = []
    for first, last in _shared(result, parts, paper_name):
        found[first:last] = _filled(plan, lists[first:last], found[first:last], paper_name)
        parts[first:last] = map(_part, lists[first:last], found[first:last])
        at = number + len(drafts)
        drawn = []
        for face in found[first:last]:
            begins.append(at - number)
            drawn.append(range(at, at + len(face.drafts)))
            at = drawn[-1].stop
        left = [replace(part, drawn=on) for part, on in zip(parts[first:last], drawn, strict=True)]
        more = list_drafts(plan, left, paper_name, stamp)
        for face, places in zip(found[first:last], more.parts, strict=True):
            drafts += replace(face, listed_on=tuple(at + place for place in places)).drafts
        drafts += more.drafts
    return _Faces(tuple(drafts), tuple(begins))


def _part(given: FaceList, face: FaceSheets) -> ListPart:
    """What of a list follows on sheets of its own."""
    return ListPart(face.given or given, face.rest, before=face.listed)


def _filled(
    plan: Plan, lists: Sequence[FaceList], faces: Sequence[FaceSheets], paper_name: str
) -> list[FaceSheets]:
    """Faces that share list sheets, with as much in the second language as takes no more of those."""
    found = [*faces]

    def count() -> int:
        return len(list_drafts(plan, [*map(_part, lists, found)], paper_name).drafts)

    most = count() if any(face.fuller for face in faces) else 0
    for index, face in enumerate(faces):
        for fuller in face.fuller:
            found[index] = fuller
            if count() <= most:
                break
            found[index] = face
    return found


def _shared(result: Result, parts: Sequence[ListPart], paper_name: str) -> list[tuple[int, int]]:
    """Which faces, from and to, share list sheets: as few sheets as can be, then as few faces together."""
    best: list[tuple[int, int, list[tuple[int, int]]]] = [(0, 0, [])]
    for last in range(1, len(parts) + 1):
        choices = []
        for first in range(max(0, last - _TOGETHER), last):
            count, groups, before = best[first]
            more = len(list_drafts(result.plan, parts[first:last], paper_name).drafts)
            choices.append((count + more, groups - 1, [*before, (first, last)]))
        best.append(min(choices))
    return best[-1][2]
