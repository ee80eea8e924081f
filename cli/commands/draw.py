"""``draw``: every elevation as SVG, PDF and PNG, the job as DXF; of one job, or of many at once."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Sequence, Set
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from evencourse.cli.files.file_names import file_names, safe_stem
from evencourse.cli.files.output import Output, write_folder
from evencourse.cli.files.output_name import check_drawings, check_folder
from evencourse.cli.options.choices import (
    read_date,
    read_dpi,
    read_list,
    read_paper,
    read_revision,
    read_version,
    usual_paper,
)
from evencourse.cli.options.job_reading import read
from evencourse.cli.options.planning import planned
from evencourse.cli.options.shared_options import (
    DateOption,
    FolderOption,
    JobsArgument,
    PaperOption,
    RevisionOption,
    StarterOption,
    WorkersOption,
)
from evencourse.cli.reports.progress import Progress
from evencourse.cli.reports.table import clean
from evencourse.cli.street.several_jobs import check_street, output_names, over_jobs, read_workers, summed_up
from evencourse.cli.street.street_summary import Summary, summary
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.pieces.all_pieces import Pieces
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
    workers: WorkersOption = None,
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
    number = read_workers(workers, faults)
    check_street(jobs, starter, faults)
    names = output_names(jobs, faults)
    check_folder(output, faults)
    if faults:
        raise JobError(faults)
    if len(jobs) > 1:
        tasks = [(job, Path(output) / name) for job, name in zip(jobs, names, strict=True)]
        return summed_up(jobs, over_jobs(partial(draw_one, wanted), jobs, tasks, number), output)
    found = planned(jobs[0], starter)
    faces = len(found.plan.elevations)
    steps = sum((faces if dxf_per_face else 1) if kind == "dxf" else faces + 1 for kind in formats)
    with Progress(2 + steps) as progress:
        paths = _drawn(found, Path(output), wanted, progress)[0]
    for path in paths:
        print(clean(str(path)))
    return 0 if found.plan.clean else 1


def draw_one(wanted: DrawOptions, task: tuple[str, Path]) -> Summary:
    """Draw one of several jobs, in a process of its own.

    Args:
        wanted: what to draw.
        task: the job file, and the folder for what is drawn.
    """
    source, folder = task
    found = result(read(source))
    paths, sheets = _drawn(found, folder, wanted, Progress(1))
    return summary(found, sheets, len(paths))


def _drawn(
    found: Result, folder: Path, wanted: DrawOptions, progress: Progress
) -> tuple[tuple[Path, ...], int]:
    """Draw a job into a folder: its files, and how many sheets there are."""
    plan = found.plan
    progress.step("cutting the pieces")
    cut = found.material.pieces
    progress.step("laying out the sheets")
    stamp = Stamp(wanted.day, wanted.revision, found.fingerprint)
    sheets = drawn_sheets(found, wanted.paper or usual_paper(plan.job.units), stamp)
    outputs = _sheet_files(plan, sheets, wanted, progress)
    if "dxf" in wanted.formats:
        check_drawings([folder / name for name in _dxf_names(plan, wanted.per_face)])
        outputs += _dxf_files(plan, cut, sheets, wanted.per_face, wanted.version, wanted.day, progress)
    paths = write_folder(folder, outputs)
    _clear_parts(folder, _stems(plan), wanted.formats, {path.name for path in paths})
    return paths, len(sheets.details) + sum(map(len, sheets.faces))


def _clear_parts(folder: Path, stems: Sequence[str], formats: Sequence[str], written: Set[str]) -> None:
    """Take away what an earlier run drew of the same faces when they took another number of sheets."""
    for path in folder.iterdir():
        named = re.fullmatch(r"(.+?)(?:-part-[1-9]\d*)?\.(svg|png)", path.name)
        ours = named and named[1] in stems and named[2] in formats
        if ours and path.name not in written and path.is_file():
            with contextlib.suppress(OSError):  # it is of no harm where it cannot be taken away
                path.unlink()


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


def _dxf_files(
    plan: Plan,
    cut: Pieces,
    sheets: DrawnSheets,
    per_face: bool,
    version: Version,
    day: str | None,
    progress: Progress,
) -> list[Output]:
    """One DXF with all faces at full size and all sheets, or one for each face."""
    names = _dxf_names(plan, per_face)
    if not per_face:
        progress.step("DXF")
        return [Output(names[0], dxf(cad_set(plan, sheets.faces, cut, day, details=sheets.details), version))]
    outputs = []
    for number, (face, name) in enumerate(zip(plan.elevations, names, strict=True)):
        progress.step(f"{face.elevation.name}, DXF")
        one = cad_set(plan, sheets.faces, cut, day, [number], sheets.details)
        outputs.append(Output(name, dxf(one, version)))
    return outputs


def _dxf_names(plan: Plan, per_face: bool) -> tuple[str, ...]:
    """What the DXF is called, or the one of each face."""
    stems = _stems(plan)[:-1] if per_face else (safe_stem(plan.job.name),)
    return tuple(f"{stem}.dxf" for stem in stems)
