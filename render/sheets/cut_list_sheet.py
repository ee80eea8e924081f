"""The cut list: pieces of every face in hanging order, then every length for the saw, then the trim."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeVar

from evencourse.layout.model.course_plan import Plan
from evencourse.layout.order.cut_list import Bar, CutLine, FaceCuts, StockCuts, TrimCuts
from evencourse.render.drawing.numbering import Draft
from evencourse.render.sheets.table_sheet import LARGE, Section, SheetCell, SheetColumn, Table, table_drafts
from evencourse.render.words.piece_words import (
    joint_words,
    kerf_words,
    marks_words,
    open_words,
    stock_words,
    trim_words,
)
from evencourse.render.words.plan_words import counted, show
from evencourse.render.words.result import Result

_T = TypeVar("_T")

HANGING, SAW, TRIM = "Cut list", "Saw list", "Trim list"
_COUNT = SheetColumn("Count", "end")
_HANGING_COLUMNS = (
    _COUNT,
    SheetColumn("Length", "end", height=LARGE),
    SheetColumn("Marks, in order of installation", wraps=True),
    SheetColumn("Other cuts", wraps=True),
)
_SAW_COLUMNS = (
    _COUNT,
    SheetColumn("Cut to", height=LARGE, wraps=True),
    SheetColumn("Left over", "end"),
    SheetColumn("Stock no.: piece marks", wraps=True),
)
_TRIM_COLUMNS = (
    SheetColumn("No.", "end"),
    SheetColumn("Cut to", wraps=True),
    SheetColumn("Left over", "end"),
)
_HANGING_NOTE = (
    "Identical pieces share a line. A mark is face, course, number from the left. "
    "Lengths run from long point to long point, with gaps taken off and laps added; notches are measured "
    "from the left end. "
    "Under a flush sill, eave or band board the lap or nail hem comes off, too."
)
_SAW_NOTE = "Lengths that are cut alike share a line, in the order in which their pieces are installed."
_TRIM_NOTE = "Every length of trim, and where its pieces go."
#: More alike pieces or lengths than this take another line.
_MOST_ALIKE = 48


def cut_list_sheets(result: Result, paper_name: str, date: str | None = None) -> tuple[Draft, ...]:
    """The sheets of the cut list, of the saw list and of the trim list.

    Args:
        result: the finished result of a job.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        date: ISO date to print; None for none.
    """
    plan, cuts, words = result.plan, result.material.cuts, result.instructions
    trims = tuple(_trim(plan, trim, cut) for trim, cut in zip(cuts.trims, words.trims, strict=True))
    tables = (
        Table(HANGING, _HANGING_COLUMNS, tuple(_hanging(result)), _HANGING_NOTE),
        Table(SAW, _SAW_COLUMNS, tuple(_saw(plan, stock) for stock in cuts.stock), _SAW_NOTE),
        Table(TRIM, _TRIM_COLUMNS, trims, _TRIM_NOTE),
    )
    return tuple(draft for table in tables for draft in table_drafts(plan, table, paper_name, date))


def _hanging(result: Result) -> Iterator[Section]:
    """A section for every face and cladding, in the order in which they are begun."""
    cautions = {
        part.face: tuple(dict.fromkeys([*(gave.why for gave in part.gave_way), *part.cautions]))
        for part in result.material.pieces.faces
    }
    for face in result.material.cuts.faces:
        sections = list(_claddings(result.plan, face, result.instructions.pieces))
        for index, section in enumerate(sections):
            last = index == len(sections) - 1
            said = cautions.get(face.face, ()) if last else ()
            heading = SheetCell("Cautions", weight="bold")
            rows = tuple((SheetCell(), SheetCell(), heading, SheetCell(text)) for text in said)
            yield Section(section.heading, (*section.rows, *rows), section.note)


def _claddings(plan: Plan, face: FaceCuts, words: Mapping[str, str]) -> Iterator[Section]:
    by_cladding: dict[str, list[CutLine]] = {}
    for line in face.lines:
        by_cladding.setdefault(line.piece.cladding, []).append(line)
    for name, lines in by_cladding.items():
        cladding = plan.job.claddings[name]
        count = sum(line.count for line in lines)
        note = f"{counted(count, 'piece')}, {cladding.label}: {open_words(plan.job, cladding)}"
        if cladding.family == "shingle":
            note = f"{cladding.label}: {counted(count, 'run')}, the width that each one covers"
            note += f"; {open_words(plan.job, cladding)}"
        rows = (row for line in lines for row in _hanging_rows(plan, line, words[line.piece.id]))
        yield Section(face.face, tuple(rows), note)


def _hanging_rows(plan: Plan, line: CutLine, cut: str) -> Iterator[tuple[SheetCell, ...]]:
    for marks in _chunks(line.marks):
        yield (
            SheetCell(str(len(marks))),
            SheetCell(show(plan.job, line.piece.length), weight="bold"),
            SheetCell(marks_words(marks), weight="bold"),
            SheetCell("" if cut == "square" else cut),
        )


def _saw(plan: Plan, stock: StockCuts) -> Section:
    groups: dict[tuple[str, ...], list[Bar]] = {}
    for bar in stock.bars:
        lengths = sorted((piece.length for piece in bar.cuts), reverse=True)
        groups.setdefault(tuple(show(plan.job, length) for length in lengths), []).append(bar)
    rows = tuple(
        _saw_row(plan, cuts, bars) for cuts, group in groups.items() for bars in _chunks(tuple(group))
    )
    note = plan.job.claddings[stock.cladding].label
    if stock.kerf > 0:
        note += f"; {kerf_words(stock.kerf, plan.job)}"
    return Section(stock_words(len(stock.bars), stock.stock, plan.job), rows, note)


def _saw_row(plan: Plan, cuts: Sequence[str], bars: Sequence[Bar]) -> tuple[SheetCell, ...]:
    return (
        SheetCell(str(len(bars)), weight="bold"),
        SheetCell("\N{NO-BREAK SPACE}+ ".join(cuts), weight="bold"),
        SheetCell(show(plan.job, bars[0].left_over)),
        SheetCell(
            "; ".join(f"{bar.number}:\N{NO-BREAK SPACE}{', '.join(_longest_first(bar))}" for bar in bars)
        ),
    )


def _longest_first(bar: Bar) -> list[str]:
    """Marks in the order in which their lengths are told."""
    return [piece.id for piece in sorted(bar.cuts, key=lambda piece: -piece.length)]


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


def _chunks(things: Sequence[_T]) -> Iterator[Sequence[_T]]:
    for at in range(0, len(things), _MOST_ALIKE):
        yield things[at : at + _MOST_ALIKE]
