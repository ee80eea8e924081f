"""The error of tape and level that a user reckons with, and the starters that hold up against it."""

from __future__ import annotations

from collections.abc import Sequence

from evencourse.layout.language.speech import decimals, gettext
from evencourse.layout.model.errors import Fault, JobError, LengthError
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import parse_length, show_length


def read_error(text: str | None, robust: bool, starters: Sequence[str], job: Job) -> float | None:
    """The greatest error that is reckoned with; None when none is [job units].

    Args:
        text: what ``--error`` was given.
        robust: whether ``--robust`` was.
        starters: what ``--starter`` was given.
        job: for its units and its exposures.

    Raises:
        JobError: no length, a negative one, one of a whole course; ``--robust`` without an error, or beside a
            starter of the user's own.
    """
    faults = []
    error: float | None = None
    if robust and text is None:
        faults.append(
            Fault("--robust", gettext("no --error"), gettext("--error and a length, such as --error 1/8"))
        )
    if robust and starters:
        faults.append(Fault("--robust", gettext("--starter beside it"), gettext("one of the two")))
    if text is not None:
        place = f'--error "{text}"'
        least = min(cladding.exposure_min for cladding in job.claddings.values())
        try:
            error = parse_length(text, job.units)
        except LengthError as found:
            faults.append(Fault(place, found.found, found.wanted))
        else:
            if not 0 <= error < least:
                shown, most = (decimals(show_length(one, job.units, job.round)) for one in (error, least))
                wanted = gettext("a length from 0 up to less than a course ({course})", course=most)
                faults.append(Fault(place, shown, wanted))
    if faults:
        raise JobError(faults)
    return error
