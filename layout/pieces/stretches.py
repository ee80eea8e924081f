"""From runs to the stretches that the search hangs: gaps, openings, studs, fixtures without a block."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice, pairwise
from math import ceil, floor, inf
from typing import NamedTuple

import shapely

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation, Fixture, Point
from evencourse.layout.pieces.seam_rules import Rule, SeamRules, end_gap, seam_rules, ticks
from evencourse.layout.pieces.stretch import CODES, Stock, Stretch
from evencourse.layout.pieces.strips import Run
from evencourse.layout.trade.rules import out_of_level
from evencourse.layout.wall.sides import crossings

#: What seams should not fall over or under: left, right, bottom and top.
_Hull = tuple[float, float, float, float]


class _Hulls(NamedTuple):
    """What seams should not fall over or under on a face, from the left, and how wide the widest is."""

    by_left: list[_Hull]
    widest: float


def covered(plan: Plan, cladding: Cladding, run: Run) -> tuple[float, float]:
    """From where to where a run's pieces reach: end gaps taken off the long points [job units].

    Rule: the gap is measured along the wall, level (common practice, no source). A run of hardly more than
    its gaps keeps half of its width. Over a lower roof a board reaches past what shows: :func:`lapped`.
    """
    gap = min(end_gap(plan.job, cladding), run.width / 4)
    (left, _), (right, _) = lapped(plan, cladding, run)
    return run.left - left + gap, run.right + right - gap


def lapped(plan: Plan, cladding: Cladding, run: Run) -> tuple[Point, Point]:
    """How far a board over a lower roof reaches past and above its long points, at its left and right end.

    The long point is at its top there, and its lap, which the next course hides, goes on along the slope or
    round the curve of an opening (geometry); not past the end of the wall.
    """
    lap = cladding.width - (run.head - run.foot)
    if cladding.family != "lap" or not run.sloped or lap <= 0:
        return (0.0, 0.0), (0.0, 0.0)
    elevation = plan.elevations[run.face].elevation
    ends = plan.job.ends(elevation)
    rooms = (run.left - ends[0], ends[1] - run.right)
    corners = [(float(x), float(y)) for x, y in shapely.get_coordinates(run.polygon)]
    near = 1e-6 * plan.job.inch
    left, right = (
        _within(_reach(elevation, corners, (end, run.head), lap, near), max(0.0, room))
        for end, room in zip((run.left, run.right), rooms, strict=True)
    )
    return left, right


def _within(reach: Point, room: float) -> Point:
    past, above = reach
    return reach if past <= room else (room, above * room / past)


def _reach(
    elevation: Elevation,
    corners: Sequence[tuple[float, float]],
    top: tuple[float, float],
    lap: float,
    near: float,
) -> Point:
    """How far a lap reaches past and above a point that a slope or the curve of an opening climbs to."""
    leaning = _leaning(corners, top, near)
    for opening in elevation.openings if leaning else ():
        here, higher = (crossings(opening.trimmed, top[1] + up) for up in (0.0, lap))
        beside = [at for at, x in enumerate(here) if abs(x - top[0]) <= near]
        if beside and len(here) == 2:
            if len(higher) == 2:
                return abs(higher[beside[0]] - top[0]), lap
            x, y = max(opening.trimmed, key=lambda point: point[1])
            return abs(x - top[0]), y - top[1]
    return lap * leaning, lap


def _leaning(corners: Sequence[tuple[float, float]], top: tuple[float, float], near: float) -> float:
    """Run over rise of the slope that climbs to a point, steeper than an eave out of level; 0 for none."""
    for start, end in pairwise(corners):
        low, high = sorted((start, end), key=lambda corner: corner[1])
        run, rise = abs(high[0] - low[0]), high[1] - low[1]
        reaches = abs(high[0] - top[0]) <= near and abs(high[1] - top[1]) <= near
        if reaches and run > near and not out_of_level(rise, run):
            return run / rise
    return 0.0


def stretches(plan: Plan, runs: Sequence[Run], stocks: Mapping[str, Stock]) -> list[Stretch]:
    """Every stretch of the runs that are cut from stock, in the order of hanging.

    Args:
        plan: what the runs come from.
        runs: by face, zone, course and from the left; indices in what is returned.
        stocks: by cladding; runs of others are left out.

    Rules: faces in the order of the job's ``[order] faces``, the rest as the job has them; course by course;
    from the left, towards an entrance from both sides.
    """
    faces = {name: at for at, name in enumerate(plan.job.order.faces)}
    rank = [faces.get(face.elevation.name, len(faces)) for face in plan.elevations]
    order = sorted(range(len(runs)), key=lambda i: (rank[runs[i].face], runs[i].face))
    reach = [_hulls(face.elevation) for face in plan.elevations]
    pinned: dict[tuple[int, int, int], list[int]] = {}
    served: set[tuple[int, str]] = set()
    found: list[Stretch] = []
    for index in order:
        name = plan.course_sets[runs[index].course_set].cladding.name
        if name in stocks:
            parts = list(_parts(plan, index, runs[index], stocks[name], reach, pinned, served))
            found += sorted(parts, key=lambda part: _turn(part, parts[0].entrance))
    return [_beside(one, pinned) for one in found] if pinned else found


def stock_of(plan: Plan, cladding: Cladding, number: int) -> Stock:
    """A cladding's lengths and rules in ticks.

    Args:
        plan: for its job.
        cladding: a panel or a board.
        number: its own among the stocks of the job, from 1.
    """
    rules, scale = seam_rules(plan.job, cladding), ticks(plan.job)
    kerf, lap, joint = (round(value * scale) for value in (rules.kerf, rules.lap, rules.joint))
    step = lap - joint + kerf
    shortest = max(ceil(rules.shortest * scale) + kerf, step + 1)  # what is all lap is no piece
    return Stock(
        number * CODES, floor(cladding.length * scale + 1e-6) + kerf, step,
        shortest, floor(rules.unseamed * scale + 1e-6) + kerf, rules.extra,
        ceil(rules.apart * scale), ceil(rules.in_line * scale), rules.courses_between, lap, joint, kerf,
        rules.on_studs, scale,
    )  # fmt: skip


def length_bound(plan: Plan, cladding: Cladding, runs: Sequence[Run]) -> int:
    """Lengths that no plan can do without: every run and the laps that it cannot avoid, over the length.

    Args:
        plan: what the runs come from.
        cladding: that they are of.
        runs: all of them.
    """
    rules = seam_rules(plan.job, cladding)
    step, total, bar = rules.lap - rules.joint + rules.kerf, 0.0, cladding.length + rules.kerf
    for run in runs:
        left, right = covered(plan, cladding, run)
        size = right - left + rules.kerf
        fewest = 1 if size <= bar + 1e-9 else ceil((size - step) / (bar - step) - 1e-9)
        total += size + (fewest - 1) * step
    return ceil(total / bar - 1e-9)


def _parts(
    plan: Plan,
    index: int,
    run: Run,
    stock: Stock,
    reach: Sequence[_Hulls],
    pinned: dict[tuple[int, int, int], list[int]],
    served: set[tuple[int, str]],
) -> Iterator[Stretch]:
    """A run, cut where fixtures ask for a seam, from the left."""
    elevation = plan.elevations[run.face].elevation
    cladding = plan.course_sets[run.course_set].cladding
    left, right = covered(plan, cladding, run)
    rules = seam_rules(plan.job, cladding)
    spans = tuple(_spans(plan, run, reach[run.face], rules, stock.scale))
    entrance = _entrance(elevation, rules.front, stock.scale)

    def part(x: float, end_x: float, start: int, end: int, fixture: str | None) -> Stretch:
        low, high = start + stock.shortest - stock.step, end + stock.kerf - stock.shortest
        room = stock.shortest - stock.relaxed
        points = tuple(_studs(plan, stock, run, low - room, high + room)) if stock.on_studs else ()
        if 0 < end + stock.kerf - start - stock.capacity <= 2:  # a whole length, but for rounding
            end = start + stock.capacity - stock.kerf
        return Stretch(
            index, stock, run.face, run.zone, run.number, x, end_x, fixture, start, end + stock.kerf, low,
            high, entrance, spans, points,
        )  # fmt: skip

    start, end = floor(left * stock.scale + 1e-6), ceil(right * stock.scale - 1e-6)
    whole = part(left, right, start, end, None)
    for fixture, seam in _asked(elevation, run, whole, pinned, served):
        served.add((run.face, fixture.mark))
        pinned.setdefault((run.face, run.zone, run.number), []).append(whole.line(seam))
        yield part(left, (seam + stock.lap) / stock.scale, start, seam + stock.lap, fixture.mark)
        left, start = seam / stock.scale, seam
    yield part(left, right, start, end, None)


def _turn(part: Stretch, entrance: float) -> tuple[int, int]:
    """Parts of a run to the left of an entrance from the left, those to its right from the right."""
    if part.end <= entrance:
        return (0, part.start)
    return (1, -part.start) if part.start >= entrance else (2, 0)


def _beside(stretch: Stretch, pinned: Mapping[tuple[int, int, int], Sequence[int]]) -> Stretch:
    """A stretch that knows the seams that fixtures ask for in the courses near it."""
    most = stretch.stock.courses_between
    fixed = tuple(
        (abs(away), line)
        for away in range(-most, most + 1)
        if away
        for line in pinned.get((stretch.face, stretch.zone, stretch.course + away), ())
    )
    return replace(stretch, fixed=fixed) if fixed else stretch


def _studs(plan: Plan, stock: Stock, run: Run, low: int, high: int) -> Iterator[int]:
    """Where the right board of a joint begins when the joint's middle lies on a stud.

    A joint lies where the run shows: in the lap that reaches past a slope it would cut off a board of which
    nothing is seen.
    """
    framing, half = plan.job.framing, stock.joint // 2
    first = ceil(((low - half) / stock.scale - framing.offset) / framing.spacing - 1e-9)
    last = floor(((high - half) / stock.scale - framing.offset) / framing.spacing + 1e-9)
    for number in range(first, last + 1):
        point = round((framing.offset + number * framing.spacing) * stock.scale) + half
        if low <= point <= high and run.left * stock.scale < point - half < run.right * stock.scale:
            yield point


def _entrance(elevation: Elevation, front: str, scale: float) -> float:
    """X that seams face away from: the right piece lies in front to the left of it."""
    if elevation.entrance is not None:
        return round(elevation.entrance * scale)
    return inf if front == "right" else -inf


def _hulls(elevation: Elevation) -> _Hulls:
    found: list[_Hull] = []
    for opening in elevation.openings:
        xs = [x for x, _ in opening.trimmed]
        found.append((min(xs), max(xs), opening.sill, opening.head))
    for item in elevation.fixtures:
        if item.block:
            found.append((item.left, item.right, item.bottom, item.top))
    return _Hulls(sorted(found), max((end - start for start, end, _, _ in found), default=0.0))


def _spans(
    plan: Plan, run: Run, hulls: _Hulls, rules: SeamRules, scale: float
) -> Iterator[tuple[int, int, Rule]]:
    """Where no seam should fall on a run: in a raked end, over or under an opening that it meets."""
    for left, right in run.sloped:
        yield floor(left * scale), ceil(right * scale), "raked"
    near = plan.job.limits.tolerance
    first = bisect_left(hulls.by_left, (run.left - rules.beside - hulls.widest,))
    for start, end, bottom, top in islice(hulls.by_left, first, None):
        if start - rules.beside >= run.right:
            break
        left, right = start - rules.beside, end + rules.beside
        if left < run.right and right > run.left and bottom <= run.top + near and top >= run.bottom - near:
            yield floor(left * scale), ceil(right * scale), "opening"


def _asked(
    elevation: Elevation,
    run: Run,
    stretch: Stretch,
    pinned: Mapping[tuple[int, int, int], Sequence[int]],
    served: set[tuple[int, str]],
) -> Iterator[tuple[Fixture, int]]:
    """Fixtures without a block that a seam of this run serves, and where it falls, left to right.

    Rule: the panel that goes on first is cut a lap past the obstacle, so that nothing has to be threaded
    through; the next one laps over it to the obstacle's side (common practice, no source). The lowest
    course that the fixture meets has the seam: the next ones must not have theirs in line with it.
    """
    stock = stretch.stock
    if stock.on_studs:
        return
    low = stretch.low
    near = _beside(stretch, pinned).fixed
    for item in sorted(elevation.fixtures, key=lambda item: item.left):
        crossed = item.bottom < run.top and item.top > run.bottom
        if item.block or not crossed or (run.face, item.mark) in served:
            continue
        if not run.left < item.left < item.right < run.right:
            continue
        right = round(item.right * stock.scale)
        seam = right if right < stretch.entrance else round(item.left * stock.scale) - stock.lap
        line = stretch.line(seam)
        free = all(not a < line < b for a, b, _ in stretch.spans)
        free = free and all(
            abs(other - line) >= (stock.apart if away == 1 else stock.in_line) for away, other in near
        )
        if low <= seam <= stretch.high and free:
            yield item, seam
            low = seam + stock.shortest
