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
from evencourse.cli.options.plain_words import Command, CommandGroup
from evencourse.cli.reports.table import clean
from evencourse.layout.model.errors import EvencourseError, JobError

#: Exit codes: fine; drawn, but with a sliver or a missed ``must`` or limit; bad input or no output;
#: a fault in the program itself.
FINE, UNCLEAN, BAD_INPUT, FAULT = 0, 1, 2, 70
INTERRUPTED, BROKEN_PIPE = 128 + signal.SIGINT, 141

#: Every command stands here, in the order of the help: its name, the module of ``cli/commands`` that has it
#: as a function of the module's name, and its line in the help. Only the one that is asked for is loaded.
COMMANDS = {
    "open": ("open_desk", "Measure, see and plan in the browser; hand out files, check off courses."),
    "new": ("new", "Ask for a building's measures; write the job file."),
    "check": ("check", "Find every fault in a job, or say what it holds."),
    "plan": ("plan", "Plan the course lines; what happens at each edge."),
    "takeoff": (
        "takeoff",
        "List what to order: siding, trim, nails, furring; for several jobs each and all together.",
    ),
    "cuts": (
        "cuts",
        "List every piece in order of installation: from which length or cutoff, how long, what is left.",
    ),
    "draw": (
        "draw",
        "Draw elevations and details as SVG and PDF, and the job as DXF; several jobs each in its folder.",
    ),
    "sheets": (
        "sheets",
        "Bind cover, details, faces with their pieces, trims, rakes and order into one PDF a job.",
    ),
    "pole": ("pole", "Print the story pole at full size, on sheets or a roll."),
    "page": ("page", "Make one page for the phone: cuts, pieces, a starter to move, check marks."),
    "compare": (
        "compare",
        "Compare profiles and starters; show how wide the starter range is; of several jobs each and all.",
    ),
    "claddings": ("claddings", "List the shipped profiles with limits and sources."),
    "import": ("import_dxf", "Make a job file of a drafter's DXF or PDF, or of a building model (IFC)."),
    "schema": ("schema", "Print the JSON Schema of the job file, for editors, or of the plan file."),
    "guide": ("guide", "Print a page of the guide, or the list of its pages."),
}


def _program(words: Sequence[str]) -> typer.Typer:
    """The program with the command that is asked for, and the others as names and lines of the help."""
    app = typer.Typer(
        name="evencourse",
        cls=CommandGroup,
        help="Course lines, rake cuts and drawings for horizontal siding, from tape measurements.",
        epilog="Exit codes: 0 fine; 1 a sliver, or a must-meet edge or limit missed (written all the same); "
        "2 bad input; 70 a fault in the program; 130 ended by Ctrl-C.",
        add_completion=False,
        no_args_is_help=True,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": ["--help", "-h"]},
    )
    app.callback()(_options)
    asked = next((word for word in words if word in COMMANDS), None)
    for name, (module, summary) in COMMANDS.items():
        if name == asked:
            command = getattr(import_module(f"evencourse.cli.commands.{module}"), module)
            app.command(name, cls=Command)(command)
        else:
            app.command(name, cls=Command, help=summary)(_not_asked)
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
        typer.Option("--version", callback=_show_version, is_eager=True, help="Show the version and exit."),
    ] = False,
) -> None:
    pass


def main(words: Sequence[str] | None = None) -> int:
    """Run one command line.

    Args:
        words: what follows the program's name; None for what the program was started with.

    Returns:
        The exit code. Every error on purpose has become a message on standard error, a fault a line.
    """
    try:
        code = _run(list(sys.argv[1:] if words is None else words))
        sys.stdout.flush()
    except JobError as error:
        faults = [str(fault) for fault in error.faults]
        count = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
        return _say([*faults, f"{count}; nothing written"], BAD_INPUT)
    except EvencourseError as error:
        return _say(str(error).splitlines(), BAD_INPUT)
    except KeyboardInterrupt as error:
        return _say([str(error) or "interrupted"], INTERRUPTED)
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
        error.show()
        return int(error.exit_code)
    if isinstance(error, OSError):
        _silence_output()
        where = error.filename if isinstance(error.filename, str) else "standard output"
        return _say([f"{where}: {reason(error)}"], BAD_INPUT)
    if os.environ.get(TRACE):
        raise error
    kind = type(error).__name__
    return _say([f"a fault in the program itself: {kind}: {error}", f"set {TRACE}=1 to see where"], FAULT)


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
