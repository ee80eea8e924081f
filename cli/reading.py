"""Reading the job that a command works on."""

from __future__ import annotations

import sys
from pathlib import Path

from layout.errors import EvencourseError
from layout.job import Job


class ReadingError(EvencourseError):
    """A job file that cannot be read at all."""


def read(source: str) -> Job:
    """The job in a file, or on standard input.

    Args:
        source: path of the job file; ``-`` for standard input.

    Returns:
        The job, without a fault.

    Raises:
        ReadingError: no such file, a folder, no permission, no text.
        JobError: every fault in it.
    """
    from cli.output import reason
    from layout.jobfile import parse_job

    shown = "standard input" if source == "-" else source
    try:
        data = sys.stdin.buffer.read() if source == "-" else Path(source).read_bytes()
    except OSError as error:
        raise ReadingError(f"cannot read {shown}: {reason(error)}") from error
    except ValueError as error:  # a path with a NUL in it
        raise ReadingError(f"cannot read {shown}: {error}") from error
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise ReadingError(
            f"line {line}: {shown}: found byte 0x{data[error.start]:02x}; wanted a text file in UTF-8"
        ) from error
    return parse_job(text)
