"""The font's measures against the font's own tables and a general text reader."""

import string
from io import BytesIO

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from evencourse.render.drawing import font_files, fonts


@pytest.fixture(scope="module", params=["regular", "bold"])
def weight(request):
    return request.param


@pytest.fixture(scope="module")
def font(weight):
    with TTFont(BytesIO(font_files.font_file(weight))) as found:
        yield found


def test_a_capital_is_as_high_as_asked(font):
    # The flat letters; the ISO 3098 height is that of the capitals.
    units = font["head"].unitsPerEm
    assert {font["glyf"][letter].yMax / units for letter in "EFHITXZ"} == {font_files.CAP_RATIO}
    assert all(font["glyf"][letter].yMin == 0 for letter in "EFHITXZ")


def test_the_figures_are_the_fonts_own_tabular_ones(font, weight):
    # OpenType's feature tnum says which glyph stands for which.
    with TTFont(font_files.font_path(weight)) as packaged:
        table, names = packaged["GSUB"].table, packaged.getBestCmap()
        tabular = next(f.Feature for f in table.FeatureList.FeatureRecord if f.FeatureTag == "tnum")
        (lookup,) = tabular.LookupListIndex
        (substitution,) = table.LookupList.Lookup[lookup].SubTable
    drawn = font.getBestCmap()
    for figure in map(ord, string.digits):
        assert drawn[figure] == substitution.mapping[names[figure]] != names[figure]
    others = {code: name for code, name in names.items() if code not in map(ord, string.digits)}
    assert others.items() <= drawn.items()


def test_text_is_as_wide_as_the_drawn_font_says(font, weight):
    widths, names = font["hmtx"].metrics, font.getBestCmap()
    for text in ("Keep 8' 4-3/4\"", "11111 WAVE", "½ of 1:50"):
        units = sum(widths[names[ord(letter)]][0] for letter in text) / font["head"].unitsPerEm
        assert fonts.text_width(text, 3.5, weight) == pytest.approx(units * 3.5 / font_files.CAP_RATIO)


def test_a_stroke_is_a_tenth_of_the_height():
    # ISO 3098-1, lettering type B: d = h/10. The stem of the regular I is its glyph's width.
    with TTFont(font_files.font_path()) as font:
        stem = font["glyf"]["I"]
        assert (stem.xMax - stem.xMin) / font["glyf"]["H"].yMax == pytest.approx(0.1, abs=0.015)


def test_every_figure_has_one_width(weight):
    assert len({fonts.text_width(figure, 3.5, weight) for figure in string.digits}) == 1


def test_no_ascii_character_reaches_past_ascent_and_descent(font):
    names = font.getBestCmap()
    outlines = [font["glyf"][names[ord(c)]] for c in string.printable if ord(c) in names and c != "`"]
    inked = [glyph for glyph in outlines if glyph.numberOfContours]
    units = font["head"].unitsPerEm * font_files.CAP_RATIO
    assert max(glyph.yMax for glyph in inked) / units <= fonts.ASCENT_RATIO
    assert min(glyph.yMin for glyph in inked) / units >= -fonts.DESCENT_RATIO


def test_accents_and_tails_reach_no_farther_than_is_reckoned(font):
    names, units = font.getBestCmap(), font["head"].unitsPerEm * font_files.CAP_RATIO
    for letter in "ÅÄÖÉÈÊËÀÂÇÍÎÏÓÔÚÙÛÜÑåäöéèêëàâçíîïóôúùûüñß¿¡«»œŒ–’" + string.ascii_letters:
        glyph = font["glyf"][names[ord(letter)]]
        assert glyph.yMax / units <= fonts.ascent(letter), letter
        assert -glyph.yMin / units <= (fonts.descent(letter) or 0.17), letter


def test_both_weights_hold_the_same_characters():
    assert font_files.face("regular").advances.keys() == font_files.face("bold").advances.keys()


def test_width_worked_by_hand():
    # Regular, units of 1000: a tabular figure 481, ' = 125, space = 200, - = 354, / = 367, " = 249.
    # 2' 11-1/2" = 5 figures 2405 + 125 + 200 + 354 + 367 + 249 = 3700; size 2.5 / 0.700.
    assert fonts.text_width("2' 11-1/2\"", 2.5) == pytest.approx(3.700 * 2.5 / 0.700, abs=1e-9)


def test_tape_marks_and_fractions_are_in_the_font():
    for text in ("2' 11-1/2\"", "2′ 11½″", "⅝ ⅜ ¼ ¾ ⅛ ⅞", "6:12 × 4 °", "– — · • ≤ ≥ ±"):
        assert fonts.shown(text) == text


def test_what_the_font_lacks_is_shown_as_lacking():
    assert fonts.shown("a\tb\nc\x07d漢\u202e1") == "a b c◊7◊d漢1"


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
