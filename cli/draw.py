"""``draw``: every elevation as SVG, PDF and DXF."""

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
    from render.drawing import Sheet

FORMATS = ("svg", "pdf", "dxf")
OnlyOption = Annotated[
    str | None, typer.Option("--only", metavar="LIST", help="Some of svg,pdf,dxf; without it, all.")
]


def draw(
    job: JobArgument,
    output: FolderOption,
    paper: PaperOption = None,
    only: OnlyOption = None,
    date: DateOption = None,
    starter: StarterOption = None,
) -> int:
    """Draw every elevation as SVG, PDF and DXF."""
    from pathlib import Path

    from cli.choices import read_date, read_list, read_paper, usual_paper
    from cli.output import write_folder
    from cli.planning import planned
    from cli.progress import Progress
    from cli.table import clean
    from layout.errors import Fault, JobError

    faults: list[Fault] = []
    formats = FORMATS if only is None else read_list("--only", only, FORMATS, faults)
    chosen = read_paper(paper, faults)
    day = read_date(date, faults)
    if faults:
        raise JobError(faults)
    plan = planned(job, starter)
    from layout.pieces import pieces
    from render.elevationsheets import job_sheets

    with Progress(2 + len(formats) * len(plan.elevations)) as progress:
        progress.step("cutting the pieces")
        cut = pieces(plan)
        progress.step("laying out the sheets")
        sheets = job_sheets(plan, chosen or usual_paper(plan.job.units), day, cut)
        outputs = _outputs(plan, cut, sheets, formats, day, progress)
        paths = write_folder(Path(output), outputs)
    for path in paths:
        print(clean(str(path)))
    return 0 if plan.clean else 1


def _outputs(
    plan: Plan,
    cut: Pieces,
    sheets: Sequence[Sequence[Sheet]],
    formats: Sequence[str],
    day: str | None,
    progress: Progress,
) -> list[Output]:
    """The files of every face: an SVG a sheet, one PDF with all its sheets, one DXF at full size."""
    from cli.names import file_names
    from cli.output import Output
    from render.drawing import Document

    outputs = []
    stems = file_names(plan.job.name, [face.elevation.name for face in plan.elevations])
    for face, hung, stem, parts in zip(plan.elevations, cut.faces, stems, sheets, strict=True):
        for kind in formats:
            progress.step(f"{face.elevation.name}, {kind.upper()}")
            if kind == "svg":
                from render.svg import svg

                ends = [""] if len(parts) == 1 else [f"-part-{number + 1}" for number in range(len(parts))]
                outputs += [
                    Output(f"{stem}{end}.svg", svg(part)) for end, part in zip(ends, parts, strict=True)
                ]
            elif kind == "pdf":
                from render.pdf import pdf

                title = f"{plan.job.name}: {face.elevation.name}" if plan.job.name else face.elevation.name
                document = Document(title, tuple(parts), author=plan.job.author, date=day)
                outputs.append(Output(f"{stem}.pdf", pdf(document)))
            else:
                from render.dxf import dxf
                from render.elevation import elevation_drawing

                scale = parts[0].views[0].scale
                drawing = elevation_drawing(plan, face, scale, hung=hung)
                outputs.append(Output(f"{stem}.dxf", dxf(drawing, scale)))
    return outputs
