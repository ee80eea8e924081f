"""Where labels go: boxes that know each other, spreading along a line, and places tried in order.

Boxes and positions are in the drawing's own units; what is occupied is occupied for good.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import hypot

from evencourse.render.drawing.drawing import Point
from evencourse.render.drawing.font_files import Weight
from evencourse.render.drawing.fonts import DESCENT_RATIO, ascent, text_width

#: Put where the end of a text was cut off.
ELLIPSIS = "…"


@dataclass(frozen=True)
class Box:
    """An upright rectangle."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top."""
        return self.top - self.bottom

    def meets(self, other: Box) -> bool:
        """Whether two boxes share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )

    def inside(self, other: Box) -> bool:
        """Whether this box lies wholly in another."""
        return (
            self.left >= other.left
            and self.right <= other.right
            and self.bottom >= other.bottom
            and self.top <= other.top
        )

    def grown(self, by: float) -> Box:
        """The box with a margin all round."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def nearest(self, at: Point) -> Point:
        """The point of it that is nearest to another."""
        return min(max(at[0], self.left), self.right), min(max(at[1], self.bottom), self.top)

    def distance(self, at: Point) -> float:
        """How far a point is from it."""
        x, y = self.nearest(at)
        return hypot(x - at[0], y - at[1])

    def joined(self, other: Box) -> Box:
        """The smallest box round both."""
        return Box(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )


def box_of(points: Iterable[Point]) -> Box:
    """The smallest box round some points; at least one."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def text_box(
    at: Point,
    text: str,
    height: float,
    mm: float = 1.0,
    weight: Weight = "regular",
    horizontal: str = "start",
) -> Box:
    """What one level line of lettering covers, its highest and lowest letters included.

    Args:
        at: its baseline at the end that ``horizontal`` names.
        text: what it says.
        height: height of the capitals [mm].
        mm: drawing units in one millimetre of paper.
        weight: regular or bold.
        horizontal: ``start``, ``middle`` or ``end``.
    """
    width = text_width(text, height, weight) * mm
    left = at[0] - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[horizontal]
    return Box(left, at[1] - DESCENT_RATIO * height * mm, left + width, at[1] + ascent(text) * height * mm)


def fitted(text: str, width: float, height: float, weight: Weight = "regular") -> str:
    """A text no wider than ``width`` [mm]; one that is gets shortened and says so."""
    text = " ".join(text.split())
    if text_width(text, height, weight) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(text[:middle].rstrip() + ELLIPSIS, height, weight) <= width:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + ELLIPSIS


def spread(
    wanted: Sequence[float], sizes: Sequence[float], low: float | None = None, high: float | None = None
) -> list[float]:
    """Move things along a line apart, as little as can be, keeping their order.

    Args:
        wanted: where the middle of each would like to be, ascending.
        sizes: how much of the line each takes.
        low: nothing reaches below this; None for no bound.
        high: nothing reaches above this; None for no bound. Bounds that leave too little room are overrun
            at ``high``.

    Returns:
        The middles: the least sum of squared moves (isotonic regression by pooling neighbours).
    """
    if not wanted:
        return []
    offsets = [0.0]
    for before, after in pairwise(sizes):
        offsets.append(offsets[-1] + (before + after) / 2)
    pools: list[list[float]] = []
    for want, offset in zip(wanted, offsets, strict=True):
        pools.append([want - offset, 1.0])
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            mean, count = pools.pop()
            total = pools[-1][1] + count
            pools[-1] = [(pools[-1][0] * pools[-1][1] + mean * count) / total, total]
    values = [mean for mean, count in pools for _ in range(round(count))]
    if high is not None:
        values = [min(value, high - offsets[-1] - sizes[-1] / 2) for value in values]
    if low is not None:
        values = [max(value, low + sizes[0] / 2) for value in values]
    return [value + offset for value, offset in zip(values, offsets, strict=True)]


@dataclass(frozen=True)
class Pane:
    """What shows of an opening inside: lettering that has no room on the wall is led there.

    Attributes:
        rim: the opening with its trim.
        inside: where lettering may stand in it.
        held: what its mark and its signs take of that.
    """

    rim: Box
    inside: Box
    held: tuple[Box, ...]


@dataclass
class Occupied:
    """What already lies on a drawing: boxes, and shapes that no box may touch.

    Attributes:
        boxes: lettering and signs.
        shapes: polygons.
        lines: heavy lines.
        turned: lettering that does not stand level, as polygons.
        bars: lines that lettering on a ground may cover but no leader may cross.
        levels: long level lines; lettering on a ground covers them only where nothing else has room.
        panes: openings that lettering may be led into; their rims are among the boxes.
    """

    boxes: list[Box] = field(default_factory=list)
    shapes: list[Sequence[Point]] = field(default_factory=list)
    lines: list[tuple[Point, Point]] = field(default_factory=list)
    turned: list[Sequence[Point]] = field(default_factory=list)
    bars: list[tuple[Point, Point]] = field(default_factory=list)
    levels: list[Box] = field(default_factory=list)
    panes: list[Pane] = field(default_factory=list)

    def copy(self) -> Occupied:
        """The same things, to try what else has room."""
        return Occupied(
            list(self.boxes),
            list(self.shapes),
            list(self.lines),
            list(self.turned),
            self.bars,
            self.levels,
            self.panes,
        )

    def replace(self, other: Occupied) -> None:
        """Take over what a copy has."""
        self.boxes, self.shapes = other.boxes, other.shapes
        self.lines, self.turned = other.lines, other.turned

    def free(self, box: Box, margin: float = 0.0, over_levels: bool = False) -> bool:
        """Whether a box touches nothing that is there, level lines left out when it may lie over them."""
        grown = box.grown(margin)
        return not (
            any(grown.meets(other) for other in self.boxes)
            or (not over_levels and any(grown.meets(other) for other in self.levels))
            or any(segment_meets(start, end, grown) for start, end in self.lines)
            or any(polygon_meets(shape, grown) for shape in (*self.shapes, *self.turned))
        )

    def passes(self, start: Point, end: Point) -> bool:
        """Whether a straight line from the rim of one box to another touches nothing else that is there."""
        rims = [line for shape in self.shapes for line in zip(shape, (*shape[1:], shape[0]), strict=True)]
        boxes = (*self.boxes, *self.levels)
        return not any(segment_meets(start, end, box) for box in boxes) and not any(
            segments_cross(start, end, *line) for line in (*self.lines, *self.bars, *rims)
        )

    def take(self, *boxes: Box) -> None:
        """Occupy boxes."""
        self.boxes.extend(boxes)

    def first_free(self, candidates: Iterable[Box], margin: float = 0.0) -> Box | None:
        """Occupy the first candidate that is free; None when none is."""
        for box in candidates:
            if self.free(box, margin):
                self.take(box)
                return box
        return None


def grid(room: Box, width: float, height: float, step: float) -> Iterator[Box]:
    """Places for a box in a room, a step apart, column by column."""
    for across in range(int((room.width - width) / step) + 1 if room.width >= width else 0):
        for up in range(int((room.height - height) / step) + 1 if room.height >= height else 0):
            x, y = room.left + across * step, room.bottom + up * step
            yield Box(x, y, x + width, y + height)


def entry(start: Point, end: Point, box: Box) -> Point:
    """Just before a line from outside a box to its inside enters it."""
    share = 0.0
    for begin, step, low, high in (
        (start[0], end[0] - start[0], box.left, box.right),
        (start[1], end[1] - start[1], box.bottom, box.top),
    ):
        if step:
            share = max(share, min((low - begin) / step, (high - begin) / step))
    share *= 0.999
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def contains(polygon: Sequence[Point], point: Point) -> bool:
    """Whether a point lies in a polygon."""
    x, y = point
    inside = False
    x0, y0 = polygon[-1]
    for x1, y1 in polygon:
        if (y0 <= y) != (y1 <= y) and x < x0 + (x1 - x0) * (y - y0) / (y1 - y0):
            inside = not inside
        x0, y0 = x1, y1
    return inside


def polygon_meets(polygon: Sequence[Point], box: Box) -> bool:
    """Whether a polygon and a box share any area."""
    across, up = [x for x, _ in polygon], [y for _, y in polygon]
    if max(across) <= box.left or min(across) >= box.right or max(up) <= box.bottom or min(up) >= box.top:
        return False
    before = polygon[-1]
    for point in polygon:
        if segment_meets(before, point, box):
            return True
        before = point
    return contains(polygon, ((box.left + box.right) / 2, (box.bottom + box.top) / 2))


def segment_meets_polygon(start: Point, end: Point, polygon: Sequence[Point]) -> bool:
    """Whether a straight line passes through a polygon."""
    return (
        contains(polygon, start)
        or contains(polygon, end)
        or any(
            segments_cross(start, end, a, b) for a, b in zip(polygon, (*polygon[1:], polygon[0]), strict=True)
        )
    )


def polygons_meet(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two polygons share any area, unless their sides merely lie on each other."""
    if any(contains(other, point) for point in one) or any(contains(one, point) for point in other):
        return True
    return any(
        segments_cross(a, b, c, d)
        for a, b in zip(one, (*one[1:], one[0]), strict=True)
        for c, d in zip(other, (*other[1:], other[0]), strict=True)
    )


def segments_cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the lines from a to b and from c to d cross, their ends aside."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = a, b, c, d
    x, y = bx - ax, by - ay
    if (x * (cy - ay) - y * (cx - ax)) * (x * (dy - ay) - y * (dx - ax)) >= 0:
        return False
    x, y = dx - cx, dy - cy
    return (x * (ay - cy) - y * (ax - cx)) * (x * (by - cy) - y * (bx - cx)) < 0


def segment_meets(start: Point, end: Point, box: Box) -> bool:
    """Whether a straight line passes through the inside of a box."""
    (x0, y0), (x1, y1) = start, end
    left, bottom, right, top = box.left, box.bottom, box.right, box.top
    if (
        (x0 <= left and x1 <= left)
        or (x0 >= right and x1 >= right)
        or (y0 <= bottom and y1 <= bottom)
        or (y0 >= top and y1 >= top)
    ):
        return False
    near, far = 0.0, 1.0
    for begin, step, low, high in ((x0, x1 - x0, left, right), (y0, y1 - y0, bottom, top)):
        if step == 0:
            continue
        first, second = (low - begin) / step, (high - begin) / step
        if first > second:
            first, second = second, first
        near, far = max(near, first), min(far, second)
    return near < far
