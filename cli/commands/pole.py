"""``pole``: the story pole at full size, as a PDF to print."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

import typer

from evencourse.cli.files.output import write_given
from evencourse.cli.files.output_name import check_file
from evencourse.cli.options.choices import read_date, read_paper, usual_paper
from evencourse.cli.options.planning import planned
from evencourse.cli.options.shared_options import DateOption, JobArgument, StarterOption
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Job
from evencourse.render.drawing.drawing import Document
from evencourse.render.drawing.papers import ROLL, is_roll
from evencourse.render.formats.pdf import pdf
from evencourse.render.templates.story_pole import pole_sheets

FileOption = Annotated[
    str,
    typer.Option(
        "--output", "-o", metavar="FILE", help="PDF to write; - is standard output.", show_default=False
    ),
]
PolePaperOption = Annotated[
    str | None,
    typer.Option(
        "--paper", metavar="PAPER", help="letter, tabloid, a4, a3, arch-c, arch-d, or roll for a long page."
    ),
]
FacesOption = Annotated[
    list[str] | None,
    typer.Option(
        "--faces", metavar="NAMES", help="Faces that it is for, with commas between; without it, all."
    ),
]


def pole(
    job: JobArgument,
    output: FileOption,
    paper: PolePaperOption = None,
    faces: FacesOption = None,
    date: DateOption = None,
    starter: StarterOption = None,
) -> int:
    """Print the story pole at full size, on sheets or a roll."""
    faults: list[Fault] = []
    chosen = ROLL if paper is not None and is_roll(paper) else read_paper(paper, faults, more=(ROLL,))
    day = read_date(date, faults)
    check_file("--output", output, ".pdf", [job], faults)
    if faults:
        raise JobError(faults)
    found = planned(job, starter)
    plan = found.plan
    names = _read_faces(faces, plan.job)
    sheets = pole_sheets(found, chosen or usual_paper(plan.job.units), names, day)
    title = f"{plan.job.name}: story pole" if plan.job.name else "Story pole"
    every = tuple(sheet for pole in sheets for sheet in pole)
    write_given(output, pdf(Document(title, every, author=plan.job.author, date=day)))
    return 0 if plan.clean else 1


def _read_faces(words: Sequence[str] | None, job: Job) -> tuple[str, ...] | None:
    """Names of faces of the job; None for all of them.

    Raises:
        JobError: every name that the job does not have.
    """
    if not words:
        return None
    known = {face.name.strip().casefold(): face.name for face in job.elevations}
    found: list[str] = []
    faults = []
    for word in words:
        # A name may hold a comma: the whole is looked up before its parts.
        parts = [word] if word.strip().casefold() in known else word.split(",")
        for part in parts:
            name = known.get(part.strip().casefold())
            if name is not None:
                found.append(name)
            elif part.strip() or len(parts) == 1:
                wanted = " or ".join(f'"{face.name}"' for face in job.elevations)
                faults.append(Fault("--faces", f'"{part.strip()}"', wanted))
    if faults:
        raise JobError(faults)
    return tuple(found)
