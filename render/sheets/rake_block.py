"""The rakes of a job in small: for every slope its triangle, its layout, who needs it; what is said of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial, reduce
from typing import Literal

from evencourse.layout.courses.rake_cut import RakeCut, rake_cuts
from evencourse.layout.language.speech import decimals, gettext, noop
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Job
from evencourse.layout.pieces.seam_rules import end_gap
from evencourse.render.drawing.drawing import Line, Mark, Text, Weight
from evencourse.render.drawing.fonts import text_width, wrap
from evencourse.render.drawing.pens import DIMENSION, OUTLINE, STARTER, TEXT, TITLE_THIN
from evencourse.render.drawing.placement import fitted
from evencourse.render.drawing.text_lines import clear_leading
from evencourse.render.sheets.flow import ColumnItem, column_marks
from evencourse.render.words.plan_words import (
    cladding_words,
    layout_words,
    measured,
    pitch_words,
    rake_side,
    saw_words,
    show,
    square_words,
)
from evencourse.render.words.rake_words import layout_courses

_HEADING, _FIGURE, _SMALL = 3.5, 5.0, 2.5
#: Run of the triangle and its greatest rise [mm].
_RUN, _RISE = 30.0, 26.0
#: From line to line, for lettering of height 1; a column as wide as this has room beside the triangle [mm].
_LEADING, _WIDE = 1.5, 110.0
#: Above the heading, and around the triangle [mm].
_OVER, _AIR = 2.6, 2.5
#: Where both ends of courses are cut, below a gable and over a lower roof.
_BOTH = {
    "top": noop("Left and right end cut, long point at the butt"),
    "base": noop("Left and right end cut, long point at the top"),
}
#: More exposures than this are shown in small lettering, or told in short.
FEW = 3

#: Below a gable or over a lower roof, and at which end.
Way = tuple[Literal["top", "base"], Literal["left", "right"]]
#: A paragraph: its text, the height of its lettering [mm], its weight.
Said = tuple[str, float, Weight]
#: Each kind of cut: which end is cut, where the long point is, how the template lies.
WAYS: dict[Way, tuple[str, str]] = {
    ("top", "left"): (noop("Left end cut, long point at the butt"), noop("template face down")),
    ("top", "right"): (noop("Right end cut, long point at the butt"), noop("template as printed")),
    ("base", "left"): (noop("Left end cut, long point at the top"), noop("template turned half round")),
    ("base", "right"): (
        noop("Right end cut, long point at the top"),
        noop("template face down and turned half round"),
    ),
}


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
    name, size = gettext("Rake {pitch}", pitch=pitch_words(cut)), _OVER + _HEADING + 2.4
    head = ColumnItem(size, partial(_heading, name, width), heading=True)
    again = (ColumnItem(size, partial(_heading, gettext("{heading}, continued", heading=name), width)),)
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
    angle = fitted(gettext("{angle}° from level", angle=decimals(f"{cut.angle:.1f}")), width, _SMALL)
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
    return text_width(rise_words(cut), _SMALL, "bold") + 3.0 + _RUN


def _triangle(
    cut: RakeCut, beside: Sequence[ColumnItem], beside_left: float, left: float, top: float
) -> Iterator[Mark]:
    """The slope triangle with its two numbers, and what stands beside it."""
    run, rise = _RUN, _RUN * cut.pitch / 12
    if rise > _RISE:
        run, rise = run * _RISE / rise, _RISE
    number = rise_words(cut)
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
    found: dict[tuple[Way, str], list[str]] = {}
    for use in cut.uses:
        sizes = gettext(
            "{length} along the rake, run {run}, rise {rise}",
            length=show(job, use.rake.rake_length),
            run=show(job, use.run),
            rise=show(job, use.rise),
        )
        found.setdefault(((use.rake.side, use.rake.hand), sizes), []).append(use.face)
    told: dict[tuple[str, str], list[Way]] = {}
    for (way, sizes), faces in found.items():
        where = gettext("{faces}, {sizes}.", faces=", ".join(_counted(faces)), sizes=sizes)
        told.setdefault((way[0], where), []).append(way)
    return [
        gettext(
            "{cut}: {where}", cut=gettext(WAYS[ways[0]][0] if len(ways) == 1 else _BOTH[side]), where=where
        )
        for (side, where), ways in told.items()
    ]


def _counted(faces: Sequence[str]) -> Iterator[str]:
    for face in dict.fromkeys(faces):
        many = faces.count(face)
        yield gettext("{face} ({count} of them)", face=face, count=many) if many > 1 else face


def _indented(item: ColumnItem, by: float, left: float, top: float) -> Iterable[Mark]:
    return item.draw(left + by, top)


def _paragraphs(texts: Sequence[str], width: float) -> Iterator[ColumnItem]:
    for text in texts:
        lines = wrap(text, width, _SMALL)
        tall = len(lines) * _SMALL * clear_leading(lines, _LEADING) + 0.6
        yield ColumnItem(tall, partial(_lines, tuple(lines)))


def _lines(lines: Sequence[str], left: float, top: float) -> Iterator[Mark]:
    for index, line in enumerate(lines):
        at = (left, top - 0.6 - index * _SMALL * clear_leading(lines, _LEADING))
        yield Text(TEXT, at, line, _SMALL, vertical="cap")


def rise_words(cut: RakeCut) -> str:
    """The rise of a slope over a run of 12, as it stands at its triangle."""
    return decimals(f"{cut.pitch:.2f}".rstrip("0").rstrip("."))


def rake_said(job: Job, cut: RakeCut, label: float) -> tuple[Said, ...]:
    """What follows from a layout; ``label``: height of its lettering [mm]."""
    if cut.past_saw:
        miter = gettext("Miter: {setting}: mark the layout.", setting=saw_words(cut))
    else:
        miter = gettext("Miter: {setting}.", setting=saw_words(cut))
    return (
        (_change_line(job, cut), label, "regular"),
        (miter, label, "bold" if cut.past_saw else "regular"),
        (_square_line(job, cut), label, "regular"),
    )


def _change_line(job: Job, cut: RakeCut) -> str:
    """How the length of a course differs from that of the one below."""
    sides = {use.rake.side for use in cut.uses}
    overs = list(dict.fromkeys(square_words(job, over) for _, over in cut.layouts))
    lengths = reduce(
        lambda some, one: gettext("{lengths} or {length}", lengths=some, length=one), overs[: FEW + 1]
    )
    if len(overs) > FEW + 1:
        lengths = gettext("{lengths} and so on, as far as it runs over,", lengths=lengths)
    if sides == {"base"}:
        return gettext(
            "Each course is {lengths} longer than the one below, at each raked end.", lengths=lengths
        )
    if len(sides) == 1:
        return gettext(
            "Each course is {lengths} shorter than the one below, at each raked end.", lengths=lengths
        )
    bases = (use.rake for use in cut.uses if use.rake.side == "base")
    places = dict.fromkeys(rake_side(rake) if rake.roof else gettext("at a base") for rake in bases)
    return gettext(
        "Each course is {lengths} shorter than the one below (longer {places}), at each raked end.",
        lengths=lengths,
        places=_both(list(places)),
    )


def _both(names: Sequence[str]) -> str:
    """All of them in a sentence: ``double 4 in panel and shingle``."""
    return reduce(lambda some, one: gettext("{names} and {name}", names=some, name=one), names)


def _square_line(job: Job, cut: RakeCut) -> str:
    """The framing square's figure for the slope."""
    if job.units == "mm":
        length = f"{1000 * cut.per_run:.0f}"
        return gettext("Length along the rake: {length} mm for 1000 mm of run.", length=length)
    return gettext(
        "Framing square, length of common rafter per foot of run: {figure}.",
        figure=decimals(f"{12 * cut.per_run:.2f}"),
    )


def gap_lines(plan: Plan, cut: RakeCut) -> Iterator[str]:
    """What is left open at the cut, and how it is measured."""
    job = plan.job
    gaps: dict[str, set[str]] = {}
    clear: dict[str, set[str]] = {}
    for use in cut.uses:
        for cladding in use.claddings:
            gaps.setdefault(measured(job, end_gap(job, cladding)), set()).add(cladding_words(cladding))
            if use.rake.side == "base":
                clear.setdefault(measured(job, cladding.roof_clearance), set()).add(cladding_words(cladding))

    def said(found: dict[str, set[str]]) -> str:
        if len(found) == 1:
            return next(iter(found))
        return ", ".join(
            gettext("{length} for {claddings}", length=size, claddings=_both(sorted(names)))
            for size, names in found.items()
        )

    yield gettext("Gap at the cut: {gap}, measured level along the wall, not across the cut.", gap=said(gaps))
    if clear:
        yield gettext(
            "Over a lower roof: {gap} clear of it, measured plumb; the step flashing goes up behind.",
            gap=said(clear),
        )
    boards = (one.family == "lap" for use in cut.uses if use.rake.side == "base" for one in use.claddings)
    if any(boards):
        yield gettext("Boards over it: the cut list gives the same slope over the full board, lap included.")
