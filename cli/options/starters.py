"""The starter heights that a user asks for on the command line."""

from __future__ import annotations

from collections.abc import Sequence

from evencourse.layout.model.errors import Fault, JobError, LengthError
from evencourse.layout.model.job import Job


def read_starters(words: Sequence[str], job: Job) -> dict[str, float]:
    """Heights of butt line 1 by course set.

    Args:
        words: ``LENGTH`` for every lowest course set, or ``SET=LENGTH`` for one.
        job: for its units and its course sets.

    Returns:
        Height by course set; "" stands for every lowest one that is not named [job units].

    Raises:
        JobError: every word that cannot be read, each with what would have been understood.
    """
    from evencourse.layout.courses.planner import course_set_names
    from evencourse.layout.model.lengths import parse_length

    known = course_set_names(job)
    starters: dict[str, float] = {}
    faults = []
    for word in words:
        name, _, length = word.rpartition("=")
        place = f'--starter "{word}"'
        if name and name not in known:
            wanted = " or ".join(f'"{one}"' for one in known)
            faults.append(Fault(place, f'course set "{name}"', wanted))
            continue
        try:
            height = parse_length(length, job.units)
        except LengthError as error:
            faults.append(Fault(place, error.found, error.wanted))
            continue
        if name in starters:
            faults.append(Fault(place, "a second starter for the same courses", "one"))
        starters[name] = height
    if faults:
        raise JobError(faults)
    return starters
