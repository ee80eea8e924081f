"""Signs at an edge, told by their shape first: a filled bar, an open step, a filled diamond."""

from __future__ import annotations

from evencourse.layout.model.course_plan import Result
from evencourse.render.drawing.drawing import Mark, Path, Point, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import FLUSH, NOTCH, SLIVER

#: Width and height of a sign on the paper [mm].
SIGN_WIDTH, SIGN_HEIGHT = 5.0, 2.2
_BAR = 1.1
#: Half of a diamond, and from it to its number [mm].
_DIAMOND, _APART = 1.4, 0.8


def sign(result: Result, centre: Point, mm: float, share: float = 1.0) -> tuple[Mark, ...]:
    """The sign of a result, ``SIGN_WIDTH`` wide at most.

    Args:
        result: bar for flush, open step for a notch, diamond for a sliver.
        centre: its middle, in the drawing's units.
        mm: drawing units in one millimetre of paper.
        share: smaller signs for small openings.
    """
    x, y = centre
    half = SIGN_WIDTH / 2 * mm * share
    if result == "flush":
        rise = _BAR / 2 * mm
        return (
            Path(
                None,
                ((x - half, y - rise), (x + half, y - rise), (x + half, y + rise), (x - half, y + rise)),
                closed=True,
                fill=FLUSH,
            ),
        )
    rise = SIGN_HEIGHT / 2 * mm
    if result == "notch":
        step = rise * 0.8
        return (Path(NOTCH, ((x - half, y - step), (x, y - step), (x, y + step), (x + half, y + step))),)
    across = _DIAMOND * mm
    return (
        Path(
            None,
            ((x - across, y), (x, y - across), (x + across, y), (x, y + across)),
            closed=True,
            fill=SLIVER,
        ),
    )


def numbered(centre: Point, number: int, mm: float, height: float = 2.5) -> tuple[Mark, ...]:
    """A sliver's sign with its number beside it, both round a middle."""
    text = str(number)
    half = numbered_width(number, height) / 2
    left = centre[0] - half * mm
    at = (left + (2 * _DIAMOND + _APART) * mm, centre[1])
    return (
        *sign("sliver", (left + _DIAMOND * mm, centre[1]), mm),
        Text(SLIVER, at, text, height, "start", "middle", weight="bold", ground=True),
    )


def numbered_width(number: int, height: float = 2.5) -> float:
    """What a numbered sign takes [mm]."""
    return 2 * _DIAMOND + _APART + text_width(str(number), height, "bold")
