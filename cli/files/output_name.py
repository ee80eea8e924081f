"""Names that the user gives for what is written: what cannot be meant is refused before any work is done."""

from __future__ import annotations

import errno
import os
import re
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

from evencourse.cli.files.output import UnwrittenError
from evencourse.cli.files.reasons import reason
from evencourse.cli.questions.interview import NO, YES, AskedQuestion, Interview, yes_or_no
from evencourse.layout.jobfile.job_file import LARGEST
from evencourse.layout.jobfile.openings_sheet import named_sheets
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault

#: How the names of all files end that are read or written here.
ENDINGS = (".csv", ".dxf", ".html", ".ifc", ".json", ".pdf", ".svg", ".toml", ".xlsx")
#: As much of a DXF as its header takes [bytes], and the day there when nobody else has saved it: the first
#: noon of the year 2000 as a Julian date, which ``render`` writes instead of a clock's.
_HEADER = 100_000
_PROVENANCE = re.compile(rb"/\* evencourse provenance ")
_UPDATED = re.compile(rb"\$TDUPDATE\r?\n\s*40\r?\n\s*2451545\.0\s")


def check_file(option: str, name: str | None, ending: str, read: Sequence[str], faults: list[Fault]) -> None:
    """Refuse a file named like one of another kind, and one that is read for what is written.

    Measures taken on a building are not taken again: no slip of the finger writes over them.

    Args:
        option: the option that names the file.
        name: what it was given; None and ``-`` are no file.
        ending: how a file of this kind ends; a name with an ending of its own, or none, is fine.
        read: what is read: job files, and drawings; ``-`` among them is standard input.
        faults: what is wrong is added to them.
    """
    if name in (None, "-"):
        return
    assert name is not None
    if _same(name, read):
        found = gettext('"{name}", which is read', name=name)
        faults.append(Fault(option, found, gettext("another file: this one would be lost")))
    elif (found := _ending(name)) and found != ending:
        wanted = gettext("a name that ends in {ending}", ending=ending)
        faults.append(Fault(option, f'"{name}"', wanted))


def check_place(option: str, name: str | None, ending: str, faults: list[Fault]) -> None:
    """Refuse a file that could not be written after long questions: no folder for it, or one of its name."""
    if name is None:
        return
    if name == "-":
        faults.append(Fault(option, "-", gettext("a file: standard output is where the questions stand")))
    elif _is(name, Path.is_dir):
        found = gettext('"{name}", which is a folder', name=name)
        faults.append(Fault(option, found, gettext("a file")))
    elif not _is(os.path.realpath(str(Path(name).parent)), Path.is_dir):
        found = gettext('"{name}" in a folder that is not there', name=name)
        faults.append(Fault(option, found, gettext("a folder that is")))
    else:
        check_file(option, name, ending, [], faults)


def check_folder(name: str, faults: list[Fault], option: str = "--output") -> None:
    """Refuse a folder named like a file, unless there is one."""
    if _ending(name) and not _is(name, Path.is_dir):
        wanted = gettext("a folder: what is written into it is named after the job")
        faults.append(Fault(option, f'"{name}"', wanted))


def look_at_folder(name: str) -> None:
    """Find out that nothing can be written into a folder before any work is done for it.

    Args:
        name: the folder; made when it is written into, if it is not there.

    Raises:
        OutputError: it cannot be made, or not be written into.
    """
    place = Path(os.path.realpath(name))
    while not os.path.lexists(place) and place != place.parent:
        place = place.parent
    _look_at(name, place)


def look_at_file(name: str | None) -> None:
    """The same for a file; ``-``, a pipe and a device are not looked at.

    Raises:
        OutputError: it is a folder, or its folder is not there or cannot be written into.
    """
    if name is None or name == "-":
        return
    place = Path(os.path.realpath(name))
    if place.is_dir():
        raise UnwrittenError(gettext("{path} is a folder: name a file", path=name))
    if not os.path.lexists(place) or place.is_file():
        _look_at(name, place.parent)


def _look_at(name: str, folder: Path) -> None:
    """Write a file without a name there: rights alone do not tell of disks that are read-only."""
    try:
        if not folder.is_dir():
            kind = errno.ENOTDIR if os.path.lexists(folder) else errno.ENOENT
            raise OSError(kind, os.strerror(kind))
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError as error:
        words = gettext("cannot write {path}: {reason}", path=name, reason=reason(error))
        raise UnwrittenError(words) from error


def check_drawings(paths: Sequence[Path]) -> None:
    """Refuse to write a DXF or a model over somebody else's: one of which the job was made, or changed since.

    Args:
        paths: where DXF files and IFC models are to be written.

    Raises:
        OutputError: one of them holds somebody else's work.
    """
    for path in paths:
        if _is(str(path), Path.is_file) and not _ours(path):
            words = gettext(
                "{path} was made by somebody else, or saved since by another program: choose another folder",
                path=path,
            )
            raise UnwrittenError(words)


def _ours(path: Path) -> bool:
    """Whether a DXF or a model is as this program wrote it; an empty one may go.

    Every other program that saves a DXF puts the day into its header ($TDUPDATE in the DXF reference), or
    leaves that out; this one always writes the same. Its models have their provenance as a comment, which no
    program keeps that reads and writes entities.
    """
    try:
        with path.open("rb") as file:
            header = file.read(_HEADER)
    except OSError:
        return True  # told when it is written
    mark = _PROVENANCE if path.suffix == ".ifc" else _UPDATED
    return not header or mark.search(header) is not None


def write_over(name: str, ask: bool = True) -> bool:
    """Whether a job file may be written: there is none of that name, or the user says that it may go.

    Args:
        name: the file.
        ask: whether there is somebody to ask; without, and where nobody answers, it is a no. What is no file
            (a pipe, a device) loses nothing, and a folder is told when it is written.
    """
    if not os.path.lexists(name) or (_is(name, Path.exists) and not _is(name, Path.is_file)):
        return True
    if not ask:
        return False
    text = gettext("{file} is there already. Write over it", file=name)
    words = {"yes": gettext(YES), "no": gettext(NO)}
    more = gettext("{yes}: what is in it now is lost; {no}: nothing is written", **words)
    question = AskedQuestion(text, yes_or_no, gettext(NO), more)
    try:
        return Interview().run(lambda interview: interview.ask(question)) == YES
    except EOFError:
        return False


def _ending(name: str) -> str:
    """The ending of a file that this program knows; empty for any other."""
    found = Path(name).suffix.casefold()
    return found if found in ENDINGS else ""


def _same(name: str, read: Sequence[str]) -> bool:
    """Whether a file is one of those that are read, or one that a job among them names."""
    if not _is(name, Path.is_file):
        return False
    sources = [source for job in read if job != "-" for source in (Path(job), *_openings(job))]
    return any(_is(name, source.samefile) for source in sources)


def _is(name: str, what: Callable[[Path], bool]) -> bool:
    """Whether a file is so; one that cannot be looked at is not, and that is told where it is used."""
    try:
        return what(Path(name))
    except (OSError, ValueError):
        return False


def _openings(job: str) -> list[Path]:
    """The CSV files that a job file takes openings from; none when it cannot be read: that is told later."""
    path = Path(job)
    try:
        if not path.is_file() or path.stat().st_size > LARGEST:
            return []
        return [path.parent / name for name in named_sheets(path.read_text(encoding="utf-8-sig"))]
    except (OSError, ValueError):
        return []
