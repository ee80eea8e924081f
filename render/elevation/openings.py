"""Openings on an elevation: the hole, its trim, its mark, and the signs at its head and sill."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from evencourse.layout.model.course_plan import Edge, ElevationPlan, Plan
from evencourse.layout.model.job import Fixture, Opening
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.wall.sides import crossings
from evencourse.render.building.opening_body import SILL_OUT, opening_body
from evencourse.render.drawing.drawing import Block, Facts, Leader, Line, Mark, Path, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import FIXTURE, LEADER, PAPER, TEXT
from evencourse.render.drawing.placement import Box, Occupied, Pane, box_of, fitted, text_box
from evencourse.render.elevation.edge_signs import SIGN_HEIGHT, SIGN_WIDTH, numbered, numbered_width, sign
from evencourse.render.words.plan_words import show

_HEIGHTS = (3.5, 2.5)
_AIR = 1.1
_SHARE = 0.16
#: A mark that is too long is shortened inside a hole at least so wide, else it stands beside it [mm].
_SHORTENED = 8.0
#: Share of a hole's width that a sign near a curved head can count on.
_SURE = 0.9
_MARK_WIDTH = 30.0
#: What marks of pieces keep off an opening's frame, off its own mark and off its signs [mm].
_OFF_RIM = 0.6

#: Where a mark on a leader is tried, ring by ring.
_AROUND = ((1, 1), (-1, 1), (1, -1), (-1, -1), (0, 1), (0, -1), (1, 0), (-1, 0))


def opening_blocks(
    plan: Plan,
    face: ElevationPlan,
    mm: float,
    slivers: Mapping[Edge, int],
    taken: Occupied,
    window: Box | None = None,
) -> Iterator[Mark]:
    """Every opening and fixture as a block with attributes; then the marks that had no room inside.

    Args:
        plan: for units.
        face: whose openings.
        mm: drawing units in one millimetre of paper.
        slivers: numbers of the slivers, as in the edge column.
        taken: occupied boxes; signs and marks are added.
        window: what is shown of the wall, openings outside it are left out [job units]; None for all.
    """
    outside: list[tuple[str, Box]] = []
    elevation = face.elevation
    openings = [(opening, box_of(opening.trimmed)) for opening in elevation.openings]
    fixtures = [(item, Box(item.left, item.bottom, item.right, item.top)) for item in elevation.fixtures]
    taken.take(*(box for _, box in openings), *(box for _, box in fixtures))
    for opening, box in openings:
        if opening.trim.sill > 0 and not opening.on_base:
            out = SILL_OUT * plan.job.inch
            taken.take(Box(box.left - out, box.bottom, box.right + out, opening.bottom + 0.2 * mm))
    for opening, box in openings:
        if window is not None and not window.meets(box):
            continue
        edges = [edge for edge in face.edges if edge.opening == opening.mark]
        items: list[Mark] = [*opening_body(opening, plan.job.inch, mm)]
        seen = box_of(opening.outline()) if window is None else _common(box_of(opening.outline()), window)
        signs = _place_signs(opening, edges, mm, seen)
        items += _sign_marks(opening, signs, mm, slivers, seen)
        mark = _mark(opening, signs, mm, seen)
        if mark is None:
            outside.append((opening.mark, box))
        else:
            items.append(mark)
        if opening.shape == "rectangle":
            taken.panes.append(_pane(box, seen, signs, mark, mm))
        yield Block(
            f"opening {elevation.name} {opening.mark}",
            (opening.left, opening.bottom),
            tuple(items),
            _attributes(plan, opening),
            _facts(opening),
        )
    for fixture, box in fixtures:
        if window is not None and not window.meets(box):
            continue
        outside.append((fixture.mark, box))
        yield _fixture(plan, elevation.name, fixture)
    for text, box in outside:
        yield from beside(text, box, mm, taken, window)


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


def _facts(opening: Opening) -> Facts:
    return (
        ("mark", opening.mark),
        ("kind", opening.kind),
        ("shape", opening.shape),
        ("width", opening.width),
        ("height", opening.height),
        ("head", opening.head),
        ("sill", opening.sill),
    )


@dataclass(frozen=True)
class _Signs:
    """Signs of an opening: how wide they are, and at which level each stands."""

    share: float
    levels: Mapping[Edge, float]


def _common(one: Box, other: Box) -> Box:
    """What two boxes that meet have in common."""
    return Box(
        max(one.left, other.left),
        max(one.bottom, other.bottom),
        min(one.right, other.right),
        min(one.top, other.top),
    )


def _place_signs(opening: Opening, edges: Sequence[Edge], mm: float, seen: Box) -> _Signs:
    """Signs just inside the hole, under its head and over its sill, as wide as they find room; else none.

    ``seen`` is what shows of the hole: a match line may cut it.
    """
    if seen.width < opening.width - SAME and opening.shape != "rectangle":
        return _Signs(0.0, {})
    for wanted in (1.0, 0.75, 0.5):
        share = min(wanted, seen.width / (SIGN_WIDTH + _AIR) / mm)
        levels = {edge: _sign_level(opening, edge, share, mm) for edge in edges}
        levels = {edge: level for edge, level in levels.items() if seen.bottom < level < seen.top}
        apart = abs(max(levels.values(), default=0.0) - min(levels.values(), default=0.0))
        room = opening.height - sum(abs(level - _edge_level(opening, edge)) for edge, level in levels.items())
        if room >= SIGN_HEIGHT / 2 * mm and (len(levels) < 2 or apart >= (SIGN_HEIGHT + 0.6) * mm):
            return _Signs(share, levels)
    return _Signs(0.0, {})


def _sign_marks(
    opening: Opening, signs: _Signs, mm: float, slivers: Mapping[Edge, int], seen: Box
) -> Iterator[Mark]:
    for edge, level in signs.levels.items():
        centre = ((seen.left + seen.right) / 2, level)
        number = slivers.get(edge, 0)
        half = SIGN_HEIGHT / 2 * mm
        wide = min(seen.width, *(_width_over(opening, level + side * half) for side in (-1, 1)))
        if number and numbered_width(number) + 2 * _AIR <= wide * _SURE / mm:
            yield from numbered(centre, number, mm)
        else:
            yield from sign(edge.result, centre, mm, signs.share)


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


def _mark(opening: Opening, signs: _Signs, mm: float, seen: Box) -> Text | None:
    """The mark in the middle of what the signs leave of the hole, as large as fits; None when it does not."""
    half = (SIGN_HEIGHT / 2 + _AIR) * mm
    low, high = seen.bottom + _AIR * mm, seen.top - _AIR * mm
    for edge, level in signs.levels.items():
        if edge.edge == "head":
            high = min(high, level - half)
        else:
            low = max(low, level + half)
    level, room = (low + high) / 2, (high - low) / mm
    for height in _HEIGHTS:
        if height > room or height > max(2.5, _SHARE * opening.height / mm):
            continue
        across = min(_width_over(opening, level + height / 2 * mm), seen.width) / mm - 2 * _AIR
        text = opening.mark
        if height == _HEIGHTS[-1] and across >= _SHORTENED:
            text = fitted(text, across, height, "bold")
        if text_width(text, height, "bold") <= across:
            cut = seen.width < opening.width - SAME or seen.height < opening.height - SAME
            ground = cut or opening.kind in ("vent", "garage door")
            at = ((seen.left + seen.right) / 2, level)
            return Text(TEXT, at, text, height, "middle", "middle", weight="bold", ground=ground)
    return None


def _pane(rim: Box, seen: Box, signs: _Signs, mark: Text | None, mm: float) -> Pane:
    """What shows of an opening, as marks of pieces may be led into it."""
    half = (SIGN_HEIGHT / 2 + _OFF_RIM) * mm
    held = [Box(seen.left, level - half, seen.right, level + half) for level in signs.levels.values()]
    if mark is not None:
        wide, tall = text_width(mark.text, mark.height, mark.weight) / 2 * mm, mark.height / 2 * mm
        x, y = mark.at
        held.append(Box(x - wide, y - tall, x + wide, y + tall).grown(_OFF_RIM * mm))
    return Pane(rim, seen.grown(-_OFF_RIM * mm), tuple(held))


def _width_over(opening: Opening, height: float) -> float:
    """How wide a hole is at a height."""
    ends = crossings(opening.outline(), height)
    return ends[-1] - ends[0] if ends else 0.0


def _fixture(plan: Plan, face: str, fixture: Fixture) -> Block:
    box = fixture.outline()
    size = f"{show(plan.job, fixture.width)} x {show(plan.job, fixture.height)}"
    cross = (Line(FIXTURE, box[0], box[2]), Line(FIXTURE, box[1], box[3]))
    return Block(
        f"fixture {face} {fixture.mark}",
        (fixture.left, fixture.bottom),
        (Path(FIXTURE, box, closed=True, fill=PAPER), *cross),
        (("MARK", fixture.mark), ("KIND", "fixture"), ("SIZE", size)),
    )


def beside(mark: str, box: Box, mm: float, taken: Occupied, window: Box | None) -> Iterator[Mark]:
    """A mark on knocked-out ground beside a thing too small to carry it.

    Args:
        mark: what it says.
        box: round the thing [job units].
        mm: drawing units in one millimetre of paper.
        taken: occupied boxes; the mark is added.
        window: what is shown of the wall [job units]; None for all.
    """
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
    centre = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    bare = taken.copy()
    bare.bars = []
    for known, air in ((taken, 0.5), (bare, 0.1)):  # rather close to its neighbours than across a band line
        for at in places:
            wanted = text_box(at, text, 2.5, mm, "bold")
            if (window is None or wanted.inside(window)) and taken.free(wanted, air * mm):
                taken.take(wanted)
                yield Text(TEXT, at, text, 2.5, weight="bold", ground=True)
                return
        for ring, (dx, dy) in product(range(1, 13), _AROUND):
            reach = ring * 3.0 * mm
            x = centre[0] + dx * (reach + box.width / 2) - (width if dx < 0 else width / 2 if dx == 0 else 0)
            y = centre[1] + dy * (reach + box.height / 2) - 1.25 * mm
            wanted = text_box((x, y), text, 2.5, mm, "bold")
            end = (
                min(max(centre[0], wanted.left), wanted.right),
                min(max(centre[1], wanted.bottom), wanted.top),
            )
            start = (min(max(end[0], box.left), box.right), min(max(end[1], box.bottom), box.top))
            seen = window is None or wanted.inside(window)
            if seen and taken.free(wanted, 0.5 * mm) and known.passes(start, end):
                taken.take(wanted)
                yield Leader(LEADER, (start, end), "dot")
                yield Text(TEXT, (x, y), text, 2.5, weight="bold", ground=True)
                return
