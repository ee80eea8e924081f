"""Vinyl Siding Installation Manual, Vinyl Siding Institute: gaps, laps and nails of panels."""

from __future__ import annotations

import pytest

from layout.claddings import profiles

PANELS = [name for name, siding in profiles("in").items() if siding.family == "panel"]


@pytest.mark.parametrize("name", PANELS)
def test_a_quarter_inch_at_panel_ends_and_three_eighths_in_the_cold(name: str) -> None:
    siding = profiles("in")[name]
    assert (siding.end_gap, siding.end_gap_cold, siding.cold) == (0.25, 0.375, 40)


@pytest.mark.parametrize("name", PANELS)
def test_panels_lap_an_inch_and_foam_backed_ones_by_twice_the_foams_recess(name: str) -> None:
    siding = profiles("in")[name]
    # foam held back 5/8 in from each end, so the vinyl laps 1-1/4: common practice, no source
    assert siding.end_lap == (2 * siding.foam_recess if siding.foam_recess else 1)
    assert siding.foam_recess in (0, 0.625)


@pytest.mark.parametrize("name", PANELS)
def test_nails_are_sixteen_inches_apart_at_most(name: str) -> None:
    assert profiles("in")[name].nail_spacing == 16
