"""``open``: measure, see and plan in the browser."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from evencourse.cli.desk.desk_server import DeskOptions, serve
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.errors import Fault, JobError

PlaceArgument = Annotated[
    str,
    typer.Argument(
        metavar="[JOB|FOLDER]", help=noop("A job file, or a folder of job files; without it, this folder.")
    ),
]
PortOption = Annotated[
    str | None,
    typer.Option("--port", metavar="NUMBER", help=noop("Listen there; without it, on a free port.")),
]
BrowserOption = Annotated[bool, typer.Option("--no-browser", help=noop("Only say the address."))]
LanOption = Annotated[
    bool,
    typer.Option(
        "--lan", help=noop("Answer on the site's network, too: a picture for phones, good for ten hours.")
    ),
]


def open_desk(
    place: PlaceArgument = ".",
    port: PortOption = None,
    no_browser: BrowserOption = False,
    lan: LanOption = False,
) -> int:
    """Measure, see and plan in the browser; hand out files, check off courses."""
    faults: list[Fault] = []
    path = Path(place)
    folder, job = (path.parent, path.stem) if path.suffix == ".toml" or path.is_file() else (path, "")
    if job and (path.suffix != ".toml" or not path.is_file()):
        faults.append(Fault("JOB", f'"{place}"', gettext("a job file, name.toml, that is there")))
    elif not folder.is_dir():
        faults.append(Fault("FOLDER", f'"{place}"', gettext("a folder that is there")))
    number = int(port) if port is not None and port.isascii() and port.isdigit() and len(port) < 6 else None
    if port is not None and (number is None or not 1 <= number <= 65535):
        faults.append(
            Fault("--port", f'"{port}"', gettext("a number from {least} to {most}", least=1, most=65535))
        )
    if faults:
        raise JobError(faults)
    serve(DeskOptions(folder, job, number, lan, not no_browser))
    return 0
