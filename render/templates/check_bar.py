"""Check bars: two bars of a stated length that are measured before anyone trusts a full-size print."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.job import Units
from evencourse.render.drawing.drawing import Line, Mark, Point, Text
from evencourse.render.drawing.papers import MM_PER_INCH
from evencourse.render.drawing.pens import SCALE, TEXT

#: Lengths of the bars and of one division, in the job's units; what a bar is called.
_LENGTH: dict[Units, float] = {"in": 6.0, "mm": 150.0}
_STEP: dict[Units, float] = {"in": 1.0, "mm": 10.0}
_NAME: dict[Units, str] = {"in": '6"', "mm": "150 mm"}
#: Ticks at the ends, at every division, at every middle or fifth one [mm].
_END, _TICK, _LONG = 6.0, 1.8, 3.0
#: From a bar to the foot of its words, and their height [mm].
_OFF, _HEIGHT = 3.8, 3.5


def bar_length(units: Units) -> float:
    """Length of a check bar on the paper [mm]: 6 in, or 150 mm."""
    return _LENGTH[units] * (MM_PER_INCH if units == "in" else 1.0)


def bar_name(units: Units) -> str:
    """Length of a check bar in words."""
    return _NAME[units]


def check_words(units: Units) -> str:
    """What to do with the bars, and what follows when one is wrong."""
    return gettext(
        "Measure both bars with the tape that goes on the wall: each is {length} from end to end. "
        'If one is not, this print is not full size: print again at 100 % ("actual size"), never '
        '"fit to page".',
        length=bar_name(units),
    )


def check_bars(units: Units, corner: Point) -> Iterator[Mark]:
    """Two bars at a right angle, one across and one up, that share a corner.

    Args:
        units: of the job.
        corner: where both begin [mm]; their words lie inside the angle, ticks and words within 8 mm of them.
    """
    x, y = corner
    length = bar_length(units)
    step = _STEP[units] * (MM_PER_INCH if units == "in" else 1.0)
    count = round(length / step)
    yield Line(SCALE, (x, y), (x + length, y))
    yield Line(SCALE, (x, y), (x, y + length))
    for number in range(1, count + 1):
        at = number * step
        tick = _END if number == count else _LONG if units == "mm" and number % 5 == 0 else _TICK
        yield Line(SCALE, (x + at, y), (x + at, y + tick))
        yield Line(SCALE, (x, y + at), (x + tick, y + at))
    middle = length / 2
    across = gettext("{length} across", length=bar_name(units))
    up = gettext("{length} up", length=bar_name(units))
    yield Text(TEXT, (x + middle, y + _OFF), across, _HEIGHT, "middle", weight="bold")
    yield Text(TEXT, (x + _OFF + _HEIGHT, y + middle), up, _HEIGHT, "middle", angle=90.0, weight="bold")
