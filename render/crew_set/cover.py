"""The cover, the job in one look: starter and datum, the faces in small, edges not met, cautions."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from evencourse.layout.language.speech import beside, gettext, pgettext, speaking, spoken
from evencourse.layout.model.course_plan import Plan
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.border.title_block import HEIGHT, Titled, title_block
from evencourse.render.crew_set.cover_cautions import (
    caution_pages,
    cautioned,
    crew_languages,
    warned,
    whole_cautions,
)
from evencourse.render.crew_set.cover_edges import Lettered, edges_given, edges_heading
from evencourse.render.crew_set.cover_grid import Grid, picture_grid
from evencourse.render.crew_set.cover_key import cover_key
from evencourse.render.crew_set.cover_starters import shortened, starters
from evencourse.render.drawing.drawing import Line, Mark, Sheet, Text
from evencourse.render.drawing.fonts import LEADING_RATIO, ascent, wrap
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.papers import Paper, paper
from evencourse.render.drawing.pens import NOTE, SECOND, STARTER, TEXT, TITLE_THIN
from evencourse.render.drawing.pens import TITLE as RULE
from evencourse.render.drawing.placement import ELLIPSIS, Box, fitted
from evencourse.render.drawing.text_lines import both
from evencourse.render.words.result import Result

#: Heights of lettering on letter and A4 [mm]; larger sheets have larger lettering, by the same series.
_SMALL, _LABEL, _NAME = 2.5, 3.5, 7.0
_STEPS = ((320.0, 1.0), (620.0, 2**0.5), (float("inf"), 2.0))
#: Air between parts, and between columns [mm].
_AIR, _GUTTER = 3.0, 8.0
#: Most of the height that starters may take, less where no room is left for the faces; and that notes may.
_STARTERS, _NOTES = (0.36, 0.2), 0.34
#: What stands in the second language, too: the first of these that has room. Cautions that stand apart are
#: lower: under both columns, over the whole width.
_SECOND = (("key", "edges", "cautions"), ("key", "edges", "apart"), ("key", "apart"), ("apart",))
#: What the pictures of the faces keep of their scale where the second language stands beside the first; and
#: where cautions in another language would have no room otherwise.
_KEPT, _WARNED = 0.7, 0.4
#: Most lines for the courses of a starter where they are free.
_COURSES = 6
#: What the edges not met have of the width where faces have no room otherwise.
_SHARES = (0.5, 0.42, 0.34)
#: A chapter longer than any, so that the contents take as much as they ever do.
_LONG = "0 " * 400
#: How far a j reaches before its start, for capitals of height 1.
_INSET = 0.1


@dataclass(frozen=True)
class Contents:
    """What the set holds.

    Attributes:
        chapters: how each and its ``{sheets}`` are told, in English, number of its first and its last sheet.
        faces: number of the first sheet of every face; 0 for one that has none.
        material: what is hung, a line a cladding.
    """

    chapters: tuple[tuple[str, int, int], ...]
    faces: tuple[int, ...]
    material: tuple[str, ...]


def cover(result: Result, contents: Contents, paper_name: str, stamp: Stamp = NO_STAMP) -> Draft:
    """The cover of a set, its first sheet; arguments as for :func:`cover_drafts`."""
    return cover_drafts(result, contents, paper_name, stamp)[0]


def cover_drafts(
    result: Result, contents: Contents, paper_name: str, stamp: Stamp = NO_STAMP
) -> tuple[Draft, ...]:
    """The cover of a set, and sheets with the cautions in other languages where it has no room for those.

    Args:
        result: the finished result of a job.
        contents: what follows it.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
    """
    more = caution_sheets(result, paper_name)
    drafts = [partial(_sheet, result, contents, paper_name, stamp, more)]
    drafts += [partial(_cautions, result, paper_name, stamp, index, more) for index in range(more)]
    return tuple(drafts)


def caution_sheets(result: Result, paper_name: str) -> int:
    """How many sheets behind the cover the cautions in other languages take; 0 where they stand on it."""
    plan = result.plan
    if not {*plan.job.crew_languages} - {spoken().code}:
        return 0  # a second language that no crew asks for takes no sheet
    sheet = paper(paper_name)
    frame, k = Box(*sheet.frame), _step(sheet)
    contents = Contents(((_LONG, 0, 0),), (0,) * len(plan.elevations), result.instructions.sidings)
    if _front(result, contents, frame, k, 0).warned:
        return 0
    return len(caution_pages(plan, _head(plan, _over_block(frame), k)[1], k))


def _sheet(
    result: Result, contents: Contents, paper_name: str, stamp: Stamp, more: int, number: int, count: int
) -> Sheet:
    sheet = paper(paper_name)
    title = _title(0, more)
    block = title_block(result.plan, Titled(title, (number, count)), stamp, sheet)
    front = _front(result, contents, Box(*sheet.frame), _step(sheet), more)
    return Sheet(title, sheet.size, front.grid.views, (*front.grid.marks, block, *front.marks))


def _cautions(
    result: Result, paper_name: str, stamp: Stamp, index: int, more: int, number: int, count: int
) -> Sheet:
    """One of the sheets of cautions behind the cover."""
    plan, sheet = result.plan, paper(paper_name)
    title = _title(index + 1, more)
    block = title_block(plan, Titled(title, (number, count), names=(warned(),)), stamp, sheet)
    head, room = _head(plan, _over_block(Box(*sheet.frame)), _step(sheet))
    marks = caution_pages(plan, room, _step(sheet))[index]
    return Sheet(title, sheet.size, (), (block, *head, *marks))


def _title(index: int, more: int) -> str:
    """Of the cover, or of one of the sheets behind it."""
    title = pgettext("the first sheet of a set", "Cover")
    if not more:
        return title
    return gettext("{title}, {number} of {count}", title=title, number=index + 1, count=more + 1)


def _step(sheet: Paper) -> float:
    """How much larger than on letter the lettering is."""
    return next(step for width, step in _STEPS if Box(*sheet.frame).width < width)


def _over_block(frame: Box) -> Box:
    return replace(frame, bottom=frame.bottom + HEIGHT)


@dataclass(frozen=True)
class _Front:
    """What is drawn on the cover, and whether the cautions in other languages are all on it."""

    grid: Grid
    marks: Sequence[Mark]
    warned: bool


def _front(result: Result, contents: Contents, frame: Box, k: float, more: int) -> _Front:
    """The cover, the cautions in the crew's languages on it or on more sheets."""
    plan = result.plan
    head, below = _head(plan, frame, k)
    told: list[Mark] = []
    for most in _STARTERS:
        lower, y = starters(plan, replace(below, bottom=below.top - most * frame.height), k)
        if told and any(ELLIPSIS in figure for figure in _snapped(lower)):
            break  # what is snapped is never cut
        told, room = lower, Box(frame.left, frame.bottom + HEIGHT, frame.right, y)
        under = _under(result, contents, room, k, _Other(more=more))
        if not under.grid.tight:
            break
    share, places = 0.5, [(told, room)]
    if under.grid.tight:
        lower, y = starters(plan, replace(below, bottom=below.top - _STARTERS[0] * frame.height), k, True)
        places.append((lower, replace(room, top=y)))
    for lower, lower_room in places if under.grid.tight else ():
        for narrower in _SHARES:
            found = _under(result, contents, lower_room, k, _Other(more=more, share=narrower))
            if len(found.grid.views) > len(under.grid.views):
                told, room, share, under = lower, lower_room, narrower, found
    if any(isinstance(mark, Text) and ELLIPSIS in mark.text for mark in told):
        # More lines, where they are free.
        highest = replace(below, bottom=below.top - _STARTERS[0] * frame.height)
        lower, y = starters(plan, highest, k, True, _COURSES)
        found = _under(result, contents, replace(room, top=y), k, _Other(more=more, share=share))
        if len(_snapped(lower)) == len(_snapped(told)) and _keeps(found, under, _KEPT):
            told, room, under = lower, replace(room, top=y), found
    crew = () if more else crew_languages(plan)
    choices: list[tuple[Sequence[str], float]] = [((), _WARNED)] if crew else []
    if beside(spoken) is not None:
        choices = [*((second, _KEPT) for second in _SECOND), (("apart",), _WARNED)]
    for second, least in choices:
        fuller = _under(result, contents, room, k, _Other(second, crew, more, share))
        if _keeps(fuller, under, least):
            return _Front(fuller.grid, (*head, *told, *fuller.words), True)
    return _Front(under.grid, (*head, *told, *under.words), not (choices or more))


def _snapped(marks: Sequence[Mark]) -> list[str]:
    """The figures of what is snapped."""
    return [mark.text for mark in marks if isinstance(mark, Text) and mark.pen is STARTER]


def _keeps(fuller: _Under, than: _Under, least: float) -> bool:
    """Whether a cover that says more has room for that and shows the same faces, not much smaller."""
    shown, kept = ([view.scale for view in one.grid.views] for one in (than, fuller))
    return not fuller.over and len(kept) == len(shown) and kept[:1] >= [least * one for one in shown[:1]]


@dataclass(frozen=True)
class _Other:
    """What is said in other languages than the first, and how wide the columns are.

    Attributes:
        second: what stands in the second language, too.
        crew: codes of the crew's languages whose cautions stand here.
        more: on how many sheets behind the cover the cautions in all of them stand.
        share: what the edges not met have of the width, the cautions beside them the rest.
    """

    second: Collection[str] = ()
    crew: Sequence[str] = ()
    more: int = 0
    share: float = 0.5


@dataclass(frozen=True)
class _Under:
    """The faces in small and the words round them, and whether those lie on one another or are cut."""

    grid: Grid
    words: Sequence[Mark]
    over: bool


def _under(result: Result, contents: Contents, room: Box, k: float, other: _Other) -> _Under:
    """What stands under the starters."""
    small = _SMALL * k
    foot, low, cut = _foot(result, contents, room, k, other)
    key, y = cover_key(result.plan, replace(room, bottom=low, top=room.top - _AIR), "key" in other.second)
    grid = picture_grid(result.plan, contents.faces, replace(room, bottom=low + _AIR, top=y), k)
    if grid.views:
        return _Under(grid, (*foot, *key), cut)
    note = Text(
        TEXT, (room.left, y), gettext("No room for the faces here: see their sheets."), small, vertical="cap"
    )
    over = y - small * LEADING_RATIO < low
    return _Under(grid, (*foot, *key) if over else (*foot, *key, note), over or cut)


def _head(plan: Plan, frame: Box, k: float) -> tuple[list[Mark], Box]:
    """Whose job it is and what heights are measured from; and what is left under that."""
    job = plan.job
    big, label = _NAME * k, _LABEL * k
    name = fitted(job.name or gettext("Siding layout"), frame.width, big, "bold")
    y = frame.top - big * (ascent(name) - 1)
    marks: list[Mark] = [Text(TEXT, (frame.left, y), name, big, vertical="cap", weight="bold")]
    y -= big + label * 0.9
    note = gettext("Heights from: {datum}", datum=job.datum_words)
    if job.author:
        note = f"{note}. {gettext('Measured by {name}', name=job.author)}"
    for line in shortened(wrap(note, frame.width, label), 2, frame.width, label):
        marks.append(Text(TEXT, (frame.left, y), line, label, vertical="cap"))
        y -= label * LEADING_RATIO
    y -= 0.2 * label
    marks.append(Line(RULE, (frame.left, y), (frame.right, y)))
    return marks, replace(frame, top=y)


def _foot(
    result: Result, contents: Contents, room: Box, k: float, other: _Other
) -> tuple[list[Mark], float, bool]:
    """Material, edges not met, cautions and contents, over the strip; where they begin [mm]; and whether
    cautions in the second language are cut."""
    plan, small, second = result.plan, _SMALL * k, other.second
    leading = small * LEADING_RATIO
    wide = room.width - _INSET * small
    width, rest = (
        (room.width - _GUTTER) * share - _INSET * small for share in (other.share, 1 - other.share)
    )
    most = max(4, int(_NOTES * room.height / leading))

    def edges() -> list[Lettered]:
        return [
            Lettered(edges_heading(), weight="bold"),
            *edges_given(plan, result.instructions, width, small, most),
        ]

    def cautions(width: float = rest) -> list[Lettered]:
        return [Lettered(warned(), weight="bold"), *map(Lettered, cautioned(plan, width, small, most))]

    left, right, told = edges(), cautions(), None
    if "edges" in second:
        left[0] = replace(left[0], text=both(edges_heading, width, small, "bold"))
        left += _second(beside(edges) or (), left[0].text)
    if "cautions" in second:
        right[0] = replace(right[0], text=both(warned, rest, small, "bold"))
        told = beside(cautions)
        right += _second(told or (), right[0].text)
    whole: list[Lettered] = []
    if "apart" in second:
        told = beside(lambda: cautions(wide))
        whole += _second(told or (), right[0].text)
    for code in other.crew:
        with speaking(code):
            whole += [Lettered(warned(), weight="bold"), *map(Lettered, whole_cautions(plan, wide, small))]
    places = ". ".join(_elsewhere(plan)) if other.more else ""
    whole += [
        *(Lettered(line, weight="bold") for line in wrap(places, wide, small, "bold") if places),
        *(
            Lettered(line)
            for text in (_sidings(contents), _chapters(contents))
            for line in shortened(wrap(text, wide, small), 2, wide, small)
            if text
        ),
    ]
    marks: list[Mark] = []
    y = room.bottom + 1.2 + (len(whole) - 1) * leading + small + 0.9
    low = y
    marks += _column(whole, room.left, low, small)
    marks.append(Line(TITLE_THIN, (room.left, y + 1.2), (room.right, y + 1.2)))
    top = y + 2.4 + (max(len(left), len(right)) - 1) * leading + small + 1.0
    marks += _column(left, room.left, top, small)
    marks += _column(right, room.right - rest - _INSET * small, top, small)
    top += 1.6
    marks.append(Line(TITLE_THIN, (room.left, top), (room.right, top)))
    return marks, top, any(ELLIPSIS in line.text for line in told or ())


def _elsewhere(plan: Plan) -> Iterator[str]:
    """Where the cautions in other languages stand, said in each of them."""
    if (second := beside(_behind)) is not None:
        yield second
    for code in crew_languages(plan):
        with speaking(code):
            yield _behind()


def _behind() -> str:
    return gettext("Cautions: sheet {number}", number=2)


def _sidings(contents: Contents) -> str:
    return gettext("Siding: {sidings}", sidings="; ".join(contents.material)) if contents.material else ""


def _chapters(contents: Contents) -> str:
    words = []
    for told, first, last in contents.chapters:
        sheets = str(first) if first == last else gettext("{first} to {last}", first=first, last=last)
        words.append(gettext(told, sheets=sheets))
    return gettext("Sheets: {chapters}", chapters=", ".join(words)) if words else ""


def _column(lines: Sequence[Lettered], left: float, top: float, height: float) -> Iterator[Mark]:
    for index, line in enumerate(lines):
        at = (left + _INSET * height, top - index * height * LEADING_RATIO)
        yield Text(line.pen, at, line.text, height, vertical="cap", weight=line.weight)


def _second(lines: Sequence[Lettered], heading: str) -> Iterator[Lettered]:
    """Lines in the second language, their heading first where that of the first does not say it too."""
    for index, line in enumerate(lines):
        if index or not heading.endswith(f" / {line.text}"):
            yield Lettered(line.text, SECOND if line.pen is NOTE else line.pen)
