"""Callouts at sloping edges: the slope triangle, the layout over the exposure, the saw's setting."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from layout.job import Job
from layout.plan import Rake
from render.drawing import Leader, Line, Mark, Point, Text
from render.fonts import ASCENT_RATIO, DESCENT_RATIO, LEADING_RATIO, text_width, wrap
from render.pens import DIMENSION, LEADER, NOTE
from render.placement import Box, Occupied
from render.words import layout_words, saw_words

_RUN = 9.0
_OFF = 2.6
_BIG, _SMALL = 3.5, 2.5
_WIDTHS = (44.0, 34.0, 58.0, 28.0)
_SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)


@dataclass(frozen=True)
class Callout:
    """A placed callout.

    Attributes:
        marks: what is drawn.
        box: what it covers.
    """

    marks: tuple[Mark, ...]
    box: Box


def rake_lines(rake: Rake, job: Job, width: float) -> tuple[tuple[str, float], ...]:
    """The lines of a callout with their lettering heights [mm]."""
    found: list[tuple[str, float]] = []
    for exposure, run in rake.layouts:
        found += [(line, _BIG) for line in wrap(layout_words(job, exposure, run), width, _BIG, "bold")]
    found += [(line, _SMALL) for line in wrap(saw_words(rake), width, _SMALL)]
    return tuple(found)


def rake_callout(rake: Rake, job: Job, mm: float, taken: Occupied, room: Box) -> Callout | None:
    """A rake's callout outside the wall, beside its slope; None when there is no place for it.

    Args:
        rake: the sloping edge.
        job: for units.
        mm: drawing units in one millimetre of paper.
        taken: what is occupied; the wall must be among its shapes. The callout is added.
        room: it stays inside this.
    """
    # The words go to the outer side of the triangle: away from the wall.
    outward = -1.0 if (rake.end[0] > rake.start[0]) == (rake.side == "top") else 1.0
    for width in _WIDTHS:
        lines = rake_lines(rake, job, width)
        wide = max(text_width(text, size, "bold" if size == _BIG else "regular") for text, size in lines) * mm
        tall = sum(size * LEADING_RATIO for _, size in lines) * mm
        for marks, box in _triangles(rake, mm, taken, room):
            for x, y in _places(box, wide, tall, outward, mm):
                wanted = Box(x, y, x + wide, y + tall)
                if wanted.inside(room) and taken.free(wanted, 0.8 * mm):
                    taken.take(box, wanted)
                    text = tuple(_set(lines, wanted, mm, outward))
                    return Callout((*marks, *_tie(box, wanted, mm), *text), box.joined(wanted))
    return None


def _triangles(rake: Rake, mm: float, taken: Occupied, room: Box) -> Iterator[tuple[tuple[Mark, ...], Box]]:
    """The slope triangle, its long side parallel to the rake, wherever along it there is room."""
    rise = _RUN * rake.pitch / 12
    run = _RUN if rise <= 1.6 * _RUN else _RUN * 1.6 * _RUN / rise
    rise = run * rake.pitch / 12
    up = 1.0 if rake.side == "top" else -1.0
    right = 1.0 if rake.end[0] > rake.start[0] else -1.0
    tilt = (run * run + rise * rise) ** 0.5
    off = (-right * rise / tilt * _OFF * up * mm, run / tilt * _OFF * up * mm)
    number = f"{rake.pitch:.2f}".rstrip("0").rstrip(".")
    for share in _SHARES:
        x = rake.start[0] + (rake.end[0] - rake.start[0]) * share + off[0]
        y = rake.start[1] + (rake.end[1] - rake.start[1]) * share + off[1]
        low = (x - right * run / 2 * mm, y - rise / 2 * mm)
        high = (x + right * run / 2 * mm, y + rise / 2 * mm)
        # The corner of the triangle lies outside: over the lower end of a top, under the upper end of a base.
        corner = (low[0], high[1]) if up > 0 else (high[0], low[1])
        level = corner[1] + up * 1.0 * mm if up > 0 else corner[1] - (1.0 + _SMALL) * mm
        side = -right if up > 0 else right
        beside = corner[0] + side * 1.0 * mm
        wide = text_width(number, _SMALL) * mm
        left = beside - wide if side < 0 else beside
        pair = (Text(DIMENSION, ((low[0] + high[0]) / 2, level), "12", _SMALL, "middle"),
                Text(DIMENSION, (beside, (low[1] + high[1]) / 2), number, _SMALL,
                     "end" if side < 0 else "start", "middle"))  # fmt: skip
        box = Box(
            min(low[0], high[0], left) - 0.3 * mm,
            min(low[1], level - DESCENT_RATIO * 0.2 * mm),
            max(low[0], high[0], left + wide) + 0.3 * mm,
            max(high[1], level + ASCENT_RATIO * _SMALL * mm),
        )
        triangle = (low, high, corner)
        if not box.inside(room) or any(box.grown(0.5 * mm).meets(other) for other in taken.boxes):
            continue
        lines = tuple(
            Line(DIMENSION, a, b) for a, b in zip(triangle, (*triangle[1:], triangle[0]), strict=True)
        )
        yield (*lines, *pair), box


def _places(box: Box, wide: float, tall: float, outward: float, mm: float) -> Iterator[Point]:
    gap = 2.0 * mm
    beside = box.left - gap - wide if outward < 0 else box.right + gap
    yield beside, (box.bottom + box.top - tall) / 2
    yield beside, box.top - tall
    yield beside, box.bottom
    for step in range(1, 8):
        yield beside, box.bottom + step * 3 * mm
    over = box.left if outward > 0 else box.right - wide
    yield over, box.top + gap
    yield over, box.bottom - gap - tall
    for step in range(1, 10):
        yield beside + outward * step * 4 * mm, (box.bottom + box.top - tall) / 2
        yield over, box.top + gap + step * 3 * mm
        yield over, box.bottom - gap - tall - step * 3 * mm


def _set(lines: Sequence[tuple[str, float]], box: Box, mm: float, outward: float) -> Iterator[Mark]:
    y = box.top
    at, end = (box.right, "end") if outward < 0 else (box.left, "start")
    for text, size in lines:
        y -= size * LEADING_RATIO * mm
        base = y + size * (LEADING_RATIO - 1) / 2 * mm
        yield Text(
            NOTE, (at, base), text, size, "end" if end == "end" else "start",
            weight="bold" if size == _BIG else "regular",
        )  # fmt: skip


def _tie(triangle: Box, words: Box, mm: float) -> Iterator[Mark]:
    """A leader when the words had to go far from their triangle."""
    x = min(max((triangle.left + triangle.right) / 2, words.left), words.right)
    y = min(max((triangle.bottom + triangle.top) / 2, words.bottom), words.top)
    near = (min(max(x, triangle.left), triangle.right), min(max(y, triangle.bottom), triangle.top))
    if ((near[0] - x) ** 2 + (near[1] - y) ** 2) ** 0.5 > 4.0 * mm:
        yield Leader(LEADER, (near, (x, y)))
