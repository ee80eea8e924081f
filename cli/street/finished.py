"""What the work on one job gives: files, and figures; and where they are put."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from evencourse.cli.files.output import Output, write_folder
from evencourse.cli.files.output_name import check_drawings
from evencourse.cli.files.provenance import Provenance, as_written, marked, provenance_of, standing
from evencourse.cli.street.street_summary import Summary, unchanged

#: What files of a job are called by.
DRAWN = (".svg", ".pdf", ".dxf", ".png", ".ifc")


@dataclass(frozen=True)
class Finished:
    """One job drawn, not yet written.

    Attributes:
        outputs: its files.
        summary: its figures.
        origin: key of its job file, where files of an earlier run that are no part of it now are to be taken
            away; else empty.
    """

    outputs: tuple[Output, ...]
    summary: Summary
    origin: str = ""


@dataclass(frozen=True)
class Written:
    """What was done to a folder.

    Attributes:
        paths: of the files written.
        removed: files of an earlier run, taken away.
    """

    paths: tuple[Path, ...]
    removed: tuple[Path, ...]


def finished(outputs: Sequence[Output], summary: Summary, key: str, origin: str = "") -> Finished:
    """The files of a job with their provenance.

    Args:
        outputs: its files.
        summary: its figures; the provenance keeps them.
        key: of what the files follow from.
        origin: as in :class:`Finished`.
    """
    provenance = Provenance(key, len(outputs), summary.facts, origin)
    return Finished(tuple(marked(output, provenance) for output in outputs), summary, origin)


def put(folder: Path, done: Finished) -> Written:
    """Write the files of a job into a folder.

    Raises:
        OutputError: nothing was written; a DXF or a model there is another's work, or no folder is.
    """
    check_drawings([folder / one.name for one in done.outputs if one.name.endswith((".dxf", ".ifc"))])
    paths = write_folder(folder, done.outputs)
    return Written(paths, tuple(_clear_earlier(folder, done.origin, paths)) if done.origin else ())


def what_stands(folder: Path, suffixes: Sequence[str], key: str) -> Summary | None:
    """The figures of a job whose files stand in a folder, made of just this; None when they do not.

    Args:
        folder: where its files would be written.
        suffixes: of the files that would be.
        key: of what they would follow from.
    """
    provenance = standing(_files(folder, suffixes), key)
    return None if provenance is None else unchanged(provenance.facts)


def drawn_earlier(folder: Path) -> bool:
    """Whether an earlier run left files in a folder."""
    return any(path.is_file() and provenance_of(path) is not None for path in _files(folder, DRAWN))


def _files(folder: Path, suffixes: Sequence[str]) -> Iterator[Path]:
    with contextlib.suppress(OSError):  # no such folder, or none that can be looked into
        yield from (path for path in folder.iterdir() if path.suffix in suffixes)


def _clear_earlier(folder: Path, origin: str, paths: Sequence[Path]) -> Iterator[Path]:
    """Take away what an earlier run drew of the same job file and this run did not, format by format.

    A face that is gone, or is called otherwise, or takes fewer sheets, leaves no drawing that somebody could
    build from. What somebody changed since stays: it is theirs.
    """
    written = {path.name for path in paths}
    folded = {path.name.casefold() for path in paths}
    for path in sorted(_files(folder, tuple({path.suffix for path in paths}))):
        if path.name in written or path.is_symlink() or not path.is_file():
            continue
        if path.name.casefold() in folded and any(path.samefile(other) for other in paths):
            continue  # one name where case does not count
        provenance = provenance_of(path)
        if provenance is not None and provenance.origin == origin and as_written(path):
            with contextlib.suppress(OSError):  # it is of no harm where it cannot be taken away
                path.unlink()
                yield path
