"""A street of jobs drawn or bound into a folder: the same for the commands, a script and a notebook."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from evencourse.cli.files.output import Output
from evencourse.cli.files.provenance import provenance_of, standing
from evencourse.cli.street.crew_sets import SheetOptions, bind_one
from evencourse.cli.street.drawn_jobs import DrawOptions, draw_one
from evencourse.cli.street.engines import Engine
from evencourse.cli.street.finished import Finished, drawn_earlier, put, what_stands
from evencourse.cli.street.parcel import Parcel
from evencourse.cli.street.several_jobs import output_names, over_jobs
from evencourse.cli.street.street_summary import Summary, unchanged
from evencourse.cli.street.workers import Done
from evencourse.layout.model.errors import Fault, JobError


@dataclass(frozen=True)
class Street:
    """What became of a street of jobs.

    Attributes:
        jobs: each in figures, or its faults, in the order of the job files.
        removed: files of earlier runs of these jobs, taken away.
        stale: files, or folders of them, that earlier runs wrote of jobs that failed now.
    """

    jobs: tuple[Done[Summary], ...]
    removed: tuple[Path, ...] = ()
    stale: tuple[Path, ...] = ()


def bind_street(
    jobs: Sequence[str], folder: Path, wanted: SheetOptions, engine: Engine, changed: bool = False
) -> Street:
    """Bind the set of every job into one PDF each, ``folder/lot-1.pdf`` for ``lot-1.toml``.

    Args:
        jobs: paths of the job files.
        folder: made when it is missing.
        wanted: paper, date and parts; None for the paper means the usual one of each job's units.
        engine: who does the work.
        changed: jobs whose files stand there already, made of just this, are left out.

    Raises:
        JobError: two jobs would be written under one name. Faults in a job are told in its place.
        ClusterError: the cluster cannot be used, or went away.
    """

    def named(name: str, one: Finished) -> tuple[Path, Finished]:
        (data,) = one.outputs
        return folder, replace(one, outputs=(Output(f"{name}.pdf", data.data),))

    def stands(name: str, one: Parcel) -> Summary | None:
        provenance = standing([folder / f"{name}.pdf"], one.key((wanted, None)))
        return None if provenance is None else unchanged(provenance.facts)

    def earlier(name: str) -> list[Path]:
        path = folder / f"{name}.pdf"
        return [path] if path.is_file() and provenance_of(path) is not None else []

    return _street(partial(bind_one, wanted), jobs, engine, named, stands, earlier, changed)


def draw_street(
    jobs: Sequence[str], folder: Path, wanted: DrawOptions, engine: Engine, changed: bool = False
) -> Street:
    """Draw every job into a folder of its own, ``folder/lot-1/`` for ``lot-1.toml``.

    Args:
        jobs: paths of the job files.
        folder: made when it is missing.
        wanted: formats, paper and date.
        engine: who does the work.
        changed: as for :func:`bind_street`.

    Raises:
        JobError: two jobs would be written under one name. Faults in a job are told in its place.
        ClusterError: the cluster cannot be used, or went away.
    """

    def named(name: str, one: Finished) -> tuple[Path, Finished]:
        return folder / name, one

    def stands(name: str, one: Parcel) -> Summary | None:
        return what_stands(folder / name, [f".{kind}" for kind in wanted.formats], one.key((wanted, None)))

    def earlier(name: str) -> list[Path]:
        return [folder / name] if drawn_earlier(folder / name) else []

    return _street(partial(draw_one, wanted), jobs, engine, named, stands, earlier, changed)


def _street(
    work: Callable[[Parcel], Finished],
    jobs: Sequence[str],
    engine: Engine,
    named: Callable[[str, Finished], tuple[Path, Finished]],
    stands: Callable[[str, Parcel], Summary | None],
    earlier: Callable[[str], list[Path]],
    changed: bool,
) -> Street:
    """Do the work, and write what comes back where it is named."""
    faults: list[Fault] = []
    names = output_names(jobs, faults)
    if faults:
        raise JobError(faults)
    removed: dict[int, tuple[Path, ...]] = {}

    def settle(index: int, one: Finished) -> Summary:
        removed[index] = put(*named(names[index], one)).removed
        return one.summary

    def there(index: int, one: Parcel) -> Summary | None:
        return stands(names[index], one) if changed else None

    found = over_jobs(work, jobs, engine, settle, there)
    stale = [path for name, one in zip(names, found, strict=True) if one.broken for path in earlier(name)]
    gone = tuple(path for index in sorted(removed) for path in removed[index])
    return Street(tuple(found), gone, tuple(stale))
