"""The program: its commands, and how it answers when something goes wrong."""

from __future__ import annotations

import contextlib
import os
import signal
import sys
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from types import FrameType
from typing import Annotated

import typer

from evencourse.cli.files.reasons import TRACE, reason
from evencourse.cli.options.plain_words import Command, CommandGroup, usage_lines
from evencourse.cli.reports.table import clean
from evencourse.layout.language.speech import gettext, ngettext, noop, speaking, system_language
from evencourse.layout.model.errors import EvencourseError, JobError

#: Exit codes: fine; drawn, but with a sliver or a missed ``must`` or limit; bad input or no output;
#: a fault in the program itself.
FINE, UNCLEAN, BAD_INPUT, FAULT = 0, 1, 2, 70
INTERRUPTED, BROKEN_PIPE = 128 + signal.SIGINT, 141

#: Every command stands here, in the order of the help: its name, the module of ``cli/commands`` that has it
#: as a function of the module's name, and its line in the help. Only the one that is asked for is loaded.
COMMANDS = {
    "open": ("open_desk", noop("Measure, see and plan in the browser; hand out files, check off courses.")),
    "new": ("new", noop("Ask for a building's measures; write the job file.")),
    "check": ("check", noop("Find every fault in a job, or say what it holds.")),
    "plan": ("plan", noop("Plan the course lines; what happens at each edge.")),
    "takeoff": (
        "takeoff",
        noop("List what to order: siding, trim, nails, furring; for several jobs each and all together."),
    ),
    "cuts": (
        "cuts",
        noop(
            "List every piece in order of installation: from which length or cutoff, how long, what is left."
        ),
    ),
    "draw": (
        "draw",
        noop(
            "Draw elevations and details as SVG and PDF, and the job as DXF; several jobs each in its folder."
        ),
    ),
    "sheets": (
        "sheets",
        noop("Bind cover, details, faces with their pieces, trims, rakes and order into one PDF a job."),
    ),
    "pole": ("pole", noop("Print the story pole at full size, on sheets or a roll.")),
    "page": ("page", noop("Make one page for the phone: cuts, pieces, a starter to move, check marks.")),
    "compare": (
        "compare",
        noop(
            "Compare profiles and starters; show how wide the starter range is; of several jobs each and all."
        ),
    ),
    "claddings": ("claddings", noop("List the shipped profiles with limits and sources.")),
    "import": (
        "import_dxf",
        noop("Make a job file of a drafter's DXF or PDF, or of a building model (IFC)."),
    ),
    "schema": ("schema", noop("Print the JSON Schema of the job file, for editors, or of the plan file.")),
    "guide": ("guide", noop("Print a page of the guide, or the list of its pages.")),
}
#: What more the help of a command says.
MORE = {
    "draw": noop(
        "--only png makes pictures of the faces, for a phone or a mail; --only ifc a model of all pieces of "
        "siding."
    ),
}


def _program(words: Sequence[str]) -> typer.Typer:
    """The program with the command that is asked for, and the others as names and lines of the help."""
    app = typer.Typer(
        name="evencourse",
        cls=CommandGroup,
        help=gettext("Course lines, rake cuts and drawings for horizontal siding, from tape measurements."),
        epilog=gettext(
            "Exit codes: 0 fine; 1 a sliver, or a must-meet edge or limit missed (written all the same); 2 "
            "bad input; 70 a fault in the program; 130 ended by Ctrl-C."
        ),
        add_completion=False,
        no_args_is_help=True,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": ["--help", "-h"]},
    )
    app.callback()(_options)
    asked = next((word for word in words if word in COMMANDS), None)
    for name, (module, summary) in COMMANDS.items():
        command = _not_asked
        told = gettext(summary)
        if name == asked:
            command = getattr(import_module(f"evencourse.cli.commands.{module}"), module)
            told += f"\n\n{gettext(MORE[name])}" if name in MORE else ""
        app.command(name, cls=Command, help=told)(command)
    return app


def _not_asked() -> None:
    """A command that this command line does not name, and so cannot run."""


def _show_version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        print(f"evencourse {version('evencourse')}")
        raise typer.Exit


def _options(
    version: Annotated[
        bool,
        typer.Option(
            "--version", callback=_show_version, is_eager=True, help=noop("Show the version and exit.")
        ),
    ] = False,
) -> None:
    pass


def main(words: Sequence[str] | None = None) -> int:
    """Run one command line, in the language that the system speaks.

    Args:
        words: what follows the program's name; None for what the program was started with.

    Returns:
        The exit code. Every error on purpose has become a message on standard error, a fault a line.
    """
    with speaking(system_language(os.environ)):
        return _main(list(sys.argv[1:] if words is None else words))


def _main(words: list[str]) -> int:
    try:
        code = _run(words)
        sys.stdout.flush()
    except JobError as error:
        count = ngettext(
            "{count} fault; nothing written", "{count} faults; nothing written", len(error.faults)
        )
        return _say([*map(str, error.faults), count], BAD_INPUT)
    except EvencourseError as error:
        return _say(str(error).splitlines(), BAD_INPUT)
    except KeyboardInterrupt as error:
        return _say([str(error) or gettext("interrupted")], INTERRUPTED)
    except BrokenPipeError:
        _silence_output()
        return BROKEN_PIPE
    except Exception as error:
        return _answer(error)
    return code


def _run(words: list[str]) -> int:
    """Run the command that the words name; its errors, interruptions and broken pipes come through."""
    program = typer.main.get_command(_program(words))
    try:
        with program.make_context("evencourse", words) as context:
            code = program.invoke(context)
    except typer.Exit as ended:
        return ended.exit_code
    return code if isinstance(code, int) else FINE


def _answer(error: Exception) -> int:
    if hasattr(error, "show") and hasattr(error, "exit_code"):  # a command line that cannot be read
        if type(error).__name__ != "NoArgsIsHelpError":
            return _say(list(usage_lines(error)), int(error.exit_code))
        error.show()  # all of the help
        return int(error.exit_code)
    if isinstance(error, OSError):
        _silence_output()
        where = error.filename if isinstance(error.filename, str) else gettext("standard output")
        return _say([gettext("{file}: {reason}", file=where, reason=reason(error))], BAD_INPUT)
    if os.environ.get(TRACE):
        raise error
    kind = type(error).__name__
    return _say(
        [
            gettext("a fault in the program itself: {kind}: {error}", kind=kind, error=error),
            gettext("set {variable} to see where", variable=f"{TRACE}=1"),
        ],
        FAULT,
    )


def _say(lines: Sequence[str], code: int) -> int:
    with contextlib.suppress(OSError):
        for line in lines:
            print(clean(line), file=sys.stderr)
        sys.stderr.flush()
    return code


def _silence_output() -> None:
    """Nobody takes the output any more: let what is still to be flushed go nowhere."""
    with contextlib.suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def _stop(number: int, frame: FrameType | None) -> None:
    """End as on an error, so that temporary files are taken away."""
    raise SystemExit(128 + number)


def run() -> None:
    """Entry point of the program: run the command line it was started with, and exit with its code."""
    for name in ("SIGTERM", "SIGHUP"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), _stop)
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:  # closed by whoever started the program
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115
        elif hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    code = main()
    try:
        sys.stdout.flush()
    except OSError:  # told already; what is still to be written must not fail again at the exit
        _silence_output()
    sys.exit(code)
