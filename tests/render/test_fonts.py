"""The font's measures against the font's own tables and a general text reader."""

import string

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from evencourse.render.drawing import fonts


@pytest.fixture(scope="module", params=["regular", "bold"])
def weight(request):
    return request.param


@pytest.fixture(scope="module")
def font(weight):
    with TTFont(fonts.font_path(weight)) as found:
        yield found


def test_no_capital_is_lower_than_asked(font):
    # The flat letters; the ISO 3098 height is that of the capitals.
    units = font["head"].unitsPerEm
    heights = [font["glyf"][letter].yMax / units / fonts.CAP_RATIO for letter in "EFHITXZ"]
    assert min(heights) >= 1
    assert max(heights) < 1.01
    assert all(font["glyf"][letter].yMin == 0 for letter in "EFHITXZ")


def test_every_figure_has_one_width(weight):
    assert len({fonts.text_width(figure, 3.5, weight) for figure in string.digits}) == 1


def test_no_ascii_character_reaches_past_ascent_and_descent(font):
    names = font.getBestCmap()
    outlines = [font["glyf"][names[ord(c)]] for c in string.printable if ord(c) in names and c != "`"]
    inked = [glyph for glyph in outlines if glyph.numberOfContours]
    units = font["head"].unitsPerEm * fonts.CAP_RATIO
    assert max(glyph.yMax for glyph in inked) / units <= fonts.ASCENT_RATIO
    assert min(glyph.yMin for glyph in inked) / units >= -fonts.DESCENT_RATIO


def test_both_weights_hold_the_same_characters():
    assert fonts.face("regular").advances.keys() == fonts.face("bold").advances.keys()


def test_width_worked_by_hand():
    # Regular, units of 1000: 2 = 497, ' = 249, space = 200, 1 = 497, - = 311, / = 350, " = 425.
    # 2' 11-1/2" = 5 figures 2485 + 249 + 200 + 311 + 350 + 425 = 4020; size 2.5 / 0.652.
    assert fonts.text_width("2' 11-1/2\"", 2.5) == pytest.approx(4.020 * 2.5 / 0.652, abs=1e-9)


def test_tape_marks_and_fractions_are_in_the_font():
    for text in ("2' 11-1/2\"", "2′ 11½″", "⅝ ⅜ ¼ ¾ ⅛ ⅞", "6:12 × 4 °", "– — · • → ≤ ≥ ±"):
        assert fonts.shown(text) == text


def test_what_the_font_lacks_is_shown_as_lacking():
    assert fonts.shown("a\tb\nc\x07d漢") == f"a b c{fonts.SUBSTITUTE}d{fonts.SUBSTITUTE}"


def test_wrap_keeps_a_tape_reading_on_one_line():
    lines = fonts.wrap("Cut course 5 at 2' 11-1/2\" up and pack 1/8", 22, 2.5)
    assert any("2' 11-1/2\"" in line for line in lines)
    assert all(fonts.text_width(line, 2.5) <= 22 for line in lines)


def test_wrap_keeps_the_lines_of_the_text():
    assert fonts.wrap("one\n\ntwo", 50, 2.5) == ["one", "", "two"]
    assert fonts.wrap("", 50, 2.5) == [""]


@given(st.text(alphabet="abcW 12'/-\n", max_size=60), st.floats(5, 60))
def test_wrapped_lines_fit_and_lose_no_letter(text, width):
    lines = fonts.wrap(text, width, 2.5)
    assert all(fonts.text_width(line, 2.5) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "").replace("\n", "")
