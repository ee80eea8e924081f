"""Sloping edges of a wall and the cuts that follow them."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, degrees

from evencourse.layout.model.course_plan import CourseSet, Lines, Rake, ZonePlan
from evencourse.layout.model.job import Elevation, Job
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.layout.trade.rules import out_of_level, rules
from evencourse.layout.wall.roofs import behind_roof, roof_sides
from evencourse.layout.wall.sides import Side, hung_over, sides


def rakes(
    job: Job, elevation: Elevation, zones: tuple[ZonePlan, ...], course_sets: dict[str, CourseSet]
) -> Iterator[Rake]:
    """Every sloping edge that siding is cut along, in the order of the outline, then those of its roofs.

    Args:
        job: for its units, and for what siding keeps clear of roofs.
        elevation: the face.
        zones: its zones, with the course sets they share.
        course_sets: by name.

    Rules: pitch p in 12 leans atan(p / 12) from level; the end cut leans the rest of a right angle from a
    square cut; over one exposure e the cut runs e * 12 / p (geometry). A base that siding simply hangs over
    is no rake, nor is what lies behind a roof, nor what is out of level alone, no steeper than
    ``limits.eave_pitch_max``: courses are ripped along it (``evencourse.layout.courses.low_slopes``).
    """
    lowest = course_sets[zones[0].course_set]
    for side in (*sides(elevation.outline), *roof_sides(job, elevation)):
        if side.level or out_of_level(side.pitch, 12):
            continue
        if side.base and hung_over(side, lowest.lines.starter, lowest.cladding, job.inch):
            continue
        if side.roof is None and behind_roof(job, elevation, side.left, side.right):
            continue
        yield rake(side, _exposures(side, zones, course_sets))


def rake(side: Side, exposures: tuple[float, ...]) -> Rake:
    """The cut along one sloping side.

    Args:
        side: a side that is not level.
        exposures: of the bands that meet it, from the bottom up [job units].
    """
    rises = side.right[1] > side.left[1]
    low, high = (side.left, side.right) if rises else (side.right, side.left)
    angle = degrees(atan2(side.high - side.low, side.right[0] - side.left[0]))
    pitch = side.pitch
    layouts = tuple((exposure, exposure * 12 / pitch) for exposure in exposures)
    return Rake(
        start=low,
        end=high,
        side="base" if side.base else "top",
        hand="left" if rises != side.base else "right",
        pitch=pitch,
        angle=angle,
        from_square=90 - angle,
        past_saw=90 - angle > rules().limits["saw_scale_max"],
        run_per_exposure=layouts[0][1],
        layouts=layouts,
        rake_length=side.length,
        roof=side.roof.mark if side.roof else None,
    )


def _exposures(
    side: Side, zones: tuple[ZonePlan, ...], course_sets: dict[str, CourseSet]
) -> tuple[float, ...]:
    found: list[float] = []
    for zone in zones:
        for exposure in met_exposures(side, zone, course_sets[zone.course_set].lines):
            if not any(abs(exposure - other) < ROUNDING for other in found):
                found.append(exposure)
    return tuple(found) or (course_sets[zones[-1].course_set].cladding.exposure,)


def met_exposures(side: Side, zone: ZonePlan, lines: Lines) -> Iterator[float]:
    """Exposures of the bands of one zone that meet a sloping side, from the bottom up [job units]."""
    for band in lines.bands:
        foot = lines.butt_lines[band.first_course - 1]
        head = lines.butt_lines[band.first_course - 1 + band.courses]
        if min(head, zone.top, side.high) - max(foot, zone.bottom, side.low) > ROUNDING:
            yield band.exposure
