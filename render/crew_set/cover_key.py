"""The key on a cover: what the signs at edges mean, and how the drawings of the walls are read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from evencourse.layout.language.speech import beside
from evencourse.layout.model.course_plan import Plan
from evencourse.render.drawing.drawing import Mark
from evencourse.render.drawing.fonts import LEADING_RATIO, wrap
from evencourse.render.drawing.pens import NOTE, SECOND, TEXT, Pen
from evencourse.render.drawing.placement import Box
from evencourse.render.drawing.text_lines import lines_down
from evencourse.render.sheets.detail_sheets import sign_key, sign_key_width
from evencourse.render.sheets.notes import drawings_read

#: Lettering, what the signs take in height, from them to the words beside them, under all, where marks may
#: stand over the peaks of the pictures [mm].
_SMALL, _SIGNS, _GUTTER, _AIR = 2.5, 3.5, 8.0, 3.4
#: From the key in one language to that in the second one [mm].
_BETWEEN = 1.4


def cover_key(plan: Plan, room: Box, second: bool = False) -> tuple[Sequence[Mark], float]:
    """The key at the top of a room.

    Args:
        plan: the plan.
        room: what may be drawn on [mm].
        second: once more in the second language, under the first.

    Returns:
        Its marks, and where it ends [mm].
    """
    marks, foot = _key(plan, room, TEXT)
    more = beside(lambda: _key(plan, replace(room, top=foot - _BETWEEN), SECOND)) if second else None
    if more is None:
        return marks, foot - _AIR
    return (*marks, *more[0]), more[1] - _AIR


def _key(plan: Plan, room: Box, pen: Pen) -> tuple[Sequence[Mark], float]:
    """The key in one language, and where its last line stands [mm]."""
    signs = sign_key_width(plan)
    left = room.left + (signs + _GUTTER if signs else 0.0)
    lines = wrap(drawings_read(plan), room.right - left, _SMALL)
    signed = NOTE if pen is TEXT else pen
    marks = (
        *sign_key(plan, room.left, room.top - _SIGNS / 2, details=False, pen=signed),
        *lines_down(lines, left, room.top - (_SIGNS - _SMALL) / 2, _SMALL, pen=pen),
    )
    return marks, room.top - _SIGNS - (len(lines) - 1) * _SMALL * LEADING_RATIO
