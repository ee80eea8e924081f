"""The cut list: the pieces of every face in order of installation, then the trim."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.order.cut_list import TrimCuts, faces_in_turn
from evencourse.layout.pieces.piece import Piece
from evencourse.render.drawing.numbering import Draft
from evencourse.render.sheets.table_sheet import LARGE, Section, SheetCell, SheetColumn, Table, table_drafts
from evencourse.render.words.piece_words import (
    TURN_WORDS,
    joint_words,
    open_words,
    rest_words,
    source_words,
    stock_words,
    trim_words,
)
from evencourse.render.words.plan_words import counted, show
from evencourse.render.words.result import Result

HANGING, TRIM = "Cut list", "Trim list"
_HANGING_COLUMNS = (
    SheetColumn("Piece"),
    SheetColumn("From"),
    SheetColumn("Length", "end", height=LARGE),
    SheetColumn("Other cuts", wraps=True),
    SheetColumn("Keep", "end"),
    SheetColumn("Scrap", "end"),
)
_TRIM_COLUMNS = (
    SheetColumn("No.", "end"),
    SheetColumn("Cut to", wraps=True),
    SheetColumn("Left over", "end"),
)
_HANGING_NOTE = (
    f"{TURN_WORDS} A mark is face, course, number from the left. "
    "Lengths run from long point to long point, with gaps taken off and laps added; notches are measured "
    "from the left end and from the bottom."
)
_TRIM_NOTE = "Every length of trim, and where its pieces go."


def cut_list_sheets(result: Result, paper_name: str, date: str | None = None) -> tuple[Draft, ...]:
    """The sheets of the cut list and of the trim list.

    Args:
        result: the finished result of a job.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        date: ISO date to print; None for none.
    """
    plan, cuts, words = result.plan, result.material.cuts, result.instructions
    trims = tuple(_trim(plan, trim, cut) for trim, cut in zip(cuts.trims, words.trims, strict=True))
    tables = (
        Table(HANGING, _HANGING_COLUMNS, tuple(_hanging(result)), _HANGING_NOTE),
        Table(TRIM, _TRIM_COLUMNS, trims, _TRIM_NOTE),
    )
    return tuple(draft for table in tables for draft in table_drafts(plan, table, paper_name, date))


def _hanging(result: Result) -> Iterator[Section]:
    """A section for every face and cladding, in the order in which they are begun."""
    cautions = result.instructions.piece_cautions
    for name, turn in faces_in_turn(result.plan, result.material.pieces):
        sections = list(_claddings(result.plan, name, turn, result.instructions.pieces))
        for index, section in enumerate(sections):
            last = index == len(sections) - 1
            said = cautions[name] if last else ()
            heading = SheetCell("Cautions", weight="bold")
            rows = tuple((heading, *[SheetCell()] * 2, SheetCell(text), *[SheetCell()] * 2) for text in said)
            yield Section(section.heading, (*section.rows, *rows), section.note)


def _claddings(plan: Plan, face: str, turn: Sequence[Piece], words: Mapping[str, str]) -> Iterator[Section]:
    by_cladding: dict[str, list[Piece]] = {}
    for piece in turn:
        by_cladding.setdefault(piece.cladding, []).append(piece)
    for name, found in by_cladding.items():
        cladding = plan.job.claddings[name]
        note = f"{counted(len(found), 'piece')}, {cladding.label}: {open_words(plan.job, cladding)}"
        if cladding.family == "shingle":
            note = f"{cladding.label}: {counted(len(found), 'run')}, the width that each one covers"
            note += f"; {open_words(plan.job, cladding)}"
        yield Section(face, tuple(_row(plan, piece, words[piece.id]) for piece in found), note)


def _row(plan: Plan, piece: Piece, cut: str) -> tuple[SheetCell, ...]:
    job = plan.job
    return (
        SheetCell(piece.id, weight="bold"),
        SheetCell(source_words(piece)),
        SheetCell(show(job, piece.length), weight="bold"),
        SheetCell("" if cut == "square" else cut),
        SheetCell(rest_words(job, piece.leaves)),
        SheetCell(rest_words(job, piece.thrown)),
    )


def _trim(plan: Plan, trim: TrimCuts, cuts: Sequence[str]) -> Section:
    job = plan.job
    words = trim_words(trim.kind, trim.size, job)
    heading = f"{words[0].upper()}{words[1:]}: {stock_words(len(trim.bars), trim.stock, job)}"
    joint = joint_words(trim, job)
    first = ((SheetCell(), SheetCell(joint), SheetCell()),) if joint else ()
    rows = tuple(
        (
            SheetCell(str(bar.number)),
            SheetCell(cut),
            SheetCell(show(job, bar.left_over)),
        )
        for bar, cut in zip(trim.bars, cuts, strict=True)
    )
    return Section(heading, (*first, *rows))
