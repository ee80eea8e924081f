"""Files to hand out: made as the commands of the same names make them.

What a crew reads is in the job's own language; where the job names none, in that of the desk.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from evencourse.cli.files.file_names import safe_stem
from evencourse.cli.options.choices import usual_paper
from evencourse.cli.reports.cuts_table import cuts_table
from evencourse.cli.reports.order_tables import order_tables
from evencourse.cli.reports.spreadsheet import csv_bytes, xlsx_bytes
from evencourse.cli.street.crew_sets import SheetOptions, bound
from evencourse.cli.street.drawn_jobs import DrawOptions, drawn_files
from evencourse.cli.street.parcel import Parcel
from evencourse.cli.views.hand_out_kinds import KINDS
from evencourse.layout.language.speech import ENGLISH, gettext, speaking, spoken
from evencourse.layout.results.plan_file import plan_json
from evencourse.render.drawing.drawing import Document
from evencourse.render.formats.pdf import pdf
from evencourse.render.page.phone_page import phone_page
from evencourse.render.templates.story_pole import pole_sheets
from evencourse.render.words.result import Result

#: Told what is being done.
Step = Callable[[str], None]


def _language(found: Result) -> str | None:
    """As the commands are told a language: None where that of the job holds, or English."""
    code = spoken().code
    return None if found.job.language or code == ENGLISH.code else code


def _crew_set(found: Result, step: Step, one: Parcel) -> bytes:
    step(gettext("cutting the pieces"))
    _ = found.material.pieces
    wanted = SheetOptions(language=_language(found))
    return bound(found, wanted, one.key((wanted, None)), step).outputs[0].data


def _dxf(found: Result, step: Step, one: Parcel) -> bytes:
    wanted = DrawOptions(("dxf",), language=_language(found))
    return drawn_files(found, wanted, one.key((wanted, None)), step, one.origin).outputs[0].data


def _workbook(found: Result, step: Step, one: Parcel) -> bytes:
    step(gettext("pieces, stock and what to order"))
    return xlsx_bytes(order_tables(found))


def _order(found: Result, step: Step, one: Parcel) -> bytes:
    step(gettext("pieces, stock and what to order"))
    return csv_bytes(order_tables(found)[0])


def _cuts(found: Result, step: Step, one: Parcel) -> bytes:
    step(gettext("pieces and stock"))
    return csv_bytes(cuts_table(found))


def _page(found: Result, step: Step, one: Parcel) -> bytes:
    step(gettext("every starter, and the pieces"))
    with speaking(_language(found) or found.job.language):
        return phone_page(found, usual_paper(found.job.units)).encode()


def _pole(found: Result, step: Step, one: Parcel) -> bytes:
    step(gettext("the pole"))
    job = found.job
    with speaking(_language(found) or job.language):
        sheets = pole_sheets(found, usual_paper(job.units), None, None)
        title = gettext("{job}: story pole", job=job.name) if job.name else gettext("Story pole")
        every = tuple(sheet for pole in sheets for sheet in pole)
        return pdf(Document(title, every, author=job.author))


def _plan_file(found: Result, step: Step, one: Parcel) -> bytes:
    step(gettext("the plan, its pieces and the order"))
    with speaking(ENGLISH.code):
        return plan_json(found.plan, found.material).encode()


_MADE: Mapping[str, Callable[[Result, Step, Parcel], bytes]] = {
    "sheets": _crew_set,
    "page": _page,
    "pole": _pole,
    "order": _order,
    "workbook": _workbook,
    "cuts": _cuts,
    "dxf": _dxf,
    "plan": _plan_file,
}


def made(kind: str, one: Parcel, found: Result, step: Step) -> tuple[str, str, bytes]:
    """A file to hand out: its name, its media type, its bytes.

    Args:
        kind: one of ``evencourse.cli.views.hand_out_kinds.KINDS``.
        one: the job as it is written.
        found: its finished result.
        step: told what is being done.
    """
    data = _MADE[kind](found, step, one)
    return f"{safe_stem(found.job.name or 'job')}{KINDS[kind].ending}", KINDS[kind].media, data
