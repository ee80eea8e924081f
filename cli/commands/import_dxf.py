"""``import``: a drafter's elevation or a building model in, a job file out."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Annotated, BinaryIO

import typer

from evencourse.cli.files.output import write_given
from evencourse.cli.files.output_name import check_file, write_over
from evencourse.cli.files.reasons import reason
from evencourse.cli.models.asked_drawing import DrawingOptions, asked, gathered, read_drawing
from evencourse.cli.models.guarded_reading import MODEL, PDF, kind_of, model_found, page_found
from evencourse.cli.models.model_report import model_lines
from evencourse.cli.options.job_reading import read, unreadable
from evencourse.cli.reports.change_report import change_lines
from evencourse.cli.reports.import_report import found_lines, layer_lines
from evencourse.cli.reports.table import clean, screen
from evencourse.layout.courses.planner import plan
from evencourse.layout.drawings.drawing_import import finished
from evencourse.layout.drawings.first_look import Look
from evencourse.layout.ifc.model_wishes import ModelWishes, wish_faults
from evencourse.layout.language.speech import ENGLISH, gettext, noop, speaking, spoken
from evencourse.layout.model.errors import Fault, JobError, OutputError
from evencourse.layout.model.job import Job
from evencourse.layout.pdf.page_lines import PdfPage
from evencourse.render.formats.svg import svg as region_svg
from evencourse.render.regions.region_picture import region_picture

FileArgument = Annotated[
    str,
    typer.Argument(
        metavar="FILE",
        help=noop("Drawing (DXF, or .pdf), - reads a DXF from standard input; or model (.ifc)."),
        show_default=False,
    ),
]
JobOption = Annotated[
    str | None,
    typer.Option("--output", "-o", metavar="JOB", help=noop("Job file to write; - is standard output.")),
]
LayerOption = Annotated[
    list[str] | None,
    typer.Option(
        "--layer",
        metavar="ROLE=NAME",
        help=noop(
            "What a layer holds: wall, window, door, garage-door, vent, opening, fixture, roof, datum, "
            "grade, name or ignore. * stands for anything."
        ),
    ),
]
UnitsOption = Annotated[
    str | None,
    typer.Option(
        "--units", metavar="UNIT", help=noop("One drawing unit: in, ft, mm, cm or m; else the header's.")
    ),
]
DatumOption = Annotated[
    list[str] | None,
    typer.Option(
        "--datum",
        metavar="X,Y",
        help=noop("A point at the datum's height, in drawing units; faces take the nearest."),
    ),
]
DatumLineOption = Annotated[
    list[str] | None,
    typer.Option("--datum-line", metavar="LAYER", help=noop("Layer of the line that is the datum.")),
]
ToleranceOption = Annotated[
    str | None,
    typer.Option("--tolerance", metavar="LENGTH", help=noop("Ends nearer than this meet; usually 1/16.")),
]
CladdingOption = Annotated[
    str | None, typer.Option("--cladding", metavar="PROFILE", help=noop("The siding: a shipped profile."))
]
LikeOption = Annotated[
    str | None,
    typer.Option("--like", metavar="JOB", help=noop("Job file that gives all that a drawing does not say.")),
]
YesOption = Annotated[
    bool, typer.Option("--yes", help=noop("Ask nothing: take what layer names may mean, and write over JOB."))
]
FaceOption = Annotated[
    list[str] | None,
    typer.Option(
        "--face",
        metavar="N[=NAME]",
        help=noop("A region that is a face, by its number in the picture; 2+5 unites two."),
    ),
]
OpeningOption = Annotated[
    list[str] | None,
    typer.Option(
        "--opening",
        metavar="N[=MARK]",
        help=noop(
            "A region that is an opening; 7+8 unites two, 7=door says its kind, 7=B,door both; 7=ignore."
        ),
    ),
]
PageOption = Annotated[
    str | None, typer.Option("--page", metavar="N", help=noop("Page of a PDF; usually 1."))
]
KnownOption = Annotated[
    str | None,
    typer.Option(
        "--known",
        metavar="LENGTH",
        help=noop("A length that is known: 36, or 900 mm."),
    ),
]
BetweenOption = Annotated[
    str | None,
    typer.Option(
        "--between",
        metavar="N",
        help=noop("The region of the picture that is so wide; or X,Y,X,Y: two points of the drawing."),
    ),
]
SvgOption = Annotated[
    str | None,
    typer.Option("--svg", metavar="PICTURE", help=noop("Draw all regions with their numbers, to pick from.")),
]
ShowOption = Annotated[bool, typer.Option("--show", help=noop("Say what was understood; write nothing."))]


def import_dxf(
    drawing: FileArgument,
    output: JobOption = None,
    layer: LayerOption = None,
    units: UnitsOption = None,
    datum: DatumOption = None,
    datum_line: DatumLineOption = None,
    tolerance: ToleranceOption = None,
    cladding: CladdingOption = None,
    like: LikeOption = None,
    face: FaceOption = None,
    opening: OpeningOption = None,
    svg: SvgOption = None,
    page: PageOption = None,
    known: KnownOption = None,
    between: BetweenOption = None,
    yes: YesOption = False,
    show: ShowOption = False,
) -> int:
    """Make a job file of a drafter's DXF or PDF, or of a building model (IFC)."""
    faults: list[Fault] = []
    if not show and output is None:
        faults.append(Fault("--output", gettext("nothing"), gettext("a job file to write, or --show")))
    check_file("--output", output, ".toml", [drawing, *([like] if like else [])], faults)
    check_file("--svg", svg, ".svg", [drawing], faults)
    if svg is not None and svg == output:
        taken = gettext('"{file}", which --output has, too', file=svg)
        faults.append(Fault("--svg", taken, gettext("another file")))
    given = DrawingOptions(
        layer or (), units, datum or (), datum_line or (), tolerance, cladding,
        None if like is None else read(like), face or (), opening or (), page, known, between, yes,
    )  # fmt: skip
    ask = asked(drawing, given, faults)
    wishes = ask.wishes
    aside, text = output == "-" and not show, ""
    if kind_of(drawing) == MODEL:
        if svg:
            wanted = gettext("a drawing; a model says by itself what it is")
            faults.append(Fault("--svg", gettext("an option of drawings"), wanted))
        model_wishes = ModelWishes(wishes.cladding, wishes.like, wishes.name, wishes.file)
        faults += [] if show else wish_faults(model_wishes)
        if faults:
            raise JobError(faults)
        model = model_found(drawing, model_wishes, make_job=not show)
        _tell(model_lines(model, whole=show), aside)
        job, faces, before = model.job, model.elevations, wishes.like
        if not show:
            text = _as_filed(
                model.text, lambda: model_found(drawing, model_wishes, make_job=True).text, before
            )
    else:
        if faults:
            raise JobError(faults)
        seen: Look | PdfPage
        if kind_of(drawing) == PDF:
            seen = page_found(drawing, ask.page)
        else:
            with _opened(drawing) as file:
                seen = read_drawing(drawing, file, ask)
        if isinstance(seen, Look):
            _tell(layer_lines(seen), aside)
        found = finished(gathered(seen, ask), wishes, make_job=not show)
        _tell(found_lines(found, whole=show), aside)
        if svg is not None:
            with speaking(wishes.like.language if wishes.like else ""):
                picture = region_svg(region_picture(found.regions, found.lines, wishes.file))
            write_given(svg, picture)
        job, faces, before = found.job, found.understood.elevations, found.like
        if not show:
            text = _as_filed(
                found.text, lambda: finished(gathered(seen, ask), wishes, make_job=True).text, wishes.like
            )
    if before is not None and (job is None or job.units == before.units):
        plans = None if job is None else (plan(before), plan(job))
        _tell(change_lines(before, faces, plans), aside)
    if not show:
        assert output is not None
        if not (yes or output == "-" or write_over(output, drawing != "-" and sys.stdin.isatty())):
            raise OutputError(
                gettext("{file} is there already: name another file, or --yes; nothing written", file=output)
            )
        write_given(output, text.encode())
        if not aside:
            _tell([gettext("written: {file}", file=output)], aside)
    return 0


def _as_filed(text: str, again: Callable[[], str], like: Job | None) -> str:
    """A job file with its comments in the language of the job that it is like, not in that of the system.

    Args:
        text: the job file as it was made.
        again: makes it once more.
        like: None for no other job: its comments are in English.
    """
    language = (like.language if like else "") or ENGLISH.code
    if spoken().code == language:
        return text
    with speaking(language):
        return again()


@contextlib.contextmanager
def _opened(source: str) -> Iterator[BinaryIO]:
    """The drawing's file, or standard input."""
    if source == "-":
        yield sys.stdin.buffer
        return
    try:
        with Path(source).open("rb") as file:
            yield file
    except OSError as error:
        raise unreadable(source, reason(error)) from error
    except ValueError as error:  # a path with a NUL in it
        raise unreadable(source, str(error)) from error


def _tell(lines: object, aside: bool) -> None:
    """Print lines, or lines made for a screen; on standard error when standard output is the job file."""
    stream = sys.stderr if aside else sys.stdout
    made = lines(screen(stream)) if callable(lines) else [clean(str(line)) for line in lines]  # type: ignore[attr-defined]
    for line in made:
        print(line, file=stream)
