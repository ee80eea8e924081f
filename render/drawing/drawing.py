"""The neutral drawing: lines, paths, texts and dimensions on named pens.

A drawing knows nothing of openings or siding, and nothing of SVG, PDF or DXF. Coordinates are x to the
right and y up. In a :class:`Drawing` they are real units of the job (inches or millimetres); on a
:class:`Sheet` they are millimetres of paper from the lower left corner. Lettering heights, offsets and line
widths are always millimetres of paper.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from evencourse.layout.language.speech import spoken
from evencourse.render.drawing.pens import Pen

Point = tuple[float, float]
Horizontal = Literal["start", "middle", "end"]
Vertical = Literal["baseline", "middle", "cap"]
Weight = Literal["regular", "bold"]
#: Facts that travel with a mark into formats that can carry them (DXF extended data, SVG data attributes).
Facts = tuple[tuple[str, str | int | float], ...]


@dataclass(frozen=True)
class Line:
    """A straight stroke."""

    pen: Pen
    start: Point
    end: Point
    facts: Facts = ()


@dataclass(frozen=True)
class Path:
    """A polyline of straight and circular parts, stroked with its pen, filled, or both.

    Attributes:
        pen: stroke; None for a fill without outline.
        points: vertices.
        closed: the last point joins the first.
        bulges: for each vertex the tangent of a quarter of the arc's angle to the next vertex, positive to
            the left; empty when every part is straight.
        fill: pen whose colour fills it; None for no fill.
    """

    pen: Pen | None
    points: tuple[Point, ...]
    closed: bool = False
    bulges: tuple[float, ...] = ()
    fill: Pen | None = None
    facts: Facts = ()


@dataclass(frozen=True)
class Circle:
    """A circle, stroked, filled, or both. ``radius`` is in the drawing's units."""

    pen: Pen | None
    centre: Point
    radius: float
    fill: Pen | None = None
    facts: Facts = ()


@dataclass(frozen=True)
class Text:
    """One line of lettering.

    Attributes:
        pen: its colour and layer.
        at: anchor point.
        text: what it says.
        height: height of the capitals [mm of paper].
        horizontal: which end of the text lies at the anchor.
        vertical: which level of the text lies at the anchor.
        angle: counter-clockwise [degrees].
        weight: regular or bold.
        ground: a knocked-out ground lies under it.
    """

    pen: Pen
    at: Point
    text: str
    height: float = 2.5
    horizontal: Horizontal = "start"
    vertical: Vertical = "baseline"
    angle: float = 0.0
    weight: Weight = "regular"
    ground: bool = False


@dataclass(frozen=True)
class Dimension:
    """A linear dimension with oblique ticks.

    Attributes:
        pen: its colour and layer.
        start: first point that is measured.
        end: second point that is measured.
        line: a point that the dimension line runs through.
        angle: direction of the dimension line, counter-clockwise [degrees]: 0 level, 90 plumb.
        text: what it says, as the tape reads.
        height: height of the capitals [mm of paper].
        text_at: centre of its text; None: above the middle of the dimension line (left of it when plumb).
        extension_gap: from the measured point to the extension line [mm of paper].
        level: its text stands level, whichever way the dimension runs.
        turned: its text stands across the dimension line.
    """

    pen: Pen
    start: Point
    end: Point
    line: Point
    angle: float
    text: str
    height: float = 2.5
    text_at: Point | None = None
    extension_gap: float = 1.0
    level: bool = False
    turned: bool = False

    @property
    def text_angle(self) -> float:
        """Of its text, counter-clockwise [degrees]."""
        return 0.0 if self.level else self.angle + (90.0 if self.turned else 0.0)


@dataclass(frozen=True)
class Leader:
    """A thin line from a text to what it speaks of.

    Attributes:
        pen: its colour and layer.
        points: from the target to the text.
        head: what marks the target.
    """

    pen: Pen
    points: tuple[Point, ...]
    head: Literal["none", "dot", "arrow"] = "none"


@dataclass(frozen=True)
class Block:
    """A named group of marks with attributes, drawn once at its place (a window, a door).

    Attributes:
        name: unique in the drawing.
        at: insertion point.
        items: its marks, in the drawing's own coordinates.
        attributes: tag and value: what a drafter can extract.
        facts: the same for a script, unrounded.
    """

    name: str
    at: Point
    items: tuple[Mark, ...]
    attributes: tuple[tuple[str, str], ...] = ()
    facts: Facts = ()


Mark = Line | Path | Circle | Text | Dimension | Leader | Block


@dataclass(frozen=True)
class Drawing:
    """Marks at full size, in the job's units, in the order in which they are drawn.

    Attributes:
        name: what it shows.
        units: ``in`` or ``mm``.
        marks: in painting order.
    """

    name: str
    units: Literal["in", "mm"]
    marks: tuple[Mark, ...]

    @property
    def unit(self) -> float:
        """Millimetres in one drawing unit."""
        return 25.4 if self.units == "in" else 1.0


@dataclass(frozen=True)
class View:
    """A drawing placed on a sheet.

    Attributes:
        drawing: what is shown.
        scale: paper over real size (1/48 for 1/4" = 1'-0").
        at: where the drawing's origin lies on the paper [mm].
        window: left, bottom, right, top on the paper [mm]: what lies outside is not shown.
    """

    drawing: Drawing
    scale: float
    at: Point
    window: tuple[float, float, float, float]

    @property
    def factor(self) -> float:
        """Millimetres of paper for one drawing unit."""
        return self.scale * self.drawing.unit

    def to_paper(self, point: Point) -> Point:
        """Where a point of the drawing lies on the paper [mm]."""
        return (self.at[0] + point[0] * self.factor, self.at[1] + point[1] * self.factor)


@dataclass(frozen=True)
class Sheet:
    """One sheet of paper.

    Attributes:
        title: what it shows; its bookmark and document title.
        paper: width and height [mm].
        views: drawings to scale, painted first.
        marks: what is drawn on the paper itself [mm], painted over the views.
        label: page label ("1", "A2"); empty for the running number.
        chapter: neighbouring sheets of one chapter hang under one bookmark; empty for none.
    """

    title: str
    paper: tuple[float, float]
    views: tuple[View, ...] = ()
    marks: tuple[Mark, ...] = ()
    label: str = ""
    chapter: str = ""


@dataclass(frozen=True)
class Document:
    """A set of sheets with what a reader's program shows of it.

    Attributes:
        title: document title.
        author: empty when not given.
        language: that its words are in, a BCP 47 tag.
        subject: one line.
        date: ISO date that the user asked for; None: no date at all.
    """

    title: str
    sheets: tuple[Sheet, ...]
    author: str = ""
    language: str = field(default_factory=lambda: spoken().tag)
    subject: str = ""
    date: str | None = None
    keywords: tuple[str, ...] = field(default=())
