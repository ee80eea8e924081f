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
        The job, without a fault. A CSV file of openings that it names is read from the job file's folder.

    Raises:
        ReadingError: no such file, a folder, no permission, no text.
        JobError: every fault in it.
    """
    from cli.reasons import reason
    from layout.jobfile import LARGEST, parse_job

    shown = "standard input" if source == "-" else source
    try:
        # No more than a job file can hold, and a byte: a device without end is answered, too.
        most = 4 * LARGEST + 1
        if source == "-":
            data = sys.stdin.buffer.read(most)
        else:
            with Path(source).open("rb") as file:
                data = file.read(most)
    except OSError as error:
        raise ReadingError(f"cannot read {shown}: {reason(error)}") from error
    except ValueError as error:  # a path with a NUL in it
        raise ReadingError(f"cannot read {shown}: {error}") from error
    if len(data) == most:
        raise ReadingError(f"cannot read {shown}: more than {LARGEST} characters are no job file")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise ReadingError(
            f"line {line}: {shown}: found byte 0x{data[error.start]:02x}; wanted a text file in UTF-8"
        ) from error
    return parse_job(text, None if source == "-" else Path(source).parent)
