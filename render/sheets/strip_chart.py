"""The strip chart: what every starter makes of the edges, so that one sees how wide the starter range is.

A column stands on each mark of the tape where the first butt line may lie. Up from the line: flush edges
filled, notches open on top of them. Down from it: slivers, filled and pointed. The chosen mark has an arrow
under it, the starter range a bracket over it; shapes tell all of it, colours only help.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.job import Job
from evencourse.layout.results.comparison import Candidate, StarterScores
from evencourse.render.drawing.drawing import Line, Mark, Path, Sheet, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import DIMENSION, FLUSH, NOTCH, SLIVER, STARTER, TEXT, TITLE, TITLE_THIN
from evencourse.render.drawing.placement import fitted
from evencourse.render.words.plan_words import cladding_words, show

#: The sheet's width, its margin, and where columns begin and end [mm].
WIDTH, MARGIN, LEFT, RIGHT = 280.0, 8.0, 14.0, 272.0
#: Heights of the heading, of a strip, of its tallest column up and down, and of the legend [mm].
HEAD, ROW, UP, DOWN, LEGEND = 18.0, 72.0, 26.0, 9.0, 10.0
#: Widest column, and the share of its place that it fills [mm].
_WIDEST, _FILLED = 9.0, 0.72
_SMALL, _LABEL, _TITLE = 2.5, 3.5, 5.0
#: What each sign of the legend means.
_MEANS = {
    "flush": noop("flush edges, with their number"),
    "notch": noop("notches"),
    "sliver": noop("slivers, with their number"),
    "chosen": noop("the plan's starter"),
    "good": noop("starters that meet the edges just as well"),
}


@dataclass(frozen=True)
class StripRow:
    """One strip of the chart.

    Attributes:
        title: whose it is: the siding, and its course set where there are several.
        strip: its scores.
    """

    title: str
    strip: StarterScores


def siding_words(one: Candidate) -> str:
    """The siding of a candidate: the labels of its claddings, from the first in the job."""
    return "; ".join(dict.fromkeys(cladding_words(cladding) for cladding in one.claddings.values()))


def strip_rows(ranked: Sequence[Candidate]) -> list[StripRow]:
    """The strips of all candidates whose starters are the planner's own, in their order.

    Strips of a course set whose siding is the same in several candidates are drawn once.
    """
    rows: list[StripRow] = []
    seen = set()
    for one in ranked:
        if one.starters:
            continue
        for strip in one.strips:
            course_set = one.plan.course_sets[strip.course_set]
            key = (strip.course_set, course_set.cladding.profile, strip)
            if key not in seen:
                seen.add(key)
                title = cladding_words(course_set.cladding)
                if len(one.plan.course_sets) > 1:
                    title = gettext("{siding}, courses {set}", siding=title, set=strip.course_set)
                rows.append(StripRow(title, strip))
    return rows


def strip_sheet(job: Job, rows: Sequence[StripRow]) -> Sheet:
    """The chart on a sheet of its own, one strip under another on one scale of heights.

    Args:
        job: for its name, its units and its tape.
        rows: at least one.
    """
    height = HEAD + ROW * len(rows) + LEGEND
    low = min(row.strip.starters[0] for row in rows)
    high = max(row.strip.starters[-1] for row in rows)
    most = max(_edges(row.strip, at) for row in rows for at in range(len(row.strip.starters)))
    slivers = max(score.slivers for row in rows for score in row.strip.scores)
    axis = _Axis(job, low, high, max(1, most), max(1, slivers))
    title = gettext("{job}: every starter", job=job.name or gettext("Job without a name"))
    marks: list[Mark] = [
        Text(TEXT, (MARGIN, height - 6), fitted(title, WIDTH - 2 * MARGIN, _TITLE, "bold"), _TITLE,
             vertical="cap", weight="bold"),
        Line(TITLE, (MARGIN, height - HEAD + 3), (WIDTH - MARGIN, height - HEAD + 3)),
    ]  # fmt: skip
    for index, row in enumerate(rows):
        marks += _row(axis, row, height - HEAD - ROW * index)
    marks += _legend(LEGEND - 3)
    return Sheet(title, (WIDTH, height), marks=tuple(marks))


def spot_words(strip: StarterScores, job: Job) -> str:
    """How wide the starter range is: ``starter -3' 5"; just as good from -3' 5-1/16" to -3' 4-15/16"``."""
    if strip.chosen is None or strip.good is None:
        low, high = show(job, strip.starters[0]), show(job, strip.starters[-1])
        return gettext("starter from {low} to {high}", low=low, high=high)
    own = show(job, strip.starters[strip.chosen])
    first, last = strip.good
    if first == last:
        return gettext("starter {starter}; no other mark is as good", starter=own)
    low, high = show(job, strip.starters[first]), show(job, strip.starters[last])
    return gettext("starter {starter}; just as good from {low} to {high}", starter=own, low=low, high=high)


@dataclass(frozen=True)
class _Axis:
    """Heights across the sheet, edges up it."""

    job: Job
    low: float
    high: float
    most: int
    slivers: int

    @property
    def place(self) -> float:
        """Width of one mark of the tape [mm]."""
        return min(_WIDEST, (RIGHT - LEFT) / (round((self.high - self.low) / self.job.round) + 1))

    def x(self, starter: float) -> float:
        """Middle of a starter's column [mm]."""
        return LEFT + self.place * ((starter - self.low) / self.job.round + 0.5)

    def up(self, edges: int) -> float:
        """Height of so many edges [mm]."""
        return UP * edges / self.most

    def down(self, edges: int) -> float:
        """Depth of so many slivers: on the scale of the edges where that can be seen [mm]."""
        return min(DOWN, max(1.6, DOWN * edges / self.slivers)) if edges else 0.0


def _edges(strip: StarterScores, at: int) -> int:
    score = strip.scores[at]
    return score.flush + score.notches


def _row(axis: _Axis, row: StripRow, top: float) -> Iterator[Mark]:
    strip, job = row.strip, axis.job
    base = top - 17 - UP
    note = spot_words(strip, job)
    room = WIDTH - 2 * MARGIN - 5 - text_width(note, _LABEL)
    yield Text(TEXT, (MARGIN, top - 2), fitted(row.title, room, _LABEL, "bold"), _LABEL, vertical="cap",
               weight="bold")  # fmt: skip
    yield Text(TEXT, (WIDTH - MARGIN, top - 2), note, _LABEL, "end", "cap")
    half = axis.place * _FILLED / 2
    ends = axis.x(strip.starters[0]) - axis.place / 2, axis.x(strip.starters[-1]) + axis.place / 2
    yield Line(TITLE_THIN, (ends[0], base), (ends[1], base))
    figures = axis.place >= text_width("00", _SMALL) + 0.6
    for at, starter in enumerate(strip.starters):
        x, score = axis.x(starter), strip.scores[at]
        flush, edges = base + axis.up(score.flush), base + axis.up(_edges(strip, at))
        if score.notches:
            yield Path(
                NOTCH, ((x - half, flush), (x + half, flush), (x + half, edges), (x - half, edges)), True
            )
        if score.flush:
            corners = ((x - half, base), (x + half, base), (x + half, flush), (x - half, flush))
            yield Path(FLUSH, corners, True, fill=FLUSH)
        deep = base - axis.down(score.slivers)
        if score.slivers:
            point = min(half, (base - deep) / 2)
            corners = ((x - half, base), (x - half, deep + point), (x, deep), (x + half, deep + point))
            yield Path(None, (*corners, (x + half, base)), True, fill=SLIVER)
        if figures or at == strip.chosen:
            yield Text(FLUSH, (x, edges + 1), str(score.flush), _SMALL, "middle", weight="bold")
            if score.slivers:
                yield Text(SLIVER, (x, deep - 1), str(score.slivers), _SMALL, "middle", "cap", weight="bold")
    foot = base - DOWN - 12
    yield from _heights(axis, strip, foot)
    if strip.chosen is not None and strip.good is not None:
        yield from _chosen(axis, strip, foot, base + UP + 6)


def _heights(axis: _Axis, strip: StarterScores, foot: float) -> Iterator[Mark]:
    """Heights under the columns: the chosen one, and of the others as many as have room."""
    job = axis.job
    free = -1e9
    own = None if strip.chosen is None else axis.x(strip.starters[strip.chosen])
    for at, starter in enumerate(strip.starters):
        words = show(job, starter)
        chosen = at == strip.chosen
        size = _LABEL if chosen else _SMALL
        x, half = axis.x(starter), text_width(words, size, "bold" if chosen else "regular") / 2
        beside = own is not None and not chosen and abs(x - own) < half + 1.5 + _own_half(strip, job)
        if (x - half < free and not chosen) or beside or x - half < MARGIN or x + half > WIDTH - MARGIN:
            continue
        if not chosen:
            yield Line(DIMENSION, (x, foot + 4.5), (x, foot + 3.2))
        yield Text(TEXT, (x, foot), words, size, "middle", weight="bold" if chosen else "regular")
        free = x + half + 3


def _own_half(strip: StarterScores, job: Job) -> float:
    chosen = strip.starters[strip.chosen] if strip.chosen is not None else 0.0
    return text_width(show(job, chosen), _LABEL, "bold") / 2


def _chosen(axis: _Axis, strip: StarterScores, foot: float, top: float) -> Iterator[Mark]:
    """The arrow under the chosen mark, the bracket over the starter range."""
    assert strip.chosen is not None and strip.good is not None
    x = axis.x(strip.starters[strip.chosen])
    yield Path(None, ((x - 1.6, foot + 4.5), (x + 1.6, foot + 4.5), (x, foot + 7.5)), True, fill=STARTER)
    left = axis.x(strip.starters[strip.good[0]]) - axis.place / 2
    right = axis.x(strip.starters[strip.good[1]]) + axis.place / 2
    yield Path(TITLE, ((left, top - 1.6), (left, top), (right, top), (right, top - 1.6)))


def _legend(y: float) -> Iterator[Mark]:
    x = MARGIN
    for kind, means in _MEANS.items():
        words = gettext(means)
        wide = 5.5 + text_width(words, _SMALL)
        if x + wide > WIDTH - MARGIN:
            x, y = MARGIN, y - 4.2
        box = ((x, y), (x + 4, y), (x + 4, y + 3), (x, y + 3))
        if kind == "flush":
            yield Path(FLUSH, box, True, fill=FLUSH)
        elif kind == "notch":
            yield Path(NOTCH, box, True)
        elif kind == "sliver":
            yield Path(None, ((x, y + 3), (x, y + 1.5), (x + 2, y), (x + 4, y + 1.5), (x + 4, y + 3)), True,
                       fill=SLIVER)  # fmt: skip
        elif kind == "chosen":
            yield Path(None, ((x + 0.4, y), (x + 3.6, y), (x + 2, y + 3)), True, fill=STARTER)
        else:
            yield Path(TITLE, ((x, y + 1), (x, y + 2.6), (x + 4, y + 2.6), (x + 4, y + 1)))
        yield Text(TEXT, (x + 5.5, y + 0.2), words, _SMALL)
        x += wide + 7
