"""How the program takes its words: as plain text, which the commands then read themselves.

Lengths, dates and paper sizes have their own grammar and their own messages, so every argument and option
of the program is text, a list of texts, or a flag.
"""

from __future__ import annotations

from typing import Any

from typer.core import TyperCommand, TyperGroup


class _AsWritten:
    """Hands words on unchanged."""

    def coerce(self, value: Any, param: Any, ctx: Any) -> Any:
        if value is None:
            return () if param.multiple or param.nargs == -1 else None
        return value


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
        return params


class Command(_Plain, TyperCommand):
    """A command whose words are text."""


class CommandGroup(_Plain, TyperGroup):
    """The program itself, whose words are text."""
