"""One line across the foot of a full-size sheet or a form: whose it is, what it shows, how it is printed."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.render.drawing.drawing import Line, Mark, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import TEXT, TITLE_THIN
from evencourse.render.drawing.placement import Box, fitted

#: What the line takes off the foot of the frame, and its lettering [mm].
HEIGHT, LETTERING = 6.0, 2.5
_AIR = 4.0


def foot_line(left: str, right: str, frame: Box) -> Iterator[Mark]:
    """Marks of the line.

    Args:
        left: whose sheet it is and what it shows; shortened when it is too long.
        right: which sheet of how many.
        frame: what may be drawn on [mm].
    """
    base = frame.bottom + 1.2
    room = frame.width - text_width(right, LETTERING, "bold") - _AIR
    yield Line(TITLE_THIN, (frame.left, frame.bottom + HEIGHT), (frame.right, frame.bottom + HEIGHT))
    yield Text(TEXT, (frame.left, base), fitted(left, room, LETTERING), LETTERING)
    yield Text(TEXT, (frame.right, base), right, LETTERING, "end", weight="bold")
