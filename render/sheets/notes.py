"""Notes over the foot strip: the edges not met and why, and the cautions of this face."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from evencourse.layout.language.speech import beside, gettext, ngettext, noop
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.pieces.all_pieces import Pieces
from evencourse.layout.pieces.piece import FacePieces
from evencourse.render.drawing.drawing import Line, Mark, Text
from evencourse.render.drawing.fonts import wrap
from evencourse.render.drawing.pens import NOTE, SECOND, SLIVER, TITLE_THIN, Pen
from evencourse.render.drawing.placement import Box
from evencourse.render.drawing.text_lines import both, clear_leading
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


#: What is said, its pen, and how many edges it is said of.
_Given = tuple[str, Pen, int]
#: Lines with their pens.
_Lines = tuple[tuple[str, Pen], ...]


@dataclass(frozen=True)
class FaceWords:
    """What the notes of a face say, in one language.

    Attributes:
        built: some of its courses hang.
        given: of the edges not met; nothing where that is left out in the second language.
        cautions: what can go wrong.
        marks: how the marks of its pieces are read; empty where that is said elsewhere.
    """

    built: bool
    given: Sequence[_Given]
    cautions: str
    marks: str

    @property
    def edges_heading(self) -> str:
        """Over the edges not met."""
        if self.built:
            return gettext("As built, then edges not met, worst first")
        return gettext("Edges not met, worst first")

    def edges(self, width: float, second: FaceWords | None) -> tuple[_Lines, int]:
        """Lines of the edges not met, and how many of them were left out; those in the second language under
        them."""
        heading, most = self._edges_over(width, second), self._most
        lines, unsaid = _set(_headed(heading, width), self.given, width, most)
        if second is None or not second.given:
            return lines, unsaid

        untold = heading == self.edges_heading

        def own() -> _Lines:
            over = _headed(second.edges_heading, width) if untold else []
            return _set(over, second.given, width, most)[0]

        return (*lines, *_second(beside(own) or ())), unsaid

    def warned(self, width: float, second: FaceWords | None) -> _Lines:
        """Lines of the cautions and of how marks are read, likewise."""
        heading = _cautions_over(width, second)
        lines = tuple((line, NOTE) for line in (*_headed(heading, width), *self._warned(width)))
        if second is None:
            return lines
        over = _headed(beside(_cautions_heading) or "", width) if heading == _cautions_heading() else []
        return (*lines, *_second((line, NOTE) for line in (*over, *second._warned(width))))

    def heads(self, left: float, right: float, second: FaceWords | None) -> tuple[int, int]:
        """How many lines the headings of columns of these widths take [mm]."""
        edges, cautions = self._edges_over(left, second), _cautions_over(right, second)
        return len(_headed(edges, left)), len(_headed(cautions, right))

    def _edges_over(self, width: float, second: FaceWords | None) -> str:
        """The heading over the edges: in both languages where they are told in both, and it has room."""
        if second is None or not second.given:
            return self.edges_heading
        return both(lambda: self.edges_heading, width, HEIGHT, "bold")

    @property
    def _most(self) -> int:
        return _MOST_BUILT if self.built else _MOST

    def _warned(self, width: float) -> list[str]:
        return [line for text in (self.cautions, self.marks) if text for line in wrap(text, width, HEIGHT)]


def _headed(heading: str, width: float) -> list[str]:
    """A heading in as many lines as it takes [mm]."""
    return wrap(heading, width, HEIGHT, "bold")


def _cautions_heading() -> str:
    return gettext("Cautions")


def _cautions_over(width: float, second: FaceWords | None) -> str:
    """The heading over cautions, likewise."""
    return both(_cautions_heading, width, HEIGHT, "bold") if second is not None else _cautions_heading()


def _second(lines: Iterable[tuple[str, Pen]]) -> Iterator[tuple[str, Pen]]:
    """Lines in the second language, in its pen; slivers stay what they are."""
    return ((line, SECOND if pen is NOTE else pen) for line, pen in lines)


@dataclass(frozen=True)
class Notes:
    """Two columns of notes.

    Attributes:
        left: lines of the edges not met; the first is the heading, slivers and missed limits are told apart.
        right: lines of the cautions, likewise.
        split: x where the second column begins [mm].
        stacked: there is one column: the second stands under the first.
        heads: how many lines of each are its heading.
    """

    left: _Lines
    right: _Lines
    split: float
    stacked: bool = False
    heads: tuple[int, int] = (1, 1)

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
        columns = ([line for line, _ in lines] for lines in (self.left, self.right))
        return HEIGHT * max(clear_leading(lines, LEADING / HEIGHT) for lines in columns)

    def marks(self, frame: Box, bottom: float) -> Iterator[Mark]:
        """The notes, their foot at a level of the paper [mm]."""
        top = bottom + self.height
        yield Line(TITLE_THIN, (frame.left, top), (frame.right, top))
        rows = (self.left, self.right)
        leading = self.leading
        second = top - len(self.left) * leading - AIR if self.stacked else top
        columns = ((frame.left, top), (frame.left if self.stacked else self.split, second))
        for (x, head), lines, bold in zip(columns, rows, self.heads, strict=True):
            for number, (line, pen) in enumerate(lines):
                y = head - AIR - number * leading
                weight = "bold" if number < bold else "regular"
                yield Text(
                    pen,
                    (x, y),
                    line,
                    HEIGHT,
                    vertical="cap",
                    weight="bold" if weight == "bold" else "regular",
                )


def face_words(
    said: FaceInstructions, hung: FacePieces | None = None, tight: Sequence[str] = (), covered: str = ""
) -> FaceWords:
    """What the notes of a face say, in the language that is spoken.

    Args:
        said: the face's instructions.
        hung: its pieces and seams, when they are drawn: how their marks are read.
        tight: where its panels cannot be bent in, and what to do.
        covered: the sheet that says what holds on every face and how marks are read; empty where none does.
    """
    built = [(words, NOTE, 0) for words in said.built]
    given = [*built, *(_given(said) or [(gettext("Every edge that counts is flush."), NOTE, 0)])]
    every = material_cautions()
    own = [words for words in said.cautions if not covered or words not in every]
    general = [gettext(words) for words in ((_COVERED[covered],) if covered else GENERAL)]
    marks = _marks_read(hung) if hung is not None and not covered else ""
    return FaceWords(bool(built), given, " ".join([*own, *tight, *general]), marks)


def face_notes(words: FaceWords, frame: Box, stacked: bool = False, second: FaceWords | None = None) -> Notes:
    """Notes for one face, their columns as wide as keeps them low.

    Args:
        words: what they say.
        frame: what may be drawn on [mm].
        stacked: in one column.
        second: the same in the second language, under the first; None leaves it out.
    """
    if stacked:
        left, _ = words.edges(frame.width, second)
        right = words.warned(frame.width, second)
        return Notes(left, right, frame.left, True, words.heads(frame.width, frame.width, second))
    best: tuple[int, float, Notes] | None = None
    for share in _SHARES:
        first = share * (frame.width - _GUTTER)
        left, unsaid = words.edges(first, second)
        rest = frame.width - _GUTTER - first
        right = words.warned(rest, second)
        notes = Notes(left, right, frame.left + first + _GUTTER, heads=words.heads(first, rest, second))
        unsaid = unsaid if words.built else 0
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

    def words() -> str:
        return gettext("Edges not met and cautions: see sheet {number}.", number=sheet)

    return Notes(((both(words, frame.width, HEIGHT, "bold"), NOTE),), (), frame.left)


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


def _set(heading: Sequence[str], given: Sequence[_Given], width: float, most: int) -> tuple[_Lines, int]:
    """Lines of the edges not met, and how many edges were left out because there are too many.

    What is said of no edge is never left out: it stands nowhere else; and some lines are left for edges.
    """
    most = max(most, _LEAST + sum(len(wrap(text, width, HEIGHT)) for text, _, count in given if not count))
    lines: list[tuple[str, Pen]] = [(line, NOTE) for line in heading]
    most += len(lines)
    for index, (text, pen, count) in enumerate(given):
        wrapped = wrap(text, width, HEIGHT)
        last = index == len(given) - 1
        if count and len(lines) + len(wrapped) > most - (not last):
            left = sum(count for *_, count in given[index:])
            more = ngettext(
                "and {count} more edge: see the drawing", "and {count} more edges: see the drawing", left
            )
            return (*lines, (more, NOTE)), left
        lines += [(line, pen) for line in wrapped]
    return tuple(lines), 0
