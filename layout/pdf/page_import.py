"""A page of a PDF as a job: its scale, which of its lines count, and the faces among them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from evencourse.layout.drawings.drawing_import import Gathered, Import, finished
from evencourse.layout.drawings.drawing_units import WORDS, KnownLength, SeenSizes, UnitScale
from evencourse.layout.drawings.drawn_by_shape import DrawnLines
from evencourse.layout.drawings.drawn_faces import Faces, find_faces
from evencourse.layout.drawings.first_look import Wishes
from evencourse.layout.drawings.picks import drawn_length, numbered
from evencourse.layout.dxf.block_placing import PlacedDrawing
from evencourse.layout.dxf.layers import KINDS, Roles
from evencourse.layout.language.speech import decimals, gettext
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Point, Units
from evencourse.layout.pdf.page_lines import PdfPage

#: Scales that elevations are drawn at, one to so many: the architect's and the metric ones. Common practice,
#: no source.
_SCALES = (12, 16, 20, 24, 25, 32, 48, 50, 64, 75, 96, 100, 125, 128, 150, 192, 200)
#: Points in an inch, and how near ends meet on a page [pt].
_POINTS, _NEAR = 72.0, 0.1
#: Widths of lines that are told apart [pt], and most of them.
_STEP, _WIDTHS = 0.1, 8
_FEET = re.compile(r"""(\d+(?:[ -]\d+/\d+|/\d+|\.\d+)?) ?["”] ?= ?1 ?['’]""")
_ONE_TO = re.compile(r"\b1 ?: ?(\d{2,3})\b")


def understand_page(page: PdfPage, wishes: Wishes, known: KnownLength | None, make_job: bool) -> Import:
    """Make a job of a page: what is gathered, then finished.

    Args:
        page: the page.
        wishes: what the user says.
        known: a length that sets the scale; None for the scale that is lettered on the page.
        make_job: the job is wanted, not only what was found.

    Raises:
        JobError: every fault: no lines, no scale, and what a job must satisfy.
    """
    return finished(gather_page(page, wishes, known), wishes, make_job)


def gather_page(page: PdfPage, wishes: Wishes, known: KnownLength | None) -> Gathered:
    """Look for faces on a page, whatever is picked of them later; arguments as of :func:`understand_page`.

    Raises:
        JobError: a page without lines.
    """
    faults: list[Fault] = []
    doubts: list[Fault] = []
    if not page.lines:
        raise JobError([_no_lines(page)])
    guess, lettered = _scale(page, wishes)
    found, placed = _found(page, guess, wishes)
    scale: UnitScale | None = guess
    if known is not None:
        drawn = drawn_length(known, numbered(found), faults)
        scale = None if drawn is None else UnitScale("pt", known.units, known.length / drawn, "--known")
        if scale is not None:
            found, placed = _found(page, scale, wishes)
    elif not lettered:
        wanted = gettext("--known LENGTH --between N: how wide region N of --show --svg PICTURE is")
        where = gettext("page {number}", number=page.number)
        doubts.append(Fault(where, gettext("no scale that is lettered once"), wanted))
    if wishes.like is not None and scale is not None and wishes.like.units != scale.units:
        own = gettext(WORDS[wishes.like.units])
        other_way = gettext("or --known with a length in {units}", units=own)
        wanted = gettext("one in {units}; {hint}", units=gettext(WORDS[scale.units]), hint=other_way)
        faults.append(Fault("--like", gettext("a job in {units}", units=own), wanted))
    if not found.faces:
        found.none = gettext(
            "no outline that may be a face, among {count} lines of page {number}",
            count=len(page.lines),
            number=page.number,
        )
    notes = [] if scale is None else [_scale_words(scale)]
    if known is None:
        hint = gettext("--known sets the scale")
        notes.append(gettext("check one length: a page may be printed smaller or larger; {hint}", hint=hint))
    return Gathered(found, placed, scale, wishes.like, notes=notes, faults=faults, doubts=doubts)


def _scale_words(scale: UnitScale) -> str:
    return gettext(
        "one point of the page is {length} {units}, by {source}",
        length=decimals(f"{scale.factor:.6g}"),
        units=scale.units,
        source=scale.by,
    )


def _no_lines(page: PdfPage) -> Fault:
    where = gettext("page {number} of {count}", number=page.number, count=page.count)
    wanted = gettext("a page that a CAD program has drawn: its lines count")
    if page.overfull:
        few = gettext("a page with one or a few elevations")
        return Fault(where, gettext("more lines than an elevation has"), few)
    if page.pictures:
        return Fault(where, gettext("a scanned picture, without lines"), wanted)
    return Fault(where, gettext("no lines"), wanted)


def _scale(page: PdfPage, wishes: Wishes) -> tuple[UnitScale, bool]:
    """The scale, and whether it is lettered: else that in which rectangles have the sizes of openings."""
    lettered = {one for label in page.labels for one in _lettered(label.text)}
    if len(lettered) == 1:
        ((scale, units, words),) = lettered
        by = gettext('the scale "{scale}" on the page', scale=words)
        return _of(scale, wishes.like.units if wishes.like else units, by), True
    best: tuple[float, float] = (0.0, 48.0)
    for curves in _by_weight(page):
        lines = DrawnLines(curves, _NEAR, _NEAR / 4)
        seen = SeenSizes(lines.boxes, lines.all_boxes)
        fit, scale = max((seen.fit(one / _POINTS), -one) for one in _SCALES)
        best = max(best, (fit, -scale))
    by = gettext("the sizes of its openings")
    return _of(best[1], wishes.like.units if wishes.like else "in", by), False


def _of(scale: float, units: Units, by: str) -> UnitScale:
    return UnitScale("pt", units, scale / _POINTS * (1.0 if units == "in" else 25.4), by)


def _lettered(text: str) -> Iterator[tuple[float, Units, str]]:
    """Scales in a line of lettering: ``3/16" = 1'-0"`` is one to 64."""
    for found in _FEET.finditer(text):
        parts = re.split(r"[ -]", found[1])
        paper = sum(
            float(a) / float(b or 1) for a, _, b in (one.partition("/") for one in parts) if float(b or 1)
        )
        if paper > 0:
            yield 12 / paper, "in", found[0]
    for found in _ONE_TO.finditer(text):
        if float(found[1]) in _SCALES:
            yield float(found[1]), "mm", found[0]


def _by_weight(page: PdfPage) -> Iterator[list]:  # type: ignore[type-arg]
    """The page's lines: the heaviest alone, then lighter ones too, at last all of them."""
    widths = sorted({round(line.width / _STEP) for line in page.lines}, reverse=True)
    steps = widths[: _WIDTHS - 1] + widths[-1:] if len(widths) >= _WIDTHS else widths
    count = 0
    for width in steps:
        curves = [line.curve for line in page.lines if round(line.width / _STEP) >= width]
        if len(curves) > count:
            count = len(curves)
            yield curves


def _found(page: PdfPage, scale: UnitScale, wishes: Wishes) -> tuple[Faces, PlacedDrawing]:
    """The faces among the heaviest lines that have openings in them; else among all lines.

    Outlines are drawn heavier than what is drawn on a wall, and dimensions finer than either (ISO 128).
    """
    best: tuple[Faces, PlacedDrawing] | None = None
    for curves in _by_weight(page):
        placed = PlacedDrawing(others=curves, labels=page.labels)
        near = max(_NEAR, (wishes.tolerance or 0.0) * scale.inch / scale.factor)
        best = (find_faces(placed, Roles({}), scale, near), placed)
        if any(thing.role in KINDS for face in best[0].faces for thing in face.things):
            break
    assert best is not None
    return best


def ends_of(text: str) -> int | tuple[Point, ...] | None:
    """What ``--between`` says: a region's number, or two points ``X,Y,X,Y``; None for anything else."""
    if re.fullmatch(r"\d{1,6}", text.strip()):
        return int(text)
    try:
        values: Sequence[float] = [float(one) for one in text.split(",")]
    except ValueError:
        return None
    if len(values) != 4 or not all(abs(one) < 1e6 for one in values):
        return None
    return ((values[0], values[1]), (values[2], values[3]))
