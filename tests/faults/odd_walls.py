"""Job files of odd walls: plain, long, narrow, sloping, stepped; a pure function of a random generator."""

from __future__ import annotations

import random

PROFILES = ("double-4", "triple-3", "foam-double-6", "bevel-6", "bevel-12", "fiber-cement-8.25", "shingle-18")
ENDS = ("outside corner", "inside corner", "butts")


def odd_job(luck: random.Random) -> str:
    """A job of one to six faces; most are sound, some have faults of their own."""
    lines = ["[job]", 'name = "Odd"', "[cladding]", f'profile = "{luck.choice(PROFILES)}"']
    if luck.random() < 0.3:
        lines += ["[seams]", f"shortest = {luck.choice((0, 1, 6, 60))}", f"apart = {luck.choice((0, 1, 48))}"]
    if luck.random() < 0.4:
        lines += ["[trim]", f"head = {luck.choice((0, 3.5, 14))}", f"side = {luck.choice((0, 0.125, 5))}"]
        lines += [f"outside_corner = {luck.choice((0, 1.25, 5))}", f"inside_corner = {luck.choice((0, 1))}"]
    if luck.random() < 0.2:
        low = luck.uniform(-60, 40)
        lines += ["[limits]", f"starter = [{low}, {low + luck.choice((0, 2, 30))}]"]
    for number in range(luck.choice((1, 1, 1, 2, 4, 6))):
        lines += _face(luck, number)
    return "\n".join(lines) + "\n"


def _face(luck: random.Random, number: int) -> list[str]:
    width = luck.choice((0.5, 4, 11.9, 37, 144, 240, 301.3, 600, 2400))
    base = [luck.choice((0, -1, -41, -145)), 0]
    base[1] = base[0] + luck.choice((0, 0, 0, -0.5, 3, -30, 60))
    eave = max(base) + luck.choice((0.1, 3, 9, 96, 108, 250))
    lines = ["[[elevation]]", f'name = "F{number}"', f'left = "{luck.choice(ENDS)}"']
    lines.append(f'right = "{luck.choice(ENDS)}"')
    if luck.random() < 0.3:
        at, up = width * luck.uniform(0.1, 0.9), luck.choice((1, 8, 42))
        corners = [[0, base[0]], [at, base[0]], [at, base[0] + up], [width, base[0] + up]]
        top = base[0] + up + luck.choice((2, 90, 130))
        corners += [[width, top], [width / 2, top + luck.choice((0.5, 20, 100))], [0, top]]
        lines.append(f"outline = {corners}")
    else:
        lines += [f"width = {width}", f"base = {base}", f"eave = {[eave, eave + luck.choice((0, 0, 1, 40))]}"]
        if luck.random() < 0.3:
            lines.append(f'gable = {{ pitch = "{luck.choice((0.5, 4, 12, 24))}/12" }}')
    if luck.random() < 0.5:
        ground = min(base) - luck.choice((0, 6, 10, 40))
        lines.append(f"grade = [[0, {ground}], [{width / 3}, {ground - 4}], [{width}, {ground + 3}]]")
    right = 0.0
    for index in range(luck.choice((0, 1, 2, 5))):
        left = right + luck.choice((0, 0, 0.25, 12, 30))
        size = luck.choice((0.002, 2, 24, 36, 72))
        right = left + size
        sill = max(base) + luck.choice((0.01, 2, 24, 31.5))
        lines += ["[[elevation.opening]]", f'mark = "{index}"', f"left = {left}", f"sill = {sill}"]
        lines += [f"width = {size}", f"height = {luck.choice((0.002, 8, 40, 56))}"]
        lines.append(f'head_edge = "{luck.choice(("must", "want", "ignore"))}"')
    return lines
