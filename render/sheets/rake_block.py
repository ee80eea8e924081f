"""The rakes of a job in small: for every slope its triangle, its layout, and who needs it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from evencourse.layout.courses.rake_cut import RakeCut, rake_cuts
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.render.drawing.drawing import Line, Mark, Text
from evencourse.render.drawing.fonts import text_width, wrap
from evencourse.render.drawing.pens import DIMENSION, OUTLINE, STARTER, TEXT, TITLE_THIN
from evencourse.render.drawing.placement import fitted
from evencourse.render.sheets.flow import ColumnItem, column_marks
from evencourse.render.sheets.rake_sheet import WAYS, gap_lines, rake_said
from evencourse.render.words.plan_words import layout_words, pitch_words, show
from evencourse.render.words.rake_words import layout_courses

_HEADING, _FIGURE, _SMALL = 3.5, 5.0, 2.5
#: Run of the triangle and its greatest rise [mm].
_RUN, _RISE = 30.0, 26.0
#: From line to line, for lettering of height 1; a column as wide as this has room beside the triangle [mm].
_LEADING, _WIDE = 1.5, 110.0
#: Above the heading, and around the triangle [mm].
_OVER, _AIR = 2.6, 2.5


def rake_items(plan: Plan, width: float) -> list[ColumnItem] | None:
    """A block for every slope, for columns of a width [mm]; none for a job without rakes.

    Returns:
        None where the column is too narrow for a layout: that is never shortened.
    """
    found: list[ColumnItem] = []
    for cut in rake_cuts(plan):
        block = _block(plan, cut, width)
        if block is None:
            return None
        found += block
    return found


def _block(plan: Plan, cut: RakeCut, width: float) -> list[ColumnItem] | None:
    job = plan.job
    name, size = f"Rake {pitch_words(cut)}", _OVER + _HEADING + 2.4
    head = ColumnItem(size, partial(_heading, name, width), heading=True)
    again = (ColumnItem(size, partial(_heading, f"{name}, continued", width)),)
    texts = [*_uses(job, cut), *(text for text, _, _ in rake_said(job, cut, _SMALL)), *gap_lines(plan, cut)]
    tall = min(_RISE, _RUN * cut.pitch / 12) + _SMALL + 2 * _AIR
    left = _triangle_width(cut) + 4.0
    figures = _set_figures(plan, cut, width - left)
    if figures is not None and width >= _WIDE:  # the words stand beside the triangle, too
        beside, under = [figures], list(_paragraphs(texts, width - left))
        while under and sum(item.height for item in beside) < tall:
            beside.append(under.pop(0))
        high = max(tall, sum(item.height for item in beside))
        triangle = ColumnItem(high, partial(_triangle, cut, beside, left), heading=bool(under))
        indented = (replace(item, draw=partial(_indented, item, left), again=again) for item in under)
        return [head, triangle, *indented]
    if figures is not None:
        high = max(tall, figures.height)
        triangle = ColumnItem(high, partial(_triangle, cut, [figures], left), heading=True)
        return [head, triangle, *(replace(item, again=again) for item in _paragraphs(texts, width))]
    figures = _set_figures(plan, cut, width)
    triangle = ColumnItem(tall, partial(_triangle, cut, (), left), heading=True)
    if figures is None:
        return None
    return [head, triangle, figures, *(replace(item, again=again) for item in _paragraphs(texts, width))]


def _set_figures(plan: Plan, cut: RakeCut, width: float) -> ColumnItem | None:
    """The layouts as large as they go into a width [mm], where there are several with their courses."""
    several = len(cut.layouts) > 1
    angle = fitted(f"{cut.angle:.1f}° from level", width, _SMALL)
    layouts = [layout_words(plan.job, *layout) for layout in cut.layouts]
    for size in (_FIGURE, _HEADING):
        if max(text_width(words, size, "bold") for words in layouts) > width:
            continue
        lines: list[_Lettered] = []
        for words, (exposure, _) in zip(layouts, cut.layouts, strict=True):
            courses = wrap(layout_courses(plan, cut.uses, exposure), width, _SMALL) if several else ()
            lines.append((words, size, size * 0.35))
            lines += [(line, _SMALL, _SMALL * 0.5) for line in courses]
            lines[-1] = (*lines[-1][:2], _AIR)
        lines.append((angle, _SMALL, 1.0))
        return ColumnItem(_AIR + sum(high + air for _, high, air in lines), partial(_lettered, tuple(lines)))
    return None


#: A line: what it says, its height, and the air under it [mm].
_Lettered = tuple[str, float, float]


def _lettered(lines: Sequence[_Lettered], left: float, top: float) -> Iterator[Mark]:
    y = top - _AIR
    for text, height, air in lines:
        if height > _SMALL:
            yield Text(STARTER, (left, y), text, height, vertical="cap", weight="bold")
        else:
            yield Text(TEXT, (left, y), text, height, vertical="cap")
        y -= height + air


def _heading(words: str, width: float, left: float, top: float) -> Iterator[Mark]:
    y = top - _OVER - _HEADING
    yield Text(TEXT, (left, y), fitted(words, width, _HEADING, "bold"), _HEADING, weight="bold")
    yield Line(TITLE_THIN, (left, y - 1.4), (left + width, y - 1.4))


def _triangle_width(cut: RakeCut) -> float:
    return text_width(pitch_words(cut).partition(" ")[0], _SMALL, "bold") + 3.0 + _RUN


def _triangle(
    cut: RakeCut, beside: Sequence[ColumnItem], beside_left: float, left: float, top: float
) -> Iterator[Mark]:
    """The slope triangle with its two numbers, and what stands beside it."""
    run, rise = _RUN, _RUN * cut.pitch / 12
    if rise > _RISE:
        run, rise = run * _RISE / rise, _RISE
    number = pitch_words(cut).partition(" ")[0]
    x = left + text_width(number, _SMALL, "bold") + 2.5
    high = top - _AIR - _SMALL - 1.2
    yield Line(OUTLINE, (x, high - rise), (x + run, high))
    yield Line(DIMENSION, (x, high - rise), (x, high))
    yield Line(DIMENSION, (x, high), (x + run, high))
    yield Text(TEXT, (x + run / 2, high + 1.0), "12", _SMALL, "middle", weight="bold")
    yield Text(TEXT, (x - 1.2, high - rise / 2), number, _SMALL, "end", "middle", weight="bold")
    yield from column_marks(beside, left + beside_left, top)


def _uses(job: Job, cut: RakeCut) -> list[str]:
    """Which end is cut on which face, and how long each rake is."""
    found: dict[tuple[str, str], list[str]] = {}
    for use in cut.uses:
        ends = WAYS[use.rake.side, use.rake.hand][0]
        sizes = (
            f"{show(job, use.rake.rake_length)} along the rake, "
            f"run {show(job, use.run)}, rise {show(job, use.rise)}"
        )
        found.setdefault((ends, sizes), []).append(use.face)
    told: dict[tuple[str, str], list[str]] = {}
    for (ends, sizes), faces in found.items():
        side, _, cut_there = ends.partition(" ")
        told.setdefault((cut_there, f"{', '.join(_counted(faces))}, {sizes}."), []).append(side)
    return [
        f"{' and '.join(sorted(sides)).capitalize()} {cut_there}: {where}"
        for (cut_there, where), sides in told.items()
    ]


def _counted(faces: Sequence[str]) -> Iterator[str]:
    for face in dict.fromkeys(faces):
        many = faces.count(face)
        yield f"{face} ({many} of them)" if many > 1 else face


def _indented(item: ColumnItem, by: float, left: float, top: float) -> Iterable[Mark]:
    return item.draw(left + by, top)


def _paragraphs(texts: Sequence[str], width: float) -> Iterator[ColumnItem]:
    for text in texts:
        lines = wrap(text, width, _SMALL)
        yield ColumnItem(len(lines) * _SMALL * _LEADING + 0.6, partial(_lines, tuple(lines)))


def _lines(lines: Sequence[str], left: float, top: float) -> Iterator[Mark]:
    for index, line in enumerate(lines):
        at = (left, top - 0.6 - index * _SMALL * _LEADING)
        yield Text(TEXT, at, line, _SMALL, vertical="cap")
