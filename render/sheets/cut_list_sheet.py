"""The cut list: the pieces of every face in the order of hanging, then the trim."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.order.cut_list import CutList, TrimCuts, faces_in_turn
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.piece import Piece
from evencourse.render.drawing.numbering import Draft
from evencourse.render.sheets.table_sheet import LARGE, Cell, Column, Section, Table, table_drafts
from evencourse.render.words.piece_words import (
    TURN_WORDS,
    cut_words,
    joint_words,
    open_words,
    rest_words,
    source_words,
    trim_cut_words,
    trim_words,
)
from evencourse.render.words.plan_words import counted, show

HANGING, TRIM = "Cut list", "Trim list"
_HANGING_COLUMNS = (
    Column("Piece"),
    Column("From"),
    Column("Length", "end", height=LARGE),
    Column("Other cuts", wraps=True),
    Column("To the heap", "end"),
    Column("Thrown away", "end"),
)
_TRIM_COLUMNS = (Column("No.", "end"), Column("Cut it to", wraps=True), Column("Left over", "end"))
_HANGING_NOTE = (
    f"{TURN_WORDS} A mark is face, course, number from the left. "
    "Lengths run from long point to long point, gaps taken off, laps added; notches from the left end. "
    "Under a flush sill, eave or band board the lap or nail hem comes off, too."
)
_TRIM_NOTE = "Every length of trim and where its pieces go."


def cut_list_sheets(
    plan: Plan, made: Pieces, cuts: CutList, paper_name: str, date: str | None = None
) -> tuple[Draft, ...]:
    """The sheets of the cut list and of the trim list.

    Args:
        plan: the plan.
        made: its pieces: what gave way, and cautions.
        cuts: their cut list.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        date: ISO date to print; None for none.
    """
    tables = (
        Table(HANGING, _HANGING_COLUMNS, tuple(_hanging(plan, made)), _HANGING_NOTE),
        Table(TRIM, _TRIM_COLUMNS, tuple(_trim(plan, trim) for trim in cuts.trims), _TRIM_NOTE),
    )
    return tuple(draft for table in tables for draft in table_drafts(plan, table, paper_name, date))


def _hanging(plan: Plan, made: Pieces) -> Iterator[Section]:
    """A section for every face and cladding, in the order in which they are begun."""
    cautions = {
        part.face: tuple(dict.fromkeys([*(gave.why for gave in part.gave_way), *part.cautions]))
        for part in made.faces
    }
    for name, turn in faces_in_turn(plan, made):
        sections = list(_claddings(plan, name, turn))
        for index, section in enumerate(sections):
            last = index == len(sections) - 1
            said = cautions.get(name, ()) if last else ()
            mind = tuple(
                (Cell("Mind", weight="bold"), Cell(), Cell(), Cell(text), Cell(), Cell()) for text in said
            )
            yield Section(section.heading, (*section.rows, *mind), section.note)


def _claddings(plan: Plan, face: str, turn: Sequence[Piece]) -> Iterator[Section]:
    by_cladding: dict[str, list[Piece]] = {}
    for piece in turn:
        by_cladding.setdefault(piece.cladding, []).append(piece)
    for name, found in by_cladding.items():
        cladding = plan.job.claddings[name]
        note = f"{counted(len(found), 'piece')}, {cladding.label}: {open_words(plan.job, cladding)}"
        if cladding.family == "shingle":
            note = f"{cladding.label}: {counted(len(found), 'run')}, the width that each one covers"
            note += f"; {open_words(plan.job, cladding)}"
        yield Section(face, tuple(_row(plan, piece) for piece in found), note)


def _row(plan: Plan, piece: Piece) -> tuple[Cell, ...]:
    job, cut = plan.job, cut_words(piece, plan.job)
    return (
        Cell(piece.id, weight="bold"),
        Cell(source_words(piece)),
        Cell(show(job, piece.length), weight="bold"),
        Cell("" if cut == "square" else cut),
        Cell(rest_words(job, piece.leaves)),
        Cell(rest_words(job, piece.thrown)),
    )


def _trim(plan: Plan, trim: TrimCuts) -> Section:
    job = plan.job
    words = trim_words(trim.kind, trim.size, job)
    heading = f"{words[0].upper()}{words[1:]}: {len(trim.bars)} of {show(job, trim.stock)}"
    joint = joint_words(trim, job)
    first = ((Cell(), Cell(joint), Cell()),) if joint else ()
    rows = tuple(
        (
            Cell(str(bar.number)),
            Cell("; ".join(trim_cut_words(cut, job) for cut in bar.cuts)),
            Cell(show(job, bar.left_over)),
        )
        for bar in trim.bars
    )
    return Section(heading, (*first, *rows))
