"""An opening is what its outline says, and its box where the outline says nothing that a job can hold."""

from __future__ import annotations

from math import cos, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencourse.layout.drawings.opening_shapes import recognised
from evencourse.layout.model.job import Opening, OpeningShape

#: An inch divided as a tape is, and the tolerance that a drawing gets.
PARTS, NEAR = 16, 1 / 16


@st.composite
def openings(draw: st.DrawFn) -> Opening:
    shape: OpeningShape = draw(st.sampled_from(["rectangle", "round", "half-round", "arch", "triangle"]))
    width = draw(st.integers(12 * PARTS, 96 * PARTS)) / PARTS
    height = draw(st.integers(12 * PARTS, 96 * PARTS)) / PARTS
    rise = 0.0
    if shape == "round":
        height = width
    elif shape == "half-round":
        rise, height = width / 2, max(height, width / 2)
    elif shape == "arch":
        rise = draw(st.integers(round(width / 6 * PARTS), round(width / 2.2 * PARTS))) / PARTS
        height = max(height, rise)
    left = draw(st.integers(-100 * PARTS, 400 * PARTS)) / PARTS
    return Opening("A", "window", shape, left, draw(st.integers(-40, 200)) / 1, width, height, rise)


@given(openings())
@settings(max_examples=150, deadline=None)
def test_every_shape_of_a_job_is_recognised(opening: Opening) -> None:
    found = recognised(opening.outline(), NEAR)
    assert found.exact
    assert found.shape == opening.shape
    assert found.box == pytest.approx((opening.left, opening.bottom, opening.right, opening.top), abs=1e-9)
    assert found.rise == pytest.approx(opening.rise, abs=1e-9)


def test_a_drafters_small_errors_do_not_matter() -> None:
    assert recognised([(0, 0), (36, 0.02), (36.03, 48), (-0.01, 48)], NEAR).shape == "rectangle"
    assert recognised([(0, 0), (36, 0.02), (36.03, 48), (-0.01, 48)], NEAR).exact


@pytest.mark.parametrize(
    "ring",
    [
        [(0, 0), (30, 10), (20, 40), (-10, 30)],  # turned
        [(0, 0), (36, 0), (36, 48), (12, 48)],  # one corner cut off
        [(0, 0), (36, 0), (36, 20), (18, 60), (0, 20)],  # a point on a box
        [(0, 0), (40, 0), (10, 30)],  # a triangle out of the middle
        [(10 * cos(pi * k / 4), 10 * sin(pi * k / 4)) for k in range(8)],  # eight-sided
        [(20 * cos(pi * k / 40), 10 * sin(pi * k / 40)) for k in range(80)],  # an ellipse
        [(0, 0), (36, 0), (36, 48), (20, 48), (20, 30), (0, 30)],  # an L
    ],
)
def test_other_outlines_have_their_box_and_say_so(ring: list[tuple[float, float]]) -> None:
    found = recognised(ring, NEAR)
    assert (found.shape, found.exact) == ("rectangle", False)
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    assert found.box == (min(xs), min(ys), max(xs), max(ys))
