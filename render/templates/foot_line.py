"""One line across the foot of a full-size sheet or a form: whose it is, what it shows, how it is printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencourse.layout.model.tolerance import ROUNDING
from evencourse.render.drawing.drawing import Line, Mark, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import TEXT, TITLE_THIN
from evencourse.render.drawing.placement import Box, fitted

#: What the line takes off the foot of the frame, and its lettering [mm].
HEIGHT, LETTERING = 6.0, 2.5
_AIR = 4.0


def foot_line(ways: Sequence[Sequence[str]], right: str, frame: Box, gives: int = 0) -> Iterator[Mark]:
    """Marks of the line.

    Args:
        ways: whose sheet it is and what it shows, in parts; the first way that has room is taken.
        right: which sheet of how many.
        frame: what may be drawn on [mm].
        gives: place of the part that is shortened where not even the last way has room.
    """
    base = frame.bottom + 1.2
    room = frame.width - text_width(right, LETTERING, "bold") - _AIR
    yield Line(TITLE_THIN, (frame.left, frame.bottom + HEIGHT), (frame.right, frame.bottom + HEIGHT))
    yield Text(TEXT, (frame.left, base), _said(ways, gives, room), LETTERING)
    yield Text(TEXT, (frame.right, base), right, LETTERING, "end", weight="bold")


def _said(ways: Sequence[Sequence[str]], gives: int, room: float) -> str:
    for way in ways:
        over = text_width(_joined(way), LETTERING) - room
        if over <= 0:
            return _joined(way)
    parts = list(way)
    left = text_width(parts[gives], LETTERING) - over - ROUNDING
    parts[gives] = fitted(parts[gives], left, LETTERING)
    return fitted(_joined(parts), room, LETTERING)


def _joined(parts: Sequence[str]) -> str:
    return " \N{MIDDLE DOT} ".join(" ".join(part.split()) for part in parts if part)
