"""The edge schedule: every head, sill, eave, step and band board, found by its mark."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.language.speech import gettext, noop, pgettext
from evencourse.layout.model.course_plan import Edge, ElevationPlan, Plan
from evencourse.layout.model.missed_limit import EdgeKind
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.pens import SLIVER, TEXT
from evencourse.render.sheets.column_sheets import ColumnSheets, as_few, column_drafts
from evencourse.render.sheets.flow import ColumnItem
from evencourse.render.sheets.table_sheet import (
    LARGE,
    Section,
    SheetCell,
    SheetColumn,
    Table,
    in_both,
    table_items,
)
from evencourse.render.words.cut_words import HIDDEN_TOPS
from evencourse.render.words.edge_counts import result_words
from evencourse.render.words.plan_words import (
    BELOW,
    course_name,
    edge_cut,
    edge_subject,
    hangs,
    on_tape,
    show,
    strip_left,
    where_words,
)

TITLE = noop("Edge schedule")
#: Between columns; a column as wide as this is squeezed into, a narrower one is not tried [mm].
_GUTTER, _NARROWEST = 9.0, 180.0
_NOTE = noop(
    "A filled bar is flush, an open step a notch or a rip, a filled diamond a sliver. Heights from the datum."
)
#: An opening's head stands over its sill; what belongs to no opening comes last, from the bottom up.
_ORDER: dict[EdgeKind, int] = {"head": 0, "sill": 1}


def edge_schedule(plan: Plan, paper_name: str, stamp: Stamp = NO_STAMP) -> tuple[Draft, ...]:
    """The sheets of the edge schedule: by face, by opening in the order of the job.

    Args:
        plan: the plan.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
    """
    sections = tuple(
        Section(face.elevation.name, tuple(_rows(plan, face)), result_words(face.edges, face.thin_ends))
        for face in plan.elevations
    )

    def made() -> ColumnSheets:
        table = Table(in_both(_columns), sections)

        def items(width: float) -> list[ColumnItem] | None:
            return table_items(table, width, width >= _NARROWEST)

        return column_drafts(plan, TITLE, gettext(_NOTE), items, _GUTTER, paper_name, stamp)

    return as_few(made).drafts


def _columns() -> tuple[SheetColumn, ...]:
    return (
        SheetColumn(pgettext("over edges", "Edge"), height=LARGE, most=62.0),
        SheetColumn(pgettext("over heights of edges", "Height"), "end"),
        SheetColumn(pgettext("over numbers of courses", "Course"), "end", height=LARGE),
        SheetColumn(gettext("Cut, up from the bottom"), "end", height=LARGE),
        SheetColumn(pgettext("over what is left of a course", "Strip"), "end", height=LARGE),
        SheetColumn(pgettext("over how far to fur out", "Fur out"), "end", height=LARGE),
        SheetColumn(pgettext("over notes", "Notes"), wraps=True),
    )


def _rows(plan: Plan, face: ElevationPlan) -> Iterator[tuple[SheetCell, ...]]:
    marks = [hole.mark for hole in face.elevation.openings]
    places = {mark: place for place, mark in enumerate(marks)}
    last = len(places)

    def place(edge: Edge) -> tuple[float, ...]:
        at = places.get(edge.opening, last) if edge.opening is not None else last
        return (at, _ORDER.get(edge.edge, 2), edge.height, edge.left)

    for edge in sorted(face.edges, key=place):
        yield _row(plan, edge)


def _row(plan: Plan, edge: Edge) -> tuple[SheetCell, ...]:
    job, course_set = plan.job, plan.course_sets[edge.course_set]
    flush = edge.result == "flush"
    pen = SLIVER if edge.result == "sliver" else TEXT
    cut, left = (0.0, 0.0) if flush else (edge_cut(edge, plan)[0], strip_left(edge, plan))
    furring = 0.0 if hangs(edge, plan) else on_tape(job, edge.furring)
    return (
        SheetCell(edge_subject(edge), pen, "bold", edge.result),
        SheetCell(show(job, edge.height)),
        SheetCell(course_name(course_set, edge.course), weight="bold"),
        SheetCell("" if flush else show(job, cut), weight="bold"),
        SheetCell("" if flush else show(job, left), pen),
        SheetCell(show(job, furring) if furring > 0 else "", weight="bold"),
        SheetCell("; ".join(_notes(plan, edge))),
    )


def _notes(plan: Plan, edge: Edge) -> Iterator[str]:
    """What the figures of a row do not say."""
    job = plan.job
    if edge.importance == "must" and edge.result != "flush":
        yield gettext("must-meet edge, missed")
    elif edge.importance == "ignore":
        yield gettext("need not be flush")
    if edge.result == "flush":
        off = on_tape(job, edge.miss)
        family = plan.course_sets[edge.course_set].cladding.family
        if edge.edge in BELOW:
            yield gettext("course ends here, its {hidden} off", hidden=gettext(HIDDEN_TOPS[family]))
        else:
            yield gettext("course begins here")
        if off > 0:
            yield gettext("its line is {length} above the edge", length=show(job, off))
        elif off < 0:
            yield gettext("its line is {length} below the edge", length=show(job, -off))
        return
    if edge.result == "sliver":
        yield pgettext("what an edge leaves", "sliver")
    if hangs(edge, plan):
        yield gettext("already installed")
    elif edge.rip and edge.edge in BELOW:
        yield gettext("rip, keep the lower part")
    elif edge.rip:
        yield gettext("rip, keep the upper part")
    if edge.chord is not None:
        yield where_words(edge, plan).strip()
