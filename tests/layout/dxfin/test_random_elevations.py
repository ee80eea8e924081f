"""Elevations on layer 0, rolled: every opening is found as it was drawn, whatever lies round it and in it.

Oracle: the drawing's own measures. A wall with or without a gable, of single lines or a polyline, the ground
below it; windows, doors and garage doors, with trim of 3 to 5-1/2 in or none, with rails, muntins, sashes,
panels.
"""

from __future__ import annotations

import random
from typing import Any

import pytest

from tests.layout.dxfin.drawings import box, drawing, lines, outline, read, sides
from tests.layout.dxfin.manners import Box, at, cased

#: Rolled at once, in the quick suite and in the long one.
FEW, MANY = 40, 600


def inside(space: Any, chance: random.Random, kind: str, one: Box) -> None:
    """A sash in a window, panels in a door."""
    x, y, w, h = one
    if kind == "window" and chance.random() < 0.4:
        wide = chance.choice((1.5, 2))
        outline(space, box(x + wide, y + wide, w - 2 * wide, h - 2 * wide), "0")
    panels: list[Box] = []
    if kind == "door":
        one_lite: list[Box] = [(5, 10, w - 10, h - 20)]
        six: list[Box] = [(4 + i * (w / 2 - 3), 6 + j * 24, w / 2 - 6, 20) for i in (0, 1) for j in (0, 1, 2)]
        panels = chance.choice(([], one_lite, six))
    elif kind == "garage door" and chance.random() < 0.6:
        step = (w - 3) / round(w / 48)
        panels = [(3 + i * step, 3 + j * 20.5, step - 3, 17) for i in range(round(w / 48)) for j in range(4)]
    for left, low, wide, high in panels:
        outline(space, box(x + left, y + low, wide, high), "0")


def elevation(chance: random.Random) -> tuple[Any, tuple[float, float], list[Box]]:
    """A drawing, its wall's width and height, and its openings."""
    document = drawing()
    space = document.modelspace()
    width, eave = chance.choice((360, 480, 600)), chance.choice((100, 108, 216))
    gabled = chance.random() < 0.4
    top = eave + width / 3 if gabled else float(eave)
    ring = [(0.0, 0.0), (width, 0.0), (width, eave), *([(width / 2, top)] if gabled else []), (0.0, eave)]
    if chance.random() < 0.5:
        outline(space, ring, "0")
    else:
        lines(space, sides(ring), "0")
    if chance.random() < 0.3:
        space.add_line((-40, chance.choice((0, -8))), (width + 40, chance.choice((0, -8, -20))))
    openings: list[Box] = []
    x = float(chance.choice((12, 20, 30)))
    while True:
        kind = chance.choice(("window", "window", "window", "window", "door", "garage door"))
        trim = chance.choice((0, 3, 3.5, 4.5, 5.5))
        y, w, h = {
            "window": (
                chance.choice((20, 30, 36)),
                chance.choice((24, 30, 48, 72)),
                chance.choice((24, 36, 54)),
            ),
            "door": (0, chance.choice((32, 36, 72)), 80),
            "garage door": (0, chance.choice((96, 108, 192)), 84),
        }[kind]
        if x + w + trim > width - 12:
            return document, (width, top), openings
        if y + h + trim > eave - 4:
            x += 5
            continue
        bars = chance.choice(("", "rail", "muntins")) if kind == "window" else ""
        if trim:
            cased(space, (x, y, w, h), bars, trim)
        else:
            lines(space, sides(at((0, 0), (x, y, w, h))), "0")
        if not bars:
            inside(space, chance, kind, (x, y, w, h))
        openings.append((x, y, w, h))
        x += w + 2 * trim + chance.choice((8, 14, 24, 40))


def check(seeds: range) -> None:
    for seed in seeds:
        document, size, openings = elevation(random.Random(seed))
        if not openings:
            continue
        (face,) = read(document, make_job=False).understood.elevations
        xs, ys = [x for x, _ in face.outline], [y for _, y in face.outline]
        assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx(size, abs=0.01), seed
        assert len(face.outline) <= 5, seed
        found = sorted((one.left, one.bottom - min(ys), one.width, one.height) for one in face.openings)
        assert found == [pytest.approx(one, abs=0.01) for one in sorted(openings)], seed


def test_every_opening_is_found_as_it_was_drawn() -> None:
    check(range(FEW))


@pytest.mark.long
def test_every_opening_of_many_is_found_as_it_was_drawn() -> None:
    check(range(FEW, MANY))
