"""Where a face that takes several sheets is cut: near equal parts, through no opening and no fixture."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import ceil, floor

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.model.tolerance import SAME
from evencourse.render.drawing.placement import Box, box_of

#: How far a match line keeps off an opening, as a share of the wall's width or height.
_CLEAR = 0.01
#: Match lines lie on whole multiples of this from the left, so that a tape finds them [job units].
_MARK = {"in": 1.0, "mm": 10.0}
#: How far a match line moves out of an opening's way, as a share of a part; farther on it cuts through.
_SHIFT = 0.4


def grids(count: int) -> Iterator[tuple[int, int]]:
    """Ways to cut a face into so many parts, the fewest parts over each other first: down, across."""
    for down in range(1, count + 1):
        if count % down == 0:
            yield down, count // down


def windows(
    plan: Plan,
    face: ElevationPlan,
    whole: Box,
    down: int,
    across: int,
    up: float = 0.0,
    along: float = 0.0,
) -> Sequence[Box | None]:
    """Parts of a face, from the left, and from the bottom up.

    Args:
        plan: the plan.
        face: one of its faces.
        whole: what is drawn of it [job units].
        down: how many parts stand over each other.
        across: how many stand side by side.
        up: how far level match lines lie over equal shares, as a share of a part.
        along: how far plumb ones lie to the right of them.
    """
    if down == across == 1:
        return (None,)
    things = [box_of(hole.trimmed) for hole in face.elevation.openings]
    things += [Box(item.left, item.bottom, item.right, item.top) for item in face.elevation.fixtures]
    mark = _MARK[plan.job.units]
    xs = _cuts(whole.left, whole.right, [(thing.left, thing.right) for thing in things], across, mark, along)
    butts = [butt for zone in face.zones for butt in plan.course_sets[zone.course_set].lines.butt_lines]
    ys = _cuts(whole.bottom, whole.top, [(thing.bottom, thing.top) for thing in things], down, over=up)
    ys = [whole.bottom, *(_on_butt(y, butts) for y in ys[1:-1]), whole.top]
    if any(right - left < SAME for left, right in (*pairwise(xs), *pairwise(ys))):
        return ()
    return tuple(
        Box(left, bottom, right, top) for bottom, top in pairwise(ys) for left, right in pairwise(xs)
    )


def _on_butt(height: float, butts: Sequence[float]) -> float:
    """A level match line on the butt line below it, so that every course is whole on one of its sheets."""
    return max((butt for butt in butts if butt <= height + SAME), default=height)


def _cuts(
    low: float,
    high: float,
    things: Sequence[tuple[float, float]],
    count: int,
    mark: float = 0.0,
    over: float = 0.0,
) -> list[float]:
    """Where match lines run: near equal shares, through no opening and no fixture where that can be had.

    Args:
        low: where the first part begins [job units].
        high: where the last one ends.
        things: what is not cut through: from and to.
        count: of parts.
        mark: lines lie on whole multiples of this from the first part's beginning; 0 for anywhere.
        over: how far lines lie past equal shares, as a share of a part.
    """
    clear, step = _CLEAR * (high - low), (high - low) / count

    def marked(at: float, way: Callable[[float], int]) -> float:
        return low + way((at - low) / mark) * mark if mark else at

    places = [marked(start - clear, floor) for start, _ in things]
    places += [marked(end + clear, ceil) for _, end in things]
    cuts = [low]
    for number in range(1, count):
        wanted = marked(low + step * (number + over), round)
        free = [
            at
            for at in (wanted, *places)
            if abs(at - wanted) <= _SHIFT * step and not any(start < at < end for start, end in things)
        ]
        cuts.append(min((abs(at - wanted), at) for at in free)[1] if free else wanted)
    return [*cuts, high]
