"""The sheets of one face: the drawing at the largest scale that fits, notes below it, the foot strip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from layout.cautions import GENERAL
from layout.plan import ElevationPlan, Plan
from render.drawing import Line, Mark, Sheet, Text, View
from render.elevation import COLUMN_WIDTHS, Placed, place
from render.fonts import wrap
from render.footstrip import HEIGHT, Foot, foot_strip
from render.papers import Scale, paper, scales
from render.pens import GREY_RULE, NOTE, TITLE_THIN
from render.placement import Box, fitted
from render.siding import extent
from render.words import given_up, joined_words, missed_words, on_tape, show

#: Lettering and leading of the notes, the air round them, and the most lines that they take [mm, mm, mm].
_NOTE, _LEADING, _AIR, _MOST = 2.5, 4.2, 2.5, 7
#: How far a match line keeps off an opening, as a share of the wall's width.
_CLEAR = 0.01
#: Most parts that a face is cut into, side by side.
_PARTS = 8


@dataclass(frozen=True)
class _Part:
    placed: Placed
    window: Box | None


def job_sheets(plan: Plan, paper_name: str, date: str | None = None) -> tuple[tuple[Sheet, ...], ...]:
    """The sheets of every face of a job, numbered through.

    Args:
        plan: the plan.
        paper_name: a paper of ``render.papers``.
        date: ISO date to print; None for none.

    Returns:
        For every face its sheets, in the order of the job: one when a standard scale fits at which every
        label can be read; else the face in as few parts, side by side, as can be read, joined at match lines.

    Raises:
        render.papers.PaperError: no such paper.
    """
    fitted_ = [(face, *_fit(plan, face, _room(plan, face, paper_name))) for face in plan.elevations]
    count = sum(len(parts) for _, _, parts in fitted_)
    first, found = 1, []
    for face, scale, parts in fitted_:
        found.append(tuple(_sheets(plan, face, scale, parts, (first, count), paper_name, date)))
        first += len(parts)
    return tuple(found)


def elevation_sheets(
    plan: Plan, face: ElevationPlan, paper_name: str, date: str | None = None
) -> tuple[Sheet, ...]:
    """The sheets of one face, as numbered in :func:`job_sheets`."""
    return job_sheets(plan, paper_name, date)[plan.elevations.index(face)]


def _sheets(
    plan: Plan,
    face: ElevationPlan,
    scale: Scale,
    parts: Sequence[_Part],
    numbers: tuple[int, int],
    paper_name: str,
    date: str | None,
) -> Iterator[Sheet]:
    sheet = paper(paper_name)
    frame, room = Box(*sheet.frame), _room(plan, face, paper_name)
    notes = _notes(plan, face, frame.width)
    sets = tuple(plan.course_sets[zone.course_set] for zone in face.zones)
    for index, part in enumerate(parts):
        name = f"part {index + 1} of {len(parts)}" if len(parts) > 1 else ""
        strip = Foot(face.elevation.name, scale, numbers[0] + index, numbers[1], name, date)
        box = part.placed.box
        at = (
            room.left + (room.width - box.width) / 2 - box.left,
            room.bottom + (room.height - box.height) / 2 - box.bottom,
        )
        views = _views(plan, part, scale, at, frame)
        marks: list[Mark] = [*notes.marks(frame.bottom + HEIGHT), *foot_strip(plan, sets, strip, frame)]
        marks += _match_lines(plan, part, views[0], numbers[0] + index, index, len(parts))
        title = f"{face.elevation.name}, {name}" if name else face.elevation.name
        yield Sheet(title, sheet.size, views, tuple(marks))


def _room(plan: Plan, face: ElevationPlan, paper_name: str) -> Box:
    """What the drawing may take, above the notes and the foot strip [mm]."""
    frame = Box(*paper(paper_name).frame)
    notes = _notes(plan, face, frame.width)
    return Box(frame.left, frame.bottom + HEIGHT + notes.height + _AIR, frame.right, frame.top)


def drawing_scale(plan: Plan, face: ElevationPlan, paper_name: str) -> Scale:
    """The scale that the sheets of a face are drawn to."""
    return _fit(plan, face, _room(plan, face, paper_name))[0]


def _fit(plan: Plan, face: ElevationPlan, room: Box) -> tuple[Scale, tuple[_Part, ...]]:
    """The fewest parts, and for them the largest scale, at which everything can be read."""
    standard = scales(plan.job.units)
    whole = extent(plan, face)
    for count in range(1, _PARTS + 1):
        windows = _windows(face, whole, count)
        for scale in standard:
            parts = [_placed(plan, face, scale, window, room) for window in windows]
            if parts and all(part is not None for part in parts):
                return scale, tuple(part for part in parts if part is not None)
    scale = standard[-1]
    width = COLUMN_WIDTHS[0]
    return scale, (_Part(place(plan, face, scale.factor, width, room.height), None),)


def _windows(face: ElevationPlan, whole: Box, count: int) -> Sequence[Box | None]:
    if count == 1:
        return (None,)
    cuts = [whole.left, *(_cut(face, whole, k / count) for k in range(1, count)), whole.right]
    if any(right - left < 1e-6 for left, right in pairwise(cuts)):
        return ()
    return tuple(Box(left, whole.bottom, right, whole.top) for left, right in pairwise(cuts))


def _cut(face: ElevationPlan, whole: Box, share: float) -> float:
    """Where a match line runs: near its share of the width, through no opening and no fixture."""
    wanted = whole.left + share * whole.width
    things = [
        (min(x for x, _ in hole.trimmed()), max(x for x, _ in hole.trimmed()))
        for hole in face.elevation.openings
    ]
    things += [(item.left, item.right) for item in face.elevation.fixtures]
    free = [
        wanted,
        *(low - _CLEAR * whole.width for low, _ in things),
        *(high + _CLEAR * whole.width for _, high in things),
    ]
    clear = [
        x for x in free if whole.left < x < whole.right and not any(low < x < high for low, high in things)
    ]
    return min(clear, key=lambda x: (abs(x - wanted), x), default=wanted)


def _placed(plan: Plan, face: ElevationPlan, scale: Scale, window: Box | None, room: Box) -> _Part | None:
    unit = scale.factor * (25.4 if plan.job.units == "in" else 1.0)
    part = window or extent(plan, face)
    if part.height * unit > room.height or part.width * unit > room.width:
        return None
    for width in COLUMN_WIDTHS:
        placed = place(plan, face, scale.factor, width, room.height, window)
        inside = placed.box.width <= room.width + 1e-6 and placed.box.height <= room.height + 1e-6
        if inside and placed.legible and placed.fits:
            return _Part(placed, window)
    return None


def _views(plan: Plan, part: _Part, scale: Scale, at: tuple[float, float], frame: Box) -> tuple[View, View]:
    whole = (frame.left, frame.bottom, frame.right, frame.top)
    window = whole
    if part.window is not None:
        factor = scale.factor * (25.4 if plan.job.units == "in" else 1.0)
        window = (
            at[0] + part.window.left * factor,
            frame.bottom,
            at[0] + part.window.right * factor,
            frame.top,
        )
    return (
        View(part.placed.wall, scale.factor, at, window),
        View(part.placed.around, scale.factor, at, whole),
    )


def _match_lines(plan: Plan, part: _Part, view: View, number: int, index: int, count: int) -> Iterator[Mark]:
    """Where a face goes on on another sheet."""
    if part.window is None:
        return
    low = view.to_paper((0, part.window.bottom))[1] - 2.0
    high = view.to_paper((0, part.window.top))[1] + 5.0
    for x, step in ((part.window.left, -1), (part.window.right, 1)):
        if 0 <= index + step < count:
            at = view.to_paper((x, 0))[0]
            yield Line(GREY_RULE, (at, low), (at, high))
            words = (
                f"{show(plan.job, on_tape(plan.job, x))} from the left, continues on sheet {number + step}"
            )
            side: Literal["start", "end"] = "end" if step > 0 else "start"
            yield Text(NOTE, (at, high + 1.0), words, _NOTE, side)


@dataclass(frozen=True)
class _Notes:
    """Notes in two columns: what was given up, and the cautions."""

    left: tuple[str, ...]
    right: tuple[str, ...]
    frame_left: float
    split: float
    frame_right: float

    @property
    def height(self) -> float:
        return max(len(self.left), len(self.right)) * _LEADING + 2 * _AIR

    def marks(self, bottom: float) -> Iterator[Mark]:
        top = bottom + self.height
        yield Line(TITLE_THIN, (self.frame_left, top), (self.frame_right, top))
        for x, lines in ((self.frame_left, self.left), (self.split, self.right)):
            y = top - _AIR
            for number, line in enumerate(lines):
                yield Text(NOTE, (x, y), line, _NOTE, vertical="cap", weight="regular" if number else "bold")
                y -= _LEADING


def _notes(plan: Plan, face: ElevationPlan, width: float) -> _Notes:
    left = 10.0
    half = width * 0.5
    most = _MOST
    given = [f"{joined_words(edges, plan)}: {why}" for edges, why in given_up(face, plan)]
    names = {zone.course_set for zone in face.zones}
    missed = [
        missed_words(limit, plan.job)
        for name, course_set in plan.course_sets.items()
        if name in names
        for limit in course_set.missed
    ]
    first = [*missed, *given] or ["Nothing: every edge that counts is flush."]
    lines = ["Given up, worst first"]
    for index, text in enumerate(first):
        wrapped = wrap(text, half - 6.0, _NOTE)
        if len(lines) + len(wrapped) > most:
            lines.append(f"and {len(first) - index} more: evencourse plan lists them")
            break
        lines += wrapped
    cautions = " ".join([*face.cautions, *GENERAL])
    right = ["Cautions", *wrap(cautions, half, _NOTE)]
    if len(right) > most + 2:
        right = [*right[: most + 1], fitted(" ".join(right[most + 1 :]), half, _NOTE)]
    return _Notes(tuple(lines), tuple(right), left, left + width - half, left + width)
