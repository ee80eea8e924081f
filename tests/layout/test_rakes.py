"""Cuts along sloping edges, worked out by hand."""

from __future__ import annotations

from math import atan, degrees, hypot

import pytest

from layout.rakes import rake
from layout.wall import Side


def test_six_in_twelve_over_an_eight_inch_course() -> None:
    # 16 ft of run at 6 in 12 rises 96 in: rake sqrt(192^2 + 96^2) = 214.66; 8 up is 16 over
    found = rake(Side((0, 107), (192, 203), False), (8.0,))
    assert found.pitch == pytest.approx(6)
    assert found.angle == pytest.approx(degrees(atan(0.5)))
    assert found.from_square == pytest.approx(63.435, abs=5e-4)
    assert found.run_per_exposure == pytest.approx(16)
    assert found.rake_length == pytest.approx(214.66, abs=5e-3)
    assert found.hand == "left"
    assert (found.start, found.end) == ((0, 107), (192, 203))


def test_the_saws_scale_ends_at_fifty_degrees_from_square() -> None:
    # 10 in 12 leans 50.19 from square, 12 in 12 leans 45
    assert rake(Side((0, 0), (12, 10), False), (8.0,)).past_saw
    assert not rake(Side((0, 0), (12, 12), False), (8.0,)).past_saw
    assert not rake(Side((0, 0), (12, 10.25), False), (8.0,)).past_saw  # leans 49.5


def test_hands() -> None:
    up, down = ((0, 0), (12, 6)), ((0, 6), (12, 0))
    assert rake(Side(*up, False), (8.0,)).hand == "left"
    assert rake(Side(*down, False), (8.0,)).hand == "right"
    assert rake(Side(*up, True), (8.0,)).hand == "right"  # the wall above it ends on the roof to its right
    assert rake(Side(*down, True), (8.0,)).hand == "left"


def test_each_band_that_meets_the_rake_has_its_layout() -> None:
    found = rake(Side((0, 0), (120, 60), False), (8.0, 7.5))
    assert found.layouts == ((8.0, pytest.approx(16)), (7.5, pytest.approx(15)))
    assert found.rake_length == pytest.approx(hypot(120, 60))
