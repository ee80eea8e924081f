"""The details sheets: sections side by side at one scale, the key of signs, and cautions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import combinations, pairwise
from math import ceil

from evencourse.layout.language.speech import beside, gettext, noop, pgettext
from evencourse.layout.model.course_plan import Plan, Result
from evencourse.layout.model.tolerance import SAME
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.border.title_block import HEIGHT, Titled, title_block
from evencourse.render.details.cross_section import AT_EDGE, circled
from evencourse.render.details.detail_set import WIDTH, Detail, DetailSet
from evencourse.render.details.moved import moved
from evencourse.render.drawing.drawing import Block, Drawing, Line, Mark, Sheet, Text, View
from evencourse.render.drawing.fonts import ASCENT_RATIO, LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.papers import Paper, paper
from evencourse.render.drawing.pens import NOTE, SECOND, TEXT, TITLE_THIN, Pen
from evencourse.render.drawing.placement import Box
from evencourse.render.drawing.text_lines import both, lines_down
from evencourse.render.elevation.edge_signs import SIGN_WIDTH, sign
from evencourse.render.words.plan_words import measured

TITLE = noop("Details")
_NAME, _LABEL, _SMALL = 7.0, 3.5, 2.5
#: Least air between columns, and between details of a column [mm].
_GUTTER, _BETWEEN = 3.5, 5.0
#: In the key of signs: from a sign to its words, from these to the next sign [mm], and a detail's words.
_TO_WORDS, _TO_NEXT, _DETAIL = 1.6, 5.0, noop("made as detail 1")
#: Lines of what is said at the foot, with their pens.
_Foot = Sequence[tuple[str, Pen]]
#: Most from the title to the key of signs [mm].
_TO_KEY = 12.0
#: Usual cautions, and what the sections are.
_CAUTIONS = noop(
    "Flashing and weather barrier come before the siding, lapped so that water runs out over what is below. "
    "Shapes are generic, sizes nominal: the maker's instructions and the local code govern."
)
_PANEL_CAUTION = noop("Nail panels loose, in the middle of their slots.")


def detail_drafts(
    plan: Plan,
    details: DetailSet,
    paper_name: str,
    stamp: Stamp = NO_STAMP,
    more: Callable[[], str] = str,
) -> tuple[Draft, ...]:
    """The details sheets of a job, not numbered yet.

    Args:
        plan: the plan.
        details: its details.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
        more: says at their foot what is said besides what holds of details.

    Returns:
        As few sheets as the sections take in the order of their numbers.

    Raises:
        evencourse.render.drawing.papers.PaperError: no such paper.
    """
    sheet = paper(paper_name)
    frame = Box(*sheet.frame)

    def lines() -> list[str]:
        return _lines(plan, frame, more())

    def room(foot: _Foot) -> Box:
        return Box(frame.left, frame.bottom + HEIGHT + _foot(foot), frame.right, frame.top - _head())

    foot: _Foot = [(line, TEXT) for line in lines()]
    body = room(foot)
    pages = _even_pages(details.details, body)
    second = [*foot, *((line, SECOND) for line in beside(lines) or ())]
    fuller = _even_pages(details.details, room(second)) if len(second) > len(foot) else []
    if 0 < len(fuller) <= len(pages):
        foot, body, pages = second, room(second), fuller
    return tuple(
        partial(_sheet, plan, details.scale, page, body, foot, sheet, stamp, (index, len(pages)))
        for index, page in enumerate(pages)
    )


@dataclass(frozen=True)
class _Placed:
    """A detail and where the left upper corner of what it covers lies on the paper [mm]."""

    detail: Detail
    left: float
    top: float


def _even_pages(details: Sequence[Detail], body: Box) -> list[list[_Placed]]:
    """As few sheets as the details take in the order of their numbers, and then about as many on each."""
    fewest = _pages(details, body, len(details))
    shares = range(ceil(len(details) / max(1, len(fewest))), len(details))
    tries = (_pages(details, body, most) for most in shares)
    return next((pages for pages in tries if len(pages) == len(fewest)), fewest)


def _level_columns(details: Sequence[Detail], body: Box) -> list[_Placed]:
    """The details of a sheet in all of its columns, down one after the other, as level as can be."""
    across, step = _columns(body)
    ways = []
    for cuts in combinations(range(1, len(details)), min(across, len(details)) - 1):
        columns = [details[low:high] for low, high in pairwise((0, *cuts, len(details)))]
        ways.append((max(map(_deep, columns)), columns))
    tallest, columns = min(ways, key=lambda way: way[0])
    if tallest > body.height + SAME:
        return []
    return [
        _Placed(
            detail,
            body.left + place * step,
            body.top - _deep(column[:number]) - (_BETWEEN if number else 0.0),
        )
        for place, column in enumerate(columns)
        for number, detail in enumerate(column)
    ]


def _deep(column: Sequence[Detail]) -> float:
    """What details over each other take [mm]."""
    return sum(one.box.height for one in column) + _BETWEEN * max(0, len(column) - 1)


def _columns(body: Box) -> tuple[int, float]:
    """How many columns stand beside each other, and from one to the next [mm]."""
    across = max(1, int((body.width + _GUTTER) / (WIDTH + _GUTTER)))
    return across, WIDTH + (body.width - across * WIDTH) / max(1, across - 1)


def _pages(details: Sequence[Detail], body: Box, most: int) -> list[list[_Placed]]:
    """Details in their order on one sheet after the other, so many a sheet at most."""
    pages: list[list[_Placed]] = []
    left = list(details)
    while left:
        counts = range(min(most, len(left)), 0, -1)
        page = next((page for count in counts if (page := _level_columns(left[:count], body))), None)
        if page is None:  # taller than the sheet: it stands alone, from the top
            page = [_Placed(left[0], body.left, body.top)]
        pages.append(page)
        left = left[len(page) :]
    return pages


def _sheet(
    plan: Plan,
    scaled: tuple[float, str],
    page: Sequence[_Placed],
    body: Box,
    foot: _Foot,
    on: Paper,
    stamp: Stamp,
    part: tuple[int, int],
    number: int,
    count: int,
) -> Sheet:
    frame = Box(*on.frame)
    scale, words = scaled
    chapter = gettext(TITLE)

    def titled(name: str) -> str:
        if part[1] == 1:
            return name
        return gettext("{title}, {number} of {count}", title=name, number=part[0] + 1, count=part[1])

    title = titled(chapter)
    view = _view(plan, page, scale, title, body)
    marks = (
        *_headed(plan, titled, words, frame),
        *_footed(foot, frame),
        title_block(plan, Titled(title, (number, count), words), stamp, on),
    )
    return Sheet(title, on.size, (view,), marks, chapter=chapter)


def _view(plan: Plan, page: Sequence[_Placed], scale: float, title: str, body: Box) -> View:
    """All sections of a sheet as one drawing at full size, so that a CAD program shows them as they stand.

    Each is a block, which a drafter places on a sheet of another job.
    """
    units = plan.job.units
    mm = 1 / (scale * (25.4 if units == "in" else 1.0))
    marks: list[Mark] = []
    for one in page:
        box = one.detail.box
        by = ((one.left - body.left - box.left) * mm, (one.top - body.bottom - box.top) * mm)
        items = tuple(moved(mark, by) for mark in one.detail.marks)
        words = (("DETAIL", one.detail.number), ("TITLE", one.detail.title))
        marks.append(Block(f"detail {one.detail.number}", by, items, words))
    window = (body.left, body.bottom, body.right, body.top)
    return View(Drawing(title, units, tuple(marks)), scale, (body.left, body.bottom), window)


def _head() -> float:
    """What the title takes [mm]."""
    return _NAME * ASCENT_RATIO + 3.5 + 4.0


def _headed(plan: Plan, titled: Callable[[str], str], scale: str, frame: Box) -> Iterator[Mark]:
    top = frame.top - (ASCENT_RATIO - 1.0) * _NAME
    words = gettext("Sections at {scale}", scale=scale)
    chapter, wide = gettext(TITLE), text_width(titled(gettext(TITLE)), _NAME, "bold")
    at = wide + _TO_KEY
    taken = at + sign_key_width(plan) + _TO_NEXT + _taken(2 * AT_EDGE, gettext(_DETAIL)) + _TO_NEXT
    size = _LABEL if taken + text_width(words, _LABEL) <= frame.width else _SMALL
    over = taken + text_width(words, size) - frame.width
    room = text_width(chapter, _NAME, "bold") - over
    shown = titled(both(lambda: gettext(TITLE), room, _NAME, "bold"))
    at += text_width(shown, _NAME, "bold") - wide
    yield Text(TEXT, (frame.left, top), shown, _NAME, vertical="cap", weight="bold")
    level = top - (_NAME if over <= _TO_KEY - _TO_NEXT else size)  # over the key where that is too long
    yield Text(TEXT, (frame.right, level), words, size, "end")
    at -= min(max(0.0, over), _TO_KEY - _TO_NEXT)
    yield from sign_key(plan, frame.left + at, top - _NAME + _SMALL / 2)
    rule = top - _NAME - 3.5
    yield Line(TITLE_THIN, (frame.left, rule), (frame.right, rule))


def _lines(plan: Plan, frame: Box, more: str) -> list[str]:
    panels = any(cladding.family == "panel" for cladding in plan.job.claddings.values())
    told = (gettext(_CAUTIONS), gettext(_PANEL_CAUTION) if panels else "", more)
    return wrap(" ".join(filter(None, told)), frame.width, _SMALL)


def _foot(lines: _Foot) -> float:
    """What the cautions take over the strip [mm]."""
    return len(lines) * _SMALL * LEADING_RATIO + 2.4


def _footed(lines: _Foot, frame: Box) -> Iterator[Mark]:
    """The cautions."""
    top = frame.bottom + HEIGHT + _foot(lines)
    yield Line(TITLE_THIN, (frame.left, top), (frame.right, top))
    y = top - 1.8
    for line, pen in lines:
        y = yield from lines_down([line], frame.left, y, _SMALL, pen=pen)


def sign_key(plan: Plan, x: float, y: float, details: bool = True, pen: Pen = NOTE) -> Iterator[Mark]:
    """The key of signs round a level of the paper.

    Args:
        plan: for what it takes to be a sliver.
        x: where it begins [mm].
        y: the level [mm].
        details: with the sign of a detail.
        pen: of the words.
    """
    for result, words in _signs(plan):
        yield from sign(result, (x + SIGN_WIDTH / 2, y), 1.0)
        yield Text(pen, (x + SIGN_WIDTH + _TO_WORDS, y), words, _SMALL, vertical="middle")
        x += _taken(SIGN_WIDTH, words) + _TO_NEXT
    if details:
        yield from circled("1", (x + AT_EDGE, y), 1.0, AT_EDGE, _SMALL)
        yield Text(pen, (x + 2 * AT_EDGE + _TO_WORDS, y), gettext(_DETAIL), _SMALL, vertical="middle")


def sign_key_width(plan: Plan) -> float:
    """What the key takes without the sign of a detail [mm]."""
    return max(0.0, sum(_taken(SIGN_WIDTH, words) + _TO_NEXT for _, words in _signs(plan)) - _TO_NEXT)


def _signs(plan: Plan) -> Iterator[tuple[Result, str]]:
    """The signs that the drawings of a plan have, and what each means."""
    edges = [edge for face in plan.elevations for edge in face.edges]
    results = {edge.result for edge in edges}
    cut = {edge.rip for edge in edges if edge.result == "notch"}
    if "flush" in results:
        yield "flush", pgettext("what a sign at an edge means", "flush")
    if cut == {False, True}:
        yield "notch", gettext("notch or rip")
    elif True in cut:
        yield "notch", pgettext("what a sign at an edge means", "rip")
    elif cut:
        yield "notch", pgettext("what a sign at an edge means", "notch")
    if "sliver" in results or any(face.thin_ends for face in plan.elevations):
        least = measured(plan.job, plan.job.limits.strip_min)
        yield "sliver", gettext("sliver: a strip under {least}", least=least)


def _taken(sign_width: float, words: str) -> float:
    return sign_width + _TO_WORDS + text_width(words, _SMALL)
