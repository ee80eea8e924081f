"""The key on a cover: what the signs at edges mean, and how the drawings of the walls are read."""

from __future__ import annotations

from collections.abc import Sequence

from evencourse.layout.model.course_plan import Plan
from evencourse.render.drawing.drawing import Mark
from evencourse.render.drawing.fonts import LEADING_RATIO, wrap
from evencourse.render.drawing.placement import Box
from evencourse.render.drawing.text_lines import lines_down
from evencourse.render.sheets.detail_sheets import sign_key, sign_key_width
from evencourse.render.sheets.notes import drawings_read

#: Lettering, what the signs take in height, from them to the words beside them, under all, where marks may
#: stand over the peaks of the pictures [mm].
_SMALL, _SIGNS, _GUTTER, _AIR = 2.5, 3.5, 8.0, 3.4


def cover_key(plan: Plan, room: Box) -> tuple[Sequence[Mark], float]:
    """The key at the top of a room.

    Args:
        plan: the plan.
        room: what may be drawn on [mm].

    Returns:
        Its marks, and where it ends [mm].
    """
    signs = sign_key_width(plan)
    left = room.left + (signs + _GUTTER if signs else 0.0)
    lines = wrap(drawings_read(plan), room.right - left, _SMALL)
    marks = (
        *sign_key(plan, room.left, room.top - _SIGNS / 2, details=False),
        *lines_down(lines, left, room.top - (_SIGNS - _SMALL) / 2, _SMALL),
    )
    return marks, room.top - _SIGNS - (len(lines) - 1) * _SMALL * LEADING_RATIO - _AIR
