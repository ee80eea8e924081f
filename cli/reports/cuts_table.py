"""The cut list as one table for a file: a piece a line."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.cli.reports.spreadsheet import SheetTable, Value
from evencourse.layout.language.speech import speaking
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.order.cut_list import CutList
from evencourse.layout.pieces.piece import Piece
from evencourse.render.words.piece_words import place_words, trim_words
from evencourse.render.words.plan_words import course_name, show
from evencourse.render.words.result import Result

COLUMNS = (
    "face", "order", "mark", "material", "course", "length", "length {}", "short {}", "other cuts",
    "left end", "right end", "notches", "rip", "stock no.", "cut no.", "stock {}", "same as", "from",
    "keep {}", "scrap {}",
)  # fmt: skip


def cuts_table(result: Result) -> SheetTable:
    """Every piece of siding in order of installation, then every piece of trim by its stock length.

    Args:
        result: the finished result of a job.

    Returns:
        A table, in English whatever is spoken; ``same as`` is the mark of the first identical piece.
    """
    plan = result.plan
    columns = tuple(name.format(plan.job.units) for name in COLUMNS)
    with speaking("en"):
        return SheetTable("Cuts", columns, (*_pieces(result), *_trims(result.material.cuts, plan)))


def _pieces(result: Result) -> Iterator[tuple[Value, ...]]:
    cuts, said = result.material.cuts, result.instructions.pieces
    first = {mark: line.marks[0] for face in cuts.faces for line in face.lines for mark in line.marks}
    for face in result.material.pieces.faces:
        for piece in sorted(face.pieces, key=lambda piece: piece.order):
            yield _piece(piece, said[piece.id], first[piece.id], result.plan)


def _piece(piece: Piece, cut: str, alike: str, plan: Plan) -> tuple[Value, ...]:
    job = plan.job
    return (
        piece.face,
        piece.order,
        piece.id,
        piece.cladding,
        course_name(plan.course_sets[piece.course_set], piece.course),
        show(job, piece.length),
        round(piece.length, 4),
        round(piece.short, 4),
        cut,
        f"{piece.left_end.shape}, {piece.left_end.meets}",
        f"{piece.right_end.shape}, {piece.right_end.meets}",
        len(piece.notches),
        " and ".join(rip.edge for rip in piece.rips) or None,
        piece.stock,
        piece.cut or None,
        job.claddings[piece.cladding].length or None,
        alike,
        piece.source,
        round(piece.leaves, 4) or None,
        round(piece.thrown, 4) or None,
    )


def _trims(found: CutList, plan: Plan) -> Iterator[tuple[Value, ...]]:
    job = plan.job
    for trim in found.trims:
        material = trim_words(trim.kind, trim.size, job)
        for bar in trim.bars:
            for number, cut in enumerate(bar.cuts, start=1):
                part = f", {cut.part} of {cut.parts}" if cut.parts > 1 else ""
                yield (
                    cut.run.face,
                    None,
                    place_words(cut.run, job) + part,
                    material,
                    None,
                    show(job, cut.length),
                    round(cut.length, 4),
                    None,
                    None,
                    None,
                    None,
                    None,
                    None,
                    bar.number,
                    number,
                    trim.stock,
                    None,
                    None,
                    None,
                    None,
                )
