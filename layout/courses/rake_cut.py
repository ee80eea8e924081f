"""Cuts along rakes, job by job: rakes of one slope share one cut, one layout and one template."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import ElevationPlan, Plan, Rake
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import round_length


@dataclass(frozen=True)
class RakeUse:
    """A rake that a cut is made along.

    Attributes:
        face: name of the face it is on.
        rake: the sloping edge.
        claddings: what meets it, from the bottom up.
    """

    face: str
    rake: Rake
    claddings: tuple[Cladding, ...]

    @property
    def run(self) -> float:
        """From end to end, level [job units]."""
        return abs(self.rake.end[0] - self.rake.start[0])

    @property
    def rise(self) -> float:
        """From end to end, plumb [job units]."""
        return self.rake.end[1] - self.rake.start[1]


@dataclass(frozen=True)
class RakeCut:
    """One cut: a slope, and every exposure that it is laid out over.

    Attributes:
        pitch: rise over a run of 12.
        angle: from level [degrees].
        from_square: lean of the end cut from a square cut [degrees].
        past_saw: the cut leans beyond the scale of most miter saws.
        layouts: (exposure, run over it), the greatest first; those that read alike on the tape are one
            [job units].
        uses: the rakes, in the order of the job.
    """

    pitch: float
    angle: float
    from_square: float
    past_saw: bool
    layouts: tuple[tuple[float, float], ...]
    uses: tuple[RakeUse, ...]

    @property
    def per_run(self) -> float:
        """Length along the slope over a level run of 1: the framing square's figure over 12.

        Rule: length of common rafter per foot of run, on every framing square.
        """
        return hypot(12, self.pitch) / 12


def rake_cuts(plan: Plan) -> tuple[RakeCut, ...]:
    """Every different cut of a job, in the order in which its faces need them.

    Two rakes share a cut when their layouts over the greatest exposure differ by less than half a mark of the
    tape.
    """
    job = plan.job
    groups: list[list[RakeUse]] = []
    for face in plan.elevations:
        for rake in face.rakes:
            use = RakeUse(face.elevation.name, rake, tuple(_claddings(plan, face, rake)))
            same = next((group for group in groups if _alike(job, group[0].rake, rake)), None)
            if same is None:
                groups.append([use])
            else:
                same.append(use)
    return tuple(_cut(job, group) for group in groups)


def _alike(job: Job, one: Rake, other: Rake) -> bool:
    tall = max(exposure for exposure, _ in (*one.layouts, *other.layouts))
    return abs(tall * 12 / one.pitch - tall * 12 / other.pitch) < job.round / 2


def _cut(job: Job, uses: list[RakeUse]) -> RakeCut:
    first = uses[0].rake
    exposures: dict[float, float] = {}
    for use in uses:
        for exposure, _ in use.rake.layouts:
            exposures.setdefault(round_length(exposure, job.round), exposure)
    layouts = tuple((exposure, exposure * 12 / first.pitch) for exposure in sorted(exposures.values())[::-1])
    return RakeCut(first.pitch, first.angle, first.from_square, first.past_saw, layouts, tuple(uses))


def _claddings(plan: Plan, face: ElevationPlan, rake: Rake) -> Iterator[Cladding]:
    """What meets a rake: the claddings of the zones that it runs through."""
    low, high = sorted((rake.start[1], rake.end[1]))
    for zone in face.zones:
        if min(high, zone.top) - max(low, zone.bottom) > 0:
            yield plan.course_sets[zone.course_set].cladding
