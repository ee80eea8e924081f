"""The rakes of a job in small: for every slope its triangle, its layout, and who needs it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
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

_HEADING, _FIGURE, _SMALL = 3.5, 5.0, 2.5
#: Run of the triangle and its greatest rise [mm].
_RUN, _RISE = 30.0, 26.0
#: From line to line, for lettering of height 1; a column as wide as this has room beside the triangle [mm].
_LEADING, _WIDE = 1.5, 110.0
#: Above the heading, and around the triangle [mm].
_OVER, _AIR = 2.6, 2.5


def rake_items(plan: Plan, width: float) -> list[ColumnItem]:
    """A block for every slope, for columns of a width [mm]; none for a job without rakes."""
    return [item for cut in rake_cuts(plan) for item in _block(plan, cut, width)]


def _block(plan: Plan, cut: RakeCut, width: float) -> list[ColumnItem]:
    job = plan.job
    head = ColumnItem(
        _OVER + _HEADING + 2.4, partial(_heading, f"Rake {pitch_words(cut)}", width), heading=True
    )
    rise = min(_RISE, _RUN * cut.pitch / 12)
    layouts = [layout_words(job, *layout) for layout in cut.layouts]
    beside = width - _triangle_width(cut) - 4.0
    figure = next((size for size in (_FIGURE, _HEADING) if _fits(layouts, size, beside)), _SMALL)
    shown = rise + _SMALL + 3 * _AIR
    figures = len(layouts) * figure * 1.6 + _SMALL * _LEADING + 2 * _AIR
    texts = [*_uses(job, cut), *(text for text, _, _ in rake_said(job, cut, _SMALL)), *gap_lines(plan, cut)]
    tall = max(shown, figures)
    if width >= _WIDE:  # the words stand beside the triangle, too
        right = list(_paragraphs(texts, beside))
        high = max(shown, figures + sum(item.height for item in right))
        triangle = partial(_triangle, cut, layouts, figure, beside, right)
        return [head, ColumnItem(high, triangle)]
    triangle = partial(_triangle, cut, layouts, figure, beside, ())
    return [head, ColumnItem(tall, triangle, heading=True), *_paragraphs(texts, width)]


def _fits(layouts: Sequence[str], size: float, width: float) -> bool:
    return max(text_width(words, size, "bold") for words in layouts) <= width


def _heading(words: str, width: float, left: float, top: float) -> Iterator[Mark]:
    y = top - _OVER - _HEADING
    yield Text(TEXT, (left, y), fitted(words, width, _HEADING, "bold"), _HEADING, weight="bold")
    yield Line(TITLE_THIN, (left, y - 1.4), (left + width, y - 1.4))


def _triangle_width(cut: RakeCut) -> float:
    return text_width(pitch_words(cut).partition(" ")[0], _SMALL, "bold") + 3.0 + _RUN


def _triangle(
    cut: RakeCut,
    layouts: Sequence[str],
    figure: float,
    beside: float,
    more: Sequence[ColumnItem],
    left: float,
    top: float,
) -> Iterator[Mark]:
    """The slope triangle with its two numbers, and beside it the layouts and the angle."""
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
    at, y = left + _triangle_width(cut) + 4.0, top - _AIR
    for words in layouts:
        shown = fitted(words, beside, figure, "bold")
        yield Text(STARTER, (at, y), shown, figure, vertical="cap", weight="bold")
        y -= figure * 1.6
    angle = fitted(f"{cut.angle:.1f}° from level", beside, _SMALL)
    yield Text(TEXT, (at, y), angle, _SMALL, vertical="cap")
    yield from column_marks(more, at, y - _SMALL - 1.6)


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
    return [f"{ends}: {', '.join(_counted(faces))}, {sizes}." for (ends, sizes), faces in found.items()]


def _counted(faces: Sequence[str]) -> Iterator[str]:
    for face in dict.fromkeys(faces):
        many = faces.count(face)
        yield f"{face} ({many} of them)" if many > 1 else face


def _paragraphs(texts: Sequence[str], width: float) -> Iterator[ColumnItem]:
    for text in texts:
        lines = wrap(text, width, _SMALL)
        yield ColumnItem(len(lines) * _SMALL * _LEADING + 0.6, partial(_lines, tuple(lines)))


def _lines(lines: Sequence[str], left: float, top: float) -> Iterator[Mark]:
    for index, line in enumerate(lines):
        at = (left, top - 0.6 - index * _SMALL * _LEADING)
        yield Text(TEXT, at, line, _SMALL, vertical="cap")
