"""How a command reads its words: as plain text, which it then reads itself.

Lengths, dates and paper sizes have their own grammar and their own messages, so every argument and option
of the program is text, a list of texts, or a flag.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from typer.core import TyperCommand


class _AsWritten:
    """Hands text on unchanged."""

    def coerce(self, value: Any, param: Any, ctx: Any) -> Any:
        if value is None:
            return () if param.multiple or param.nargs == -1 else None
        return value


class Command(TyperCommand):
    """A command whose words are text.

    Newer releases of typer load a validation library to turn text into text; that takes longer than many
    a plan. Where they offer the place, the words are handed on as they are.
    """

    def __init__(self, name: str | None, **settings: Any) -> None:
        super().__init__(name, **settings)
        for param in self.params:
            if hasattr(param, "_runtime_param"):
                param._runtime_param = _AsWritten()


#: A command: takes its words, prints what it has to say, and returns the exit code.
Run = Callable[..., int]
