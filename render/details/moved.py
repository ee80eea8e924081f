"""Marks moved as they are: sections side by side on one drawing."""

from __future__ import annotations

from dataclasses import replace

from evencourse.render.drawing.drawing import Block, Circle, Dimension, Leader, Line, Mark, Path, Point, Text


def moved(mark: Mark, by: Point) -> Mark:
    """A mark so far to the right and up.

    Args:
        mark: any mark.
        by: [drawing units].
    """

    def to(point: Point) -> Point:
        return (point[0] + by[0], point[1] + by[1])

    match mark:
        case Line():
            return replace(mark, start=to(mark.start), end=to(mark.end))
        case Path() | Leader():
            return replace(mark, points=tuple(map(to, mark.points)))
        case Circle():
            return replace(mark, centre=to(mark.centre))
        case Text():
            return replace(mark, at=to(mark.at))
        case Dimension():
            at = mark.text_at and to(mark.text_at)
            return replace(mark, start=to(mark.start), end=to(mark.end), line=to(mark.line), text_at=at)
        case Block():
            return replace(mark, at=to(mark.at), items=tuple(moved(item, by) for item in mark.items))
