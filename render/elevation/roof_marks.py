"""Roofs, decks and ledgers on an elevation: the band that they leave out, and their marks."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil

from evencourse.layout.model.course_plan import ElevationPlan
from evencourse.layout.model.geometry import height_of
from evencourse.layout.model.job import Job
from evencourse.layout.model.roof import Roof
from evencourse.render.drawing.drawing import Block, Mark, Path, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import PAPER, ROOF, TEXT
from evencourse.render.drawing.placement import Box, Occupied, box_of
from evencourse.render.elevation.openings import beside
from evencourse.render.words.plan_words import show

_HEIGHT, _AIR = 2.5, 0.2
#: Where along its line a mark is tried.
_SHARES = (0.5, 0.3, 0.7, 0.15, 0.85)
#: Rise of the steps that a slope is taken in [mm], and most of them.
_RISE, _STEPS = 1.5, 80


def roof_bands(face: ElevationPlan) -> Iterator[Path]:
    """The band of every roof, deck and ledger against a face."""
    for roof in face.elevation.roofs:
        yield Path(ROOF, roof.outline(), closed=True, fill=PAPER, facts=(("roof", roof.mark),))


def roof_boxes(face: ElevationPlan, mm: float) -> Iterator[Box]:
    """What roofs, decks and ledgers occupy of a face, stretch by stretch, sloping ones in steps.

    Args:
        face: whose.
        mm: drawing units in one millimetre of paper.
    """
    for roof in face.elevation.roofs:
        for (x0, y0), (x1, y1) in pairwise(roof.line):
            steps = min(_STEPS, max(1, ceil(abs(y1 - y0) / (_RISE * mm))))
            for step in range(steps):
                xs, ys = (
                    sorted(a + (b - a) * at / steps for at in (step, step + 1))
                    for a, b in ((x0, x1), (y0, y1))
                )
                yield Box(xs[0], ys[0] - roof.depth, xs[1], ys[1])


def roof_blocks(
    job: Job, face: ElevationPlan, mm: float, taken: Occupied, window: Box | None = None
) -> Iterator[Mark]:
    """Every roof, deck and ledger as a block with attributes, its mark in its band or beside it.

    Args:
        job: for units.
        face: whose.
        mm: drawing units in one millimetre of paper.
        taken: occupied boxes, those of the roofs among them; marks are added.
        window: what is shown of the wall [job units]; None for all.
    """
    for roof, band in zip(face.elevation.roofs, roof_bands(face), strict=True):
        box = box_of(band.points)
        if window is not None and not window.meets(box):
            continue
        text = _mark(roof, mm, window)
        yield Block(
            f"{roof.kind} {face.elevation.name} {roof.mark}",
            roof.line[0],
            (band, text) if text else (band,),
            (
                ("MARK", roof.mark),
                ("KIND", roof.kind),
                ("SIZE", f"{show(job, roof.right - roof.left)} x {show(job, roof.depth)}"),
            ),
        )
        if text is None:
            yield from beside(roof.mark, box, mm, taken, window)


def _mark(roof: Roof, mm: float, window: Box | None) -> Text | None:
    """The mark in the band where it has room."""
    wide = text_width(roof.mark, _HEIGHT, "bold") * mm
    for share in _SHARES if wide <= roof.right - roof.left else ():
        x = roof.left + share * (roof.right - roof.left)
        ends = [height_of(roof.line, at) for at in (x - wide / 2, x, x + wide / 2)]
        low, high = max(ends) - roof.depth, min(ends)
        at = (x, (low + high) / 2)
        box = Box(x - wide / 2, at[1] - _HEIGHT / 2 * mm, x + wide / 2, at[1] + _HEIGHT / 2 * mm)
        if high - low >= (_HEIGHT + 2 * _AIR) * mm and (window is None or box.inside(window)):
            return Text(TEXT, at, roof.mark, _HEIGHT, "middle", "middle", weight="bold")
    return None
