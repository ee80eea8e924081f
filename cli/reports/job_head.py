"""How every report begins: the job's name, and for a metric job the unit of all its lengths."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.cli.reports.table import Screen, clean, styled
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.job import Job


def job_head(job: Job, on: Screen) -> Iterator[str]:
    """The first lines of a report.

    Args:
        job: whose it is. Lengths in feet and inches bear their signs; millimetres are named once, here.
        on: what it is for.
    """
    yield styled(clean(job.name or gettext("Job without a name")), "strong", on)
    if job.units == "mm":
        yield gettext("lengths in mm")
