"""Rings and boxes against shapely, and a triangle by hand."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry.polygon import orient

from evencourse.layout.model.geometry import area, box_of, corners

POINT = st.tuples(st.integers(-500, 500), st.integers(-500, 500))


def test_a_triangle_of_four_by_three() -> None:
    """Half of 4 times 3; clockwise it is negative; the first point may stand again at the end."""
    ring = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0)]
    assert area(ring) == area([*ring, ring[0]]) == 6.0
    assert area(ring[::-1]) == -6.0
    assert box_of(ring) == (0.0, 0.0, 4.0, 3.0)
    assert corners((0.0, 0.0, 4.0, 3.0)) == ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))


@given(st.lists(POINT, min_size=4, max_size=9))
def test_area_and_box_of_a_ring_are_what_shapely_finds(points: list[tuple[int, int]]) -> None:
    hull = shapely.MultiPoint(points).convex_hull
    if hull.geom_type != "Polygon":
        return
    ring = list(orient(hull).exterior.coords)[:-1]
    assert area(ring) == pytest.approx(hull.area)
    assert box_of(ring) == hull.bounds
