"""From the runs of one cladding to the tasks of the search: gaps, openings, studs, unblocked fixtures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, inf

import shapely

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation, Fixture
from evencourse.layout.pieces.run_cutting import Task
from evencourse.layout.pieces.seam_rules import Rule, SeamBook, Stretch, end_gap, seam_rules
from evencourse.layout.pieces.strips import Run
from evencourse.layout.trade.rules import rules

Key = tuple[int, int, int]


@dataclass(frozen=True)
class Part:
    """A run, or a part of one between seams that fixtures ask for.

    Attributes:
        run: index of its run.
        left: x where its first piece begins [job units].
        right: x where its last piece ends.
        fixture: mark of the fixture at its right end; None for none.
    """

    run: int
    left: float
    right: float
    fixture: str | None


@dataclass(frozen=True)
class Work:
    """What the search is asked.

    Attributes:
        book: the seams.
        tasks: one for every part.
        parts: in the order of hanging.
        capacity: length of a bar, with one saw kerf [ticks].
        length_bound: bars that no plan can do without.
    """

    book: SeamBook
    tasks: list[Task]
    parts: list[Part]
    capacity: int
    length_bound: int


def covered(plan: Plan, cladding: Cladding, run: Run) -> tuple[float, float]:
    """From where to where a run's pieces reach: end gaps taken off the long points [job units].

    Rule: the gap is measured along the wall, level (common practice, no source). A run of hardly more than
    its gaps keeps half of its width. Over a lower roof a board reaches past what shows: :func:`lapped`.
    """
    gap = min(end_gap(plan.job, cladding), run.width / 4)
    left, right = lapped(plan, cladding, run)
    return run.left - left + gap, run.right + right - gap


def lapped(plan: Plan, cladding: Cladding, run: Run) -> tuple[float, float]:
    """How far a board over a lower roof reaches past its long points, at its left and its right end.

    The long point is at its top there, and its lap, which the next course hides, goes on along the slope
    (geometry); not past the end of the wall.
    """
    lap = cladding.width - (run.head - run.foot)
    if cladding.family != "lap" or not run.sloped or lap <= 0:
        return 0.0, 0.0
    ends = plan.job.ends(plan.elevations[run.face].elevation)
    rooms = (run.left - ends[0], ends[1] - run.right)
    corners = [(float(x), float(y)) for x, y in shapely.get_coordinates(run.polygon)]
    near = 1e-6 * plan.job.inch
    left, right = (
        min(lap * _leaning(corners, (end, run.head), near), max(0.0, room))
        for end, room in zip((run.left, run.right), rooms, strict=True)
    )
    return left, right


def _leaning(corners: Sequence[tuple[float, float]], top: tuple[float, float], near: float) -> float:
    """Run over rise of the slope that climbs to a point, steeper than an eave out of level; 0 for none."""
    for start, end in pairwise(corners):
        low, high = sorted((start, end), key=lambda corner: corner[1])
        run, rise = abs(high[0] - low[0]), high[1] - low[1]
        reaches = abs(high[0] - top[0]) <= near and abs(high[1] - top[1]) <= near
        if reaches and run > near and 12 * rise > rules().limits["eave_pitch_max"] * run:
            return run / rise
    return 0.0


def prepare(plan: Plan, cladding: Cladding, runs: Sequence[Run]) -> Work:
    """Tasks for all the runs of one cladding.

    Args:
        plan: what they were cut from.
        cladding: a panel or a board.
        runs: in the order of hanging.
    """
    rules = seam_rules(plan.job, cladding)
    book = SeamBook(plan.job, rules)
    scale = book.scale
    capacity = floor(cladding.length * scale + 1e-6) + book.kerf
    work = Work(book, [], [], capacity, _length_bound(plan, cladding, runs, book))
    hulls = [_hulls(face.elevation, rules.beside) for face in plan.elevations]
    served: set[tuple[int, str]] = set()
    for index, run in enumerate(runs):
        elevation = plan.elevations[run.face].elevation
        left, right = covered(plan, cladding, run)
        spans = tuple(_spans(plan, run, hulls[run.face], scale))
        entrance = _entrance(elevation, rules.front, scale)
        ends = (floor(left * scale + 1e-6), ceil(right * scale - 1e-6))
        whole = _stretch(plan, book, run, ends, entrance, spans)
        for fixture, seam in _asked(elevation, run, book, whole, served):
            served.add((run.face, fixture.mark))
            book.fix(whole.key, _line(book, whole, seam))
            middle = (seam + book.lap) / scale
            _add(work, Part(index, left, middle, fixture.mark),
                 _stretch(plan, book, run, (ends[0], seam + book.lap), entrance, spans))  # fmt: skip
            left, ends = seam / scale, (seam, ends[1])
            whole = _stretch(plan, book, run, ends, entrance, spans)
        _add(work, Part(index, left, right, None), whole)
    return work


def _length_bound(plan: Plan, cladding: Cladding, runs: Sequence[Run], book: SeamBook) -> int:
    """Every run's covered length and the laps that it cannot avoid, over the stock length."""
    kerf, step, total = book.rules.kerf, book.step / book.scale, 0.0
    bar = cladding.length + kerf
    for run in runs:
        left, right = covered(plan, cladding, run)
        size = right - left + kerf
        fewest = 1 if size <= bar + 1e-9 else ceil((size - step) / (bar - step) - 1e-9)
        total += size + (fewest - 1) * step
    return ceil(total / bar - 1e-9)


def _add(work: Work, part: Part, stretch: Stretch) -> None:
    book = work.book
    start, end = stretch.low - book.shortest + book.step, stretch.high + book.shortest
    size = end - start
    fewest = 1 if size <= work.capacity else -((book.step - size) // (work.capacity - book.step))
    work.parts.append(part)
    extra = 0 if size <= book.unseamed else book.rules.extra
    work.tasks.append(Task(start, size, fewest, fewest + extra))
    book.add(stretch)


def _stretch(
    plan: Plan,
    book: SeamBook,
    run: Run,
    ends: tuple[int, int],
    entrance: float,
    spans: tuple[tuple[int, int, Rule], ...],
) -> Stretch:
    low, high = ends[0] + book.shortest - book.step, ends[1] + book.kerf - book.shortest
    points = tuple(_studs(plan, book, run, low, high)) if book.rules.on_studs else ()
    return Stretch((run.face, run.zone, run.number), low, high, entrance, spans, points)


def _studs(plan: Plan, book: SeamBook, run: Run, low: int, high: int) -> Iterator[int]:
    """Where the right board of a joint begins when the joint's middle lies on a stud.

    A joint lies where the run shows: in the lap that reaches past a slope it would cut off a board of which
    nothing is seen.
    """
    framing, half = plan.job.framing, book.joint // 2
    first = ceil(((low - half) / book.scale - framing.offset) / framing.spacing - 1e-9)
    last = floor(((high - half) / book.scale - framing.offset) / framing.spacing + 1e-9)
    for number in range(first, last + 1):
        point = round((framing.offset + number * framing.spacing) * book.scale) + half
        if low <= point <= high and run.left * book.scale < point - half < run.right * book.scale:
            yield point


def _entrance(elevation: Elevation, front: str, scale: float) -> float:
    """X that seams face away from: the right piece lies in front to the left of it."""
    if elevation.entrance is not None:
        return round(elevation.entrance * scale)
    return inf if front == "right" else -inf


def _hulls(elevation: Elevation, beside: float) -> list[tuple[float, float, float, float]]:
    """What seams should not fall over or under: left, right, bottom and top."""
    found = []
    for opening in elevation.openings:
        xs = [x for x, _ in opening.trimmed()]
        found.append((min(xs) - beside, max(xs) + beside, opening.sill, opening.head))
    for item in elevation.fixtures:
        if item.block:
            found.append((item.left - beside, item.right + beside, item.bottom, item.top))
    return found


def _spans(
    plan: Plan, run: Run, hulls: Sequence[tuple[float, float, float, float]], scale: float
) -> Iterator[tuple[int, int, Rule]]:
    """Where no seam should fall on a run: in a raked end, over or under an opening that it meets."""
    for left, right in run.sloped:
        yield floor(left * scale), ceil(right * scale), "raked"
    near = plan.job.limits.tolerance
    for left, right, bottom, top in hulls:
        if left < run.right and right > run.left and bottom <= run.top + near and top >= run.bottom - near:
            yield floor(left * scale), ceil(right * scale), "opening"


def _line(book: SeamBook, stretch: Stretch, seam: int) -> int:
    return seam if seam < stretch.entrance else seam + book.lap


def _asked(
    elevation: Elevation, run: Run, book: SeamBook, stretch: Stretch, served: set[tuple[int, str]]
) -> Iterator[tuple[Fixture, int]]:
    """Fixtures without a block that a seam of this run serves, and where it falls, left to right.

    Rule: the panel that goes on first is cut a lap past the obstacle, so that nothing has to be threaded
    through; the next one laps over it to the obstacle's side (common practice, no source). The lowest
    course that the fixture meets has the seam: the next ones must not have theirs in line with it.
    """
    if book.rules.on_studs:
        return
    low = stretch.low
    for item in sorted(elevation.fixtures, key=lambda item: item.left):
        crossed = item.bottom < run.top and item.top > run.bottom
        if item.block or not crossed or (run.face, item.mark) in served:
            continue
        if not run.left < item.left < item.right < run.right:
            continue
        right = round(item.right * book.scale)
        seam = right if right < stretch.entrance else round(item.left * book.scale) - book.lap
        line = _line(book, stretch, seam)
        free = all(not a < line < b for a, b, _ in stretch.spans)
        if low <= seam <= stretch.high and free and not any(book.break_of(stretch.key, line)):
            yield item, seam
            low = seam + book.shortest
