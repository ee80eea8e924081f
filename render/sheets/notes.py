"""Notes over the foot strip: the edges not met and why, and the cautions of this face."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from evencourse.layout.language.speech import gettext, ngettext, noop
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.piece import FacePieces
from evencourse.render.drawing.drawing import Line, Mark, Text, Weight
from evencourse.render.drawing.fonts import wrap
from evencourse.render.drawing.pens import NOTE, SLIVER, TITLE_THIN, Pen
from evencourse.render.drawing.placement import Box
from evencourse.render.drawing.text_lines import clear_leading
from evencourse.render.words.caution_words import cautions_together, material_cautions
from evencourse.render.words.instructions import FaceInstructions, NotMet
from evencourse.render.words.safety import GENERAL

#: Lettering, leading, and the air above and below [mm].
HEIGHT, LEADING, AIR = 2.5, 4.2, 2.2
#: Between the two columns [mm].
_GUTTER = 8.0
#: Shares of the width that are tried for the first column, and the most lines of it.
_SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.28)
_MOST = 6
#: Most edges that are told of together.
_TOGETHER = 5
#: The most lines where part of the face hangs: what hangs and what changed come first.
_MOST_BUILT = 10
#: Lines for edges after what is never left out.
_LEAST = 3
#: Where cautions for every face, and how marks are read, may stand instead.
_COVERED = {
    "cover": noop("Key, and cautions for every face: cover."),
    "details": noop("Key, and cautions for every face: details."),
}


@dataclass(frozen=True)
class Notes:
    """Two columns of notes.

    Attributes:
        left: lines of the edges not met; the first is the heading, slivers and missed limits are told apart.
        right: lines of the cautions.
        split: x where the second column begins [mm].
        stacked: there is one column: the second stands under the first.
        headed: how many lines the heading on the left takes.
    """

    left: tuple[tuple[str, Pen], ...]
    right: tuple[str, ...]
    split: float
    stacked: bool = False
    headed: int = 1

    @property
    def height(self) -> float:
        """What they take [mm]."""
        leading = self.leading
        if self.stacked:
            return (len(self.left) + len(self.right)) * leading - (leading - HEIGHT) + 3 * AIR
        return max(len(self.left), len(self.right)) * leading - (leading - HEIGHT) + 2 * AIR

    @property
    def leading(self) -> float:
        """From line to line [mm]."""
        columns = ([line for line, _ in self.left], self.right)
        return HEIGHT * max(clear_leading(lines, LEADING / HEIGHT) for lines in columns)

    def marks(self, frame: Box, bottom: float) -> Iterator[Mark]:
        """The notes, their foot at a level of the paper [mm]."""
        top = bottom + self.height
        yield Line(TITLE_THIN, (frame.left, top), (frame.right, top))
        rows = (self.left, tuple((line, NOTE) for line in self.right))
        leading = self.leading
        second = top - len(self.left) * leading - AIR if self.stacked else top
        columns = ((frame.left, top), (frame.left if self.stacked else self.split, second))
        for (x, head), lines, headed in zip(columns, rows, (self.headed, 1), strict=True):
            for number, (line, pen) in enumerate(lines):
                weight: Weight = "bold" if number < headed else "regular"
                at = (x, head - AIR - number * leading)
                yield Text(pen, at, line, HEIGHT, vertical="cap", weight=weight)


def face_notes(
    said: FaceInstructions,
    frame: Box,
    hung: FacePieces | None = None,
    tight: Sequence[str] = (),
    covered: str = "",
    stacked: bool = False,
) -> Notes:
    """Notes for one face, their columns as wide as keeps them low.

    Args:
        said: the face's instructions.
        frame: what may be drawn on [mm].
        hung: its pieces and seams, when they are drawn: how their marks are read.
        tight: where its panels cannot be bent in, and what to do.
        covered: the sheet that says what holds on every face and how marks are read; empty where none does.
        stacked: in one column.
    """
    built = [(words, NOTE, 0) for words in said.built]
    given = [*built, *(_given(said) or [(gettext("Every edge that counts is flush."), NOTE, 0)])]
    heading = gettext("Edges not met, worst first")
    if built:
        heading = gettext("As built, then edges not met, worst first")
    most = _MOST_BUILT if built else _MOST
    every = material_cautions()
    own = [words for words in said.cautions if not covered or words not in every]
    general = [gettext(words) for words in ((_COVERED[covered],) if covered else GENERAL)]
    cautions, cautioned = gettext("Cautions"), " ".join([*own, *tight, *general])
    marks = _marks_read(hung) if hung is not None and not covered else ""
    if stacked:
        left, _ = _set(heading, given, frame.width, most)
        read = wrap(marks, frame.width, HEIGHT) if marks else ()
        right = (cautions, *wrap(cautioned, frame.width, HEIGHT), *read)
        headed = len(wrap(heading, frame.width, HEIGHT, "bold"))
        return Notes(left, right, frame.left, stacked=True, headed=headed)
    best: tuple[int, float, Notes] | None = None
    for share in _SHARES:
        first = share * (frame.width - _GUTTER)
        left, unsaid = _set(heading, given, first, most)
        wide = frame.width - _GUTTER - first
        right = (cautions, *wrap(cautioned, wide, HEIGHT), *(wrap(marks, wide, HEIGHT) if marks else ()))
        headed = len(wrap(heading, first, HEIGHT, "bold"))
        notes = Notes(left, right, frame.left + first + _GUTTER, headed=headed)
        unsaid = unsaid if built else 0
        if best is None or (unsaid, notes.height) < (best[0], best[1] - ROUNDING):
            best = unsaid, notes.height, notes
    assert best is not None
    return best[2]


def general_notes(plan: Plan, pieces: Pieces) -> str:
    """What holds on every face of a job: cautions, and how the marks of its pieces are read."""
    every, general = material_cautions(), [gettext(words) for words in GENERAL]
    texts = [words for _, told in cautions_together(plan) for words in told if words in every]
    marks = next((words for hung in pieces.faces if (words := _marks_read(hung))), "")
    return " ".join([*dict.fromkeys(texts), *general, *filter(None, [marks]), drawings_read(plan)])


def drawings_read(plan: Plan) -> str:
    """How the drawings of a job's walls are read, besides their signs."""
    words = [
        gettext(
            "A minus: below the datum. A line from one piece number to another: all numbers between, too."
        )
    ]
    if any(face.elevation.fixtures for face in plan.elevations):
        words.append(gettext("A crossed box: a fixture; ctr: its center."))
    return " ".join([*words, gettext("Letters of openings, roofs and fixtures: the job's own.")])


def notes_elsewhere(sheet: int, frame: Box) -> Notes:
    """Where the notes of a face stand, for a part of it without."""
    words = gettext("Edges not met and cautions: see sheet {number}.", number=sheet)
    return Notes(((words, NOTE),), (), frame.left)


def _marks_read(hung: FacePieces) -> str:
    """How the marks of a face's pieces are read, by its last piece; nothing when it has no seam."""
    if not hung.seams:
        return ""
    last = next(piece for piece in hung.pieces if piece.id == hung.seams[0].right)
    letters, _, short = last.id.rpartition("-")
    course, _, place = short.partition(".")
    if any(seam.front != "butt" for seam in hung.seams):
        return gettext(
            "Pieces: {mark} is number {place} from the left in course {course}; {whole} in the cut list; "
            "the shadow at a seam falls on the piece behind.",
            mark=short, place=place, course=course, whole=f"{letters}-{short}",
        )  # fmt: skip
    return gettext(
        "Pieces: {mark} is number {place} from the left in course {course}; {whole} in the cut list.",
        mark=short, place=place, course=course, whole=f"{letters}-{short}",
    )  # fmt: skip


#: What is said, its pen, and how many edges it is said of.
_Given = tuple[str, Pen, int]


def _given(said: FaceInstructions) -> list[_Given]:
    """Limits missed, then edges not met, worst first; neighbours of one reason share it, slivers do not."""
    together: list[list[NotMet]] = []
    for one in said.not_met:
        last = together[-1] if together else []
        if (
            last
            and (last[0].why, last[0].sliver, one.sliver) == (one.why, False, False)
            and len(last) < _TOGETHER
        ):
            last.append(one)
        else:
            together.append([one])
    found: list[_Given] = [(words, SLIVER, 0) for words in said.missed]
    for every in together:
        edges = "; ".join(
            gettext("{subject}: {outcome}", subject=one.subject, outcome=one.outcome) for one in every
        )
        words = gettext("{edges}; {why}", edges=edges, why=every[0].why)
        if len(every) > 1:
            words = gettext("{edges}; each: {why}", edges=edges, why=every[0].why)
        pen = SLIVER if every[0].sliver else NOTE
        found.append((words, pen, sum(one.count for one in every)))
    return found


def _set(
    heading: str, given: Sequence[_Given], width: float, most: int
) -> tuple[tuple[tuple[str, Pen], ...], int]:
    """Lines of the edges not met, and how many edges were left out because there are too many.

    What is said of no edge is never left out: it stands nowhere else; and some lines are left for edges.
    """
    most = max(most, _LEAST + sum(len(wrap(text, width, HEIGHT)) for text, _, count in given if not count))
    lines: list[tuple[str, Pen]] = [(line, NOTE) for line in wrap(heading, width, HEIGHT, "bold")]
    most += len(lines) - 1
    for index, (text, pen, count) in enumerate(given):
        wrapped = wrap(text, width, HEIGHT)
        last = index == len(given) - 1
        if count and len(lines) + len(wrapped) > most + 1 - (not last):
            left = sum(count for *_, count in given[index:])
            more = ngettext(
                "and {count} more edge: see the drawing", "and {count} more edges: see the drawing", left
            )
            return (*lines, (more, NOTE)), left
        lines += [(line, pen) for line in wrapped]
    return tuple(lines), 0
