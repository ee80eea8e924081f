"""``draw``: every elevation as SVG and PDF, the job as DXF."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from cli.options import DateOption, FolderOption, JobArgument, PaperOption, StarterOption

if TYPE_CHECKING:
    from cli.output import Output
    from cli.progress import Progress
    from layout.pieces import Pieces
    from layout.plan import Plan
    from render.cadset import Version
    from render.drawing import Sheet

FORMATS = ("svg", "pdf", "dxf")
OnlyOption = Annotated[
    str | None, typer.Option("--only", metavar="LIST", help="Some of svg,pdf,dxf; without it, all.")
]
FacesOption = Annotated[
    bool, typer.Option("--dxf-per-face", help="A DXF for each face instead of one for all.")
]
VersionOption = Annotated[
    str | None,
    typer.Option("--dxf-version", metavar="VERSION", help="R2010 (default), or R2000 for older programs."),
]


def draw(
    job: JobArgument,
    output: FolderOption,
    paper: PaperOption = None,
    only: OnlyOption = None,
    dxf_per_face: FacesOption = False,
    dxf_version: VersionOption = None,
    date: DateOption = None,
    starter: StarterOption = None,
) -> int:
    """Draw every elevation as SVG and PDF, and the job as DXF."""
    from pathlib import Path

    from cli.choices import read_date, read_list, read_paper, read_version, usual_paper
    from cli.output import write_folder
    from cli.planning import planned
    from cli.progress import Progress
    from cli.table import clean
    from layout.errors import Fault, JobError

    faults: list[Fault] = []
    formats = FORMATS if only is None else read_list("--only", only, FORMATS, faults)
    chosen = read_paper(paper, faults)
    version = read_version(dxf_version, faults)
    day = read_date(date, faults)
    if faults:
        raise JobError(faults)
    plan = planned(job, starter)
    from layout.pieces import pieces
    from render.elevationsheets import job_sheets

    faces = len(plan.elevations)
    steps = sum((faces if dxf_per_face else 1) if kind == "dxf" else faces for kind in formats)
    with Progress(2 + steps) as progress:
        progress.step("cutting the pieces")
        cut = pieces(plan)
        progress.step("laying out the sheets")
        sheets = job_sheets(plan, chosen or usual_paper(plan.job.units), day, cut)
        outputs = _sheet_files(plan, sheets, formats, day, progress)
        if "dxf" in formats:
            outputs += _dxf_files(plan, cut, sheets, dxf_per_face, version, day, progress)
        paths = write_folder(Path(output), outputs)
    for path in paths:
        print(clean(str(path)))
    return 0 if plan.clean else 1


def _stems(plan: Plan) -> tuple[str, ...]:
    from cli.names import file_names

    return file_names(plan.job.name, [face.elevation.name for face in plan.elevations])


def _sheet_files(
    plan: Plan,
    sheets: Sequence[Sequence[Sheet]],
    formats: Sequence[str],
    day: str | None,
    progress: Progress,
) -> list[Output]:
    """The sheets of every face: an SVG a sheet, one PDF with all of them."""
    from cli.output import Output
    from render.drawing import Document

    outputs = []
    for face, stem, parts in zip(plan.elevations, _stems(plan), sheets, strict=True):
        if "svg" in formats:
            from render.svg import svg

            progress.step(f"{face.elevation.name}, SVG")
            ends = [""] if len(parts) == 1 else [f"-part-{number + 1}" for number in range(len(parts))]
            outputs += [Output(f"{stem}{end}.svg", svg(part)) for end, part in zip(ends, parts, strict=True)]
        if "pdf" in formats:
            from render.pdf import pdf

            progress.step(f"{face.elevation.name}, PDF")
            title = f"{plan.job.name}: {face.elevation.name}" if plan.job.name else face.elevation.name
            document = Document(title, tuple(parts), author=plan.job.author, date=day)
            outputs.append(Output(f"{stem}.pdf", pdf(document)))
    return outputs


def _dxf_files(
    plan: Plan,
    cut: Pieces,
    sheets: Sequence[Sequence[Sheet]],
    per_face: bool,
    version: Version,
    day: str | None,
    progress: Progress,
) -> list[Output]:
    """One DXF with all faces at full size and all sheets, or one for each face."""
    from cli.names import safe_stem
    from cli.output import Output
    from render.cadset import cad_set
    from render.dxf import dxf

    if not per_face:
        progress.step("DXF")
        return [Output(f"{safe_stem(plan.job.name)}.dxf", dxf(cad_set(plan, sheets, cut, day), version))]
    outputs = []
    for number, (face, stem) in enumerate(zip(plan.elevations, _stems(plan), strict=True)):
        progress.step(f"{face.elevation.name}, DXF")
        outputs.append(Output(f"{stem}.dxf", dxf(cad_set(plan, sheets, cut, day, [number]), version)))
    return outputs
