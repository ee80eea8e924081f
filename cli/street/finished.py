"""What the work on one job gives: files, and figures; and where they are put."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from evencourse.cli.files.output import Output, write_folder
from evencourse.cli.files.output_name import check_drawings
from evencourse.cli.files.provenance import Provenance, marked, standing
from evencourse.cli.street.street_summary import Summary, unchanged


@dataclass(frozen=True)
class Finished:
    """One job drawn, not yet written.

    Attributes:
        outputs: its files.
        summary: its figures.
        names: names of what is drawn, without number of part and suffix: files of an earlier run that bear
            one of them, and are no part of it now, are taken away.
    """

    outputs: tuple[Output, ...]
    summary: Summary
    names: tuple[str, ...] = ()


def finished(outputs: Sequence[Output], summary: Summary, key: str, names: Sequence[str] = ()) -> Finished:
    """The files of a job with their provenance.

    Args:
        outputs: its files.
        summary: its figures; the provenance keeps them.
        key: of what the files follow from.
        names: as in :class:`Finished`.
    """
    provenance = Provenance(key, len(outputs), summary.facts)
    return Finished(tuple(marked(output, provenance) for output in outputs), summary, tuple(names))


def put(folder: Path, done: Finished) -> tuple[Path, ...]:
    """Write the files of a job into a folder; the path of each.

    Raises:
        OutputError: nothing was written; a DXF or a model there is another's work, or no folder is.
    """
    check_drawings([folder / one.name for one in done.outputs if one.name.endswith((".dxf", ".ifc"))])
    paths = write_folder(folder, done.outputs)
    _clear_parts(folder, done.names, {path.name for path in paths})
    return paths


def what_stands(folder: Path, suffixes: Sequence[str], key: str) -> Summary | None:
    """The figures of a job whose files stand in a folder, made of just this; None when they do not.

    Args:
        folder: where its files would be written.
        suffixes: of the files that would be.
        key: of what they would follow from.
    """
    provenance = standing(_files(folder, suffixes), key)
    return None if provenance is None else unchanged(provenance.facts)


def _files(folder: Path, suffixes: Sequence[str]) -> Iterator[Path]:
    with contextlib.suppress(OSError):  # no such folder, or none that can be looked into
        yield from (path for path in folder.iterdir() if path.suffix in suffixes)


def _clear_parts(folder: Path, names: Sequence[str], written: set[str]) -> None:
    """Take away what an earlier run drew of the same faces when they took another number of sheets."""
    suffixes = {Path(name).suffix for name in written} & {".svg", ".png"}
    for path in _files(folder, tuple(suffixes)) if names else ():
        named = re.fullmatch(r"(.+?)(?:-part-[1-9]\d*)?", path.stem)
        if named and named[1] in names and path.name not in written and path.is_file():
            with contextlib.suppress(OSError):  # it is of no harm where it cannot be taken away
                path.unlink()
