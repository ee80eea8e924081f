"""The one exception family: every error that the program raises on purpose."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from evencourse.layout.language.speech import gettext


@dataclass(frozen=True)
class Fault:
    """One thing wrong in the input.

    Attributes:
        place: where in the job, in its own words: ``elevation "Front", opening "A", sill``.
        found: what stands there.
        wanted: what would have been understood.
        line: line in the job file, counted from 1; None when it has none.
        path: the same place as keys and indices of the job file; empty where it has none.
        missing: nothing stands there.
    """

    place: str
    found: str
    wanted: str
    line: int | None = None
    path: tuple[str | int, ...] = field(default=(), compare=False)
    missing: bool = field(default=False, compare=False)

    def __str__(self) -> str:
        """One line for a terminal."""
        told = gettext(
            "{place}: found {found}; wanted {wanted}",
            place=self.place,
            found=self.found,
            wanted=self.wanted,
        )
        return told if self.line is None else gettext("line {line}: {fault}", line=self.line, fault=told)


class EvencourseError(Exception):
    """Base of every error raised on purpose."""


class LengthError(EvencourseError, ValueError):
    """A length that cannot be read without guessing.

    Attributes:
        found: the text as it stands.
        wanted: what would have been understood.
    """

    def __init__(self, found: str, wanted: str) -> None:
        super().__init__(gettext("found {found}; wanted {wanted}", found=found, wanted=wanted))
        self.found = found
        self.wanted = wanted


class JobError(EvencourseError):
    """A job file with faults: all of them, in the order of the file.

    Attributes:
        faults: at least one fault.
    """

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class OutputError(EvencourseError):
    """An output that could not be written; nothing of it is left behind."""
