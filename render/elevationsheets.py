"""The sheets of one face: the drawing at the largest scale that fits, notes below it, the foot strip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

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
from render.words import given_up, joined_words, missed_words

#: Lettering and leading of the notes, the air round them, and the most lines that they take [mm, mm, mm].
_NOTE, _LEADING, _AIR, _MOST = 2.5, 4.2, 2.5, 7
#: Most parts that a face is cut into, side by side.
_PARTS = 8


@dataclass(frozen=True)
class _Part:
    placed: Placed
    window: Box | None


def elevation_sheets(
    plan: Plan, face: ElevationPlan, paper_name: str = "tabloid", date: str | None = None
) -> tuple[Sheet, ...]:
    """The sheets of one face.

    Args:
        plan: the plan.
        face: one of its faces.
        paper_name: a paper of ``render.papers``.
        date: ISO date to print; None for none.

    Returns:
        One sheet when a standard scale fits at which every label can be read; else the face in as few parts,
        side by side, as can be read, joined at match lines.

    Raises:
        render.papers.PaperError: no such paper.
    """
    sheet = paper(paper_name)
    frame = Box(*sheet.frame)
    notes = _notes(plan, face, frame.width)
    foot = frame.bottom + HEIGHT + notes.height
    room = Box(frame.left, foot + _AIR, frame.right, frame.top)
    scale, parts = _fit(plan, face, room)
    sets = tuple(plan.course_sets[zone.course_set] for zone in face.zones)
    sheets = []
    for number, part in enumerate(parts, start=1):
        name = f"part {number} of {len(parts)}" if len(parts) > 1 else ""
        strip = Foot(face.elevation.name, scale, number, len(parts), name, date)
        box = part.placed.box
        at = (
            room.left + (room.width - box.width) / 2 - box.left,
            room.bottom + (room.height - box.height) / 2 - box.bottom,
        )
        views = _views(plan, part, scale, at, frame)
        marks: list[Mark] = [*notes.marks(frame.bottom + HEIGHT), *foot_strip(plan, sets, strip, frame)]
        title = f"{face.elevation.name}, {name}" if name else face.elevation.name
        marks += _match_lines(part, views[0], number, len(parts))
        sheets.append(Sheet(title, sheet.size, views, tuple(marks)))
    return tuple(sheets)


def drawing_scale(plan: Plan, face: ElevationPlan, paper_name: str = "tabloid") -> Scale:
    """The scale that the sheets of a face are drawn to."""
    sheet = paper(paper_name)
    frame = Box(*sheet.frame)
    notes = _notes(plan, face, frame.width)
    room = Box(frame.left, frame.bottom + HEIGHT + notes.height + _AIR, frame.right, frame.top)
    return _fit(plan, face, room)[0]


def _fit(plan: Plan, face: ElevationPlan, room: Box) -> tuple[Scale, tuple[_Part, ...]]:
    """The fewest parts, and for them the largest scale, at which everything can be read."""
    standard = scales(plan.job.units)
    whole = extent(plan, face)
    for count in range(1, _PARTS + 1):
        windows = _windows(whole, count)
        for scale in standard:
            parts = [_placed(plan, face, scale, window, room) for window in windows]
            if all(part is not None for part in parts):
                return scale, tuple(part for part in parts if part is not None)
    scale = standard[-1]
    width = COLUMN_WIDTHS[0]
    return scale, (_Part(place(plan, face, scale.factor, width, room.height), None),)


def _windows(whole: Box, count: int) -> Sequence[Box | None]:
    if count == 1:
        return (None,)
    step = whole.width / count
    return tuple(
        Box(whole.left + k * step, whole.bottom, whole.left + (k + 1) * step, whole.top) for k in range(count)
    )


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


def _match_lines(part: _Part, view: View, number: int, count: int) -> Iterator[Mark]:
    """Where a face goes on on another sheet."""
    if part.window is None:
        return
    low = view.to_paper((0, part.window.bottom))[1] - 2.0
    high = view.to_paper((0, part.window.top))[1] + 5.0
    for x, other in ((part.window.left, number - 1), (part.window.right, number + 1)):
        if 1 <= other <= count:
            at = view.to_paper((x, 0))[0]
            yield Line(GREY_RULE, (at, low), (at, high))
            yield Text(NOTE, (at, high + 1.0), f"goes on on sheet {other}", _NOTE, "middle")


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
                weight = "bold" if number == 0 else "regular"
                yield Text(NOTE, (x, y), line, _NOTE, vertical="cap", weight=weight)
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
