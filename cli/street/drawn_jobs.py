"""The drawings of a job as files, drawn the same for a command, a worker and the desk."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from evencourse.cli.files.file_names import file_names, safe_stem
from evencourse.cli.files.output import Output
from evencourse.cli.options.choices import usual_paper
from evencourse.cli.reports.progress import Progress
from evencourse.cli.street.finished import Finished, finished
from evencourse.cli.street.parcel import Parcel
from evencourse.cli.street.street_summary import summary
from evencourse.layout.language.speech import gettext, speaking
from evencourse.layout.model.course_plan import Plan
from evencourse.render.border.stamp import Stamp
from evencourse.render.crew_set.sheet_set import DrawnSheets, drawn_sheets
from evencourse.render.drawing.drawing import Document, Sheet
from evencourse.render.formats.back_end import BackEnd
from evencourse.render.formats.cad_set import Version, cad_set
from evencourse.render.formats.dxf import dxf
from evencourse.render.formats.ifc import ifc
from evencourse.render.formats.pdf import pdf
from evencourse.render.formats.png import png
from evencourse.render.formats.svg import svg
from evencourse.render.sheets.detail_sheets import TITLE as DETAILS
from evencourse.render.words.result import Result, result

Step = Callable[[str], None]


@dataclass(frozen=True)
class DrawOptions:
    """What to draw.

    Attributes:
        formats: some of svg, pdf, dxf, png and ifc.
        paper: None for the usual one.
        day: a date to print.
        revision: a revision to print; empty for none.
        per_face: a DXF for each face.
        version: of the DXF.
        dpi: dots per inch of a PNG's paper.
        language: code of one; None for the job's own.
    """

    formats: tuple[str, ...]
    paper: str | None = None
    day: str | None = None
    revision: str = ""
    per_face: bool = False
    version: Version = "R2010"
    dpi: int = 150
    language: str | None = None


def draw_one(wanted: DrawOptions, one: Parcel) -> Finished:
    """Draw one of several jobs, in another process or on another machine.

    Args:
        wanted: what to draw.
        one: the job.
    """
    return drawn_files(result(one.job()), wanted, one.key((wanted, None)), Progress(1).step, one.origin)


def drawn_files(found: Result, wanted: DrawOptions, key: str, step: Step, origin: str) -> Finished:
    """The files of a job, with their provenance.

    Args:
        found: the finished result of the job.
        wanted: what to draw.
        key: of what the files follow from.
        step: told what is being done.
        origin: key of the job file.
    """
    step(gettext("cutting the pieces, laying out the sheets"))
    with speaking(wanted.language or found.job.language):
        return _drawn_files(found, wanted, key, step, origin)


def _drawn_files(found: Result, wanted: DrawOptions, key: str, step: Step, origin: str) -> Finished:
    plan = found.plan
    outputs, count = [], 0
    if set(wanted.formats) != {"ifc"}:
        stamp = Stamp(wanted.day, wanted.revision, found.fingerprint)
        sheets = drawn_sheets(found, wanted.paper or usual_paper(plan.job.units), stamp)
        outputs += _sheet_files(plan, sheets, wanted, step)
        if "dxf" in wanted.formats:
            outputs += _dxf_files(found, sheets, wanted, step)
        count = len(sheets.details) + sum(map(len, sheets.faces))
    if "ifc" in wanted.formats:
        step("IFC")
        # Not the name of the job alone: a model of the building itself is often called so.
        name = f"{safe_stem(plan.job.name)}-siding.ifc"
        with speaking("en"):  # its properties are for programs
            outputs.append(Output(name, ifc(found, name, wanted.day)))
    return finished(outputs, summary(found, count, len(outputs)), key, origin)


def _names(plan: Plan) -> list[str]:
    """What is drawn: the faces, then their details."""
    return [*(face.elevation.name for face in plan.elevations), gettext(DETAILS)]


def _stems(plan: Plan) -> tuple[str, ...]:
    """What the files are called: in English, so that what is drawn anew in another language replaces them."""
    with speaking("en"):
        return file_names(plan.job.name, _names(plan))


def _sheet_files(plan: Plan, sheets: DrawnSheets, wanted: DrawOptions, step: Step) -> list[Output]:
    """The sheets of every face and of the details: an SVG and a PNG a sheet, one PDF with all of them."""
    outputs = []
    drawn = (*sheets.faces, sheets.details)
    for name, stem, parts in zip(_names(plan), _stems(plan), drawn, strict=True):
        ends = [""] if len(parts) == 1 else [f"-part-{number + 1}" for number in range(len(parts))]
        for kind in ("svg", "png"):
            if kind in wanted.formats:
                step(f"{name}, {kind.upper()}")
                back_end = _of_sheets(kind, wanted.dpi)
                outputs += [
                    Output(f"{stem}{end}.{kind}", back_end(part))
                    for end, part in zip(ends, parts, strict=True)
                ]
        if "pdf" in wanted.formats:
            step(f"{name}, PDF")
            title = gettext("{job}: {part}", job=plan.job.name, part=name) if plan.job.name else name
            document = Document(title, tuple(parts), author=plan.job.author, date=wanted.day)
            outputs.append(Output(f"{stem}.pdf", pdf(document)))
    return outputs


def _of_sheets(kind: str, dpi: int) -> BackEnd[Sheet]:
    """The back end for single sheets of a format."""
    if kind == "svg":
        return svg
    return partial(png, dpi=dpi)


def _dxf_files(found: Result, sheets: DrawnSheets, wanted: DrawOptions, step: Step) -> list[Output]:
    """One DXF with all faces at full size and all sheets, or one for each face."""
    names = _dxf_names(found.plan, wanted.per_face)
    drawn = partial(cad_set, found, sheets.faces, found.material.pieces, wanted.day, details=sheets.details)
    if not wanted.per_face:
        step("DXF")
        return [Output(names[0], dxf(drawn(), wanted.version))]
    outputs = []
    for number, (face, name) in enumerate(zip(found.plan.elevations, names, strict=True)):
        step(f"{face.elevation.name}, DXF")
        outputs.append(Output(name, dxf(drawn(faces=[number]), wanted.version)))
    return outputs


def _dxf_names(plan: Plan, per_face: bool) -> tuple[str, ...]:
    """What the DXF is called, or the one of each face."""
    stems = _stems(plan)[:-1] if per_face else (safe_stem(plan.job.name),)
    return tuple(f"{stem}.dxf" for stem in stems)
