"""The rules about seams of one cladding, and the gaps at the ends of its pieces."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Job
from evencourse.layout.trade.materials import materials

Rule = Literal["raked", "opening", "apart", "line", "shortest", "stud"]

#: Ticks of the search in an inch and in a millimetre.
TICKS_INCH, TICKS_MM = 1024.0, 40.0


@dataclass(frozen=True)
class SeamRules:
    """Rules about the seams of one cladding [job units].

    Attributes:
        shortest: shortest piece worth hanging.
        apart: seams of neighbouring courses apart, where it can be had.
        in_line: seams nearer than this are in line.
        courses_between: courses that must lie between two seams in line.
        beside: clear of an opening's side in the course over or under it.
        unseamed: a run no longer than this has no seam, whatever a bar could be spared.
        extra: seams that a longer run may have beyond the fewest.
        worth: seams beyond the fewest that one bar spared is worth.
        kerf: what the saw takes at a cut.
        joint: gap at a butt joint.
        lap: of one panel over the next.
        front: which piece laps over the other on a face without an entrance.
        on_studs: butt joints lie on studs.
    """

    shortest: float
    apart: float
    in_line: float
    courses_between: int
    beside: float
    unseamed: float
    extra: int
    worth: int
    kerf: float
    joint: float
    lap: float
    front: Literal["left", "right"]
    on_studs: bool


def seam_rules(job: Job, cladding: Cladding) -> SeamRules:
    """The rules for one cladding of a job; shingles have no seams.

    Args:
        job: for its limits on seams.
        cladding: a panel or a board.

    Rules: ``materials.toml``, by family; the shortest piece never asks more than half a stock length.
    """
    table = materials()["seams"][cladding.family]
    inch = job.inch
    return SeamRules(
        shortest=min(job.seams.shortest, cladding.length / 2),
        apart=job.seams.apart,
        in_line=table["in_line"] * inch,
        courses_between=table["courses_between"],
        beside=table["beside"] * inch,
        unseamed=table["unseamed"] * cladding.length,
        extra=table["extra"],
        worth=table["worth"],
        kerf=table["kerf"] * inch,
        joint=table["joint"] * inch,
        lap=cladding.end_lap,
        front=table["front"],
        on_studs=table["on_studs"],
    )


def end_gap(job: Job, cladding: Cladding) -> float:
    """Gap at each end of a run that runs into a channel, a post or trim [job units].

    Rule: 1/4 in; 3/8 in at or below 40 F for panels (Vinyl Siding Installation Manual); by cladding else.
    """
    cold = job.temperature is not None and job.temperature <= cladding.cold
    return cladding.end_gap_cold if cold else cladding.end_gap


def notch_clear(job: Job, cladding: Cladding) -> float:
    """What a notch is cut wider on each side than what stands in it [job units].

    Rule: panels 1/4 in (common practice, no source); boards and shingles as far off as their ends.
    """
    if cladding.family == "panel":
        return float(materials()["notch"]["clear"]) * job.inch
    return end_gap(job, cladding)


def ticks(job: Job) -> float:
    """Ticks of the search in one job unit: 1024 to the inch, 40 to the millimetre."""
    return TICKS_INCH if job.units == "in" else TICKS_MM
