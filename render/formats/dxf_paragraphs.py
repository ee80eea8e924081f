"""Lines of lettering that go on under each other, as one paragraph."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.render.drawing.drawing import Mark, Text
from evencourse.render.formats.dxf_space import Space

#: Lines of one paragraph lie no farther apart than this, over their height.
_LEADING_MOST = 2.0


@dataclass(frozen=True)
class Paragraph:
    """Lines of lettering under each other that are one MTEXT.

    Attributes:
        lines: from the top.
        leading: from baseline to baseline [mm of paper].
    """

    lines: tuple[Text, ...]
    leading: float


def paragraphs(marks: Sequence[Mark], space: Space) -> Iterator[Mark | Paragraph]:
    """Marks, with lines of lettering that go on under each other made one."""
    index = 0
    while index < len(marks):
        first, lines = marks[index], 1
        leading = 0.0
        while isinstance(first, Text) and index + lines < len(marks):
            step = _under(marks[index + lines - 1], marks[index + lines]) * space.scale / space.mm
            if not 0 < step <= _LEADING_MOST * first.height or (leading and abs(step - leading) > SAME):
                break
            leading, lines = step, lines + 1
        texts = [mark for mark in marks[index : index + lines] if isinstance(mark, Text)]
        yield Paragraph(tuple(texts), leading) if lines > 1 else first
        index += lines


def _under(one: Mark, other: Mark) -> float:
    """How far a line of lettering lies under another one that it carries on; 0 when it does not."""
    if not isinstance(one, Text) or not isinstance(other, Text) or one.ground or one.angle:
        return 0.0
    if replace(one, text="", at=(0.0, 0.0)) != replace(other, text="", at=(0.0, 0.0)):
        return 0.0
    return (
        one.at[1] - other.at[1] if abs(one.at[0] - other.at[0]) < ROUNDING * max(1.0, abs(one.at[0])) else 0.0
    )
