"""Lines of lettering one under the other."""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from itertools import pairwise

from evencourse.layout.language.speech import beside
from evencourse.render.drawing.drawing import Mark, Text
from evencourse.render.drawing.font_files import Weight
from evencourse.render.drawing.fonts import ASCENT_RATIO, LEADING_RATIO, ascent, descent, text_width
from evencourse.render.drawing.pens import TEXT, Pen

#: How far commas reach below the baseline, for capitals of height 1.
_COMMA = 0.15


def clear_leading(lines: Sequence[str], leading: float) -> float:
    """A leading, or more where accents would reach the line above; for capitals of height 1."""
    for upper, lower in pairwise(lines):
        if (above := ascent(lower)) > ASCENT_RATIO:
            leading = max(leading, above + max(descent(upper), _COMMA))
    return leading


def lines_down(
    lines: Sequence[str],
    x: float,
    y: float,
    height: float,
    weight: Weight = "regular",
    pen: Pen = TEXT,
    leading: float = LEADING_RATIO,
) -> Generator[Mark, None, float]:
    """Lines from a level down.

    Args:
        lines: what they say.
        x: where they begin [mm].
        y: top of the capitals of the first [mm].
        height: of the capitals [mm].
        weight: regular or bold.
        pen: their colour.
        leading: from baseline to baseline, for capitals of height 1.

    Returns:
        Where the next line would begin [mm].
    """
    for line in lines:
        yield Text(pen, (x, y), line, height, vertical="cap", weight=weight)
        y -= height * leading
    return y


def both(words: Callable[[], str], room: float, height: float, weight: Weight = "regular") -> str:
    """Words, and behind them the same in the second language where a line has room for that.

    Args:
        words: says them in the language that is spoken.
        room: of the line [mm].
        height: of the capitals [mm].
        weight: regular or bold.
    """
    first, second = words(), beside(words)
    whole = f"{first} / {second}"
    return whole if second not in (None, first) and text_width(whole, height, weight) <= room else first
