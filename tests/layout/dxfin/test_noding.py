"""Lines in any order and direction, with ends that nearly meet, join into the outline they were cut from."""

from __future__ import annotations

import random
from itertools import pairwise
from math import cos, pi, sin

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout.drawings.noding import Ring, join, subdivide

Point = tuple[float, float]
GABLE = [(0.0, 0.0), (240.0, 0.0), (240.0, 96.0), (120.0, 146.0), (0.0, 96.0)]


def sides(points: list[Point]) -> list[list[Point]]:
    return [[a, b] for a, b in pairwise([*points, points[0]])]


def same(ring: Ring, points: list[Point], near: float) -> bool:
    one, other = shapely.Polygon(ring.points), shapely.Polygon(points)
    return bool(shapely.hausdorff_distance(one.exterior, other.exterior) <= near)


@st.composite
def walls(draw: st.DrawFn) -> list[Point]:
    """A wall of 3 to 12 corners, none of them on the line between its neighbours."""
    count = draw(st.integers(3, 12))
    chance = random.Random(draw(st.integers(0, 10**6)))
    turns = sorted(chance.uniform(0, 2 * pi / count * 0.7) + 2 * pi * k / count for k in range(count))
    return [(200 + r * cos(turn), 100 + r * sin(turn)) for turn in turns for r in (chance.uniform(60, 100),)]


@given(walls(), st.integers(0, 10**6))
@settings(max_examples=60, deadline=None)
def test_cut_shuffled_and_turned_sides_join_into_their_wall(wall: list[Point], seed: int) -> None:
    chance = random.Random(seed)
    off = 0.02

    def near(point: Point) -> Point:
        return (point[0] + chance.uniform(-off, off), point[1] + chance.uniform(-off, off))

    strokes = [[near(a), near(b)] for a, b in sides(wall)]
    strokes = [stroke if chance.random() < 0.5 else stroke[::-1] for stroke in strokes]
    chance.shuffle(strokes)
    rings, strands = join(strokes, 0.0625)
    assert strands == []
    assert len(rings) == 1
    assert shapely.Polygon(rings[0].points).exterior.is_ccw
    assert same(rings[0], wall, 2 * 0.0625 + 2 * off)  # a sharp corner moves farther than its ends
    assert sorted(rings[0].members) == list(range(len(strokes)))


@given(walls(), st.integers(0, 10**6))
@settings(max_examples=30, deadline=None)
def test_exact_sides_give_exact_corners(wall: list[Point], seed: int) -> None:
    strokes = sides(wall)
    random.Random(seed).shuffle(strokes)
    rings, _ = join(strokes, 0.0625)
    assert set(rings[0].points) == set(wall)


def test_lines_that_fall_short_meet_where_they_would_cross() -> None:
    """Base and right side each end 0.03 before the corner at 240, 0."""
    strokes = [[(0.0, 0.0), (239.97, 0.0)], [(240.0, 0.03), (240.0, 96.0)], [(240.0, 96.0), (0.0, 0.0)]]
    rings, _ = join(strokes, 0.0625)
    assert any(point == pytest.approx((240, 0), abs=1e-9) for point in rings[0].points)


def test_a_gap_wider_than_the_tolerance_stays_open() -> None:
    strokes = sides(GABLE)
    strokes[2][1] = (121.0, 146.0)
    rings, strands = join(strokes, 0.0625)
    assert rings == []
    assert [strand.gap for strand in strands] == [pytest.approx(1.0)]
    assert len(join(strokes, 1.5)[0]) == 1


def test_a_line_drawn_twice_counts_once() -> None:
    strokes = [*sides(GABLE), [(240.0, 0.0), (0.0, 0.0)]]
    rings, strands = join(strokes, 0.0625)
    assert strands == []
    assert same(rings[0], GABLE, 1e-9)


def test_a_line_from_corner_to_corner_leaves_the_outside() -> None:
    """The eave drawn across under the gable."""
    rings, strands = join([*sides(GABLE), [(0.0, 96.0), (240.0, 96.0)]], 0.0625)
    assert strands == []
    assert [ring.divided for ring in rings] == [True]
    assert same(rings[0], GABLE, 1e-9)


def test_a_wall_in_two_pieces_of_base_has_one_base() -> None:
    strokes = [[(0.0, 0.0), (100.0, 0.0)], [(100.0, 0.0), (240.0, 0.0)], *sides(GABLE)[1:]]
    rings, _ = join(strokes, 0.0625)
    assert len(rings[0].points) == len(GABLE)


def test_two_houses_side_by_side_are_two() -> None:
    beside = [(x + 500, y) for x, y in GABLE]
    strokes = [*sides(GABLE), *sides(beside)]
    random.Random(1).shuffle(strokes)
    assert len(join(strokes, 0.0625)[0]) == 2


def test_an_arc_and_a_line_close() -> None:
    arc = [(10 * cos(pi * k / 40), 10 * sin(pi * k / 40)) for k in range(41)]
    rings, _ = join([arc, [(-10.0, 0.0), (10.0, 0.01)]], 0.0625)
    assert shapely.Polygon(rings[0].points).area == pytest.approx(pi * 50, rel=0.01)


def test_lines_in_a_tangle_are_refused_before_their_ends_are_set(monkeypatch: pytest.MonkeyPatch) -> None:
    """Setting ends of long lines at random takes a minute; they cross too often, which is seen first."""

    def never(*given: object) -> None:
        raise AssertionError(given)

    monkeypatch.setattr("evencourse.layout.drawings.noding._Pieces.set_ends", never)
    rolled = random.Random(7)
    strokes = [[(rolled.random(), rolled.random()) for _ in range(2)] for _ in range(3000)]
    assert subdivide(strokes, 1e-4).overfull
