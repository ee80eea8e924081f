"""The whole set of a job's sheets: cover, elevations, edge schedule, cut list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from layout.piece import Piece
from layout.pieces import Pieces, pieces
from layout.plan import Plan
from render.cover import Contents, area_words, cover
from render.cutlistsheet import cut_list
from render.draft import Draft, numbered
from render.drawing import Document, Sheet
from render.edgeschedule import edge_schedule
from render.elevationsheets import face_drafts
from render.words import show

ELEVATIONS = "Elevations"


def sheet_set(plan: Plan, paper_name: str, date: str | None = None) -> Document:
    """Every sheet of a job, numbered through, the cover first.

    Args:
        plan: the plan.
        paper_name: a paper of ``render.papers``.
        date: ISO date to print; None for none.

    Returns:
        The document; its title is the job's name, its author the one of the job file.

    Raises:
        render.papers.PaperError: no such paper.
    """
    made = pieces(plan)
    faces = face_drafts(plan, paper_name, date)
    chapters: list[tuple[str, Sequence[Draft]]] = [
        (ELEVATIONS, [draft for face in faces for draft in face]),
        ("Edge schedule", edge_schedule(plan, paper_name, date)),
        ("Cut list", cut_list(plan, made, paper_name, date)),
    ]
    first, listed = 2, []
    for title, drafts in chapters:
        if drafts:
            listed.append((title, first, first + len(drafts) - 1))
            first += len(drafts)
    contents = Contents(tuple(listed), _first_sheets(faces), tuple(_material(plan, made)))
    front = cover(plan, contents, paper_name, date)
    inside = [_in_chapter(draft, title) for title, drafts in chapters for draft in drafts]
    return Document(
        plan.job.name or "Siding layout",
        numbered([front, *inside]),
        author=plan.job.author,
        subject="Course lines, edges, rakes and pieces of horizontal siding",
        date=date,
    )


def _first_sheets(faces: Sequence[Sequence[Draft]]) -> tuple[int, ...]:
    """Number of the first sheet of every face: the cover is number 1."""
    numbers, at = [], 2
    for face in faces:
        numbers.append(at)
        at += len(face)
    return tuple(numbers)


def _in_chapter(draft: Draft, chapter: str) -> Draft:
    def sheet(number: int, count: int) -> Sheet:
        return replace(draft(number, count), chapter=chapter)

    return sheet


def _material(plan: Plan, made: Pieces) -> Iterator[str]:
    """What is hung, a line a cladding: how much of it shows, and the lengths that it takes."""
    shown: dict[str, float] = {}
    for piece in made.all():
        shown[piece.cladding] = shown.get(piece.cladding, 0.0) + _area(piece)
    for name, area in shown.items():
        cladding = plan.job.claddings[name]
        words = f"{cladding.label}, {area_words(area, plan.job.units)} to cover"
        if name in made.stock:
            cutting = made.stock[name]
            words += f", {len(cutting.bars)} lengths of {show(plan.job, cutting.stock)}"
        yield words


def _area(piece: Piece) -> float:
    """What shows of a piece [square job units]: its outline less its holes, by the shoelace formula."""
    rings = (piece.polygon, *piece.holes)
    return abs(
        sum(
            x0 * y1 - x1 * y0
            for ring in rings
            for (x0, y0), (x1, y1) in zip(ring, (*ring[1:], ring[0]), strict=True)
        )
        / 2
    )
