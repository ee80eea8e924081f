"""Lengths that a dimension style shows itself: variables of DIMSTYLE (DXF reference, value from memory)."""

from __future__ import annotations

from gettext import NullTranslations

import pytest

from evencourse.layout.language.speech import Language, Voice, speaking
from evencourse.render.formats.dxf_tape import DimensionTape

INCHES, METRIC = DimensionTape("in", 1 / 16), DimensionTape("mm", 1.0)


@pytest.mark.parametrize(
    ("tape", "text", "measured", "said"),
    [
        (INCHES, "5' 1\"", 61.0, "<>"),
        (INCHES, "3' 0-1/2\"", 36.51, "<>"),  # 36.51 is 36-1/2 to the nearest sixteenth
        (INCHES, '6-9/16"', 6.5625, "<>"),
        (INCHES, "12 courses  8' 0\"", 96.02, "12 courses  <>"),
        (INCHES, "8' 0\"", 96.05, "8' 0\""),  # the tape reads 8' 0-1/16": its text stays
        (INCHES, '36" 36"', 36.0, '36" 36"'),
        (METRIC, "1013", 1013.2, "<>"),
        (METRIC, "141 mm", 141.333, "<> mm"),
        (METRIC, "", 5.0, ""),
    ],
)
def test_a_length_that_is_the_rounded_measure_is_left_to_the_program(
    tape: DimensionTape, text: str, measured: float, said: str
) -> None:
    assert tape.measuring(text, measured) == said


def test_styles_are_architectural_to_the_tapes_mark_or_decimal() -> None:
    """DIMLUNIT 4 is architectural, 2 decimal; DIMDEC counts halvings: 1/8 is the third."""
    assert DimensionTape("in", 1 / 8).style == {"dimlunit": 4, "dimdec": 3, "dimrnd": 0.125}
    assert DimensionTape("mm", 0.5).style == {"dimlunit": 2, "dimdec": 1, "dimdsep": 46, "dimrnd": 0.5}


def test_the_decimal_mark_is_that_of_the_language_that_is_spoken() -> None:
    """DIMDSEP 44 is a comma, 46 a point (DXF reference, value from memory)."""
    tape = DimensionTape("mm", 0.5)
    assert tape.style["dimdsep"] == 46
    with speaking(Voice(Language("de", "Deutsch", ",", "de-DE"), NullTranslations())):
        assert tape.style["dimdsep"] == 44
        assert tape.measuring("12,5 mm", 12.6) == "<> mm"
