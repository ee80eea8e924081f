"""The starter heights that a user asks for on the command line."""

from __future__ import annotations

from collections.abc import Sequence

from evencourse.layout.courses.course_sets import ZoneGroup, groups
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import decimals, gettext, pgettext
from evencourse.layout.model.errors import Fault, JobError, LengthError
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import parse_length


def read_starters(words: Sequence[str], job: Job) -> dict[str, float]:
    """Heights of butt line 1 by course set.

    Args:
        words: ``LENGTH`` for every lowest course set, or ``SET=LENGTH`` for one.
        job: for its units and its course sets.

    Returns:
        Height by course set; "" stands for every lowest one that is not named [job units].

    Raises:
        JobError: every word that cannot be read or lies off the wall, each with what would have been
            understood.
    """
    if not words:
        return {}
    known = groups(job)
    starters: dict[str, float] = {}
    faults = []
    for word in words:
        name, _, length = word.rpartition("=")
        place = f'--starter "{word}"'
        if name and name not in known:
            found = gettext('course set "{name}"', name=name)
            faults.append(Fault(place, found, either(f'"{one}"' for one in known)))
            continue
        try:
            height = parse_length(length, job.units)
        except LengthError as error:
            faults.append(Fault(place, error.found, error.wanted))
            continue
        if name in starters:
            faults.append(
                Fault(place, gettext("a second starter for the same courses"), pgettext("starter", "one"))
            )
        meant = [known[name]] if name else [group for group in known.values() if group.bottom is None]
        faults += next(([fault] for group in meant if (fault := _off(place, height, group, job))), [])
        starters[name] = height
    if faults:
        raise JobError(faults)
    return starters


def _off(place: str, height: float, group: ZoneGroup, job: Job) -> Fault | None:
    """What is wrong with a starter off its wall, or as far above the datum as its base lies below."""
    from evencourse.layout.jobfile.geometry_checks import STARTER_REACH, STARTER_ROOM
    from evencourse.layout.model.lengths import show_length
    from evencourse.layout.trade.plausible import near_base
    from evencourse.layout.wall.sides import highest, lowest

    def show(length: float) -> str:
        return decimals(show_length(length, job.units, job.round))

    bases = [lowest(member[0]) for member in group.members]
    base = min(bases) if group.bottom is None else group.bottom
    low = base - STARTER_REACH * job.inch
    high = min(min(member[3], highest(member[0])) for member in group.members) - STARTER_ROOM * job.inch
    minus = height > 0 and near_base(-height - base, job.units) and not near_base(height - base, job.units)
    if minus:
        found = gettext("{height}, {over} above the base", height=show(height), over=show(height - base))
        wanted = gettext("-{height}: what lies below the datum has a minus", height=show(height))
        return Fault(place, found, wanted)
    if not low <= height <= high:
        wanted = gettext("a starter line on the wall, from {low} to {high}", low=show(low), high=show(high))
        return Fault(place, show(height), wanted)
    return None
