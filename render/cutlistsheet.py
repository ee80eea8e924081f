"""The cut list: pieces of every face in hanging order, and the same pieces by stock length for the saw."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from layout.piece import Piece
from layout.pieces import Pieces
from layout.plan import Plan
from layout.stock import Cutting
from render.draft import Draft
from render.piecewords import marks_words, piece_cuts
from render.tablesheet import LARGE, Cell, Column, Section, Table, table_drafts
from render.words import show

HANGING, SAW = "Cut list", "Saw list"
_HANGING_COLUMNS = (
    Column("Count", "end"),
    Column("Length", "end", height=LARGE),
    Column("Marks, in hanging order", wraps=True),
    Column("Cuts beside the length", wraps=True),
)
_SAW_COLUMNS = (
    Column("Lengths", "end"),
    Column("Cut it to", height=LARGE, wraps=True),
    Column("Left over", "end"),
    Column("Number of the length: marks", wraps=True),
)
_HANGING_NOTE = (
    "Alike pieces share a line. A mark is face, course, place from the left. "
    "Lengths run from long point to long point, end gaps and laps allowed for."
)
_SAW_NOTE = "Lengths that are cut alike share a line, in the order in which their pieces are hung."


def cut_list(plan: Plan, made: Pieces, paper_name: str, date: str | None = None) -> tuple[Draft, ...]:
    """The sheets of the cut list and of the saw list.

    Args:
        plan: the plan.
        made: its pieces.
        paper_name: a paper of ``render.papers``.
        date: ISO date to print; None for none.
    """
    hanging = tuple(_hanging(plan, made))
    saw = tuple(_saw(plan, made))
    return (
        *table_drafts(plan, Table(HANGING, _HANGING_COLUMNS, hanging, _HANGING_NOTE), paper_name, date),
        *table_drafts(plan, Table(SAW, _SAW_COLUMNS, saw, _SAW_NOTE), paper_name, date),
    )


def _hanging(plan: Plan, made: Pieces) -> Iterator[Section]:
    """A section for every face and cladding."""
    for face in made.faces:
        by_cladding: dict[str, list[Piece]] = {}
        for piece in sorted(face.pieces, key=lambda piece: piece.order):
            by_cladding.setdefault(piece.cladding, []).append(piece)
        for name, pieces in by_cladding.items():
            cladding = plan.job.claddings[name]
            note = f"{len(pieces)} pieces, {cladding.label}"
            if cladding.family == "shingle":
                note = f"{cladding.label}: {len(pieces)} runs, the width that each one covers"
            yield Section(face.face, tuple(_rows(plan, pieces)), note)


def _rows(plan: Plan, pieces: Sequence[Piece]) -> Iterator[tuple[Cell, ...]]:
    alike: dict[tuple[str, tuple[str, ...]], list[Piece]] = {}
    for piece in pieces:
        key = (show(plan.job, piece.length), piece_cuts(piece, plan.job))
        alike.setdefault(key, []).append(piece)
    for (length, cuts), group in alike.items():
        yield (
            Cell(str(len(group))),
            Cell(length, weight="bold"),
            Cell(marks_words(group), weight="bold"),
            Cell("; ".join(cuts)),
        )


def _saw(plan: Plan, made: Pieces) -> Iterator[Section]:
    """A section for every cladding that is cut from stock lengths."""
    by_mark = {piece.id: piece for piece in made.all()}
    for name, cutting in made.stock.items():
        groups: dict[tuple[str, ...], list[tuple[int, tuple[str, ...]]]] = {}
        for number, marks in made.bars[name]:
            lengths = [by_mark[mark].length for mark in marks]
            cuts = tuple(show(plan.job, length) for length in sorted(lengths, reverse=True))
            groups.setdefault(cuts, []).append((number, marks))
        rows = tuple(_saw_row(plan, cutting, cuts, bars, by_mark) for cuts, bars in groups.items())
        length = show(plan.job, cutting.stock)
        heading = f"{len(cutting.bars)} lengths of {length}"
        note = plan.job.claddings[name].label
        if cutting.kerf > 0:
            note += f"; the saw takes {show(plan.job, cutting.kerf)} a cut"
        yield Section(heading, rows, note)


def _saw_row(
    plan: Plan,
    cutting: Cutting,
    cuts: Sequence[str],
    bars: Sequence[tuple[int, tuple[str, ...]]],
    by_mark: dict[str, Piece],
) -> tuple[Cell, ...]:
    used = sum(by_mark[mark].length + cutting.kerf for mark in bars[0][1])
    rest = max(0.0, cutting.stock - used)
    return (
        Cell(str(len(bars)), weight="bold"),
        Cell("\N{NO-BREAK SPACE}+ ".join(cuts), weight="bold"),
        Cell(show(plan.job, rest)),
        Cell(
            "; ".join(
                f"{number}:\N{NO-BREAK SPACE}{', '.join(_longest_first(marks, by_mark))}"
                for number, marks in bars
            )
        ),
    )


def _longest_first(marks: Sequence[str], by_mark: dict[str, Piece]) -> list[str]:
    """Marks in the order in which their lengths are told."""
    return sorted(marks, key=lambda mark: -by_mark[mark].length)
