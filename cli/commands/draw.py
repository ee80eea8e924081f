"""``draw``: every elevation as SVG and PDF, the job as DXF; of one job, or of many at once."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Sequence, Set
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from evencourse.cli.options.shared_options import (
    DateOption,
    FolderOption,
    JobsArgument,
    PaperOption,
    StarterOption,
    WorkersOption,
)

if TYPE_CHECKING:
    from pathlib import Path

    from evencourse.cli.files.output import Output
    from evencourse.cli.reports.progress import Progress
    from evencourse.cli.street.street_summary import Summary
    from evencourse.layout.model.course_plan import Plan
    from evencourse.layout.pieces.all_pieces import Pieces
    from evencourse.render.drawing.drawing import Sheet
    from evencourse.render.formats.cad_set import Version

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


@dataclass(frozen=True)
class Wanted:
    """What to draw.

    Attributes:
        formats: some of ``FORMATS``.
        paper: None for the usual one.
        day: a date to print.
        per_face: a DXF for each face.
        version: of the DXF.
    """

    formats: tuple[str, ...]
    paper: str | None
    day: str | None
    per_face: bool
    version: Version


def draw(
    jobs: JobsArgument,
    output: FolderOption,
    paper: PaperOption = None,
    only: OnlyOption = None,
    dxf_per_face: FacesOption = False,
    dxf_version: VersionOption = None,
    date: DateOption = None,
    starter: StarterOption = None,
    workers: WorkersOption = None,
) -> int:
    """Draw every elevation as SVG and PDF, and the job as DXF; several jobs each in its folder."""
    from functools import partial
    from pathlib import Path

    from evencourse.cli.files.output_name import check_folder
    from evencourse.cli.options.choices import read_date, read_list, read_paper, read_version
    from evencourse.cli.options.planning import planned
    from evencourse.cli.reports.progress import Progress
    from evencourse.cli.reports.table import clean
    from evencourse.cli.street.several_jobs import (
        check_street,
        output_names,
        over_jobs,
        read_workers,
        summed_up,
    )
    from evencourse.layout.model.errors import Fault, JobError

    faults: list[Fault] = []
    formats = FORMATS if only is None else read_list("--only", only, FORMATS, faults)
    chosen = read_paper(paper, faults)
    version = read_version(dxf_version, faults)
    wanted = Wanted(formats, chosen, read_date(date, faults), dxf_per_face, version)
    number = read_workers(workers, faults)
    check_street(jobs, starter, faults)
    names = output_names(jobs, faults)
    check_folder(output, faults)
    if faults:
        raise JobError(faults)
    if len(jobs) > 1:
        tasks = [(job, Path(output) / name) for job, name in zip(jobs, names, strict=True)]
        return summed_up(jobs, over_jobs(partial(draw_one, wanted), jobs, tasks, number), output)
    plan = planned(jobs[0], starter)
    faces = len(plan.elevations)
    steps = sum((faces if dxf_per_face else 1) if kind == "dxf" else faces for kind in formats)
    with Progress(2 + steps) as progress:
        paths = _drawn(plan, Path(output), wanted, progress)[0]
    for path in paths:
        print(clean(str(path)))
    return 0 if plan.clean else 1


def draw_one(wanted: Wanted, task: tuple[str, Path]) -> Summary:
    """Draw one of several jobs, in a process of its own.

    Args:
        wanted: what to draw.
        task: the job file, and the folder for what is drawn.
    """
    from evencourse.cli.options.job_reading import read
    from evencourse.cli.reports.progress import Progress
    from evencourse.cli.street.street_summary import summary
    from evencourse.layout.courses.planner import plan

    source, folder = task
    found = plan(read(source))
    paths, cut, sheets = _drawn(found, folder, wanted, Progress(1))
    return summary(found, cut, sheets, len(paths))


def _drawn(
    plan: Plan, folder: Path, wanted: Wanted, progress: Progress
) -> tuple[tuple[Path, ...], Pieces, int]:
    """Draw a plan into a folder: its files, its pieces, and how many sheets there are."""
    from evencourse.cli.files.output import write_folder
    from evencourse.cli.files.output_name import check_drawings
    from evencourse.cli.options.choices import usual_paper
    from evencourse.layout.pieces.all_pieces import pieces
    from evencourse.render.sheets.elevation_sheets import job_sheets

    progress.step("cutting the pieces")
    cut = pieces(plan)
    progress.step("laying out the sheets")
    sheets = job_sheets(plan, wanted.paper or usual_paper(plan.job.units), wanted.day, cut)
    outputs = _sheet_files(plan, sheets, wanted.formats, wanted.day, progress)
    if "dxf" in wanted.formats:
        check_drawings([folder / name for name in _dxf_names(plan, wanted.per_face)])
        outputs += _dxf_files(plan, cut, sheets, wanted.per_face, wanted.version, wanted.day, progress)
    paths = write_folder(folder, outputs)
    if "svg" in wanted.formats:
        _clear_parts(folder, _stems(plan), {path.name for path in paths})
    return paths, cut, sum(map(len, sheets))


def _clear_parts(folder: Path, stems: Sequence[str], written: Set[str]) -> None:
    """Take away what an earlier run drew of the same faces when they took another number of sheets."""
    for path in folder.iterdir():
        named = re.fullmatch(r"(.+?)(?:-part-[1-9]\d*)?\.svg", path.name)
        if named and named[1] in stems and path.name not in written and path.is_file():
            with contextlib.suppress(OSError):  # it is of no harm where it cannot be taken away
                path.unlink()


def _stems(plan: Plan) -> tuple[str, ...]:
    from evencourse.cli.files.file_names import file_names

    return file_names(plan.job.name, [face.elevation.name for face in plan.elevations])


def _sheet_files(
    plan: Plan,
    sheets: Sequence[Sequence[Sheet]],
    formats: Sequence[str],
    day: str | None,
    progress: Progress,
) -> list[Output]:
    """The sheets of every face: an SVG a sheet, one PDF with all of them."""
    from evencourse.cli.files.output import Output
    from evencourse.render.drawing.drawing import Document

    outputs = []
    for face, stem, parts in zip(plan.elevations, _stems(plan), sheets, strict=True):
        if "svg" in formats:
            from evencourse.render.formats.svg import svg

            progress.step(f"{face.elevation.name}, SVG")
            ends = [""] if len(parts) == 1 else [f"-part-{number + 1}" for number in range(len(parts))]
            outputs += [Output(f"{stem}{end}.svg", svg(part)) for end, part in zip(ends, parts, strict=True)]
        if "pdf" in formats:
            from evencourse.render.formats.pdf import pdf

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
    from evencourse.cli.files.output import Output
    from evencourse.render.formats.cad_set import cad_set
    from evencourse.render.formats.dxf import dxf

    names = _dxf_names(plan, per_face)
    if not per_face:
        progress.step("DXF")
        return [Output(names[0], dxf(cad_set(plan, sheets, cut, day), version))]
    outputs = []
    for number, (face, name) in enumerate(zip(plan.elevations, names, strict=True)):
        progress.step(f"{face.elevation.name}, DXF")
        outputs.append(Output(name, dxf(cad_set(plan, sheets, cut, day, [number]), version)))
    return outputs


def _dxf_names(plan: Plan, per_face: bool) -> tuple[str, ...]:
    """What the DXF is called, or the one of each face."""
    from evencourse.cli.files.file_names import safe_stem

    stems = _stems(plan) if per_face else (safe_stem(plan.job.name),)
    return tuple(f"{stem}.dxf" for stem in stems)
