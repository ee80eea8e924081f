"""Border and title block of a sheet: whose it is, to what scale, of which issue, and who answers for it.

The border stands nearer to the edge of the paper than anything that is drawn; the title block lies on its
lower side, over the whole width, so that a clip at the top hides nothing of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from evencourse.layout.language.speech import gettext, ngettext, noop, pgettext
from evencourse.layout.model.course_plan import Plan
from evencourse.render.border.stamp import Stamp
from evencourse.render.drawing.drawing import Block, Line, Mark, Path, Text
from evencourse.render.drawing.fonts import text_width
from evencourse.render.drawing.papers import Paper, Units
from evencourse.render.drawing.pens import BORDER, TEXT, TITLE, TITLE_THIN
from evencourse.render.drawing.placement import Box, fitted

#: What the title block takes off the foot of the frame [mm].
HEIGHT = 14.5
#: How lengths are written, said once a sheet.
UNITS: dict[Units, str] = {"in": noop("feet and inches"), "mm": noop("mm")}
#: Heights of lettering [mm]: of the sheet's code, of what it shows, of values, of what they are.
_CODE, _TITLE, _VALUE, _LABEL = 7.0, 5.0, 3.5, 2.5
#: Air in a cell, and between what a value is and the value [mm].
_AIR, _APART = 1.8, 2.0
#: Widths of the cells with scale, issue, signatures and code [mm]; whose it is takes the rest.
_CELLS = (45.0, 46.0, 36.0, 28.0)


@dataclass(frozen=True)
class Titled:
    """What a title block says of its sheet alone.

    Attributes:
        title: what it shows: the face's name on the sheets of a face.
        names: the faces that a sheet of several is about.
        numbers: its number in the whole set, from 1, and how many sheets that has.
        scale: as written on a scale rule; empty for a sheet that shows no drawing to one scale.
        face: the face's name; empty where it shows none.
        part: which part of the face, or of so many sheets of a kind; empty for all of it.
    """

    title: str
    numbers: tuple[int, int]
    scale: str = ""
    face: str = ""
    part: str = ""
    names: tuple[str, ...] = ()

    @property
    def code(self) -> str:
        """The sheet's code: its number in the whole set."""
        return str(self.numbers[0])

    def words(self, named: int | None = None) -> str:
        """Title, names and part; with fewer names it is told how many more there are."""
        names, more = self.names[:named], len(self.names[named:]) if named is not None else 0
        listed, title = ", ".join(names), self.title
        if names and more:
            listed = ngettext("{names} and {count} more", "{names} and {count} more", more, names=listed)
        elif more:
            listed = ngettext("{count} faces", "{count} faces", more)
        if listed:
            title = gettext("{title}: {faces}", title=title, faces=listed)
        return ", ".join(word for word in (title, self.part) if word)

    @property
    def scale_words(self) -> str:
        """The scale, or that there is none."""
        return self.scale or gettext("not to scale")

    def fitted(self, width: float, height: float) -> str:
        """Title, part and as many whole names as a width has room for [mm]."""
        for named in (None, *range(len(self.names) - 1, -1, -1)):
            found = self.words(named)
            if text_width(found, height, "bold") <= width:
                return found
        return fitted(found, width, height, "bold")


def title_block(plan: Plan, titled: Titled, stamp: Stamp, paper: Paper) -> Block:
    """Border and title block as one block whose attributes a drafter can extract.

    Args:
        plan: the plan.
        titled: what it says of the sheet.
        stamp: which issue the sheet belongs to.
        paper: what it is drawn on.

    References:
        ISO 7200 (what a title block says), ISO 5457 (border).
    """
    attributes = (
        ("TITLE", titled.words()),
        ("JOB", plan.job.name),
        ("FACE", titled.face),
        ("PART", f"{titled.part[:1].upper()}{titled.part[1:]}"),
        ("SHEET", titled.code),
        ("SHEETS", str(titled.numbers[1])),
        ("SCALE", titled.scale_words),
        ("UNITS", gettext(UNITS[plan.job.units])),
        ("DATE", stamp.date or ""),
        ("REVISION", stamp.revision),
        ("FINGERPRINT", stamp.fingerprint),
    )
    frame = Box(*paper.frame)
    items = tuple(_marks(plan, titled, stamp, paper))
    return Block(f"title block {titled.code}", (frame.left, frame.bottom), items, attributes)


def _marks(plan: Plan, titled: Titled, stamp: Stamp, paper: Paper) -> Iterator[Mark]:
    left, low, right, high = paper.border
    yield Path(BORDER, ((left, low), (right, low), (right, high), (left, high)), True)
    top = paper.margin + HEIGHT
    yield Line(TITLE, (left, top), (right, top))
    cells: list[Box] = []
    for width in reversed(_CELLS):
        cells.append(Box(right - width, low, right, top))
        right -= width
        yield Line(TITLE_THIN, (right, low), (right, top))
    code, signed, issue, scaled = cells
    yield from _whose(plan, titled, Box(left, low, right, top))
    printed = f"{paper.label}, 100 %"
    drawn = (
        (pgettext("title block", "Scale"), titled.scale_words),
        (pgettext("title block", "Units"), gettext(UNITS[plan.job.units])),
        (pgettext("title block", "Paper"), printed),
    )
    yield from _rows(drawn, scaled)
    issued = (
        (pgettext("title block", "Date"), stamp.date or ""),
        (pgettext("title block", "Revision"), stamp.revision),
        (pgettext("title block", "Fingerprint"), stamp.fingerprint),
    )
    yield from _rows(issued, issue)
    yield from _signatures(signed)
    yield Text(TEXT, (code.left + _AIR, top - _AIR), pgettext("title block", "Sheet"), _LABEL, vertical="cap")
    of = pgettext("number of a sheet", "of {count}", count=titled.numbers[1])
    room = code.width - 2 * _AIR - _APART - text_width(of, _LABEL)
    height = _CODE if text_width(titled.code, _CODE, "bold") <= room else _TITLE
    yield Text(TEXT, (code.left + _AIR, low + _AIR), titled.code, height, weight="bold")
    yield Text(TEXT, (code.right - _AIR, low + _AIR), of, _LABEL, "end")


def _whose(plan: Plan, titled: Titled, cell: Box) -> Iterator[Mark]:
    """What the sheet shows, the job, and what heights are measured from."""
    job = plan.job
    name = job.name or gettext("Siding layout")
    x, width, y = cell.left + _AIR + 1.2, cell.width - 2 * _AIR - 1.2, cell.top - _AIR
    height = _TITLE if text_width(titled.words(), _TITLE, "bold") <= width else _VALUE
    yield Text(TEXT, (x, y), titled.fitted(width, height), height, vertical="cap", weight="bold")
    y -= _TITLE + _AIR
    yield Text(TEXT, (x, y), fitted(name, width, _VALUE), _VALUE, vertical="cap")
    note = gettext("Heights from: {datum}", datum=job.datum_words)
    author = gettext("Measured by {name}", name=job.author) if job.author else ""
    whole = f"{note}. {author}" if author else note
    if author and text_width(whole, _LABEL) > width:
        # Who measured stands at the end of the job's line, where that leaves room for it.
        used = text_width(name, _VALUE) + text_width(author, _LABEL) + _APART
        if used <= width:
            yield Text(TEXT, (x + width, y - _VALUE), author, _LABEL, "end")
            whole = note
    yield Text(TEXT, (x, cell.bottom + 1.4), fitted(whole, width, _LABEL), _LABEL)


def _rows(values: Sequence[tuple[str, str]], cell: Box) -> Iterator[Mark]:
    """Rows of what a value is and the value, smaller where it is long; it may be blank to be filled in."""
    pitch = cell.height / len(values)
    beside = cell.left + _AIR + max(text_width(label, _LABEL) for label, _ in values) + _APART
    for row, (label, value) in enumerate(values):
        level = cell.top - row * pitch - (pitch + _VALUE) / 2
        if row:
            yield Line(TITLE_THIN, (cell.left, cell.top - row * pitch), (cell.right, cell.top - row * pitch))
        yield Text(TEXT, (cell.left + _AIR, level), label, _LABEL)
        if value:
            width = cell.right - _AIR - beside
            height = _VALUE if text_width(value, _VALUE) <= width else _LABEL
            yield Text(TEXT, (beside, level), fitted(value, width, height), height)


def _signatures(cell: Box) -> Iterator[Mark]:
    """Who drew and who checked, blank to sign."""
    middle = (cell.bottom + cell.top) / 2
    yield Line(TITLE_THIN, (cell.left, middle), (cell.right, middle))
    labels = pgettext("title block", "Drawn by"), pgettext("title block", "Checked by")
    for label, top in zip(labels, (cell.top, middle), strict=True):
        yield Text(TEXT, (cell.left + _AIR, top - _AIR), label, _LABEL, vertical="cap")
