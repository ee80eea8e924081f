"""The pieces of a face in order of installation, as rows of a list; and how lists are read."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from evencourse.layout.language.speech import closed, gettext, ngettext, pgettext
from evencourse.layout.model.job import Job
from evencourse.layout.pieces.piece import Piece
from evencourse.render.words.caution_words import tight_words
from evencourse.render.words.cut_words import (
    Told,
    curve_words,
    reading_words,
    short_cut_words,
    short_layouts,
    told,
)
from evencourse.render.words.piece_words import open_words, rest_words
from evencourse.render.words.plan_words import cladding_words, show
from evencourse.render.words.result import Result

#: So many rakes of one layout are told once.
_USUAL = 2
#: So many pieces of courses that are cut alike stand in one column.
_TOGETHER = 12


@dataclass(frozen=True)
class ListRow:
    """A piece, or the same piece of courses that follow each other; or a sentence.

    Attributes:
        mark: without the letters of the face; ``4 to 9`` for courses of one piece each.
        source: ``new`` for a new length, else the mark of the piece whose cutoff it is.
        length: long point to long point.
        cut: in short words.
        save: the cutoff that is set aside.
        words: a sentence instead of all that; over rows that are for several courses, which ones.
        over: it belongs to what follows.
        under: the sentence over it that says for which courses it is; empty for none.
        kept: it is not parted from the others under that sentence.
        first: the whole mark of its first piece; empty for a sentence.
        last: the same of its last one.
        piece: the first one itself; None for a sentence.
        told: what occurs in its cuts.
        second: cut or sentence in the second language; empty for none.
    """

    mark: str = ""
    source: str = ""
    length: str = ""
    cut: str = ""
    save: str = ""
    words: str = ""
    over: bool = False
    under: str = ""
    kept: bool = False
    first: str = ""
    last: str = ""
    piece: Piece | None = None
    told: frozenset[Told] = frozenset()
    second: str = ""


@dataclass(frozen=True)
class FaceList:
    """The list of a face.

    Attributes:
        face: name of the elevation.
        letters: what its marks begin with.
        rows: from the first piece that is hung.
        rake: what ``rake`` means where no other layout is told; empty where none is left out.
        laps: its panels lap at their ends.
        turned: two of a course that an entrance turns, the right one first; empty where all go from the left.
        past: marks of the fixtures that a panel is cut a lap past.
        second: the list in the second language, where that stands in its rows.
    """

    face: str
    letters: str
    rows: tuple[ListRow, ...]
    rake: str = ""
    laps: bool = False
    turned: tuple[str, ...] = ()
    past: tuple[str, ...] = ()
    second: FaceList | None = None

    def part(self, rows: Sequence[ListRow]) -> FaceList:
        """Its last rows as a list."""
        second = self.second.part(self.second.rows[-len(rows) :]) if self.second and rows else None
        return replace(self, rows=tuple(rows), second=second)

    def beside(self, other: FaceList) -> FaceList | None:
        """The list with the other language's words in its rows; None where it has other rows there."""
        if [(row.first, row.last) for row in self.rows] != [(row.first, row.last) for row in other.rows]:
            return None
        rows = tuple(
            replace(row, second=said if said != (row.words or row.cut) else "")
            for row, said in zip(self.rows, (row.words or row.cut for row in other.rows), strict=True)
        )
        return replace(self, rows=rows, second=other)


def face_lists(result: Result) -> tuple[FaceList, ...]:
    """The list of every face, in the order of the job.

    Args:
        result: the finished result of a job.
    """
    return tuple(_face_list(result, index) for index in range(len(result.plan.elevations)))


def list_words(lists: Sequence[FaceList]) -> str:
    """How lists are read, once a sheet."""
    rows = [row for one in lists for row in one.rows]
    faces = ", ".join(f"{one.letters}- {closed(one.face)}" for one in lists)
    words = [gettext("{faces}; 1.2: course 1, second from the left.", faces=faces)]
    if any(row.source for row in rows):
        words.append(gettext("From: new length or cutoff of that piece."))
    if any(row.save for row in rows):
        words.append(gettext("Save this cutoff, marked with its piece; the rest is scrap."))
    words.append(gettext("Lengths between long points, gaps off, laps added."))
    words += _turn_words(lists)
    raked = [one for one in lists if one.rake]
    if len({one.rake for one in raked}) == 1:
        words.append(gettext("rake alone: {layout}.", layout=raked[0].rake))
    else:
        words += (gettext("rake alone on {face}: {layout}.", face=one.face, layout=one.rake) for one in raked)
    return " ".join((*words, reading_words(one for row in rows for one in row.told))).strip()


def _turn_words(lists: Sequence[FaceList]) -> Iterator[str]:
    """Which panel laps over which, and why some are not installed from the left.

    Rule: the panel that goes on later lies in front; towards an entrance from both sides, so that the edges
    that show face away from it; past an obstacle without a block first (common practice, no source).
    """
    if not any(one.laps for one in lists):
        return
    turned = next((one.turned for one in lists if one.turned), ())
    if turned:
        yield gettext(
            "Each panel laps over the one before it, from both sides towards the entrance ({first} before "
            "{second}), so that no lap opens towards it.",
            first=turned[0], second=turned[1],
        )  # fmt: skip
    else:
        yield gettext("Each panel laps over the one before it.")
    past = ", ".join(mark for one in lists for mark in one.past)
    if past:
        yield gettext("At {fixtures} the first panel runs a lap past it.", fixtures=past)


def _face_list(result: Result, index: int) -> FaceList:
    plan, face = result.plan, result.material.pieces.faces[index]
    turn = sorted(face.pieces, key=lambda piece: piece.order)
    letters = turn[0].id.rpartition("-")[0] if turn else ""
    rows: list[ListRow] = []
    for name, found in groupby(turn, key=lambda piece: piece.cladding):
        pieces = list(found)
        cladding = plan.job.claddings[name]
        of, gaps = cladding_words(cladding), open_words(plan.job, cladding)
        if cladding.family == "shingle":
            words = ngettext(
                "{count} run of {cladding}, the width that each one covers; {gaps}.",
                "{count} runs of {cladding}, the width that each one covers; {gaps}.",
                len(pieces), cladding=of, gaps=gaps,
            )  # fmt: skip
        else:
            words = ngettext(
                "{count} piece of {cladding}; {gaps}.", "{count} pieces of {cladding}; {gaps}.",
                len(pieces), cladding=of, gaps=gaps,
            )  # fmt: skip
        rows.append(ListRow(words=words, over=True))
        curves = curve_words(plan.elevations[index].elevation, pieces, plan.job)
        rows += [ListRow(words=curves)] if curves else []
        rows += _merged(list(_courses(result, pieces, letters)))
    beside = tight_words(face, plan)  # they stand with the drawing
    said = result.instructions.piece_cautions[face.face]
    rows += [ListRow(words=text) for text in said if text not in beside]
    fixtures = tuple(dict.fromkeys(seam.fixture for seam in face.seams if seam.fixture is not None))
    laps = any(seam.front != "butt" for seam in face.seams)
    return _rakes_said(
        FaceList(face.face, letters, tuple(rows), laps=laps, turned=_turned(turn), past=fixtures), plan.job
    )


def _turned(turn: Sequence[Piece]) -> tuple[str, ...]:
    """The first two pieces of a course of which the right one is installed first; or none."""
    for one, after in pairwise(turn):
        alike = (one.course_set, one.course) == (after.course_set, after.course)
        if alike and after.left < one.left:
            return one.id, after.id
    return ()


def _rakes_said(given: FaceList, job: Job) -> FaceList:
    """A list whose usual layout of a rake is told once."""
    layouts = Counter(words for row in given.rows if row.piece for words in short_layouts(row.piece, job))
    usual, count = max(layouts.items(), key=lambda item: item[1], default=("", 0))
    if count < _USUAL:
        return given
    rows = tuple(
        replace(row, cut=short_cut_words(row.piece, job, usual)) if row.piece else row for row in given.rows
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
                first=_short(piece.id, letters),
                last=_short(piece.id, letters),
                piece=piece,
                told=told(piece, job),
            )
            for piece in course
        ]


def _source(source: str, letters: str) -> str:
    return pgettext("length that a piece is cut from", "new") if source == "new" else _short(source, letters)


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
        mark = gettext("{first} to {last}", first=first, last=last)
        yield replace(run[0][0], mark=mark, last=run[-1][0].mark)
    else:
        words = gettext("Courses {first} to {last}, each:", first=first, last=last)
        yield ListRow(words=words, over=True)
        kept = len(run[0]) <= _TOGETHER
        for row, end in zip(run[0], run[-1], strict=True):
            mark = f".{row.mark.rpartition('.')[2]}"
            yield replace(row, mark=mark, under=words, kept=kept, last=end.mark)


def _course(mark: str) -> str:
    return mark.rpartition(".")[0]


def _follows(before: Sequence[ListRow], course: Sequence[ListRow]) -> bool:
    if len(before) != len(course) or not course:
        return False
    return all(
        _next(one.mark) == other.mark
        and one.source == other.source
        and one.piece is not None
        and one.piece.source in (None, "new")
        and (one.length, one.cut, one.save) == (other.length, other.cut, other.save)
        for one, other in zip(before, course, strict=True)
    )


def _next(mark: str) -> str:
    """The mark of the same place one course up."""
    found = re.fullmatch(r"(.*?)(\d+)(\.\d+)", mark)
    return f"{found[1]}{int(found[2]) + 1}{found[3]}" if found is not None else ""
