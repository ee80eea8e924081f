"""``pole``: the story pole at full size, as a PDF to print."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from typing import Annotated

import typer

from evencourse.cli.files.output import write_given
from evencourse.cli.files.output_name import check_file
from evencourse.cli.options.choices import read_date, read_language, read_paper, usual_paper
from evencourse.cli.options.planning import planned
from evencourse.cli.options.shared_options import DateOption, JobArgument, LanguageOption, StarterOption
from evencourse.cli.reports.table import clean
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import gettext, noop, speaking
from evencourse.layout.model.errors import Fault, JobError, LengthError
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import parse_length
from evencourse.render.drawing.drawing import Document
from evencourse.render.drawing.papers import ROLL, is_roll
from evencourse.render.formats.pdf import pdf
from evencourse.render.templates.story_pole import pole_sheets

FileOption = Annotated[
    str,
    typer.Option(
        "--output", "-o", metavar="FILE", help=noop("PDF to write; - is standard output."), show_default=False
    ),
]
PolePaperOption = Annotated[
    str | None,
    typer.Option(
        "--paper",
        metavar="PAPER",
        help=noop("letter, tabloid, a4, a3, arch-c, arch-d, or roll for a long page."),
    ),
]
FacesOption = Annotated[
    list[str] | None,
    typer.Option(
        "--faces", metavar="NAMES", help=noop("Faces that it is for, with commas between; without it, all.")
    ),
]


FromOption = Annotated[
    str | None,
    typer.Option(
        "--from", metavar="LENGTH", help=noop("Print every line from this height up, from the datum.")
    ),
]
ToOption = Annotated[
    str | None,
    typer.Option("--to", metavar="LENGTH", help=noop("Print every line up to this height, from the datum.")),
]


def pole(
    job: JobArgument,
    output: FileOption,
    paper: PolePaperOption = None,
    faces: FacesOption = None,
    low: FromOption = None,
    high: ToOption = None,
    date: DateOption = None,
    starter: StarterOption = None,
    lang: LanguageOption = None,
) -> int:
    """Print the story pole at full size, on sheets or a roll."""
    faults: list[Fault] = []
    chosen = ROLL if paper is not None and is_roll(paper) else read_paper(paper, faults, more=(ROLL,))
    day, language = read_date(date, faults), read_language(lang, faults)
    check_file("--output", output, ".pdf", [job], faults)
    if faults:
        raise JobError(faults)
    found = planned(job, starter)
    plan = found.plan
    names = _read_faces(faces, plan.job)
    between = _read_heights(low, high, plan.job)
    with speaking(language or plan.job.language):
        sheets = pole_sheets(found, chosen or usual_paper(plan.job.units), names, day, between)
        title = gettext("{job}: story pole", job=plan.job.name) if plan.job.name else gettext("Story pole")
        every = tuple(sheet for pole in sheets for sheet in pole)
        data = pdf(Document(title, every, author=plan.job.author, date=day))
    if not sheets:
        none, wanted = gettext("no butt line between them"), gettext("heights with a butt line between")
        raise JobError([Fault("--from, --to", none, wanted)])
    write_given(output, data)
    if output != "-":
        print(clean(output))
    return 0 if plan.clean else 1


def _read_heights(low: str | None, high: str | None, job: Job) -> tuple[float, float] | None:
    """Heights between which to print [job units]; None where none were given.

    Raises:
        JobError: what cannot be read, or the lower one over the higher one.
    """
    if low is None and high is None:
        return None
    faults: list[Fault] = []
    found = []
    for option, text, other in (("--from", low, -inf), ("--to", high, inf)):
        try:
            found.append(other if text is None else parse_length(text, job.units))
        except LengthError as error:
            faults.append(Fault(option, error.found, error.wanted))
    if not faults and found[0] > found[1]:
        faults.append(
            Fault("--from", f'"{low}"', gettext('a height under that of --to, "{height}"', height=high))
        )
    if faults:
        raise JobError(faults)
    return found[0], found[1]


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
                wanted = either(f'"{face.name}"' for face in job.elevations)
                faults.append(Fault("--faces", f'"{part.strip()}"', wanted))
    if faults:
        raise JobError(faults)
    return tuple(found)
