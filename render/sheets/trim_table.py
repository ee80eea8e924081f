"""The trim list: every length of trim, and where its pieces go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from evencourse.layout.language.speech import closed, gettext, pgettext
from evencourse.layout.model.job import Job
from evencourse.layout.order.cut_list import TrimCut, TrimCuts
from evencourse.layout.pieces.face_letters import letters_of
from evencourse.render.sheets.table_sheet import Section, SheetCell, SheetColumn, Table, in_both
from evencourse.render.words.piece_words import (
    place_words,
    setting_words,
    stock_words,
    trim_words,
    with_ends,
)
from evencourse.render.words.plan_words import show
from evencourse.render.words.result import Result


def trim_table(result: Result) -> Table:
    """The trim list of a job, faces by their letters.

    Args:
        result: the finished result of a job.
    """
    names = [face.elevation.name for face in result.plan.elevations]
    letters = dict(zip(names, letters_of(face.elevation for face in result.plan.elevations), strict=True))
    job = result.plan.job
    sections = tuple(_section(job, trim, letters) for trim in result.material.cuts.trims)
    return Table(in_both(_columns), sections, dense=True)


def _columns() -> tuple[SheetColumn, ...]:
    return (
        SheetColumn(pgettext("over numbers of lengths", "No."), "end"),
        SheetColumn(gettext("Cut to"), wraps=True),
        SheetColumn(pgettext("of a length of trim", "Left over"), "end"),
    )


def letters_words(result: Result) -> str:
    """Which letters stand for which face: ``S Street, EG East gable``."""
    faces = [face.elevation for face in result.plan.elevations]
    return ", ".join(
        f"{letters} {closed(face.name)}" for face, letters in zip(faces, letters_of(faces), strict=True)
    )


def _cuts(cuts: Sequence[TrimCut], letters: Mapping[str, str], job: Job) -> str:
    """What a length is cut to, pieces of one length together: ``3' 7" S A head, S B head; 2' 1" G sill``."""
    found = []
    for length, same in groupby(cuts, key=lambda cut: show(job, cut.length)):
        found.append(f"{length} {', '.join(_place(cut, letters, job) for cut in same)}")
    return "; ".join(found)


def _place(cut: TrimCut, letters: Mapping[str, str], job: Job) -> str:
    run, face = cut.run, letters[cut.run.face]
    if (run.kind, run.place) != ("starter strip", "starter"):
        shared = letters.get(run.shared, run.shared) if run.shared is not None else None
        words = place_words(replace(run, face=face, shared=shared), job).replace(", ", " ")
    elif run.at is None:  # where it goes the heading says
        words = face
    else:
        words = gettext("{face} from {place}", face=face, place=show(job, run.at))
    if cut.parts > 1:
        words = gettext("{place} ({part} of {parts})", place=words, part=cut.part, parts=cut.parts)
    return with_ends(words, cut, job)


def _section(job: Job, trim: TrimCuts, letters: Mapping[str, str]) -> Section:
    words = trim_words(trim.kind, trim.size, job)
    stock = stock_words(len(trim.bars), trim.stock, job)
    heading = gettext("{trim}: {stock}", trim=f"{words[0].upper()}{words[1:]}", stock=stock)
    joint = setting_words(trim, job)
    first = ((SheetCell(), SheetCell(joint), SheetCell()),) if joint else ()
    rows = tuple(
        (
            SheetCell(str(bar.number)),
            SheetCell(_cuts(bar.cuts, letters, job)),
            SheetCell(show(job, bar.left_over)),
        )
        for bar in trim.bars
    )
    return Section(heading, (*first, *rows))
