"""What can go wrong on a face, in words: clearances, roofs, heights, dust and heat of its material."""

from __future__ import annotations

from itertools import pairwise

from evencourse.layout.model.course_plan import CourseSet, ElevationPlan
from evencourse.layout.model.job import Job
from evencourse.layout.model.lengths import show_length
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.trade.rules import rules
from evencourse.layout.wall.ground import ground_along
from evencourse.layout.wall.roofs import clearance
from evencourse.layout.wall.sides import highest, hung_over, lowest, sides

_MATERIAL = {
    "fiber cement": "Fiber cement: cutting raises silica dust; cut wet or with "
    "dust collection, and wear a respirator.",
    "vinyl": "Vinyl: heat warps it; keep grills and flues away, and nail it loose so that it can move.",
}


def cautions(job: Job, face: ElevationPlan, course_sets: dict[str, CourseSet]) -> tuple[str, ...]:
    """Cautions for one face, the particular ones first.

    Args:
        job: for its units.
        face: the planned face; its own cautions are not looked at.
        course_sets: by name.
    """
    elevation = face.elevation
    found = []
    first = course_sets[face.zones[0].course_set]
    cladding, starter = first.cladding, first.lines.starter

    def show(length: float) -> str:
        return show_length(length, job.units, job.round) + (" mm" if job.units == "mm" else "")

    gaps = [
        (starter - height, x)
        for side in sides(elevation.outline)
        if side.base and hung_over(side, starter, cladding, job.inch)
        for x, height in ground_along(elevation, side.left[0], side.right[0])
    ]
    if gaps and min(gaps)[0] < cladding.ground_clearance - ROUNDING:
        gap, x = min(gaps)
        wanted = show(cladding.ground_clearance)
        found.append(
            f"Ground: only {show(gap)} below the siding, {show(x)} from the left; it must be {wanted}."
        )
    for side in sides(elevation.outline):
        if side.base and not side.level and not hung_over(side, starter, cladding, job.inch):
            if side.pitch > rules().limits["eave_pitch_max"]:
                clear = show(cladding.roof_clearance)
                found.append(f"Lower roof: hold the siding {clear} off it, over the step flashing.")
            else:
                found.append(
                    "Base out of level: rips end at it; over a foundation leave them "
                    f"{show(cladding.cover)} longer to cover its top."
                )
    for roof in elevation.roofs:
        name, clear = f"{roof.kind.capitalize()} {roof.mark}", show(clearance(job, elevation, roof))
        found.append(
            f"{name}: flashing first, its upper leg behind the weather barrier; "
            f"hold the siding {clear} off it."
        )
        if any(y0 != y1 for (_, y0), (_, y1) in pairwise(roof.line)):
            found.append(f"{name}: step flashing up the slope, a kick-out at its lower end.")
    for zone in elevation.zones:
        if zone.top is None or zone.trim <= 0:
            continue
        for opening in elevation.openings:
            for kind, level in (("sill", opening.sill), ("head", opening.head)):
                if zone.top < level < zone.top + zone.trim and not (kind == "sill" and opening.on_base):
                    found.append(
                        f"Opening {opening.mark}: its {kind} at {show(level)} is in the band board from "
                        f"{show(zone.top)} to {show(zone.top + zone.trim)}; no course meets it."
                    )
    height = highest(elevation) - min([lowest(elevation), *(y for _, y in elevation.grade or ())])
    if height > rules().limits["fall_height"] * job.inch:
        found.append(f"Height: work is up to {show(height)} above the ground; use fall protection.")
    materials = {course_sets[zone.course_set].cladding.material for zone in face.zones}
    found += [text for material, text in _MATERIAL.items() if material in materials]
    return tuple(dict.fromkeys(found))
