"""Labels spread along a line, checked against a general solver; boxes and shortened texts by hand."""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.optimize import minimize

from evencourse.render.drawing.crowd import Crowd
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.placement import (
    Box,
    Occupied,
    fitted,
    polygon_meets,
    polygons_meet,
    segment_meets,
    segments_cross,
    spread,
)


def cost(places: list[float], wanted: list[float]) -> float:
    return sum((a - b) ** 2 for a, b in zip(places, wanted, strict=True))


def solved(wanted: list[float], sizes: list[float], low: float, high: float) -> float:
    """Least sum of squared moves by SciPy's SLSQP, which knows nothing of pools."""
    count = len(wanted)
    limits = [
        {"type": "ineq", "fun": lambda x, k=k: x[k + 1] - x[k] - (sizes[k] + sizes[k + 1]) / 2}
        for k in range(count - 1)
    ]
    limits += [
        {"type": "ineq", "fun": lambda x: x[0] - sizes[0] / 2 - low},
        {"type": "ineq", "fun": lambda x: high - x[-1] - sizes[-1] / 2},
    ]
    at, start = low, []
    for size in sizes:
        start.append(at + size / 2)
        at += size
    found = minimize(
        lambda x: float(np.sum((x - np.array(wanted)) ** 2)), start, constraints=limits, method="SLSQP"
    )
    assert found.success
    return float(found.fun)


@pytest.mark.parametrize("seed", range(40))
def test_spread_moves_labels_no_more_than_a_general_solver(seed: int) -> None:
    chance = random.Random(seed)
    count = chance.randint(1, 7)
    wanted = sorted(chance.uniform(0, 60) for _ in range(count))
    sizes = [chance.uniform(3, 12) for _ in range(count)]
    low, high = -5.0, max(65.0, sum(sizes) + 5)
    places = spread(wanted, sizes, low, high)
    for k in range(count - 1):
        assert places[k + 1] - places[k] >= (sizes[k] + sizes[k + 1]) / 2 - 1e-9
    assert places[0] - sizes[0] / 2 >= low - 1e-9
    assert places[-1] + sizes[-1] / 2 <= high + 1e-9
    assert cost(places, wanted) <= solved(wanted, sizes, low, high) + 1e-4


def test_labels_that_keep_clear_stay_where_they_are() -> None:
    assert spread([1.0, 10.0], [4.0, 4.0]) == [1.0, 10.0]


def test_two_labels_for_one_height_part_evenly() -> None:
    assert spread([5.0, 5.0], [4.0, 4.0]) == [3.0, 7.0]


def test_a_text_that_is_too_long_is_shortened_and_says_so() -> None:
    short = fitted("Window with a very long mark", 20.0, 2.5)
    assert short.endswith("…")
    assert text_width(short, 2.5) <= 20.0
    assert fitted("A", 20.0, 2.5) == "A"


def test_a_place_is_free_when_it_touches_neither_box_nor_wall_nor_heavy_line() -> None:
    wall = ((0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (0.0, 5.0))
    taken = Occupied([Box(20, 0, 25, 5)], [wall], [((30.0, 0.0), (30.0, 9.0))])
    assert taken.free(Box(11, 1, 19, 4))
    assert not taken.free(Box(9, 1, 15, 4))
    assert not taken.free(Box(21, 1, 22, 2))
    assert not taken.free(Box(29, 1, 31, 2))
    assert taken.first_free([Box(9, 1, 15, 4), Box(11, 1, 19, 4)]) == Box(11, 1, 19, 4)
    assert not taken.free(Box(12, 2, 13, 3))


def test_shapes_that_share_only_a_rim_do_not_meet() -> None:
    wall = ((0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (0.0, 5.0))
    assert not polygon_meets(wall, Box(10, 0, 12, 5))
    assert polygon_meets(wall, Box(2, 2, 3, 3))
    assert polygon_meets(wall, Box(-5, -5, 20, 20))
    assert polygons_meet(wall, ((9.0, 4.0), (20.0, 4.0), (20.0, 9.0)))
    assert not polygons_meet(wall, ((11.0, 4.0), (20.0, 4.0), (20.0, 9.0)))
    assert segment_meets((0, 0), (10, 10), Box(4, 4, 6, 6))
    assert not segment_meets((0, 0), (10, 0), Box(4, 4, 6, 6))


def test_a_crowd_judges_boxes_and_lines_as_one_by_one() -> None:
    """Many places at once are the same as each alone; the first that is free and reached is taken."""
    chance = random.Random(5)

    def number() -> float:
        return round(chance.uniform(0, 40), 1)

    def box() -> Box:
        left, bottom = number(), number()
        return Box(left, bottom, left + chance.choice((0.5, 2.0, 5.0)), bottom + chance.choice((0.5, 2.0)))

    for _ in range(60):
        boxes = [box() for _ in range(8)]
        lines = [((number(), number()), (number(), number())) for _ in range(3)]
        lines.append(((5.0, 0.0), (5.0, 20.0)))
        crowd = Crowd()
        crowd.take(*boxes)
        crowd.draw(*lines)
        at, places = (number(), number()), [box() for _ in range(90)]
        wide = [Box(one.left, one.bottom, one.left + 3.0, one.bottom + 2.0) for one in places]
        free = [
            one
            for one in wide
            if not any(one.meets(other) for other in boxes)
            and not any(segment_meets(start, end, one) for start, end in lines)
        ]
        assert [one for one in wide if crowd.free(one)] == free
        reached = []
        for one in free:
            end = (min(max(at[0], one.left), one.right), min(max(at[1], one.bottom), one.top))
            clear = not any(segment_meets(at, end, other) for other in boxes) and not any(
                segments_cross(at, end, *line) for line in lines
            )
            assert crowd.passes(at, end) == clear
            reached += [one] if clear else []
        lefts, feet = np.array([one.left for one in wide]), np.array([one.bottom for one in wide])
        assert crowd.first_place(at, lefts, feet, (3.0, 2.0)) == (reached[0] if reached else None)
