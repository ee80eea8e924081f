"""How the program takes its words: as plain text, which the commands then read themselves.

Lengths, dates and paper sizes have their own grammar and their own messages, so every argument and option
of the program is text, a list of texts, or a flag. What the library says of them is said here, in the
language that is spoken.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches
from typing import Any

from typer.core import TyperCommand, TyperGroup

from evencourse.layout.language.speech import gettext, noop

#: What is said of the option that the library adds to every command.
_HELP = noop("Show this message and exit.")
#: What the library says, word for word.
_SAID = (noop("Missing command."),)


class _AsWritten:
    """Hands words on unchanged."""

    def coerce(self, value: Any, param: Any, ctx: Any) -> Any:
        if value is None:
            return () if param.multiple or param.nargs == -1 else None
        return value


def _no_type(ctx: Any) -> str:
    """Help names an argument by its word alone: the types of the language say nothing to a crew."""
    return ""


class _Plain:
    """Takes words as they are.

    Newer releases of typer load a validation library to turn text into text, which takes longer than a plan.
    Where they offer the place, the words are handed on as written.
    """

    def get_params(self, ctx: Any) -> list[Any]:
        """Every argument and option."""
        params: list[Any] = super().get_params(ctx)  # type: ignore[misc]
        for param in params:
            if hasattr(param, "get_runtime_param"):
                param.get_runtime_param = _AsWritten
            if hasattr(param, "display_type_rich") and param.param_type_name == "argument":
                param.display_type_rich = _no_type
        return params

    def collect_usage_pieces(self, ctx: Any) -> list[str]:
        """What follows the command's name in the line of its usage: ``JOB…`` where several may be named."""
        pieces: list[str] = super().collect_usage_pieces(ctx)  # type: ignore[misc]
        return [re.sub(r"[\[{](\w+…)[\]}]\.\.\.", r"\1", piece) for piece in pieces]

    def format_usage(self, ctx: Any, formatter: Any) -> None:
        """The line that says what may follow the command's name."""
        pieces = " ".join(self.collect_usage_pieces(ctx))
        formatter.write_usage(ctx.command_path, pieces, gettext("Usage:") + " ")

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Every argument and option, with what it is for."""
        records: dict[str, list[tuple[str, str]]] = {"argument": [], "option": []}
        for param in self.get_params(ctx):
            records[param.param_type_name].append((param.get_help_record(ctx)[0], _meaning(param)))
        for heading, told in zip((gettext("Arguments"), gettext("Options")), records.values(), strict=True):
            if told:
                with formatter.section(heading):
                    formatter.write_dl(told)

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Take the words; those that are left over belong to the command of a group, else to nothing."""
        known, ctx.allow_extra_args = ctx.allow_extra_args, True
        left: list[str] = super().parse_args(ctx, args)  # type: ignore[misc]
        if left and not known:
            ctx.fail(gettext("Got unexpected extra argument(s) ({arguments})", arguments=" ".join(left)))
        return left


def _meaning(param: Any) -> str:
    """What an argument or an option is for, whether it is needed, and what stands for it else."""
    words = gettext(_HELP) if param.name == "help" else gettext(param.help)
    if param.required:
        needed = gettext("required")
        return f"{words}  [{needed}]"
    if param.show_default and isinstance(param.default, str):
        default = gettext("default: {value}", value=param.default)
        return f"{words}  [{default}]"
    return words


def usage_lines(error: Any) -> Iterator[str]:
    """What to say to a command line that cannot be read.

    Args:
        error: the library's.
    """
    if (ctx := getattr(error, "ctx", None)) is not None:
        yield from ctx.get_usage().splitlines()
        helped = f"{ctx.command_path} {ctx.help_option_names[0]}"
        yield gettext("Try '{command}' for help.", command=helped)
        yield ""
    yield gettext("Error: {what}", what=_wrong(error))


def _wrong(error: Any) -> str:
    """What is wrong with a command line."""
    kind = type(error).__name__
    if kind == "NoSuchOption":
        if not error.possibilities:
            return gettext("No such option: {option}", option=error.option_name)
        options = ", ".join(sorted(error.possibilities))
        return gettext(
            "No such option: {option} (Possible options: {options})",
            option=error.option_name,
            options=options,
        )
    if kind == "MissingParameter" and error.param.param_type_name == "argument":
        return gettext("Missing argument {argument}.", argument=f"'{error.param.metavar}'")
    if kind == "MissingParameter":
        return gettext("Missing option {option}.", option=" / ".join(f"'{one}'" for one in error.param.opts))
    if kind == "BadOptionUsage":
        option = repr(error.option_name)
        if error.message.endswith("value."):  # nothing else tells the two apart
            return gettext("Option {option} does not take a value.", option=option)
        return gettext("Option {option} requires an argument.", option=option)
    return gettext(error.message) if error.message in _SAID else str(error.format_message())


class Command(_Plain, TyperCommand):
    """A command whose words are text."""


class CommandGroup(_Plain, TyperGroup):
    """The program itself, whose words are text."""

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """Every command, with the beginning of its help."""
        room = formatter.width - 6 - max(map(len, self.commands))
        with formatter.section(gettext("Commands")):
            formatter.write_dl([(name, one.get_short_help_str(room)) for name, one in self.commands.items()])

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """The program's own options, then its commands."""
        super().format_options(ctx, formatter)
        self.format_commands(ctx, formatter)

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """The command that is asked for."""
        name = args[0]
        if name not in self.commands and not name.startswith("-"):
            near = ", ".join(map(repr, get_close_matches(name, list(self.commands))))
            if near:
                words = gettext(
                    "No such command {name}. Did you mean {commands}?", name=repr(name), commands=near
                )
            else:
                words = gettext("No such command {name}.", name=repr(name))
            ctx.fail(words)
        return super().resolve_command(ctx, args)
