"""The pieces of a face in order of installation, as rows for narrow columns."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from itertools import groupby

from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.pieces.piece import Piece
from evencourse.render.drawing.drawing import Line, Mark, Text, Weight
from evencourse.render.drawing.fonts import LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.pens import FACE, NOTE, TEXT, TITLE_THIN
from evencourse.render.drawing.placement import fitted
from evencourse.render.sheets.flow import ColumnItem
from evencourse.render.words.caution_words import tight_words
from evencourse.render.words.piece_words import open_words, rest_words
from evencourse.render.words.plan_words import counted, show
from evencourse.render.words.result import Result
from evencourse.render.words.short_cuts import curve_words, reading_words, short_cut_words

#: Lettering, the name of a face over its rows, and what a row takes [mm].
SMALL, NAME, PITCH = 2.5, 3.5, 3.9
#: From a row's top to its baseline; from line to line in a row [mm].
_DROP, _LEADING = 3.0, 3.6
#: Between columns of a row, and from one block of rows to the next [mm].
_GAP, GUTTER = 1.6, 4.5
#: A cut stands in its row where this is enough; else under it, from here [mm].
_INDENT = 5.0
#: The layout of a rake in short words; so many alike are told once.
_LAYOUT = re.compile(r"rake (\S+ up \S+ over)(?=;|$)")
_USUAL = 2
_HEADS = ("From", "Length", "Cut", "Keep")


@dataclass(frozen=True)
class ListRow:
    """A piece, or the same piece of courses that follow each other; or a sentence.

    Attributes:
        mark: without the letters of the face; ``4 to 9`` for courses of one piece each.
        source: ``N`` for a new length, else the mark of the piece whose cutoff it is.
        length: long point to long point.
        cut: in short words.
        keep: the cutoff that is kept.
        words: a sentence instead of all that; over rows that are for several courses, which ones.
        over: it belongs to what follows.
    """

    mark: str = ""
    source: str = ""
    length: str = ""
    cut: str = ""
    keep: str = ""
    words: str = ""
    over: bool = False


@dataclass(frozen=True)
class _Widths:
    """Of the columns that do not wrap [mm]."""

    mark: float
    source: float
    length: float
    keep: float

    @property
    def cut(self) -> float:
        """Where a cut begins in its row."""
        return self.mark + self.source + self.length + 3 * _GAP


@dataclass(frozen=True)
class FaceList:
    """The list of a face.

    Attributes:
        face: name of the elevation.
        letters: what its marks begin with.
        rows: from the first piece that is hung.
        rake: what ``rake`` means where no other layout is told; empty where none is left out.
    """

    face: str
    letters: str
    rows: tuple[ListRow, ...]
    rake: str = ""

    @cached_property
    def widths(self) -> _Widths:
        """What its columns take."""

        def widest(head: str, texts: Iterator[str], weight: Weight) -> float:
            return max(text_width(head, SMALL), *(text_width(text, SMALL, weight) for text in texts), 0.0)

        return _Widths(
            widest(f"{self.letters}-", (row.mark for row in self.rows), "bold"),
            widest(_HEADS[0], (row.source for row in self.rows), "regular"),
            widest(_HEADS[1], (row.length for row in self.rows), "bold"),
            widest(_HEADS[3], (row.keep for row in self.rows), "regular"),
        )


def face_lists(result: Result) -> tuple[FaceList, ...]:
    """The list of every face, in the order of the job.

    Args:
        result: the finished result of a job.
    """
    return tuple(_face_list(result, index) for index in range(len(result.plan.elevations)))


def list_words(lists: Sequence[FaceList]) -> str:
    """How lists are read, once a sheet."""
    rows = [row for one in lists for row in one.rows]
    names = "; ".join(f"{one.letters}- is {one.face}" for one in lists)
    words = f"In order of installation. {names}; 1.2: course 1, second from the left."
    if any(row.source for row in rows):
        words += (
            " N: new length; a mark: cutoff of that piece. Keep this cutoff, marked with its piece; "
            "the rest is scrap."
        )
    words += " Lengths from long point to long point, gaps off, laps added."
    rakes = dict.fromkeys(one.rake for one in lists if one.rake)
    if len(rakes) == 1:
        words += f" rake: {next(iter(rakes))}, unless told."
    elif rakes:
        words += " " + " ".join(f"rake on {one.face}: {one.rake}, unless told." for one in lists if one.rake)
    return f"{words} {reading_words(row.cut for row in rows)}".strip()


def least_width(given: FaceList) -> float:
    """The narrowest block that a list can be set in [mm]."""
    widths = given.widths
    return widths.cut + widths.keep + ROUNDING


def list_items(
    given: FaceList, rows: Sequence[ListRow], width: float, named: bool = False
) -> list[ColumnItem] | None:
    """Rows of a list for blocks of a width; None where they are too narrow for it.

    Args:
        given: the list that they are of.
        rows: some of its rows.
        width: of a block [mm].
        named: the name of the face stands over the first of them.
    """
    widths = given.widths
    if least_width(given) > width + 2 * ROUNDING:
        return None
    head = ColumnItem(PITCH, partial(_head, given.letters, widths, width))
    found: list[ColumnItem] = []
    if named:
        found += [
            ColumnItem(NAME + 3.0, partial(_name, given.face, width), heading=True),
            ColumnItem(head.height, head.draw, heading=True),
        ]
    for row in rows:
        lines = _lines(row, widths, width)
        more = len(lines) - 1 if row.words else 0 if _beside(row, widths, width) else len(lines)
        tall = PITCH + more * _LEADING
        draw = partial(_row, row, tuple(lines), widths, width, tall)
        found.append(ColumnItem(tall, draw, heading=row.over, again=(head,)))
    return found


def _face_list(result: Result, index: int) -> FaceList:
    plan, face = result.plan, result.material.pieces.faces[index]
    turn = sorted(face.pieces, key=lambda piece: piece.order)
    letters = turn[0].id.rpartition("-")[0] if turn else ""
    rows: list[ListRow] = []
    for name, found in groupby(turn, key=lambda piece: piece.cladding):
        pieces = list(found)
        cladding = plan.job.claddings[name]
        shingles = cladding.family == "shingle"
        many = counted(len(pieces), "run") if shingles else counted(len(pieces), "piece")
        covers = ", the width that each one covers" if shingles else ""
        rows.append(ListRow(words=f"{many} of {cladding.label}{covers}; {open_words(plan.job, cladding)}."))
        curves = curve_words(plan.elevations[index].elevation, pieces, plan.job)
        rows += [ListRow(words=curves)] if curves else []
        rows += _merged(list(_courses(result, pieces, letters)))
    beside = tight_words(face, plan)  # they stand with the drawing
    said = result.instructions.piece_cautions[face.face]
    rows += [ListRow(words=text) for text in said if text not in beside]
    return _rakes_said(FaceList(face.face, letters, tuple(rows)))


def _rakes_said(given: FaceList) -> FaceList:
    """A list whose usual layout of a rake is told once."""
    layouts = Counter(words for row in given.rows for words in _LAYOUT.findall(row.cut))
    usual, count = max(layouts.items(), key=lambda item: item[1], default=("", 0))
    if count < _USUAL:
        return given
    rows = tuple(
        replace(row, cut=_LAYOUT.sub(lambda found: "rake" if found[1] == usual else found[0], row.cut))
        for row in given.rows
    )
    return replace(given, rows=rows, rake=usual)


def _courses(result: Result, pieces: Sequence[Piece], letters: str) -> Iterator[list[ListRow]]:
    """Rows of a course after the other."""
    job = result.plan.job
    for _, course in groupby(pieces, key=lambda piece: (piece.course_set, piece.course)):
        yield [
            ListRow(
                _short(piece.id, letters),
                "" if piece.source is None else _source(piece.source, letters),
                show(job, piece.length),
                short_cut_words(piece, job),
                rest_words(job, piece.leaves),
            )
            for piece in course
        ]


def _source(source: str, letters: str) -> str:
    return "N" if source == "new" else _short(source, letters)


def _short(mark: str, letters: str) -> str:
    return mark.removeprefix(f"{letters}-")


def _merged(courses: Sequence[Sequence[ListRow]]) -> Iterator[ListRow]:
    """Courses that follow each other and are cut alike from new lengths, as one."""
    run: list[Sequence[ListRow]] = []
    for course in (*courses, ()):
        if run and not _follows(run[-1], course):
            yield from _run(run)
            run = []
        if course:
            run.append(course)


def _run(run: Sequence[Sequence[ListRow]]) -> Iterator[ListRow]:
    """Courses that are cut alike: one row for courses of one piece, else each piece once under which ones."""
    first, last = (_course(run[place][0].mark) for place in (0, -1))
    if len(run) == 1:
        yield from run[0]
    elif len(run[0]) == 1:
        yield replace(run[0][0], mark=f"{first} to {last}")
    else:
        yield ListRow(words=f"Courses {first} to {last}, each:", over=True)
        for row in run[0]:
            yield replace(row, mark=f".{row.mark.rpartition('.')[2]}")


def _course(mark: str) -> str:
    return mark.rpartition(".")[0]


def _follows(before: Sequence[ListRow], course: Sequence[ListRow]) -> bool:
    if len(before) != len(course) or not course:
        return False
    return all(
        _next(one.mark) == other.mark
        and one.source == other.source
        and one.source in ("", "N")
        and (one.length, one.cut, one.keep) == (other.length, other.cut, other.keep)
        for one, other in zip(before, course, strict=True)
    )


def _next(mark: str) -> str:
    """The mark of the same place one course up."""
    found = re.fullmatch(r"(.*?)(\d+)(\.\d+)", mark)
    return f"{found[1]}{int(found[2]) + 1}{found[3]}" if found is not None else ""


def _beside(row: ListRow, widths: _Widths, width: float) -> bool:
    """Whether a cut has room in its row."""
    keep = text_width(row.keep, SMALL) + _GAP if row.keep else 0.0
    return text_width(row.cut, SMALL) <= width - widths.cut - keep


def _lines(row: ListRow, widths: _Widths, width: float) -> list[str]:
    if row.words:
        return wrap(row.words, width, SMALL)
    if not row.cut or _beside(row, widths, width):
        return [row.cut] if row.cut else []
    return wrap(row.cut, width - _INDENT, SMALL)


def _name(words: str, width: float, left: float, top: float) -> Iterator[Mark]:
    yield Text(TEXT, (left, top - NAME - 2.2), fitted(words, width, NAME, "bold"), NAME, weight="bold")


def _head(letters: str, widths: _Widths, width: float, left: float, top: float) -> Iterator[Mark]:
    y = top - _DROP
    yield Text(TEXT, (left, y), f"{letters}-", SMALL)
    yield Text(TEXT, (left + widths.mark + _GAP, y), _HEADS[0], SMALL)
    yield Text(TEXT, (left + widths.cut - _GAP, y), _HEADS[1], SMALL, "end")
    if widths.cut + text_width(_HEADS[2], SMALL) + _GAP + text_width(_HEADS[3], SMALL) <= width:
        yield Text(TEXT, (left + widths.cut, y), _HEADS[2], SMALL)
    yield Text(TEXT, (left + width, y), _HEADS[3], SMALL, "end")
    yield Line(TITLE_THIN, (left, top - PITCH), (left + width, top - PITCH))


def _row(
    row: ListRow, lines: Sequence[str], widths: _Widths, width: float, tall: float, left: float, top: float
) -> Iterator[Mark]:
    y = top - _DROP
    if row.words:
        for index, line in enumerate(lines):
            yield Text(NOTE, (left, y - index * _LEADING), line, SMALL)
    else:
        yield Text(TEXT, (left, y), row.mark, SMALL, weight="bold")
        if row.source:
            yield Text(TEXT, (left + widths.mark + _GAP, y), row.source, SMALL)
        yield Text(TEXT, (left + widths.cut - _GAP, y), row.length, SMALL, "end", weight="bold")
        if row.keep:
            yield Text(TEXT, (left + width, y), row.keep, SMALL, "end")
        beside = _beside(row, widths, width)
        for index, line in enumerate(lines):
            at = (left + widths.cut, y) if beside else (left + _INDENT, y - (index + 1) * _LEADING)
            yield Text(TEXT, at, line, SMALL)
    yield Line(FACE, (left, top - tall), (left + width, top - tall))


def words_height(lines: int) -> float:
    """What lines of a list's reading take, with the air round them [mm]."""
    return lines * SMALL * LEADING_RATIO + 1.2
