"""A job as a drafter gets it: every face once at full size, and the sheets that look at it.

Model space holds the faces side by side on one datum, each lettered for the scale of its sheets, and the
sections of the details beside them, as they stand on their own sheets. A face that
goes on one sheet is seen there as it stands in model space, lettering and all. Where a face takes several
sheets, each of them has lettering of its own, which lies on its paper; the lettering in model space is frozen
in its viewport.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, Literal

from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.render.building.piece_lines import piece_outlines
from evencourse.render.details.detail_set import FaceDetails, details_of
from evencourse.render.drawing.drawing import (
    Block,
    Circle,
    Dimension,
    Drawing,
    Leader,
    Line,
    Mark,
    Path,
    Point,
    Sheet,
    Text,
    View,
)
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.pens import BORDER, GLASS, NO_PLOT, PAPER, PIECE_MARK, TEXT, Pen
from evencourse.render.elevation.elevation import elevation_drawing
from evencourse.render.words.result import Result

if TYPE_CHECKING:
    from evencourse.layout.pieces.all_pieces import Pieces
    from evencourse.layout.pieces.piece import FacePieces

#: DXF versions that the set can be written in.
Version = Literal["R2000", "R2010"]
VERSIONS: tuple[Version, ...] = ("R2000", "R2010")

#: Air round what a viewport shows, which lettering in a wider font may take; air between neighbours in model
#: space [mm of paper].
_ROOM, _AIR = 12.0, 40.0
#: A line on a match line lies inside the viewport, not on its edge [mm].
_HAIR = 0.01
#: What a face's origin in model space is a multiple of: feet and decimetres [job units].
_STEP = {"in": 12.0, "mm": 100.0}
#: Half of the cross at a face's origin [mm of paper].
_CROSS = 2.0
#: Fills that are no ink on paper: left out, so that they hide nothing on a dark screen.
UNPRINTED = (PAPER, GLASS)


@dataclass(frozen=True)
class Model:
    """One face in model space.

    Attributes:
        drawing: the face with its lettering, at full size.
        factor: millimetres of paper for one drawing unit, that its lettering is meant for.
        shift: how far to the right its left corner lies [drawing units].
    """

    drawing: Drawing
    factor: float
    shift: float


@dataclass(frozen=True)
class Window:
    """What a sheet shows of a face: a viewport.

    Attributes:
        model: the face.
        at: where its origin lies on the paper [mm].
        box: left, bottom, right, top on the paper [mm].
        frozen: layers that it does not show.
    """

    model: Model
    at: Point
    box: tuple[float, float, float, float]
    frozen: tuple[str, ...] = ()


@dataclass(frozen=True)
class Layout:
    """One sheet.

    Attributes:
        title: what it shows.
        code: as its title block says it; empty for its running number.
        paper: width and height [mm].
        window: what it shows of a face.
        own: drawings that belong to this sheet alone, to scale.
        marks: what is drawn on the paper itself [mm].
    """

    title: str
    code: str
    paper: tuple[float, float]
    window: Window
    own: tuple[View, ...]
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class CadSet:
    """Everything that goes into one CAD file.

    Attributes:
        title: what it is.
        author: empty when not given.
        date: ISO date that the user asked for; None for none.
        units: ``in`` or ``mm``: of the drawings and of the paper.
        models: the faces, from left to right.
        layouts: the sheets, in order.
        job: the job file, in plain ASCII: what the drawing does not show, for whoever reads it back.
        mark: the finest mark of the tape [units]; 0 for the usual one.
    """

    title: str
    author: str
    date: str | None
    units: Literal["in", "mm"]
    models: tuple[Model, ...]
    layouts: tuple[Layout, ...]
    job: str = ""
    mark: float = 0.0

    @property
    def unit(self) -> float:
        """Millimetres in one unit."""
        return 25.4 if self.units == "in" else 1.0

    def pens(self) -> set[Pen]:
        """Every pen in use, viewports and hidden attributes too; fills that are no ink on paper aside."""
        marks = [mark for model in self.models for mark in model.drawing.marks]
        marks += [mark for layout in self.layouts for mark in layout.marks]
        marks += [mark for layout in self.layouts for view in layout.own for mark in view.drawing.marks]
        return {NO_PLOT, TEXT, *_pens(marks)} - {*UNPRINTED}


def cad_set(
    result: Result,
    sheets: Sequence[Sequence[Sheet]],
    pieces: Pieces | None = None,
    date: str | None = None,
    faces: Sequence[int] | None = None,
    details: Sequence[Sheet] = (),
) -> CadSet:
    """A job's faces and sheets for a CAD file.

    Args:
        result: the finished result of a job.
        sheets: for every face its sheets, as :func:`evencourse.render.sheets.elevation_sheets.job_sheets`
            lays them out.
        pieces: the job's pieces, whose outlines stand in model space alone; None for none.
        date: ISO date; None for none.
        faces: numbers of the faces that are wanted; None for all.
        details: the details sheets, a view with all its sections each.
    """
    plan = result.plan
    wanted = range(len(plan.elevations)) if faces is None else faces
    models: list[Model] = []
    layouts: list[Layout] = []
    sections = details_of(plan) if details else None
    edge: float | None = None

    def beside(drawing: Drawing, factor: float) -> Model:
        """A drawing to the right of those before it, on a whole foot or decimetre."""
        nonlocal edge
        left, right = _reach(drawing.marks, factor)
        shift = 0.0
        if edge is not None:
            step = _STEP[plan.job.units]
            shift = ceil((edge + _AIR / factor - left) / step) * step
        edge = right + shift
        models.append(Model(drawing, factor, shift))
        return models[-1]

    for number in wanted:
        shown = sheets[number]
        hung = pieces.faces[number] if pieces else None
        drawing = _drawing(result, number, shown, hung, sections.faces[number] if sections else None)
        model = beside(drawing, shown[0].views[0].factor)
        layouts += [_layout(sheet, model, len(shown) > 1) for sheet in shown]
    for sheet in details:
        (view,) = sheet.views
        model = beside(view.drawing, view.factor)
        layouts.append(
            Layout(
                sheet.title, sheet.label, sheet.paper, Window(model, view.at, view.window), (), sheet.marks
            )
        )
    title = plan.job.name
    if faces is not None:
        title = ", ".join(
            part for part in (title, *(plan.elevations[k].elevation.name for k in faces)) if part
        )
    job = job_text(result.job, ascii_only=True)
    return CadSet(
        title, plan.job.author, date, plan.job.units, tuple(models), tuple(layouts), job, plan.job.round
    )


def _drawing(
    result: Result,
    number: int,
    sheets: Sequence[Sheet],
    hung: FacePieces | None,
    signs: FaceDetails | None,
) -> Drawing:
    """A face as it stands in model space."""
    plan = result.plan
    face = plan.elevations[number]
    views = sheets[0].views
    if len(sheets) == 1:
        outlines = tuple(piece_outlines(hung)) if hung else ()
        marks = (*(mark for view in views for mark in view.drawing.marks), *outlines)
    else:
        said = result.instructions.faces[number]
        marks = elevation_drawing(plan, face, said, views[0].scale, hung=hung, details=signs).marks
    origin = _origin(plan, face, views[0].factor)
    return Drawing(face.elevation.name, plan.job.units, (origin, *marks))


def _origin(plan: Plan, face: ElevationPlan, factor: float) -> Block:
    """A cross where a face's left corner meets the datum, which says whose face it is."""
    half = _CROSS / factor
    lines = (Line(NO_PLOT, (-half, 0.0), (half, 0.0)), Line(NO_PLOT, (0.0, -half), (0.0, half)))
    name = face.elevation.name
    words = (("FACE", name), ("DATUM", plan.job.datum))
    return Block(f"face {name}", (0.0, 0.0), lines, words, (("face", name),))


def _layout(sheet: Sheet, model: Model, parted: bool) -> Layout:
    wall, *others = sheet.views
    own: tuple[View, ...] = ()
    frozen: set[str] = set()
    shown = model.drawing
    if parted:
        shown = wall.drawing
        lettering = Drawing(shown.name, shown.units, tuple(_lettering(shown.marks)))
        own = (View(lettering, wall.scale, wall.at, wall.window), *others)
        pens = {*_pens(model.drawing.marks)} - {*UNPRINTED}
        frozen = {pen.layer for pen in pens if _letters(pen)}
    ends = [wall.at[0] + x * wall.factor for x in _reach(shown.marks, wall.factor)]
    left, bottom, right, top = wall.window
    # The viewport ends over the title block and notes under the face; a column beside it may reach higher.
    foot = wall.at[1] + wall.factor * min(y for mark in shown.marks for _, y in points(mark, 1 / wall.factor))
    bottom = max([bottom, *(height for height in _heights(sheet.marks) if height <= foot)])
    hair = _HAIR if parted else 0.0
    box = (max(left, ends[0] - _ROOM) - hair, bottom - hair, min(right, ends[1] + _ROOM) + hair, top + hair)
    return Layout(
        sheet.title,
        sheet.label,
        sheet.paper,
        Window(model, wall.at, box, tuple(sorted(frozen))),
        own,
        sheet.marks,
    )


def _heights(marks: Iterable[Mark]) -> Iterator[float]:
    """How high marks reach on the paper, a border left out [mm]."""
    for mark in marks:
        if isinstance(mark, Block):
            yield from _heights(mark.items)
        elif mark.pen is not BORDER:
            yield from (y for _, y in points(mark))


def _lettering(marks: Iterable[Mark]) -> Iterator[Mark]:
    """Marks on layers of lettering, those inside blocks too."""
    for mark in marks:
        if isinstance(mark, Block):
            yield from _lettering(mark.items)
        elif all(_letters(pen) for pen in _pens([mark])):
            yield mark


def _letters(pen: Pen) -> bool:
    """Whether a pen draws what is laid out anew for every part of a face."""
    return pen.layer.startswith("A-ANNO-") or pen.layer == PIECE_MARK.layer


def _pens(marks: Iterable[Mark]) -> Iterator[Pen]:
    """Pens of marks, and of what stands in blocks."""
    for mark in marks:
        if isinstance(mark, Block):
            yield from _pens(mark.items)
            continue
        for pen in (mark.pen, getattr(mark, "fill", None)):
            if pen is not None:
                yield pen


def _reach(marks: Iterable[Mark], factor: float) -> tuple[float, float]:
    """Leftmost and rightmost x of marks and their lettering [drawing units]."""
    xs = [x for mark in marks for x, _ in points(mark, 1 / factor)]
    return min(xs), max(xs)


def points(mark: Mark, mm: float = 1.0) -> Iterator[Point]:
    """Points that a mark reaches: enough to keep neighbours apart.

    Args:
        mark: any mark.
        mm: drawing units in one millimetre of paper.
    """
    match mark:
        case Line():
            yield from (mark.start, mark.end)
        case Path() | Leader():
            yield from mark.points
        case Circle():
            yield (mark.centre[0] - mark.radius, mark.centre[1] - mark.radius)
            yield (mark.centre[0] + mark.radius, mark.centre[1] + mark.radius)
        case Text():
            width = text_width(mark.text, mark.height, mark.weight) * mm if mark.angle == 0 else 0.0
            before = {"start": 0.0, "middle": width / 2, "end": width}[mark.horizontal]
            yield (mark.at[0] - before, mark.at[1])
            yield (mark.at[0] - before + width, mark.at[1])
        case Dimension():
            yield from (mark.start, mark.end, mark.line)
        case Block():
            for item in mark.items:
                yield from points(item, mm)
