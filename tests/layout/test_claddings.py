"""The shipped profiles, and what a job makes of them."""

from __future__ import annotations

import tomllib
from dataclasses import fields
from pathlib import Path

import pytest

import evencourse.layout.trade.profiles
from evencourse.layout.model.cladding import FAMILIES, Cladding
from evencourse.layout.trade.profiles import (
    COUNTS,
    LENGTHS,
    NUMBERS,
    WORDS,
    build_cladding,
    profile_names,
    profiles,
)

SHIPPED = profiles("in")
PANELS = [name for name, made in SHIPPED.items() if made.family == "panel"]
BOARDS = [name for name, made in SHIPPED.items() if made.family == "lap"]


@pytest.mark.parametrize("name", profile_names())
def test_every_profile_loads_with_sensible_values_and_names_its_source(name: str) -> None:
    made = SHIPPED[name]
    assert made.name == made.profile == name
    assert made.family in FAMILIES
    assert 0 < made.exposure_min <= made.exposure <= made.exposure_max
    assert 0 <= made.projection_top <= made.projection
    assert made.faces >= 1
    assert made.nail_spacing > 0
    assert (made.length > 0) == (made.family != "shingle")
    assert made.label and made.material
    assert len(made.source) > 20


# Generic trade sizes, values from memory: exposure, faces, length, pieces and squares in a carton.
@pytest.mark.parametrize(
    ("name", "exposure", "faces", "length", "carton", "squares"),
    [
        ("double-4", 8, 2, 150, 24, 2),
        ("double-4.5", 9, 2, 145, 22, 2),
        ("double-5", 10, 2, 144, 20, 2),
        ("triple-3", 9, 3, 145, 22, 2),
        ("single-6.5", 6.5, 1, 150, 0, 0),
        ("single-8", 8, 1, 150, 0, 0),
        ("foam-double-4", 8, 2, 200, 0, 0),
        ("foam-double-6", 12, 2, 200, 0, 0),
        ("bevel-6", 4.5, 1, 192, 0, 0),
        ("bevel-8", 6.25, 1, 192, 0, 0),
        ("bevel-10", 8.25, 1, 192, 0, 0),
        ("bevel-12", 10, 1, 192, 0, 0),
        ("fiber-cement-5.25", 4, 1, 144, 0, 0),
        ("fiber-cement-6.25", 5, 1, 144, 0, 0),
        ("fiber-cement-7.25", 6, 1, 144, 0, 0),
        ("fiber-cement-8.25", 7, 1, 144, 0, 0),
        ("fiber-cement-9.25", 8, 1, 144, 0, 0),
        ("fiber-cement-12", 10.75, 1, 144, 0, 0),
        ("shingle-16", 5, 1, 0, 0, 0),
        ("shingle-18", 5.5, 1, 0, 0, 0),
        ("shingle-24", 7.5, 1, 0, 0, 0),
    ],
)
def test_generic_trade_sizes(
    name: str, exposure: float, faces: int, length: float, carton: int, squares: float
) -> None:
    made = SHIPPED[name]
    assert (made.exposure, made.faces, made.length) == (exposure, faces, length)
    assert (made.carton, made.carton_squares) == (carton, squares)


@pytest.mark.parametrize("name", ["double-4", "double-4.5", "double-5", "triple-3"])
def test_a_carton_covers_the_squares_it_says(name: str) -> None:
    made = SHIPPED[name]
    assert made.carton * made.length * made.exposure / 14400 == pytest.approx(made.carton_squares, rel=0.01)


@pytest.mark.parametrize("name", PANELS)
def test_a_panel_has_one_exposure(name: str) -> None:
    made = SHIPPED[name]
    assert made.fixed
    assert made.exposure_min == made.exposure == made.exposure_max


@pytest.mark.parametrize("name", BOARDS)
def test_a_board_shows_no_more_than_its_width_less_its_least_lap(name: str) -> None:
    # 1 in for bevel siding (Builder 3 & 2 Vol. 2, ch. 4); 1-1/4 in for fiber cement (IRC R703.10.2, from
    # memory)
    made = SHIPPED[name]
    lap = 1.0 if name.startswith("bevel") else 1.25
    assert made.exposure_max == made.width - lap


@pytest.mark.parametrize(("name", "inches"), [("shingle-16", 7.5), ("shingle-18", 8.5), ("shingle-24", 11.5)])
def test_single_coursed_shingles_show_no_more_than_the_code_lets_them(name: str, inches: float) -> None:
    # National Home Improvement Estimator, fig. 6-14; IRC Table R703.6.1
    assert SHIPPED[name].exposure_max == inches


def test_every_property_of_a_cladding_can_be_overridden() -> None:
    names = {field.name for field in fields(Cladding)} - {"name", "profile"}
    assert names == {*LENGTHS, *COUNTS, *NUMBERS, *WORDS}
    overrides: dict[str, float | str] = {key: 50.0 + index for index, key in enumerate((*LENGTHS, *COUNTS))}
    overrides |= {
        "cold": 35.0,
        "carton_squares": 3.0,
        "family": "lap",
        "label": "x",
        "material": "y",
        "source": "z",
    }
    made = build_cladding("main", "double-4", overrides, "in")
    assert {key: getattr(made, key) for key in overrides} == overrides


def test_more_lap_lowers_the_greatest_exposure_and_takes_the_nominal_one_along() -> None:
    # 8-1/4 in board, 1-1/2 in lap: 6-3/4 in at most, so the nominal 7 in comes down to it
    made = build_cladding("main", "fiber-cement-8.25", {"lap": 1.5}, "in")
    assert (made.exposure_max, made.exposure) == (6.75, 6.75)


def test_a_given_greatest_exposure_stands() -> None:
    made = build_cladding("main", "fiber-cement-8.25", {"exposure_max": 6.5}, "in")
    assert (made.exposure_max, made.exposure, made.exposure_min) == (6.5, 6.5, 5.5)


def test_a_given_nominal_exposure_below_the_least_lowers_the_least() -> None:
    made = build_cladding("main", "bevel-8", {"exposure": 4.5}, "in")
    assert (made.exposure_min, made.exposure, made.exposure_max) == (4.5, 4.5, 6.25)


def test_an_overridden_panel_still_has_one_exposure() -> None:
    made = build_cladding("main", "double-4", {"exposure": 8.25}, "in")
    assert (made.exposure_min, made.exposure, made.exposure_max) == (8.25, 8.25, 8.25)
    assert made.face == 4.125


def test_foam_held_back_five_eighths_at_each_end_laps_the_vinyl_an_inch_and_a_quarter() -> None:
    # common practice, no source: foam butts foam, so the lap is twice the recess
    assert build_cladding("main", "double-4", {"foam_recess": 0.625}, "in").end_lap == 1.25
    assert SHIPPED["foam-double-4"].end_lap == 2 * SHIPPED["foam-double-4"].foam_recess == 1.25
    given_lap = build_cladding("main", "double-4", {"foam_recess": 0.625, "end_lap": 1.0}, "in")
    assert given_lap.end_lap == 1.0


@pytest.mark.parametrize("name", profile_names())
def test_millimetres_are_25_4_to_the_inch_in_every_length_and_nothing_else(name: str) -> None:
    metric, inches = profiles("mm")[name], SHIPPED[name]
    for field in fields(Cladding):
        mine, theirs = getattr(metric, field.name), getattr(inches, field.name)
        if field.name in LENGTHS:
            assert mine == pytest.approx(25.4 * theirs), field.name
        else:
            assert mine == theirs, field.name


def test_an_override_in_a_metric_job_is_in_millimetres() -> None:
    # 180 mm board, 32 mm lap: 148 mm at most
    made = build_cladding("main", "fiber-cement-7.25", {"width": 180, "lap": 32, "exposure": 145}, "mm")
    assert (made.width, made.exposure, made.exposure_max) == (180, 145, 148)


def test_unknown_profiles_and_properties_are_refused() -> None:
    with pytest.raises(KeyError, match="double-7"):
        build_cladding("main", "double-7", {}, "in")
    with pytest.raises(KeyError, match="colour"):
        build_cladding("main", "double-4", {"colour": "grey"}, "in")


def test_the_data_holds_no_key_that_is_never_read() -> None:
    data = tomllib.loads(
        (Path(evencourse.layout.trade.profiles.__file__).parent / "claddings.toml").read_text("utf-8")
    )
    known = {*LENGTHS, *COUNTS, *NUMBERS, *WORDS, "lap"}
    for table in (*data["profile"].values(), *data["family"].values()):
        assert set(table) <= known
