"""The cut list as tables for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.cli.reports.job_head import job_head
from evencourse.cli.reports.table import Cell, Column, Screen, clean, styled, table, wrapped
from evencourse.layout.language.speech import gettext, ngettext, pgettext
from evencourse.layout.model.job import Job
from evencourse.layout.order.cut_list import (
    Bar,
    CutLine,
    FaceCuts,
    StockCuts,
    TrimCuts,
    faces_in_turn,
)
from evencourse.layout.pieces.piece import Piece
from evencourse.render.words.cut_words import curve_words
from evencourse.render.words.piece_words import (
    ORDER_WORDS,
    TURN_WORDS,
    kerf_words,
    marks_words,
    open_words,
    rest_words,
    setting_words,
    source_words,
    stock_words,
    trim_words,
)
from evencourse.render.words.plan_words import cladding_words, show
from evencourse.render.words.result import Result


def cuts_lines(result: Result, on: Screen, saw: bool = False) -> Iterator[str]:
    """Faces in order of installation, piece by piece, then trim; for the saw identical pieces and stock.

    Args:
        result: the finished result of a job.
        on: what it is for.
        saw: group what is alike, for a shop that cuts ahead.

    Yields:
        Lines.
    """
    job, found, said = result.plan.job, result.material.cuts, result.instructions
    yield from job_head(job, on)
    sentences = (
        gettext(
            "A mark is face, course, number from the left. Lengths run from long point to long point, with "
            "gaps taken off and laps added."
        ),
        gettext(
            "{order_of_cutting}, measured from the left end and, after any rip there, from the bottom.",
            order_of_cutting=gettext(ORDER_WORDS),
        ),
        gettext("Identical pieces share a line.") if saw else gettext(TURN_WORDS),
    )
    yield from wrapped(" ".join(sentences), on.width)
    hung = {line.piece.cladding for face in found.faces for line in face.lines}
    for name, cladding in job.claddings.items():
        if name in hung:
            words = gettext(
                "{siding}: {gaps}.", siding=cladding_words(cladding), gaps=open_words(job, cladding)
            )
            yield from wrapped(clean(words), on.width)
    for name, turn in faces_in_turn(result.plan, result.material.pieces):
        (face,) = (face for face in found.faces if face.face == name)
        yield ""
        yield from _face(face, result, on) if saw else _turn(name, turn, result, on)
        wall = next(one.elevation for one in result.plan.elevations if one.elevation.name == name)
        if curves := curve_words(wall, turn, job):
            yield from wrapped(clean(curves), on.width)
        yield from _cautions(name, result, on)
    for stock in found.stock if saw else ():
        yield ""
        yield from _stock(stock, result, on)
    for trim, cuts in zip(found.trims, said.trims, strict=True):
        yield ""
        yield from _trim(trim, cuts, job, on)


def _turn(name: str, turn: Sequence[Piece], result: Result, on: Screen) -> Iterator[str]:
    """A face piece by piece: from what, how long, its cuts, what is kept of the rest."""
    job, said = result.plan.job, result.instructions.pieces
    title = ngettext(
        "{face}: {count} piece, in order of installation",
        "{face}: {count} pieces, in order of installation",
        len(turn),
        face=name,
    )
    yield styled(clean(title), "strong", on)
    several = len(job.claddings) > 1
    columns = [
        Column(pgettext("column of pieces", "piece")),
        Column(pgettext("column of pieces: what each is cut from", "from")),
        Column(pgettext("column of pieces", "length"), right=True),
        Column(gettext("other cuts"), wraps=True),
        *[Column(pgettext("column of pieces", "siding"))] * several,
        Column(pgettext("column of pieces: the cutoff to keep", "keep"), right=True),
        Column(pgettext("column of pieces", "scrap"), right=True),
    ]
    rows: list[list[str | Cell]] = [
        [
            piece.id,
            source_words(piece),
            show(job, piece.length),
            said[piece.id],
            *([piece.cladding] * several),
            rest_words(job, piece.leaves),
            rest_words(job, piece.thrown),
        ]
        for piece in turn
    ]
    yield from table(columns, rows, on)


def _face(face: FaceCuts, result: Result, on: Screen) -> Iterator[str]:
    job, said = result.plan.job, result.instructions.pieces
    count = sum(line.count for line in face.lines)
    title = ngettext(
        "{face}: {count} piece, {different} different, in order of installation",
        "{face}: {count} pieces, {different} different, in order of installation",
        count,
        face=face.face,
        different=len(face.lines),
    )
    yield styled(clean(title), "strong", on)
    several = len(job.claddings) > 1
    columns = [
        Column("", right=True),
        Column(pgettext("column of pieces", "length"), right=True),
        Column(gettext("other cuts"), wraps=True),
        *[Column(pgettext("column of pieces", "siding"))] * several,
        Column(pgettext("column of pieces: their marks", "marks"), wraps=True),
    ]
    yield from table(columns, [_line(line, said[line.piece.id], job, several) for line in face.lines], on)


def _cautions(name: str, result: Result, on: Screen) -> Iterator[str]:
    for caution in result.instructions.piece_cautions[name]:
        first, *rest = wrapped(clean(caution), None if on.width is None else on.width - 2)
        yield f"! {first}"
        yield from (f"  {line}" for line in rest)


def _line(line: CutLine, cut: str, job: Job, several: bool) -> list[str | Cell]:
    row: list[str | Cell] = [
        str(line.count),
        show(job, line.piece.length),
        cut,
    ]
    return [*row, *([line.piece.cladding] * several), marks_words(line.marks)]


def _stock(stock: StockCuts, result: Result, on: Screen) -> Iterator[str]:
    """Stock lengths that are installed uncut in one line; the others each with its cuts."""
    job = result.plan.job
    label = cladding_words(job.claddings[stock.cladding])
    lengths = stock_words(len(stock.bars), stock.stock, job)
    title = gettext("Saw list: {siding}, {lengths}", siding=label, lengths=lengths)
    if stock.kerf > 0:
        title = gettext("{saw_list}; {kerf}", saw_list=title, kerf=kerf_words(stock.kerf, job))
    yield styled(clean(title), "strong", on)
    whole = [bar for bar in stock.bars if _is_whole(bar, stock, job)]
    if whole:
        marks = marks_words([bar.cuts[0].id for bar in whole])
        words = gettext("Full lengths, uncut: {count} ({marks})", count=len(whole), marks=marks)
        yield from wrapped(clean(words), on.width)
    rows = [
        [
            str(bar.number),
            ", ".join(f"{show(job, piece.length)} {piece.id}" for piece in bar.cuts),
            show(job, bar.left_over),
        ]
        for bar in stock.bars
        if bar not in whole
    ]
    yield from table(_bar_columns(), rows, on)


def _bar_columns() -> list[Column]:
    return [
        Column(pgettext("column of stock lengths: number", "no."), right=True),
        Column(gettext("cut to"), wraps=True),
        Column(gettext("left over"), right=True),
    ]


def _is_whole(bar: Bar, stock: StockCuts, job: Job) -> bool:
    """Whether a stock length is installed uncut, to the tape's mark: one square piece of its length."""
    (first, *more) = bar.cuts
    cut = first.rips or first.notches or (first.left_end.shape, first.right_end.shape) != ("square", "square")
    return not more and not cut and abs(first.length - stock.stock) < job.round / 2


def _trim(trim: TrimCuts, cuts: Sequence[str], job: Job, on: Screen) -> Iterator[str]:
    title = gettext(
        "{trim}: {lengths}",
        trim=trim_words(trim.kind, trim.size, job),
        lengths=stock_words(len(trim.bars), trim.stock, job),
    )
    yield styled(clean(title[0].upper() + title[1:]), "strong", on)
    if joint := setting_words(trim, job):
        yield joint
    rows = [
        [
            str(bar.number),
            cut,
            show(job, bar.left_over),
        ]
        for bar, cut in zip(trim.bars, cuts, strict=True)
    ]
    yield from table(_bar_columns(), rows, on)
