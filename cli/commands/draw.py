"""``draw``: every elevation as SVG, PDF and PNG, the job as DXF; of one job, or of many at once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from evencourse.cli.files.file_names import file_names, safe_stem
from evencourse.cli.files.output import Output
from evencourse.cli.files.output_name import check_folder
from evencourse.cli.options.choices import (
    read_date,
    read_dpi,
    read_list,
    read_paper,
    read_revision,
    read_version,
    usual_paper,
)
from evencourse.cli.options.planning import planned_job
from evencourse.cli.options.shared_options import (
    AuthorityOption,
    CertificateOption,
    ChangedOption,
    ClusterOption,
    DateOption,
    FolderOption,
    JobsArgument,
    KeyOption,
    PaperOption,
    RevisionOption,
    StarterOption,
    WorkersOption,
)
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import clean
from evencourse.cli.street.finished import Finished, finished, put, what_stands
from evencourse.cli.street.parcel import Parcel, parcel
from evencourse.cli.street.several_jobs import check_street, output_names, over_jobs, read_engine, summed_up
from evencourse.cli.street.street_summary import Summary, summary
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.errors import Fault, JobError
from evencourse.render.border.stamp import Stamp
from evencourse.render.crew_set.sheet_set import DrawnSheets, drawn_sheets
from evencourse.render.drawing.drawing import Document, Sheet
from evencourse.render.formats.back_end import BackEnd
from evencourse.render.formats.cad_set import Version, cad_set
from evencourse.render.formats.dxf import dxf
from evencourse.render.formats.pdf import pdf
from evencourse.render.formats.png import png
from evencourse.render.formats.svg import svg
from evencourse.render.sheets.detail_sheets import TITLE as DETAILS
from evencourse.render.words.plan_words import counted
from evencourse.render.words.result import Result, result

#: What is drawn when nothing is said, and what can be asked for: a picture needs a library of the system.
USUAL = ("svg", "pdf", "dxf")
FORMATS = (*USUAL, "png")
OnlyOption = Annotated[
    str | None,
    typer.Option("--only", metavar="LIST", help="Some of svg,pdf,dxf,png; without it, the first three."),
]
FacesOption = Annotated[
    bool, typer.Option("--dxf-per-face", help="A DXF for each face instead of one for all.")
]
VersionOption = Annotated[
    str | None,
    typer.Option("--dxf-version", metavar="VERSION", help="R2010 (default), or R2000 for older programs."),
]
DpiOption = Annotated[
    str | None,
    typer.Option("--dpi", metavar="NUMBER", help="Of a PNG, 50 to 600; without it, 150: good on a phone."),
]


@dataclass(frozen=True)
class DrawOptions:
    """What to draw.

    Attributes:
        formats: some of ``FORMATS``.
        paper: None for the usual one.
        day: a date to print.
        revision: a revision to print; empty for none.
        per_face: a DXF for each face.
        version: of the DXF.
        dpi: dots per inch of a PNG's paper.
    """

    formats: tuple[str, ...]
    paper: str | None
    day: str | None
    revision: str
    per_face: bool
    version: Version
    dpi: int


def draw(
    jobs: JobsArgument,
    output: FolderOption,
    paper: PaperOption = None,
    only: OnlyOption = None,
    dxf_per_face: FacesOption = False,
    dxf_version: VersionOption = None,
    dpi: DpiOption = None,
    date: DateOption = None,
    revision: RevisionOption = None,
    starter: StarterOption = None,
    changed: ChangedOption = False,
    workers: WorkersOption = None,
    cluster: ClusterOption = None,
    tls_ca: AuthorityOption = None,
    tls_cert: CertificateOption = None,
    tls_key: KeyOption = None,
) -> int:
    """Draw elevations and details as SVG and PDF, and the job as DXF; several jobs each in its folder.

    --only png makes pictures of the faces, for a phone or a mail.
    """
    faults: list[Fault] = []
    formats = USUAL if only is None else read_list("--only", only, FORMATS, faults)
    chosen = read_paper(paper, faults)
    version = read_version(dxf_version, faults)
    wanted = DrawOptions(
        formats,
        chosen,
        read_date(date, faults),
        read_revision(revision, faults),
        dxf_per_face,
        version,
        read_dpi(dpi, faults),
    )
    engine = read_engine(workers, cluster, (tls_ca, tls_cert, tls_key), jobs, faults)
    check_street(jobs, starter, faults)
    names = output_names(jobs, faults)
    check_folder(output, faults)
    if faults:
        raise JobError(faults)

    def stands(folder: Path, one: Parcel) -> Summary | None:
        suffixes = [f".{kind}" for kind in formats]
        return what_stands(folder, suffixes, one.key((wanted, starter))) if changed else None

    if len(jobs) > 1:
        folders = [Path(output) / name for name in names]

        def settle(index: int, one: Finished) -> Summary:
            put(folders[index], one)
            return one.summary

        work = partial(draw_one, wanted)
        found = over_jobs(work, jobs, engine, settle, lambda index, one: stands(folders[index], one))
        return summed_up(jobs, found, output)
    one = parcel(jobs[0])
    if (same := stands(Path(output), one)) is not None:
        print(clean(f"{output}: unchanged, {counted(same.files, 'file')} left as they were"))
        return 0 if same.clean else 1
    drawn = planned_job(one.job(), starter)
    faces = len(drawn.plan.elevations)
    steps = sum((faces if dxf_per_face else 1) if kind == "dxf" else faces + 1 for kind in formats)
    with Progress(1 + steps) as progress:
        paths = put(Path(output), _drawn(drawn, wanted, one.key((wanted, starter)), progress))
    for path in paths:
        print(clean(str(path)))
    return 0 if drawn.plan.clean else 1


def draw_one(wanted: DrawOptions, one: Parcel) -> Finished:
    """Draw one of several jobs, in another process or on another machine.

    Args:
        wanted: what to draw.
        one: the job.
    """
    return _drawn(result(one.job()), wanted, one.key((wanted, None)), Progress(1))


def _drawn(found: Result, wanted: DrawOptions, key: str, progress: Progress) -> Finished:
    """The files of a job."""
    plan = found.plan
    progress.step("cutting the pieces, laying out the sheets")
    stamp = Stamp(wanted.day, wanted.revision, found.fingerprint)
    sheets = drawn_sheets(found, wanted.paper or usual_paper(plan.job.units), stamp)
    outputs = _sheet_files(plan, sheets, wanted, progress)
    if "dxf" in wanted.formats:
        outputs += _dxf_files(found, sheets, wanted, progress)
    count = len(sheets.details) + sum(map(len, sheets.faces))
    return finished(outputs, summary(found, count, len(outputs)), key, _stems(plan))


def _names(plan: Plan) -> list[str]:
    """What is drawn: the faces, then their details."""
    return [*(face.elevation.name for face in plan.elevations), DETAILS]


def _stems(plan: Plan) -> tuple[str, ...]:
    return file_names(plan.job.name, _names(plan))


def _sheet_files(plan: Plan, sheets: DrawnSheets, wanted: DrawOptions, progress: Progress) -> list[Output]:
    """The sheets of every face and of the details: an SVG and a PNG a sheet, one PDF with all of them."""
    outputs = []
    drawn = (*sheets.faces, sheets.details)
    for name, stem, parts in zip(_names(plan), _stems(plan), drawn, strict=True):
        ends = [""] if len(parts) == 1 else [f"-part-{number + 1}" for number in range(len(parts))]
        for kind in ("svg", "png"):
            if kind in wanted.formats:
                progress.step(f"{name}, {kind.upper()}")
                back_end = _of_sheets(kind, wanted.dpi)
                outputs += [
                    Output(f"{stem}{end}.{kind}", back_end(part))
                    for end, part in zip(ends, parts, strict=True)
                ]
        if "pdf" in wanted.formats:
            progress.step(f"{name}, PDF")
            title = f"{plan.job.name}: {name}" if plan.job.name else name
            document = Document(title, tuple(parts), author=plan.job.author, date=wanted.day)
            outputs.append(Output(f"{stem}.pdf", pdf(document)))
    return outputs


def _of_sheets(kind: str, dpi: int) -> BackEnd[Sheet]:
    """The back end for single sheets of a format."""
    if kind == "svg":
        return svg
    return partial(png, dpi=dpi)


def _dxf_files(found: Result, sheets: DrawnSheets, wanted: DrawOptions, progress: Progress) -> list[Output]:
    """One DXF with all faces at full size and all sheets, or one for each face."""
    names = _dxf_names(found.plan, wanted.per_face)
    drawn = partial(cad_set, found, sheets.faces, found.material.pieces, wanted.day, details=sheets.details)
    if not wanted.per_face:
        progress.step("DXF")
        return [Output(names[0], dxf(drawn(), wanted.version))]
    outputs = []
    for number, (face, name) in enumerate(zip(found.plan.elevations, names, strict=True)):
        progress.step(f"{face.elevation.name}, DXF")
        outputs.append(Output(name, dxf(drawn(faces=[number]), wanted.version)))
    return outputs


def _dxf_names(plan: Plan, per_face: bool) -> tuple[str, ...]:
    """What the DXF is called, or the one of each face."""
    stems = _stems(plan)[:-1] if per_face else (safe_stem(plan.job.name),)
    return tuple(f"{stem}.dxf" for stem in stems)
