"""Reading the job that a command works on."""

from __future__ import annotations

import re
import sys
from pathlib import Path

from evencourse.cli.files.reasons import reason
from evencourse.layout.jobfile.job_file import LARGEST, parse_job
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.errors import EvencourseError
from evencourse.layout.model.job import Job

#: How files begin that are often at hand beside a job and are none. No job file begins so.
_OTHERS = (
    (rb"%PDF", noop("a PDF")),
    (rb"PK\x03\x04", noop("a workbook or a packed folder")),
    (
        rb"AutoCAD Binary DXF|\s*0\s+SECTION\s|\s*999\s*\n",
        noop("a DXF drawing, of which import makes a job file"),
    ),
    (rb"AC10\d\d", noop("a DWG drawing")),
    (rb"(?:\xef\xbb\xbf)?\s*<", noop("a page or a picture")),
    (rb"(?:\xef\xbb\xbf)?\s*\{", noop("a JSON file, as --json writes one")),
)


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
    return parse_job(read_text(source), None if source == "-" else Path(source).parent)


def read_text(source: str) -> str:
    """The text of a job file, or of standard input.

    Args:
        source: path of the job file; ``-`` for standard input.

    Raises:
        ReadingError: no such file, a folder, no permission, no text.
    """
    shown = gettext("standard input") if source == "-" else source
    try:
        # No more than a job file can hold, and a byte: a device without end is answered, too.
        most = 4 * LARGEST + 1
        if source == "-":
            data = sys.stdin.buffer.read(most)
        else:
            with Path(source).open("rb") as file:
                data = file.read(most)
    except OSError as error:
        raise unreadable(shown, reason(error)) from error
    except ValueError as error:  # a path with a NUL in it
        raise unreadable(shown, str(error)) from error
    if len(data) == most:
        raise unreadable(shown, gettext("more than {count} characters are no job file", count=LARGEST))
    if kind := _other(data):
        raise unreadable(shown, gettext("found {kind}; wanted a job file", kind=gettext(kind)))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        words = gettext(
            "line {line}: {file}: found byte {byte}; wanted a text file in UTF-8",
            line=line,
            file=shown,
            byte=f"0x{data[error.start]:02x}",
        )
        raise ReadingError(words) from error


def unreadable(shown: str, why: str) -> ReadingError:
    """The error of a file that cannot be read.

    Args:
        shown: what the file is called.
        why: the reason in a few words.
    """
    return ReadingError(gettext("cannot read {file}: {reason}", file=shown, reason=why))


def _other(data: bytes) -> str:
    """What a file is that is certainly no job file; empty when it may be one."""
    return next((kind for begins, kind in _OTHERS if re.match(begins, data)), "")
