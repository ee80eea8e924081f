"""Openings on an elevation: the hole, its trim, its mark, and the signs at its head and sill."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from layout.job import Fixture, Opening, Point
from layout.plan import Edge, ElevationPlan, Plan
from render.drawing import Block, Leader, Line, Mark, Path, Text
from render.fonts import text_width
from render.pens import DOOR, FACE, FIXTURE, GLASS, LEADER, OPENING, PAPER, TEXT, TRIM
from render.placement import Box, Occupied, box_of, fitted, text_box
from render.signs import SIGN_HEIGHT, SIGN_WIDTH, numbered, sign
from render.words import show

_HEIGHTS = (3.5, 2.5)
_AIR = 0.8
_SHARE = 0.16
_MARK_WIDTH = 30.0


def opening_blocks(
    plan: Plan, face: ElevationPlan, mm: float, slivers: Mapping[Edge, int], taken: Occupied
) -> Iterator[Mark]:
    """Every opening and fixture as a block with attributes; then the marks that had no room inside.

    Args:
        plan: for units.
        face: whose openings.
        mm: drawing units in one millimetre of paper.
        slivers: numbers of the slivers, as in the edge column.
        taken: occupied boxes; signs and marks are added.
    """
    outside: list[tuple[str, Box]] = []
    elevation = face.elevation
    holes = [box_of(opening.trimmed()) for opening in elevation.openings]
    taken.take(*holes)
    taken.take(*(Box(item.left, item.bottom, item.right, item.top) for item in elevation.fixtures))
    for opening in elevation.openings:
        edges = [edge for edge in face.edges if edge.opening == opening.mark]
        items: list[Mark] = [*_body(opening, mm)]
        items += _signs(opening, edges, mm, slivers)
        mark = _mark(opening, len(edges), mm)
        if mark is None:
            outside.append((opening.mark, box_of(opening.trimmed())))
        else:
            items.append(mark)
        yield Block(
            f"opening {elevation.name} {opening.mark}",
            (opening.left, opening.bottom),
            tuple(items),
            _attributes(plan, opening),
        )
    for fixture in elevation.fixtures:
        outside.append((fixture.mark, Box(fixture.left, fixture.bottom, fixture.right, fixture.top)))
        yield _fixture(plan, elevation.name, fixture)
    for text, box in outside:
        yield from _beside(text, box, mm, taken)


def _attributes(plan: Plan, opening: Opening) -> tuple[tuple[str, str], ...]:
    job = plan.job
    size = f"{show(job, opening.width)} x {show(job, opening.height)}"
    sill = "" if opening.on_base else show(job, opening.sill)
    return (
        ("MARK", opening.mark),
        ("KIND", opening.kind),
        ("SIZE", size),
        ("HEAD", show(job, opening.head)),
        ("SILL", sill),
    )


def _body(opening: Opening, mm: float) -> Iterator[Mark]:
    hole, trimmed = opening.outline(), opening.trimmed()
    if trimmed != hole:
        yield Path(TRIM, trimmed, closed=True, fill=PAPER)
    pen = DOOR if opening.kind in ("door", "garage door") else OPENING
    yield Path(pen, hole, closed=True, fill=PAPER if pen is DOOR else GLASS)
    if opening.kind == "garage door" and opening.shape == "rectangle":
        for index in range(1, 4):
            height = opening.bottom + opening.height * index / 4
            yield Line(FACE, (opening.left, height), (opening.right, height))
    elif opening.kind == "vent":
        yield from _louvres(hole, opening, mm)


def _louvres(hole: Sequence[Point], opening: Opening, mm: float) -> Iterator[Mark]:
    from layout.wall import crossings

    count = int(opening.height / (1.6 * mm))
    for index in range(1, count):
        height = opening.bottom + opening.height * index / count
        ends = crossings(hole, height)
        if len(ends) == 2:
            yield Line(TRIM, (ends[0], height), (ends[1], height))


def _signs(opening: Opening, edges: Sequence[Edge], mm: float, slivers: Mapping[Edge, int]) -> Iterator[Mark]:
    """Signs just inside the hole, under its head and over its sill."""
    for wanted in (1.0, 0.75, 0.5):
        share = min(wanted, opening.width / (SIGN_WIDTH + _AIR) / mm)
        levels = {edge: _sign_level(opening, edge, share, mm) for edge in edges}
        apart = abs(max(levels.values(), default=0.0) - min(levels.values(), default=0.0))
        room = opening.height - sum(abs(level - _edge_level(opening, edge)) for edge, level in levels.items())
        if room >= SIGN_HEIGHT / 2 * mm and (len(edges) < 2 or apart >= (SIGN_HEIGHT + 0.6) * mm):
            break
    else:
        return
    for edge, level in levels.items():
        centre = (opening.middle, level)
        if edge in slivers and share >= 1.0:
            yield from numbered(centre, slivers[edge], mm)
        else:
            yield from sign(edge.result, centre, mm, share)


def _edge_level(opening: Opening, edge: Edge) -> float:
    return opening.top if edge.edge == "head" else opening.bottom


def _sign_level(opening: Opening, edge: Edge, share: float, mm: float) -> float:
    """Where a sign stands: inside the hole, where it is wide enough."""
    inset = (SIGN_HEIGHT / 2 + _AIR) * mm
    if edge.edge == "head":
        return opening.top - inset - _drop(opening, share * SIGN_WIDTH * mm)
    return opening.bottom + inset + _drop(opening, share * SIGN_WIDTH * mm, low=True)


def _drop(opening: Opening, width: float, low: bool = False) -> float:
    """How far below an apex the hole is as wide as a sign (over its lowest point for a low one)."""
    half = width / 2
    if opening.shape == "triangle" and not low:
        return opening.height * half / (opening.width / 2)
    if opening.shape == "round" or (opening.shape in ("arch", "half-round") and not low):
        rise = opening.rise or opening.height / 2
        radius = ((opening.width / 2) ** 2 + rise * rise) / (2 * rise)
        return float(radius - (radius * radius - min(half, radius) ** 2) ** 0.5)
    return 0.0


def _mark(opening: Opening, signs: int, mm: float) -> Text | None:
    """The mark in the middle of the hole, as large as fits; None when it does not."""
    across = opening.width * (0.5 if opening.shape == "triangle" else 0.8)
    room = opening.height / mm - 2 * (SIGN_HEIGHT + _AIR) * (signs > 0) - 2 * _AIR
    level = opening.bottom + opening.height * (0.4 if opening.shape == "triangle" else 0.5)
    for height in _HEIGHTS:
        wide = text_width(opening.mark, height, "bold") <= across / mm
        if wide and height <= room and height <= max(2.5, _SHARE * opening.height / mm):
            return Text(
                TEXT, (opening.middle, level), opening.mark, height, "middle", "middle", weight="bold"
            )
    if room >= 2.5 and across / mm >= 8.0:
        text = fitted(opening.mark, across / mm, 2.5, "bold")
        return Text(TEXT, (opening.middle, level), text, 2.5, "middle", "middle", weight="bold")
    return None


def _fixture(plan: Plan, face: str, fixture: Fixture) -> Block:
    box = (
        (fixture.left, fixture.bottom),
        (fixture.right, fixture.bottom),
        (fixture.right, fixture.top),
        (fixture.left, fixture.top),
    )
    size = f"{show(plan.job, fixture.width)} x {show(plan.job, fixture.height)}"
    cross = (Line(FIXTURE, box[0], box[2]), Line(FIXTURE, box[1], box[3]))
    return Block(
        f"fixture {face} {fixture.mark}",
        (fixture.left, fixture.bottom),
        (Path(FIXTURE, box, closed=True, fill=PAPER), *cross),
        (("MARK", fixture.mark), ("KIND", "fixture"), ("SIZE", size)),
    )


def _beside(mark: str, box: Box, mm: float, taken: Occupied) -> Iterator[Mark]:
    """A mark on knocked-out ground beside a thing too small to carry it."""
    text = fitted(mark, _MARK_WIDTH, 2.5, "bold")
    width, gap = text_width(text, 2.5, "bold") * mm, 1.4 * mm
    middle = (box.bottom + box.top) / 2 - 1.25 * mm
    places = [
        (box.right + gap, middle),
        (box.left - gap - width, middle),
        ((box.left + box.right - width) / 2, box.top + gap + 0.5 * mm),
        ((box.left + box.right - width) / 2, box.bottom - gap - 2.5 * mm),
        (box.right + gap, box.top),
        (box.right + gap, box.bottom - 2.5 * mm),
        (box.left - gap - width, box.top),
        (box.left - gap - width, box.bottom - 2.5 * mm),
    ]
    for at in places:
        wanted = text_box(at, text, 2.5, mm, "bold")
        if taken.free(wanted, 0.5 * mm):
            taken.take(wanted)
            yield Text(TEXT, at, text, 2.5, weight="bold", ground=True)
            return
    centre = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    for ring in range(1, 13):
        for dx, dy in ((1, 1), (-1, 1), (1, -1), (-1, -1), (0, 1), (0, -1), (1, 0), (-1, 0)):
            reach = ring * 3.0 * mm
            x = centre[0] + dx * (reach + box.width / 2) - (width if dx < 0 else width / 2 if dx == 0 else 0)
            y = centre[1] + dy * (reach + box.height / 2) - 1.25 * mm
            wanted = text_box((x, y), text, 2.5, mm, "bold")
            if taken.free(wanted, 0.5 * mm):
                taken.take(wanted)
                end = (
                    min(max(centre[0], wanted.left), wanted.right),
                    min(max(centre[1], wanted.bottom), wanted.top),
                )
                yield Leader(LEADER, (centre, end), "dot")
                yield Text(TEXT, (x, y), text, 2.5, weight="bold", ground=True)
                return
