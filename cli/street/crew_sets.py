"""The crew's set of a job as PDF, bound the same for a command, a worker and the desk."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from evencourse.cli.files.output import Output
from evencourse.cli.options.choices import usual_paper
from evencourse.cli.reports.progress import Progress
from evencourse.cli.street.finished import Finished, finished
from evencourse.cli.street.parcel import Parcel
from evencourse.cli.street.street_summary import summary
from evencourse.layout.language.speech import gettext, speaking
from evencourse.layout.model.errors import Fault, JobError
from evencourse.render.border.stamp import Stamp
from evencourse.render.crew_set.sheet_set import PARTS, sheet_set
from evencourse.render.formats.pdf import pdf
from evencourse.render.words.result import Result, result


@dataclass(frozen=True)
class SheetOptions:
    """A paper (None for the usual one), date and revision to print, the parts wanted, and what is added.

    The language is a code; None for the job's own.
    """

    paper: str | None = None
    day: str | None = None
    revision: str = ""
    only: tuple[str, ...] = PARTS
    all_edges: bool = False
    templates: bool = False
    language: str | None = None


def bind_one(wanted: SheetOptions, one: Parcel) -> Finished:
    """Bind the set of one of several jobs, in another process or on another machine.

    Args:
        wanted: paper, date and parts.
        one: the job.
    """
    return bound(result(one.job()), wanted, one.key((wanted, None)), Progress(1).step)


def bound(found: Result, wanted: SheetOptions, key: str, step: Callable[[str], None]) -> Finished:
    """The set as PDF, with its provenance.

    Args:
        found: the finished result of the job.
        wanted: paper, date and parts.
        key: of what the set follows from.
        step: told what is being done.

    Raises:
        JobError: nothing of what is wanted is on a sheet.
    """
    step(gettext("laying out the sheets"))
    name = wanted.paper or usual_paper(found.job.units)
    stamp = Stamp(wanted.day, wanted.revision, found.fingerprint)
    with speaking(wanted.language or found.job.language):
        document = sheet_set(found, name, stamp, wanted.only, wanted.all_edges, wanted.templates)
    if not document.sheets:
        none = gettext("only rakes, and the job has none")
        raise JobError([Fault("--only", none, gettext("a part with something on it"))])
    step("PDF")
    return finished([Output("set.pdf", pdf(document))], summary(found, len(document.sheets), 1), key)
