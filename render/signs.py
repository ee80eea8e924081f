"""Signs at an edge, told by their shape first: a filled bar, an open step, a filled diamond."""

from __future__ import annotations

from layout.plan import Result
from render.drawing import Mark, Path, Point, Text
from render.pens import FLUSH, NOTCH, SLIVER

#: Width and height of a sign on the paper [mm].
SIGN_WIDTH, SIGN_HEIGHT = 5.0, 2.2
_BAR = 1.1


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
    across = rise * 1.25
    return (
        Path(
            None,
            ((x - across, y), (x, y - rise * 1.25), (x + across, y), (x, y + rise * 1.25)),
            closed=True,
            fill=SLIVER,
        ),
    )


def numbered(centre: Point, number: int, mm: float, height: float = 2.5) -> tuple[Mark, ...]:
    """A sliver's sign with its number beside it."""
    side = (centre[0] + 2.2 * mm, centre[1])
    return (
        *sign("sliver", centre, mm),
        Text(SLIVER, side, str(number), height, "start", "middle", weight="bold"),
    )
