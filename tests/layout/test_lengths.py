"""Lengths as written and as a tape reads them: worked by hand; 1 in = 25.4 mm (international inch)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencourse.layout.model.errors import LengthError
from evencourse.layout.model.lengths import WANTED, parse_length, round_length, show_length

MARKS = [1 / 2, 1 / 4, 1 / 8, 1 / 16, 1 / 32, 1 / 64]


@pytest.mark.parametrize(
    ("written", "inches"),
    [
        (36.5, 36.5),
        (36, 36),
        (-4, -4),
        ("36", 36),
        ("36-1/2", 36.5),
        ("36 1/2", 36.5),
        ("36-½", 36.5),
        ("-½", -0.5),
        ("- 3 ⅝", -3.625),
        ("36.5", 36.5),
        ("36.", 36),
        (".5", 0.5),
        ('36-1/2"', 36.5),
        ("36-1/2 in", 36.5),
        ("36-1/2 inches", 36.5),
        ("14' 3-1/2\"", 171.5),
        ("14'-3 1/2", 171.5),
        ("14'3-1/2", 171.5),
        ("14' 3.5", 171.5),
        ("14ft 3-1/2in", 171.5),
        ("14 feet 3-1/2 inches", 171.5),
        ("14' 1/2", 168.5),
        ("14'", 168),
        ("1 foot", 12),
        ("21' 0-13/16\"", 252.8125),
        ("1/2", 0.5),
        ("-2 3/8", -2.375),
        ("- 2' 6", -30),
        ("-2'-6\"", -30),
        ("½", 0.5),
        ("3⅝", 3.625),
        ("3 ⅝", 3.625),
        ("−3⅝", -3.625),
        ("14′ 3½″", 171.5),
        ("14’ 3½”", 171.5),
        ("1⁄4", 0.25),
        ("3\u00a01/2", 3.5),
        ("  36-1/2  ", 36.5),
        ("254 mm", 10),
        ("25.4 cm", 10),
        ("-0.254m", -10),
        ("1000'", 12000),
        (12000, 12000),
        ("0", 0),
    ],
)
def test_what_a_crew_writes_is_read_in_inches(written: object, inches: float) -> None:
    assert parse_length(written, "in") == pytest.approx(inches, abs=1e-12)


@pytest.mark.parametrize(
    ("written", "millimetres"),
    [
        (900, 900),
        ("900", 900),
        ("36-1/2", 36.5),
        ("4356 mm", 4356),
        ("435.6 cm", 4356),
        ("4.356 m", 4356),
        ("1 1/2 m", 1500),
        ("-12mm", -12),
        ('1"', 25.4),
        ("1/2 in", 12.7),
        ("1'", 304.8),
        ("1' 6", 457.2),
        ("-2' 6\"", -762),
    ],
)
def test_a_metric_job_takes_feet_and_inches_where_they_are_marked(
    written: object, millimetres: float
) -> None:
    assert parse_length(written, "mm") == pytest.approx(millimetres, abs=1e-12)


@pytest.mark.parametrize(
    ("written", "found", "wanted"),
    [
        ("½4", '"½4"', WANTED),
        ("3 ½0", '"3 ½0"', WANTED),
        ("14-3", '"14-3"', "14' 3\" for feet and inches, 14-3/16 or the like for a fraction"),
        ("5 6", '"5 6"', "5' 6\" for feet and inches, 5-6/16 or the like for a fraction"),
        ("-5 6", '"-5 6"', "5' 6\" for feet and inches, 5-6/16 or the like for a fraction"),
        ("36 - 1/2", '"36 - 1/2"', WANTED),
        ("36 -1/2", '"36 -1/2"', WANTED),
        ("36 -½", '"36 -½"', WANTED),
        ("14-36", '"14-36"', "14-1/2 or the like for a whole number and a fraction"),
        ("14.5'", '"14.5\'"', "feet and inches: 14' 6\" instead of 14.5'"),
        ("1,5", '"1,5"', "a point for the decimal and nothing between thousands"),
        ("1,200 mm", '"1,200 mm"', "a point for the decimal and nothing between thousands"),
        ("3' 12", '"3\' 12"', "inches below 12 after the feet"),
        ("3-3/2", '"3-3/2"', "a fraction below one after the whole number"),
        ("3-1/0", '"3-1/0"', "a fraction with something below the line"),
        ("1/0", '"1/0"', "a fraction with something below the line"),
        ("", '""', WANTED),
        ("-", '"-"', WANTED),
        ("--5", '"--5"', WANTED),
        ("+5", '"+5"', WANTED),
        ("1e3", '"1e3"', WANTED),
        ("about 36", '"about 36"', WANTED),
        ("3' -1/2 mm", '"3\' -1/2 mm"', WANTED),
        ("36 yd", '"36 yd"', WANTED),
        ("½ ½", '"½ ½"', WANTED),
        ("٣", '"٣"', WANTED),
        ("nan", '"nan"', WANTED),
        ("1" * 65, "'11111111111111111111' … (65 characters)", WANTED),
        (True, "true", WANTED),
        (None, "nothing", WANTED),
        ([1], "a list", WANTED),
        ({}, "a table", WANTED),
        (float("nan"), "nan", WANTED),
        (float("-inf"), "-inf", WANTED),
        ("1001'", '"1001\'"', "a length of less than 1000 feet"),
        (12000.5, "12000.5", "a length of less than 1000 feet"),
        (10**400, "a number of more than 64 digits", "a length of less than 1000 feet"),
    ],
)
def test_a_length_that_must_be_guessed_is_refused_and_told_why(
    written: object, found: str, wanted: str
) -> None:
    with pytest.raises(LengthError) as refused:
        parse_length(written, "in")
    assert (refused.value.found, refused.value.wanted) == (found, wanted)


@pytest.mark.parametrize(
    ("inches", "shown"),
    [
        (35.5, "2' 11-1/2\""),
        (252.8125, "21' 0-13/16\""),
        (12, "1' 0\""),
        (11.96875, "1' 0\""),
        (11.9375, '11-15/16"'),
        (24.5, "2' 0-1/2\""),
        (0.5, '1/2"'),
        (0, '0"'),
        (-2.375, '-2-3/8"'),
        (-30.5, "-2' 6-1/2\""),
        (-0.01, '0"'),
        (-0.03125, '0"'),
        (3.03125, '3-1/16"'),
        (10 + 1 / 6, '10-3/16"'),
    ],
)
def test_shown_as_a_tape_reads_it(inches: float, shown: str) -> None:
    assert show_length(inches, "in", 1 / 16) == shown


def test_inches_alone_where_a_table_asks_for_them() -> None:
    assert show_length(35.5, "in", 1 / 16, feet=False) == '35-1/2"'
    assert show_length(-252.8125, "in", 1 / 16, feet=False) == '-252-13/16"'


def test_a_tape_marked_in_tenths_shows_tenths() -> None:
    assert show_length(3.14, "in", 0.1) == '3.1"'
    assert show_length(15.14, "in", 0.1) == "1' 3.1\""
    assert show_length(15.5, "in", 0.1) == "1' 3.5\""
    assert show_length(12.05, "in", 0.05) == "1' 0.05\""


@pytest.mark.parametrize(
    ("millimetres", "mark", "shown"),
    [
        (1234.4, 1, "1234"),
        (1234.5, 1, "1235"),
        (-0.4, 1, "0"),
        (-0.5, 1, "0"),
        (-0.6, 1, "-1"),
        (7.46, 0.5, "7.5"),
    ],
)
def test_millimetres_without_a_unit(millimetres: float, mark: float, shown: str) -> None:
    assert show_length(millimetres, "mm", mark) == shown


def test_halfway_between_two_marks_goes_up() -> None:
    assert round_length(1.03125, 1 / 16) == 1.0625
    assert round_length(-1.03125, 1 / 16) == -1
    assert round_length(2.5, 1) == 3
    # a third of a foot lands a hair under its mark in binary; the tape still reads the mark
    assert round_length(0.1 + 0.2, 0.1) == pytest.approx(0.3)


@given(mark=st.sampled_from(MARKS), steps=st.integers(-700_000, 700_000), feet=st.booleans())
def test_every_mark_on_the_tape_reads_back(mark: float, steps: int, feet: bool) -> None:
    value = max(-12_000.0, min(12_000.0, steps * mark))
    assert parse_length(show_length(value, "in", mark, feet), "in") == value


@given(
    steps=st.integers(-110_000, 110_000), mark=st.sampled_from([0.1, 0.05, 0.02, 0.01]), feet=st.booleans()
)
def test_every_decimal_mark_reads_back(steps: int, mark: float, feet: bool) -> None:
    shown = show_length(steps * mark, "in", mark, feet)
    assert parse_length(shown, "in") == pytest.approx(steps * mark, abs=1e-9)
    assert "/" not in shown


SPELLINGS = (
    "{feet}' {inches}-{over}/64\"", "{feet}'-{inches} {over}/64", "{feet}ft {inches} {over}/64 in",
    "{feet}′{inches}-{over}⁄64″", "{all}-{over}/64", "{all} {over}/64\"", "{all}.{decimal:06d}", "{mm} mm",
)  # fmt: skip


@given(
    feet=st.integers(1, 900),
    inches=st.integers(0, 11),
    over=st.integers(1, 63),
    minus=st.sampled_from(["", "-", "− "]),
)
def test_every_spelling_of_a_length_is_the_same_length(feet: int, inches: int, over: int, minus: str) -> None:
    whole = 12 * feet + inches
    value = (whole + over / 64) * (-1 if minus else 1)
    for spelling in SPELLINGS:
        written = minus + spelling.format(
            feet=feet, inches=inches, over=over, all=whole, decimal=over * 10**6 // 64, mm=abs(value) * 25.4
        )
        assert parse_length(written, "in") == pytest.approx(value, abs=1e-9)
        if spelling not in SPELLINGS[4:7:2]:  # those carry no unit: millimetres in a metric job
            assert parse_length(written, "mm") == pytest.approx(value * 25.4, abs=1e-7)


@given(steps=st.integers(-300_000, 300_000), mark=st.sampled_from([1, 0.5, 0.1, 5]))
def test_every_millimetre_reads_back(steps: int, mark: float) -> None:
    value = max(-304_800.0, min(304_800.0, steps * mark))
    assert parse_length(show_length(value, "mm", mark), "mm") == pytest.approx(value, abs=1e-9)


@given(value=st.floats(-11_990, 11_990), mark=st.sampled_from(MARKS), feet=st.booleans())
def test_what_is_shown_lies_within_half_a_mark_and_is_never_minus_nothing(
    value: float, mark: float, feet: bool
) -> None:
    shown = show_length(value, "in", mark, feet)
    assert abs(parse_length(shown, "in") - value) <= mark / 2 * (1 + 1e-4)
    assert shown != '-0"'


@pytest.mark.long
@given(st.text(max_size=70))
def test_any_text_is_read_or_refused_and_nothing_else(text: str) -> None:
    try:
        length = parse_length(text, "in")
    except LengthError as refused:
        assert refused.wanted
    else:
        assert abs(length) <= 12_000
