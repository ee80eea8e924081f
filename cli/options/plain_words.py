"""How the program takes its words: as plain text, which the commands then read themselves.

Lengths, dates and paper sizes have their own grammar and their own messages, so every argument and option
of the program is text, a list of texts, or a flag.
"""

from __future__ import annotations

import re
from typing import Any

from typer.core import TyperCommand, TyperGroup


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


class Command(_Plain, TyperCommand):
    """A command whose words are text."""


class CommandGroup(_Plain, TyperGroup):
    """The program itself, whose words are text."""
