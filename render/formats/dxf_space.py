"""Where marks are written in a DXF document."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from evencourse.render.drawing.drawing import Point


@dataclass(frozen=True)
class Space:
    """Where marks are written: a layout or a block, and how their coordinates get there.

    Attributes:
        layout: ezdxf's layout or block.
        mm: units of this space in one millimetre of paper.
        scale: units of this space in one drawing unit.
        shift: added after scaling.
    """

    layout: Any
    mm: float
    scale: float = 1.0
    shift: Point = (0.0, 0.0)

    def at(self, point: Point) -> Point:
        """A point of the drawing in this space."""
        return (point[0] * self.scale + self.shift[0], point[1] * self.scale + self.shift[1])
