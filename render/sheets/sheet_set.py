"""The whole set of a job's sheets: cover, details, elevations, edge schedule, rakes, cut list, take-off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import islice

from evencourse.render.details.detail_set import details_of
from evencourse.render.drawing.drawing import Document, Sheet
from evencourse.render.drawing.numbering import Draft, numbered
from evencourse.render.sheets.cover import Contents, cover
from evencourse.render.sheets.cut_list_sheet import cut_list_sheets
from evencourse.render.sheets.detail_sheets import TITLE as DETAILS
from evencourse.render.sheets.detail_sheets import detail_drafts
from evencourse.render.sheets.edge_schedule import edge_schedule
from evencourse.render.sheets.elevation_sheets import face_drafts
from evencourse.render.sheets.rake_sheet import rake_drafts
from evencourse.render.sheets.take_off_sheet import take_off_sheets
from evencourse.render.words.result import Result

ELEVATIONS = "Elevations"


@dataclass(frozen=True)
class DrawnSheets:
    """What is drawn of a job outside its set.

    Attributes:
        details: its details.
        faces: for every face its sheets.
    """

    details: tuple[Sheet, ...]
    faces: tuple[tuple[Sheet, ...], ...]


def drawn_sheets(result: Result, paper_name: str, date: str | None = None) -> DrawnSheets:
    """Details and faces of a job, numbered through, the details first; arguments as for :func:`sheet_set`."""
    plan = result.plan
    details = details_of(plan)
    sections = detail_drafts(plan, details, paper_name, date)
    said = result.instructions.faces
    faces = face_drafts(plan, said, paper_name, date, result.material.pieces, details)
    sheets = iter(numbered([*sections, *(draft for face in faces for draft in face)]))
    shown = tuple(islice(sheets, len(sections)))
    return DrawnSheets(shown, tuple(tuple(islice(sheets, len(face))) for face in faces))


def sheet_set(result: Result, paper_name: str, date: str | None = None) -> Document:
    """Every sheet of a job, numbered through, the cover first.

    Args:
        result: the finished result of a job.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        date: ISO date to print; None for none.

    Returns:
        The document; its title is the job's name, its author the one of the job file.

    Raises:
        evencourse.render.drawing.papers.PaperError: no such paper.
    """
    plan = result.plan
    details = details_of(plan)
    sections = detail_drafts(plan, details, paper_name, date)
    said = result.instructions.faces
    faces = face_drafts(plan, said, paper_name, date, result.material.pieces, details)
    chapters: list[tuple[str, Sequence[Draft]]] = [
        (DETAILS, sections),
        (ELEVATIONS, [draft for face in faces for draft in face]),
        ("Edge schedule", edge_schedule(plan, paper_name, date)),
        ("Rakes", [draft for rake in rake_drafts(plan, paper_name, date) for draft in rake]),
        ("Cut list", cut_list_sheets(result, paper_name, date)),
        ("Take-off", take_off_sheets(result, paper_name, date)),
    ]
    first, listed = 2, []
    for title, drafts in chapters:
        if drafts:
            listed.append((title, first, first + len(drafts) - 1))
            first += len(drafts)
    contents = Contents(tuple(listed), _first_sheets(faces, 2 + len(sections)), result.instructions.sidings)
    front = cover(result, contents, paper_name, date)
    inside = [_in_chapter(draft, title) for title, drafts in chapters for draft in drafts]
    return Document(
        plan.job.name or "Siding layout",
        numbered([front, *inside]),
        author=plan.job.author,
        subject="Course lines, edges, rakes and pieces of horizontal siding",
        date=date,
    )


def _first_sheets(faces: Sequence[Sequence[Draft]], first: int) -> tuple[int, ...]:
    """Number of the first sheet of every face; ``first`` is that of the first face."""
    numbers, at = [], first
    for face in faces:
        numbers.append(at)
        at += len(face)
    return tuple(numbers)


def _in_chapter(draft: Draft, chapter: str) -> Draft:
    def sheet(number: int, count: int) -> Sheet:
        return replace(draft(number, count), chapter=chapter)

    return sheet
