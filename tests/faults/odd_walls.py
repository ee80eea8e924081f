"""Job files of odd walls: plain, long, narrow, sloping, stepped; a pure function of a random generator."""

from __future__ import annotations

import random
from dataclasses import dataclass

PROFILES = ("double-4", "triple-3", "foam-double-6", "bevel-6", "bevel-12", "fiber-cement-8.25", "shingle-18")
ENDS = ("outside corner", "inside corner", "butts")
SHAPES = ("rectangle", "rectangle", "rectangle", "round", "half-round", "arch", "triangle")


def odd_job(luck: random.Random) -> str:
    """A job of one to six faces; most are sound, some have faults of their own."""
    two = luck.random() < 0.15
    lines = ["[job]", 'name = "Odd"', f'datum = "{luck.choice(("a line", "é"))}"']
    for name in ("a", "b") if two else ("",):
        lines += [f"[claddings.{name}]" if name else "[cladding]", f'profile = "{luck.choice(PROFILES)}"']
    if luck.random() < 0.3:
        lines += ["[seams]", f"shortest = {luck.choice((0, 1, 6, 60))}", f"apart = {luck.choice((0, 1, 48))}"]
    if luck.random() < 0.4:
        lines += ["[trim]", f"head = {luck.choice((0, 3.5, 14))}", f"side = {luck.choice((0, 0.125, 5))}"]
        lines += [f"outside_corner = {luck.choice((0, 1.25, 5))}", f"inside_corner = {luck.choice((0, 1))}"]
    if luck.random() < 0.1:
        lines += ["[order]", f"heap = {luck.choice((0, 1, 3, 100))}"]
    if luck.random() < 0.1:
        lines += ["[framing]", f"spacing = {luck.choice((12, 16, 24, 55))}"]
    level = luck.choice((0, -1, -41, -145))
    if luck.random() < 0.2:
        low = level - luck.choice((-2, 0, 1, 3, 11))
        lines += ["[limits]", f"starter = [{low}, {low + luck.choice((0, 0.5, 2, 30))}]"]
    for number in range(luck.choice((1, 1, 1, 2, 4, 6))):
        lines += _face(luck, number, level, two)
    return "\n".join(lines) + "\n"


@dataclass
class _Wall:
    """What is free of a wall, from left to right."""

    width: float
    low: float
    top: float
    right: float = 0.0

    def fits(self, left: float, right: float, low: float, high: float) -> bool:
        clear = left >= self.right and right <= self.width and low >= self.low and high <= self.top
        if clear:
            self.right = right
        return clear


def _face(luck: random.Random, number: int, level: float, two: bool) -> list[str]:
    width = luck.choice((0.5, 4, 11.9, 37, 144, 240, 301.3, 600, 2400))
    base = [level + luck.choice((0, 0, 0, 7.9, 30)), 0]
    base[1] = base[0] + luck.choice((0, 0, 0, -0.5, 3, -30, 60))
    eave = max(base) + luck.choice((0.1, 3, 9, 96, 108, 108, 250))
    lines = ["[[elevation]]", f'name = "F{number}"', f'left = "{luck.choice(ENDS)}"']
    lines.append(f'right = "{luck.choice(ENDS)}"')
    wall = _Wall(width, max(base), eave)
    if luck.random() < 0.3:
        at, up = width * luck.uniform(0.1, 0.9), luck.choice((1, 8, 42))
        corners = [[0, base[0]], [at, base[0]], [at, base[0] + up], [width, base[0] + up]]
        top = base[0] + up + luck.choice((2, 90, 130))
        corners += [[width, top], [width / 2, top + luck.choice((0.5, 20, 100))], [0, top]]
        lines.append(f"outline = {corners}")
        wall = _Wall(width, base[0] + up, top)
    else:
        lines += [f"width = {width}", f"base = {base}", f"eave = {[eave, eave + luck.choice((0, 0, 1, 40))]}"]
        if luck.random() < 0.2 and width > 100:
            lines.append(f'gable = {{ pitch = "{luck.choice((4, 12, 24))}/12" }}')
    if luck.random() < 0.5:
        ground = min(base) - luck.choice((0, 6, 10, 40))
        lines.append(f"grade = [[0, {ground}], [{width / 3}, {ground - 4}], [{width}, {ground + 3}]]")
    things: list[str] = []
    for index in range(luck.choice((0, 1, 2, 5))):
        things += luck.choice((_opening, _opening, _opening, _roof, _fixture))(luck, index, wall)
    if two:
        band = wall.low + luck.choice((0.5, 20, 60))
        if band + 6 < wall.top:
            things += ["[[elevation.zone]]", 'cladding = "a"', f"top = {band}"]
            things += [f"trim = {luck.choice((0, 5.5))}"]
        things += ["[[elevation.zone]]", 'cladding = "b"']
    return lines + things


def _opening(luck: random.Random, index: int, wall: _Wall) -> list[str]:
    left = wall.right + luck.choice((0, 0, 0.25, 12, 30))
    width = luck.choice((0.002, 2, 24, 36, 36, 72))
    shape = luck.choice(SHAPES)
    height = {"round": width, "half-round": width / 2}.get(shape, luck.choice((0.002, 8, 40, 56)))
    sill = wall.low + luck.choice((0.01, 2, 24, 31.5))
    if not wall.fits(left, left + width, sill, sill + height) and luck.random() < 0.98:
        return []
    lines = ["[[elevation.opening]]", f'mark = "{index}"', f"left = {left}", f"sill = {sill}"]
    lines += [f"width = {width}", f"height = {height}", f'shape = "{shape}"']
    lines += [f"rise = {height / luck.choice((1, 2, 9))}"] if shape == "arch" else []
    return [*lines, f'head_edge = "{luck.choice(("must", "want", "ignore"))}"']


def _roof(luck: random.Random, index: int, wall: _Wall) -> list[str]:
    """A roof, a deck or a ledger: level, sloped or broken, to the wall's end or in its middle."""
    left = wall.right + luck.choice((0, 0, 3, 12))
    right = left + (wall.width - left) * luck.choice((0.01, 0.5, 0.5, 1))
    depth, rise = luck.choice((0.01, 1.5, 9, 40)), luck.choice((0, 0, 2, 30))
    low = wall.low + depth + luck.choice((-3, 0, 1, 40, 80))
    if not wall.fits(left, right, wall.low, low + rise) and luck.random() < 0.98:
        return []
    line = [[left, low], [right, low + rise]]
    line = line if luck.random() < 0.6 else [[left, low + rise], [right, low]]
    if luck.random() < 0.2:
        line.insert(1, [(left + right) / 2, low + luck.choice((0, rise))])
    lines = [
        "[[elevation.roof]]",
        f'mark = "R{index}"',
        f'kind = "{luck.choice(("roof", "deck", "ledger"))}"',
    ]
    return [*lines, f"line = {line}", f"depth = {depth}"]


def _fixture(luck: random.Random, index: int, wall: _Wall) -> list[str]:
    left, width = wall.right + luck.choice((6, 12.3)), luck.choice((0.1, 4, 12))
    bottom = wall.low + luck.choice((0.3, 7, 60))
    if not wall.fits(left, left + width, bottom, bottom + 6):
        return []
    wall.right += 6
    lines = ["[[elevation.fixture]]", f'mark = "S{index}"', f"left = {left}", f"bottom = {bottom}"]
    return [*lines, f"width = {width}", "height = 6", f"block = {luck.choice(('true', 'false'))}"]
