"""Rake sheets: for every different slope the layout of its cut, who needs it, and a full-size template."""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import islice

from evencourse.layout.courses.rake_cut import RakeCut, RakeUse, rake_cuts
from evencourse.layout.language.speech import decimals, gettext, ngettext, noop, pgettext
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.border.title_block import HEIGHT, Titled, title_block
from evencourse.render.drawing.drawing import Line, Mark, Path, Point, Sheet, Text
from evencourse.render.drawing.font_files import Weight
from evencourse.render.drawing.fonts import ASCENT_RATIO, LEADING_RATIO, text_width, wrap
from evencourse.render.drawing.numbering import Draft, numbered
from evencourse.render.drawing.papers import Paper, paper
from evencourse.render.drawing.pens import (
    BUTT,
    DIMENSION,
    NOTE,
    OUTLINE,
    PALE,
    STARTER,
    TEMPLATE_CUT,
    TEXT,
    TITLE_THIN,
    Pen,
)
from evencourse.render.drawing.placement import Box, fitted
from evencourse.render.drawing.text_lines import lines_down
from evencourse.render.sheets.rake_block import FEW, WAYS, Said, Way, gap_lines, rake_said, rise_words
from evencourse.render.templates.check_bar import check_words
from evencourse.render.templates.rake_template import Template, template
from evencourse.render.words.plan_words import layout_words, pitch_words, show
from evencourse.render.words.rake_words import layout_courses

#: Lettering [mm].
_TITLE, _BIG, _MIDDLE, _LABEL, _NOTE = 7.0, 7.0, 5.0, 3.5, 2.5
#: Width of the left column, and between the columns, least [mm].
_LEFT, _GUTTER = 104.0, 8.0
#: Greatest width of the right column: figures stay near the faces that they are for [mm].
_WIDEST = 170.0
#: Least between the heads of columns [mm].
_APART = 2.5
#: Run of the slope triangle, and the greatest rise that is drawn [mm].
_RUN, _RISE = 62.0, 52.0
#: Most of the column's height that the triangle takes.
_SHARE = 0.26
#: Size of the picture of a piece's end, and the exposure in it [mm].
_PICTURE = (34.0, 12.0)
_HAND_PEN = Pen("piece body", BUTT.layer, 0.18, PALE, 9)
#: A template of more sheets than this is not printed: a string is truer than so many joints.
_MOST_PARTS = 8
#: Said of layouts where there is room for it.
_SEVERAL = noop("One slope, one line for each exposure; the cut list says which one a piece takes.")

#: How every cut is marked.
MARKED = noop(
    "Mark the cut on the exposed side from the butt up; carry the line on across the lap or the nail hem "
    "with a straightedge. Cut one piece and hold it to the wall before the rest are cut."
)


def rake_sheets(plan: Plan, paper_name: str, stamp: Stamp = NO_STAMP) -> tuple[tuple[Sheet, ...], ...]:
    """The rake sheets of a job, numbered through.

    Args:
        plan: the plan.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.

    Returns:
        For every different slope its sheets, in the order in which the faces need them: the layout first,
        then the parts of the template, none for a slope so flat that it takes more than eight. Nothing for a
        job without rakes.

    Raises:
        evencourse.render.drawing.papers.PaperError: no such paper.
    """
    drafts = rake_drafts(plan, paper_name, stamp)
    sheets = iter(numbered(draft for cut in drafts for draft in cut))
    return tuple(tuple(islice(sheets, len(cut))) for cut in drafts)


def rake_drafts(plan: Plan, paper_name: str, stamp: Stamp = NO_STAMP) -> tuple[tuple[Draft, ...], ...]:
    """The rake sheets of a job, not numbered yet; else as :func:`rake_sheets`."""
    sheet = paper(paper_name)
    found = []
    for cut in rake_cuts(plan):
        laid_out = _LaidOut(plan, cut, sheet, template(plan.job, cut, sheet), stamp)
        count = laid_out.template.parts if laid_out.template.parts <= _MOST_PARTS else 0
        parts: tuple[Draft, ...] = tuple(partial(laid_out.part, index) for index in range(count))
        found.append((laid_out.layout, *parts))
    return tuple(found)


@dataclass(frozen=True)
class _LaidOut:
    """A cut laid out on its sheets."""

    plan: Plan
    cut: RakeCut
    paper: Paper
    template: Template
    stamp: Stamp

    @property
    def title(self) -> str:
        """What the sheets are called."""
        return gettext("Rake {pitch}", pitch=pitch_words(self.cut))

    def layout(self, number: int, count: int) -> Sheet:
        """The sheet with the layout."""
        frame = Box(*self.paper.frame)
        marks = (
            *_layout(self.plan, self.cut, self.template.parts, self.title, frame),
            title_block(self.plan, Titled(self.title, (number, count)), self.stamp, self.paper),
        )
        return Sheet(self.title, self.paper.size, marks=marks, chapter=gettext("Rakes"))

    def part(self, index: int, number: int, count: int) -> Sheet:
        """A sheet with a part of the template."""
        on = gettext("Sheet {number} of {count}", number=number, count=count)
        return self.template.sheet(index, self.title, on, gettext("Rakes"), self.stamp.words)


def _layout(plan: Plan, cut: RakeCut, parts: int, title: str, frame: Box) -> Iterator[Mark]:
    rise = (ASCENT_RATIO - 1.0) * _TITLE
    top = frame.top - rise
    yield Text(TEXT, (frame.left, top), title, _TITLE, vertical="cap", weight="bold")
    rule = top - _TITLE - 3.5
    yield Line(TITLE_THIN, (frame.left, rule), (frame.right, rule))
    body = Box(frame.left, frame.bottom + HEIGHT + 3.0, frame.right, rule - 4.0)
    left = Box(body.left, body.bottom, body.left + _LEFT, body.top)
    right = Box(left.right + _GUTTER, body.bottom, min(body.right, left.right + _GUTTER + _WIDEST), body.top)
    y = yield from _triangle(cut, left)
    yield from _figures(plan, cut, parts, Box(left.left, left.bottom, left.right, y - 6.0))
    yield from _uses(plan, cut, right, parts <= _MOST_PARTS)


def _triangle(cut: RakeCut, box: Box) -> Generator[Mark, None, float]:
    """The slope triangle as in any set of drawings; returns the level below it."""
    run = _RUN
    rise, most = run * cut.pitch / 12, min(_RISE, _SHARE * box.height)
    if rise > most:
        run, rise = run * most / rise, most
    number = rise_words(cut)
    foot = box.top - rise - 7.0
    left = box.left + text_width(number, _MIDDLE, "bold") + 3.0
    low, high, corner = (left, foot), (left + run, foot + rise), (left, foot + rise)
    yield Line(OUTLINE, low, high)
    yield Line(DIMENSION, low, corner)
    yield Line(DIMENSION, corner, high)
    yield Text(TEXT, (left + run / 2, corner[1] + 1.6), "12", _MIDDLE, "middle", weight="bold")
    yield Text(TEXT, (left - 2.0, foot + rise / 2), number, _MIDDLE, "end", "middle", weight="bold")
    beside = high[0] + 5.0
    angle = decimals(f"{cut.angle:.1f}°")
    for index, words in enumerate((angle, pgettext("under the angle of a slope", "from level"))):
        height = (_MIDDLE, _NOTE)[index]
        yield Text(TEXT, (beside, high[1] - 6.5 * index), words, height, vertical="cap")
    return foot


def _figures(plan: Plan, cut: RakeCut, parts: int, box: Box) -> Iterator[Mark]:
    """The layout in large lettering, and what follows from it."""
    job = plan.job
    layouts = [layout_words(job, *layout) for layout in cut.layouts]
    sizes = (_BIG, _MIDDLE, _LABEL, _NOTE)[min(3, (len(layouts) - 1) // FEW + (len(layouts) > 1)) :]
    widths = (max(text_width(words, size, "bold") for words in layouts) for size in sizes)
    fitting = [size for size, wide in zip(sizes, widths, strict=True) if wide <= box.width] or [_NOTE]
    several = ((gettext(_SEVERAL), _NOTE, "regular"),) if len(layouts) > 1 else ()
    tries = [(size, label, more) for label in (_LABEL, _NOTE) for size in fitting for more in (several, ())]
    for size, label, more in tries:
        notes: tuple[Said, ...] = (
            (gettext(MARKED), _NOTE, "regular"),
            (_template_line(job, parts), _NOTE, "regular"),
        )
        said: tuple[Said, ...] = (*more, *rake_said(job, cut, label), *notes)
        tall = len(layouts) * size * 1.5 + 2.0 + sum(_tall(*one, box) for one in said)
        if tall <= box.height:
            break
    y = box.top
    for words, (exposure, _) in zip(layouts, cut.layouts, strict=True):
        text = fitted(words, box.width, size, "bold")
        yield Text(STARTER, (box.left, y), text, size, vertical="cap", weight="bold")
        beside = box.left + text_width(text, size, "bold") + 4.0
        if len(layouts) > 1 and box.right - beside > _LEFT / 5:
            courses = fitted(layout_courses(plan, cut.uses, exposure), box.right - beside, _NOTE)
            yield Text(TEXT, (beside, y - size), courses, _NOTE)
        y -= size * 1.5
    y -= 2.0
    for text, height, weight in said:
        y = yield from lines_down(wrap(text, box.width, height, weight), box.left, y, height, weight)
        y -= 1.6


def _tall(text: str, height: float, weight: Weight, box: Box) -> float:
    """What a paragraph and the air below it take of a column [mm]."""
    return len(wrap(text, box.width, height, weight)) * height * LEADING_RATIO + 1.6


def _template_line(job: Job, parts: int) -> str:
    if parts > _MOST_PARTS:
        return gettext(
            "No template: at full size it takes {count} sheets. Lay the cut out on the piece with the tape, "
            "or stretch a string from long point to short point.",
            count=parts,
        )
    where = ngettext(
        "Template at full size on the next sheet.",
        "Template at full size on the next {count} sheets.",
        parts,
    )
    return f"{where} {check_words(job.units)}"


def _uses(plan: Plan, cut: RakeCut, box: Box, printed: bool) -> Iterator[Mark]:
    """Which end is cut on which face, how a printed template lies there, and how long each rake is."""
    job = plan.job
    groups: dict[Way, list[RakeUse]] = {}
    for use in cut.uses:
        groups.setdefault((use.rake.side, use.rake.hand), []).append(use)
    gaps = tuple(gap_lines(plan, cut))
    notes = [line for gap in gaps for line in wrap(gap, box.width, _NOTE)]
    floor = box.bottom + len(notes) * _NOTE * LEADING_RATIO + 2.0
    room = box.top - floor
    head = _PICTURE[1] + 10.0
    fits = (
        size
        for size in (_LABEL, _NOTE)
        if sum((len(uses) + 1) * size * LEADING_RATIO + head for uses in groups.values()) <= room
    )
    size = next(fits, _NOTE)
    rows = max(1, int((room - len(groups) * head) / len(groups) / (size * LEADING_RATIO)))
    y = box.top
    for way, uses in groups.items():
        yield from _picture(way, (box.left, y - _PICTURE[1]), cut)
        ends, lies = WAYS[way]
        words = gettext(ends)
        x = box.left + _PICTURE[0] + 6.0
        yield Text(
            TEXT, (x, y), fitted(words, box.right - x, _LABEL, "bold"), _LABEL, vertical="cap", weight="bold"
        )
        if printed:
            lies = fitted(gettext(lies), box.right - x, _NOTE)
            yield Text(TEXT, (x, y - 5.6), lies, _NOTE, vertical="cap")
        y -= _PICTURE[1] + 5.0
        y = yield from _table(job, uses, rows, size, box, y)
        y -= 5.0
    yield from lines_down(notes, box.left, floor - 2.0, _NOTE, pen=NOTE)


def _table(
    job: Job, uses: Sequence[RakeUse], rows: int, size: float, box: Box, y: float
) -> Generator[Mark, None, float]:
    """Face, run, rise and length of every rake of one kind; alike ones once."""
    said: dict[tuple[str, str, str, str], int] = {}
    for use in uses:
        key = (use.face, show(job, use.run), show(job, use.rise), show(job, use.rake.rake_length))
        said[key] = said.get(key, 0) + 1
    heads = pgettext("of a slope", "run"), pgettext("of a slope", "rise"), gettext("along the rake")
    wide = max(12.0 * size, *(text_width(words, size) + _APART for words in heads))
    columns = (box.right - 2 * wide, box.right - wide, box.right)
    shown = list(said.items())
    if len(shown) > rows - 1:
        shown = shown[: max(1, rows - 2)]
    for x, words in zip(columns, heads, strict=True):
        yield Text(TEXT, (x, y), words, size, "end", "cap")
    y -= size * LEADING_RATIO
    for (face, *lengths), count in shown:
        name = gettext("{face}, {count} of them", face=face, count=count) if count > 1 else face
        width = columns[0] - box.left - max(text_width(lengths[0], size), 4.0 * size) - 3.0
        yield Text(TEXT, (box.left, y), fitted(name, width, size), size, vertical="cap")
        for x, words in zip(columns, lengths, strict=True):
            yield Text(
                TEXT, (x, y), words, size, "end", "cap", weight="bold" if x == box.right else "regular"
            )
        y -= size * LEADING_RATIO
    if len(shown) < len(said):
        more = gettext("and {count} more", count=len(said) - len(shown))
        yield Text(TEXT, (box.left, y), more, size, vertical="cap")
        y -= size * LEADING_RATIO
    return y


def _picture(way: Way, at: Point, cut: RakeCut) -> Iterator[Mark]:
    """The end of a piece as it hangs, the cut heavy; flat slopes are shown steeper than they are."""
    side, hand = way
    wide, tall = _PICTURE
    over = min(tall * 12 / cut.pitch, wide * 0.62)
    low, high = (0.0, over) if side == "top" else (over, 0.0)  # how far butt and top fall short
    ends = ((wide - low, 0.0), (wide - high, tall))
    outline = ((0.0, 0.0), ends[0], ends[1], (0.0, tall))

    def to(point: Point) -> Point:
        x = point[0] if hand == "right" else wide - point[0]
        return (at[0] + x, at[1] + point[1])

    yield Path(None, tuple(to(point) for point in outline), True, fill=_HAND_PEN)
    yield Line(BUTT, to(outline[0]), to(ends[0]))
    yield Line(BUTT, to(outline[3]), to(ends[1]))
    yield Line(TEMPLATE_CUT, to(ends[0]), to(ends[1]))
